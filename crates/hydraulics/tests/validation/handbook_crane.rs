//! Crane's printed tables and worked examples of fittings, as others quote them.

use core::f64::consts::PI;

use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use hydraulics::fittings::bend::{Bend, crane_bend_k};
use hydraulics::fittings::catalogue::Fitting;
use hydraulics::fittings::crane::{equivalent_length_m, turbulent_friction_factor};
use hydraulics::fittings::ends::End;
use hydraulics::fittings::flow_coefficient::k_of_kv;
use hydraulics::fittings::meter::orifice_plate::orifice_plate_flow;
use hydraulics::fittings::meter::{
    Meter, long_radius_nozzle_discharge_coefficient, permanent_loss_pa,
};
use hydraulics::fittings::minor_loss_head_m;
use hydraulics::fittings::tee::{
    TeeFlow, converging_branch_k, converging_run_k, diverging_branch_k, diverging_run_k,
};
use hydraulics::fittings::valve::Valve;
use hydraulics::fittings::valve::seat::{SeatedValve, reduced_seat_k};
use hydraulics::loss::{PipeRun, pipe_loss};
use hydraulics::pipe::PipeSpec;
use hydraulics::water::Water;

use crate::harness::{Case, FOOT_M, GPM_M3S, INCH_M, Tally, Tolerance, cases};

/// A pound per cubic foot in kg/m³, exact to double precision.
const POUND_PER_CUBIC_FOOT: f64 = 0.45359237 / (FOOT_M * FOOT_M * FOOT_M);

/// A pound-force per square inch in Pa.
pub(crate) const PSI_PA: f64 = 0.45359237 * STANDARD_GRAVITY_M_S2 / (INCH_M * INCH_M);

/// A mechanical horsepower in W: 550 ft lbf/s.
const HORSEPOWER_W: f64 = 550.0 * FOOT_M * 0.45359237 * STANDARD_GRAVITY_M_S2;

/// Water at 60 °F as the worked examples take it.
pub(crate) fn water_60_f() -> Water {
    Water {
        temperature_k: 288.706,
        density_kg_m3: 62.364 * POUND_PER_CUBIC_FOOT,
        dynamic_viscosity_pa_s: 1.1e-3,
        vapour_pressure_pa: 1765.0,
    }
}

pub(crate) fn bore_m(spec: PipeSpec, nominal_in: f64) -> f64 {
    spec.size(nominal_in * INCH_M).unwrap().bore_m
}

pub(crate) fn velocity_m_s(flow_m3s: f64, bore_m: f64) -> f64 {
    flow_m3s / (0.25 * PI * bore_m * bore_m)
}

/// The deviation in units of what the row allows, so that rows of several kinds share a tally.
pub(crate) fn compare_in_steps(
    tally: &mut Tally,
    label: &str,
    ours: f64,
    case: &Case,
    columns: [&str; 2],
) {
    let [value, allowed] = columns;
    if let Some(theirs) = case.number_if_any(value) {
        let step = case.number(allowed);
        tally.compare(label, ours / step, theirs / step);
    }
}

/// The same where the row allows a share of its value.
fn compare_in_shares(tally: &mut Tally, label: &str, ours: f64, case: &Case, column: &str) {
    let theirs = case.number(column);
    let step = case.number("relative") * theirs;
    tally.compare(label, ours / step, theirs / step);
}

/// One step; the hundredth above it is for the rounding of the quotient.
pub(crate) const STEP: Tolerance = Tolerance::Absolute(1.01);

#[test]
fn the_smooth_factor_rounds_to_the_printed_table() {
    // Half of the last printed digit.
    let mut tally = Tally::new(
        "handbook-fittings/crane-friction-factors: f_T",
        Tolerance::Absolute(0.0005),
    );
    for case in cases("handbook-fittings/crane-friction-factors/factors.csv") {
        let bore_m = bore_m(PipeSpec::PvcSchedule40, case.number("nps_in"));
        let ours = turbulent_friction_factor(bore_m).unwrap().value;
        tally.compare(
            format!("{} in", case.text("nps_in")),
            ours,
            case.number("f_T"),
        );
    }
    tally.finish();
}

