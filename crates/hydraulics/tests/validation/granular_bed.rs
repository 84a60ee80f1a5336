//! The drop of a bed of sand against a general-purpose library.

use hydraulics::equipment::{GranularBed, granular_bed_pressure_pa};
use hydraulics::water::Water;

use crate::harness::{Tally, Tolerance, cases};

#[test]
fn a_bed_of_grains_takes_what_the_library_says() {
    // The same equation in another order of operations: some ten roundings.
    let mut tally = Tally::new(
        "granular-bed/fluids: drop of a bed of grains",
        Tolerance::Relative(1e-13),
    );
    for case in cases("granular-bed/fluids/drop.csv") {
        let bed = GranularBed {
            grain_m: case.number("grain_m"),
            depth_m: case.number("depth_m"),
            area_m2: 1.0,
            porosity: case.number("porosity"),
        };
        let water = Water {
            density_kg_m3: case.number("density_kg_m3"),
            dynamic_viscosity_pa_s: case.number("viscosity_pa_s"),
            ..Water::fresh(293.15).unwrap()
        };
        // Through one square metre, flow is velocity.
        let velocity = case.number("velocity_m_s");
        let ours = granular_bed_pressure_pa(&bed, velocity, &water).unwrap();
        let label = format!("{} m at {velocity} m/s", bed.grain_m);
        tally.compare(label, ours.value, case.number("drop_pa"));
    }
    tally.finish();
}
