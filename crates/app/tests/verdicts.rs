//! Verdicts: sound tests raise no doubt at any length, slips are caught with what to type instead, and bands are there
//! from the first row on.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "what tests share fails by panicking"
)]

mod support;

use app::draft::{Edit, Editing, Place, Spot, TestDraft};
use app::lineup::HeadEdit;
use app::verdict::{Doubt, State, Verdict, Verdicts, verdicts};
use document::units::Printing;
use records::UnitSystem;
use support::{cell, draft, empty, set, site, typed_like};

const FLOW: usize = 0;
const POWER: usize = 1;
const CURRENT: usize = 2;
const PRESSURE: usize = 3;
const VACUUM: usize = 4;

fn judged(draft: &TestDraft) -> Verdicts {
    let system = UnitSystem::Us;
    verdicts(&site(), draft, Printing::english(system))
}

/// Types into a draft at one place and judges it there.
fn judged_with(draft: &TestDraft, place: Place, text: &str) -> Verdict {
    let after = draft.edited(&set(place, text)).unwrap();
    judged(&after).at(place).unwrap().clone()
}

/// Lists the cells about which there is anything to say.
fn said(verdicts: &Verdicts) -> Vec<(usize, usize)> {
    let mut said = Vec::new();
    for (row, of_row) in verdicts.rows.iter().enumerate() {
        for (column, verdict) in of_row.cells.iter().enumerate() {
            if !matches!(verdict.state, State::Empty | State::Fine) {
                said.push((row, column));
            }
        }
    }
    said
}

