//! Sums of money as people write them: never more decimals than the currency has.

use crate::number;
use crate::units::Printing;
use metrology::Estimate;
use records::currency::decimals;

/// The decimals of a currency that ISO 4217 does not list: common practice, no source.
const USUAL_DECIMALS: usize = 2;
/// From here on, parts of the currency are not looked at.
const LARGE: f64 = 100.0;

/// Writes an amount that is known as it stands: the decimals of its currency, and none from a hundred on.
pub(crate) fn amount(value: f64, currency: &str, printing: Printing) -> String {
    if value.abs() <= 0.0 {
        return "0".to_owned();
    }
    let decimals = if value.abs() < LARGE {
        decimals_of(currency)
    } else {
        0
    };
    number::with_decimals(printing, value, decimals)
}

/// Writes an amount with its interval: the digits that it carries, and no more decimals than its currency has.
pub(crate) fn with_interval(sum: Estimate, currency: &str, printing: Printing) -> String {
    number::with_interval_at_most(printing, sum, decimals_of(currency))
}

fn decimals_of(currency: &str) -> usize {
    decimals(currency).unwrap_or(USUAL_DECIMALS)
}

#[cfg(test)]
mod tests {
    use super::*;
    use records::UnitSystem;

    const ENGLISH: Printing = Printing::english(UnitSystem::Us);

    #[test]
    fn an_amount_has_the_decimals_of_its_currency() {
        for (value, currency, written) in [
            (0.0, "USD", "0"),
            (0.5, "USD", "0.50"),
            (99.5, "EUR", "99.50"),
            (640.4, "EUR", "640"),
            (87.4, "JPY", "87"),
            (12.3456, "KWD", "12.346"),
            (12.3456, "XYZ", "12.35"),
        ] {
            assert_eq!(amount(value, currency, ENGLISH), written);
        }
    }

    #[test]
    fn an_uncertain_amount_has_no_more() {
        let sum = Estimate::from_interval(12.3456, 12.3446, 12.3466).unwrap();
        assert_eq!(with_interval(sum, "USD", ENGLISH), "12.35");
        let sum = Estimate::from_interval(1234.6, 1233.4, 1235.8).unwrap();
        assert_eq!(with_interval(sum, "JPY", ENGLISH), "1235 ± 1");
        assert_eq!(with_interval(sum, "USD", ENGLISH), "1234.6 ± 1.2");
    }
}
