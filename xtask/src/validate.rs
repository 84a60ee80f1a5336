//! The tables of validation, written from what the validation tests print: a line per source in the README, and one per
//! quantity in VALIDATION.md.

use std::fs;
use std::path::Path;
use std::process::Command;

use crate::error::Error;
use crate::project::Project;
use crate::step;

const BEGIN: &str = "<!-- validation:begin (written by `cargo xtask validate`) -->";
const END: &str = "<!-- validation:end -->";

/// What is done with a table that differs from the one in the README.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mode {
    /// It is written.
    Write,
    /// It is a failure.
    Check,
}

/// What one tally printed.
#[derive(Debug, PartialEq)]
struct Row {
    /// The folder below `validation/`, topic and source.
    source: String,
    compared: String,
    cases: u32,
    worst: f64,
    /// The most that the worst may be.
    allowed: f64,
}

/// Runs the validation tests and brings the README's table up to what they print.
pub(crate) fn run(project: &Project, mode: Mode) -> Result<(), Error> {
    let mut tests = Command::new("cargo");
    tests.current_dir(project.root()).args([
        "test",
        "--quiet",
        "--package",
        "hydraulics",
        "--package",
        "metrology",
        "--package",
        "operation",
        "--test",
        "validation",
        "--",
        "--nocapture",
        "--test-threads=1",
    ]);
    let printed = step::output(&mut tests)?;
    let mut rows: Vec<Row> = printed.lines().filter_map(row).collect();
    rows.sort_by(|a, b| (&a.source, &a.compared).cmp(&(&b.source, &b.compared)));
    if rows.is_empty() {
        return Err(failed("no validation test printed anything"));
    }
    let tables = [
        ("README.md", by_source(project.root(), &rows)),
        ("VALIDATION.md", by_quantity(project.root(), &rows)),
    ];
    for (page, table) in tables {
        bring_up(&project.root().join(page), &table, mode)?;
    }
    Ok(())
}

fn failed(status: impl Into<String>) -> Error {
    Error::Failed {
        step: "validate".to_owned(),
        status: status.into(),
    }
}

/// Brings the table of one page up to date, or checks that it is.
fn bring_up(path: &Path, table: &str, mode: Mode) -> Result<(), Error> {
    let file = |source| Error::File {
        path: path.to_owned(),
        source,
    };
    let page = fs::read_to_string(path).map_err(file)?;
    let name = path.display();
    let wanted = replaced(&page, table)
        .ok_or_else(|| failed(format!("{name} has no place for the table")))?;
    match mode {
        Mode::Write => fs::write(path, wanted).map_err(file),
        Mode::Check if wanted == page => Ok(()),
        Mode::Check => Err(failed(format!(
            "the table in {name} is not what the tests print; run `cargo xtask validate`"
        ))),
    }
}

/// Reads a line such as `friction/colebrook-mpmath: Colebrook: 126 cases, worst 5.41e-16 of 1e-12 at Re 4000`.
fn row(line: &str) -> Option<Row> {
    let (source, rest) = line.trim_start_matches('.').split_once(": ")?;
    let (compared, rest) = rest.rsplit_once(": ")?;
    let (cases, rest) = rest.split_once(" cases, worst ")?;
    let (worst, _) = rest.split_once(" at ")?;
    let (worst, allowed) = worst.split_once(" of ")?;
    let is_folder = source
        .chars()
        .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || matches!(c, '-' | '/'));
    is_folder.then_some(())?;
    Some(Row {
        source: source.to_owned(),
        compared: compared.to_owned(),
        cases: cases.parse().ok()?,
        worst: worst.parse().ok().filter(|worst: &f64| worst.is_finite())?,
        allowed: allowed.parse().ok()?,
    })
}

