//! Numbers as people write them: no more digits than the uncertainty carries.

use metrology::Estimate;

/// The most decimals that are ever written.
const MOST_DECIMALS: i32 = 6;

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

/// Writes a number with a count of decimals, as the numbers along an axis are.
pub fn with_decimals(value: f64, decimals: usize) -> String {
    fixed(value, i32::try_from(decimals).unwrap_or(MOST_DECIMALS))
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
pub fn with_interval(estimate: Estimate) -> String {
    with_interval_at_most(estimate, usize::try_from(MOST_DECIMALS).unwrap_or(0))
}

/// Writes an estimate with no more than so many decimals, as sums of money have.
pub fn with_interval_at_most(estimate: Estimate, most_decimals: usize) -> String {
    let (below, above) = (
        estimate.value - estimate.low,
        estimate.high - estimate.value,
    );
    let half_width = 0.5 * (below + above);
    if half_width <= 0.0 {
        return plain(estimate.value);
    }
    let most = i32::try_from(most_decimals).unwrap_or(MOST_DECIMALS);
    let decimals = decimals_of(half_width).min(most);
    let shown = fixed(half_width, decimals);
    if shown.chars().all(|sign| matches!(sign, '0' | '.')) {
        // Known better than it is written.
        return fixed(estimate.value, decimals);
    }
    let skew = (below - above).abs() > 0.25 * half_width;
    if skew {
        format!(
            "{} ({})",
            fixed(estimate.value, decimals),
            span(estimate.low, estimate.high, decimals)
        )
    } else {
        format!("{} ± {}", fixed(estimate.value, decimals), shown)
    }
}

/// Writes the best value of an estimate with the digits that its uncertainty leaves.
pub fn best(estimate: Estimate) -> String {
    fixed(
        estimate.value,
        decimals_of(0.5 * (estimate.high - estimate.low)),
    )
}

/// Writes the ends of the interval of an estimate.
pub fn ends(estimate: Estimate) -> (String, String) {
    let decimals = decimals_of(0.5 * (estimate.high - estimate.low));
    (
        fixed(estimate.low, decimals),
        fixed(estimate.high, decimals),
    )
}

/// Writes the interval of an estimate as `low–high`.
pub fn interval(estimate: Estimate) -> String {
    let (low, high) = ends(estimate);
    format!("{low}–{high}")
}

fn span(low: f64, high: f64, decimals: i32) -> String {
    format!("{}–{}", fixed(low, decimals), fixed(high, decimals))
}

/// Writes a number without stated uncertainty with three significant digits.
pub fn plain(value: f64) -> String {
    significant(value, 3)
}

/// A number this close to a short one is that short one: the rounding of a conversion is below it, and a number that
/// was measured or computed is further off.
const EXACT: f64 = 1e-9;

/// Writes a number with a count of significant digits; a number that needs fewer, such as a limit of 8, is written with fewer.
pub fn significant(value: f64, digits: u32) -> String {
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
    if short.replace(',', "").parse().is_ok_and(exact) {
        short.to_owned()
    } else {
        text
    }
}

/// Writes a speed in whole revolutions per minute, as a drive shows it.
pub fn rpm(speed_rpm: f64) -> String {
    if (speed_rpm - speed_rpm.round()).abs() < 1e-9 {
        format!("{speed_rpm:.0}")
    } else {
        format!("{speed_rpm:.1}")
    }
}

/// Writes a speed that was computed, to the nearest ten.
pub fn rpm_about(speed_rpm: f64) -> String {
    format!("{:.0}", (speed_rpm / 10.0).round() * 10.0)
}

#[cfg(test)]
mod tests {
    use super::*;

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
            assert_eq!(with_interval(estimate(value, half_width)), written);
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
        assert_eq!(with_interval(skew), "150 (0–240)");
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
            assert_eq!(plain(value), written);
        }
    }
}
