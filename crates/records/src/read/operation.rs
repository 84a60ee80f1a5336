//! Reads how the pool is run: program, turnover, tariff, tasks, quiet hours.

use crate::clock::DAY_MINUTES;
use crate::unit::Dimension;
use crate::values::Range;
use crate::walker::{Field, Table};
use crate::{ClockTime, Operation, ProgramBlock, QuietBlock, TariffBlock, Task, Turnover, shown};

/// More starts in a day than one every ten minutes are no schedule.
const MAX_STARTS: u32 = 144;
const TASK_HOURS: Range = Range::Between {
    low: 0.0,
    high: 24.0,
    words: "a number of hours up to 24",
};

/// Reads `[operation]`.
pub(super) fn operation(field: &Field<'_>) -> Option<Operation> {
    let table = field.table("[operation]")?;
    let operation = Operation {
        as_found: list(&table, "as_found", program_block),
        turnover: table.get("turnover").and_then(|field| turnover(&field)),
        tariff: list(&table, "tariff", tariff_block),
        tasks: list(&table, "tasks", task),
        quiet: list(&table, "quiet", quiet_block),
        max_starts: table
            .get("max_starts")
            .and_then(|field| field.whole(1, MAX_STARTS)),
    };
    table.finish();
    report_two_currencies(&table, &operation.tariff);
    Some(operation)
}

fn list<T>(table: &Table<'_>, key: &'static str, read: impl Fn(&Field<'_>) -> Option<T>) -> Vec<T> {
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
fn span(table: &Table<'_>) -> Option<(ClockTime, ClockTime)> {
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

fn program_block(field: &Field<'_>) -> Option<ProgramBlock> {
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

fn tariff_block(field: &Field<'_>) -> Option<TariffBlock> {
    let table = field.table("a block of tariff")?;
    let span = span(&table);
    let price = table.require_quantity("price", Dimension::Price, Range::ZeroOrMore);
    table.finish();
    let (from, to) = span?;
    Some(TariffBlock {
        from,
        to,
        price: price?,
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

fn task(field: &Field<'_>) -> Option<Task> {
    let table = field.table("a task")?;
    let name = table
        .require("name", "\"skimming\"")
        .and_then(|field| field.name());
    let min_flow = table.require_quantity("min_flow", Dimension::Flow, Range::AboveZero);
    let hours = table.require("hours", "4").and_then(|field| hours(&field));
    let between = table.get("between").and_then(|field| between(&field));
    table.finish();
    Some(Task {
        name: name?,
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

fn report_two_currencies(table: &Table<'_>, tariff: &[TariffBlock]) {
    let mut currencies = tariff.iter().filter_map(|block| block.price.currency());
    let Some(first) = currencies.next() else {
        return;
    };
    if let Some((other, field)) = currencies
        .find(|other| *other != first)
        .zip(table.get("tariff"))
    {
        let message = format!(
            "tariff has prices in {} and in {}; expected one currency",
            shown(first),
            shown(other)
        );
        field.problems.add(Some(field.at), message, None);
    }
}
