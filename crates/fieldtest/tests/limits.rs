//! What a pad's equipment and rules limit, and what of a test or a program lies beyond.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

mod support;

use fieldtest::{Analysis, Basis, Bound, Limit, LimitOf, Matter, Passage, Severity};
use support::{analysis, codes, only, smooth};

/// One US gallon per minute, m³/s, exact.
const GPM_M3S: f64 = 3.785411784e-3 / 60.0;
/// One foot, m, exact.
const FOOT_M: f64 = 0.3048;
/// One inch of mercury at 0 °C, Pa (NIST SP 811, appendix B.8).
const INHG_PA: f64 = 3386.389;

/// A pad with gauges, a curve and equipment; `more` goes into the site, `parts` onto the pad's line.
fn pad(more: &str, parts: &str) -> String {
    format!(
        r#"
format = 1
name = "gauged pad"
{more}
[pump]
speed = {{ min = "450 rpm", max = "3450 rpm" }}
supply = "230 V"
height = "2 ft"
curve_speed = "3450 rpm"
curve = [
  {{ flow = "0 gpm", head = "90 ft" }},
  {{ flow = "60 gpm", head = "75 ft", npshr = "8 ft" }},
  {{ flow = "100 gpm", head = "55 ft", npshr = "14 ft" }},
]
[[meter]]
id = "vessel"
measures = "pressure"
accuracy = ["0.5 psi"]
tap = "filter inlet"
height = "0 ft"
[[meter]]
id = "inlet"
measures = "vacuum"
accuracy = ["0.2 inHg"]
tap = "pump pot"
height = "2 ft"
[[line]]
name = "suction"
from = "pool"
to = "pump inlet"
parts = [ {{ pipe = "2 in", spec = "PVC Sch 40", length = "40 ft" }} ]
[[line]]
name = "pad"
from = "pump outlet"
to = "pool"
parts = [ {{ pipe = "2 in", spec = "PVC Sch 40", length = "60 ft" }}, {parts} ]
"#
    )
}

/// A test whose gauges follow the square of speed: psi and inHg at 3450 rpm.
fn gauged(top_psi: f64, top_inhg: f64) -> String {
    // At rest the inlet gauge shows the 2 ft that it hangs above the water.
    let at_rest = 2.0 * FOOT_M * 997.0 * 9.80665 / INHG_PA;
    let line = |[speed, flow, power, _]: [String; 4]| {
        let ratio = speed.parse::<f64>().unwrap() / 3450.0;
        let psi = top_psi * ratio * ratio;
        let inhg = at_rest + (top_inhg - at_rest) * ratio * ratio;
        format!("{speed},{flow},{power},{psi:.2},{inhg:.2}\n")
    };
    let heading = "speed [rpm],flow [gpm],power [W],filter pressure [psi],inlet vacuum [inHg]\n";
    heading.to_owned() + &smooth().into_iter().map(line).collect::<String>()
}

fn limit<'a>(pad: &'a Analysis, code: &str) -> &'a Limit {
    let mut of_code = pad.limits.iter().filter(|limit| limit.code == code);
    let found = of_code
        .next()
        .unwrap_or_else(|| panic!("{code}: {:?}", pad.limits));
    assert!(of_code.next().is_none(), "{code} twice");
    found
}

#[test]
fn a_vessel_is_kept_below_its_rating_before_the_pump_goes_there() {
    let vessel = r#"{ filter = "cartridge", max_pressure = "20 psi" }"#;
    // Read up to 3450 rpm, 16 psi: the rating lies at 3450 √(20/16) = 3857 rpm, which the pump does not reach.
    let safe = analysis(&pad("", vessel), &gauged(16.0, 5.0));
    assert_eq!(limit(&safe, "pressure-above-rating").speed_rpm, None);
    assert!(!codes(&safe).contains(&"pressure-above-rating"));
    // 25 psi at the top: the rating is met at 3450 √(20/25) = 3086 rpm (pressure goes with the square of speed).
    let high = analysis(&pad("", vessel), &gauged(25.0, 5.0));
    let speed = limit(&high, "pressure-above-rating").speed_rpm.unwrap();
    assert!((speed / 3086.0 - 1.0).abs() < 0.01, "{speed}");
    let finding = only(&high, "pressure-above-rating");
    assert_eq!(finding.severity, Severity::Error);
    assert!(finding.place.steps_rpm.iter().all(|rpm| *rpm > 3000.0));
    // Half a psi below the rating, a gauge of half a psi cannot say that it is below.
    let near = analysis(&pad("", vessel), &gauged(19.6, 5.0));
    assert_eq!(
        only(&near, "pressure-above-rating").severity,
        Severity::Warning
    );
}

