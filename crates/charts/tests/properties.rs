//! Whatever a figure is made of, it is well formed, and its texts can be read.

mod support;

use charts::{
    At, Axis, Curve, CurveKind, CurvePoint, Figure, Highlight, LeftOut, Point, Rule, Size, Span,
    Start, Theme, Weight,
};
use proptest::collection::vec;
use proptest::prelude::*;
use roxmltree::Document;
use support::{faults, number, texts};

fn axis(title: String, start: Start) -> Axis {
    Axis {
        title,
        start,
        write: |value, decimals| format!("{value:.decimals$}"),
    }
}

/// Names as people and bad files have them.
fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        "[ -~]{0,40}",
        "[ -~]{60,80}",
        "\\PC{0,20}",
        any::<Vec<char>>().prop_map(|signs| signs.into_iter().take(30).collect()),
        Just("6\u{A0}ft/s in <skimmer> & \"suction\"".to_owned()),
    ]
}

/// Numbers of a pad, and now and then what no pad has.
fn value() -> impl Strategy<Value = f64> {
    prop_oneof![
        20 => 0.0..5000.0_f64,
        2 => -10.0..10.0_f64,
        1 => any::<f64>(),
    ]
}

fn span() -> impl Strategy<Value = Span> {
    (value(), 0.0..0.5_f64, 0.0..0.5_f64).prop_map(|(value, below, above)| Span {
        low: value - below * value.abs(),
        value,
        high: value + above * value.abs(),
    })
}

fn curve() -> impl Strategy<Value = Curve> {
    let kind = prop_oneof![Just(CurveKind::Law), Just(CurveKind::Context)];
    (name(), kind, vec((value(), span()), 0..60)).prop_map(|(label, kind, mut points)| {
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        Curve {
            label,
            kind,
            points: points
                .into_iter()
                .map(|(x, y)| CurvePoint { x, y })
                .collect(),
        }
    })
}

fn rule() -> impl Strategy<Value = Rule> {
    let at = prop_oneof![value().prop_map(At::X), value().prop_map(At::Y)];
    let weight = prop_oneof![Just(Weight::Act), Just(Weight::Context)];
    (at, name(), weight).prop_map(|(at, label, weight)| Rule { at, label, weight })
}

fn figure() -> impl Strategy<Value = Figure> {
    let start = || prop_oneof![Just(Start::Zero), Just(Start::Data)];
    let point = (value().prop_map(Span::exact), span()).prop_map(|(x, y)| Point {
        x,
        y,
        told: "told".to_owned(),
    });
    let left_out = (value(), value(), name()).prop_map(|(x, y, label)| LeftOut { x, y, label });
    let highlight = (value(), 0.0..500.0_f64, name()).prop_map(|(from, wide, label)| Highlight {
        from,
        to: from + wide,
        label,
    });
    let words = (name(), name(), name(), name(), name());
    let marks = (
        vec(curve(), 0..3),
        vec(point, 0..200),
        vec(left_out, 0..6),
        vec(rule(), 0..12),
        proptest::option::of(highlight),
    );
    (words, marks, start(), start()).prop_map(|(words, marks, x, y)| Figure {
        title: words.0,
        description: words.1,
        note: words.2,
        x: axis(words.3, x),
        y: axis(words.4, y),
        curves: marks.0,
        points: marks.1,
        left_out: marks.2,
        rules: marks.3,
        highlight: marks.4,
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn a_figure_is_well_formed_and_readable(figure in figure()) {
        for size in Size::ALL {
            let Some(svg) = figure.svg(Theme::Light, size) else {
                let fit = |span: &Span| [span.low, span.high].iter().all(|end| end.abs() < 1e9);
                prop_assert!(!figure.points.iter().any(|point| fit(&point.x) && fit(&point.y)));
                continue;
            };
            prop_assert!(svg.starts_with(charts::OPENING));
            let found = faults(&svg);
            prop_assert!(found.is_empty(), "{:#?}\n{}", found, svg);
            prop_assert_eq!(&svg, &figure.svg(Theme::Light, size).unwrap());
        }
    }

    #[test]
    fn every_mark_stays_in_the_frame(figure in figure()) {
        if let Some(svg) = figure.svg(Theme::Dark, Size::Narrow) {
            let document = Document::parse(&svg).unwrap();
            let root = document.root_element();
            let (wide, high) = (number(root, "width"), number(root, "height"));
            for node in document.descendants() {
                for (names, most) in [(["x1", "x2", "cx"], wide), (["y1", "y2", "cy"], high)] {
                    for place in names.iter().filter_map(|name| node.attribute(*name)) {
                        let place: f64 = place.parse().unwrap();
                        prop_assert!((0.0..=most).contains(&place), "{:?}", node);
                    }
                }
            }
        }
    }
}

fn plain(label: &str) -> Figure {
    Figure {
        title: "Flow grows with speed".to_owned(),
        description: "At 600 rpm 10, at 3450 rpm 94.".to_owned(),
        note: String::new(),
        x: axis("Speed, rpm".to_owned(), Start::Data),
        y: axis("Flow, gpm".to_owned(), Start::Zero),
        highlight: None,
        curves: vec![Curve {
            label: label.to_owned(),
            kind: CurveKind::Law,
            points: (0..=20)
                .map(|i| f64::from(i) * 142.5)
                .map(|x| CurvePoint {
                    x: 600.0 + x,
                    y: Span::exact(10.0 + x / 34.0),
                })
                .collect(),
        }],
        points: Vec::new(),
        left_out: Vec::new(),
        rules: Vec::new(),
    }
}

#[test]
fn a_name_is_read_back_as_it_was_written() {
    let label = "a <b> & \"c\"";
    let svg = plain(label).svg(Theme::Light, Size::Wide).unwrap();
    let document = Document::parse(&svg).unwrap();
    assert!(texts(&document).iter().any(|text| text.words == label));
    let told = |tag: &str| {
        let node = document.descendants().find(|node| node.has_tag_name(tag));
        node.unwrap().text().unwrap().to_owned()
    };
    assert_eq!(told("title"), "Flow grows with speed");
    assert_eq!(told("desc"), "At 600 rpm 10, at 3450 rpm 94.");
    assert_eq!(document.root_element().attribute("role"), Some("img"));
}

#[test]
fn without_a_number_there_is_no_figure() {
    let mut figure = plain("law");
    figure.curves.clear();
    assert_eq!(figure.svg(Theme::Light, Size::Wide), None);
    figure.left_out.push(LeftOut {
        x: 600.0,
        y: f64::NAN,
        label: "row 3".to_owned(),
    });
    assert_eq!(figure.svg(Theme::Light, Size::Wide), None);
    figure.left_out[0].y = 5.0;
    assert!(figure.svg(Theme::Light, Size::Wide).is_some());
}

#[test]
fn what_lies_beyond_the_frame_is_kept_in_view_with_an_arrow() {
    let mut figure = plain("law");
    let count = |figure: &Figure, tag: &str| {
        let svg = figure.svg(Theme::Light, Size::Narrow).unwrap();
        svg.matches(&format!("<{tag} ")).count()
    };
    let paths = count(&figure, "path");
    figure.left_out.push(LeftOut {
        x: 2300.0,
        y: 940.0,
        label: "row 9".to_owned(),
    });
    assert_eq!(count(&figure, "circle"), 1);
    assert_eq!(count(&figure, "path"), paths + 1);
    figure.left_out[0].y = 30.0;
    assert_eq!(count(&figure, "path"), paths);
}
