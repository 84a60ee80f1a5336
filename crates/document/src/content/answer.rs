//! The answer in five sentences: what to trust, what the system does, what is fixed draw, where water is cheapest, which limit binds.

use super::Block;
use super::tables::limited_value;
use crate::number;
use crate::units::Printing;
use fieldtest::{Analysis, Bound, LeastEnergy, Limit, LimitOf, Passage, TestResult};
use records::unit::Dimension;
use records::{Site, Test};

/// Writes the title of one test's answer.
pub(crate) fn title(site: &Site, test: &Test, result: &TestResult) -> String {
    let speeds = match (result.steps.first(), result.steps.last()) {
        (Some(first), Some(last)) if result.steps.len() > 1 => format!(
            "{} steps, {} to {} rpm",
            result.steps.len(),
            number::rpm(first.speed_rpm),
            number::rpm(last.speed_rpm),
        ),
        (Some(only), _) => format!("one step, {} rpm", number::rpm(only.speed_rpm)),
        _ => "no steps".to_owned(),
    };
    let shut = if result.closed.is_empty() {
        String::new()
    } else {
        format!("; shut: {}", result.closed.join(", "))
    };
    let date = date_words(test);
    format!("{}: test {}{date}, {speeds}{shut}", site.name, result.name)
}

/// Writes when a test was done, as far as its name does not say so.
fn date_words(test: &Test) -> String {
    let Some(when) = test.head.date else {
        return String::new();
    };
    let day = when.date.map(|date| date.to_string());
    let day = day
        .filter(|day| *day != test.name)
        .map(|day| format!(" of {day}"));
    let hour = when
        .time
        .map(|time| format!(" {:02}:{:02}", time.hour, time.minute));
    day.unwrap_or_default() + &hour.unwrap_or_default()
}

/// Writes the answers of one test.
pub(crate) fn answers(analysis: &Analysis, result: &TestResult, printing: Printing) -> Vec<Block> {
    [
        ("Trust", Some(trust(analysis, result))),
        ("Flow", flow(result, printing)),
        ("Fixed draw", fixed_draw(result)),
        ("Cheapest", cheapest(result, printing)),
        ("Limit", limit(analysis, result, printing)),
    ]
    .into_iter()
    .filter_map(|(word, text)| {
        Some(Block::Answer {
            word: word.to_owned(),
            text: text?,
        })
    })
    .collect()
}

fn trust(analysis: &Analysis, result: &TestResult) -> String {
    let all = result.readings.len();
    if all == 0 {
        return "There are no readings yet.".to_owned();
    }
    let count = |whys: &[&str]| {
        let unused = result.readings.iter().filter_map(|reading| reading.why);
        unused.filter(|why| whys.contains(why)).count()
    };
    let apart = [
        (count(&["below-meter-range"]), "below what the meter shows"),
        (count(&["ruled-out"]), "ruled out by you"),
        (count(&["part-of-the-flow"]), "of a part of the flow"),
        (count(&["not-independent"]), "computed by the pump itself"),
    ];
    let set_aside: usize = apart.iter().map(|(count, _)| count).sum();
    let misfits = result
        .readings
        .iter()
        .filter(|reading| !reading.used)
        .count()
        - set_aside;
    let doubts = analysis
        .findings
        .iter()
        .filter(|finding| finding.place.test.as_deref() == Some(&result.name))
        .filter(|finding| finding.matter.doubts_a_reading())
        .count();
    let mut text = match (misfits, doubts) {
        (0, 0) if result.steps.len() < 3 => {
            "No reading could be held against others: too few speeds.".to_owned()
        }
        (0, 0) => format!("All {} readings fit together.", all - set_aside),
        (0, 1) => "One thing about the readings cannot be, or is in doubt: see below.".to_owned(),
        (0, n) => format!("{n} things about the readings cannot be, or are in doubt: see below."),
        (1, _) => format!("1 of {all} readings does not fit and is left out: see below."),
        (out, _) => format!("{out} of {all} readings do not fit and are left out: see below."),
    };
    let others: Vec<String> = apart
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, what)| format!("{count} {what}"))
        .collect();
    if !others.is_empty() {
        text.push_str(&[" Not counted: ", &others.join(", "), "."].concat());
    }
    text
}

