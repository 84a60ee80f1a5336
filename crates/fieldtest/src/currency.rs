//! Whether the currency of a site is one that ISO 4217 lists.

use crate::finding::{Finding, Matter, Place, Severity};
use records::Site;
use records::currency::{decimals, meant};

/// Says that a site's currency is not listed; its sums are computed and written all the same.
pub(crate) fn unknown_currency(site: &Site) -> Option<Finding> {
    let code = site.operation.currency()?;
    decimals(code).is_none().then(|| Finding {
        severity: Severity::Warning,
        place: Place::default(),
        matter: Matter::UnknownCurrency {
            code: code.to_owned(),
            meant: meant(code),
        },
    })
}
