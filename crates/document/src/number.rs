//! Numbers as people write them: no more digits than the uncertainty carries, parted as the reader's language parts them.

use crate::language::{DecimalMark, decimal_mark};
use crate::units::Printing;
use metrology::Estimate;
use records::{Language, UnitSystem};

/// The most decimals that are ever written.
const MOST_DECIMALS: i32 = 6;

/// Between thousands, where a comma is the decimal mark: a space that holds. The small one that ISO 80000-1 asks for is
/// missing in many a face.
const SPACE: char = '\u{A0}';

/// Returns how many decimals a number may carry whose 95 % half-width is `half_width`: one digit of it, two
/// where the first is a 1. Negative counts round to tens and hundreds.
fn decimals_of(half_width: f64) -> i32 {
    if half_width <= 0.0 || !half_width.is_finite() {
        return MOST_DECIMALS;
    }
    let mut place = 0;
    let mut scaled = half_width;
    while scaled >= 10.0 && place > -12 {
        scaled /= 10.0;
        place -= 1;
    }
    while scaled < 0.95 && place < MOST_DECIMALS {
        scaled *= 10.0;
        place += 1;
    }
    if scaled < 1.95 { place + 1 } else { place }.min(MOST_DECIMALS)
}

/// Writes a number with a count of decimals, rounding to tens and more where the count is negative.
fn fixed(value: f64, decimals: i32) -> String {
    if decimals >= 0 {
        let places = usize::try_from(decimals).unwrap_or(0);
        return grouped(&format!("{:.places$}", value + 0.0));
    }
    let mut step = 1.0;
    for _ in decimals..0 {
        step *= 10.0;
    }
    grouped(&format!("{:.0}", (value / step).round() * step + 0.0))
}

/// Parts a number as the language of an answer does; what comes in is written with a point, and commas between thousands.
fn parted(printing: Printing, english: String) -> String {
    match decimal_mark(printing.language) {
        DecimalMark::Point => english,
        DecimalMark::Comma => {
            let sign = |sign| match sign {
                ',' => SPACE,
                '.' => ',',
                sign => sign,
            };
            english.chars().map(sign).collect()
        }
    }
}

/// Reads a number back that was written here.
pub(crate) fn read(printing: Printing, written: &str) -> Option<f64> {
    let english: String = match decimal_mark(printing.language) {
        DecimalMark::Point => written.replace(',', ""),
        DecimalMark::Comma => written.replace(SPACE, "").replace(',', "."),
    };
    english.parse().ok()
}

/// Writes a number with a count of decimals.
pub fn with_decimals(printing: Printing, value: f64, decimals: usize) -> String {
    let decimals = i32::try_from(decimals).unwrap_or(MOST_DECIMALS);
    parted(printing, fixed(value, decimals))
}

/// Returns what writes the numbers along an axis.
pub fn of_axis(printing: Printing) -> fn(f64, usize) -> String {
    /// A printing of each habit; of a number along an axis the unit stands elsewhere.
    const POINT: Printing = Printing::english(UnitSystem::Si);
    const COMMA: Printing = Printing {
        language: Language::Spanish,
        ..POINT
    };
    match decimal_mark(printing.language) {
        DecimalMark::Point => |value, decimals| with_decimals(POINT, value, decimals),
        DecimalMark::Comma => |value, decimals| with_decimals(COMMA, value, decimals),
    }
}

/// Puts a comma between thousands from ten thousand on.
fn grouped(text: &str) -> String {
    let (whole, rest) = text
        .split_once('.')
        .map_or((text, None), |(a, b)| (a, Some(b)));
    let (sign, digits) = whole
        .strip_prefix('-')
        .map_or(("", whole), |digits| ("-", digits));
    let mut out = String::from(sign);
    for (index, digit) in digits.chars().enumerate() {
        let left = digits.len() - index;
        if index > 0 && left.is_multiple_of(3) && digits.len() > 4 {
            out.push(',');
        }
        out.push(digit);
    }
    if let Some(rest) = rest {
        out.push('.');
        out.push_str(rest);
    }
    // A zero has no sign.
    if out.chars().all(|c| matches!(c, '-' | '0' | '.')) {
        out = out.trim_start_matches('-').to_owned();
    }
    out
}

/// Writes an estimate, already in the unit of print, as `value ± half-width`; a skew interval as `value (low–high)`.
pub fn with_interval(printing: Printing, estimate: Estimate) -> String {
    let most_decimals = usize::try_from(MOST_DECIMALS).unwrap_or(0);
    with_interval_at_most(printing, estimate, most_decimals)
}

/// Writes an estimate with no more than so many decimals, as sums of money have.
pub fn with_interval_at_most(
    printing: Printing,
    estimate: Estimate,
    most_decimals: usize,
) -> String {
    let (below, above) = (
        estimate.value - estimate.low,
        estimate.high - estimate.value,
    );
    let half_width = 0.5 * (below + above);
    if half_width <= 0.0 {
        return plain(printing, estimate.value);
    }
    let most = i32::try_from(most_decimals).unwrap_or(MOST_DECIMALS);
    let decimals = decimals_of(half_width).min(most);
    let shown = fixed(half_width, decimals);
    if shown.chars().all(|sign| matches!(sign, '0' | '.')) {
        // Known better than it is written.
        return parted(printing, fixed(estimate.value, decimals));
    }
    let skew = (below - above).abs() > 0.25 * half_width;
    let english = if skew {
        format!(
            "{} ({})",
            fixed(estimate.value, decimals),
            span(estimate.low, estimate.high, decimals)
        )
    } else {
        format!("{} ± {}", fixed(estimate.value, decimals), shown)
    };
    parted(printing, english)
}

