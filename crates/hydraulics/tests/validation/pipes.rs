//! The catalogue of pipe against the tables of its standard.

use hydraulics::pipe::{PipeSize, PipeSpec};

use crate::harness::{Case, INCH_M, Tally, Tolerance, cases};

/// The printed dimensions are exact in inches; a metre value is printed to 1e-9 m or better.
const PRINTED_M: Tolerance = Tolerance::Absolute(1e-9);

fn sizes_of(case: &Case) -> (PipeSize, PipeSize) {
    let (minimum, average) = match case.text("schedule") {
        "40" => (PipeSpec::PvcSchedule40, PipeSpec::PvcSchedule40Average),
        "80" => (PipeSpec::PvcSchedule80, PipeSpec::PvcSchedule80Average),
        other => panic!("schedule {other}"),
    };
    let nominal_m = case.number("nps_in") * INCH_M;
    let size = |spec: PipeSpec| spec.size(nominal_m).unwrap();
    (size(minimum), size(average))
}

fn label(case: &Case, what: &str) -> String {
    format!(
        "Sch {} {} in {what}",
        case.text("schedule"),
        case.text("nps_in")
    )
}

fn compare(tally: &mut Tally, case: &Case, columns: [&str; 3], column_m: f64) {
    let (size, _) = sizes_of(case);
    let ours = [size.outside_diameter_m, size.wall_m, size.bore_m];
    for (column, ours_m) in columns.into_iter().zip(ours) {
        tally.compare(label(case, column), ours_m, case.number(column) * column_m);
    }
}

#[test]
fn every_size_has_the_dimensions_of_the_standard() {
    let mut tally = Tally::new("pipes/astm-d1785: diameter, wall and bore, m", PRINTED_M);
    let table = cases("pipes/astm-d1785/sizes.csv");
    for case in &table {
        compare(
            &mut tally,
            case,
            ["outside_mm", "wall_min_mm", "bore_mm"],
            1e-3,
        );
    }
    for case in &cases("pipes/astm-d1785/pipes.csv") {
        compare(
            &mut tally,
            case,
            ["pvc_od_m", "pvc_wall_min_m", "pvc_id_m"],
            1.0,
        );
    }
    // No size of the catalogue escapes the comparison.
    let catalogue =
        PipeSpec::PvcSchedule40.sizes().count() + PipeSpec::PvcSchedule80.sizes().count();
    assert_eq!(table.len(), catalogue);
    tally.finish();
}

#[test]
fn average_bores_are_those_that_makers_print() {
    // From memory of the standard and of makers' charts, in the file and here: see SOURCE.md.
    let mut tally = Tally::new("pipes/astm-d1785: average bore (from memory), m", PRINTED_M);
    for case in cases("pipes/astm-d1785/pipes.csv") {
        let (_, average) = sizes_of(&case);
        let theirs_m = case.number("avg_id_in_memory") * INCH_M;
        tally.compare(label(&case, "average bore"), average.bore_m, theirs_m);
    }
    tally.finish();
}

/// The size of a case in whichever catalogue it names.
fn named_size(case: &Case, nominal_m: f64) -> PipeSize {
    let spec = PipeSpec::parse(case.text("spec")).unwrap();
    spec.size(nominal_m).unwrap()
}

#[test]
fn cpvc_and_copper_have_the_dimensions_of_another_table() {
    let mut tally = Tally::new("pipes/fluids: diameter, wall and bore, m", PRINTED_M);
    let table = cases("pipes/fluids/sizes.csv");
    for case in &table {
        let size = named_size(case, case.number("nominal_in") * INCH_M);
        let label = |what: &str| format!("{} {} {what}", case.text("spec"), size.nominal);
        let outside_m = case.number("outside_mm") / 1e3;
        tally.compare(label("outside"), size.outside_diameter_m, outside_m);
        for (column, ours_m) in [("wall_mm", size.wall_m), ("bore_mm", size.bore_m)] {
            let Some(theirs_mm) = case.number_if_any(column) else {
                continue;
            };
            if case.text("known").is_empty() {
                tally.compare(label(column), ours_m, theirs_mm / 1e3);
            } else {
                tally.expect_disagreement(label(column), ours_m, theirs_mm / 1e3);
            }
        }
    }
    // No size of these catalogues escapes the comparison.
    for spec in [
        PipeSpec::CpvcSchedule40,
        PipeSpec::CpvcSchedule80,
        PipeSpec::CpvcSdr11,
    ] {
        let compared = table.iter().filter(|case| case.text("spec") == spec.name());
        assert_eq!(compared.count(), spec.sizes().count());
    }
    tally.finish();
}

#[test]
fn metric_pipe_has_the_dimensions_of_another_table() {
    let mut tally = Tally::new("pipes/pandapipes: bore, m", PRINTED_M);
    for case in cases("pipes/pandapipes/sizes.csv") {
        let size = named_size(&case, case.number("outside_mm") / 1e3);
        let theirs_m = case.number("bore_mm") / 1e3;
        tally.compare(case.text("std_type"), size.bore_m, theirs_m);
    }
    tally.finish();
}

#[test]
fn copper_has_the_bores_that_handbooks_print() {
    let mut tally = Tally::new("pipes/copper: bore (from memory), m", PRINTED_M);
    let table = cases("pipes/copper/bores.csv");
    for case in &table {
        let size = PipeSpec::CopperL
            .size(case.number("nominal_in") * INCH_M)
            .unwrap();
        tally.compare(size.nominal, size.bore_m, case.number("bore_in") * INCH_M);
    }
    assert_eq!(table.len(), PipeSpec::CopperL.sizes().count());
    tally.finish();
}
