//! When the filter will ask to be cleaned, as the visits to a site say together.

use super::{SiteRecord, TestRecord, pad_of};
use records::read_pad;

/// The likeliest day on which the filter asks to be cleaned, such as `2027-03-01`; `None` where the visits do not say. This
/// asks the engine, and takes it a while.
///
/// # Inputs
/// `tests`: the visits in the order of time, with the place of the one that the others are held against.
pub fn filter_due(site: &SiteRecord, tests: &[&TestRecord], baseline: usize) -> Option<String> {
    let pad = pad_of(site, tests);
    let (site, tests) = read_pad(&pad.site, &pad.tests).ok()?;
    let analysis = fieldtest::analyze(&site, &tests);
    let told = fieldtest::follow_up(&site, &tests, &analysis, baseline).ok()?;
    let [_, (year, month, day), _] = told.pace?.dates;
    Some(format!("{year:04}-{month:02}-{day:02}"))
}
