//! The answer in five sentences: what to trust, what the system does, what is fixed draw, where water is cheapest, which limit binds.

use super::Block;
use super::tables::limited_value;
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::Printing;
use fieldtest::{Analysis, Bound, LeastEnergy, Limit, LimitOf, Passage, TestResult};
use records::unit::Dimension;
use records::{Site, Test};

/// Writes the title of one test's answer.
pub(crate) fn title(site: &Site, test: &Test, result: &TestResult, printing: Printing) -> String {
    let speeds = match (result.steps.first(), result.steps.last()) {
        (Some(first), Some(last)) if result.steps.len() > 1 => say!(
            printing,
            "{steps} steps, {first} to {last} rpm",
            steps = result.steps.len(),
            first = number::rpm(printing, first.speed_rpm),
            last = number::rpm(printing, last.speed_rpm)
        ),
        (Some(only), _) => say!(
            printing,
            "one step, {speed} rpm",
            speed = number::rpm(printing, only.speed_rpm)
        ),
        _ => say!(printing, "no steps").to_owned(),
    };
    let shut = if result.closed.is_empty() {
        String::new()
    } else {
        say!(
            printing,
            "; shut: {closed}",
            closed = result.closed.join(", ")
        )
    };
    let date = date_words(test, printing);
    say!(
        printing,
        "{site}: test {test}{date}, {speeds}{shut}",
        site = site.name,
        test = result.name,
        date,
        speeds,
        shut
    )
}

/// Writes when a test was done, as far as its name does not say so.
fn date_words(test: &Test, printing: Printing) -> String {
    let Some(when) = test.head.date else {
        return String::new();
    };
    let day = when.date.map(|date| date.to_string());
    let day = day
        .filter(|day| *day != test.name)
        .map(|day| say!(printing, " of {day}", day));
    let hour = when
        .time
        .map(|time| format!(" {:02}:{:02}", time.hour, time.minute));
    day.unwrap_or_default() + &hour.unwrap_or_default()
}

/// Writes the answers of one test.
pub(crate) fn answers(analysis: &Analysis, result: &TestResult, printing: Printing) -> Vec<Block> {
    [
        (
            say!(printing, "Trust"),
            Some(trust(analysis, result, printing)),
        ),
        (say!(printing, "Flow"), flow(result, printing)),
        (say!(printing, "Fixed draw"), fixed_draw(result, printing)),
        (say!(printing, "Cheapest"), cheapest(result, printing)),
        (say!(printing, "Limit"), limit(analysis, result, printing)),
    ]
    .into_iter()
    .filter_map(|(word, text)| {
        Some(Block::Answer {
            word: word.to_owned(),
            text: text?,
            kind: None,
        })
    })
    .collect()
}

fn trust(analysis: &Analysis, result: &TestResult, printing: Printing) -> String {
    let all = result.readings.len();
    if all == 0 {
        return say!(printing, "There are no readings yet.").to_owned();
    }
    let count = |whys: &[&str]| {
        let unused = result.readings.iter().filter_map(|reading| reading.why);
        unused.filter(|why| whys.contains(why)).count()
    };
    let apart = [
        (
            count(&["below-meter-range"]),
            say!(printing, "below what the meter shows"),
        ),
        (count(&["ruled-out"]), say!(printing, "ruled out by you")),
        (
            count(&["part-of-the-flow"]),
            say!(printing, "of a part of the flow"),
        ),
        (
            count(&["not-independent"]),
            say!(printing, "computed by the pump itself"),
        ),
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
        (0, 0) if result.steps.len() < 3 => say!(
            printing,
            "No reading could be held against others: too few speeds."
        )
        .to_owned(),
        (0, 0) => say!(
            printing,
            "All {count} readings fit together.",
            count = all - set_aside
        ),
        (0, 1) => say!(
            printing,
            "One thing about the readings cannot be, or is in doubt: see below."
        )
        .to_owned(),
        (0, n) => say!(
            printing,
            "{n} things about the readings cannot be, or are in doubt: see below.",
            n
        ),
        (1, _) => say!(
            printing,
            "1 of {all} readings does not fit and is left out: see below.",
            all
        ),
        (out, _) => say!(
            printing,
            "{out} of {all} readings do not fit and are left out: see below.",
            out,
            all
        ),
    };
    let others: Vec<String> = apart
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, what)| format!("{count} {what}"))
        .collect();
    if !others.is_empty() {
        text.push_str(&[say!(printing, " Not counted: "), &others.join(", "), "."].concat());
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
        say!(
            printing,
            "; it starts near {speed} rpm",
            speed = number::rpm_about(law.intercept_speed_rpm.value)
        )
    } else {
        String::new()
    };
    Some(say!(
        printing,
        "{flow} at {speed} rpm; about {more} for every 1000 rpm{start}.",
        flow = printing.with_interval(top.1, Dimension::Flow),
        speed = number::rpm(printing, top.0),
        more = printing.best(per_thousand, Dimension::Flow),
        start
    ))
}

