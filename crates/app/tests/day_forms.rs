//! The short form of the day: what it reads of a site file, and what it writes into it.

#![allow(
    clippy::unwrap_used,
    reason = "a test stops where something is missing"
)]

use app::day_form::{DayForm, edited, form_of};
use records::{Source, read_site};

const BARE: &str = "# my pad
format = 1
name = \"Bare\"

[pump]
speed = { max = \"3450 rpm\" } # as printed

[operation] # how it is run
turnover = \"1 per day\" # since June
";

fn filled() -> DayForm {
    DayForm {
        volume: "18500 gal".to_owned(),
        turnovers: "1.5".to_owned(),
        price: "0.24".to_owned(),
        currency: "USD".to_owned(),
        quiet: ["22:00", "07:00", "1800"].map(str::to_owned),
        in_the_text: Vec::new(),
    }
}

#[test]
fn what_is_filled_in_is_read_back_and_comments_stay() {
    assert_eq!(form_of(BARE).unwrap().turnovers, "1");
    let text = edited(BARE, &filled()).unwrap();
    assert_eq!(form_of(&text).unwrap(), filled());
    for comment in [
        "# my pad",
        "# as printed",
        "# how it is run",
        "# since June",
    ] {
        assert!(text.contains(comment), "{comment} is gone:\n{text}");
    }
    let (name, text) = ("site.toml".to_owned(), text);
    let site = read_site(&Source { name, text }).unwrap();
    assert!(site.water.volume.is_some());
    assert!((site.operation.turnover.unwrap().per_day - 1.5).abs() < 1e-12);
    assert_eq!(site.operation.tariff.len(), 1);
    assert_eq!(site.operation.quiet.len(), 1);
}

#[test]
fn what_stays_as_it_is_changes_no_byte() {
    for text in [BARE.to_owned(), app::demo::pad().site.text] {
        let form = form_of(&text).unwrap();
        assert_eq!(edited(&text, &form).unwrap(), text);
    }
}

#[test]
fn a_tariff_by_the_hour_is_left_to_the_text() {
    let text = app::demo::pad().site.text;
    let mut form = form_of(&text).unwrap();
    assert_eq!(form.in_the_text, ["tariff"]);
    form.price = "0.10".to_owned();
    form.turnovers = "2".to_owned();
    let changed = edited(&text, &form).unwrap();
    assert!(changed.contains("0.52 USD/kWh"));
    assert_eq!(
        changed,
        text.replace("turnover = \"1 per day\"", "turnover = \"2 per day\"")
    );
}

#[test]
fn what_is_emptied_is_taken_out() {
    let text = edited(BARE, &filled()).unwrap();
    let mut form = filled();
    form.price.clear();
    form.quiet = std::array::from_fn(|_| String::new());
    let less = edited(&text, &form).unwrap();
    assert!(
        !less.contains("tariff") && !less.contains("quiet"),
        "{less}"
    );
    assert_eq!(form_of("no TOML ="), None);
}
