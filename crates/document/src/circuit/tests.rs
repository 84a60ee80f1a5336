//! Drawings of pads as they are stated: every one can be read, whatever its lines join.

use super::circuit;
use crate::readable::{outline, readable};
use crate::units::Printing;
use charts::{Size, Standing, Theme, Way};
use fieldtest::{NetworkProblem, PadQuestion, SolvedPad, solve_pad};
use proptest::collection::vec;
use proptest::prelude::*;
use records::{Line, Part, Site, Source, UnitSystem, read_part, read_site};

const LARKSPUR: &str = include_str!("../../../../examples/larkspur-lane/site.toml");
const BIRKENWEG: &str = include_str!("../../../../examples/haus-birkenweg/site.toml");

const US: Printing = Printing::english(UnitSystem::Us);
const SI: Printing = Printing::english(UnitSystem::Si);

fn source(text: &str) -> Source {
    Source {
        name: "site.toml".to_owned(),
        text: text.to_owned(),
    }
}

fn site(text: &str) -> Site {
    read_site(&source(text)).unwrap()
}

fn solved(site: &Site, speed_rpm: f64, closed: &[String]) -> Result<SolvedPad, NetworkProblem> {
    let question = PadQuestion {
        speed_rpm,
        closed,
        temperature_k: None,
    };
    solve_pad(site, &question)
}

/// Draws a pad in both sizes and holds it to its promises.
fn hold(site: &Site, flows: Result<&SolvedPad, &NetworkProblem>, printing: Printing) {
    let drawn = circuit(site, flows, printing).unwrap();
    for size in Size::ALL {
        let svg = drawn.svg(Theme::Light, size).unwrap();
        readable(&svg);
        assert_eq!(drawn.svg(Theme::Light, size).unwrap(), svg);
        for index in 0..site.lines.len() {
            assert!(svg.contains(&format!("data-line=\"{index}\"")), "{svg}");
        }
    }
}

/// Lines of every kind that the reader lets through, and some that it does not.
fn line() -> impl Strategy<Value = Line> {
    let end = || {
        let ends = [
            "pool",
            "spa",
            "basin",
            "pump inlet",
            "pump outlet",
            "a",
            "b",
            "c",
        ];
        prop::sample::select(ends.to_vec()).prop_map(str::to_owned)
    };
    let name = prop_oneof!["return [1-9]", "[ -~]{1,80}", "\\PC{1,40}"];
    (
        name,
        end(),
        end(),
        prop::bool::weighted(0.1),
        vec(part(), 0..12),
    )
        .prop_map(|(name, from, to, unknown, parts)| Line {
            name,
            from,
            to,
            unknown,
            parts,
        })
}

fn part() -> impl Strategy<Value = Part> {
    let kinds = [
        "pipe = \"2 in\", spec = \"PVC Sch 40\", length = { about = \"46 ft\", factor = 1.5 }",
        "pipe_bore = \"57 mm\", roughness = \"0.0015 mm\", length = \"11 m\"",
        "fitting = \"90 elbow\", count = 7",
        "tee = \"branch\"",
        "valve = \"ball\"",
        "filter = \"cartridge\", clean = { flow = \"60 gpm\", drop = \"2.4 psi\" }",
        "heater = \"gas\", min_flow = \"35 gpm\"",
        "cover = \"floor\", count = 2",
        "outlet = \"eyeball\", bore = \"0.75 in\", count = 2",
        "k = 4.2",
    ];
    prop::sample::select(kinds.to_vec()).prop_map(|text| read_part(&source(text)).unwrap())
}

const BODIES: &str = "\
[[body]]
name = \"spa\"
level = \"18 in\"
[[body]]
name = \"basin\"
level = \"-2 ft\"
";

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn whatever_the_lines_join_can_be_read(lines in vec(line(), 1..21)) {
        let mut pad = site(&format!("{LARKSPUR}{BODIES}"));
        pad.lines = lines;
        let flows = solved(&pad, 2400.0, &[]);
        hold(&pad, flows.as_ref(), US);
    }

    #[test]
    fn a_solved_pad_of_any_breadth_can_be_read(
        suctions in 1_usize..6,
        returns in 2_usize..12,
        speed_rpm in 450.0_f64..3450.0,
        shut in any::<bool>(),
    ) {
        let mut pad = site(&format!("{LARKSPUR}{BODIES}"));
        let copies = |line: &Line, count: usize| (0..count).map(|index| Line {
            name: format!("{} beside {index}", line.name),
            ..line.clone()
        }).collect::<Vec<_>>();
        let (suction, back) = (copies(&pad.lines[0], suctions - 1), copies(&pad.lines[3], returns - 2));
        let closed = if shut { vec!["return 2".to_owned()] } else { Vec::new() };
        pad.lines.extend(suction.into_iter().chain(back));
        let flows = solved(&pad, speed_rpm, &closed);
        prop_assert!(flows.is_ok());
        for printing in [US, SI] {
            hold(&pad, flows.as_ref(), printing);
        }
    }
}

