//! Words for what ran beyond a limit: of velocity, flow, pressure, vacuum, suction head.

use super::{Words, sourced};
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::{Printing, with_unit};
use fieldtest::{Limit, LimitOf, Matter, Place};
use metrology::Estimate;
use records::unit::Dimension;

/// Puts a limit that was passed into English.
pub(super) fn words(matter: &Matter, place: &Place, printing: Printing) -> Words {
    match matter {
        Matter::FlowBeyond { limit, flow_m3s } => flow(limit, *flow_m3s, place, printing)
            .with_source(sourced(&limit.source, limit.basis, printing)),
        Matter::ProgramBeyond { limit, flow_m3s } => program(limit, *flow_m3s, place, printing)
            .with_source(sourced(&limit.source, limit.basis, printing)),
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
            say!(printing, "At {speed} rpm the gauge at the pump inlet shows {vacuum} of vacuum; a sound suction stays below {limit}.", speed = top_speed(place, printing), vacuum = with_unit(&printing.vacuum_number(*vacuum_pa), printing.vacuum_name()), limit = printing.vacuum(*limit_pa)),
            say!(printing, "Look for a full basket, a valve part shut or a blocked line before the pump; else run slower, or have the suction made wider."),
        )
        .with_source(sourced(source, *basis, printing)),
        Matter::NpshShort {
            available_m,
            required_m,
            margin_m,
            source,
            basis,
        } => Words::new(
            say!(printing, "At {speed} rpm {available} of head is left above boiling at the pump inlet; the pump asks for {required}, and {margin} to spare: the water may boil in the impeller.", speed = top_speed(place, printing), available = printing.with_interval(*available_m, Dimension::Length), required = printing.plain(*required_m, Dimension::Length), margin = printing.plain(*margin_m, Dimension::Length)),
            say!(printing, "Listen for a rattle as of gravel; run slower, clear the suction, or have it made wider or shorter."),
        )
        .with_source(sourced(source, *basis, printing)),
        other => super::unsaid(other, printing),
    }
}

/// The highest of the steps that ran beyond a limit.
fn top_speed(place: &Place, printing: Printing) -> String {
    number::rpm(
        printing,
        place.steps_rpm.iter().copied().fold(0.0, f64::max),
    )
}

fn flow_words(flow_m3s: f64, printing: Printing) -> String {
    printing.plain(flow_m3s, Dimension::Flow)
}

fn flow(limit: &Limit, flow_m3s: f64, place: &Place, printing: Printing) -> Words {
    let at_limit = flow_words(limit.flow_m3s.unwrap_or_default(), printing);
    let part = names::applied_to(limit, printing);
    let says = match (limit.of, limit.velocity_at_m_s(flow_m3s)) {
        (LimitOf::Velocity { velocity_m_s }, Some(fastest_m_s)) => say!(
            printing,
            "At {speed} rpm the water runs {velocity} in {part}; the limit there is {limit}, reached at {at_limit}.",
            speed = top_speed(place, printing),
            velocity = printing.plain(fastest_m_s, Dimension::Velocity),
            part,
            limit = printing.plain(velocity_m_s, Dimension::Velocity),
            at_limit
        ),
        _ => say!(
            printing,
            "At {speed} rpm {flow} went through the {part}; the most there is {most}.",
            speed = top_speed(place, printing),
            flow = flow_words(flow_m3s, printing),
            part,
            most = at_limit
        ),
    };
    let keep = limit.speed_rpm.map_or_else(
        || say!(printing, "Keep the flow below {most}", most = at_limit),
        |speed| {
            say!(
                printing,
                "Keep the pump below about {speed} rpm",
                speed = number::rpm_about(speed)
            )
        },
    );
    let more = match limit.code {
        "velocity-high" => say!(printing, ", or give {part} a larger bore.", part),
        "above-cover-rating" => {
            say!(printing, " until a licensed person has confirmed the covers and their rating: a cover beyond its rating can hold a person.")
                .to_owned()
        }
        _ => ".".to_owned(),
    };
    Words::new(says, keep + &more)
}

fn program(limit: &Limit, flow_m3s: f64, place: &Place, printing: Printing) -> Words {
    let part = names::applied_to(limit, printing);
    let at_limit = flow_words(limit.flow_m3s.unwrap_or_default(), printing);
    let speed = number::rpm(
        printing,
        place.steps_rpm.first().copied().unwrap_or_default(),
    );
    let flow = flow_words(flow_m3s, printing);
    let about = limit.speed_rpm.map_or_else(String::new, |speed| {
        say!(
            printing,
            ", about {speed} rpm",
            speed = number::rpm_about(speed)
        )
    });
    match limit.code {
        "below-equipment-minimum" => Words::new(
            say!(
                printing,
                "The program as found runs {speed} rpm, which moves {flow}; the {part} needs {least} when it works.",
                speed,
                flow,
                part,
                least = at_limit
            ),
            say!(
                printing,
                "Give the hours in which it works at least {least}{about}; below that its flow switch keeps it off.",
                least = at_limit,
                about
            ),
        ),
        _ => Words::new(
            say!(
                printing,
                "The program as found runs {speed} rpm, which moves {flow}; the rule allows {most} for {part}.",
                speed,
                flow,
                most = at_limit,
                part
            ),
            say!(
                printing,
                "Filter at no more than {most}{about}; a task that needs more may run faster for its hours.",
                most = at_limit,
                about
            ),
        ),
    }
}

fn pressure(pressure_pa: Estimate, rating_pa: f64, place: &Place, printing: Printing) -> Words {
    let rating = printing.plain(rating_pa, Dimension::Pressure);
    let rated = if pressure_pa.value > rating_pa {
        say!(printing, "the vessel is rated for {rating}", rating)
    } else {
        say!(
            printing,
            "the vessel's rating of {rating} lies within what this gauge can be off",
            rating
        )
    };
    Words::new(
        say!(printing, "At {speed} rpm the filter gauge shows {pressure}; {rated}.", speed = top_speed(place, printing), pressure = printing.with_interval(pressure_pa, Dimension::Pressure), rated),
        say!(printing, "Stop the pump, stand clear of the lid and the clamp, open the air relief, and find what is shut or blocked behind the gauge. Do not run this speed again before."),
    )
    .with_source(say!(printing, "the rating stated in the site file; pressure grows with the square of speed"))
}
