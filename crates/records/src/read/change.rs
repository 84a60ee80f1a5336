//! Reads a change: a small part of a site file, laid over the site, with what it costs.

use super::lines::{self, FIXED_ENDS};
use super::operation::{self, list, program_block};
use super::{parts, pump, site};
use crate::told;
use crate::told::later;
use crate::unit::Dimension;
use crate::values::Range;
use crate::walker::{Field, Table};
use crate::wording::{nearest, shown, shown_list};
use crate::{Change, Problem, Quantity, Site, Source, document};

/// What is bought for a pad lasts so long.
const LIFE: Range = Range::Between {
    low: 365.0 * 86_400.0,
    high: 100.0 * 365.0 * 86_400.0,
    words: later!("1 year to 100 years"),
};
/// The most parts of a line that are counted.
const MOST_PARTS: u32 = 500;

/// Reads a change of a site, or everything that is wrong in it.
///
/// # Errors
/// Problems with their places, among them lines and parts that the site does not have.
pub fn read_change(source: &Source, site: &Site) -> Result<Change, Vec<Problem>> {
    document::read_any(source, |root| change(root, site))
}

/// Reads several changes of a site, which have a name of their own each, or everything that is wrong in them.
///
/// # Errors
/// As [`read_change`], and changes of one name.
pub fn read_changes(sources: &[Source], site: &Site) -> Result<Vec<Change>, Vec<Problem>> {
    let mut problems: Vec<Problem> = Vec::new();
    let mut changes: Vec<Change> = Vec::new();
    for source in sources {
        match read_change(source, site) {
            Err(found) => problems.extend(found),
            Ok(change) if changes.iter().any(|other| other.name == change.name) => {
                problems.push(Problem {
                    file: source.name.clone(),
                    line: 0,
                    column: 0,
                    message: told!(
                        "another change is called \"{name}\" too; expected a name of its own for each",
                        name = change.name
                    ),
                    hint: None,
                });
            }
            Ok(change) => changes.push(change),
        }
    }
    if problems.is_empty() {
        Ok(changes)
    } else {
        Err(problems)
    }
}

fn change(root: &Table<'_>, site: &Site) -> Option<Change> {
    let name = root
        .require("name", "\"Larger returns\"")
        .and_then(|field| field.name());
    let capital = root.quantity("capital", Dimension::Money, Range::ZeroOrMore);
    let life = root.quantity("life", Dimension::Time, LIFE);
    let maintenance = root.quantity("maintenance", Dimension::Charge, Range::ZeroOrMore);
    let cleans_filter = root.get("filter").and_then(|field| clean(&field));
    let program = list(root, "program", program_block);
    let mut changed = site.clone();
    if let Some(pump) = root.get("pump").and_then(|field| pump::pump(&field)) {
        changed.pump = pump;
    }
    for table in root.tables("line", "[[line]]") {
        put_line(&table, &mut changed);
    }
    for table in root.tables("part", "[[part]]") {
        put_part(&table, &mut changed);
    }
    put_settings(root, &mut changed);
    root.finish();
    let change = Change {
        name: name?,
        capital,
        life,
        maintenance,
        cleans_filter: cleans_filter.unwrap_or(false),
        program,
        site: changed,
    };
    check_currencies(root, &change, site);
    check_lasts(root, &change);
    let changes_nothing =
        change.site == *site && !change.cleans_filter && change.program.is_empty();
    if changes_nothing && root.problems.is_empty() {
        let hint = told!(
            "write [[part]] with line, part and is, a [[line]], a [pump], filter = \"clean\", a program, or what changes below [operation], [limits] or [water]"
        );
        root.report(
            told!("the file changes nothing; expected a change"),
            Some(hint),
        );
    }
    Some(change)
}

