//! Figures of made-up pads: every one can be read, in both sizes and both systems of units.

use super::{NamedFigure, figures};
use crate::readable::{outline, readable};
use crate::units::Printing;
use charts::{Size, Theme};
use fieldtest::analyze;
use fieldtest::simulation::{SimulatedTest, random_pad_test, random_test};
use proptest::prelude::*;
use records::{Site, Source, Test, UnitSystem, read_pad, read_site, read_test};

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

const US: Printing = Printing::english(UnitSystem::Us);
const SI: Printing = Printing::english(UnitSystem::Si);

/// A pad whose suction, task and heater set limits.
const PAD: &str = r#"
format = 1
name = "pad <of> \"names\" & more"
[pump]
speed = { min = "450 rpm", max = "3450 rpm" }
curve_speed = "3450 rpm"
curve = [ { flow = "0 gpm", head = "92 ft" }, { flow = "60 gpm", head = "78 ft" }, { flow = "100 gpm", head = "57 ft" } ]
[[line]]
name = "suction"
from = "pool"
to = "pump inlet"
parts = [ { pipe = "2 in", spec = "PVC Sch 40", length = "40 ft" } ]
[[line]]
name = "return"
from = "pump outlet"
to = "pool"
parts = [ { pipe = "2 in", spec = "PVC Sch 40", length = "60 ft" }, { heater = "gas", min_flow = "35 gpm" } ]
[operation]
tasks = [ { name = "skimming", min_flow = "30 gpm", hours = 4 } ]
"#;

fn read(site: &str, readings: &str) -> (Site, Test) {
    let site = read_site(&source("site.toml", site)).unwrap();
    let head = source("first.toml", "format = 1\nreadings = \"steps.csv\"\n");
    let test = read_test(&head, Some(&source("steps.csv", readings))).unwrap();
    (site, test)
}

fn drawn(site: &str, readings: &str, printing: Printing) -> Vec<NamedFigure> {
    let (site, test) = read(site, readings);
    figures(&site, &analyze(&site, &[test]), printing)
}

fn of_simulated(test: &SimulatedTest, printing: Printing) -> Vec<NamedFigure> {
    let (site, tests) = read_pad(&test.site(), &[test.files()]).unwrap();
    figures(&site, &analyze(&site, &tests), printing)
}

/// Finds the figure of a quantity.
fn of<'a>(figures: &'a [NamedFigure], quantity: &str) -> &'a NamedFigure {
    let mut found = figures
        .iter()
        .filter(|named| named.name.ends_with(quantity));
    found.next().unwrap()
}

