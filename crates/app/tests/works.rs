//! The work of the worker: each question answered as the command answers it, and kept apart from a browser.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops where something is missing"
)]

use app::engine::Pad;
use app::origin::{Origin, Spot, origin};
use app::parts::Part;
use app::what_if::{Choice, FilterState};
use app::work::queue::{Numbered, Said};
use app::work::{Answer, Asked, Desk, Question, Room, Texts};
use document::content::Kind;
use document::units::Printing;
use records::{UnitSystem, read_pad};

fn asked(pad: Pad, question: Question) -> Asked {
    Asked {
        pad: Texts::from(pad),
        units: None,
        language: String::new(),
        room: Room::Narrow,
        question,
    }
}

fn answer(question: Question) -> Answer {
    Desk::default().answer(&asked(app::demo::pad(), question))
}

fn printing() -> Printing {
    Printing::english(UnitSystem::Us)
}

#[test]
fn a_question_and_its_answer_survive_the_way_as_text() {
    let mut desk = Desk::default();
    for question in [
        Question::Numbers,
        Question::Lost { speed_rpm: None },
        Question::Day,
        Question::WhatIf(Choice::default()),
        Question::Since,
    ] {
        let numbered = Numbered {
            number: 7,
            asked: asked(app::demo::pad(), question),
        };
        let text = serde_json::to_string(&numbered).unwrap();
        assert_eq!(serde_json::from_str::<Numbered>(&text).unwrap(), numbered);
        let answer = desk.answer(&numbered.asked);
        assert!(!matches!(answer, Answer::Refused(_)), "{answer:?}");
        let said = Said::Done { number: 7, answer };
        let text = serde_json::to_string(&said).unwrap();
        assert!(serde_json::from_str::<Said>(&text).unwrap() == said);
    }
}

#[test]
fn a_desk_that_knows_the_pad_answers_as_a_new_one() {
    let mut desk = Desk::default();
    let question = || Question::Lost {
        speed_rpm: Some(2000.0),
    };
    let both = asked(app::demo::pad(), question());
    let mut first_alone = app::demo::pad();
    first_alone.tests.truncate(1);
    let alone = asked(first_alone, question());
    for of in [&both, &alone, &both, &both] {
        assert_eq!(desk.answer(of), Desk::default().answer(of));
    }
    assert_ne!(desk.answer(&both), desk.answer(&alone));
}

#[test]
fn a_slider_that_came_by_many_places_is_answered_as_one_that_came_straight_there() {
    let bore = |size: &str| Some(size.to_owned());
    let plain = Choice::default();
    let dear = Choice {
        price_percent: Some(150),
        ..plain.clone()
    };
    let choices = [
        plain.clone(),
        Choice {
            bore: bore("2 in"),
            ..plain.clone()
        },
        dear.clone(),
        Choice {
            bore: bore("2-1/2 in"),
            filter: FilterState::Double,
            ..dear
        },
        Choice {
            filter: FilterState::Clean,
            turnovers: Some(0.75),
            ..plain.clone()
        },
        Choice {
            bore: bore("2 in"),
            ..plain
        },
    ];
    let mut desk = Desk::default();
    for choice in choices {
        for question in [
            Question::WhatIf(choice.clone()),
            Question::Compared(choice.clone()),
        ] {
            let asked = asked(app::demo::pad(), question);
            // The numbers of the whole comparison are compared to their last digit.
            let (known, new) = (desk.answer(&asked), Desk::default().answer(&asked));
            assert!(!matches!(new, Answer::Refused(_)), "{new:?}");
            assert!(known == new, "{choice:?}");
        }
    }
}

#[test]
fn numbers_and_words_are_those_of_the_documents() {
    let pad = app::demo::pad();
    let (site, tests) = read_pad(&pad.site, &pad.tests).unwrap();
    let analysis = fieldtest::analyze(&site, &tests);
    let Answer::Told(since) = answer(Question::Since) else {
        panic!("no return visit");
    };
    let found = fieldtest::follow_up(&site, &tests, &analysis, 0).unwrap();
    assert_eq!(since.json, document::track::json(&site, &found, printing()));
    assert_eq!(
        since.parts,
        app::parts::parts(document::track::content(&site, &found, printing()))
    );
    let Answer::Numbers(numbers) = answer(Question::Numbers) else {
        panic!("no numbers");
    };
    assert_eq!(numbers, app::engine::analyze(&pad, None).unwrap().json);
}

#[test]
fn shares_stand_in_order_and_within_their_ends() {
    let Answer::Lost(lost) = answer(Question::Lost { speed_rpm: None }) else {
        panic!("no budget");
    };
    assert_eq!(lost.shares.len(), 4);
    for pair in lost.shares.windows(2) {
        assert!(pair[0].span.1 >= pair[1].span.1);
    }
    for share in &lost.shares {
        let (low, value, high) = share.span;
        assert!(low <= value && value <= high, "{share:?}");
    }
    // Nothing is lifted here, so the lines take it all.
    let sum: f64 = lost.shares.iter().map(|share| share.span.1).sum();
    // Four shares, each rounded to four decimals.
    assert!((sum - 1.0).abs() < 2.5e-4, "{sum}");
    assert!(lost.told.figures[0].svg.contains("return 1"));
}

