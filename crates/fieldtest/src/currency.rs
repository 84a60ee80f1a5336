//! Whether the currency of a site, or of a change of it, is one that ISO 4217 lists.

use crate::finding::{Finding, Matter, Place, Severity};
use records::currency::{decimals, meant};
use records::{Change, Site};

/// Says that a site's currency is not listed; its sums are computed and written all the same.
pub(crate) fn of_site(site: &Site) -> Option<Finding> {
    unlisted(site.operation.currency()?, None)
}

/// Says of which changes of a site the currency is not listed. Where the site has one, all its changes have the same, and it is
/// said of the site.
pub fn unknown_currencies(site: &Site, changes: &[Change]) -> Vec<Finding> {
    if site.operation.currency().is_some() {
        return of_site(site).into_iter().collect();
    }
    let of_change = |change: &Change| {
        let operation = &change.site.operation;
        unlisted(
            operation.currency().or(change.currency())?,
            Some(&change.name),
        )
    };
    changes.iter().filter_map(of_change).collect()
}

fn unlisted(code: &str, change: Option<&str>) -> Option<Finding> {
    decimals(code).is_none().then(|| Finding {
        severity: Severity::Warning,
        place: Place::default(),
        matter: Matter::UnknownCurrency {
            code: code.to_owned(),
            meant: meant(code),
            change: change.map(str::to_owned),
        },
    })
}
