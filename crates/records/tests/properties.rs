//! Reading, writing and reading again is the identity; no text makes a reader fail otherwise than by problems.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod generated;

use generated::{formula, readings, site, test};
use proptest::prelude::*;
use records::{
    Bundle, Problem, Readings, Site, Source, Test, TestFiles, check_test, read_bundle, read_change,
    read_readings, read_site, read_test, readings_file, write_bundle, write_change, write_readings,
    write_site, write_test,
};

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

fn told(problems: &[Problem]) -> String {
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    lines.join(
        "
",
    ) + "
"
}

/// Writes a test and reads it back.
fn reread(test: &Test) -> Result<Test, TestCaseError> {
    let readings = test
        .head
        .readings
        .as_ref()
        .map(|name| source(name, &write_readings(&test.readings)));
    let written = write_test(test);
    read_test(&source("morning.toml", &written), readings.as_ref())
        .map_err(|problems| TestCaseError::fail(format!("{}{written}", told(&problems))))
}

proptest! {
    #[test]
    fn sites_survive_writing(site in site()) {
        let written = write_site(&site);
        match read_site(&source("site.toml", &written)) {
            Ok(read) => prop_assert_eq!(read, site),
            Err(problems) => prop_assert!(false, "{}{}", told(&problems), written),
        }
    }

    #[test]
    fn readings_survive_writing(readings in readings()) {
        let written = write_readings(&readings);
        match read_readings(&source("readings.csv", &written)) {
            Ok(read) => prop_assert_eq!(read, readings),
            Err(problems) => prop_assert!(false, "{}{}", told(&problems), written),
        }
    }

    #[test]
    fn tests_survive_writing(test in test()) {
        let first = reread(&test)?;
        if test.head.readings.is_some() {
            prop_assert_eq!(&first, &test);
        }
        // Steps typed inline find their lines and the order of their columns by the first reading.
        prop_assert_eq!(reread(&first)?, first);
    }
}

/// The text of a change that states what another site states of its pump, its water, its limits and its operation.
fn change_text(of: &Site) -> String {
    let mut of = of.clone();
    for task in &mut of.operation.tasks {
        // Its lines are not those of the site that is changed.
        task.closed.clear();
    }
    let site: toml::Table = write_site(&of).parse().unwrap();
    let mut change: toml::Table = "format = 1\nname = \"x\"\nfilter = \"clean\""
        .parse()
        .unwrap();
    for key in ["pump", "water", "limits", "operation"] {
        change.extend(site.get(key).map(|value| (key.to_owned(), value.clone())));
    }
    change.to_string()
}

proptest! {
    #[test]
    fn changes_survive_writing(today in site(), of in site()) {
        let text = change_text(&of);
        let change = match read_change(&source("change.toml", &text), &today) {
            Ok(change) => change,
            Err(problems) => return Err(TestCaseError::fail(format!("{}{text}", told(&problems)))),
        };
        // What the text states stands; what it does not state is that of the site.
        prop_assert_eq!(&change.site.pump, &of.pump);
        prop_assert_eq!(&change.site.water.volume, &of.water.volume.or(today.water.volume.clone()));
        prop_assert_eq!(&change.site.limits.rules, &of.limits.rules.or(today.limits.rules.clone()));
        prop_assert_eq!(&change.site.lines, &today.lines);
        let written = write_change(&change, &today);
        match read_change(&source("change.toml", &written), &today) {
            Ok(read) => prop_assert_eq!(read, change),
            Err(problems) => prop_assert!(false, "{}{}", told(&problems), written),
        }
    }
}

/// The readings of one row and one flow meter, with a note.
fn noted(meter: &str, note: &str) -> Readings {
    let text = format!(
        "speed [rpm],\"flow {}x [gpm]\",note\n600,12,\n",
        meter.replace('"', "\"\"")
    );
    let mut readings = read_readings(&source("readings.csv", &text)).unwrap();
    note.clone_into(&mut readings.rows[0].note);
    readings
}

