//! The answer in three sentences, the one figure that shows it, and what to set on the controller.

use super::{Subject, heading};
use crate::content::{Block, Drawing, Table, limit_words};
use crate::language::say;
use crate::number;
use crate::schedule;
use crate::schedule::answer::with_currency;
use crate::schedule::found::does_less;
use crate::schedule::words::{end, hours};
use operation::{Advice, AsFound, Entry};
use records::Prime;
use records::unit::Dimension;

/// Composes the answer.
pub(super) fn answer(subject: &Subject<'_>) -> Vec<Block> {
    let sentences = [costs(subject), saves(subject), keep_below(subject)];
    let sentences: Vec<String> = sentences.into_iter().flatten().collect();
    let mut blocks = Vec::new();
    if !sentences.is_empty() {
        blocks.push(heading(say!(subject.printing, "The answer")));
        blocks.push(Block::Paragraph(sentences.join(" ")));
    }
    blocks
}

/// Draws the one figure that shows the answer: the day, or where water is cheapest, or the flow.
pub(super) fn shown(subject: &Subject<'_>) -> Option<Drawing> {
    if let Ok(plan) = subject.plan {
        let day = schedule::figure(subject.site, subject.analysis, plan, subject.printing);
        if let Some(drawing) = day.and_then(|day| Drawing::of_figure(&day)) {
            return Some(drawing);
        }
    }
    let (_, result) = subject.last()?;
    let figures = crate::figures::figures(subject.site, subject.analysis, subject.printing);
    let of = |quantity: &str| {
        let name = format!("{}-{quantity}", result.name);
        figures.iter().find(|named| named.name == name)
    };
    of("energy")
        .or_else(|| of("flow"))
        .and_then(Drawing::of_figure)
}

/// Says what the day moves and costs.
fn costs(subject: &Subject<'_>) -> Option<String> {
    let Some((schedule, day)) = subject.day() else {
        return without_a_day(subject);
    };
    let replay = &day.program.planned.replay;
    let volume = match day.sums.volume_m3 {
        Some(volume) => subject.printing.with_interval(volume, Dimension::Volume),
        None => subject.printing.plain(replay.volume_m3, Dimension::Volume),
    };
    let sums = &day.sums;
    Some(match (sums.cost_month, replay.cost, sums.energy_kwh) {
        (Some(cost), _, _) => say!(
            subject.printing,
            "Set as below, the pump moves {volume} of water a day and costs {cost} a month.",
            volume,
            cost = with_currency(&schedule, cost)
        ),
        (None, Some(cost), _) => say!(
            subject.printing,
            "Set as below, the pump moves {volume} of water a day and costs {cost} a day.",
            volume,
            cost = schedule.money(cost)
        ),
        (None, None, Some(energy)) => say!(
            subject.printing,
            "Set as below, the pump moves {volume} of water a day and uses {energy} kWh for it.",
            volume,
            energy = number::with_interval(subject.printing, energy)
        ),
        (None, None, None) => say!(
            subject.printing,
            "Set as below, the pump moves {volume} of water a day.",
            volume
        ),
    })
}

/// Says what can be said where no day is advised.
fn without_a_day(subject: &Subject<'_>) -> Option<String> {
    match subject.plan.map(|plan| &plan.advice) {
        Ok(Advice::Impossible(_)) => {
            return Some(
                say!(subject.printing, "What is asked of the pump cannot all be done in one day; the second part says which demands stand against one another.")
                    .to_owned(),
            );
        }
        Ok(Advice::Unsettled) => {
            return Some(
                say!(subject.printing, "No program was found in the time given.").to_owned(),
            );
        }
        Ok(Advice::Day(_)) | Err(_) => {}
    }
    cheapest(subject)
}

/// Says where water is cheapest, as far as it is known.
fn cheapest(subject: &Subject<'_>) -> Option<String> {
    let (_, result) = subject.last()?;
    let least = result.least_energy.as_ref()?;
    let (low, high) = least.within_3_percent_rpm?;
    Some(say!(
        subject.printing,
        "Water is cheapest to move between {low} and {high} rpm, where the pump gives about {flow}.",
        low = number::rpm_about(low),
        high = number::rpm_about(high),
        flow = subject.printing.best(least.flow_m3s?, Dimension::Flow)
    ))
}

/// Says what the day saves, or what makes it cheap.
fn saves(subject: &Subject<'_>) -> Option<String> {
    match subject.day() {
        Some((schedule, day)) => match &day.as_found {
            Some(found) => against_found(&schedule, found),
            None => cheapest(subject),
        },
        None => fixed_draw(subject),
    }
}

