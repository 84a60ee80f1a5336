//! The standard atmosphere, against the printed table and in full precision.

use hydraulics::atmosphere::standard_pressure_pa;

use crate::harness::{Tally, Tolerance, cases};

#[test]
fn every_printed_digit_of_the_table_is_reproduced() {
    // Half a unit of the last printed digit; the hundredth above it is for the rounding of the quotient.
    let mut tally = Tally::new(
        "atmosphere/us-1976: last printed digit",
        Tolerance::Absolute(0.51),
    );
    for case in cases("atmosphere/us-1976/pressure.csv") {
        let ours_pa = standard_pressure_pa(case.number("elevation_m")).unwrap();
        let (theirs_pa, unit) = (case.number("pressure_pa"), case.number("last_digit"));
        let label = format!("{} m", case.text("elevation_m"));
        tally.compare(label, ours_pa / unit, theirs_pa / unit);
    }
    tally.finish();
}

#[test]
fn the_same_law_gives_the_same_pressure() {
    // Another order of operations, raised by the exponent 5.26.
    let mut tally = Tally::new("atmosphere/fluids: pressure", Tolerance::Relative(1e-13));
    for case in cases("atmosphere/fluids/pressure.csv") {
        let ours_pa = standard_pressure_pa(case.number("elevation_m")).unwrap();
        let label = format!("{} m", case.text("elevation_m"));
        tally.compare(label, ours_pa, case.number("pressure_pa"));
    }
    tally.finish();
}
