//! The example files of the contract, word for word, and one of every kind of part.

#![expect(clippy::panic, reason = "a test fails by panicking")]

use records::{
    Cell, Measured, MeterKind, PartKind, Problem, Readings, Site, Source, Test, check_test,
    read_readings, read_site, read_test, readings_file, write_readings, write_site, write_test,
};

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

fn site(text: &str) -> Site {
    read_site(&source("site.toml", text)).unwrap_or_else(|problems| panic!("{}", told(&problems)))
}

fn test(text: &str, readings: Option<&str>) -> Test {
    let readings = readings.map(|text| source("2026-05-16.csv", text));
    read_test(&source("morning.toml", text), readings.as_ref())
        .unwrap_or_else(|problems| panic!("{}", told(&problems)))
}

fn told(problems: &[Problem]) -> String {
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    lines.join(
        "
",
    ) + "
"
}

const SITE: &str = include_str!("contract/site.toml");
const PARTS: &str = include_str!("contract/parts.toml");
const TEST: &str = include_str!("contract/test.toml");
const READINGS: &str = include_str!("contract/2026-05-16.csv");

#[test]
fn the_site_of_the_contract_is_read() {
    let site = site(SITE);
    assert_eq!(site.name, "Larkspur Lane");
    assert_eq!(site.meters[0].kind, Some(MeterKind::Paddle));
    assert_eq!(site.lines.len(), 3);
    assert_eq!(site.lines[0].parts[2].count, 7);
    assert!(
        matches!(&site.lines[1].parts[0].kind, PartKind::Filter(filter) if filter.clean.is_some())
    );
    assert_eq!(site.operation.tariff[2].to.minutes, 1440);
    // NIST SP 811, B.8: a foot is 0.3048 m exactly; one rounding.
    assert!((site.pump.height.as_ref().unwrap().si - 0.4572).abs() < 1e-15);
}

#[test]
fn every_kind_of_part_is_read() {
    let kinds = site(PARTS)
        .lines
        .iter()
        .flat_map(|line| &line.parts)
        .count();
    assert_eq!(kinds, 18);
}

#[test]
fn sites_survive_writing() {
    for text in [SITE, PARTS] {
        let first = site(text);
        assert_eq!(site(&write_site(&first)), first);
    }
}

#[test]
fn the_test_of_the_contract_is_read() {
    let name = readings_file(&source("morning.toml", TEST)).unwrap();
    assert_eq!(name.as_deref(), Some("2026-05-16.csv"));
    let test = test(TEST, Some(READINGS));
    assert_eq!(test.name, "morning");
    assert_eq!(test.head.date.unwrap().to_string(), "2026-05-16T09:30:00");
    let measured: Vec<Measured> = test
        .readings
        .columns
        .iter()
        .map(|column| column.measured)
        .collect();
    assert_eq!(measured.len(), 9, "the note is no column");
    assert_eq!(test.readings.rows[6].line, 8);
    assert_eq!(test.readings.rows[5].note, "hum, at 2400 rpm only");
    assert!(matches!(&test.readings.rows[1].cells[1], Cell::Below { text, .. } if text == "<5"));
    assert_eq!(test.readings.rows[1].cells[2], Cell::Empty);
}

#[test]
fn tests_survive_writing() {
    let first = test(TEST, Some(READINGS));
    let (head, readings) = (write_test(&first), write_readings(&first.readings));
    assert_eq!(readings, READINGS);
    assert_eq!(test(&head, Some(&readings)), first);
}

#[test]
fn steps_typed_inline_survive_writing_with_their_rulings() {
    let text = "format = 1\n\n[[step]]\nspeed = \"600 rpm\"\nflow = { A = \"10 gpm\", \"B 2\" = \"<9 gpm\" }\n\
        filter_pressure = \"-0.2 psi\"\n[[step]]\nspeed = \"0 rpm\"\npower = \"12 W\"\nnote = \"stand\\nby\"\n\
        [[ruling]]\nrow = 7\ncolumn = \"power\"\nsay = \"drop\"\n";
    let first = test(text, None);
    let headings: Vec<&str> = first
        .readings
        .columns
        .iter()
        .map(|column| column.heading.as_str())
        .collect();
    assert_eq!(
        headings,
        ["speed", "flow A", "flow B 2", "power", "filter pressure"]
    );
    let written = write_test(&first);
    let second = test(&written, None);
    let ruled = second.head.rulings[0].row;
    assert_eq!(second.readings.rows[1].line, ruled, "{written}");
    assert_eq!(
        without_lines(first.readings),
        without_lines(second.readings)
    );
}

