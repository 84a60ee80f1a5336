//! Whatever a circuit joins, its drawing is well formed, and its texts can be read.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod support;

use charts::{
    Circuit, CircuitLine, CircuitPart, CircuitPump, Place, PlaceKind, Shape, Size, Standing, Theme,
    Way,
};
use proptest::collection::vec;
use proptest::prelude::*;
use roxmltree::{Document, Node};
use support::{faults, number, texts};

/// Names as people and bad files have them.
fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        "[ -~]{0,20}",
        "[ -~]{60,80}",
        "\\PC{0,20}",
        Just("6\u{A0}ft/s in <skimmer> & \"suction\"".to_owned()),
    ]
}

fn part() -> impl Strategy<Value = CircuitPart> {
    let shape = prop::sample::select(vec![Shape::Pipe, Shape::Box, Shape::Dot]);
    (name(), shape).prop_map(|(label, shape)| CircuitPart { label, shape })
}

fn line() -> impl Strategy<Value = CircuitLine> {
    let standing = prop::sample::select(vec![
        Standing::Unjudged,
        Standing::Kept,
        Standing::Passed,
        Standing::Shut,
        Standing::Unstated,
    ]);
    let way = prop::sample::select(vec![Way::Forwards, Way::Backwards, Way::Still]);
    // Now and then a line leads to a place that there is not.
    let ends = (0_usize..13, 0_usize..13);
    (name(), name(), ends, standing, way, vec(part(), 0..9)).prop_map(
        |(name, values, (from, to), standing, way, parts)| CircuitLine {
            told: name.clone(),
            name,
            from,
            to,
            values,
            standing,
            way,
            parts,
        },
    )
}

fn circuit() -> impl Strategy<Value = Circuit> {
    let kind = prop_oneof![1 => Just(PlaceKind::Water), 2 => Just(PlaceKind::Joint)];
    let place = (name(), kind).prop_map(|(name, kind)| Place { name, kind });
    let pump = (0_usize..13, 0_usize..13, vec(name(), 0..5)).prop_map(|(inlet, outlet, words)| {
        CircuitPump {
            inlet,
            outlet,
            words,
            told: "the pump".to_owned(),
        }
    });
    let words = (name(), name(), name());
    let parts = (
        vec(place, 12..13),
        proptest::option::weighted(0.8, pump),
        vec(line(), 0..21),
    );
    (words, parts).prop_map(|(words, (places, pump, lines))| Circuit {
        title: words.0,
        description: words.1,
        note: words.2,
        places,
        pump,
        lines,
    })
}

/// Lists the groups of the lines with the numbers that they carry.
fn groups<'a, 'input>(document: &'a Document<'input>) -> Vec<(usize, Node<'a, 'input>)> {
    let nodes = document.descendants();
    nodes
        .filter_map(|node| Some((node.attribute("data-line")?.parse().unwrap(), node)))
        .collect()
}

/// Lists the numbers of a path, which are all places.
fn numbers(path: &str) -> Vec<f64> {
    path.split(|sign: char| sign.is_ascii_alphabetic() || sign == ' ')
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().unwrap())
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    #[test]
    fn a_circuit_is_well_formed_and_readable(circuit in circuit()) {
        let joined = |line: &CircuitLine| line.from < 12 && line.to < 12;
        for size in Size::ALL {
            let Some(svg) = circuit.svg(Theme::Light, size) else {
                prop_assert!(!circuit.lines.iter().any(joined));
                continue;
            };
            prop_assert!(svg.starts_with(charts::OPENING));
            let found = faults(&svg);
            prop_assert!(found.is_empty(), "{:#?}\n{}", found, svg);
            prop_assert_eq!(&svg, &circuit.svg(Theme::Light, size).unwrap());
            let document = Document::parse(&svg).unwrap();
            let mut drawn: Vec<usize> = groups(&document).iter().map(|(index, _)| *index).collect();
            drawn.sort_unstable();
            let numbered = circuit.lines.iter().enumerate();
            let stated: Vec<usize> = numbered.filter(|(_, line)| joined(line)).map(|(index, _)| index).collect();
            prop_assert_eq!(drawn, stated);
        }
    }

    #[test]
    fn every_mark_stays_in_the_frame_and_no_two_lanes_meet(circuit in circuit()) {
        for size in Size::ALL {
            let Some(svg) = circuit.svg(Theme::Dark, size) else { continue };
            let document = Document::parse(&svg).unwrap();
            let root = document.root_element();
            let most = number(root, "width").max(number(root, "height"));
            for path in document.descendants().filter_map(|node| node.attribute("d")) {
                prop_assert!(numbers(path).iter().all(|place| (0.0..=most).contains(place)), "{}", path);
            }
            let targets: Vec<[f64; 4]> = document
                .descendants()
                .filter(|node| node.attribute("class") == Some("target"))
                .map(|node| node.first_element_child().unwrap())
                .map(|rect| ["x", "y", "width", "height"].map(|name| number(rect, name)))
                .collect();
            for (index, [x, y, wide, high]) in targets.iter().enumerate() {
                prop_assert!(*wide >= 48.0 && *high >= 48.0, "{} by {}", wide, high);
                for [left, top, across, down] in &targets[index + 1..] {
                    let apart = x + wide <= *left || left + across <= *x || y + high <= top + 0.01 || top + down <= y + 0.01;
                    prop_assert!(apart);
                }
            }
        }
    }
}

