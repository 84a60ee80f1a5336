//! Loss coefficients of the catalogue, of valves and of meters against those of fluids, formula by formula.
//!
//! Both sides evaluate the same closed formulas: unless a comment says more, they differ by the
//! rounding of a dozen operations, to which powers and logarithms add some.

use hydraulics::Answer;
use hydraulics::HydraulicsError;
use hydraulics::fittings::bend::{Bend, crane_bend_k};
use hydraulics::fittings::catalogue::Fitting;
use hydraulics::fittings::crane::turbulent_friction_factor;
use hydraulics::fittings::flow_coefficient::{cv_of_kv, k_of_kv, kv_of_cv, kv_of_k};
use hydraulics::fittings::k_on_bore;
use hydraulics::fittings::meter::orifice_plate::orifice_plate_discharge_coefficient;
use hydraulics::fittings::meter::{
    Meter, long_radius_nozzle_discharge_coefficient, meter_k, permanent_loss_pa,
};
use hydraulics::fittings::three_k::{ThreeK, three_k};
use hydraulics::fittings::two_k::{TwoK, two_k};
use hydraulics::fittings::valve::Valve;
use hydraulics::fittings::valve::seat::{SeatedValve, reduced_seat_k};

use crate::harness::{Case, Tally, Tolerance, cases};

pub(crate) const ROUNDING: Tolerance = Tolerance::Relative(1e-13);

pub(crate) fn label(case: &Case, columns: &[&str]) -> String {
    let cells: Vec<_> = columns.iter().map(|column| case.text(column)).collect();
    cells.join(", ")
}

pub(crate) fn value(k: Result<Answer<f64>, HydraulicsError>) -> f64 {
    k.unwrap().value
}

/// The fitting, valve or bend that a row of `crane.csv` names.
fn crane_k(name: &str, bore_m: f64) -> Option<f64> {
    let bend = |angle_deg, radius_ratio| {
        let bend = Bend {
            bore_m,
            radius_ratio,
            angle_deg,
        };
        crane_bend_k(&bend)
    };
    let k = match name {
        "f_T" => turbulent_friction_factor(bore_m),
        "bend 90 deg r/D=1.0" => bend(90.0, 1.0),
        "bend 90 deg r/D=1.5" => bend(90.0, 1.5),
        "bend 90 deg r/D=3.0" => bend(90.0, 3.0),
        "bend 45 deg r/D=1.0" => bend(45.0, 1.0),
        "bend 45 deg r/D=1.5" => bend(45.0, 1.5),
        "bend 45 deg r/D=3.0" => bend(45.0, 3.0),
        "elbow 90 standard threaded" => Fitting::Elbow90.k(bore_m),
        "elbow 45 standard threaded" => Fitting::Elbow45.k(bore_m),
        "tee run (flow through run)" => Fitting::TeeRun.k(bore_m),
        "tee branch (flow through branch)" => Fitting::TeeBranch.k(bore_m),
        "close return bend 180" => Fitting::ReturnBend.k(bore_m),
        "mitre 90 deg" => Fitting::Mitre90.k(bore_m),
        "mitre 45 deg" => Fitting::Mitre45.k(bore_m),
        "f_T rounded table (memory)" => return None,
        valve => valve_of(valve).k(bore_m),
    };
    Some(value(k))
}

fn valve_of(name: &str) -> Valve {
    match name {
        "ball full bore" => Valve::Ball,
        "gate full bore" => Valve::Gate,
        "globe full bore" => Valve::Globe,
        "angle full bore style 0" | "angle full bore style 2" => Valve::StreamlinedAngle,
        "swing check angled seat" => Valve::SwingCheck,
        "swing check straight" => Valve::StraightSwingCheck,
        "lift check angled" => Valve::AngleLiftCheck,
        "lift check straight (globe type)" => Valve::LiftCheck,
        "butterfly centric" => Valve::Butterfly,
        "plug straight-through" => Valve::Plug,
        "plug 3-way straight run" => Valve::ThreeWayPlug,
        "plug 3-way 90 deg" => Valve::ThreeWayPlugSide,
        "diaphragm weir" => Valve::Diaphragm,
        "foot valve poppet" => Valve::Foot,
        "foot valve hinged" => Valve::HingedFoot,
        "tilting disk check 5 deg" => Valve::TiltingCheck,
        other => panic!("no valve {other}"),
    }
}

