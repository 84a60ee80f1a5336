//! The sentences of a plan.

use super::Subject;
use crate::content::{capitalized, limit_words};
use crate::number;
use crate::solved;
use crate::units::{Printing, with_unit, written};
use crate::words::learning::{self, rpm_list};
use crate::words::{Words, sourced};
use fieldtest::{
    Answer, ExpectedBy, Lesson, Limit, NoPlan, PlanNote, PlannedStep, Stage, Why, WouldTell,
};
use records::unit::{Dimension, Unit};
use records::{Measured, MeterKind};

/// Writes a time in minutes.
pub(super) fn minutes(time_s: f64) -> String {
    format!("{} min", number::plain((time_s / 60.0).round()))
}

/// The unit of the filter's gauge where there is one, else that of print.
pub(super) fn pressure_unit(subject: &Subject<'_>) -> &'static str {
    gauge_unit(subject).map_or_else(
        || subject.printing.name(Dimension::Pressure),
        |unit| written(unit.name),
    )
}

/// Writes a pressure in that unit, without it.
pub(super) fn pressure_number(subject: &Subject<'_>, pa: f64) -> String {
    let number = gauge_unit(subject).map_or_else(
        || subject.printing.number(pa, Dimension::Pressure),
        |unit| unit.from_si(pa),
    );
    number::plain(number)
}

fn pressure(subject: &Subject<'_>, pa: f64) -> String {
    with_unit(&pressure_number(subject, pa), pressure_unit(subject))
}

fn gauge_unit(subject: &Subject<'_>) -> Option<&'static Unit> {
    let mut columns = subject.plan.columns.iter();
    columns
        .find(|column| column.column.measured == Measured::FilterPressure)?
        .column
        .unit
}

/// Says above which reading the pump is stopped.
pub(super) fn stop(subject: &Subject<'_>) -> Option<String> {
    let stop = subject
        .plan
        .steps
        .iter()
        .find_map(|step| step.stop_above_pa)?;
    Some(format!(
        "Stop the pump if the filter gauge reads above {}.",
        pressure(subject, stop)
    ))
}

/// The title.
pub(super) fn title(subject: &Subject<'_>) -> String {
    format!(
        "{}: plan of a step test, {} of {}",
        subject.site.name,
        minutes(subject.plan.time_s()),
        minutes(subject.question.time_s)
    )
}

/// The answers that stand first.
pub(super) fn answers(subject: &Subject<'_>) -> Vec<crate::content::Block> {
    let plan = subject.plan;
    let answer = |word: &str, text: String| crate::content::Block::Answer {
        word: word.to_owned(),
        text,
    };
    let mut blocks = vec![
        answer("Speeds", speeds(subject)),
        answer("Not above", ceiling(subject)),
        answer("Would tell", would_tell(subject)),
    ];
    let next = plan
        .next
        .as_ref()
        .and_then(|next| Some((next, next.readings.first()?)));
    blocks.extend(next.map(|(next, best)| {
        let says = learning::says(subject.site, next, best);
        answer("Bring too", format!("{}.", capitalized(&says)))
    }));
    blocks
}

fn speeds(subject: &Subject<'_>) -> String {
    let plan = subject.plan;
    let mut speeds = plan.speeds_rpm();
    speeds.reverse();
    let again = plan.steps.iter().find(|step| step.why == Why::DriftCheck);
    let again = again.map_or_else(String::new, |step| {
        format!(", then {} rpm again", number::rpm(step.speed_rpm))
    });
    let line_ups: Vec<String> = line_ups(subject)
        .into_iter()
        .map(|(shut, _)| format!("{} shut", shut.join(" and ")))
        .collect();
    let line_ups = if line_ups.is_empty() {
        String::new()
    } else {
        format!("; then with {}", line_ups.join(", and with "))
    };
    format!("{}, from high to low{again}{line_ups}.", rpm_list(&speeds))
}

/// The line-ups besides that of the plan, each with its steps.
pub(super) fn line_ups<'a>(subject: &Subject<'a>) -> Vec<(Vec<String>, Vec<&'a PlannedStep>)> {
    let mut found: Vec<(Vec<String>, Vec<&PlannedStep>)> = Vec::new();
    for step in &subject.plan.steps {
        if !matches!(step.why, Why::LineUp { .. }) {
            continue;
        }
        match found.iter_mut().find(|(shut, _)| *shut == step.closed) {
            Some((_, steps)) => steps.push(step),
            None => found.push((step.closed.clone(), vec![step])),
        }
    }
    found
}

fn ceiling(subject: &Subject<'_>) -> String {
    let (plan, printing) = (subject.plan, subject.printing);
    let at = number::rpm(plan.ceiling.speed_rpm);
    let upper = plan.climb.last().and_then(|last| last.vessel_upper_pa);
    let foreseen = upper.map_or_else(
        || "the pressure in the filter is not foreseen: the gauge alone decides".to_owned(),
        |upper| {
            format!(
                "at most {} is foreseen in the filter there",
                pressure(subject, upper)
            )
        },
    );
    let stop = stop(subject).map_or_else(String::new, |stop| format!(" {stop}"));
    match &plan.ceiling.limit {
        None => format!("{at} rpm, the pump's own top speed; {foreseen}.{stop}"),
        Some(limit) => format!(
            "{at} rpm: faster, {}; {foreseen}.{stop}",
            broken(limit, printing)
        ),
    }
}

/// Says which limit might be broken.
fn broken(limit: &Limit, printing: Printing) -> String {
    format!(
        "{} might be passed ({})",
        limit_words(limit, printing),
        sourced(&limit.source, limit.basis)
    )
}

fn would_tell(subject: &Subject<'_>) -> String {
    let (told, printing) = (&subject.plan.would_tell, subject.printing);
    let is_foreseen = !subject
        .plan
        .notes
        .iter()
        .any(|note| matches!(note, PlanNote::NoCurve | PlanNote::NotForeseen(_)));

    let short = |si: f64, dimension: Dimension| {
        with_unit(
            &number::significant(printing.number(si, dimension), 2),
            printing.name(dimension),
        )
    };
    let width = |it: &WouldTell| {
        let half = 0.5 * (it.estimate.high - it.estimate.low);
        match it.answer {
            Answer::TotalHead => format!("total head to ± {}", short(half, Dimension::Length)),
            Answer::FixedDraw => format!("fixed draw to ± {}", short(half, Dimension::Power)),
            Answer::CheapestSpeed => format!("cheapest speed to ± {} rpm", number::rpm_about(half)),
            Answer::Suction => format!(
                "suction share to ± {} points",
                number::significant(100.0 * half, 2)
            ),
            Answer::Returns => format!(
                "return share to ± {} points",
                number::significant(100.0 * half, 2)
            ),
            _ => String::new(),
        }
    };
    let told: Vec<String> = told
        .iter()
        .map(width)
        .filter(|text| !text.is_empty())
        .collect();
    if told.is_empty() {
        return "How flow and power grow with speed, no number of it being foreseen.".to_owned();
    }
    let pad = if is_foreseen {
        "If the pad is as foreseen"
    } else {
        "On a usual pad"
    };
    format!("{pad}: {}.", told.join("; "))
}

/// What is done in which order.
pub(super) fn order(subject: &Subject<'_>) -> Vec<(String, String)> {
    let stages = subject.plan.stages.iter();
    stages
        .map(|stage| {
            let (name, text) = stage_words(stage.stage, subject);
            (
                name.to_owned(),
                format!("{}: {text}", minutes(stage.time_s)),
            )
        })
        .collect()
}

fn stage_words(stage: Stage, subject: &Subject<'_>) -> (&'static str, String) {
    let plan = subject.plan;
    match stage {
        Stage::Prepare => ("Prepare", prepare(subject)),
        Stage::AtRest => (
            "Pump off",
            "air relief open, no pressure left: read every gauge (it should show its own height only) and the draw at rest, as speed 0.".to_owned(),
        ),
        Stage::Prime => ("Prime", prime(subject)),
        Stage::Climb => (
            "Climb",
            "in coarse steps as in the table, with an eye on the filter gauge; a step up only where the gauge allows it.".to_owned(),
        ),
        Stage::Steps => (
            "Read",
            format!(
                "from high to low as in the table; after each change of speed wait {} until nothing moves, then read all meters at once.",
                minutes(plan.steps.first().map_or(0.0, |step| step.settle_s))
            ),
        ),
        Stage::DriftCheck => {
            let again = plan.steps.iter().find(|step| step.why == Why::DriftCheck);
            let speed = again.map_or(0.0, |step| step.speed_rpm);
            (
                "Drift check",
                format!("{} rpm again: if it reads otherwise than before, the pad had not settled.", number::rpm(speed)),
            )
        }
        Stage::LineUps => ("Line-ups", line_up_words(subject)),
        Stage::PutBack => (
            "Put back",
            "valves, feeders, automation and program as found or as agreed; tick each.".to_owned(),
        ),
    }
}

fn prepare(subject: &Subject<'_>) -> String {
    let shut = if subject.question.closed.is_empty() {
        "all valves open".to_owned()
    } else {
        format!(
            "shut: {}; all other valves open",
            subject.question.closed.join(", ")
        )
    };
    let part_open = if subject.question.throttled.is_empty() {
        String::new()
    } else {
        format!(
            "; part-open as found: {}",
            subject.question.throttled.join(", ")
        )
    };
    format!(
        "service mode, heater off and cooled, feeders off; empty skimmer and pump baskets, fill the pot, clean its lid and ring and close it; {shut}{part_open}; note how the valves stood."
    )
}

fn prime(subject: &Subject<'_>) -> String {
    let ceiling = &subject.plan.ceiling;
    let highest = number::rpm(ceiling.speed_rpm);
    let rest = "air relief open until water comes, nobody over the filter's lid";
    match &subject.site.pump.prime {
        Some(prime) if prime.speed.si <= ceiling.speed_rpm && ceiling.is_pressure_foreseen => {
            format!(
                "as the drive does, {} for {}, {rest}.",
                prime.speed.text, prime.time.text
            )
        }
        Some(prime) => format!(
            "the drive primes at {} by itself, and no pressure is foreseen to be safe there: lower that first; then at half speed or as slow as primes, never above {highest} rpm, {rest}.",
            prime.speed.text
        ),
        None => format!("at half speed or as slow as primes, never above {highest} rpm, {rest}."),
    }
}

fn line_up_words(subject: &Subject<'_>) -> String {
    let said = line_ups(subject).into_iter().map(|(shut, steps)| {
        let speeds: Vec<f64> = steps.iter().map(|step| step.speed_rpm).collect();
        format!("{} shut, {}", shut.join(" and "), rpm_list(&speeds))
    });
    let said: Vec<String> = said.collect();
    format!(
        "stop the pump, shut the line, start slow; {}; each is a test file of its own with closed = [...]. Open again before the next.",
        said.join("; ")
    )
}

/// What the climb rests on.
pub(super) fn climb_note(subject: &Subject<'_>) -> String {
    let gated = subject
        .plan
        .climb
        .iter()
        .any(|step| step.stop_above_pa.is_some());
    if gated {
        "\"Go on up to\" is the filter gauge at which the next speed would just reach the rating, by the square of speed, less what the gauge may be off by. Above it: stay, or stop.".to_owned()
    } else {
        "No gauge reading ends the climb, because the vessel's rating or its gauge is missing: read the plate, and stop well below it.".to_owned()
    }
}

/// What the bands rest on.
pub(super) fn bands(subject: &Subject<'_>) -> Vec<String> {
    let expected = || subject.plan.steps.iter().flat_map(|step| &step.expected);
    let by = |wanted: &[ExpectedBy]| {
        let columns = subject.plan.columns.iter().enumerate();
        let names: Vec<String> = columns
            .filter(|(index, _)| {
                expected().any(|it| it.column == *index && wanted.contains(&it.by))
            })
            .map(|(_, column)| column.column.name())
            .collect();
        (!names.is_empty()).then(|| names.join(", "))
    };
    let mut said = vec!["Each meter should read within the range in 95 of 100 cases; what lies outside is worth a second look before the next step.".to_owned()];
    said.extend(
        by(&[ExpectedBy::Law])
            .map(|names| format!("By the earlier test, if nothing has changed since: {names}.")),
    );
    said.extend(
        by(&[ExpectedBy::Plumbing])
            .map(|names| format!("By the plumbing, for a filter loaded as usual: {names}.")),
    );
    said.extend(
        by(&[
            ExpectedBy::MakersCurve,
            ExpectedBy::SuchPumps,
            ExpectedBy::Neighbours,
        ])
        .map(|names| {
            format!(
                "Wide, because nothing but what such pumps do is known: {names}. (~ before a range)"
            )
        }),
    );
    said
}

/// What a step is for.
pub(super) fn why(subject: &Subject<'_>, step: &PlannedStep) -> String {
    match &step.why {
        Why::Narrows { told, without } => {
            let more = 100.0 * (without - 1.0);
            let told = told_words(*told);
            if more < 1.0 {
                "fills a gap: a slip of a neighbour shows".to_owned()
            } else if more < 200.0 {
                format!(
                    "{told}: {} % wider without it",
                    number::significant(more, 2)
                )
            } else {
                format!(
                    "{told}: {} times as wide without it",
                    number::significant(*without, 2)
                )
            }
        }
        Why::DriftCheck => "drift check".to_owned(),
        Why::LineUp { answer, left, .. } => format!(
            "{}: leaves {} %",
            learning::answer(subject.site, answer),
            number::significant(100.0 * left, 2)
        ),
    }
}

fn told_words(told: Lesson) -> &'static str {
    match told {
        Lesson::FixedDraw => "fixed draw",
        Lesson::Growth => "growth of power",
        Lesson::Flow => "flow for speed",
        Lesson::Start => "where flow starts",
        Lesson::CheapestSpeed => "cheapest speed",
    }
}