fn plain() -> Circuit {
    let place = |name: &str, kind: PlaceKind| Place {
        name: name.to_owned(),
        kind,
    };
    let line = |name: &str, from: usize, to: usize| CircuitLine {
        name: name.to_owned(),
        from,
        to,
        values: "56.1 gpm".to_owned(),
        told: format!("{name}: 56.1 gpm <all> of it"),
        standing: Standing::Kept,
        way: Way::Forwards,
        parts: Vec::new(),
    };
    Circuit {
        title: "Every limit is kept".to_owned(),
        description: "A pool, a pump and two lines.".to_owned(),
        note: String::new(),
        places: vec![
            place("pool", PlaceKind::Water),
            place("pump inlet", PlaceKind::Joint),
            place("pump outlet", PlaceKind::Joint),
        ],
        pump: Some(CircuitPump {
            inlet: 1,
            outlet: 2,
            words: vec!["pump".to_owned()],
            told: "the pump".to_owned(),
        }),
        lines: vec![line("suction", 0, 1), line("return", 2, 0)],
    }
}

#[test]
fn a_page_finds_a_line_by_its_number_and_a_reader_by_its_title() {
    let svg = plain().svg(Theme::Light, Size::Narrow).unwrap();
    let document = Document::parse(&svg).unwrap();
    assert_eq!(document.root_element().attribute("role"), Some("group"));
    let (_, group) = groups(&document)[1];
    assert_eq!(group.attribute("class"), Some("circuit-line"));
    let title = group.first_element_child().unwrap();
    assert!(title.has_tag_name("title"));
    assert_eq!(title.text(), Some("return: 56.1 gpm <all> of it"));
}

#[test]
fn a_name_that_is_too_long_is_cut_and_told_whole_in_the_title() {
    let mut circuit = plain();
    let long = "return along the long wall beyond the deep end, which nobody has ever shortened";
    circuit.lines[1].name = long.to_owned();
    circuit.lines[1].told = long.to_owned();
    let svg = circuit.svg(Theme::Light, Size::Narrow).unwrap();
    let document = Document::parse(&svg).unwrap();
    let shown = texts(&document);
    let cut = shown.iter().find(|text| text.words.starts_with("return"));
    let cut = cut.unwrap().words.strip_suffix('…').unwrap();
    assert!(long.starts_with(cut) && cut.len() > 20);
    assert!(svg.contains(&format!("<title>{long}</title>")));
}

#[test]
fn an_arrow_turns_with_the_water_and_a_shut_line_has_none() {
    let arrows = |way: Way| {
        let mut circuit = plain();
        circuit.lines[0].way = way;
        let svg = circuit.svg(Theme::Light, Size::Wide).unwrap();
        let document = Document::parse(&svg).unwrap();
        let (_, group) = groups(&document)[0];
        let paths = group.descendants().filter_map(|node| node.attribute("d"));
        paths.map(numbers).collect::<Vec<_>>()
    };
    let tip = |paths: &[Vec<f64>]| paths[1][2] - paths[1][0];
    assert!(tip(&arrows(Way::Forwards)) > 0.0);
    assert!(tip(&arrows(Way::Backwards)) < 0.0);
    assert_eq!(arrows(Way::Still).len(), 1);
}

#[test]
fn without_a_line_there_is_no_drawing() {
    let mut circuit = plain();
    circuit.lines.clear();
    assert_eq!(circuit.svg(Theme::Light, Size::Wide), None);
}
