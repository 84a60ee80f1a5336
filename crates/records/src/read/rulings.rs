//! Reads the rulings of a test, and checks that each points at a reading.

use crate::told;
use crate::walker::{Field, Table};
use crate::wording::{nearest, shown, shown_list};
use crate::{Cell, Readings, Ruling};

/// A ruling with the fields that a message on it points at.
pub(super) struct ReadRuling<'t> {
    pub(super) ruling: Ruling,
    row: Field<'t>,
    column: Field<'t>,
}

/// Reads every `[[ruling]]`.
pub(super) fn rulings<'t>(root: &Table<'t>) -> Vec<ReadRuling<'t>> {
    root.tables("ruling", "[[ruling]]")
        .iter()
        .filter_map(ruling)
        .collect()
}

fn ruling<'t>(table: &Table<'t>) -> Option<ReadRuling<'t>> {
    let row_field = table.require("row", "7");
    let column_field = table.require("column", "\"power\"");
    let say = table
        .require("say", "\"confirmed\"")
        .and_then(|field| field.word());
    let row = row_field.and_then(|field| field.whole(1, u32::MAX));
    let column = column_field.and_then(|field| field.name());
    table.finish();
    let ruling = Ruling {
        row: usize::try_from(row?).ok()?,
        column: column?,
        say: say?,
    };
    Some(ReadRuling {
        ruling,
        row: row_field?,
        column: column_field?,
    })
}

/// Reports every ruling that points at no reading.
pub(super) fn check(rulings: &[ReadRuling<'_>], readings: &Readings) {
    for read in rulings {
        check_one(read, readings);
    }
}

fn check_one(read: &ReadRuling<'_>, readings: &Readings) {
    let Some(row) = readings.rows.iter().find(|row| row.line == read.ruling.row) else {
        let lines = match (readings.rows.first(), readings.rows.last()) {
            (Some(first), Some(last)) => told!(
                "the line of a row of readings, {first} to {last}",
                first = first.line,
                last = last.line
            ),
            _ => told!("the line of a row of readings, and there are none"),
        };
        let is_inline = readings.columns.iter().any(|column| column.unit.is_none());
        let hint = if is_inline {
            told!("it is the line of the [[step]] in this file")
        } else {
            told!("the headings are line 1 of the file of readings")
        };
        read.row.refuse(lines, Some(hint));
        return;
    };
    let index = readings
        .columns
        .iter()
        .position(|column| column.is_named(&read.ruling.column));
    let Some(index) = index else {
        let names: Vec<String> = readings.columns.iter().map(crate::Column::name).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let hint = nearest(&read.ruling.column, &names)
            .map(|near| told!("write \"{near}\"", near = shown(near)));
        read.column.refuse(
            told!(
                "a column of the readings: {names}",
                names = shown_list(&names)
            ),
            hint,
        );
        return;
    };
    if matches!(row.cells.get(index), None | Some(Cell::Empty)) {
        let sentence = told!(
            "nothing was read there in row {row}; expected a cell with a reading",
            row = row.line
        );
        read.column.report(sentence, None);
    }
}
