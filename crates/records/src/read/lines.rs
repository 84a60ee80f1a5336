//! Reads the lines of the circuit, and checks that their ends meet something.

use super::meters::ReadMeter;
use super::parts;
use super::site::{Placed, report_repeats};
use crate::told;
use crate::walker::{Field, Table};
use crate::wording::{nearest, shown, shown_list};
use crate::{Line, Site};
use std::collections::BTreeMap;

/// The ends that every site has.
pub(super) const FIXED_ENDS: [&str; 3] = ["pool", "pump inlet", "pump outlet"];

/// The lines that could be read, and what is known of all.
pub(super) struct Lines {
    pub(super) read: Vec<Line>,
    names: Vec<Placed>,
    /// Every line's name and ends could be read.
    complete: bool,
}

impl Lines {
    /// The lines of a site that was read before.
    pub(super) fn of(site: &Site) -> Self {
        let names = site.lines.iter().map(|line| (line.name.clone(), 0));
        Self {
            read: site.lines.clone(),
            names: names.collect(),
            complete: true,
        }
    }

    /// The names of the lines that end somewhere; `None` where not every line could be read.
    pub(super) fn meeting_at(&self, end: &str) -> Option<Vec<&str>> {
        let meet = |line: &&Line| line.from == end || line.to == end;
        let names = self.read.iter().filter(meet).map(|line| line.name.as_str());
        (self.complete && self.read.len() == self.names.len()).then(|| names.collect())
    }

    /// Reads a list of names of lines, and refuses those that no line has.
    pub(super) fn names_of(&self, field: &Field<'_>) -> Vec<String> {
        let known: Vec<&str> = self.names.iter().map(|(name, _)| name.as_str()).collect();
        let mut names = Vec::new();
        for item in field.items() {
            let Some(name) = item.name() else { continue };
            if self.complete && !known.contains(&name.as_str()) {
                let hint = nearest(&name, &known).map(|near| told!("write \"{near}\"", near));
                item.refuse(
                    told!("the name of a line: {names}", names = shown_list(&known)),
                    hint,
                );
            }
            names.push(name);
        }
        names
    }
}

/// Reads every `[[line]]`.
pub(super) fn lines(root: &Table<'_>, bodies: &[Placed]) -> Lines {
    let mut read = Lines {
        read: Vec::new(),
        names: Vec::new(),
        complete: true,
    };
    let mut ends: Vec<(Placed, Field<'_>)> = Vec::new();
    for table in root.tables("line", "[[line]]") {
        let name = placed(table.require("name", "\"return 1\""));
        let from = table.require("from", "\"pool\"");
        let to = table.require("to", "\"pump inlet\"");
        let [from_name, to_name] = [from, to].map(placed);
        read.complete &= name.is_some() && from_name.is_some() && to_name.is_some();
        read.names.extend(name.clone());
        ends.extend(
            from_name
                .clone()
                .zip(from)
                .into_iter()
                .chain(to_name.clone().zip(to)),
        );
        read.read.extend(line(&table, [name, from_name, to_name]));
    }
    report_repeats(root, "name", &read.names);
    if read.complete {
        report_dangling(&ends, bodies);
    }
    read
}

/// Reads one line, of which nobody has checked the ends.
pub(super) fn one_line(table: &Table<'_>) -> Option<Line> {
    let name = placed(table.require("name", "\"return 2\""));
    let from = placed(table.require("from", "\"pool\""));
    let to = placed(table.require("to", "\"pump inlet\""));
    line(table, [name, from, to])
}

fn placed(field: Option<Field<'_>>) -> Option<Placed> {
    field.and_then(|field| Some((field.name()?, field.at)))
}

fn line(table: &Table<'_>, [name, from, to]: [Option<Placed>; 3]) -> Option<Line> {
    let unknown = table
        .get("unknown")
        .and_then(|field| field.yes_no())
        .unwrap_or(false);
    let parts = table
        .get("parts")
        .map(|field| parts::parts(&field))
        .unwrap_or_default();
    table.finish();
    let ((name, _), (from, _), (to, at)) = (name?, from?, to?);
    if from == to {
        let message = told!(
            "line {name} goes from {end} to the same; expected two ends",
            name = shown(&name),
            end = shown(&from)
        );
        table.problems.add(Some(at), message, None);
    }
    Some(Line {
        name,
        from,
        to,
        unknown,
        parts,
    })
}

/// Reports every end that no other line meets and that is no body of water and no end of the pump.
fn report_dangling(ends: &[(Placed, Field<'_>)], bodies: &[Placed]) {
    let mut met: BTreeMap<&str, usize> = BTreeMap::new();
    for ((end, _), _) in ends {
        *met.entry(end).or_default() += 1;
    }
    let bodies = bodies.iter().map(|(body, _)| body.as_str());
    let known: Vec<&str> = FIXED_ENDS.into_iter().chain(bodies).collect();
    for ((end, at), field) in ends {
        if known.contains(&end.as_str()) || met.get(end.as_str()).is_some_and(|meets| *meets > 1) {
            continue;
        }
        let others = met.keys().copied().filter(|other| *other != end);
        let words: Vec<&str> = known.iter().copied().chain(others).collect();
        let hint = nearest(end, &words).map(|near| told!("write \"{near}\"", near));
        let message = told!(
            "{field} is {end}, where no other line ends; expected pool, a [[body]], pump inlet, pump outlet or the end of another line",
            field = field.name,
            end = shown(end)
        );
        field.problems.add(Some(*at), message, hint);
    }
}

/// Reports every meter that says it sits on a line that there is not.
pub(super) fn check_meters(lines: &Lines, meters: &[ReadMeter<'_>]) {
    let names: Vec<&str> = lines.names.iter().map(|(name, _)| name.as_str()).collect();
    if !lines.complete {
        return;
    }
    for read in meters {
        let on = read.meter.as_ref().and_then(|meter| meter.on.as_deref());
        let Some((field, on)) = read.on.zip(on.filter(|on| !names.contains(on))) else {
            continue;
        };
        let hint = nearest(on, &names).map(|near| told!("write \"{near}\"", near));
        field.refuse(
            told!("the name of a line: {names}", names = shown_list(&names)),
            hint,
        );
    }
}