#[test]
fn the_polynomial_passes_by_the_printed_bends() {
    // Half of the last printed digit, in bores.
    let mut tally = Tally::new(
        "handbook-fittings/crane-bends: L/D",
        Tolerance::Absolute(0.5),
    );
    for case in cases("handbook-fittings/crane-bends/bends.csv") {
        let bend = Bend {
            bore_m: 0.05,
            radius_ratio: case.number("r_over_D"),
            angle_deg: 90.0,
        };
        let factor = turbulent_friction_factor(bend.bore_m).unwrap().value;
        let ours = crane_bend_k(&bend).unwrap().value / factor;
        tally.compare(
            format!("r/D {}", case.text("r_over_D")),
            ours,
            case.number("L_over_D"),
        );
    }
    tally.finish();
}

#[test]
fn the_sweeps_are_printed_bends() {
    let mut tally = Tally::new(
        "handbook-fittings/crane-bends: L/D of sweeps",
        Tolerance::Absolute(0.0),
    );
    for case in cases("handbook-fittings/crane-bends/bends.csv") {
        let sweep = match case.text("r_over_D") {
            "1.5" => Fitting::Sweep90,
            "3" => Fitting::LongSweep90,
            _ => continue,
        };
        tally.compare(
            sweep.name(),
            sweep.length_ratio().unwrap(),
            case.number("L_over_D"),
        );
    }
    tally.finish();
}

#[test]
fn a_joining_tee_follows_the_worked_example() {
    let mut tally = Tally::new(
        "handbook-fittings/crane-tp410-7-35: K and head, in steps",
        STEP,
    );
    let bore_m = bore_m(PipeSpec::PvcSchedule40, 4.0);
    for case in cases("handbook-fittings/crane-tp410-7-35/case.csv") {
        let (run, branch) = (case.number("run_flow"), case.number("branch_flow"));
        let tee = TeeFlow {
            run_bore_m: bore_m,
            branch_bore_m: bore_m,
            branch_share: branch / (run + branch),
            angle_deg: 90.0,
        };
        let k = match case.text("way") {
            "branch" => converging_branch_k(&tee),
            _ => converging_run_k(&tee),
        };
        let (k, name) = (k.unwrap().value, case.text("way"));
        compare_in_steps(&mut tally, name, k, &case, ["k", "k_printed_to"]);
        let velocity_m_s = velocity_m_s((run + branch) * GPM_M3S, bore_m);
        let head_ft = minor_loss_head_m(k, velocity_m_s).unwrap() / FOOT_M;
        compare_in_steps(
            &mut tally,
            name,
            head_ft,
            &case,
            ["head_ft", "head_printed_to"],
        );
    }
    tally.finish();
}

#[test]
fn a_splitting_wye_follows_the_worked_example() {
    let mut tally = Tally::new("handbook-fittings/crane-tp410-7-36: K, in steps", STEP);
    let bore_m = bore_m(PipeSpec::PvcSchedule80, 6.0);
    for case in cases("handbook-fittings/crane-tp410-7-36/case.csv") {
        let (run, branch) = (case.number("run_flow"), case.number("branch_flow"));
        let tee = TeeFlow {
            run_bore_m: bore_m,
            branch_bore_m: bore_m,
            branch_share: branch / (run + branch),
            angle_deg: 45.0,
        };
        let k = match case.text("way") {
            "branch" => diverging_branch_k(&tee),
            _ => diverging_run_k(&tee),
        };
        let (k, name) = (k.unwrap().value, case.text("way"));
        compare_in_steps(&mut tally, name, k, &case, ["k", "k_printed_to"]);
    }
    tally.finish();
}

#[test]
fn a_rated_valve_follows_the_worked_example() {
    let mut tally = Tally::new(
        "handbook-fittings/crane-tp410-7-2: K, L/D and L, in steps",
        STEP,
    );
    for case in cases("handbook-fittings/crane-tp410-7-2/case.csv") {
        let bore_m = case.number("bore_m");
        let k = k_of_kv(case.number("kv"), bore_m).unwrap();
        let length_m = equivalent_length_m(k, case.number("friction_factor"), bore_m).unwrap();
        let quantity = case.text("quantity");
        let ours = match quantity {
            "K" => k,
            "L/D" => length_m / bore_m,
            _ => length_m,
        };
        compare_in_steps(&mut tally, quantity, ours, &case, ["value", "printed_to"]);
    }
    tally.finish();
}