fn doubt(verdict: &Verdict) -> &Doubt {
    match &verdict.state {
        State::Doubted(doubt) | State::Impossible(doubt) => doubt,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_sound_test_raises_no_doubt_at_any_length_and_in_any_direction() {
    // Row 0 is standby. The first test of the demo has no fault.
    for count in 1..=11 {
        for draft in [
            typed_like(0, 1..=count),
            typed_like(0, (12 - count..12).rev()),
        ] {
            let verdicts = judged(&draft);
            assert_eq!(verdicts.problems, []);
            assert_eq!(said(&verdicts), [], "{count} rows");
            assert!(
                verdicts
                    .rows
                    .iter()
                    .all(|row| row.speed.state == State::Fine)
            );
        }
    }
}

#[test]
fn the_faults_of_the_demo_are_found_with_what_to_type_instead() {
    let verdicts = judged(&draft(1));
    assert_eq!(said(&verdicts), [(4, POWER), (7, FLOW), (9, CURRENT)]);
    let accept = |row, column| {
        let verdict = verdicts.at(cell(row, column)).unwrap();
        doubt(verdict).accept.clone()
    };
    assert_eq!(accept(4, POWER).as_deref(), Some("223"));
    assert_eq!(accept(7, FLOW).as_deref(), Some("61.3"));
    assert_eq!(accept(9, CURRENT), None);
}

#[test]
fn kilowatts_under_watts_are_caught_from_the_first_row_on() {
    for count in [1, 2, 3, 4, 8] {
        let draft = typed_like(0, (12 - count..12).rev());
        let place = cell(count - 1, POWER);
        let watts: f64 = draft.text(place).unwrap().parse().unwrap();
        let verdict = judged_with(&draft, place, &format!("{}", watts / 1000.0));
        let doubt = doubt(&verdict);
        assert_eq!(doubt.code, Some("unit-slip"), "{count} rows");
        assert!(doubt.says.contains("right in kW"), "{}", doubt.says);
        assert_eq!(doubt.accept, Some(format!("{watts}")), "{count} rows");
    }
    let mut editing = Editing::new(empty());
    let speed = "2700".to_owned();
    editing.apply(&Edit::AddRow { speed }).unwrap();
    let verdict = judged_with(editing.draft(), cell(0, POWER), "1.17");
    assert_eq!(doubt(&verdict).accept.as_deref(), Some("1170"));
}

#[test]
fn a_decimal_point_of_a_gauge_is_caught_beside_its_neighbours() {
    let draft = typed_like(0, (1..12).rev());
    for (column, typed, meant) in [(PRESSURE, "159", "15.9"), (VACUUM, "1.11", "11.1")] {
        let verdict = judged_with(&draft, cell(1, column), typed);
        // A vacuum of 111 inHg would be none; this one is only far from the others.
        assert_eq!(doubt(&verdict).accept.as_deref(), Some(meant));
        let after = draft.edited(&set(cell(1, column), typed)).unwrap();
        assert_eq!(said(&judged(&after)), [(1, column)]);
    }
    let beyond = judged_with(&draft, cell(1, VACUUM), "111");
    assert!(matches!(beyond.state, State::Impossible(_)), "{beyond:?}");
}

#[test]
fn what_is_no_number_is_told_and_nobody_else_suffers() {
    let draft = draft(0);
    for (text, accept) in [
        ("abc", None),
        ("-", None),
        ("9,6", Some("9.6")),
        ("96.1 gpm", Some("96.1")),
    ] {
        let after = draft.edited(&set(cell(11, FLOW), text)).unwrap();
        let verdicts = judged(&after);
        assert_eq!(verdicts.problems, []);
        assert_eq!(said(&verdicts), [(11, FLOW)]);
        let verdict = verdicts.at(cell(11, FLOW)).unwrap();
        let State::NotANumber {
            says,
            accept: found,
        } = &verdict.state
        else {
            panic!("{verdict:?}");
        };
        assert!(says.contains("expected"), "{says}");
        assert_eq!(found.as_deref(), accept);
        assert!(verdict.expected.is_some());
    }
    let verdict = judged_with(&draft, cell(11, FLOW), "-5");
    assert!(matches!(verdict.state, State::Impossible(_)));
}

#[test]
fn a_row_without_a_speed_asks_for_it_first() {
    let speed = Place {
        row: 3,
        spot: Spot::Speed,
    };
    let after = draft(0).edited(&set(speed, "")).unwrap();
    let verdicts = judged(&after);
    assert!(matches!(
        verdicts.at(speed).unwrap().state,
        State::NotANumber { .. }
    ));
    assert_eq!(said(&verdicts), []);
}

#[test]
fn a_wrong_speed_is_told_at_the_speed() {
    let place = Place {
        row: 6,
        spot: Spot::Speed,
    };
    let verdict = judged_with(&draft(0), place, "2500");
    assert!(doubt(&verdict).accept.is_some(), "{verdict:?}");
}

#[test]
fn a_confirmed_reading_is_not_doubted_again() {
    let place = cell(4, POWER);
    let say = Some(records::Verdict::Confirmed);
    let after = draft(1).edited(&Edit::Rule { place, say }).unwrap();
    let verdicts = judged(&after);
    let verdict = verdicts.at(place).unwrap();
    assert_eq!(verdict.ruling, say);
    assert_eq!(verdict.state, State::Fine);
}

#[test]
fn the_band_is_in_the_unit_of_the_column_and_holds_what_was_read() {
    let verdicts = judged(&draft(0));
    for row in 1..12 {
        for column in [FLOW, POWER, CURRENT, PRESSURE, VACUUM] {
            let band = verdicts.at(cell(row, column)).unwrap().expected.as_ref();
            let band = band.unwrap();
            let number = |text: &str| -> f64 { text.replace(',', "").parse().unwrap() };
            let read = number(draft(0).text(cell(row, column)).unwrap());
            // The ends are printed rounded, by at most half a unit of their last digit.
            let (low, high) = (number(&band.low), number(&band.high));
            let rounding = 0.01 * (high - low);
            let held = (low - rounding..=high + rounding).contains(&read);
            assert!(held, "row {row}, column {column}: {read} in {band:?}");
            assert_eq!(band.is_coarse, column >= PRESSURE);
        }
    }
    let flow = verdicts.at(cell(11, FLOW)).unwrap();
    assert_eq!(flow.expected.as_ref().unwrap().unit, "gpm");
    assert_eq!(verdicts.at(cell(0, FLOW)).unwrap().expected, None);
}

#[test]
fn texts_that_cannot_be_read_are_told_and_cells_keep_their_own_verdicts() {
    let head = Edit::HeadText("format = 1\nreadings = \"a.csv\"\nclsed = []\n".to_owned());
    let after = draft(0).edited(&head).unwrap();
    let after = after.edited(&set(cell(2, FLOW), "x")).unwrap();
    let verdicts = judged(&after);
    assert!(!verdicts.problems.is_empty());
    assert_eq!(said(&verdicts), [(2, FLOW)]);
}

#[test]
fn a_temperature_that_is_typed_halfway_keeps_nobody_from_the_readings() {
    let edit = Edit::Head(HeadEdit::WaterTemperature(Some("8".to_owned())));
    let after = draft(0).edited(&edit).unwrap();
    assert_eq!(judged(&after).problems, []);
    assert!(after.head_text.contains("water_temperature = \"8\""));
}

#[test]
fn accepted_numbers_have_the_decimal_mark_of_the_test() {
    let mut editing = Editing::new(typed_like(0, 1..8));
    for row in 0..7 {
        for column in 0..5 {
            let text = editing.draft().text(cell(row, column)).unwrap();
            let text = text.replace('.', ",");
            // On the way to commas alone a point beside them is no reading, which changes nothing here.
            editing.apply(&set(cell(row, column), &text)).unwrap();
        }
    }
    assert_eq!(said(&judged(editing.draft())), []);
    let verdict = judged_with(editing.draft(), cell(3, FLOW), "3,64");
    assert_eq!(doubt(&verdict).accept.as_deref(), Some("36,4"));
}
