//! Drafts: files opened and written are the same, whatever is typed is kept, and every edit can be undone.

mod support;

use app::draft::{Edit, EditError, Editing, OpenError, Pasted, Place, Spot, TestDraft};
use app::lineup::{HeadEdit, lineup};
use proptest::prelude::*;
use records::{Separator, Source, TestFiles, Verdict, read_pad};
use support::{cell, draft, empty, files, set, site};

fn test_of(head: &str, readings: &str) -> TestFiles {
    let source = |name: &str, text: &str| Source {
        name: name.to_owned(),
        text: text.to_owned(),
    };
    TestFiles {
        test: source("a.toml", head),
        readings: Some(source("b.csv", readings)),
    }
}

const HEAD: &str = "format = 1\nreadings = \"b.csv\"\n";

#[test]
fn files_opened_and_written_unchanged_are_the_same() {
    for index in 0..2 {
        assert_eq!(draft(index).to_files(), files(index));
    }
    for readings in [
        "speed [rpm],flow A [gpm],note\r\n600,11.4,\r\n\r\n850, 7. ,\"a, \"\"b\"\"\r\nc\"\r\n,abc,",
        "\n note ; speed [rpm];flow [gpm];time [s]\n'=x;600;11,4;\n;;;\n\n850;1e9;12;3\n\n",
        "speed [rpm]\tpower [kW]\n600\t0.1\n",
    ] {
        let files = test_of(HEAD, readings);
        let draft = TestDraft::from_files(&files).unwrap();
        assert_eq!(draft.to_files(), files);
    }
}

#[test]
fn an_edit_touches_the_bytes_of_its_own_row_alone() {
    let before = "speed [rpm],flow [gpm],note\r\n600,\"11.4\",x\r\n\r\n850,7.,\r\n1100 ,9,\r\n";
    let mut editing = Editing::new(TestDraft::from_files(&test_of(HEAD, before)).unwrap());
    editing.apply(&set(cell(1, 0), "17.")).unwrap();
    let after = editing.draft().readings_text();
    assert_eq!(after, before.replace("850,7.", "850,17."));
    editing.apply(&set(cell(1, 0), "7.")).unwrap();
    assert_eq!(editing.draft().readings_text(), before);
}

#[test]
fn what_is_typed_stays_as_typed() {
    let mut editing = Editing::new(empty());
    let speed = "2400".to_owned();
    editing.apply(&Edit::AddRow { speed }).unwrap();
    for text in ["7.", "1e9", "abc", "<", "-", "7,5", " 8 ", "a\"b,c;d\n'=1"] {
        editing.apply(&set(cell(0, 1), text)).unwrap();
        let files = editing.draft().to_files();
        let again = TestDraft::from_files(&files).unwrap();
        assert_eq!(again.text(cell(0, 1)), Some(text));
        // The engine reads the others all the same.
        let readable = editing.draft().readable().files;
        assert!(
            read_pad(&app::demo::pad().site, &[readable]).is_ok(),
            "{text}"
        );
    }
}

#[test]
fn a_note_in_a_file_without_notes_gets_a_column() {
    let files = test_of(HEAD, "speed [rpm],flow [gpm]\n600,11\n850,19\n");
    let mut editing = Editing::new(TestDraft::from_files(&files).unwrap());
    let note = Place {
        row: 1,
        spot: Spot::Note,
    };
    editing.apply(&set(note, "air")).unwrap();
    let text = editing.draft().readings_text();
    assert_eq!(text, "speed [rpm],flow [gpm],note\n600,11,\n850,19,air\n");
    editing.undo();
    assert_eq!(editing.draft().to_files(), files);
}

