//! What may be tried out on a pad: the sliders that it has, and the file of the change that they make.

#![allow(
    clippy::unwrap_used,
    reason = "a test stops where something is missing"
)]

use app::what_if::{Choice, FilterState, change_name, change_text, neighbours, sliders};
use records::{Site, Source, read_change, read_site};

fn text() -> String {
    app::demo::pad().site.text
}

fn site(text: &str) -> Site {
    let (name, text) = ("site.toml".to_owned(), text.to_owned());
    read_site(&Source { name, text }).unwrap()
}

fn bore(size: &str) -> Choice {
    Choice {
        bore: Some(size.to_owned()),
        ..Choice::default()
    }
}

fn filter(filter: FilterState) -> Choice {
    Choice {
        filter,
        ..Choice::default()
    }
}

#[test]
fn the_demo_has_every_slider_and_stands_where_its_file_says() {
    let can = sliders(&site(&text()));
    assert_eq!(can.sizes[can.size_today], "1-1/2 in");
    assert!(can.sizes.contains(&"2 in".to_owned()));
    assert!(can.has_filter && can.has_tariff);
    assert_eq!(can.turnovers, Some(1.0));
}

#[test]
fn a_bare_site_has_none() {
    let bare = "format = 1\nname = \"Bare\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n";
    assert_eq!(sliders(&site(bare)), app::what_if::Sliders::default());
    assert_eq!(change_text(bare, &bore("2 in"), "Wider"), None);
}

#[test]
fn wider_returns_are_a_change_that_the_command_takes() {
    let made = change_text(&text(), &bore("2 in"), "Wider").unwrap();
    let source = Source {
        name: "wider.toml".to_owned(),
        text: made.clone(),
    };
    let today = site(&text());
    let change = read_change(&source, &today).unwrap();
    // The example of the command says the same by hand, with what it costs.
    let example = include_str!("../../../examples/larkspur-lane/changes/larger-returns.toml");
    let by_hand = Source {
        name: "larger-returns.toml".to_owned(),
        text: example.to_owned(),
    };
    let by_hand = read_change(&by_hand, &today).unwrap();
    assert_eq!(change.site, by_hand.site, "{made}");
    assert!(!change.cleans_filter);
}

#[test]
fn what_stays_makes_no_file() {
    for choice in [
        Choice::default(),
        bore("1-1/2 in"),
        Choice {
            turnovers: Some(2.0),
            price_percent: Some(150),
            ..Choice::default()
        },
    ] {
        assert_eq!(change_text(&text(), &choice, "Nothing"), None);
    }
}

#[test]
fn a_loaded_filter_takes_so_many_times_the_clean_drop_and_a_clean_one_is_said() {
    let loaded = change_text(&text(), &filter(FilterState::Double), "Loaded").unwrap();
    // Twice 2.4 psi.
    assert!(loaded.contains("drop = \"4.8 psi\""), "{loaded}");
    let clean = change_text(&text(), &filter(FilterState::Clean), "Clean").unwrap();
    assert!(clean.contains("filter = \"clean\"") && !clean.contains("[[part]]"));
}

#[test]
fn what_is_asked_of_the_pad_changes_no_pipe() {
    let choice = Choice {
        turnovers: Some(2.0),
        price_percent: Some(50),
        ..Choice::default()
    };
    let today = site(&text());
    let asked = choice.asked_of(&today);
    assert_eq!(asked.lines, today.lines);
    let turnover = asked.operation.turnover.unwrap();
    assert!((turnover.per_day - 2.0).abs() < 1e-12);
    let ratio = asked.operation.tariff[0].price.si / today.operation.tariff[0].price.si;
    assert!((ratio - 0.5).abs() < 1e-12);
}

#[test]
fn the_file_is_called_after_the_change() {
    let made = change_text(&text(), &bore("2 in"), "Returns in 2 in pipe").unwrap();
    assert_eq!(change_name(&made), "Returns in 2 in pipe");
    assert_eq!(change_name("no TOML ="), "");
}

#[test]
fn the_places_beside_come_first() {
    let can = sliders(&site(&text()));
    let near = neighbours(&bore("2 in"), &can);
    assert_eq!(near.len(), can.sizes.len() - 1 + FilterState::ALL.len() - 1);
    assert!(near[..4].contains(&Choice::default()), "{near:?}");
    assert!(near[..4].contains(&bore("2-1/2 in")), "{near:?}");
    assert!(!near.contains(&bore("2 in")));
}
