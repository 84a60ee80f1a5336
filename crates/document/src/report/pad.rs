//! The pad as it stands in the site file, and the state in which it was tested.

use super::tested::called;
use super::{Subject, heading};
use crate::content::Block;
use crate::language::say;
use crate::names;
use crate::number;
use records::Test;
use records::unit::Dimension;

/// Composes pad and tests.
pub(super) fn pad(subject: &Subject<'_>) -> Vec<Block> {
    let mut blocks = vec![heading(say!(subject.printing, "The pad and the test"))];
    let answer = |word: &str, parts: Vec<String>| {
        (!parts.is_empty()).then(|| Block::Answer {
            word: word.to_owned(),
            text: format!("{}.", parts.join("; ")),
            kind: None,
        })
    };
    blocks.extend(answer(say!(subject.printing, "Pool"), pool(subject)));
    blocks.extend(answer(say!(subject.printing, "Pump"), pump(subject)));
    for test in subject.tests {
        blocks.extend(answer(say!(subject.printing, "Test"), state(subject, test)));
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
        water.salinity.as_ref().map(|salinity| {
            say!(
                subject.printing,
                "salt {salinity}",
                salinity = salinity.text
            )
        }),
        site.place.elevation.as_ref().map(|height| {
            say!(
                subject.printing,
                "{height} above sea level",
                height = plain(height.si, Dimension::Length)
            )
        }),
    ];
    let bodies = site.bodies.iter().map(|body| {
        say!(
            subject.printing,
            "{body} at {height} above the pool",
            body = body.name,
            height = plain(body.level.si, Dimension::Length)
        )
    });
    parts.into_iter().flatten().chain(bodies).collect()
}

fn pump(subject: &Subject<'_>) -> Vec<String> {
    let (pump, printing) = (&subject.site.pump, subject.printing);
    let speeds = match &pump.speed.min {
        Some(least) => say!(
            subject.printing,
            "{low} to {high} rpm",
            low = number::rpm(subject.printing, least.si),
            high = number::rpm(subject.printing, pump.speed.max.si)
        ),
        None => say!(
            subject.printing,
            "up to {high} rpm",
            high = number::rpm(subject.printing, pump.speed.max.si)
        ),
    };
    let height = pump.height.as_ref().map(|height| {
        let stands = printing.plain(height.si.abs(), Dimension::Length);
        if height.si < 0.0 {
            say!(
                subject.printing,
                "{height} below the water",
                height = stands
            )
        } else {
            say!(
                subject.printing,
                "{height} above the water",
                height = stands
            )
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
    let stated = |word: &str, text: Option<&String>| {
        text.map(|text| format!("{word}: {}", names::name(text, subject.printing)))
    };
    let water = head.water_temperature.as_ref().map(|temperature| {
        say!(
            subject.printing,
            "water at {temperature}",
            temperature = subject
                .printing
                .plain(temperature.si, Dimension::Temperature)
        )
    });
    let parts = [
        Some(called(test, subject.printing)),
        water,
        named(say!(subject.printing, "shut:"), &head.closed),
        named(say!(subject.printing, "part-open:"), &head.throttled),
        named(say!(subject.printing, "also running:"), &head.also_running),
        named(
            say!(subject.printing, "in the power reading too:"),
            &head.power_includes,
        ),
        stated(say!(subject.printing, "filter"), condition.filter.as_ref()),
        stated(say!(subject.printing, "basket"), condition.basket.as_ref()),
        stated(say!(subject.printing, "air"), condition.air.as_ref()),
        stated(say!(subject.printing, "heater"), condition.heater.as_ref()),
    ];
    parts.into_iter().flatten().collect()
}