fn without_lines(mut readings: Readings) -> Readings {
    readings.rows.iter_mut().for_each(|row| row.line = 0);
    readings
}

#[test]
fn semicolons_tabs_and_blank_lines_are_read() {
    let comma = "speed [rpm],power [W],note\n600,64.5,\"a, b\"\n";
    let semicolon = "\r\nspeed [rpm];power [W];note\r\n\r\n600;64,5;\"a, b\"\r\n;;\r\n";
    let tab = "speed [rpm]\tpower [W]\tnote\n600\t64.5\ta, b";
    let [comma, semicolon, tab] =
        [comma, semicolon, tab].map(|text| read_readings(&source("a.csv", text)).unwrap());
    assert_eq!(comma, tab);
    assert_eq!(semicolon.rows[0].line, 4);
    let written = write_readings(&semicolon);
    assert_eq!(
        read_readings(&source("a.csv", &written)).unwrap(),
        semicolon
    );
}

#[test]
fn the_names_of_a_test_are_held_against_its_site() {
    let (site, test) = (site(SITE), test(TEST, Some(READINGS)));
    let problems = check_test(
        &site,
        &source("morning.toml", TEST),
        Some(&source("2026-05-16.csv", READINGS)),
        &test,
    );
    let told = told(&problems);
    assert_eq!(problems.len(), 2, "{told}");
    assert!(
        told.contains("morning.toml:4:11: closed is return 2"),
        "{told}"
    );
    assert!(
        told.contains("2026-05-16.csv:1:26: flow B names the meter B"),
        "{told}"
    );
}

#[test]
fn a_long_log_is_read_and_one_of_too_many_speeds_is_not() {
    use std::fmt::Write;
    let mut text = "speed [rpm],flow [gpm],power [W]\n".to_owned();
    for row in 0..100_000 {
        writeln!(text, "{},{}.5,{}", 600 + row % 200, row % 60, row % 2000).unwrap();
    }
    assert_eq!(
        read_readings(&source("log.csv", &text)).unwrap().rows.len(),
        100_000
    );
    text.push_str("900,1,1\n901,1,1\n");
    let problems = read_readings(&source("log.csv", &text)).unwrap_err();
    assert_eq!(
        told(&problems),
        "log.csv:100002:1: this is the 201st different speed; expected at most 200 in one test\n  \
         hint: average the log to one row per speed first\n"
    );
}

const OPERATION: &str = include_str!("contract/operation.toml");

#[test]
fn a_tariff_with_everything_is_read_and_survives_writing() {
    let first = site(OPERATION);
    let operation = &first.operation;
    assert_eq!(operation.seasons[1].first_day.to_string(), "1 Oct");
    assert_eq!(operation.tariff[0].days, [records::DayKind::Weekdays]);
    assert_eq!(operation.holidays.len(), 2);
    // 365 days are twelve months: 12.50 a month is 12.50 · 12 / 365 a day; one rounding or two.
    let fixed = operation.fixed_charge.as_ref().unwrap().si;
    assert!((fixed - 12.50 * 12.0 / 365.0).abs() < 1e-15);
    assert_eq!(operation.tasks[1].closed, ["return 2"]);
    assert!(operation.tasks[1].in_one_go);
    assert_eq!(site(&write_site(&first)), first);
}

#[test]
fn a_text_that_would_fill_the_memory_is_refused_before_it_is_read() {
    let large = |text: &str, bytes: usize| {
        let text = text.repeat(bytes / text.len() + 1);
        source("large", &text)
    };
    let toml = large("a = [[1], [1], [1]]\n", records::MAX_TOML_BYTES);
    let table = large("600,10,20\n", records::MAX_FILE_BYTES);
    let refusals = [
        (read_site(&toml).err(), "1 MB"),
        (read_test(&toml, None).err(), "1 MB"),
        (readings_file(&toml).err(), "1 MB"),
        (records::read_profile(&toml).err(), "1 MB"),
        (records::read_change(&toml, &site(SITE)).err(), "1 MB"),
        (records::read_part(&toml).err(), "1 MB"),
        (read_readings(&table).err(), "4 MB"),
        (records::read_typed(&table).err(), "4 MB"),
    ];
    for (refusal, size) in refusals {
        let told = told(&refusal.unwrap_or_default());
        let expected = format!("large: the file is larger than {size}");
        assert!(told.starts_with(&expected), "{told}");
    }
}