/// Lays what is stated of water, limits and operation over the site, key by key.
fn put_settings(root: &Table<'_>, site: &mut Site) {
    let table = |key, label| {
        root.get(key)
            .and_then(|field: Field<'_>| field.table(label))
    };
    if let Some(table) = table("water", "[water]") {
        site.water = site::water(&table, &site.water);
    }
    if let Some(table) = table("limits", "[limits]") {
        site.limits = site::limits(&table, &site.limits);
    }
    if let Some(field) = root.get("operation") {
        let lines = lines::Lines::of(site);
        let stated = operation::operation(&field, &lines, &site.operation);
        site.operation = stated.unwrap_or_default();
    }
}

fn clean(field: &Field<'_>) -> Option<bool> {
    let is_clean = field.text(told!("\"clean\""))?.trim() == "clean";
    if !is_clean {
        field.refuse(told!("\"clean\""), None);
    }
    Some(is_clean)
}

/// Adds a line, or puts it in the place of the one of its name.
fn put_line(table: &Table<'_>, site: &mut Site) {
    let Some(line) = lines::one_line(table) else {
        return;
    };
    let ends = site.lines.iter().flat_map(|line| [&line.from, &line.to]);
    let bodies = site.bodies.iter().map(|body| &body.name);
    let known: Vec<&str> = FIXED_ENDS
        .into_iter()
        .chain(bodies.chain(ends).map(String::as_str))
        .collect();
    for (key, end) in [("from", &line.from), ("to", &line.to)] {
        let meets = known.contains(&end.as_str());
        if let Some(field) = table.get(key).filter(|_| !meets) {
            let hint = nearest(end, &known).map(|near| told!("write \"{near}\"", near));
            field.refuse(told!("an end that the site has"), hint);
        }
    }
    match site.lines.iter_mut().find(|known| known.name == line.name) {
        Some(known) => *known = line,
        None => site.lines.push(line),
    }
}

/// Puts a part in the place of another.
fn put_part(table: &Table<'_>, site: &mut Site) {
    let line = table.require("line", "\"return 1\"");
    let place = table.require("part", "1");
    let is = table.require("is", "{ pipe = \"2 in\", length = \"52 ft\" }");
    let part = is.and_then(|field| parts::part(&field));
    let place = place.and_then(|field| Some((field, field.whole(1, MOST_PARTS)?)));
    table.finish();
    let Some((field, name)) = line.and_then(|field| Some((field, field.name()?))) else {
        return;
    };
    let names: Vec<String> = site.lines.iter().map(|line| line.name.clone()).collect();
    let Some(line) = site.lines.iter_mut().find(|known| known.name == name) else {
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let hint = nearest(&name, &names).map(|near| told!("write \"{near}\"", near));
        field.refuse(
            told!(
                "the name of a line of the site: {names}",
                names = shown_list(&names)
            ),
            hint,
        );
        return;
    };
    let Some((field, place)) = place else {
        return;
    };
    let count = line.parts.len();
    match (line.parts.get_mut(place as usize - 1), part) {
        (Some(known), Some(part)) => *known = part,
        (None, _) => field.refuse(
            told!(
                "1 to {count}, as many parts as {line} has",
                count,
                line = shown(&line.name)
            ),
            Some(told!(
                "parts are counted from 1, as the site file lists them"
            )),
        ),
        (Some(_), None) => {}
    }
}

/// Reports sums in another currency than those of the site, or than one another.
fn check_currencies(root: &Table<'_>, change: &Change, site: &Site) {
    let of_sum =
        |sum: &Option<Quantity>| sum.as_ref().and_then(Quantity::currency).map(str::to_owned);
    let stated = [
        (
            "operation",
            change.site.operation.currency().map(str::to_owned),
        ),
        ("capital", of_sum(&change.capital)),
        ("maintenance", of_sum(&change.maintenance)),
    ];
    let mut known = site.operation.currency().map(str::to_owned);
    for (key, currency) in stated {
        let Some(currency) = currency else { continue };
        match &known {
            Some(known) if *known != currency => report_currency(root, key, (known, &currency)),
            _ => known = Some(currency),
        }
    }
}

fn report_currency(root: &Table<'_>, key: &'static str, (known, other): (&str, &str)) {
    let Some(field) = root.get(key) else { return };
    let known = shown(known);
    if key == "operation" {
        let message = told!(
            "the prices of [operation] are in {other}, and those of the site in {known}; expected one currency",
            other = shown(other),
            known
        );
        root.problems.add(Some(field.at), message, None);
    } else {
        field.refuse(
            told!("a sum in {known}, as the other sums are", known),
            None,
        );
    }
}

/// Reports a cost of which it is not said how long it lasts.
fn check_lasts(root: &Table<'_>, change: &Change) {
    if change.capital.is_some() && change.life.is_none() {
        let field = root.get("capital");
        root.problems.add(
            field.map(|field| field.at),
            told!("capital is stated without a life; expected life = \"15 years\""),
            None,
        );
    }
}
