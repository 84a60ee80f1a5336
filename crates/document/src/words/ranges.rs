//! Words for an answer beyond the range of its correlation, and for an input that is impossible.

use crate::language::say;
use crate::names;
use crate::number;
use crate::units::{Printing, with_unit};
use hydraulics::fittings::valve::Valve;
use hydraulics::pump::CurveError;
use hydraulics::{HydraulicsError, Quantity, Warning};
use records::unit::Dimension;

/// Puts a warning of the hydraulics into English.
pub(crate) fn warning(warning: &Warning, printing: Printing) -> String {
    match warning {
        Warning::TransitionRegime { reynolds } => say!(
            printing,
            "Reynolds number {reynolds}: between laminar and turbulent flow no value is agreed; a smooth bridge is given.",
            reynolds = number::significant(printing, *reynolds, 3)
        ),
        Warning::NoSplitLaw => say!(
            printing,
            "all of the flow of a tee passes its branch, and how it divides there no accepted law \
             says; each way counts as flow round the corner"
        )
        .to_owned(),
        Warning::OutsideRange {
            correlation,
            quantity,
            value,
            low,
            high,
        } => {
            let [value, low, high] =
                [*value, *low, *high].map(|si| written(si, *quantity, printing));
            say!(
                printing,
                "The {correlation} is extrapolated: {quantity} {value}, made for {low} to {high}.",
                correlation = names::name(correlation, printing),
                quantity = names::name(&quantity.to_string(), printing),
                value,
                low,
                high
            )
        }
    }
}

/// Puts a refusal of the hydraulics into words: what was found, what is accepted. Those that no file can lead to are told as the
/// hydraulics tells them, in English.
pub(crate) fn refusal(error: &HydraulicsError, printing: Printing) -> String {
    let name = |quantity: Quantity| names::name(&quantity.to_string(), printing).into_owned();
    match *error {
        HydraulicsError::NotAboveZero { quantity, value } => say!(
            printing,
            "the {quantity} is {value}; expected a finite value above 0",
            quantity = name(quantity),
            value = with_unit(&value.to_string(), quantity.unit())
        ),
        HydraulicsError::BelowZero { quantity, value } => say!(
            printing,
            "the {quantity} is {value}; expected a finite value of 0 or more",
            quantity = name(quantity),
            value = with_unit(&value.to_string(), quantity.unit())
        ),
        HydraulicsError::NotFinite { quantity, value } => say!(
            printing,
            "the {quantity} is {value}; expected a finite value",
            quantity = name(quantity),
            value = with_unit(&value.to_string(), quantity.unit())
        ),
        HydraulicsError::OutOfRange {
            quantity,
            value,
            low,
            high,
        } => say!(
            printing,
            "the {quantity} is {value}; expected {low} to {high}",
            quantity = name(quantity),
            value = with_unit(&value.to_string(), quantity.unit()),
            low = with_unit(&low.to_string(), quantity.unit()),
            high = with_unit(&high.to_string(), quantity.unit())
        ),
        other => beyond_one_number(other, printing),
    }
}

