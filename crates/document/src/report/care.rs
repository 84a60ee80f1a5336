//! What the owner should mind: what to mend first, what to look at again and when to call, what to run by hand.

use super::{Subject, heading, items};
use crate::content::Block;
use crate::language::{later, said, say};
use crate::names;
use crate::number;
use crate::units::Printing;
use crate::words;
use fieldtest::{Bound, Finding, Limit, Severity};
use records::PartKind;
use records::unit::Dimension;

/// The findings that ask for something to be mended, the most pressing first.
///
/// A flow or a velocity beyond its limit in a step of the test is none of them: it sets which speeds not to pass.
const TO_MEND: [&str; 4] = [
    "above-cover-rating",
    "pressure-above-rating",
    "npsh-short",
    "inlet-vacuum-high",
];
/// How many of them the page has room for.
const MOST_TO_MEND: usize = 2;

/// The cautions of the owner's page.
///
/// # Source
/// As [`crate::cautions::CAUTIONS`], of which these are the ones that concern who owns a pool.
const CAUTIONS: [&str; 4] = [
    later!(
        "A suction cover that is missing, broken or loose can hold a swimmer fast: switch the pump off, everybody out of the water, and call."
    ),
    later!(
        "Nobody in the water while valves are moved. Never shut every way back to the pool while the pump runs."
    ),
    later!(
        "Electricity at a wet pad: leave boxes and wires to a qualified person. The filter is under pressure: leave its lid and its clamp alone."
    ),
    later!(
        "Local codes and licensed practice decide how long and how fast a pool must be filtered."
    ),
];

/// Composes what to mend first.
pub(super) fn mend_first(subject: &Subject<'_>) -> Vec<Block> {
    let place = |finding: &Finding| {
        let code = finding.matter.code();
        TO_MEND.iter().position(|known| *known == code)
    };
    let of_last = |finding: &&Finding| {
        let last = subject.analysis.tests.last().map(|test| &test.name);
        finding.place.test.is_none() || finding.place.test.as_ref() == last
    };
    let weighty = |finding: &&Finding| finding.severity > Severity::Note;
    let findings = subject
        .analysis
        .findings
        .iter()
        .filter(of_last)
        .filter(weighty);
    let mut found: Vec<(usize, &Finding)> = findings
        .filter_map(|finding| Some((place(finding)?, finding)))
        .collect();
    numerics::order::sort_by_key(&mut found, |(place, _)| *place);
    if found.is_empty() {
        return vec![
            heading(say!(subject.printing, "What to mend first")),
            Block::Paragraph(
                say!(
                    subject.printing,
                    "Nothing in these readings asks for a repair."
                )
                .to_owned(),
            ),
        ];
    }
    let more = found.len().saturating_sub(MOST_TO_MEND);
    let mut blocks = vec![heading(say!(subject.printing, "What to mend first"))];
    blocks.extend(found.iter().take(MOST_TO_MEND).map(|(_, finding)| {
        let words = words::finding(finding, subject.printing);
        Block::Item(format!("{} {}", words.says, words.action))
    }));
    if more > 0 {
        blocks.push(Block::Note(
            say!(
                subject.printing,
                "There is more to mend: see the findings in the second part."
            )
            .to_owned(),
        ));
    }
    blocks
}

/// Composes which jobs need a higher speed by hand.
pub(super) fn by_hand(subject: &Subject<'_>) -> Vec<Block> {
    let mut texts: Vec<String> = subject
        .analysis
        .limits
        .iter()
        .filter(|limit| limit.bound == Bound::Min)
        .filter_map(|limit| appliance(subject, limit))
        .collect();
    texts.push(match subject.first_limit().and_then(|limit| limit.speed_rpm) {
        Some(speed) => say!(subject.printing, "Vacuuming by hand wants more flow than filtering: set a higher speed for it, not above about {speed} rpm, and go back to the program afterwards.", speed = number::rpm_about(speed)),
        None => say!(subject.printing, "Vacuuming by hand wants more flow than filtering: set a higher speed for it, and go back to the program afterwards.").to_owned(),
    });
    if has_washed_media(subject) {
        texts.push(
            say!(subject.printing, "Backwashing wants the flow that the filter's maker states for it: set that speed by hand, and turn the valve only with the pump off.")
                .to_owned(),
        );
    }
    let mut blocks = vec![heading(say!(
        subject.printing,
        "What needs another speed by hand"
    ))];
    blocks.extend(items(texts));
    blocks
}