#[test]
fn a_vacuum_is_judged_by_the_air_of_the_place() {
    let coast = analysis(&pad("", ""), &gauged(10.0, 9.0));
    assert!(!codes(&coast).contains(&"inlet-vacuum-high"));
    // At 5000 ft the standard atmosphere is 84 307 Pa (STANDARDS 5.8, computed from the ISA): 10 inHg become 8.32.
    let mountain = analysis(
        &pad("[place]\nelevation = \"5000 ft\"", ""),
        &gauged(10.0, 9.0),
    );
    let Matter::InletVacuumHigh {
        limit_pa, basis, ..
    } = only(&mountain, "inlet-vacuum-high").matter
    else {
        panic!("another matter");
    };
    assert!((limit_pa / INHG_PA - 8.32).abs() < 0.005, "{limit_pa}");
    assert_eq!(basis, Basis::UsualPractice);
    // The site's own word goes before the usual one.
    let own = pad("[limits]\ninlet_vacuum = \"12 inHg\"", "");
    assert!(!codes(&analysis(&own, &gauged(10.0, 11.0))).contains(&"inlet-vacuum-high"));
}

#[test]
fn no_gauge_shows_more_vacuum_than_there_is_air() {
    // 29.92 inHg is the limit at sea level, 24.90 at 5000 ft (STANDARDS 5.8).
    let readings = "speed [rpm],flow [gpm],power [W],inlet vacuum [inHg]\n\
        1000,28,130,26\n2000,56,520,4\n3000,84,1500,8\n";
    let coast = analysis(&pad("", ""), readings);
    assert!(!codes(&coast).contains(&"outside-meter-range"));
    let mountain = analysis(&pad("[place]\nelevation = \"5000 ft\"", ""), readings);
    assert_eq!(only(&mountain, "outside-meter-range").place.rows, [2]);
}

#[test]
fn suction_head_runs_short_before_the_water_boils() {
    let plenty = analysis(&pad("", ""), &gauged(10.0, 6.0));
    assert!(!codes(&plenty).contains(&"npsh-short"));
    // 16 inHg of vacuum at the top leave 33.9 − 0.8 − 18.1 ft = about 15 ft; the curve asks for about 13 there, and 2 to spare.
    let short = analysis(&pad("", ""), &gauged(10.0, 17.0));
    let Matter::NpshShort {
        available_m,
        required_m,
        margin_m,
        ..
    } = only(&short, "npsh-short").matter
    else {
        panic!("another matter");
    };
    assert!(available_m.value - required_m < margin_m);
    let speed = limit(&short, "npsh-short").speed_rpm.unwrap();
    assert!((2800.0..3450.0).contains(&speed), "{speed}");
}

#[test]
fn the_worked_case_of_suction_head_is_met() {
    // STANDARDS T39, from a gauge: 84 °F, 5000 ft, 10 inHg, 60 gpm in 2 in: 16.12 ft, to 0.05 ft for the read digits.
    let site = pad("[place]\nelevation = \"5000 ft\"", "")
        .replace("tap = \"pump pot\"", "tap = \"suction pipe\"");
    let readings = "speed [rpm],flow [gpm],power [W],inlet vacuum [inHg]\n2400,60,700,10\n";
    let pad = support::analysis_with(&site, "water_temperature = \"84 degF\"\n", readings);
    let available = pad.tests[0].steps[0].npsh_available_m.unwrap().value;
    assert!((available / FOOT_M - 16.12).abs() < 0.05, "{available}");
}