#[test]
fn a_wider_return_has_a_verdict_and_a_file() {
    let choice = Choice {
        bore: Some("2 in".to_owned()),
        ..Choice::default()
    };
    let mut desk = Desk::default();
    let question = asked(app::demo::pad(), Question::WhatIf(choice));
    let first = desk.answer(&question);
    assert_eq!(desk.answer(&question), first, "what was worked out is kept");
    let Answer::WhatIf(weighed) = first else {
        panic!("no verdict");
    };
    let Part::Answers(said) = &weighed.short[0] else {
        panic!("{:?}", weighed.short);
    };
    assert_eq!(said[0].word, "Returns in 2 in pipe");
    assert!(said.iter().any(|said| said.word == "A year"));
    assert!(said.iter().any(|said| said.word == "Top speed"));
    assert!(weighed.change.unwrap().contains("[[part]]"));
}

#[test]
fn what_is_missing_is_said_with_where_the_mend_is() {
    let mut pad = app::demo::pad();
    pad.site.text = pad.site.text.replace("turnover = \"1 per day\"\n", "");
    let tasks = pad.site.text.find("tasks = ").unwrap();
    let end = tasks + pad.site.text[tasks..].find('\n').unwrap();
    pad.site.text.replace_range(tasks..=end, "");
    let Answer::Refused(refused) = Desk::default().answer(&asked(pad, Question::Day)) else {
        panic!("a day with nothing to do");
    };
    assert!(
        refused.lies_in_site && refused.hint.is_some(),
        "{refused:?}"
    );
    let mut alone = app::demo::pad();
    alone.tests.truncate(1);
    let Answer::Refused(refused) = Desk::default().answer(&asked(alone, Question::Since)) else {
        panic!("one visit was compared");
    };
    assert!(!refused.lies_in_site);
}

#[test]
fn texts_that_are_not_in_order_are_told_with_their_place() {
    let mut pad = app::demo::pad();
    pad.site.text.push_str("nonsense = 1\n");
    let Answer::Refused(refused) = Desk::default().answer(&asked(pad, Question::Day)) else {
        panic!("it was read");
    };
    assert!(refused.says.starts_with("site.toml, line "), "{refused:?}");
}

#[test]
fn numbers_of_every_view_tell_where_they_come_from() {
    let pad = app::demo::pad();
    let answered = app::answer::answer(&pad, None, records::Language::English).unwrap();
    let analysis = answered.analysis();
    let told = |question| match answer(question) {
        Answer::Told(told) => told.parts,
        Answer::Lost(lost) => lost.told.parts,
        other => panic!("{other:?}"),
    };
    for (of, question) in [
        ("lost", Question::Lost { speed_rpm: None }),
        ("day", Question::Day),
        ("what if", Question::Compared(Choice::default())),
        ("since", Question::Since),
    ] {
        let mut found = 0;
        for part in told(question) {
            let Part::Table { name, table } = part else {
                continue;
            };
            for (row, cells) in table.rows.iter().enumerate() {
                for column in 0..cells.len() {
                    let spot = Spot::Cell {
                        table: &table,
                        row,
                        column,
                    };
                    let Some(origin) = origin(analysis, spot) else {
                        continue;
                    };
                    let from = answered.where_from(&origin);
                    // Off is no speed of a law.
                    if from.is_none() {
                        assert!(
                            matches!(origin, Origin::Law { .. }),
                            "{of:?} {name} {origin:?}"
                        );
                        continue;
                    }
                    let from = from.unwrap();
                    assert!(!from.method.formula.is_empty() && !from.method.source.is_empty());
                    assert!(!from.readings.is_empty(), "{of:?} {name} {origin:?}");
                    found += 1;
                }
            }
        }
        assert!(found > 3, "{of:?}: {found}");
    }
}

#[test]
fn every_limit_names_its_rule() {
    let answered =
        app::answer::answer(&app::demo::pad(), None, records::Language::English).unwrap();
    let limits = &answered.analysis().limits;
    assert!(limits.len() > 3);
    for (index, limit) in limits.iter().enumerate() {
        let from = answered.where_from(&Origin::Limit(index)).unwrap();
        assert!(from.method.source.starts_with(&limit.source));
        assert_eq!(from.title.as_ref(), Some(&limit.applies_to));
    }
    let head = Origin::Other {
        kind: Kind::Head,
        name: "return 1".to_owned(),
    };
    let from = answered.where_from(&head).unwrap();
    assert!(
        from.readings
            .iter()
            .any(|read| read.column.contains("pressure"))
    );
    assert!(answered.where_from(&Origin::Limit(limits.len())).is_none());
}
