//! Reads how the pool is run: program, turnover, tasks, quiet hours, and what a controller can hold. What energy costs is
//! read beside, in `tariff`.

use super::lines::Lines;
use super::tariff;
use crate::clock::DAY_MINUTES;
use crate::unit::Dimension;
use crate::values::Range;
use crate::walker::{Field, Table};
use crate::{ClockTime, Operation, ProgramBlock, QuietBlock, Task, Turnover};

/// More starts in a day than one every ten minutes are no schedule.
const MAX_STARTS: u32 = 144;
/// More entries than one every ten minutes no controller holds.
const MAX_ENTRIES: u32 = 144;
/// From a minute to a day.
const OF_A_DAY: Range = Range::Between {
    low: 60.0,
    high: 86_400.0,
    words: "1 min to 24 h",
};
/// Speeds are set by the revolution, or by a part of the range.
const SPEED_STEP: Range = Range::Between {
    low: 1.0,
    high: 1000.0,
    words: "1 rpm to 1000 rpm",
};
/// Below an even chance nobody asks; beyond this, laws do not reach.
const CHANCE: Range = Range::Between {
    low: 0.5,
    high: 0.999,
    words: "50 % to 99.9 %",
};
const DISCOUNT: Range = Range::Between {
    low: 0.0,
    high: 0.5,
    words: "0 % to 50 %",
};
const TASK_HOURS: Range = Range::Between {
    low: 0.0,
    high: 24.0,
    words: "a number of hours up to 24",
};

/// Reads `[operation]`.
pub(super) fn operation(field: &Field<'_>, lines: &Lines) -> Option<Operation> {
    let table = field.table("[operation]")?;
    let priced = tariff::tariff(&table);
    let count = |key, low| {
        table
            .get(key)
            .and_then(|field: Field<'_>| field.whole(low, MAX_ENTRIES))
    };
    let operation = Operation {
        as_found: list(&table, "as_found", program_block),
        turnover: table.get("turnover").and_then(|field| turnover(&field)),
        turnover_chance: table.quantity("turnover_chance", Dimension::Ratio, CHANCE),
        discount_rate: table.quantity("discount_rate", Dimension::Ratio, DISCOUNT),
        tasks: list(&table, "tasks", |field| task(field, lines)),
        quiet: list(&table, "quiet", quiet_block),
        max_starts: table
            .get("max_starts")
            .and_then(|field| field.whole(1, MAX_STARTS)),
        max_speeds: count("max_speeds", 1),
        max_changes: count("max_changes", 2),
        min_run: table.quantity("min_run", Dimension::Time, OF_A_DAY),
        max_pause: table.quantity("max_pause", Dimension::Time, OF_A_DAY),
        speeds: speeds(&table),
        speed_step: table.quantity("speed_step", Dimension::Speed, SPEED_STEP),
        ..priced
    };
    table.finish();
    Some(operation)
}

/// The speeds that may be set.
fn speeds(table: &Table<'_>) -> Vec<crate::Quantity> {
    list(table, "speeds", |field| {
        field.quantity(Dimension::Speed, Range::AboveZero)
    })
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

fn turnover(field: &Field<'_>) -> Option<Turnover> {
    let text = field.text("text in quotes, such as \"1 per day\"")?;
    Turnover::parse(text)
        .map_err(|error| field.report(&error.to_string(), None))
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
            "00:00 to 23:59",
            Some("a block that starts at midnight starts at 00:00".to_owned()),
        );
    } else if start == end {
        to.refuse(
            "an end other than the start",
            Some("a whole day is from 00:00 to 24:00".to_owned()),
        );
    }
    Some((start, end))
}

pub(super) fn program_block(field: &Field<'_>) -> Option<ProgramBlock> {
    let table = field.table("a block of as_found")?;
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
    let table = field.table("a block of quiet")?;
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
    let table = field.table("a task")?;
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
        field.refuse("a number of hours above 0", None);
        return None;
    }
    Some(hours)
}

fn between(field: &Field<'_>) -> Option<[ClockTime; 2]> {
    let [from, to] = field.pair("[\"08:00\", \"20:00\"]")?;
    ends(from, to).map(|(start, end)| [start, end])
}