#[test]
fn without_a_line_there_is_no_drawing() {
    let mut pad = site(LARKSPUR);
    pad.lines.clear();
    assert!(circuit(&pad, Err(&NetworkProblem::NoLines), US).is_none());
}

#[test]
fn a_line_says_what_flows_and_what_it_passes() {
    let pad = site(LARKSPUR);
    let closed = ["return 2".to_owned()];
    let flows = solved(&pad, 3450.0, &closed).unwrap();
    let drawn = circuit(&pad, Ok(&flows), US).unwrap();
    let line = |name: &str| drawn.lines.iter().find(|line| line.name == name).unwrap();
    let (open, shut) = (line("return 1"), line("return 2"));
    assert_eq!(open.standing, Standing::Passed);
    assert!(
        open.values.ends_with("\u{A0}ft/s, limit\u{A0}8"),
        "{}",
        open.values
    );
    assert_eq!((shut.standing, shut.way), (Standing::Shut, Way::Still));
    assert_eq!(shut.values, "shut");
    assert_eq!(line("equipment pad").standing, Standing::Kept);
    let labels = open.parts.iter().map(|part| part.label.as_str());
    assert_eq!(
        labels.collect::<Vec<_>>(),
        ["1.5 in, 52 ft", "6 fittings", "2 × eyeball"]
    );
}

#[test]
fn water_that_runs_backwards_is_drawn_and_told_so() {
    let turned = LARKSPUR.replacen(
        "from = \"pad outlet\"\nto = \"pool\"",
        "from = \"pool\"\nto = \"pad outlet\"",
        1,
    );
    let pad = site(&turned);
    let flows = solved(&pad, 2400.0, &[]).unwrap();
    let drawn = circuit(&pad, Ok(&flows), US).unwrap();
    assert_eq!(drawn.lines[2].way, Way::Backwards);
    let told = &drawn.lines[2].told;
    assert!(
        told.starts_with("return 1, from pad outlet to pool: "),
        "{told}"
    );
    assert!(told.contains("against its stated direction"), "{told}");
}

#[test]
fn what_is_not_stated_is_said() {
    let mut pad = site(LARKSPUR);
    pad.lines[3].unknown = true;
    let problem = solved(&pad, 2400.0, &[]).unwrap_err();
    let drawn = circuit(&pad, Err(&problem), US).unwrap();
    assert_eq!(drawn.lines[3].values, "not stated");
    assert_eq!(drawn.lines[0].standing, Standing::Unjudged);
    assert_eq!(drawn.note, "Not solved: of return 2 nothing is known.");
}

#[test]
fn a_spa_with_a_spillover_is_drawn() {
    let more = "\
[[line]]
name = \"spa jets\"
from = \"pad outlet\"
to = \"spa\"
parts = [ { pipe = \"1.5 in\", spec = \"PVC Sch 40\", length = \"25 ft\" } ]
[[line]]
name = \"spillover\"
from = \"spa\"
to = \"pool\"
parts = [ { spillover = \"weir\", height = \"18 in\" } ]
";
    let pad = site(&format!("{LARKSPUR}{BODIES}{more}"));
    let flows = solved(&pad, 2400.0, &[]);
    hold(&pad, flows.as_ref(), US);
    let drawn = circuit(&pad, flows.as_ref(), US).unwrap();
    let shown = readable(&drawn.svg(Theme::Sun, Size::Narrow).unwrap());
    assert!(
        shown.contains(&"spa, 1.5 ft above the pool".to_owned()),
        "{shown:?}"
    );
}

#[test]
fn the_examples_are_drawn_as_they_were() {
    for (name, text, printing) in [
        ("larkspur_lane", LARKSPUR, US),
        ("haus_birkenweg", BIRKENWEG, SI),
    ] {
        let pad = site(text);
        let flows = solved(&pad, 2400.0, &[]);
        hold(&pad, flows.as_ref(), printing);
        let drawn = circuit(&pad, flows.as_ref(), printing).unwrap();
        let outlines = Size::ALL.map(|size| outline(&drawn.svg(Theme::Light, size).unwrap()));
        let told = format!("{}\n{}", outlines.join("\n"), drawn.description);
        insta::assert_snapshot!(name, told);
    }
}