#[test]
fn a_filter_is_limited_by_its_plate_and_by_the_area_of_its_media() {
    let parts = r#"{ filter = "cartridge", area = "300 ft2", max_flow = "120 gpm" }"#;
    // STANDARDS T8: 300 ft² of cartridge at 0.30 gpm/ft² 90 gpm, at 1.0 300 gpm.
    for (rules, gpm, basis) in [
        ("public", 90.0, Basis::Printed),
        ("residential", 300.0, Basis::UsualPractice),
        ("california residential", 112.5, Basis::UsualPractice),
    ] {
        let site = pad(&format!("[limits]\nrules = \"{rules}\""), parts);
        let found = analysis(&site, &gauged(10.0, 5.0));
        let of_filter = |limit: &&Limit| limit.code == "above-filter-flow";
        let flows: Vec<&Limit> = found.limits.iter().filter(of_filter).collect();
        let [plate, rate] = flows[..] else {
            panic!("{flows:?}");
        };
        assert!((plate.flow_m3s.unwrap() / GPM_M3S - 120.0).abs() < 1e-9);
        assert!((rate.flow_m3s.unwrap() / GPM_M3S - gpm).abs() < 1e-9);
        assert_eq!((plate.basis, rate.basis), (Basis::SiteFile, basis));
        let runs_over = codes(&found).contains(&"above-filter-flow");
        assert_eq!(runs_over, gpm < 94.0, "{rules}");
    }
}

#[test]
fn covers_are_rated_with_one_of_them_blocked() {
    let pair = r#"{ cover = "floor", rating = "70 gpm", count = 2 }, "#;
    let site = pad("", "").replace("parts = [ { pipe", &format!("parts = [ {pair}{{ pipe"));
    let found = analysis(&site, &gauged(10.0, 5.0));
    let cover = found
        .limits
        .iter()
        .find(|limit| limit.code == "above-cover-rating");
    // One of a pair blocked: the other draws it all.
    assert!((cover.unwrap().flow_m3s.unwrap() / GPM_M3S - 70.0).abs() < 1e-9);
    let beyond = found
        .findings
        .iter()
        .find(|f| f.matter.code() == "above-cover-rating");
    assert_eq!(beyond.unwrap().severity, Severity::Error);
}

#[test]
fn a_ceiling_of_filtration_is_a_maximum() {
    // STANDARDS T5: the volume in six hours or 36 gpm, whichever is greater.
    for (gallons, gpm) in [
        (8_000, 36.0),
        (12_960, 36.0),
        (15_000, 41.67),
        (30_000, 83.33),
    ] {
        let more = format!(
            "[limits]\nrules = \"california residential\"\n[water]\nvolume = \"{gallons} gal\""
        );
        let found = analysis(&pad(&more, ""), &gauged(10.0, 5.0));
        let ceiling = limit(&found, "above-filtration-ceiling");
        assert_eq!(ceiling.bound, Bound::Max);
        assert!((ceiling.flow_m3s.unwrap() / GPM_M3S - gpm).abs() < 0.005);
    }
}

#[test]
fn the_program_is_judged_and_not_the_test_step() {
    let heater = r#"{ heater = "gas", min_flow = "35 gpm" }"#;
    let program = |speed: &str| {
        format!(
            "[operation]\nas_found = [ {{ from = \"08:00\", to = \"16:00\", speed = \"{speed}\" }} ]"
        )
    };
    // Steps of this test run far below 35 gpm, and that is no finding.
    let fast = analysis(&pad(&program("2000 rpm"), heater), &gauged(10.0, 5.0));
    assert!(!codes(&fast).contains(&"below-equipment-minimum"));
    let slow = analysis(&pad(&program("1000 rpm"), heater), &gauged(10.0, 5.0));
    let finding = only(&slow, "below-equipment-minimum");
    assert_eq!(finding.place.steps_rpm, [1000.0]);
}

#[test]
fn the_program_is_judged_by_what_a_line_gets_of_the_flow() {
    let heater =
        r#"{ heater = "gas", at = { flow = "60 gpm", drop = "1 psi" }, min_flow = "35 gpm" }"#;
    let program =
        "[operation]\nas_found = [ { from = \"08:00\", to = \"16:00\", speed = \"2000 rpm\" } ]";
    let whole = pad(program, heater);
    // As wide and as long as the way through the heater: hardly half of the flow is left for that.
    let beside = "[[line]]\nname = \"beside\"\nfrom = \"pump outlet\"\nto = \"pool\"\n\
                  parts = [ { pipe = \"2 in\", spec = \"PVC Sch 40\", length = \"60 ft\" } ]\n";
    assert!(!codes(&analysis(&whole, &gauged(10.0, 5.0))).contains(&"below-equipment-minimum"));
    let divided = analysis(&format!("{whole}{beside}"), &gauged(10.0, 5.0));
    let finding = only(&divided, "below-equipment-minimum");
    let Matter::ProgramBeyond { flow_m3s, .. } = finding.matter else {
        panic!("{finding:?}");
    };
    assert!((15.0..30.0).contains(&(flow_m3s / GPM_M3S)), "{flow_m3s}");
}