fn fixed_draw(result: &TestResult, printing: Printing) -> Option<String> {
    let law = result.laws.power.as_ref()?;
    let doubted = result
        .readings
        .iter()
        .any(|reading| reading.why == Some("standby-too-high"));
    let standby = match result.laws.standby_w {
        Some(standby) => say!(
            printing,
            "{standby} W at rest",
            standby = number::best(printing, standby)
        ),
        None if doubted => say!(printing, "its reading at rest is doubted").to_owned(),
        None => say!(printing, "what it draws at rest was not read").to_owned(),
    };
    let rising = if law.dynamic_w.low > 0.0 {
        say!(
            printing,
            "; on top of it {dynamic} W at {speed} rpm, growing steeply with speed (exponent {exponent})",
            dynamic = number::best(printing, law.dynamic_w),
            speed = number::rpm(printing, law.at_speed_rpm),
            exponent = number::with_interval(printing, law.exponent)
        )
    } else {
        String::new()
    };
    Some(say!(
        printing,
        "{fixed} W whatever the speed ({standby}){rising}.",
        fixed = number::with_interval(printing, law.fixed_w),
        standby,
        rising
    ))
}

fn cheapest(result: &TestResult, printing: Printing) -> Option<String> {
    let least = result.least_energy.as_ref()?;
    let (low, high) = least.within_3_percent_rpm?;
    let (flow, energy) = (least.flow_m3s?, least.energy_wh_per_m3?);
    let (factor, unit) = printing.energy_per_volume();
    let above = if result.laws.standby_w.is_some() {
        say!(printing, " above standby")
    } else {
        ""
    };
    let a_day = least.volume_24h_m3.map_or_else(String::new, |volume| {
        say!(
            printing,
            ", {volume} in a day",
            volume = volume_words(volume, printing)
        )
    });
    Some(say!(
        printing,
        "Between {low} and {high} rpm: {energy} Wh {unit}{above}, about {flow}{a_day}.{below}",
        low = number::rpm_about(low),
        high = number::rpm_about(high),
        energy = number::with_interval(printing, energy.scaled(factor)),
        unit,
        above,
        flow = printing.best(flow, Dimension::Flow),
        a_day,
        below = below_words(least, printing)
    ))
}

/// Writes a day's volume with two digits: the flow behind it carries no more.
fn volume_words(volume_m3: f64, printing: Printing) -> String {
    let number = printing.number(volume_m3, Dimension::Volume);
    format!(
        "{} {}",
        number::significant(printing, number, 2),
        printing.name(Dimension::Volume)
    )
}

fn below_words(least: &LeastEnergy, printing: Printing) -> String {
    if least.below.is_empty() {
        String::new()
    } else {
        say!(
            printing,
            " Too little there for: {below}.",
            below = least.below.join(", ")
        )
    }
}

/// Says what a limit is: a velocity in a line, a pressure at a part, or the rating of a part.
pub(crate) fn limit_words(limit: &Limit, printing: Printing) -> String {
    match (limit.of, limited_value(limit.of, printing)) {
        (LimitOf::Velocity { .. }, Some(velocity)) => {
            say!(
                printing,
                "{velocity} in {line}",
                velocity,
                line = limit.applies_to
            )
        }
        (_, Some(value)) => say!(
            printing,
            "{value} at the {part}",
            value,
            part = names::applied_to(limit, printing)
        ),
        (_, None) => say!(
            printing,
            "the rating of the {part}",
            part = names::applied_to(limit, printing)
        ),
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
    let text = say!(
        printing,
        "{unsolved}{what} is met first, at {flow}about {speed} rpm{top}.",
        unsolved = if unsolved {
            say!(printing, "Of the limits whose speed is known, ")
        } else {
            ""
        },
        what,
        flow = first.flow_m3s.map_or_else(String::new, |flow| {
            say!(
                printing,
                "{flow} or ",
                flow = printing.plain(flow, Dimension::Flow)
            )
        }),
        speed = number::rpm_about(speed),
        top = if speed > top {
            say!(printing, ", above every step of this test")
        } else {
            ""
        }
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