#[test]
fn the_catalogue_agrees_on_crane() {
    let mut tally = Tally::new("fittings/fluids: Crane f_T, fittings and valves", ROUNDING);
    for case in cases("fittings/fluids/crane.csv") {
        let bore_m = case.number("D_m");
        if let Some(ours) = crane_k(case.text("fitting"), bore_m) {
            tally.compare(label(&case, &["fitting", "nps_in"]), ours, case.number("K"));
        }
    }
    for case in cases("fittings/fluids/sizes.csv") {
        let valve = Valve::parse(case.text("valve")).unwrap();
        let ours = value(valve.k(case.number("bore_m")));
        tally.compare(label(&case, &["valve", "bore_m"]), ours, case.number("K"));
    }
    tally.finish();
}

/// The rows of Hooper's and Darby's tables that the catalogue has taken.
fn adopted(case: &Case) -> Option<(Option<TwoK>, Option<ThreeK>)> {
    let fitting = |fitting: Fitting| Some((fitting.two_k(), fitting.three_k()));
    let valve = |valve: Valve| Some((valve.two_k(), valve.three_k()));
    match case.text("name") {
        "Elbow, 90°, Standard (R/D = 1), Screwed" | "Elbow, 90°, threaded, standard, (r/D = 1)" => {
            fitting(Fitting::Elbow90)
        }
        "Elbow, 45°, Standard (R/D = 1), All types"
        | "Elbow, 45°, threaded standard, (r/D = 1)" => fitting(Fitting::Elbow45),
        "Elbow, 90°, Long-radius (R/D = 1.5), All types"
        | "Elbow, 90°, threaded, long radius, (r/D = 1.5)" => fitting(Fitting::Sweep90),
        "Elbow, 90°, Mitered (R/D = 1.5), 1 weld (90° angle)"
        | "Elbow, 90°, mitered, 1 weld, (90°)" => fitting(Fitting::Mitre90),
        "Elbow, 45°, Mitered (R/D=1.5), 1 weld (45° angle)"
        | "Elbow, 45°, mitered, 1 weld, (45°)" => fitting(Fitting::Mitre45),
        "Elbow, 180°, threaded, close-return bend, (r/D = 1)" => fitting(Fitting::ReturnBend),
        "Tee, Run, Screwed" | "Tee, Run-through, threaded, (r/D = 1)" => fitting(Fitting::TeeRun),
        "Tee, Through-branch, (as elbow), threaded, (r/D = 1)" => fitting(Fitting::TeeBranch),
        "Valve, Ball, Reduced trim, Beta = 0.9" | "Valve, Ball valve, standard, β = 1" => {
            valve(Valve::Ball)
        }
        "Valve, Gate, Full line size, Beta = 1" | "Valve, Gate valve, standard, β = 1" => {
            valve(Valve::Gate)
        }
        "Valve, Plug, Reduced trim, Beta = 0.8" | "Valve, Plug valve, straight through" => {
            valve(Valve::Plug)
        }
        "Valve, Globe, Standard" | "Valve, Globe valve, standard, β = 1" => valve(Valve::Globe),
        "Valve, Globe, Angle or Y-type" | "Valve, Angle valve, 90°, full line size, β = 1" => {
            valve(Valve::Angle)
        }
        "Valve, Diaphragm, Dam type" | "Valve, Diaphragm, dam type" => valve(Valve::Diaphragm),
        "Valve, Butterfly," => valve(Valve::Butterfly),
        "Valve, Check, Lift" | "Valve, Lift check" => valve(Valve::LiftCheck),
        "Valve, Check, Swing" | "Valve, Swing check" => valve(Valve::SwingCheck),
        "Valve, Check, Tilting-disc" => valve(Valve::TiltingCheck),
        "Valve, Plug valve, three-way (flow through)" => valve(Valve::ThreeWayPlug),
        "Valve, Plug valve, branch flow" => valve(Valve::ThreeWayPlugSide),
        _ => None,
    }
}

#[test]
fn the_methods_of_hooper_and_darby_agree() {
    let mut formula = Tally::new("fittings/fluids: two-K and three-K formulas", ROUNDING);
    let mut table = Tally::new(
        "fittings/fluids: two-K and three-K of the catalogue",
        ROUNDING,
    );
    for case in cases("fittings/fluids/two_k_three_k.csv") {
        let (reynolds, bore_m) = (case.number("Re"), case.number("D_m"));
        let nominal_in = case.number("nps_in");
        let (k_1, k_2) = (case.number("k1"), case.number("k2"));
        let by_two = |k: TwoK| value(two_k(k, reynolds, bore_m));
        let by_three = |k: ThreeK| value(three_k(k, reynolds, nominal_in));
        let name = label(&case, &["method", "name", "nps_in", "Re"]);
        let (ours, catalogued) = match case.number_if_any("k3") {
            None => (
                by_two(TwoK::new(k_1, k_2)),
                adopted(&case).map(|(two, _)| by_two(two.unwrap())),
            ),
            Some(k_3) => (
                by_three(ThreeK::new(k_1, k_2, k_3)),
                adopted(&case).map(|(_, three)| by_three(three.unwrap())),
            ),
        };
        formula.compare(&name, ours, case.number("K"));
        if let Some(ours) = catalogued {
            table.compare(&name, ours, case.number("K"));
        }
    }
    // Every coefficient of the catalogue was compared, at three sizes and four Reynolds numbers.
    let fittings = Fitting::ALL.map(|fitting| (fitting.two_k(), fitting.three_k()));
    let valves = Valve::ALL.map(|valve| (valve.two_k(), valve.three_k()));
    let all = fittings.iter().chain(&valves);
    let held: usize = all
        .map(|(two, three)| usize::from(two.is_some()) + usize::from(three.is_some()))
        .sum();
    let rows = cases("fittings/fluids/two_k_three_k.csv");
    let compared = rows.iter().filter(|case| adopted(case).is_some()).count();
    assert_eq!(compared, 12 * held);
    formula.finish();
    table.finish();
}

