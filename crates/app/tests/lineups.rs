//! What a test file states, changed in its text: comments and layout stay.

#![expect(clippy::unwrap_used, reason = "what tests share fails by panicking")]

use app::lineup::{HeadEdit, HeadError, edited, lineup};
use proptest::prelude::*;

const HEAD: &str = "# The first visit.\n\
    format = 1\n\
    # By the watch.\n\
    date = 2026-05-16T09:30:00  # early\n\
    water_temperature = \"80 degF\" # by hand\n\
    closed = [ \"return 1\", # stuck\n  \"return 2\" ]\n\
    readings = \"a.csv\"\n\
    \n\
    [condition] # as seen\n\
    filter = \"clean\" # new\n\
    air = \"none\"\n";

fn after(edit: &HeadEdit) -> String {
    edited(HEAD, edit).unwrap()
}

#[test]
fn what_is_stated_is_read() {
    let read = lineup(HEAD).unwrap();
    assert_eq!(read.date.as_deref(), Some("2026-05-16T09:30:00"));
    assert_eq!(read.closed, ["return 1", "return 2"]);
    assert_eq!(read.filter.as_deref(), Some("clean"));
    assert_eq!(read.heater, None);
    assert!(matches!(lineup("date = "), Err(HeadError::Text(_))));
}

#[test]
fn a_change_leaves_every_other_byte() {
    for (edit, from, to) in [
        (
            HeadEdit::Date(Some("2026-06-01T10:05".to_owned())),
            "2026-05-16T09:30:00",
            "2026-06-01T10:05:00",
        ),
        (
            HeadEdit::WaterTemperature(Some("8".to_owned())),
            "80 degF",
            "8",
        ),
        (
            HeadEdit::Filter(Some("as found".to_owned())),
            "\"clean\"",
            "\"as found\"",
        ),
        (HeadEdit::Readings("b.csv".to_owned()), "a.csv", "b.csv"),
        (
            HeadEdit::Heater(Some("off".to_owned())),
            "air = \"none\"\n",
            "air = \"none\"\nheater = \"off\"\n",
        ),
        (
            HeadEdit::Throttled(vec!["pad".to_owned()]),
            "readings = \"a.csv\"\n",
            "readings = \"a.csv\"\nthrottled = [\"pad\"]\n",
        ),
        (
            HeadEdit::Closed(vec!["return 1".to_owned(), "return 2".to_owned()]),
            "",
            "",
        ),
        (HeadEdit::AlsoRunning(Vec::new()), "", ""),
    ] {
        assert_eq!(after(&edit), HEAD.replace(from, to), "{edit:?}");
    }
}

#[test]
fn what_is_taken_out_leaves_its_comments() {
    let dateless = after(&HeadEdit::Date(None));
    assert!(!dateless.contains("2026"));
    for comment in [
        "# The first visit.",
        "# By the watch.",
        "# early",
        "# by hand",
        "# stuck",
    ] {
        assert!(dateless.contains(comment), "{comment}: {dateless}");
    }
    let bare = after(&HeadEdit::Filter(None));
    assert!(bare.contains("# new") && !bare.contains("clean"), "{bare}");
    let twice = edited(&bare, &HeadEdit::Air(None)).unwrap();
    assert!(
        twice.contains("# new") && twice.contains("[condition] # as seen"),
        "{twice}"
    );
    let one = after(&HeadEdit::Closed(vec!["return 2".to_owned()]));
    assert_eq!(lineup(&one).unwrap().closed, ["return 2"]);
}

#[test]
fn conditions_come_into_a_head_without_any_and_into_inline_ones() {
    let head = edited(
        "format = 1\n",
        &HeadEdit::Basket(Some("cleaned".to_owned())),
    )
    .unwrap();
    assert_eq!(head, "format = 1\n\n[condition]\nbasket = \"cleaned\"\n");
    let inline = "format = 1\ncondition = { filter = \"clean\" }\n";
    let head = edited(inline, &HeadEdit::Basket(Some("cleaned".to_owned()))).unwrap();
    assert_eq!(lineup(&head).unwrap().basket.as_deref(), Some("cleaned"));
    let wrong = edited("condition = 1\n", &HeadEdit::Basket(Some("x".to_owned())));
    assert_eq!(wrong, Err(HeadError::Shape { key: "condition" }));
}

#[test]
fn what_is_no_date_is_told() {
    for wrong in ["", "yesterday", "09:30", "2026-13-01"] {
        let edit = HeadEdit::Date(Some(wrong.to_owned()));
        assert!(
            matches!(edited(HEAD, &edit), Err(HeadError::Date { .. })),
            "{wrong}"
        );
    }
}

proptest! {
    #[test]
    fn any_text_is_kept_as_it_is_typed(typed in any::<String>()) {
        let head = after(&HeadEdit::WaterTemperature(Some(typed.clone())));
        prop_assert_eq!(lineup(&head).unwrap().water_temperature, Some(typed.clone()));
        let head = after(&HeadEdit::Closed(vec![typed.clone()]));
        prop_assert_eq!(lineup(&head).unwrap().closed, vec![typed]);
    }

    #[test]
    fn any_head_is_read_or_refused(head in "[a-z =\\[\\]\"#\n0-9.{}]{0,60}", typed in any::<String>()) {
        let _ = lineup(&head);
        for edit in [HeadEdit::Date(None), HeadEdit::Filter(Some(typed.clone())), HeadEdit::Closed(vec![typed.clone()])] {
            if let Ok(after) = edited(&head, &edit) {
                prop_assert!(lineup(&after).is_ok());
            }
        }
    }
}