/// Says what an appliance needs.
fn appliance(subject: &Subject<'_>, limit: &Limit) -> Option<String> {
    let flow = subject.printing.plain(limit.flow_m3s?, Dimension::Flow);
    let part = names::applied_to(limit, subject.printing);
    Some(match limit.speed_rpm {
        Some(speed) => say!(
            subject.printing,
            "The {part} needs {flow}, which is about {speed} rpm: run that while it works.",
            part,
            flow,
            speed = number::rpm_about(speed)
        ),
        None => say!(
            subject.printing,
            "The {part} needs {flow} while it works.",
            part,
            flow
        ),
    })
}

/// Whether a filter of the site is washed by turning the flow: every one but a cartridge.
fn has_washed_media(subject: &Subject<'_>) -> bool {
    let parts = subject.site.lines.iter().flat_map(|line| &line.parts);
    parts.into_iter().any(|part| match &part.kind {
        PartKind::Filter(filter) => !filter.filter.eq_ignore_ascii_case("cartridge"),
        _ => false,
    })
}

/// Composes what to look at in two weeks, and when to call.
pub(super) fn look_again(subject: &Subject<'_>) -> Vec<Block> {
    let gauge = gauge(subject);
    let mut look = vec![
        say!(
            subject.printing,
            "Empty the baskets of skimmer and pump, with the pump off."
        )
        .to_owned(),
    ];
    look.extend(gauge.as_ref().map(|(look, _)| look.clone()));
    look.extend([
        say!(subject.printing, "See that the controller shows the right time, and that the pump starts and stops as set.")
            .to_owned(),
        say!(subject.printing, "Look at the water: clear to the floor, and the surface skimmed. Else run longer, and ask.")
            .to_owned(),
    ]);
    let mut call: Vec<String> = gauge.into_iter().map(|(_, call)| call).collect();
    call.push(
        say!(subject.printing, "Air stays in the lid of the pump, it rattles or hums, it does not start, or its breaker trips.")
            .to_owned(),
    );
    let mut blocks = vec![heading(say!(
        subject.printing,
        "What to look at in two weeks"
    ))];
    blocks.extend(items(look));
    blocks.push(heading(say!(subject.printing, "When to call")));
    blocks.extend(items(call));
    blocks
}

/// Says what the filter gauge should read, and what is too much; `None` where it was not read.
fn gauge(subject: &Subject<'_>) -> Option<(String, String)> {
    let step = subject.top_step(|step| step.filter_pressure_pa.is_some())?;
    let pressure = subject
        .printing
        .estimate(step.filter_pressure_pa?, Dimension::Pressure);
    let unit = subject.printing.name(Dimension::Pressure);
    let (_, high) = number::ends(subject.printing, pressure);
    let speed = number::rpm(subject.printing, step.speed_rpm);
    Some((
        say!(
            subject.printing,
            "Run {speed} rpm by hand for a minute and read the filter gauge: it stood at {pressure} {unit} on the day of the test.",
            speed,
            pressure = number::with_interval(subject.printing, pressure),
            unit
        ),
        say!(
            subject.printing,
            "With clean baskets the filter gauge reads above {high} {unit} at {speed} rpm: the filter is loading.",
            high,
            unit,
            speed
        ),
    ))
}

/// Composes the cautions of the page.
pub(super) fn cautions(printing: Printing) -> Vec<Block> {
    let mut blocks = vec![heading(say!(printing, "Mind"))];
    blocks.extend(items(
        CAUTIONS
            .map(|text| said(printing, text).to_owned())
            .to_vec(),
    ));
    blocks
}
