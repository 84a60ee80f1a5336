//! The sentences of a plan.

use super::Subject;
use crate::content::{capitalized, limit_words};
use crate::language::say;
use crate::names;
use crate::number;
use crate::solved;
use crate::units::{Printing, with_unit, written};
use crate::words::learning::{self, rpm_list};
use crate::words::sourced;
use fieldtest::{Answer, ExpectedBy, Lesson, Limit, PlanNote, PlannedStep, Stage, Why, WouldTell};
use records::unit::{Dimension, Unit};
use records::{Measured, MeterKind};

/// Writes a time in minutes.
pub(super) fn minutes(time_s: f64, printing: Printing) -> String {
    say!(
        printing,
        "{minutes} min",
        minutes = number::plain(printing, (time_s / 60.0).round())
    )
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
    number::plain(subject.printing, number)
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
    Some(say!(
        subject.printing,
        "Stop the pump if the filter gauge reads above {stop}.",
        stop = pressure(subject, stop)
    ))
}

/// The title.
pub(super) fn title(subject: &Subject<'_>) -> String {
    say!(
        subject.printing,
        "{site}: plan of a step test, {plan} of {time}",
        site = subject.site.name,
        plan = minutes(subject.plan.time_s(), subject.printing),
        time = minutes(subject.question.time_s, subject.printing)
    )
}

/// The answers that stand first.
pub(super) fn answers(subject: &Subject<'_>) -> Vec<crate::content::Block> {
    let plan = subject.plan;
    let answer = |word: &str, text: String| crate::content::Block::Answer {
        word: word.to_owned(),
        text,
        kind: None,
    };
    let mut blocks = vec![
        answer(say!(subject.printing, "Speeds"), speeds(subject)),
        answer(say!(subject.printing, "Not above"), ceiling(subject)),
        answer(say!(subject.printing, "Would tell"), would_tell(subject)),
    ];
    let next = plan
        .next
        .as_ref()
        .and_then(|next| Some((next, next.readings.first()?)));
    blocks.extend(next.map(|(next, best)| {
        let says = learning::says(subject.site, next, best, subject.printing);
        answer(
            say!(subject.printing, "Bring too"),
            format!("{}.", capitalized(&says)),
        )
    }));
    blocks
}

fn speeds(subject: &Subject<'_>) -> String {
    let plan = subject.plan;
    let mut speeds = plan.speeds_rpm();
    speeds.reverse();
    let again = plan.steps.iter().find(|step| step.why == Why::DriftCheck);
    let again = again.map_or_else(String::new, |step| {
        say!(
            subject.printing,
            ", then {speed} rpm again",
            speed = number::rpm(subject.printing, step.speed_rpm)
        )
    });
    let line_ups: Vec<String> = line_ups(subject)
        .into_iter()
        .map(|(shut, _)| {
            say!(
                subject.printing,
                "{shut} shut",
                shut = shut.join(say!(subject.printing, " and "))
            )
        })
        .collect();
    let line_ups = if line_ups.is_empty() {
        String::new()
    } else {
        say!(
            subject.printing,
            "; then with {line_ups}",
            line_ups = line_ups.join(say!(subject.printing, ", and with "))
        )
    };
    say!(
        subject.printing,
        "{speeds}, from high to low{again}{line_ups}.",
        speeds = rpm_list(&speeds, subject.printing),
        again,
        line_ups
    )
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
    let at = number::rpm(subject.printing, plan.ceiling.speed_rpm);
    let upper = plan.climb.last().and_then(|last| last.vessel_upper_pa);
    let foreseen = upper.map_or_else(
        || {
            say!(
                subject.printing,
                "the pressure in the filter is not foreseen: the gauge alone decides"
            )
            .to_owned()
        },
        |upper| {
            say!(
                subject.printing,
                "at most {upper} is foreseen in the filter there",
                upper = pressure(subject, upper)
            )
        },
    );
    let stop = stop(subject).map_or_else(String::new, |stop| format!(" {stop}"));
    match &plan.ceiling.limit {
        None => say!(
            subject.printing,
            "{at} rpm, the pump's own top speed; {foreseen}.{stop}",
            at,
            foreseen,
            stop
        ),
        Some(limit) => say!(
            subject.printing,
            "{at} rpm: faster, {limit}; {foreseen}.{stop}",
            at,
            limit = broken(limit, printing),
            foreseen,
            stop
        ),
    }
}