#[test]
fn narrow_seats_agree() {
    let mut tally = Tally::new("fittings/fluids: valves with a narrow seat", ROUNDING);
    for case in cases("fittings/fluids/seats.csv") {
        let valve = Valve::parse(case.text("valve")).unwrap();
        let seated = SeatedValve {
            valve,
            bore_m: case.number("bore_m"),
            seat_m: case.number("seat_m"),
            cone_angle_deg: case.number("angle_deg"),
        };
        let ours = value(reduced_seat_k(&seated));
        let name = label(&case, &["valve", "bore_m", "seat_m", "angle_deg"]);
        // See SOURCE.md: the library has (1 − β)² for 1 − β² in these three.
        match valve {
            Valve::Globe | Valve::Angle | Valve::StreamlinedAngle => {
                tally.expect_disagreement(name, ours, case.number("K"));
            }
            _ => tally.compare(name, ours, case.number("K")),
        }
    }
    tally.finish();
}

#[test]
fn flow_coefficients_agree() {
    let mut tally = Tally::new("fittings/fluids: Kv, Cv and K", ROUNDING);
    for case in cases("fittings/fluids/flow_coefficients.csv") {
        let (given, bore_m) = (case.number("value"), case.number("D_m"));
        let ours = match (case.text("from"), case.text("to")) {
            ("Kv", "K") => k_of_kv(given, bore_m),
            ("Cv", "K") => kv_of_cv(given).and_then(|kv| k_of_kv(kv, bore_m)),
            ("Kv", "Cv") => cv_of_kv(given),
            ("K", "Kv") => kv_of_k(given, bore_m),
            (from, to) => panic!("{from} to {to}"),
        };
        let name = label(&case, &["from", "to", "value", "D_m"]);
        tally.compare(name, ours.unwrap(), case.number("result"));
    }
    tally.finish();
}

#[test]
fn plates_and_nozzles_agree() {
    let mut coefficient = Tally::new("fittings/fluids: discharge coefficients", ROUNDING);
    // The share is a quotient of differences that lose a digit at β = 0.75; the library subtracts two pressures of 2e5
    // and 1.9e5 Pa, which costs another.
    let mut loss = Tally::new(
        "fittings/fluids: permanent loss",
        Tolerance::Relative(1e-12),
    );
    for case in cases("fittings/fluids/meters.csv") {
        let meter = Meter {
            bore_m: case.number("D_m"),
            orifice_m: case.number("Do_m"),
        };
        let reynolds = case.number("Re");
        let ours = match case.text("meter") {
            "orifice plate" => orifice_plate_discharge_coefficient(&meter, reynolds),
            _ => long_radius_nozzle_discharge_coefficient(&meter, reynolds),
        };
        let theirs = case.number("C");
        let name = label(&case, &["meter", "D_m", "Do_m", "Re"]);
        coefficient.compare(&name, value(ours), theirs);
        loss.compare(&name, meter_k(&meter, theirs).unwrap(), case.number("K"));
        let share = permanent_loss_pa(&meter, theirs, 1.0).unwrap();
        loss.compare(&name, share, case.number("loss_share"));
    }
    coefficient.finish();
    loss.finish();
}

#[test]
fn another_bore_agrees() {
    let mut tally = Tally::new("fittings/fluids: K moved to another bore", ROUNDING);
    for case in cases("fittings/fluids/bores.csv") {
        let [k, bore_m, other_m] = ["K1", "D1_m", "D2_m"].map(|column| case.number(column));
        let ours = k_on_bore(k, bore_m, other_m).unwrap();
        tally.compare(
            label(&case, &["K1", "D1_m", "D2_m"]),
            ours,
            case.number("K2"),
        );
    }
    tally.finish();
}
