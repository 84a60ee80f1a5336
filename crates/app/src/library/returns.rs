//! When the filter will ask to be cleaned, as the visits to a site say together.

use fieldtest::Analysis;
use records::{Site, Test};

/// The likeliest day on which the filter asks to be cleaned, such as `2027-03-01`; `None` where the visits do not say. This
/// takes the engine a while.
///
/// # Inputs
/// The tests with their analysis, the one first that the others are held against.
pub fn filter_due(site: &Site, tests: &[Test], analysis: &Analysis) -> Option<String> {
    let told = fieldtest::follow_up(site, tests, analysis, 0).ok()?;
    let [_, (year, month, day), _] = told.pace?.dates;
    Some(format!("{year:04}-{month:02}-{day:02}"))
}
