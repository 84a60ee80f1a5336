//! The catalogue of pipe against the tables of its standard.

use hydraulics::pipe::{PipeSize, PipeSpec};

use crate::harness::{Case, Tally, Tolerance, cases};

/// The printed dimensions are exact in inches; a metre value is printed to 1e-9 m or better.
const PRINTED_M: Tolerance = Tolerance::Absolute(1e-9);

fn sizes_of(case: &Case) -> (PipeSize, PipeSize) {
    let (minimum, average) = match case.text("schedule") {
        "40" => (PipeSpec::PvcSchedule40, PipeSpec::PvcSchedule40Average),
        "80" => (PipeSpec::PvcSchedule80, PipeSpec::PvcSchedule80Average),
        other => panic!("schedule {other}"),
    };
    let nominal_in = case.number("nps_in");
    let size = |spec: PipeSpec| spec.size(nominal_in).unwrap();
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
        let theirs_m = case.number("avg_id_in_memory") * 0.0254;
        tally.compare(label(&case, "average bore"), average.bore_m, theirs_m);
    }
    tally.finish();
}