/// Advice on the meters: where they sit and how they are read.
///
/// # Source
/// Straight run before a flow meter 10 bores and 5 behind it, and floats read at eye height: common practice, no source.
pub(super) fn meters(subject: &Subject<'_>) -> Vec<String> {
    let mut said = Vec::new();
    let flows = subject
        .plan
        .columns
        .iter()
        .filter(|column| column.column.measured == Measured::Flow);
    let mut flows = flows.peekable();
    if flows.peek().is_some() {
        said.push("Flow: ten bores of straight pipe before the meter and five behind it, no valve or elbow there, pipe full (common practice, no source; the meter's own sheet goes first).".to_owned());
    }
    for column in flows {
        let name = capitalized(&column.column.name());
        match column.kind {
            Some(MeterKind::Float) => said.push(format!("{name}: the float stands upright, swings settled; eye at its height, read the edge that its sheet names. Sun and algae shift it (common practice, no source).")),
            Some(MeterKind::ClampOn) => said.push(format!("{name}: set it to the pipe's own outside diameter, wall and material; move the sensors along and around once (common practice, no source).")),
            Some(MeterKind::PumpDisplay) => said.push(format!("{name}: a flow that the pump computes from its own power is no independent meter; note it, and read another.")),
            Some(MeterKind::Paddle) => said.push(format!("{name}: set to the pipe size that it sits in; a hair on the wheel reads low (common practice, no source).")),
            _ => {}
        }
    }
    let reads = |wanted: &[Measured]| {
        subject
            .plan
            .columns
            .iter()
            .any(|column| wanted.contains(&column.column.measured))
    };
    if reads(&[
        Measured::FilterPressure,
        Measured::InletVacuum,
        Measured::InletPressure,
    ]) {
        said.push("Gauges: note tap and height above the water; tap lightly before reading; one that does not come back to its zero with the pump off is left out.".to_owned());
    }
    if reads(&[Measured::Power, Measured::Current]) {
        said.push("Power and current: a true-rms meter, put on by a qualified person; where the pump's own display is read, say so in the site file.".to_owned());
    }
    said
}

