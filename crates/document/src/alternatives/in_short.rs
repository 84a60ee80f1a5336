//! One pad of a comparison in short: what is looked at while somebody tries changes out.

use super::{Subject, verdict};
use crate::content::{Block, Kind, capitalized};
use crate::language::say;
use crate::number;
use crate::schedule::words::money_with_interval;
use crate::units::Printing;
use operation::{Alternative, Comparison, Plain};
use records::Site;

/// Composes the verdict on a change, what a year then comes to, the highest speed, and the limits that are newly kept or passed;
/// without a change, the same of the pad as it is.
pub fn in_short(
    site: &Site,
    comparison: &Comparison,
    alternative: Option<&Alternative>,
    printing: Printing,
) -> Vec<Block> {
    let subject = Subject {
        site,
        comparison,
        printing,
    };
    let (word, said) = match alternative {
        Some(alternative) => (
            alternative.name.clone(),
            super::verdict(site, comparison, alternative, printing),
        ),
        None => (say!(printing, "Today").to_owned(), verdict::today(&subject)),
    };
    let mut blocks = vec![Block::Answer {
        word,
        text: capitalized(&said),
        kind: Some(Kind::Money),
    }];
    let changed = alternative.map(|alternative| alternative.result.as_ref().ok());
    let plain = match &changed {
        None => Some(&comparison.today),
        Some(changed) => changed.map(|changed| &changed.plain),
    };
    blocks.extend(plain.into_iter().flat_map(|plain| sums(&subject, plain)));
    let limits = match changed.flatten() {
        Some(changed) => vec![
            (say!(printing, "Newly kept"), &changed.newly_kept),
            (say!(printing, "No longer kept"), &changed.newly_broken),
        ],
        None => vec![(say!(printing, "Not kept"), &comparison.today.broken)],
    };
    let limits = limits.into_iter().filter(|(_, limits)| !limits.is_empty());
    blocks.extend(limits.map(|(word, limits)| Block::Answer {
        word: word.to_owned(),
        text: capitalized(&format!("{}.", subject.limits(limits))),
        kind: None,
    }));
    blocks
}

fn sums(subject: &Subject<'_>, plain: &Plain) -> Vec<Block> {
    let printing = subject.printing;
    let cost = plain
        .sums
        .cost
        .map(|cost| money_with_interval(cost, subject.currency(), printing));
    let energy = plain.sums.energy_kwh.map(|energy| {
        say!(
            printing,
            "{energy} kWh",
            energy = number::with_interval(printing, energy)
        )
    });
    let year: Vec<String> = cost.into_iter().chain(energy).collect();
    let top = plain.top.map(|(rpm, hours)| {
        say!(
            printing,
            "{speed} rpm, for {hours} hours a day.",
            speed = number::rpm(printing, rpm),
            hours = number::significant(printing, hours, 2)
        )
    });
    let year = (!year.is_empty()).then(|| format!("{}.", year.join(", ")));
    [
        (say!(printing, "A year"), year, Kind::Money),
        (say!(printing, "Top speed"), top, Kind::Program),
    ]
    .into_iter()
    .filter_map(|(word, text, kind)| {
        Some(Block::Answer {
            word: word.to_owned(),
            text: text?,
            kind: Some(kind),
        })
    })
    .collect()
}
