//! From the tables of a text to records: one file per part of the contract.

mod cells;
mod change;
mod check;
mod columns;
mod lines;
mod meters;
mod operation;
mod parts;
mod profile;
mod pump;
mod readings;
mod records;
mod rulings;
mod site;
mod steps;
mod tariff;
mod tees;
mod test;
mod typed;
mod words;

pub use change::{read_change, read_changes};
pub use check::check_test;
pub use parts::read_part;
pub use profile::read_profile;
pub use readings::read_readings;
pub use site::read_site;
pub use test::{read_test, readings_file};
pub use typed::read_typed;
pub(crate) use typed::{check_typed_note, read_typed_cell};