/// Holds a figure to what every figure promises.
fn hold(named: &NamedFigure) {
    let figure = &named.figure;
    assert!(
        !figure.title.is_empty()
            && figure
                .description
                .starts_with(&figure.title.replace('\u{A0}', " "))
    );
    for size in Size::ALL {
        let svg = figure.svg(Theme::Light, size).unwrap();
        let texts = readable(&svg);
        // The lines and what to do are always named.
        let shown = texts.concat().replace(' ', "");
        let curves = figure.curves.iter().filter(|curve| curve.points.len() > 1);
        let labels = curves.map(|curve| &curve.label);
        for label in labels.chain(figure.highlight.iter().map(|stretch| &stretch.label)) {
            assert!(
                shown.contains(&label.replace(' ', "")),
                "{label} in {shown}"
            );
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn figures_of_made_up_pads_can_be_read(seed in 0_u64..1_000_000, steps in 1_usize..40) {
        let test = random_pad_test(seed, steps).unwrap();
        for printing in [US, SI] {
            let figures = of_simulated(&test, printing);
            prop_assert!(figures.len() >= 3);
            figures.iter().for_each(hold);
        }
        let faulty = random_test(seed).unwrap().test;
        of_simulated(&faulty, US).iter().for_each(hold);
    }

    #[test]
    fn a_pad_of_any_size_can_be_read(gpm in 0.1_f64..500.0, watts in 20.0_f64..4000.0, steps in 1_u32..200) {
        let rows = (0..steps).map(|step| {
            let share = 0.3 + 0.7 * f64::from(step + 1) / f64::from(steps);
            format!("{:.0},{},{}\n", 3450.0 * share, gpm * share, 40.0 + watts * share * share * share)
        });
        let readings = "speed [rpm],flow [gpm],power [W]\n".to_owned() + &rows.collect::<String>();
        for printing in [US, SI] {
            let figures = drawn(PAD, &readings, printing);
            prop_assert!(figures.len() >= 3);
            figures.iter().for_each(hold);
        }
    }
}

const STEPS: &str = "\
speed [rpm],flow [gpm],power [W],filter pressure [psi],inlet vacuum [inHg]
600,11.4,93,0.0,1.6
1100,27.7,151,1.3,2.3
1700,45.4,345,4.0,4.0
2300,6.29,742,8.1,6.3
2900,80.4,1431,12.9,9.2
3450,96.1,2395,18.7,12.6
";

#[test]
fn titles_say_the_finding() {
    let figures = drawn(PAD, STEPS, US);
    let names: Vec<&str> = figures.iter().map(|named| named.name.as_str()).collect();
    assert_eq!(
        names,
        ["first-flow", "first-power", "first-energy", "first-head"]
    );
    let title = |quantity: &str| of(&figures, quantity).figure.title.replace('\u{A0}', " ");
    assert!(
        title("flow").starts_with("6 ft/s in suction is met at about "),
        "{}",
        title("flow")
    );
    assert!(
        title("power").ends_with(" W whatever the speed, 2400 W at 3450 rpm"),
        "{}",
        title("power")
    );
    assert!(
        title("energy").starts_with("Cheapest water between "),
        "{}",
        title("energy")
    );
    assert!(
        title("head").starts_with("The circuit takes "),
        "{}",
        title("head")
    );
}

#[test]
fn a_refuted_reading_is_kept_in_view_and_told() {
    let figures = drawn(PAD, STEPS, US);
    let flow = &of(&figures, "flow").figure;
    assert_eq!(flow.left_out.len(), 1);
    assert_eq!(flow.left_out[0].label, "row 5: 6.29\u{A0}gpm");
    assert!(
        flow.description
            .contains("Left out: row 5: 6.29 gpm at 2300 rpm."),
        "{}",
        flow.description
    );
    assert_eq!(flow.points.len(), 5);
}

#[test]
fn energy_is_drawn_as_the_answer_counts_it() {
    let at_rest = STEPS.replacen("600,", "0,,40,0,\n600,", 1);
    let figures = drawn(PAD, &at_rest, SI);
    let energy = &of(&figures, "energy").figure;
    assert!(
        energy.y.title.starts_with("Energy above standby, Wh"),
        "{}",
        energy.y.title
    );
    // (93 − 40) W over 11.4 gpm, which is 11.4 · 0.2271247 m³/h: 20.47 W h/m³.
    assert!((energy.points[0].y.value - 20.47).abs() < 0.01);
    let with_rest = &of(&drawn(PAD, STEPS, SI), "energy").figure.y.title.clone();
    assert!(with_rest.starts_with("Energy, Wh"), "{with_rest}");
}

#[test]
fn one_step_is_drawn_without_a_law_and_none_not_at_all() {
    let one = "speed [rpm],flow [gpm],power [W]\n2000,54,515\n";
    let figures = drawn(PAD, one, US);
    assert_eq!(figures.len(), 3);
    let title = |quantity: &str| of(&figures, quantity).figure.title.clone();
    assert_eq!(title("flow"), "Flow at one speed: a law needs more");
    assert_eq!(
        title("energy"),
        "Energy at one speed: where it is least is not known"
    );
    figures.iter().for_each(hold);
    assert!(drawn(PAD, "speed [rpm],current [A]\n2000,2.7\n", US).is_empty());
}

fn outlined(named: &NamedFigure, size: Size) -> String {
    let svg = named.figure.svg(Theme::Light, size).unwrap();
    let (name, told) = (&named.name, &named.figure.description);
    format!("{name} {}{told}\n", outline(&svg))
}

#[test]
fn the_examples_are_drawn_as_they_were() {
    let file = |path: &str, text: &str| source(path, text);
    let larkspur = [
        include_str!("../../../../examples/larkspur-lane/site.toml"),
        include_str!("../../../../examples/larkspur-lane/2026-06-02.toml"),
        include_str!("../../../../examples/larkspur-lane/2026-06-02.csv"),
    ];
    let birkenweg = [
        include_str!("../../../../examples/haus-birkenweg/site.toml"),
        include_str!("../../../../examples/haus-birkenweg/2026-07-08.toml"),
        include_str!("../../../../examples/haus-birkenweg/2026-07-08.csv"),
    ];
    for (name, [site, test, readings], printing) in [
        ("larkspur_lane", larkspur, US),
        ("haus_birkenweg", birkenweg, SI),
    ] {
        let site = read_site(&file("site.toml", site)).unwrap();
        let readings = file("readings.csv", readings);
        let test = read_test(&file("test.toml", test), Some(&readings)).unwrap();
        let figures = figures(&site, &analyze(&site, &[test]), printing);
        figures.iter().for_each(hold);
        let outlines = figures
            .iter()
            .flat_map(|named| Size::ALL.map(|size| outlined(named, size)));
        insta::assert_snapshot!(name, outlines.collect::<Vec<_>>().join("\n"));
    }
}