/// What the plan could not know.
pub(super) fn notes(subject: &Subject<'_>) -> Vec<String> {
    subject
        .plan
        .notes
        .iter()
        .map(|found| note(found, subject.printing))
        .collect()
}

fn note(note: &PlanNote, printing: Printing) -> String {
    match note {
        PlanNote::NoLowestSpeed { taken_rpm } => format!(
            "The lowest speed of the pump is not stated; {} rpm is taken, a fifth of the top speed (common practice, no source). Go no slower than holds prime.",
            number::rpm(*taken_rpm)
        ),
        PlanNote::NoRating => "The highest pressure of the filter is not stated (max_pressure): no step could be held against it. Read the plate before the pump is started.".to_owned(),
        PlanNote::NoVesselGauge => "No gauge reads the filter: nothing shows on the way up that the vessel comes near its rating. Fit one first.".to_owned(),
        PlanNote::NotForeseen(problem) => {
            let (why, hint) = solved::problem(problem);
            let hint = hint.map_or_else(String::new, |hint| format!(" {}.", capitalized(&hint)));
            format!("Flow and pressure are not foreseen: {why}.{hint}")
        }
        PlanNote::NoCurve => "The site states no maker's curve and there is no earlier test with these valves, so no flow follows from a speed: ranges are wide, and pressure is not foreseen.".to_owned(),
        PlanNote::Contradiction { speed_rpm, by_test, by_plumbing } => format!(
            "At {} rpm the earlier test says {} and the stated plumbing with the maker's curve {}: one of them is wrong. The ranges follow the test; correct the site file before trusting them.",
            number::rpm(*speed_rpm),
            printing.with_interval(*by_test, Dimension::Flow),
            printing.with_interval(*by_plumbing, Dimension::Flow)
        ),
        PlanNote::PrimesTooFast { prime_rpm, high_rpm } => format!(
            "The drive primes at {} rpm, above the {} rpm that are allowed here: lower its priming speed before it is started.",
            number::rpm(*prime_rpm),
            number::rpm(*high_rpm)
        ),
        PlanNote::BeyondPrinted { limit, from_rpm } => format!(
            "From {} rpm on, {}: keep those steps short.",
            number::rpm(*from_rpm),
            broken(limit, printing)
        ),
        PlanNote::BelowMeter { column, speeds_rpm } => format!(
            "{} is likely below what its meter shows at {}: write \"<\" and the lowest mark, or read another meter.",
            capitalized(column),
            rpm_list(speeds_rpm)
        ),
        PlanNote::NothingReads { flow: true } => "No meter reads the flow: neither flow, nor cheapest speed, nor any share of head will be told.".to_owned(),
        PlanNote::NothingReads { flow: false } => "No meter reads the power: neither fixed draw nor cheapest speed will be told.".to_owned(),
        PlanNote::NotCalibrated(problem) => {
            let words = learning::not_learnt(&fieldtest::NotLearnt::NotCalibrated((**problem).clone()));
            format!("{} {}", words.says, words.action)
        }
    }
}