/// Puts what is impossible of several numbers together into words.
fn beyond_one_number(error: HydraulicsError, printing: Printing) -> String {
    let valve_name = |valve: Valve| {
        let name = format!("{} valve", valve.name());
        names::name(&name, printing).into_owned()
    };
    match error {
        HydraulicsError::NoPoints => say!(
            printing,
            "no rated point is given; expected at least one flow with its drop"
        )
        .to_owned(),
        HydraulicsError::DropDoesNotRise { flow_m3s, drop_pa } => say!(
            printing,
            "the rated drop falls from {first_drop} at {first_flow} to {second_drop} at {second_flow}; expected a drop that rises with flow",
            first_drop = printing.plain(drop_pa[0], Dimension::Pressure),
            first_flow = printing.plain(flow_m3s[0], Dimension::Flow),
            second_drop = printing.plain(drop_pa[1], Dimension::Pressure),
            second_flow = printing.plain(flow_m3s[1], Dimension::Flow)
        ),
        HydraulicsError::FillsBore {
            quantity,
            value_m,
            bore_m,
        } => say!(
            printing,
            "the {quantity} is {value} in a bore of {bore}; expected less than the bore",
            quantity = names::name(&quantity.to_string(), printing),
            value = printing.bore(value_m),
            bore = printing.bore(bore_m)
        ),
        HydraulicsError::NoValveLaw { valve, .. } => say!(
            printing,
            "nobody has published what part of its opening makes of a {valve}; state its K",
            valve = valve_name(valve)
        ),
        HydraulicsError::ValveShut {
            valve,
            opening,
            shut_at,
        } => say!(
            printing,
            "the {valve} is shut at {opening} % open; it passes water above {shut_at} %",
            valve = valve_name(valve),
            opening = number::significant(printing, 100.0 * opening, 3),
            shut_at = number::significant(printing, 100.0 * shut_at, 3)
        ),
        HydraulicsError::RoughnessFillsBore {
            roughness_m,
            bore_m,
        } => say!(
            printing,
            "the roughness is {roughness} in a bore of {bore}; expected less than half of the bore",
            roughness = printing.bore(roughness_m),
            bore = printing.bore(bore_m)
        ),
        HydraulicsError::TemperatureOutOfRange {
            temperature_k,
            low_k,
            high_k,
        } => say!(
            printing,
            "the water temperature is {temperature}; expected {low} to {high}",
            temperature = printing.plain(temperature_k, Dimension::Temperature),
            low = printing.plain(low_k, Dimension::Temperature),
            high = printing.plain(high_k, Dimension::Temperature)
        ),
        HydraulicsError::LossNotFinite | HydraulicsError::HeadNotFinite { .. } => say!(
            printing,
            "these numbers together give a loss beyond all numbers"
        )
        .to_owned(),
        // No file leads there.
        other => other.to_string(),
    }
}

/// Puts into words why points are no curve of a pump, by their places in the file, from 1.
pub(crate) fn no_curve(error: &CurveError, printing: Printing) -> String {
    let flow = |flow_m3s: f64| printing.plain(flow_m3s, Dimension::Flow);
    let head = |head_m: f64| printing.plain(head_m, Dimension::Length);
    match *error {
        CurveError::TooFewPoints { given } => {
            say!(
                printing,
                "it has {given} points; expected at least 2",
                given
            )
        }
        CurveError::Point { index, source } => say!(
            printing,
            "point {point}: {why}",
            point = index + 1,
            why = refusal(&source, printing)
        ),
        CurveError::FlowDoesNotRise {
            index,
            flow_m3s,
            before_m3s,
        } => say!(
            printing,
            "point {point} has a flow of {flow} after {before}; expected flows that rise",
            point = index + 1,
            flow = flow(flow_m3s),
            before = flow(before_m3s)
        ),
        CurveError::HeadRises {
            index,
            head_m,
            before_m,
        } => say!(
            printing,
            "point {point} has a head of {head} after {before}; expected heads that do not rise",
            point = index + 1,
            head = head(head_m),
            before = head(before_m)
        ),
        CurveError::EndDoesNotFall { .. } => say!(
            printing,
            "its head does not fall at the last point; expected a head below the one before"
        )
        .to_owned(),
        CurveError::Whole { source } => refusal(&source, printing),
    }
}

/// Writes the value of an input in the unit of print, where it has one there.
fn written(si: f64, quantity: Quantity, printing: Printing) -> String {
    match quantity {
        Quantity::Bore => printing.bore(si),
        Quantity::Flow => printing.plain(si, Dimension::Flow),
        Quantity::Velocity => printing.plain(si, Dimension::Velocity),
        Quantity::WaterTemperature => printing.plain(si, Dimension::Temperature),
        _ => with_unit(&number::significant(printing, si, 3), quantity.unit()),
    }
}
