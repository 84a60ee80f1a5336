//! Sites, tests and readings at random, every one of them valid.

mod operation;
mod parts;
mod readings;
mod site;

pub(crate) use readings::{formula, readings, test};
pub(crate) use site::site;

use proptest::prelude::*;
use records::unit::{Dimension, Unit};
use records::{Guess, Quantity};

/// Names with everything that TOML and separated values treat specially.
pub(crate) fn name() -> impl Strategy<Value = String> {
    "[a-zA-Z0-9µé\"'#=\\[\\]{},;.\\\\-][a-zA-Z0-9 µ²\"'#=\\[\\]{},;.\\\\-]{0,18}[a-zA-Z0-9\"'#=\\]},;.]"
}

/// A name, or none.
pub(crate) fn maybe_name() -> impl Strategy<Value = Option<String>> {
    proptest::option::of(name())
}

/// Numbers as people type them, from 0.01 to 999, with a fraction now and then.
fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => (1..1000_u32).prop_map(|number| number.to_string()),
        4 => (1..99_999_u32).prop_map(|number| (f64::from(number) / 100.0).to_string()),
        1 => (0..9_u32, 1..8_u32).prop_map(|(whole, eighths)| format!("{whole}-{eighths}/8")),
        1 => Just("½".to_owned()),
    ]
}

/// A quantity above 0 in any spelling of any unit, a guess now and then.
pub(crate) fn positive(dimension: Dimension) -> impl Strategy<Value = Quantity> {
    let units: Vec<&'static Unit> = Unit::all()
        .filter(|unit| unit.dimension == dimension)
        .collect();
    let spelling = proptest::sample::select(units).prop_flat_map(|unit| {
        proptest::sample::select(
            unit.spellings
                .iter()
                .copied()
                .chain([unit.name])
                .collect::<Vec<_>>(),
        )
    });
    let guess = proptest::option::weighted(
        0.2,
        (101..900_u32).prop_map(|factor| f64::from(factor) / 100.0),
    );
    (number(), "[ \u{a0}]{1,2}", spelling, guess).prop_map(
        move |(number, space, spelling, guess)| {
            let quantity =
                Quantity::parse(&format!("{number}{space}{spelling}"), dimension).unwrap();
            Quantity {
                guess: guess.map(|factor| Guess { factor }),
                ..quantity
            }
        },
    )
}

/// A quantity above 0, or none.
pub(crate) fn maybe(dimension: Dimension) -> impl Strategy<Value = Option<Quantity>> {
    proptest::option::of(positive(dimension))
}

/// A quantity between two numbers of a unit, stated.
pub(crate) fn between(
    dimension: Dimension,
    unit: &'static str,
    low: i32,
    high: i32,
) -> impl Strategy<Value = Quantity> {
    (low..=high)
        .prop_map(move |number| Quantity::parse(&format!("{number} {unit}"), dimension).unwrap())
}