#[test]
fn a_decimal_comma_changes_what_parts_the_cells_and_nothing_that_was_typed() {
    let mut editing = Editing::new(empty());
    let speed = "2400".to_owned();
    editing.apply(&Edit::AddRow { speed }).unwrap();
    editing.apply(&set(cell(0, 0), "1,500")).unwrap();
    assert_eq!(editing.draft().separator, Separator::Comma);
    editing.apply(&set(cell(0, 0), "7,5")).unwrap();
    assert_eq!(editing.draft().separator, Separator::Semicolon);
    assert!(editing.draft().readable().left_out.is_empty());
    // From now on a point may mean thousands, and is asked about.
    editing.apply(&set(cell(0, 1), "3.450")).unwrap();
    let left_out = editing.draft().readable().left_out;
    assert_eq!(left_out[0].problem.accept.as_deref(), Some("3,450"));
}

#[test]
fn steps_in_the_test_file_are_not_shown_as_a_table() {
    let head = "format = 1\n[[step]]\nspeed = \"600 rpm\"\nflow = \"11 gpm\"\n";
    let files = TestFiles {
        readings: None,
        ..test_of(head, "")
    };
    assert_eq!(
        TestDraft::from_files(&files).unwrap_err(),
        OpenError::InlineSteps
    );
    assert!(matches!(
        TestDraft::from_files(&test_of("format = ", "speed [rpm]\n")),
        Err(OpenError::Texts(_))
    ));
    assert!(matches!(
        TestDraft::from_files(&test_of(HEAD, "speed [rpm],flux [gpm]\n")),
        Err(OpenError::Texts(_))
    ));
}

#[test]
fn rulings_follow_their_rows_and_fall_with_their_readings() {
    let mut editing = Editing::new(draft(1));
    let flow = cell(7, 0);
    let rule = |place, say| Edit::Rule { place, say };
    editing.apply(&rule(flow, Some(Verdict::Drop))).unwrap();
    let speed = Place {
        row: 9,
        spot: Spot::Speed,
    };
    editing
        .apply(&rule(speed, Some(Verdict::Confirmed)))
        .unwrap();
    let rows = |editing: &Editing| -> Vec<usize> {
        let head = lineup(&editing.draft().head_text).unwrap();
        head.rulings.iter().map(|ruling| ruling.row).collect()
    };
    assert_eq!(rows(&editing), [9, 11]);
    editing.apply(&Edit::RemoveRow { row: 2 }).unwrap();
    assert_eq!(rows(&editing), [8, 10]);
    editing.apply(&Edit::RepeatRow { row: 0 }).unwrap();
    assert_eq!(rows(&editing), [9, 11]);
    let note = Place {
        row: 0,
        spot: Spot::Note,
    };
    editing.apply(&set(note, "two\nlines")).unwrap();
    assert_eq!(rows(&editing), [10, 12]);
    let pad = app::demo::pad();
    assert!(read_pad(&pad.site, &[editing.draft().to_files()]).is_ok());
    editing.apply(&set(flow, "61.3")).unwrap();
    assert_eq!(rows(&editing), [12]);
    editing.apply(&Edit::RemoveRow { row: 9 }).unwrap();
    assert_eq!(rows(&editing), Vec::<usize>::new());
    assert!(!editing.draft().head_text.contains("ruling"));
    for _ in 0..7 {
        assert!(editing.undo());
    }
    assert!(!editing.undo());
    assert_eq!(editing.draft().to_files(), files(1));
}

#[test]
fn typing_in_one_place_is_one_edit_to_undo() {
    let mut editing = Editing::new(draft(0));
    for text in ["1", "11", "11."] {
        editing.apply(&set(cell(1, 0), text)).unwrap();
    }
    editing.seal();
    editing.apply(&set(cell(1, 0), "11.5")).unwrap();
    assert!(editing.undo());
    assert_eq!(editing.draft().text(cell(1, 0)), Some("11."));
    assert!(editing.undo());
    assert_eq!(editing.draft().text(cell(1, 0)), Some("11.4"));
    assert!(!editing.can_undo());
    assert!(editing.redo() && editing.redo() && !editing.redo());
    assert_eq!(editing.draft().text(cell(1, 0)), Some("11.5"));
}

