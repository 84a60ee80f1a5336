//! Reads how the pool is run: program, turnover, tasks, quiet hours, and what a controller can hold. What energy costs is
//! read beside, in `tariff`.

use super::lines::Lines;
use super::tariff;
use crate::clock::DAY_MINUTES;
use crate::told;
use crate::told::later;
use crate::unit::Dimension;
use crate::values::Range;
use crate::walker::{Field, Table};
use crate::{ClockTime, Operation, ProgramBlock, Quantity, QuietBlock, Task, Turnover};

/// More starts in a day than one every ten minutes are no schedule.
const MAX_STARTS: u32 = 144;
/// More entries than one every ten minutes no controller holds.
const MAX_ENTRIES: u32 = 144;
/// From a minute to a day.
const OF_A_DAY: Range = Range::Between {
    low: 60.0,
    high: 86_400.0,
    words: later!("1 min to 24 h"),
};
/// Speeds are set by the revolution, or by a part of the range.
const SPEED_STEP: Range = Range::Between {
    low: 1.0,
    high: 1000.0,
    words: later!("1 rpm to 1000 rpm"),
};
/// Below an even chance nobody asks; beyond this, laws do not reach.
const CHANCE: Range = Range::Between {
    low: 0.5,
    high: 0.999,
    words: later!("50 % to 99.9 %"),
};
const DISCOUNT: Range = Range::Between {
    low: 0.0,
    high: 0.5,
    words: later!("0 % to 50 %"),
};
const TASK_HOURS: Range = Range::Between {
    low: 0.0,
    high: 24.0,
    words: later!("a number of hours up to 24"),
};