#[test]
fn a_solar_loop_needs_a_speed_to_fill() {
    let found = analysis(
        &pad("", r#"{ solar = "roof panels", height = "22.5 ft" }"#),
        &gauged(10.0, 5.0),
    );
    let fill = limit(&found, "solar-not-filled");
    // A quarter of the shutoff head of 90 ft is reached at half of the curve's speed.
    assert!((fill.speed_rpm.unwrap() - 1725.0).abs() < 1e-6);
    assert_eq!(fill.bound, Bound::Min);
    assert!(
        matches!(fill.of, LimitOf::Lift { height_m } if (height_m / FOOT_M - 22.5).abs() < 1e-12)
    );
}

#[test]
fn water_that_is_none_of_a_pools_is_said_and_replaced() {
    // A site file is read only up to 35 g/L; a program that makes its records itself may state anything.
    let with_salt = |kg_m3: f64| {
        let site = pad("[water]\nsalinity = \"3 g/L\"", "");
        let mut site = records::read_site(&support::source("site.toml", &site)).unwrap();
        site.water.salinity.as_mut().unwrap().si = kg_m3;
        let head = "format = 1\nreadings = \"steps.csv\"\n";
        let readings = support::source("steps.csv", &gauged(10.0, 5.0));
        let test = records::read_test(&support::source("test.toml", head), Some(&readings));
        fieldtest::analyze(&site, &[test.unwrap()])
    };
    assert!(!codes(&with_salt(35.0)).contains(&"outside-range"));
    for (kg_m3, severity) in [(50.0, Severity::Note), (250.0, Severity::Error)] {
        let found = with_salt(kg_m3);
        assert_eq!(only(&found, "outside-range").severity, severity);
        assert_eq!(found.tests[0].steps.len(), 11);
    }
}

#[test]
fn lines_beside_one_another_share_the_flow_as_their_plumbing_does() {
    let returns = r#"
[[line]]
name = "near return"
from = "tee"
to = "pool"
parts = [ { pipe = "1-1/4 in", spec = "PVC Sch 40", length = "40 ft" }, { fitting = "exit" } ]
[[line]]
name = "far return"
from = "tee"
to = "pool"
parts = [ { pipe = "1-1/4 in", spec = "PVC Sch 40", length = "FAR ft" }, { fitting = "exit" } ]
"#;
    let site = |far: &str| {
        pad("", "").replace("to = \"pool\"", "to = \"tee\"") + &returns.replace("FAR", far)
    };
    let speed = |found: &Analysis, line: &str| {
        let of_line = found.limits.iter().find(|limit| limit.applies_to == line);
        let limit = of_line.unwrap();
        assert_eq!(limit.passage, Passage::Divided);
        limit.speed_rpm.unwrap()
    };
    let equal = analysis(&site("40"), &gauged(10.0, 5.0));
    // 8 ft/s in 1.380 in are 37.30 gpm (Q = V d²/0.408498); twice that passes the pump, by the law of this test at
    // √((74.59/0.0275)² + 300²) = 2729 rpm.
    assert!((speed(&equal, "near return") / 2729.0 - 1.0).abs() < 0.01);
    assert!((speed(&equal, "far return") / speed(&equal, "near return") - 1.0).abs() < 1e-4);
    assert_eq!(support::too_fast(&equal, "near return").len(), 1);
    // The longer one takes less, so the shorter one reaches its limit sooner.
    let longer = analysis(&site("160"), &gauged(10.0, 5.0));
    assert!(speed(&longer, "near return") < speed(&equal, "near return"));
    // A part without a law leaves open how the flow divides.
    let unknown = site("40").replacen("{ fitting = \"exit\" }", "{ fitting = \"gadget\" }", 1);
    let found = analysis(&unknown, &gauged(10.0, 5.0));
    let near = found
        .limits
        .iter()
        .find(|limit| limit.applies_to == "near return");
    assert_eq!(near.unwrap().passage, Passage::Part);
    assert_eq!(near.unwrap().speed_rpm, None);
}
