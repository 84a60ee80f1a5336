//! Words for what ran beyond a limit: of velocity, flow, pressure, vacuum, suction head.

use super::{Words, sourced};
use crate::number;
use crate::units::{Printing, with_unit};
use fieldtest::{Limit, LimitOf, Matter, Place};
use metrology::Estimate;
use records::unit::Dimension;

/// Puts a limit that was passed into English.
pub(super) fn words(matter: &Matter, place: &Place, printing: Printing) -> Words {
    match matter {
        Matter::FlowBeyond { limit, flow_m3s } => flow(limit, *flow_m3s, place, printing)
            .with_source(sourced(&limit.source, limit.basis)),
        Matter::ProgramBeyond { limit, flow_m3s } => program(limit, *flow_m3s, place, printing)
            .with_source(sourced(&limit.source, limit.basis)),
        Matter::PressureAboveRating {
            pressure_pa,
            rating_pa,
        } => pressure(*pressure_pa, *rating_pa, place, printing),
        Matter::InletVacuumHigh {
            vacuum_pa,
            limit_pa,
            source,
            basis,
        } => Words::new(
            format!(
                "At {} rpm the gauge at the pump inlet shows {} of vacuum; a sound suction stays below {}.",
                top_speed(place),
                with_unit(&printing.vacuum_number(*vacuum_pa), printing.vacuum_name()),
                printing.vacuum(*limit_pa),
            ),
            "Look for a full basket, a valve part shut or a blocked line before the pump; else run slower, or have the suction made wider.",
        )
        .with_source(sourced(source, *basis)),
        Matter::NpshShort {
            available_m,
            required_m,
            margin_m,
            source,
            basis,
        } => Words::new(
            format!(
                "At {} rpm {} of head is left above boiling at the pump inlet; the pump asks for {}, and {} to spare: the water may boil in the impeller.",
                top_speed(place),
                printing.with_interval(*available_m, Dimension::Length),
                printing.plain(*required_m, Dimension::Length),
                printing.plain(*margin_m, Dimension::Length),
            ),
            "Listen for a rattle as of gravel; run slower, clear the suction, or have it made wider or shorter.",
        )
        .with_source(sourced(source, *basis)),
        other => super::unsaid(other),
    }
}

/// The highest of the steps that ran beyond a limit.
fn top_speed(place: &Place) -> String {
    number::rpm(place.steps_rpm.iter().copied().fold(0.0, f64::max))
}

fn flow_words(flow_m3s: f64, printing: Printing) -> String {
    printing.plain(flow_m3s, Dimension::Flow)
}

fn flow(limit: &Limit, flow_m3s: f64, place: &Place, printing: Printing) -> Words {
    let at_limit = flow_words(limit.flow_m3s.unwrap_or_default(), printing);
    let part = &limit.applies_to;
    let says = match (limit.of, limit.velocity_at_m_s(flow_m3s)) {
        (LimitOf::Velocity { velocity_m_s }, Some(fastest_m_s)) => format!(
            "At {} rpm the water runs {} in {part}; the limit there is {}, reached at {at_limit}.",
            top_speed(place),
            printing.plain(fastest_m_s, Dimension::Velocity),
            printing.plain(velocity_m_s, Dimension::Velocity),
        ),
        _ => format!(
            "At {} rpm {} went through the {part}; the most there is {at_limit}.",
            top_speed(place),
            flow_words(flow_m3s, printing),
        ),
    };
    let keep = limit.speed_rpm.map_or_else(
        || format!("Keep the flow below {at_limit}"),
        |speed| format!("Keep the pump below about {} rpm", number::rpm_about(speed)),
    );
    let more = match limit.code {
        "velocity-high" => format!(", or give {part} a larger bore."),
        "above-cover-rating" => {
            " until a licensed person has confirmed the covers and their rating: a cover beyond its rating can hold a person."
                .to_owned()
        }
        _ => ".".to_owned(),
    };
    Words::new(says, keep + &more)
}

fn program(limit: &Limit, flow_m3s: f64, place: &Place, printing: Printing) -> Words {
    let part = &limit.applies_to;
    let at_limit = flow_words(limit.flow_m3s.unwrap_or_default(), printing);
    let says = format!(
        "The program as found runs {} rpm, which moves {}; ",
        number::rpm(place.steps_rpm.first().copied().unwrap_or_default()),
        flow_words(flow_m3s, printing),
    );
    let about = limit.speed_rpm.map_or_else(String::new, |speed| {
        format!(", about {} rpm", number::rpm_about(speed))
    });
    match limit.code {
        "below-equipment-minimum" => Words::new(
            format!("{says}the {part} needs {at_limit} when it works."),
            format!(
                "Give the hours in which it works at least {at_limit}{about}; below that its flow switch keeps it off."
            ),
        ),
        _ => Words::new(
            format!("{says}the rule allows {at_limit} for {part}."),
            format!(
                "Filter at no more than {at_limit}{about}; a task that needs more may run faster for its hours."
            ),
        ),
    }
}

fn pressure(pressure_pa: Estimate, rating_pa: f64, place: &Place, printing: Printing) -> Words {
    let rating = printing.plain(rating_pa, Dimension::Pressure);
    let rated = if pressure_pa.value > rating_pa {
        format!("the vessel is rated for {rating}")
    } else {
        format!("the vessel's rating of {rating} lies within what this gauge can be off")
    };
    Words::new(
        format!(
            "At {} rpm the filter gauge shows {}; {rated}.",
            top_speed(place),
            printing.with_interval(pressure_pa, Dimension::Pressure),
        ),
        "Stop the pump, stand clear of the lid and the clamp, open the air relief, and find what is shut or blocked behind the gauge. Do not run this speed again before.",
    )
    .with_source("the rating stated in the site file; pressure grows with the square of speed")
}