#[test]
fn a_column_of_a_spreadsheet_goes_downwards() {
    let mut editing = Editing::new(draft(0));
    let text = "1,5\r\n2,5\r\n".to_owned();
    let place = cell(10, 1);
    editing.apply(&Edit::Paste { place, text }).unwrap();
    assert_eq!(editing.draft().text(cell(11, 1)), Some("2,5"));
    let text = "3450\t90\t\"2,000\"\n3000\t80\t\n".to_owned();
    let place = Place {
        row: 12,
        spot: Spot::Speed,
    };
    let beyond = Edit::Paste { place, text };
    assert_eq!(editing.apply(&beyond), Err(EditError::NoSuchPlace));
    let speed = String::new();
    editing.apply(&Edit::AddRow { speed }).unwrap();
    editing.apply(&beyond).unwrap();
    let draft = editing.draft();
    assert_eq!(draft.rows.len(), 14);
    assert_eq!(draft.rows[12].speed, "3450");
    assert_eq!(draft.rows[12].cells[..2], ["90", "2,000"]);
    assert_eq!(draft.rows[13].cells[0], "80");
}

#[test]
fn a_semicolon_cuts_where_there_is_no_tab() {
    assert_eq!(Pasted::of("1,5;2\r\n3;4").rows, [["1,5", "2"], ["3", "4"]]);
    assert_eq!(Pasted::of("a;b\tc").rows, [["a;b", "c"]]);
    assert_eq!(Pasted::of("").rows, [[""]]);
}

/// Signals of the page hold drafts, and may only hold what any thread could.
#[test]
fn a_draft_can_stand_in_a_signal() {
    fn any_thread<T: Send + Sync + 'static>(_: &T) {}
    any_thread(&Editing::new(empty()));
}

#[test]
fn the_cursor_walks_there_and_back() {
    let draft = draft(0);
    let mut place = Place {
        row: 0,
        spot: Spot::Speed,
    };
    let mut walked = vec![place];
    while let Some(next) = draft.after(place) {
        place = next;
        walked.push(place);
    }
    assert_eq!(walked.len(), draft.rows.len() * (draft.columns.len() + 1));
    for expected in walked.iter().rev().skip(1) {
        place = draft.before(place).unwrap();
        assert_eq!(place, *expected);
    }
    assert_eq!(draft.before(place), None);
    assert_eq!(draft.first_empty(0), Some(cell(0, 0)));
    assert_eq!(draft.first_empty(1), None);
}

/// Texts as people type them, and as they do not.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[0-9]{1,4}[.,]?[0-9]{0,2}",
        "[-<+=@'\"]?[0-9a-z.,;]{0,6}",
        "[ -~\n\r\t;é]{0,12}",
    ]
}

fn place() -> impl Strategy<Value = Place> {
    let spot = prop_oneof![
        Just(Spot::Speed),
        (0..7_usize).prop_map(Spot::Cell),
        Just(Spot::Note),
    ];
    (0..14_usize, spot).prop_map(|(row, spot)| Place { row, spot })
}

fn edit() -> impl Strategy<Value = Edit> {
    let say = prop_oneof![
        Just(None),
        Just(Some(Verdict::Confirmed)),
        Just(Some(Verdict::Drop)),
    ];
    prop_oneof![
        6 => (place(), text()).prop_map(|(place, text)| Edit::Set { place, text }),
        1 => text().prop_map(|speed| Edit::AddRow { speed }),
        1 => (0..14_usize).prop_map(|row| Edit::RepeatRow { row }),
        1 => (0..14_usize).prop_map(|row| Edit::RemoveRow { row }),
        1 => (place(), text()).prop_map(|(place, text)| Edit::Paste { place, text }),
        1 => (0..7_usize).prop_map(|column| Edit::RemoveColumn { column }),
        1 => (0..5_usize).prop_map(|column| Edit::AddColumn(draft(0).columns[column].clone())),
        2 => (place(), say).prop_map(|(place, say)| Edit::Rule { place, say }),
        1 => text().prop_map(|text| Edit::Head(HeadEdit::Filter(Some(text)))),
        1 => prop_oneof![Just(None), text().prop_map(Some)]
            .prop_map(|text| Edit::Head(HeadEdit::WaterTemperature(text))),
    ]
}