/// Says why there is no test to plan.
pub fn refusal(problem: &NoPlan, printing: Printing) -> Words {
    match problem {
        NoPlan::TooLittleTime {
            have_s,
            needed_s,
            speeds,
        } => Words {
            says: format!(
                "{} is too short for a test: {speeds} speeds, one of them again, with preparing, climb and putting back take {}; with fewer there is no law of power and no fixed draw",
                minutes(*have_s),
                minutes(*needed_s)
            ),
            action: format!("plan {} or more", minutes(*needed_s)),
            source: None,
        },
        NoPlan::NoOpenWay { end } => Words {
            says: format!(
                "no open way joins the {end} to the water, so that the pump must not run"
            ),
            action: "open a line: a pump is never run against shut valves".to_owned(),
            source: None,
        },
        NoPlan::AllThrottled { end } => Words {
            says: format!(
                "every way between the {end} and the water passes a part-open valve, so that neither flow nor pressure is known beforehand"
            ),
            action: "open one way fully; the suction is never throttled".to_owned(),
            source: None,
        },
        NoPlan::NoRoom {
            low_rpm,
            high_rpm,
            limit,
        } => {
            let low = number::rpm(*low_rpm);
            let why = limit.as_ref().map_or_else(String::new, |limit| {
                format!(", above which {}", broken(limit, printing))
            });
            let says = if *high_rpm > 0.0 {
                format!(
                    "between {low} rpm and {} rpm{why}, there is no room for three steps that tell anything",
                    number::rpm(*high_rpm)
                )
            } else {
                let limit = limit.as_ref().map_or_else(String::new, |limit| {
                    format!(": {}", broken(limit, printing))
                });
                format!("not even the lowest speed, {low} rpm, is allowed{limit}")
            };
            Words {
                says,
                action: "check the rating, the speeds and the plumbing in the site file; never test beyond a rating".to_owned(),
                source: None,
            }
        }
    }
}