/// Head in ft and power in hp of the example: pipe, four elbows, gate, lift check with a narrower seat, exit and lift.
fn pumped_head_and_power(bore_m: f64, seat_m: f64) -> (f64, f64) {
    let check = SeatedValve {
        valve: Valve::LiftCheck,
        bore_m,
        seat_m,
        cone_angle_deg: 180.0,
    };
    let minor_loss_k = 4.0 * Fitting::Elbow90.k(bore_m).unwrap().value
        + Valve::Gate.k(bore_m).unwrap().value
        + reduced_seat_k(&check).unwrap().value
        + End::Exit.k();
    let run = PipeRun {
        bore_m,
        roughness_m: 0.0022 * INCH_M,
        length_m: 500.0 * FOOT_M,
        minor_loss_k,
    };
    let water = Water {
        density_kg_m3: 62.298 * POUND_PER_CUBIC_FOOT,
        dynamic_viscosity_pa_s: 0.95e-3,
        ..water_60_f()
    };
    let flow_m3s = 100.0 * GPM_M3S;
    let head_m = pipe_loss(&run, flow_m3s, &water).unwrap().head_m + 400.0 * FOOT_M;
    let power_w = water.density_kg_m3 * STANDARD_GRAVITY_M_S2 * flow_m3s * head_m / 0.70;
    (head_m / FOOT_M, power_w / HORSEPOWER_W)
}

#[test]
fn a_pumped_line_follows_the_worked_example() {
    let mut tally = Tally::new(
        "handbook-fittings/crane-tp410-7-15: head and power, in steps",
        STEP,
    );
    for case in cases("handbook-fittings/crane-tp410-7-15/case.csv") {
        let (head_ft, power_hp) =
            pumped_head_and_power(case.number("bore_m"), case.number("seat_m"));
        let quantity = case.text("quantity");
        let ours = if quantity == "head ft" {
            head_ft
        } else {
            power_hp
        };
        let name = format!("{quantity} by {}", case.text("by"));
        compare_in_shares(&mut tally, &name, ours, &case, "value");
    }
    tally.finish();
}

#[test]
fn an_orifice_plate_follows_the_worked_example() {
    /// 1 mm of mercury and of water at 60 °F, in Pa.
    const MERCURY_PA_MM: f64 = 133.322387415;
    const WATER_PA_MM: f64 = 0.999001 * STANDARD_GRAVITY_M_S2;
    let mut tally = Tally::new(
        "handbook-fittings/crane-tp410-7-23: flow and coefficient, in steps",
        STEP,
    );
    let plate = Meter {
        bore_m: bore_m(PipeSpec::PvcSchedule40, 4.0),
        orifice_m: 2.0 * INCH_M,
    };
    let difference_pa = 4.4 * 25.4 * (MERCURY_PA_MM - WATER_PA_MM);
    let flow = orifice_plate_flow(&plate, difference_pa, &water_60_f())
        .unwrap()
        .value;
    let ratio = plate.orifice_m / plate.bore_m;
    let approach = f64::sqrt(1.0 - ratio * ratio * ratio * ratio);
    for case in cases("handbook-fittings/crane-tp410-7-23/case.csv") {
        let quantity = case.text("quantity");
        let ours = match quantity {
            "flow gpm" => flow.flow_m3s / GPM_M3S,
            _ => flow.discharge_coefficient / approach,
        };
        let name = format!("{quantity} by {}", case.text("by"));
        compare_in_steps(&mut tally, &name, ours, &case, ["value", "printed_to"]);
    }
    tally.finish();
}

#[test]
fn a_nozzle_follows_the_worked_example() {
    /// A conventional foot of water in Pa.
    const FOOT_OF_WATER_PA: f64 = 2989.06692;
    let mut tally = Tally::new(
        "handbook-fittings/crane-tp410-7-31: permanent loss, in steps",
        STEP,
    );
    for case in cases("handbook-fittings/crane-tp410-7-31/case.csv") {
        let bore_m = case.number("bore_m");
        let velocity_m_s = velocity_m_s(225.0 * GPM_M3S, bore_m);
        let reynolds = hydraulics::friction::reynolds(velocity_m_s, bore_m, &water_60_f());
        let orifice_m = case.number("throat_in") * INCH_M;
        let nozzle = Meter { bore_m, orifice_m };
        let c = long_radius_nozzle_discharge_coefficient(&nozzle, reynolds);
        let difference_pa = 4.0 * FOOT_OF_WATER_PA;
        let loss_pa = permanent_loss_pa(&nozzle, c.unwrap().value, difference_pa).unwrap();
        compare_in_shares(
            &mut tally,
            case.text("by"),
            loss_pa / PSI_PA,
            &case,
            "loss_psi",
        );
    }
    tally.finish();
}