fn against_found(schedule: &schedule::Subject<'_>, found: &AsFound) -> Option<String> {
    let (saves, written) = match (found.saves_year, found.saves_year_kwh) {
        (Some(saves), _) => (saves, with_currency(schedule, saves)),
        (None, Some(saves)) => (
            saves,
            say!(
                schedule.printing,
                "{energy} kWh",
                energy = number::with_interval(schedule.printing, saves)
            ),
        ),
        (None, None) => return None,
    };
    let sentence = if saves.low > 0.0 {
        say!(
            schedule.printing,
            "Against the program that was found, that saves {written} a year.",
            written
        )
    } else if saves.high < 0.0 {
        say!(
            schedule.printing,
            "That is dearer than the program that was found."
        )
        .to_owned()
    } else {
        say!(
            schedule.printing,
            "Whether that is cheaper than the program that was found cannot be told."
        )
        .to_owned()
    };
    Some(sentence + &does_less(found.fulfilment.as_ref(), schedule.printing))
}

fn fixed_draw(subject: &Subject<'_>) -> Option<String> {
    let (_, result) = subject.last()?;
    let law = result.laws.power.as_ref()?;
    Some(say!(
        subject.printing,
        "Whatever its speed it draws {fixed} W; what comes on top at {speed} rpm is {dynamic} W.",
        fixed = number::with_interval(subject.printing, law.fixed_w),
        speed = number::rpm(subject.printing, law.at_speed_rpm),
        dynamic = number::best(subject.printing, law.dynamic_w)
    ))
}

/// Says which speed not to pass.
fn keep_below(subject: &Subject<'_>) -> Option<String> {
    let limit = subject.first_limit()?;
    Some(say!(
        subject.printing,
        "Do not set a speed above about {speed} rpm: there {limit} is reached.",
        speed = number::rpm_about(limit.speed_rpm?),
        limit = limit_words(limit, subject.printing)
    ))
}

/// Composes the table of what to set.
pub(super) fn setting(subject: &Subject<'_>) -> Vec<Block> {
    let Some((schedule, day)) = subject.day() else {
        return Vec::new();
    };
    let mut blocks = vec![
        heading(say!(subject.printing, "What to set on the controller")),
        Block::Table(entries(&schedule, &day.program.entries)),
    ];
    blocks.extend(
        subject
            .site
            .pump
            .prime
            .as_ref()
            .map(|prime| Block::Note(priming(subject, prime))),
    );
    blocks
}

/// Says how the pump starts, and whether that passes a limit.
fn priming(subject: &Subject<'_>, prime: &Prime) -> String {
    let (time, speed) = (
        &prime.time.text,
        number::rpm(subject.printing, prime.speed.si),
    );
    let limit = subject.first_limit().and_then(|limit| limit.speed_rpm);
    if limit.is_some_and(|limit| prime.speed.si > limit) {
        say!(
            subject.printing,
            "Each start begins with {time} at {speed} rpm to prime the pump. That passes the speed above: ask your technician whether a slower one will do.",
            time,
            speed
        )
    } else {
        say!(
            subject.printing,
            "Each start begins with {time} at {speed} rpm to prime the pump: leave that as it is.",
            time,
            speed
        )
    }
}

fn entries(schedule: &schedule::Subject<'_>, entries: &[Entry]) -> Table {
    let problem = &schedule.plan.problem;
    let row = |entry: &Entry| {
        let speed = entry.speed.and_then(|speed| problem.speeds.get(speed));
        let valves = speed.and_then(|speed| speed.lineup.clone());
        let set = speed.map_or_else(
            || say!(schedule.printing, "off" as "pump").to_owned(),
            |speed| {
                say!(
                    schedule.printing,
                    "{speed} rpm",
                    speed = number::rpm(schedule.printing, speed.speed_rpm)
                )
            },
        );
        vec![
            format!("{}–{}", entry.from, end(entry.to)),
            valves.map_or_else(|| set.clone(), |valves| format!("{set}, {valves}")),
            hours(entry.hours, schedule.printing),
            speed.map_or_else(
                || "–".to_owned(),
                |speed| schedule.printing.plain(speed.flow_m3s, Dimension::Flow),
            ),
        ]
    };
    Table {
        headings: [
            say!(schedule.printing, "from–to"),
            say!(schedule.printing, "speed"),
            say!(schedule.printing, "hours"),
            say!(schedule.printing, "flow"),
        ]
        .map(str::to_owned)
        .to_vec(),
        rows: entries.iter().map(row).collect(),
        word_columns: 1,
        ..Table::default()
    }
}
