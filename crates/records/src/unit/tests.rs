//! Factors held against print; spellings held against one another.

use super::*;
use proptest::prelude::*;
use std::collections::BTreeSet;

fn currency_of(spelling: &str) -> Option<&str> {
    money(spelling).map(|(currency, _)| currency)
}

fn si_of_one(dimension: Dimension, spelling: &str) -> f64 {
    Unit::find(dimension, spelling)
        .expect("a unit of the table")
        .to_si(1.0)
}

/// NIST Special Publication 811 (2008), appendix B.8, as printed: seven significant digits.
/// Recalled from memory, the text was not at hand.
#[test]
fn factors_agree_with_the_printed_table() {
    let printed = [
        (Dimension::Flow, "gpm", 6.309020e-5),
        (Dimension::Length, "ft", 3.048e-1),
        (Dimension::Length, "in", 2.54e-2),
        (Dimension::Area, "ft2", 9.290304e-2),
        (Dimension::Area, "in2", 6.4516e-4),
        (Dimension::Volume, "gal", 3.785412e-3),
        (Dimension::Volume, "imp gal", 4.54609e-3),
        (Dimension::Volume, "ft3", 2.831685e-2),
        (Dimension::Volume, "L", 1e-3),
        (Dimension::Pressure, "psi", 6.894757e3),
        (Dimension::Pressure, "inHg", 3.386389e3),
        (Dimension::Pressure, "ft water", 2.989067e3),
        (Dimension::Pressure, "m water", 9.80665e3),
        (Dimension::Pressure, "bar", 1e5),
        (Dimension::Energy, "kWh", 3.6e6),
        (Dimension::Velocity, "ft/s", 3.048e-1),
    ];
    for (dimension, spelling, factor) in printed {
        let ours = si_of_one(dimension, spelling);
        // Half a unit of the seventh printed digit.
        assert!(
            (ours - factor).abs() <= 0.5e-6 * factor,
            "{spelling}: {ours} against {factor}"
        );
    }
}

/// The exact definitions: 231 cubic inches, and the pound-force on a square inch (SP 811, B.8).
#[test]
fn exact_factors_hold_to_the_last_digits() {
    let exact = [
        (Dimension::Volume, "gal", 3.785411784e-3),
        (Dimension::Pressure, "psi", 6894.757293168361),
        (Dimension::Volume, "ft3", 0.028316846592),
    ];
    for (dimension, spelling, factor) in exact {
        let ours = si_of_one(dimension, spelling);
        // A product of three rounded factors is good to 3 units of 2^-53.
        assert!(
            (ours - factor).abs() <= 4.0 * f64::EPSILON * factor,
            "{spelling}: {ours}"
        );
    }
}

/// SP 811, B.8: the temperature scales meet at the ice point, the boiling point and -40.
#[test]
fn temperatures_meet_at_the_fixed_points() {
    for (fahrenheit, kelvin) in [(32.0, 273.15), (212.0, 373.15), (-40.0, 233.15)] {
        let ours = Unit::find(Dimension::Temperature, "°F")
            .unwrap()
            .to_si(fahrenheit);
        // Two roundings of numbers near 300.
        assert!(
            (ours - kelvin).abs() < 2e-13 * kelvin,
            "{fahrenheit} degF is {ours} K"
        );
    }
}

/// 1 psi is 2.3067 ft of conventional water (SP 811 by division; STANDARDS §5.8 of the reference sheet).
#[test]
fn a_foot_of_water_is_a_pressure() {
    let feet = si_of_one(Dimension::Pressure, "psi") / si_of_one(Dimension::Pressure, "ft");
    assert!(
        (feet - 2.3067).abs() < 5e-5,
        "{feet}: half of the last printed digit"
    );
}

#[test]
fn every_spelling_is_unique_within_its_dimension() {
    let mut seen = BTreeSet::new();
    for unit in Unit::all() {
        let spellings = unit.spellings.iter().copied().chain([unit.name]);
        for spelling in spellings {
            assert!(
                seen.insert((unit.dimension, fold(spelling))),
                "{spelling} is met twice"
            );
            assert_eq!(
                Unit::find(unit.dimension, spelling),
                Some(unit),
                "{spelling}"
            );
        }
    }
}

#[test]
fn spellings_of_the_field_are_read() {
    let spellings = [
        (Dimension::Flow, "GPM", "gpm"),
        (Dimension::Flow, "l/min", "L/min"),
        (Dimension::Flow, "m³/h", "m3/h"),
        (Dimension::Flow, "m³·h⁻¹", "m3/h"),
        (Dimension::Temperature, "º F", "degF"),
        (Dimension::Area, "ft²", "ft2"),
        (Dimension::Area, "ft^2", "ft2"),
        (Dimension::Volume, "cu ft", "ft3"),
        (Dimension::Pressure, "KPA", "kPa"),
        (Dimension::Pressure, "in.  Hg", "inHg"),
        (Dimension::Energy, "kW·h", "kWh"),
        (Dimension::Length, "in.", "in"),
    ];
    for (dimension, spelling, name) in spellings {
        assert_eq!(
            Unit::find(dimension, spelling).map(|unit| unit.name),
            Some(name),
            "{spelling}"
        );
    }
}

#[test]
fn a_price_names_any_currency_in_capitals() {
    assert!(Unit::find(Dimension::Price, "EUR/kWh").is_some());
    assert_eq!(currency_of("AUD / kWh"), Some("AUD"));
    for wrong in ["usd/kWh", "EURO/kWh", "kWh", "USD/MWh", "USD"] {
        assert!(Unit::find(Dimension::Price, wrong).is_none(), "{wrong}");
    }
}

proptest! {
    #[test]
    fn values_survive_the_way_there_and_back(index in 0..Unit::all().count(), value in -1e9..1e9_f64) {
        let unit = Unit::all().nth(index).unwrap();
        let back = unit.from_si(unit.to_si(value));
        // Two roundings, and for a temperature the cancellation of an offset below 500 units.
        prop_assert!((back - value).abs() <= 4.0 * f64::EPSILON * (value.abs() + 500.0));
    }
}
