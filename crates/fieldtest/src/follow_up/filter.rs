//! How much more the filter takes than at the baseline, and when it reaches what asks for cleaning.

use super::evidence::Weighed;
use super::pair::Pair;
use super::telling::last_step;
use super::{Change, Visit};
use crate::calibration::taps::tap_place;
use metrology::{COVERAGE, Estimate};
use numerics::distributions::coverage_factor;
use numerics::linear::quadratic_form;
use records::{PartKind, Tap, Test};

/// A rise at which filters are cleaned: 8 psi over clean, or a quarter of the clean pressure. Common practice, no source.
const RISE_PA: f64 = 8.0 * 6894.757293168361;
const RISE_SHARE: f64 = 0.25;

/// The rule that asks for cleaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CleaningRule {
    /// 8 psi over clean: common practice.
    FixedRise,
    /// A quarter over the clean pressure: common practice.
    QuarterRise,
    /// The rating of the vessel.
    Rating,
}

/// The filter at the highest flow of a visit, over the baseline at that flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilterRise {
    /// That flow, m³/s.
    pub flow_m3s: f64,
    /// How much more it takes than at the baseline, Pa.
    pub rise_pa: Estimate,
    /// The rise that asks for cleaning first, Pa.
    pub limit_pa: f64,
    /// The rule that asks for it.
    pub rule: CleaningRule,
}

/// How fast the filter loads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// Rise in a day, Pa.
    pub pa_per_day: Estimate,
    /// Days after the baseline at which the limit is reached.
    pub days: Estimate,
    /// The days of the calendar, by year, month and day: the first that may be, the likeliest and the last.
    pub dates: [(i64, i64, i64); 3],
    /// That limit, Pa over the baseline.
    pub limit_pa: f64,
    /// The rule that asks for it.
    pub rule: CleaningRule,
    /// Over how many returns.
    pub returns: usize,
}

/// The day of a test as a count, with its part by the time of day.
///
/// # Source
/// Days from a civil date after E. Reingold, N. Dershowitz, Calendrical Calculations (2018), chapter 2 (from memory).
pub(super) fn day_of(test: &Test) -> Option<f64> {
    let stated = test.head.date?;
    let date = stated.date?;
    let (month, day) = (i64::from(date.month), i64::from(date.day));
    // A year that begins in March keeps the leap day at its end.
    let year = i64::from(date.year) - i64::from(month <= 2);
    let months = (month + 9) % 12;
    let days = 365 * year + year.div_euclid(4) - year.div_euclid(100)
        + year.div_euclid(400)
        + (153 * months + 2) / 5
        + day;
    let minutes = stated.time.map_or(0.0, |time| {
        60.0 * f64::from(time.hour) + f64::from(time.minute)
    });
    Some(days as f64 + minutes / 1440.0)
}

/// The date of a count of days, by year, month and day.
///
/// # Source
/// That of [`day_of`].
fn date_of(days: f64) -> (i64, i64, i64) {
    /// Days of a year, an era of 400 years, and what stands between the count and the first of March.
    const ERA: i64 = 146_097;
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a day within some thousand years"
    )]
    let count = days.clamp(0.0, 4e6).floor() as i64 - 1;
    let (era, of_era) = (count.div_euclid(ERA), count.rem_euclid(ERA));
    let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let months = (5 * of_year + 2) / 153;
    let day = of_year - (153 * months + 2) / 5 + 1;
    let month = if months < 10 { months + 3 } else { months - 9 };
    let year = 400 * era + year_of_era + i64::from(month <= 2);
    (year, month, day)
}