/// Says which limit might be broken.
pub(super) fn broken(limit: &Limit, printing: Printing) -> String {
    say!(
        printing,
        "{limit} might be passed ({basis})",
        limit = limit_words(limit, printing),
        basis = sourced(&limit.source, limit.basis, printing)
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
            &number::significant(subject.printing, printing.number(si, dimension), 2),
            printing.name(dimension),
        )
    };
    let width = |it: &WouldTell| {
        let half = 0.5 * (it.estimate.high - it.estimate.low);
        match it.answer {
            Answer::TotalHead => say!(
                subject.printing,
                "total head to ± {half}",
                half = short(half, Dimension::Length)
            ),
            Answer::FixedDraw => say!(
                subject.printing,
                "fixed draw to ± {half}",
                half = short(half, Dimension::Power)
            ),
            Answer::CheapestSpeed => say!(
                subject.printing,
                "cheapest speed to ± {half} rpm",
                half = number::rpm_about(half)
            ),
            Answer::Suction => say!(
                subject.printing,
                "suction share to ± {half} points",
                half = number::significant(subject.printing, 100.0 * half, 2)
            ),
            Answer::Returns => say!(
                subject.printing,
                "return share to ± {half} points",
                half = number::significant(subject.printing, 100.0 * half, 2)
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
        return say!(
            subject.printing,
            "How flow and power grow with speed, no number of it being foreseen."
        )
        .to_owned();
    }
    let pad = if is_foreseen {
        say!(subject.printing, "If the pad is as foreseen")
    } else {
        say!(subject.printing, "On a usual pad")
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
                format!("{}: {text}", minutes(stage.time_s, subject.printing)),
            )
        })
        .collect()
}

fn stage_words(stage: Stage, subject: &Subject<'_>) -> (&'static str, String) {
    let plan = subject.plan;
    match stage {
        Stage::Prepare => (say!(subject.printing, "Prepare"), prepare(subject)),
        Stage::AtRest => (
            say!(subject.printing, "Pump off"),
            say!(subject.printing, "air relief open, no pressure left: read every gauge (it should show its own height only) and the draw at rest, as speed 0.").to_owned(),
        ),
        Stage::Prime => (say!(subject.printing, "Prime"), prime(subject)),
        Stage::Climb => (
            say!(subject.printing, "Climb"),
            say!(subject.printing, "in coarse steps as in the table, with an eye on the filter gauge; a step up only where the gauge allows it.").to_owned(),
        ),
        Stage::Steps => (
            say!(subject.printing, "Read" as "stage"),
            say!(subject.printing, "from high to low as in the table; after each change of speed wait {settle} until nothing moves, then read all meters at once.", settle = minutes(plan.steps.first().map_or(0.0, |step| step.settle_s), subject.printing)),
        ),
        Stage::DriftCheck => {
            let again = plan.steps.iter().find(|step| step.why == Why::DriftCheck);
            let speed = again.map_or(0.0, |step| step.speed_rpm);
            (
                say!(subject.printing, "Drift check"),
                say!(subject.printing, "{speed} rpm again: if it reads otherwise than before, the pad had not settled.", speed = number::rpm(subject.printing, speed)),
            )
        }
        Stage::LineUps => (say!(subject.printing, "Line-ups"), line_up_words(subject)),
        Stage::PutBack => (
            say!(subject.printing, "Put back"),
            say!(subject.printing, "valves, feeders, automation and program as found or as agreed; tick each.").to_owned(),
        ),
    }
}

fn prepare(subject: &Subject<'_>) -> String {
    let shut = if subject.question.closed.is_empty() {
        say!(subject.printing, "all valves open").to_owned()
    } else {
        say!(
            subject.printing,
            "shut: {closed}; all other valves open",
            closed = subject.question.closed.join(", ")
        )
    };
    let part_open = if subject.question.throttled.is_empty() {
        String::new()
    } else {
        say!(
            subject.printing,
            "; part-open as found: {throttled}",
            throttled = subject.question.throttled.join(", ")
        )
    };
    say!(
        subject.printing,
        "service mode, heater off and cooled, feeders off; empty skimmer and pump baskets, fill the pot, clean its lid and ring and close it; {shut}{part_open}; note how the valves stood.",
        shut,
        part_open
    )
}