/// Reads `[operation]`; what it does not state stays as it was before.
pub(super) fn operation(field: &Field<'_>, lines: &Lines, before: &Operation) -> Option<Operation> {
    let table = field.table("[operation]")?;
    let priced = tariff::tariff(&table, before);
    let whole = |key, (low, high), before: Option<u32>| {
        let stated = table.get(key);
        stated.map_or(before, |field: Field<'_>| field.whole(low, high))
    };
    let quantity = |key, dimension, range, before: &Option<Quantity>| {
        table
            .quantity(key, dimension, range)
            .or_else(|| before.clone())
    };
    let time = |key, before| quantity(key, Dimension::Time, OF_A_DAY, before);
    let share = |key, range, before| quantity(key, Dimension::Ratio, range, before);
    let speed = |field: &Field<'_>| field.quantity(Dimension::Speed, Range::AboveZero);
    let turnover = |before: &Option<Turnover>| {
        let stated = table.get("turnover").and_then(|field| turnover(&field));
        stated.or_else(|| before.clone())
    };
    let operation = Operation {
        as_found: list_or(&table, "as_found", &before.as_found, program_block),
        turnover: turnover(&before.turnover),
        turnover_chance: share("turnover_chance", CHANCE, &before.turnover_chance),
        discount_rate: share("discount_rate", DISCOUNT, &before.discount_rate),
        tasks: list_or(&table, "tasks", &before.tasks, |field| task(field, lines)),
        quiet: list_or(&table, "quiet", &before.quiet, quiet_block),
        max_starts: whole("max_starts", (1, MAX_STARTS), before.max_starts),
        max_speeds: whole("max_speeds", (1, MAX_ENTRIES), before.max_speeds),
        max_changes: whole("max_changes", (2, MAX_ENTRIES), before.max_changes),
        min_run: time("min_run", &before.min_run),
        max_pause: time("max_pause", &before.max_pause),
        speeds: list_or(&table, "speeds", &before.speeds, speed),
        speed_step: quantity(
            "speed_step",
            Dimension::Speed,
            SPEED_STEP,
            &before.speed_step,
        ),
        ..priced
    };
    table.finish();
    Some(operation)
}

pub(super) fn list<T>(
    table: &Table<'_>,
    key: &'static str,
    read: impl Fn(&Field<'_>) -> Option<T>,
) -> Vec<T> {
    let items = table
        .get(key)
        .map(|field| field.items())
        .unwrap_or_default();
    items.iter().filter_map(read).collect()
}

/// A list, or what stood before where the key is absent.
pub(super) fn list_or<T: Clone>(
    table: &Table<'_>,
    key: &'static str,
    before: &[T],
    read: impl Fn(&Field<'_>) -> Option<T>,
) -> Vec<T> {
    match table.get(key) {
        Some(_) => list(table, key, read),
        None => before.to_vec(),
    }
}

fn turnover(field: &Field<'_>) -> Option<Turnover> {
    let text = field.text(told!("text in quotes, such as \"1 per day\""))?;
    Turnover::parse(text)
        .map_err(|error| field.report(error.told(), None))
        .ok()
}

/// The start and the end of a block, which may pass midnight.
pub(super) fn span(table: &Table<'_>) -> Option<(ClockTime, ClockTime)> {
    let from = table.require("from", "\"08:00\"");
    let to = table.require("to", "\"16:00\"");
    ends(from?, to?)
}

fn ends(from: Field<'_>, to: Field<'_>) -> Option<(ClockTime, ClockTime)> {
    let (start, end) = (from.clock(), to.clock());
    let (start, end) = start.zip(end)?;
    if start.minutes >= DAY_MINUTES {
        from.refuse(
            told!("00:00 to 23:59"),
            Some(told!("a block that starts at midnight starts at 00:00")),
        );
    } else if start == end {
        to.refuse(
            told!("an end other than the start"),
            Some(told!("a whole day is from 00:00 to 24:00")),
        );
    }
    Some((start, end))
}

pub(super) fn program_block(field: &Field<'_>) -> Option<ProgramBlock> {
    let table = field.table(later!("a block of as_found"))?;
    let span = span(&table);
    let speed = table.require_quantity("speed", Dimension::Speed, Range::AboveZero);
    table.finish();
    let (from, to) = span?;
    Some(ProgramBlock {
        from,
        to,
        speed: speed?,
    })
}

fn quiet_block(field: &Field<'_>) -> Option<QuietBlock> {
    let table = field.table(later!("a block of quiet"))?;
    let span = span(&table);
    let max_speed = table.require_quantity("max_speed", Dimension::Speed, Range::AboveZero);
    table.finish();
    let (from, to) = span?;
    Some(QuietBlock {
        from,
        to,
        max_speed: max_speed?,
    })
}

fn task(field: &Field<'_>, lines: &Lines) -> Option<Task> {
    let table = field.table(later!("a task"))?;
    let name = table
        .require("name", "\"skimming\"")
        .and_then(|field| field.name());
    let kind = table.word("kind");
    let min_flow = table.require_quantity("min_flow", Dimension::Flow, Range::AboveZero);
    let hours = table.require("hours", "4").and_then(|field| hours(&field));
    let between = table.get("between").and_then(|field| between(&field));
    let in_one_go = table.get("in_one_go").and_then(|field| field.yes_no());
    let closed = table.get("closed").map(|field| lines.names_of(&field));
    table.finish();
    Some(Task {
        name: name?,
        kind,
        in_one_go: in_one_go.unwrap_or(false),
        closed: closed.unwrap_or_default(),
        min_flow: min_flow?,
        hours: hours?,
        between,
    })
}

fn hours(field: &Field<'_>) -> Option<f64> {
    let hours = field.number(TASK_HOURS)?;
    if hours <= 0.0 {
        field.refuse(told!("a number of hours above 0"), None);
        return None;
    }
    Some(hours)
}

fn between(field: &Field<'_>) -> Option<[ClockTime; 2]> {
    let [from, to] = field.pair("[\"08:00\", \"20:00\"]")?;
    ends(from, to).map(|(start, end)| [start, end])
}
