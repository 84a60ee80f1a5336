//! One file per command.

pub(crate) mod analyze;
pub(crate) mod check;
pub(crate) mod compare;
pub(crate) mod demo;
pub(crate) mod export;
mod figures;
pub(crate) mod import;
pub(crate) mod loss;
pub(crate) mod new;
pub(crate) mod plan;
pub(crate) mod report;
pub(crate) mod schedule;
pub(crate) mod serve;
pub(crate) mod shell;
pub(crate) mod solve;
pub(crate) mod track;
pub(crate) mod year;

use crate::arguments::PrintArguments;
use document::units::Printing;
use records::Site;

/// Chooses how an answer is printed: in the units asked for, else the site's, else US ones; in English unless asked otherwise.
fn printing(asked: PrintArguments, site: &Site) -> Printing {
    let units = asked.units.map(Into::into);
    Printing {
        system: units.or(site.units).unwrap_or_default(),
        language: asked.language.map(Into::into).unwrap_or_default(),
    }
}
