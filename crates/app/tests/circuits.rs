//! The circuit of the page: what a shut line does to the drawing, and parts that are edited in the site's text.

#![allow(
    clippy::unwrap_used,
    reason = "a test stops where something is missing"
)]

use app::circuit::{Asked, shown};
use app::plumbing::{KINDS, PartEdit, PartForm, PartPlace, edited, kind, lines};
use charts::Size;
use document::units::Printing;
use records::{Site, Source, UnitSystem, read_site};

fn text() -> String {
    app::demo::pad().site.text
}

fn site(text: &str) -> Result<Site, Vec<records::Problem>> {
    let (name, text) = ("site.toml".to_owned(), text.to_owned());
    read_site(&Source { name, text })
}

fn look(closed: &[&str], speed_rpm: f64) -> app::circuit::Shown {
    let asked = Asked {
        speed_rpm,
        closed: closed.iter().map(|line| (*line).to_owned()).collect(),
        size: Size::Narrow,
    };
    let system = UnitSystem::Us;
    shown(&site(&text()).unwrap(), &asked, Printing::english(system)).unwrap()
}

#[test]
fn a_shut_line_is_pressed_and_the_others_take_its_flow() {
    let (open, one) = (look(&[], 3450.0), look(&["return 2"], 3450.0));
    assert_eq!(open.svg.matches("role=\"button\"").count(), 4);
    assert_eq!(open.svg.matches("aria-pressed=\"true\"").count(), 0);
    assert_eq!(one.svg.matches("aria-pressed=\"true\"").count(), 1);
    assert!(one.lines[3].is_shut && !one.lines[2].is_shut);
    assert_ne!(open.lines[2].values, one.lines[2].values);
    assert!(open.answers.iter().any(|(word, _)| word == "Limit"));
}

#[test]
fn a_pad_with_no_way_back_is_not_solved_but_can_be_opened_again() {
    let shut = look(&["return 1", "return 2"], 3450.0);
    let (_, hint) = shut.problem.unwrap();
    assert!(hint.is_some_and(|hint| hint.contains("open a line")));
    assert_eq!(shut.svg.matches("aria-pressed=\"true\"").count(), 2);
}

#[test]
fn every_part_of_the_demo_is_read_and_written_back_as_it_stands() {
    let text = text();
    let all = lines(&text).unwrap();
    assert_eq!(all.len(), 4);
    for (line, of_line) in all.iter().enumerate() {
        for (part, form) in of_line.parts.iter().enumerate() {
            let form = form.clone().unwrap();
            let edit = PartEdit::Change(PartPlace { line, part }, form);
            assert_eq!(edited(&text, &edit).unwrap(), text);
        }
    }
}

