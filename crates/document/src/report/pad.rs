//! The pad as it stands in the site file, and the state in which it was tested.

use super::tested::called;
use super::{Subject, heading};
use crate::content::Block;
use crate::number;
use records::Test;
use records::unit::Dimension;

/// Composes pad and tests.
pub(super) fn pad(subject: &Subject<'_>) -> Vec<Block> {
    let mut blocks = vec![heading("The pad and the test")];
    let answer = |word: &str, parts: Vec<String>| {
        (!parts.is_empty()).then(|| Block::Answer {
            word: word.to_owned(),
            text: format!("{}.", parts.join("; ")),
        })
    };
    blocks.extend(answer("Pool", pool(subject)));
    blocks.extend(answer("Pump", pump(subject)));
    for test in subject.tests {
        blocks.extend(answer("Test", state(subject, test)));
    }
    blocks
}

fn pool(subject: &Subject<'_>) -> Vec<String> {
    let (site, printing) = (subject.site, subject.printing);
    let plain = |si: f64, dimension| printing.plain(si, dimension);
    let water = &site.water;
    let parts = [
        water
            .volume
            .as_ref()
            .map(|volume| plain(volume.si, Dimension::Volume)),
        water
            .salinity
            .as_ref()
            .map(|salinity| format!("salt {}", salinity.text)),
        site.place
            .elevation
            .as_ref()
            .map(|height| format!("{} above sea level", plain(height.si, Dimension::Length))),
    ];
    let bodies = site.bodies.iter().map(|body| {
        format!(
            "{} at {} above the pool",
            body.name,
            plain(body.level.si, Dimension::Length)
        )
    });
    parts.into_iter().flatten().chain(bodies).collect()
}

fn pump(subject: &Subject<'_>) -> Vec<String> {
    let (pump, printing) = (&subject.site.pump, subject.printing);
    let speeds = match &pump.speed.min {
        Some(least) => format!(
            "{} to {} rpm",
            number::rpm(least.si),
            number::rpm(pump.speed.max.si)
        ),
        None => format!("up to {} rpm", number::rpm(pump.speed.max.si)),
    };
    let height = pump.height.as_ref().map(|height| {
        let stands = printing.plain(height.si.abs(), Dimension::Length);
        if height.si < 0.0 {
            format!("{stands} below the water")
        } else {
            format!("{stands} above the water")
        }
    });
    let supply = pump.supply.as_ref().map(|supply| supply.text.clone());
    let parts = [pump.name.clone(), Some(speeds), supply, height];
    parts.into_iter().flatten().collect()
}

/// Says in which state the pad was tested.
fn state(subject: &Subject<'_>, test: &Test) -> Vec<String> {
    let head = &test.head;
    let condition = &head.condition;
    let named = |word: &str, names: &[String]| {
        (!names.is_empty()).then(|| format!("{word} {}", names.join(", ")))
    };
    let stated = |word: &str, text: Option<&String>| text.map(|text| format!("{word}: {text}"));
    let water = head.water_temperature.as_ref().map(|temperature| {
        format!(
            "water at {}",
            subject
                .printing
                .plain(temperature.si, Dimension::Temperature)
        )
    });
    let parts = [
        Some(called(test)),
        water,
        named("shut:", &head.closed),
        named("part-open:", &head.throttled),
        named("also running:", &head.also_running),
        named("in the power reading too:", &head.power_includes),
        stated("filter", condition.filter.as_ref()),
        stated("basket", condition.basket.as_ref()),
        stated("air", condition.air.as_ref()),
        stated("heater", condition.heater.as_ref()),
    ];
    parts.into_iter().flatten().collect()
}