fn prime(subject: &Subject<'_>) -> String {
    let ceiling = &subject.plan.ceiling;
    let highest = number::rpm(subject.printing, ceiling.speed_rpm);
    let rest = say!(
        subject.printing,
        "air relief open until water comes, nobody over the filter's lid"
    );
    match &subject.site.pump.prime {
        Some(prime) if prime.speed.si <= ceiling.speed_rpm && ceiling.is_pressure_foreseen => {
            say!(
                subject.printing,
                "as the drive does, {speed} for {time}, {rest}.",
                speed = prime.speed.text,
                time = prime.time.text,
                rest
            )
        }
        Some(prime) => say!(
            subject.printing,
            "the drive primes at {speed} by itself, and no pressure is foreseen to be safe there: lower that first; then at half speed or as slow as primes, never above {highest} rpm, {rest}.",
            speed = prime.speed.text,
            highest,
            rest
        ),
        None => say!(
            subject.printing,
            "at half speed or as slow as primes, never above {highest} rpm, {rest}.",
            highest,
            rest
        ),
    }
}

fn line_up_words(subject: &Subject<'_>) -> String {
    let said = line_ups(subject).into_iter().map(|(shut, steps)| {
        let speeds: Vec<f64> = steps.iter().map(|step| step.speed_rpm).collect();
        say!(
            subject.printing,
            "{shut} shut, {speeds}",
            shut = shut.join(say!(subject.printing, " and ")),
            speeds = rpm_list(&speeds, subject.printing)
        )
    });
    let said: Vec<String> = said.collect();
    say!(
        subject.printing,
        "stop the pump, shut the line, start slow; {said}; each is a test file of its own with closed = [...]. Open again before the next.",
        said = said.join("; ")
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
        say!(subject.printing, "\"Go on up to\" is the filter gauge at which the next speed would just reach the rating, by the square of speed, less what the gauge may be off by. Above it: stay, or stop.").to_owned()
    } else {
        say!(subject.printing, "No gauge reading ends the climb, because the vessel's rating or its gauge is missing: read the plate, and stop well below it.").to_owned()
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
    let mut said = vec![say!(subject.printing, "Each meter should read within the range in 95 of 100 cases; what lies outside is worth a second look before the next step.").to_owned()];
    said.extend(by(&[ExpectedBy::Law]).map(|names| {
        say!(
            subject.printing,
            "By the earlier test, if nothing has changed since: {names}.",
            names
        )
    }));
    said.extend(by(&[ExpectedBy::Plumbing]).map(|names| {
        say!(
            subject.printing,
            "By the plumbing, for a filter loaded as usual: {names}.",
            names
        )
    }));
    said.extend(
        by(&[
            ExpectedBy::MakersCurve,
            ExpectedBy::SuchPumps,
            ExpectedBy::Neighbours,
        ])
        .map(|names| {
            say!(subject.printing, "Wide, because nothing but what such pumps do is known: {names}. (~ before a range)", names)
        }),
    );
    said
}

/// What a step is for.
pub(super) fn why(subject: &Subject<'_>, step: &PlannedStep) -> String {
    match &step.why {
        Why::Narrows { told, without } => {
            let more = 100.0 * (without - 1.0);
            let told = told_words(*told, subject.printing);
            if more < 1.0 {
                say!(subject.printing, "fills a gap: a slip of a neighbour shows").to_owned()
            } else if more < 200.0 {
                say!(
                    subject.printing,
                    "{told}: {more} % wider without it",
                    told,
                    more = number::significant(subject.printing, more, 2)
                )
            } else {
                say!(
                    subject.printing,
                    "{told}: {times} times as wide without it",
                    told,
                    times = number::significant(subject.printing, *without, 2)
                )
            }
        }
        Why::DriftCheck => say!(subject.printing, "drift check").to_owned(),
        Why::LineUp { answer, left, .. } => say!(
            subject.printing,
            "{answer}: leaves {left} %",
            answer = learning::answer(subject.site, answer, subject.printing),
            left = number::significant(subject.printing, 100.0 * left, 2)
        ),
    }
}

fn told_words(told: Lesson, printing: Printing) -> &'static str {
    match told {
        Lesson::FixedDraw => say!(printing, "fixed draw"),
        Lesson::Growth => say!(printing, "growth of power"),
        Lesson::Flow => say!(printing, "flow for speed"),
        Lesson::Start => say!(printing, "where flow starts"),
        Lesson::CheapestSpeed => say!(printing, "cheapest speed"),
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
        said.push(say!(subject.printing, "Flow: ten bores of straight pipe before the meter and five behind it, no valve or elbow there, pipe full (common practice, no source; the meter's own sheet goes first).").to_owned());
    }
    for column in flows {
        let name = capitalized(&names::column(&column.column.name(), subject.printing));
        match column.kind {
            Some(MeterKind::Float) => said.push(say!(subject.printing, "{name}: the float stands upright, swings settled; eye at its height, read the edge that its sheet names. Sun and algae shift it (common practice, no source).", name)),
            Some(MeterKind::ClampOn) => said.push(say!(subject.printing, "{name}: set it to the pipe's own outside diameter, wall and material; move the sensors along and around once (common practice, no source).", name)),
            Some(MeterKind::PumpDisplay) => said.push(say!(subject.printing, "{name}: a flow that the pump computes from its own power is no independent meter; note it, and read another.", name)),
            Some(MeterKind::Paddle) => said.push(say!(subject.printing, "{name}: set to the pipe size that it sits in; a hair on the wheel reads low (common practice, no source).", name)),
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
        said.push(say!(subject.printing, "Gauges: note tap and height above the water; tap lightly before reading; one that does not come back to its zero with the pump off is left out.").to_owned());
    }
    if reads(&[Measured::Power, Measured::Current]) {
        said.push(say!(subject.printing, "Power and current: a true-rms meter, put on by a qualified person; where the pump's own display is read, say so in the site file.").to_owned());
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
        PlanNote::NoLowestSpeed { taken_rpm } => say!(printing, "The lowest speed of the pump is not stated; {taken} rpm is taken, a fifth of the top speed (common practice, no source). Go no slower than holds prime.", taken = number::rpm(printing, *taken_rpm)),
        PlanNote::NoRating => say!(printing, "The highest pressure of the filter is not stated (max_pressure): no step could be held against it. Read the plate before the pump is started.").to_owned(),
        PlanNote::NoVesselGauge => say!(printing, "No gauge reads the filter: nothing shows on the way up that the vessel comes near its rating. Fit one first.").to_owned(),
        PlanNote::NotForeseen(problem) => {
            let (why, hint) = solved::problem(problem, printing);
            let hint = hint.map_or_else(String::new, |hint| format!(" {}.", capitalized(&hint)));
            say!(printing, "Flow and pressure are not foreseen: {why}.{hint}", why, hint)
        }
        PlanNote::NoCurve => say!(printing, "The site states no maker's curve and there is no earlier test with these valves, so no flow follows from a speed: ranges are wide, and pressure is not foreseen.").to_owned(),
        PlanNote::Contradiction { speed_rpm, by_test, by_plumbing } => say!(printing, "At {speed} rpm the earlier test says {by_test} and the stated plumbing with the maker's curve {by_plumbing}: one of them is wrong. The ranges follow the test; correct the site file before trusting them.", speed = number::rpm(printing, *speed_rpm), by_test = printing.with_interval(*by_test, Dimension::Flow), by_plumbing = printing.with_interval(*by_plumbing, Dimension::Flow)),
        PlanNote::PrimesTooFast { prime_rpm, high_rpm } => say!(printing, "The drive primes at {prime} rpm, above the {high} rpm that are allowed here: lower its priming speed before it is started.", prime = number::rpm(printing, *prime_rpm), high = number::rpm(printing, *high_rpm)),
        PlanNote::BeyondPrinted { limit, from_rpm } => say!(printing, "From {from} rpm on, {limit}: keep those steps short.", from = number::rpm(printing, *from_rpm), limit = broken(limit, printing)),
        PlanNote::BelowMeter { column, speeds_rpm } => say!(printing, "{column} is likely below what its meter shows at {speeds}: write \"<\" and the lowest mark, or read another meter.", column = capitalized(&names::column(column, printing)), speeds = rpm_list(speeds_rpm, printing)),
        PlanNote::NothingReads { flow: true } => say!(printing, "No meter reads the flow: neither flow, nor cheapest speed, nor any share of head will be told.").to_owned(),
        PlanNote::NothingReads { flow: false } => say!(printing, "No meter reads the power: neither fixed draw nor cheapest speed will be told.").to_owned(),
        PlanNote::NotCalibrated(problem) => {
            let words = learning::not_learnt(&fieldtest::NotLearnt::NotCalibrated((**problem).clone()), printing);
            format!("{} {}", words.says, words.action)
        }
    }
}
