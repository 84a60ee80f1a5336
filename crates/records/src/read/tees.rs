//! Reads the tees and wyes in which lines meet.

use super::lines::Lines;
use super::site::{Placed, report_repeats};
use crate::told;
use crate::unit::Dimension;
use crate::values::Range;
use crate::walker::{Field, Table};
use crate::wording::{nearest, shown, shown_list};
use crate::{JoiningTee, PUMP_LEG};

/// The ends at which the pump is a leg too.
const PUMP_ENDS: [&str; 2] = ["pump inlet", "pump outlet"];

/// Reads every `[[tee]]`.
pub(super) fn tees(root: &Table<'_>, lines: &Lines) -> Vec<JoiningTee> {
    let mut read = Vec::new();
    let mut places: Vec<Placed> = Vec::new();
    for table in root.tables("tee", "[[tee]]") {
        let at = table.require("at", "\"pad outlet\"");
        places.extend(at.and_then(|field| Some((field.name()?, field.at))));
        read.extend(tee(&table, at, lines));
    }
    report_repeats(root, "at", &places);
    read
}

fn tee(table: &Table<'_>, at: Option<Field<'_>>, lines: &Lines) -> Option<JoiningTee> {
    let run = table
        .require("run", "[\"equipment pad\", \"return 1\"]")
        .and_then(|field| field.pair("[\"equipment pad\", \"return 1\"]"));
    let branch = table.require("branch", "\"return 2\"");
    let shape = table.word("shape");
    let bore = |key| table.quantity(key, Dimension::Length, Range::AboveZero);
    let (run_bore, branch_bore) = (bore("run_bore"), bore("branch_bore"));
    table.finish();
    let (at, [first, second], branch) = (at?, run?, branch?);
    let legs = [first, second, branch];
    let end = at.name()?;
    let [Some(first), Some(second), Some(branch)] = legs.map(|leg| leg.name()) else {
        return None;
    };
    let named = [first, second, branch];
    if !meet(&at, &end, (&legs, &named), lines) {
        return None;
    }
    let [first, second, branch] = named;
    Some(JoiningTee {
        at: end,
        run: [first, second],
        branch,
        shape,
        run_bore,
        branch_bore,
    })
}

/// Whether just these three meet there; says what is wrong where they do not.
fn meet(
    at: &Field<'_>,
    end: &str,
    (legs, named): (&[Field<'_>; 3], &[String; 3]),
    lines: &Lines,
) -> bool {
    let Some(mut there) = lines.meeting_at(end) else {
        // What is wrong with a line is told already.
        return true;
    };
    there.extend(PUMP_ENDS.contains(&end).then_some(PUMP_LEG));
    if there.len() != named.len() {
        let all: Vec<String> = there.iter().map(|name| shown(name)).collect();
        let message = told!(
            "at is {end}, where {lines} meet; expected three lines, or two and the pump",
            end = shown(end),
            lines = all.join(", ")
        );
        let hint = told!("let two tees follow one another, with a [[line]] between them");
        at.problems.add(Some(at.at), message, Some(hint));
        return false;
    }
    for (place, (field, name)) in legs.iter().zip(named).enumerate() {
        if !there.contains(&name.as_str()) || named[..place].contains(name) {
            let hint = nearest(name, &there).map(|near| told!("write \"{near}\"", near));
            field.refuse(
                told!(
                    "what meets there, each once: {names}",
                    names = shown_list(&there)
                ),
                hint,
            );
            return false;
        }
    }
    true
}
