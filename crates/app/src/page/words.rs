//! The words of the screens, one file for each: whole sentences, so that they can be put into another language.

pub(super) mod circuit;
pub(super) mod guided;
pub(super) mod help;
pub(super) mod result;
pub(super) mod settings;
pub(super) mod shell;
pub(super) mod site;
pub(super) mod sites;
pub(super) mod test;