fn flow(result: &TestResult, printing: Printing) -> Option<String> {
    let law = result.laws.flow.as_ref()?;
    let top = result
        .steps
        .iter()
        .rev()
        .find_map(|step| Some((step.speed_rpm, step.flow_m3s?)))?;
    let per_thousand = law.slope_m3s_per_rpm.scaled(1000.0);
    let start = if law.intercept_speed_rpm.low > 0.0 {
        format!(
            "; it starts near {} rpm",
            number::rpm_about(law.intercept_speed_rpm.value)
        )
    } else {
        String::new()
    };
    Some(format!(
        "{} at {} rpm; about {} for every 1000 rpm{start}.",
        printing.with_interval(top.1, Dimension::Flow),
        number::rpm(top.0),
        printing.best(per_thousand, Dimension::Flow),
    ))
}

fn fixed_draw(result: &TestResult) -> Option<String> {
    let law = result.laws.power.as_ref()?;
    let doubted = result
        .readings
        .iter()
        .any(|reading| reading.why == Some("standby-too-high"));
    let standby = match result.laws.standby_w {
        Some(standby) => format!("{} W at rest", number::best(standby)),
        None if doubted => "its reading at rest is doubted".to_owned(),
        None => "what it draws at rest was not read".to_owned(),
    };
    let rising = if law.dynamic_w.low > 0.0 {
        format!(
            "; on top of it {} W at {} rpm, growing steeply with speed (exponent {})",
            number::best(law.dynamic_w),
            number::rpm(law.at_speed_rpm),
            number::with_interval(law.exponent),
        )
    } else {
        String::new()
    };
    Some(format!(
        "{} W whatever the speed ({standby}){rising}.",
        number::with_interval(law.fixed_w),
    ))
}

fn cheapest(result: &TestResult, printing: Printing) -> Option<String> {
    let least = result.least_energy.as_ref()?;
    let (low, high) = least.within_3_percent_rpm?;
    let (flow, energy) = (least.flow_m3s?, least.energy_wh_per_m3?);
    let (factor, unit) = printing.energy_per_volume();
    let above = if result.laws.standby_w.is_some() {
        " above standby"
    } else {
        ""
    };
    let a_day = least.volume_24h_m3.map_or_else(String::new, |volume| {
        format!(", {} in a day", volume_words(volume, printing))
    });
    Some(format!(
        "Between {} and {} rpm: {} Wh {unit}{above}, about {}{a_day}.{}",
        number::rpm_about(low),
        number::rpm_about(high),
        number::with_interval(energy.scaled(factor)),
        printing.best(flow, Dimension::Flow),
        below_words(least),
    ))
}

/// Writes a day's volume with two digits: the flow behind it carries no more.
fn volume_words(volume_m3: f64, printing: Printing) -> String {
    let number = printing.number(volume_m3, Dimension::Volume);
    format!(
        "{} {}",
        number::significant(number, 2),
        printing.name(Dimension::Volume)
    )
}

fn below_words(least: &LeastEnergy) -> String {
    if least.below.is_empty() {
        String::new()
    } else {
        format!(" Too little there for: {}.", least.below.join(", "))
    }
}

/// Says what a limit is: a velocity in a line, a pressure at a part, or the rating of a part.
pub(crate) fn limit_words(limit: &Limit, printing: Printing) -> String {
    match (limit.of, limited_value(limit.of, printing)) {
        (LimitOf::Velocity { .. }, Some(velocity)) => {
            format!("{velocity} in {}", limit.applies_to)
        }
        (_, Some(value)) => format!("{value} at the {}", limit.applies_to),
        (_, None) => format!("the rating of the {}", limit.applies_to),
    }
}

fn limit(analysis: &Analysis, result: &TestResult, printing: Printing) -> Option<String> {
    let is_last = analysis
        .tests
        .last()
        .is_some_and(|last| last.name == result.name);
    let reached = |limit: &&Limit| limit.bound == Bound::Max && limit.speed_rpm.is_some();
    let first = analysis.limits.iter().filter(reached).min_by(|a, b| {
        a.speed_rpm
            .unwrap_or(f64::MAX)
            .total_cmp(&b.speed_rpm.unwrap_or(f64::MAX))
    })?;
    let top = result.steps.last()?.speed_rpm;
    let speed = first.speed_rpm?;
    let what = limit_words(first, printing);
    let unsolved = analysis
        .limits
        .iter()
        .any(|limit| limit.bound == Bound::Max && limit.passage == Passage::Part);
    let text = format!(
        "{}{what} is met first, at {}about {} rpm{}.",
        if unsolved {
            "Of the limits whose speed is known, "
        } else {
            ""
        },
        first.flow_m3s.map_or_else(String::new, |flow| {
            format!("{} or ", printing.plain(flow, Dimension::Flow))
        }),
        number::rpm_about(speed),
        if speed > top {
            ", above every step of this test"
        } else {
            ""
        },
    );
    let text = if unsolved { text } else { capitalized(&text) };
    is_last.then_some(text)
}

pub(crate) fn capitalized(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}