/// Finds the rise of the filter, where its loading is let free.
pub(super) fn rise(pair: &Pair<'_>, loaded: &Weighed) -> Option<FilterRise> {
    let change = loaded.knob(&Change::Media)?;
    let parameters = &loaded.fitted.parameters;
    let step = last_step(loaded)?;
    let flow = loaded.problem.flow_m3s(step, parameters);
    let mut line_ups = loaded.problem.line_ups().borrow_mut();
    let line_up = line_ups.last_mut()?;
    let mut as_before = parameters.clone();
    as_before[change] = 0.0;
    let weight = line_up.around.specific_weight();
    let mut at = |numbers: &[f64]| {
        line_up.turn(numbers)?;
        let place = tap_place(pair.site, &line_up.network, Tap::FilterInlet)?;
        let operating = line_up.at(flow)?;
        let flows: Vec<f64> = (0..pair.site.lines.len())
            .map(|line| operating.line_flow_m3s(line))
            .collect();
        let head_m = operating.tap_head_m(&place, flow)?;
        Some((
            weight * operating.line_up().media_m(&flows),
            weight * head_m,
        ))
    };
    let (before_pa, pressure_before_pa) = at(&as_before)?;
    let (now_pa, pressure_pa) = at(parameters)?;
    // Both hang on the loading at the baseline, the later one on the change too.
    let mut slopes = vec![0.0; parameters.len()];
    slopes[change] = now_pa;
    for (knob, of) in loaded.problem.knobs.of.iter().enumerate() {
        if of.is_media() {
            slopes[knob] = now_pa - before_pa;
        }
    }
    let u_pa = quadratic_form(&slopes, &loaded.fitted.covariance)
        .max(0.0)
        .sqrt();
    let quarter_pa = RISE_SHARE * pressure_before_pa;
    let mut limits = vec![(RISE_PA, CleaningRule::FixedRise)];
    if quarter_pa > 0.0 {
        limits.push((quarter_pa, CleaningRule::QuarterRise));
    }
    let rated = rating_pa(pair).map(|rating| rating - (pressure_pa - (now_pa - before_pa)));
    limits.extend(rated.map(|room_pa| (room_pa, CleaningRule::Rating)));
    let (limit_pa, rule) = limits.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(FilterRise {
        flow_m3s: flow,
        rise_pa: Estimate::normal(now_pa - before_pa, u_pa)?,
        limit_pa,
        rule,
    })
}

fn rating_pa(pair: &Pair<'_>) -> Option<f64> {
    let mut parts = pair.site.lines.iter().flat_map(|line| &line.parts);
    parts.find_map(|part| match &part.kind {
        PartKind::Filter(filter) => filter.max_pressure.as_ref().map(|limit| limit.si),
        _ => None,
    })
}

/// Finds how fast the filter loads: a straight line through the baseline, by the visits that name the filter.
pub(super) fn pace(baseline: &Test, visits: &[Visit]) -> Option<Pace> {
    let first = day_of(baseline)?;
    let mut points = Vec::new();
    for visit in visits {
        let told = visit.told.as_ref().ok()?;
        let rise = told.filter?;
        points.push((visit.days?, rise, told.names(&Change::Media)));
    }
    let (_, last, named) = points.last()?;
    if !named {
        return None;
    }
    let (mut crossed, mut squares) = (0.0, 0.0);
    for (days, rise, _) in points.iter().filter(|(days, ..)| *days > 0.0) {
        let weight = 1.0 / (rise.rise_pa.u * rise.rise_pa.u);
        crossed += weight * days * rise.rise_pa.value;
        squares += weight * days * days;
    }
    let (slope, u) = (crossed / squares, (1.0 / squares).sqrt());
    let reach = coverage_factor(COVERAGE, f64::INFINITY) * u;
    // Between nothing and any pace at all lies no date.
    if slope.is_nan() || slope <= reach {
        return None;
    }
    let days = Estimate {
        value: last.limit_pa / slope,
        u: last.limit_pa / slope * (u / slope),
        low: last.limit_pa / (slope + reach),
        high: last.limit_pa / (slope - reach),
    };
    Some(Pace {
        dates: [days.low, days.value, days.high].map(|days| date_of(first + days)),
        pa_per_day: Estimate::normal(slope, u)?,
        days,
        limit_pa: last.limit_pa,
        rule: last.rule,
        returns: points.len(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use records::{Source, read_test};

    #[test]
    fn days_go_there_and_back() {
        // Gregorian leap years: 2000 is one, 1900 and 2100 are none.
        let dates = [
            ("1900-02-28", "1900-03-01", 1.0),
            ("2000-02-28", "2000-03-01", 2.0),
            ("2025-12-31", "2026-01-01", 1.0),
            ("2026-05-16", "2027-05-16", 365.0),
            ("2100-02-28", "2100-03-01", 1.0),
        ];
        for (from, to, apart) in dates {
            let day = |date: &str| {
                let source = |name: &str, text: String| Source {
                    name: name.to_owned(),
                    text,
                };
                let test = source(
                    "a.toml",
                    format!("format = 1\ndate = {date}\nreadings = \"a.csv\"\n"),
                );
                let rows = source("a.csv", "speed [rpm],flow [gpm]\n1000,20\n".to_owned());
                day_of(&read_test(&test, Some(&rows)).unwrap()).unwrap()
            };
            assert!((day(to) - day(from) - apart).abs() < 1e-9, "{from} {to}");
            let (year, month, of_month) = date_of(day(to));
            assert_eq!(format!("{year}-{month:02}-{of_month:02}"), to);
        }
    }
}