/// Writes the best value of an estimate with the digits that its uncertainty leaves.
pub fn best(printing: Printing, estimate: Estimate) -> String {
    let english = fixed(
        estimate.value,
        decimals_of(0.5 * (estimate.high - estimate.low)),
    );
    parted(printing, english)
}

/// Writes the ends of the interval of an estimate.
pub fn ends(printing: Printing, estimate: Estimate) -> (String, String) {
    let decimals = decimals_of(0.5 * (estimate.high - estimate.low));
    let end = |value| parted(printing, fixed(value, decimals));
    (end(estimate.low), end(estimate.high))
}

/// Writes the interval of an estimate as `low–high`.
pub fn interval(printing: Printing, estimate: Estimate) -> String {
    let (low, high) = ends(printing, estimate);
    format!("{low}–{high}")
}

fn span(low: f64, high: f64, decimals: i32) -> String {
    format!("{}–{}", fixed(low, decimals), fixed(high, decimals))
}

/// Writes a number without stated uncertainty with three significant digits.
pub fn plain(printing: Printing, value: f64) -> String {
    significant(printing, value, 3)
}

/// A number this close to a short one is that short one: the rounding of a conversion is below it, and a number that
/// was measured or computed is further off.
const EXACT: f64 = 1e-9;

/// Writes a number with a count of significant digits; a number that needs fewer, such as a limit of 8, is written with fewer.
pub fn significant(printing: Printing, value: f64, digits: u32) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    let digits = i32::try_from(digits).unwrap_or(3);
    // Of the rounded number: what rounds up to 1 has the digits of 1.
    let places = usize::try_from(digits - 1).unwrap_or(0);
    let exponent = format!("{value:.places$e}");
    let exponent: i32 = exponent
        .rsplit('e')
        .next()
        .and_then(|e| e.parse().ok())
        .unwrap_or(0);
    let text = fixed(value, (digits - 1 - exponent).min(12));
    let short = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    let exact = |parsed: f64| (parsed / value - 1.0).abs() < EXACT;
    let english = if short.replace(',', "").parse().is_ok_and(exact) {
        short.to_owned()
    } else {
        text
    };
    parted(printing, english)
}

/// Writes a speed in whole revolutions per minute, as a drive shows it.
pub fn rpm(printing: Printing, speed_rpm: f64) -> String {
    if (speed_rpm - speed_rpm.round()).abs() < 1e-9 {
        format!("{speed_rpm:.0}")
    } else {
        parted(printing, format!("{speed_rpm:.1}"))
    }
}

/// Writes a speed that was computed, to the nearest ten.
pub fn rpm_about(speed_rpm: f64) -> String {
    format!("{:.0}", (speed_rpm / 10.0).round() * 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const ENGLISH: Printing = Printing::english(UnitSystem::Us);
    const SPANISH: Printing = Printing {
        language: Language::Spanish,
        ..ENGLISH
    };

    fn estimate(value: f64, half_width: f64) -> Estimate {
        Estimate::from_interval(value, value - half_width, value + half_width).unwrap()
    }

    #[test]
    fn digits_follow_the_uncertainty() {
        for (value, half_width, written) in [
            (24.512, 0.43, "24.5 ± 0.4"),
            (56.2, 11.4, "56 ± 11"),
            (2195.4, 44.0, "2200 ± 40"),
            (98765.0, 1234.0, "98,800 ± 1200"),
            (0.0123, 0.00096, "0.0123 ± 0.0010"),
            (9.96, 0.096, "9.96 ± 0.10"),
            (-0.04, 0.3, "0.0 ± 0.3"),
        ] {
            assert_eq!(with_interval(ENGLISH, estimate(value, half_width)), written);
        }
    }

    #[test]
    fn a_skew_interval_is_written_by_its_ends() {
        let skew = Estimate {
            value: 150.0,
            u: 60.0,
            low: 0.0,
            high: 240.0,
        };
        assert_eq!(with_interval(ENGLISH, skew), "150 (0–240)");
    }

    #[test]
    fn plain_numbers_keep_three_digits() {
        for (value, written) in [
            (0.051234, "0.0512"),
            (14.06, "14.1"),
            (27104.0, "27,100"),
            (3.0, "3"),
            (3.0001, "3.00"),
            (0.99996, "1.00"),
            (0.0, "0"),
        ] {
            assert_eq!(plain(ENGLISH, value), written);
        }
    }

    #[test]
    fn spanish_has_a_comma_and_a_space_that_holds() {
        assert_eq!(plain(SPANISH, 27104.5), "27\u{A0}100");
        assert_eq!(with_interval(SPANISH, estimate(24.512, 0.43)), "24,5 ± 0,4");
        assert_eq!(with_decimals(SPANISH, 1234.5, 1), "1234,5");
        assert_eq!(of_axis(SPANISH)(0.25, 2), "0,25");
        assert_eq!(rpm(SPANISH, 2400.5), "2400,5");
    }

    #[test]
    fn spanish_of_the_united_states_has_the_numbers_of_english() {
        let american = Printing {
            language: Language::SpanishOfTheUs,
            ..ENGLISH
        };
        for value in [0.051234, 14.06, 27104.0, 1234567.0] {
            assert_eq!(plain(american, value), plain(ENGLISH, value));
        }
    }
}