/// What is typed in the rows that hold anything.
fn typed(draft: &TestDraft) -> Vec<Vec<String>> {
    let row = |row: &app::draft::DraftRow| {
        let ends = [row.speed.clone(), row.note.clone()];
        row.cells.iter().cloned().chain(ends).collect::<Vec<_>>()
    };
    let rows = draft.rows.iter().map(row);
    rows.filter(|row| row.iter().any(|text| !text.trim().is_empty()))
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn any_edits_can_be_undone_and_done_again(edits in prop::collection::vec(edit(), 1..25)) {
        let first = draft(1);
        let mut editing = Editing::new(first.clone());
        for edit in &edits {
            editing.seal();
            let before = editing.draft().clone();
            if editing.apply(edit).is_err() {
                prop_assert_eq!(editing.draft(), &before);
            }
        }
        let last = editing.draft().clone();
        let mut undone = 0;
        while editing.undo() {
            undone += 1;
        }
        prop_assert_eq!(editing.draft().to_files(), files(1));
        for _ in 0..undone {
            prop_assert!(editing.redo());
        }
        prop_assert_eq!(editing.draft(), &last);
        prop_assert_eq!(editing.draft().to_files(), last.to_files());
    }

    #[test]
    fn what_was_typed_survives_the_files(edits in prop::collection::vec(edit(), 1..25)) {
        let mut editing = Editing::new(draft(1));
        for edit in &edits {
            // An edit that cannot be done changes nothing.
            let _ = editing.apply(edit);
        }
        let draft = editing.draft();
        // Columns that stand twice cannot be told apart in a file; everything else is kept.
        let names: Vec<String> = draft.columns.iter().map(app::draft::DraftColumn::name).collect();
        let distinct = names.iter().collect::<std::collections::BTreeSet<_>>().len();
        prop_assume!(distinct == names.len());
        let again = TestDraft::from_files(&draft.to_files()).unwrap();
        prop_assert_eq!(typed(&again), typed(draft));
        prop_assert_eq!(&again.head_text, &draft.head_text);
        prop_assert_eq!(again.to_files(), draft.to_files());
    }

    #[test]
    fn the_engine_reads_any_draft(edits in prop::collection::vec(edit(), 1..25)) {
        let mut editing = Editing::new(draft(1));
        for edit in &edits {
            let _ = editing.apply(edit);
        }
        let draft = editing.draft();
        let names: Vec<String> = draft.columns.iter().map(app::draft::DraftColumn::name).collect();
        let distinct = names.iter().collect::<std::collections::BTreeSet<_>>().len();
        prop_assume!(distinct == names.len());
        // The state of the filter is a name, and is told about where it is none.
        prop_assume!(lineup(&draft.head_text).unwrap().filter == lineup(&files(1).test.text).unwrap().filter);
        let readable = draft.readable();
        let read = read_pad(&app::demo::pad().site, std::slice::from_ref(&readable.files));
        let (_, tests) = read.map_err(|problems| TestCaseError::fail(document::problems::text(&problems, records::Language::English)))?;
        // Each row of the engine is the row of the draft that stands on its line.
        for row in &tests[0].readings.rows {
            let at = readable.lines.binary_search(&row.line);
            prop_assert!(at.is_ok());
        }
        let _ = app::verdict::verdicts(&site(), draft, document::units::Printing::english(records::UnitSystem::Us));
    }

    #[test]
    fn any_text_can_be_pasted(text in any::<String>(), place in place()) {
        let mut editing = Editing::new(draft(0));
        let _ = editing.apply(&Edit::Paste { place, text });
        let _ = editing.draft().to_files();
    }
}
