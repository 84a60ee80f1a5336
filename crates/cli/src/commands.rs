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

use crate::arguments::Units;
use document::units::Printing;
use records::Site;

/// Chooses the units of print: those asked for, else the site's, else US ones.
fn printing(asked: Option<Units>, site: &Site) -> Printing {
    let asked = asked.map(Into::into);
    Printing {
        system: asked.or(site.units).unwrap_or_default(),
    }
}