/// Whether a spreadsheet that cuts at any separator, and minds no quotes, would find a formula.
fn holds_a_formula(text: &str) -> bool {
    text.split([',', ';', '\t', '\n', '\r']).any(|cell| {
        let cell = cell.trim_matches(['"', ' ']);
        let number = cell.trim_start_matches(['+', '-']);
        cell.starts_with(['=', '+', '-', '@', '＝']) && number.parse::<f64>().is_err()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn no_formula_is_written(note in formula(), meter in "[a-z]( ?[,;] ?[=+@'\"-]{0,3}[a-z]){1,2}") {
        let readings = noted(&meter, &note);
        let written = write_readings(&readings);
        prop_assert!(!holds_a_formula(&written), "{}", written);
        prop_assert_eq!(read_readings(&source("readings.csv", &written)), Ok(readings));
    }
}

/// A bundle of valid sites and tests, with readings of any text.
fn bundle() -> impl Strategy<Value = Bundle> {
    let tests = proptest::collection::vec((test(), any::<String>()), 0..5);
    (site(), tests).prop_map(|(site, tests)| Bundle {
        site: source("site.toml", &write_site(&site)),
        tests: tests
            .into_iter()
            .enumerate()
            .map(|(index, (test, text))| files(index, test, &text))
            .collect(),
        changes: Vec::new(),
    })
}

fn files(index: usize, mut test: Test, text: &str) -> TestFiles {
    let name = format!("test {index}.csv");
    let readings = test.head.readings.is_some().then(|| {
        let text = text.replace('\0', "0");
        source(&name, text.trim_start_matches('\u{feff}'))
    });
    test.head.readings = readings.as_ref().map(|_| name);
    TestFiles {
        test: source(&format!("test {index}.toml"), &write_test(&test)),
        readings,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn bundles_survive_writing(bundle in bundle()) {
        let written = write_bundle(&bundle).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert_eq!(read_bundle(&written), Ok(bundle.clone()));
        let mut turned = bundle;
        turned.tests.reverse();
        prop_assert_eq!(write_bundle(&turned), Ok(written));
    }

    #[test]
    fn broken_bundles_are_read_or_refused(
        bundle in bundle(),
        changes in proptest::collection::vec((any::<proptest::sample::Index>(), any::<u8>()), 1..5),
    ) {
        let mut bytes = write_bundle(&bundle).map_err(|error| TestCaseError::fail(error.to_string()))?;
        for (at, byte) in changes {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        match read_bundle(&bytes) {
            // What is not covered by a checksum, such as a date, may be changed unseen; a text may not.
            Ok(read) => prop_assert_eq!(read, bundle),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }
}

const FIXTURES: [&str; 5] = [
    include_str!("contract/site.toml"),
    include_str!("contract/parts.toml"),
    include_str!("contract/test.toml"),
    include_str!("contract/2026-05-16.csv"),
    "format = 1\n[[step]]\nspeed = \"600 rpm\"\nflow = { A = \"10 gpm\", B = \"<9 gpm\" }\nnote = \"x\"\n\
     [[ruling]]\nrow = 2\ncolumn = \"flow A\"\nsay = \"drop\"\n",
];

/// Cuts a range of characters out and puts another text in its place.
fn mutated(text: &str, at: usize, cut: usize, put: &str) -> String {
    let characters: Vec<char> = text.chars().collect();
    let at = at % (characters.len() + 1);
    let after = (at + cut).min(characters.len());
    characters[..at]
        .iter()
        .chain(&put.chars().collect::<Vec<_>>())
        .chain(&characters[after..])
        .collect()
}

/// Every reader on one text, and what it must hold of each outcome.
fn read_in_every_way(text: &str) -> Result<(), TestCaseError> {
    let file = source("any.toml", text);
    let readings = source("2026-05-16.csv", FIXTURES[3]);
    match read_site(&file) {
        Ok(site) => prop_assert_eq!(
            read_site(&source("a", &write_site(&site))).map_err(|problems| told(&problems)),
            Ok(site)
        ),
        Err(problems) => are_placed(&problems, text)?,
    }
    match read_readings(&file) {
        Ok(table) => prop_assert_eq!(
            read_readings(&source("a", &write_readings(&table)))
                .map_err(|problems| told(&problems)),
            Ok(table)
        ),
        Err(problems) => are_placed(&problems, text)?,
    }
    let _ = readings_file(&file);
    for readings in [None, Some(&readings), Some(&file)] {
        match read_test(&file, readings) {
            Ok(test) => {
                let site = read_site(&source("site.toml", FIXTURES[0])).unwrap();
                let _ = check_test(&site, &file, readings, &test);
            }
            Err(problems) => prop_assert!(!problems.is_empty()),
        }
    }
    Ok(())
}

/// Problems exist, lie within the text, come in order, and are one line each.
fn are_placed(problems: &[Problem], text: &str) -> Result<(), TestCaseError> {
    prop_assert!(!problems.is_empty());
    let lines = text.split(['\n', '\r']).count();
    for problem in problems {
        prop_assert!(problem.line <= lines, "{problem}");
        prop_assert!(
            !problem.message.to_string().chars().any(char::is_control),
            "{problem}"
        );
    }
    let placed: Vec<_> = problems
        .iter()
        .filter(|problem| problem.line > 0)
        .map(|problem| (problem.line, problem.column))
        .collect();
    prop_assert!(placed.is_sorted(), "{}", told(problems));
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn any_text_is_read_or_refused(text in any::<String>(), lines in "([a-z]{0,5}[\\[\\]{}=\",;<\n\t .0-9]{0,3}){0,20}") {
        read_in_every_way(&text)?;
        read_in_every_way(&lines)?;
    }

    #[test]
    fn broken_files_are_read_or_refused(
        fixture in proptest::sample::select(FIXTURES.to_vec()),
        mutations in proptest::collection::vec((any::<usize>(), 0..12_usize, "[a-z0-9\\[\\]{}=\"',;<\n\r\t .µ\u{202e}-]{0,4}"), 1..4),
    ) {
        let text = mutations.iter().fold(fixture.to_owned(), |text, (at, cut, put)| mutated(&text, *at, *cut, put));
        read_in_every_way(&text)?;
    }
}