const COMMENTED: &str = "[[line]]
name = \"a\"
parts = [
  # the long run
  { pipe = \"2 in\", length = \"46 ft\" }, # as measured
  # all of them
  { fitting = \"90 elbow\", count = 7 },
  { heater = \"gas\", at = { flow = \"60 gpm\", drop = \"3 psi\" } } # new in spring
]
";
const COMMENTS: [&str; 4] = [
    "# the long run",
    "# as measured",
    "# all of them",
    "# new in spring",
];

fn at(part: usize) -> PartPlace {
    PartPlace { line: 0, part }
}

/// Does an edit on the text with comments and returns the kinds of its parts.
fn kinds_after(edit: &PartEdit) -> Vec<String> {
    let text = edited(COMMENTED, edit).unwrap();
    for comment in COMMENTS {
        assert!(text.contains(comment), "{comment} is gone:\n{text}");
    }
    let found = lines(&text).unwrap();
    let forms = found[0].parts.iter().flatten();
    forms.map(|form| form.kind.clone()).collect()
}

#[test]
fn comments_survive_every_edit() {
    let mut valve = PartForm {
        kind: "valve".to_owned(),
        ..PartForm::default()
    };
    valve.set("valve", "ball");
    for part in 0..=3 {
        let mut expected = vec!["pipe", "fitting", "heater"];
        expected.insert(part, "valve");
        assert_eq!(
            kinds_after(&PartEdit::Add(at(part), valve.clone())),
            expected
        );
    }
    for part in 0..3 {
        let mut expected = vec!["pipe", "fitting", "heater"];
        expected.remove(part);
        assert_eq!(kinds_after(&PartEdit::Remove(at(part))), expected);
        assert_eq!(
            kinds_after(&PartEdit::Change(at(part), valve.clone())).len(),
            3
        );
    }
    assert_eq!(
        kinds_after(&PartEdit::Move(at(0), 2)),
        ["fitting", "heater", "pipe"]
    );
    assert_eq!(
        kinds_after(&PartEdit::Move(at(2), 0)),
        ["heater", "pipe", "fitting"]
    );
}

#[test]
fn a_field_is_changed_added_and_taken_out() {
    let mut heater = lines(COMMENTED).unwrap()[0].parts[2].clone().unwrap();
    assert_eq!(heater.text("at.drop"), "3 psi");
    heater.set("at.drop", "4 psi");
    heater.set("min_flow", "35 gpm");
    let text = edited(COMMENTED, &PartEdit::Change(at(2), heater.clone())).unwrap();
    assert!(
        text.contains("at = { flow = \"60 gpm\", drop = \"4 psi\" }"),
        "{text}"
    );
    assert!(text.contains("min_flow = \"35 gpm\""), "{text}");
    heater.set("at.drop", "");
    heater.set("at.flow", "");
    let text = edited(&text, &PartEdit::Change(at(2), heater)).unwrap();
    assert!(!text.contains("at ="), "{text}");
}

#[test]
fn a_guess_stays_as_the_text_says_it() {
    let text = COMMENTED.replace(
        "length = \"46 ft\"",
        "length = { about = \"50 ft\", factor = 1.5 }",
    );
    let mut pipe = lines(&text).unwrap()[0].parts[0].clone().unwrap();
    assert_eq!(pipe.in_the_text, ["length"]);
    pipe.set("pipe", "1.5 in");
    let text = edited(&text, &PartEdit::Change(at(0), pipe)).unwrap();
    assert!(
        text.contains("pipe = \"1.5 in\", length = { about = \"50 ft\", factor = 1.5 }"),
        "{text}"
    );
}

/// What each field may hold.
fn example(key: &str) -> &'static str {
    match key {
        "pipe" | "size" | "reducer" | "bore" | "pipe_bore" => "2 in",
        "length" | "height" => "12 ft",
        "roughness" => "0.0015 mm",
        "open" => "50 %",
        "area" => "150 ft2",
        "clean.drop" | "at.drop" | "max_pressure" | "cracking" => "2 psi",
        "clean.flow" | "at.flow" | "max_flow" | "rating" => "60 gpm",
        "min_flow" => "30 gpm",
        "kv" => "60 m3/h",
        "count" => "2",
        "k" => "4.2",
        _ => "some",
    }
}

#[test]
fn the_form_of_every_kind_gives_a_part_that_the_records_take() {
    for of_kind in &KINDS {
        let mut form = PartForm {
            kind: of_kind.key.to_owned(),
            ..PartForm::default()
        };
        for field in of_kind.fields {
            let text = match field.kind {
                app::plumbing::FieldKind::OneOf(words) => words()[0],
                _ => example(field.key),
            };
            form.set(field.key, text);
        }
        let place = PartPlace { line: 0, part: 1 };
        let text = edited(&text(), &PartEdit::Add(place, form.clone())).unwrap();
        let read = site(&text);
        assert!(read.is_ok(), "{}: {:?}", of_kind.key, read.err());
        assert_eq!(lines(&text).unwrap()[0].parts[1].as_ref(), Some(&form));
        assert!(kind(of_kind.key).is_some());
    }
}

#[test]
fn what_is_no_number_or_no_place_is_refused() {
    let mut elbows = PartForm {
        kind: "fitting".to_owned(),
        ..PartForm::default()
    };
    elbows.set("count", "many");
    assert!(edited(COMMENTED, &PartEdit::Change(at(1), elbows)).is_err());
    assert!(edited(COMMENTED, &PartEdit::Remove(at(9))).is_err());
    assert!(edited("no TOML =", &PartEdit::Remove(at(0))).is_err());
}