/// Rounds a deviation to one digit: the last bits differ from machine to machine, the first does not.
fn rounded(worst: f64) -> String {
    if worst == 0.0 {
        return "exact".to_owned();
    }
    if worst < 1e-15 {
        return "< 1e-15".to_owned();
    }
    // A share of a tolerance, or a count of standard errors.
    if worst >= 0.05 {
        return format!("{worst:.1}");
    }
    format!("{worst:.0e}")
}

/// Writes the long table: a line per quantity.
fn by_quantity(root: &Path, rows: &[Row]) -> String {
    let mut text = String::from(
        "| topic | compared | against | cases | worst | allowed |\n| --- | --- | --- | --- | --- | --- |\n",
    );
    for row in rows {
        let cells = [
            topic(row),
            &row.compared,
            &title(&root.join("validation").join(&row.source)),
            &row.cases.to_string(),
            &rounded(row.worst),
            &rounded(row.allowed),
        ];
        text.push_str(&line(&cells));
    }
    text
}

/// Writes the short table: a line per source, with how much of its tolerance the worst case takes.
fn by_source(root: &Path, rows: &[Row]) -> String {
    let mut text = String::from(
        "| topic | against | cases | worst, of what is allowed |\n| --- | --- | --- | --- |\n",
    );
    for of_source in rows.chunk_by(|a, b| a.source == b.source) {
        let Some(first) = of_source.first() else {
            continue;
        };
        let cases: u32 = of_source.iter().map(|row| row.cases).sum();
        let shares = of_source.iter().map(|row| row.worst / row.allowed);
        let cells = [
            topic(first),
            &title(&root.join("validation").join(&first.source)),
            &cases.to_string(),
            &percent(shares.fold(0.0, f64::max)),
        ];
        text.push_str(&line(&cells));
    }
    text
}

/// Writes a share in whole per cent; rounding errors move the digits behind it from machine to machine.
fn percent(share: f64) -> String {
    if share < 0.01 {
        "< 1 %".to_owned()
    } else {
        format!("{:.0} %", 100.0 * share)
    }
}

fn topic(row: &Row) -> &str {
    row.source
        .split_once('/')
        .map_or(&row.source, |(topic, _)| topic)
}

fn line(cells: &[&str]) -> String {
    ["| ", &cells.join(" | "), " |\n"].concat()
}

/// Reads the title of the page that tells where a folder's values come from.
fn title(folder: &Path) -> String {
    let page = fs::read_to_string(folder.join("SOURCE.md")).unwrap_or_default();
    let first = page.lines().next().unwrap_or("source not told");
    first.trim_start_matches("# ").to_owned()
}

/// Puts the table between its marks; `None` where there are none.
fn replaced(readme: &str, table: &str) -> Option<String> {
    let (before, rest) = readme.split_once(BEGIN)?;
    let (_, after) = rest.split_once(END)?;
    Some(format!("{before}{BEGIN}\n\n{table}\n{END}{after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tally_is_read_and_other_lines_are_not() {
        let read =
            row("..hazen/fluids: Darcy-Weisbach head: 80 cases, worst 7.43e-6 of 1e-5 at Sch 40, 3.0 in, 10 gpm")
                .unwrap();
        assert_eq!(
            (read.source.as_str(), read.compared.as_str()),
            ("hazen/fluids", "Darcy-Weisbach head")
        );
        assert_eq!((read.cases, rounded(read.worst).as_str()), (80, "7e-6"));
        assert_eq!(percent(read.worst / read.allowed), "74 %");
        assert_eq!(row("thread 'x' panicked at a.rs:1:2:"), None);
        assert_eq!(row("numbers: 1 cases, worst NaN of 1e-1 at one"), None);
    }

    #[test]
    fn the_table_stands_between_its_marks() {
        let readme = format!("a\n{BEGIN}\nold\n{END}\nb\n");
        let written = replaced(&readme, "new\n").unwrap();
        assert_eq!(written, format!("a\n{BEGIN}\n\nnew\n\n{END}\nb\n"));
        assert_eq!(replaced(&written, "new\n").unwrap(), written);
        assert_eq!(replaced("no marks", "new"), None);
    }
}
