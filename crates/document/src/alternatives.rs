//! The answer of `compare`: what each change would save, what it costs, and whether that is worth it.

mod figure;
mod handed;
mod in_short;
mod json;
mod refusal;
mod stated;
mod tables;
mod verdict;

use crate::language::{later, said, say};
use crate::names;
pub use figure::figure;
pub use handed::handed;
pub use in_short::in_short;
pub use json::json;
pub(crate) use json::{kind as kind_json, sums as sums_json};
pub use refusal::{no_alternative, no_year};
pub use verdict::verdict;

use crate::content::findings::alone;
use crate::content::{Block, Kind, capitalized, limit_words};
use crate::number;
use crate::schedule::words::in_a_line;
use crate::units::Printing;
use fieldtest::{Bound, CarriedFlow, FallBy, Limit};
use operation::{Alternative, Changed, Comparison, KindOfDay, Plain};
use records::Site;
use records::unit::Dimension;

/// What the words are made from.
#[derive(Clone, Copy, Debug)]
struct Subject<'a> {
    site: &'a Site,
    comparison: &'a Comparison,
    printing: Printing,
}

impl Subject<'_> {
    fn currency(&self) -> &str {
        self.comparison.currency.as_deref().unwrap_or("")
    }

    fn limits(&self, limits: &[Limit]) -> String {
        let words: Vec<String> = limits
            .iter()
            .map(|limit| match (limit.bound, limit.flow_m3s) {
                (Bound::Min, Some(flow)) => say!(
                    self.printing,
                    "the {flow} that the {part} needs",
                    flow = self.printing.plain(flow, Dimension::Flow),
                    part = names::applied_to(limit, self.printing)
                ),
                _ => limit_words(limit, self.printing),
            })
            .collect();
        words.join(", ")
    }
}

/// Composes the answer.
pub fn content(site: &Site, comparison: &Comparison, printing: Printing) -> Vec<Block> {
    let mut blocks = vec![Block::Title(say!(
        printing,
        "{site}: what a change would save, {year}",
        site = site.name,
        year = comparison.year
    ))];
    blocks.extend(body(&Subject {
        site,
        comparison,
        printing,
    }));
    // Below the answer, which stands first.
    let found = comparison.findings.iter().map(|it| alone(it, printing));
    blocks.splice(2..2, found);
    blocks.push(Block::Heading(say!(printing, "Cautions").to_owned()));
    blocks.extend(cautions(printing).map(Block::Item));
    blocks
}

/// What is to be minded of every change.
fn cautions(printing: Printing) -> [String; 3] {
    CAUTIONS.map(|caution| said(printing, caution).to_owned())
}

/// Composes what is said between title and cautions.
fn body(subject: &Subject<'_>) -> Vec<Block> {
    let Subject {
        site,
        comparison,
        printing,
    } = *subject;
    let mut blocks = Vec::new();
    blocks.push(Block::Answer {
        word: say!(printing, "Today").to_owned(),
        text: capitalized(&verdict::today(subject)),
        kind: Some(Kind::Money),
    });
    blocks.push(Block::Heading(say!(printing, "Each change").to_owned()));
    for alternative in &comparison.changes {
        let verdict = verdict(site, comparison, alternative, printing);
        blocks.push(Block::Item(format!("{}: {verdict}", alternative.name)));
    }
    blocks.extend(tables::tables(subject));
    blocks.extend(programs(subject));
    blocks.extend(limits(subject));
    blocks.extend(rests_on(subject));
    blocks
}

const CAUTIONS: [&str; 3] = [
    later!(
        "What a change would do is computed from this test, not measured: test again after the work, before anything is claimed."
    ),
    later!(
        "Pipe, filter and pump are changed by licensed people with the pump off, its power locked out and the pressure let off. Suction covers must be rated for the flow that is then possible."
    ),
    later!("Local codes decide which lines, covers and pumps are allowed."),
];

/// Lists the program of each pad on its most frequent day.
fn programs(subject: &Subject<'_>) -> Vec<Block> {
    let usual = |plain: &Plain| {
        let kind = plain.kinds.iter().max_by_key(|kind| kind.days)?;
        Some(line_of(subject, kind))
    };
    let mut blocks = vec![Block::Heading(
        say!(subject.printing, "Programs, on most days").to_owned(),
    )];
    blocks.extend(
        usual(&subject.comparison.today)
            .map(|line| Block::Item(say!(subject.printing, "As it is: {line}.", line))),
    );
    for (alternative, changed) in changed(subject.comparison) {
        let line = usual(&changed.plain).or_else(|| stated(changed, subject.printing));
        blocks.extend(line.map(|line| Block::Item(format!("{}: {line}.", alternative.name))));
    }
    blocks
}

fn line_of(subject: &Subject<'_>, kind: &KindOfDay) -> String {
    let words =
        crate::schedule::words::day_words(&subject.site.operation, &kind.day, subject.printing);
    let of_day = words.map_or_else(String::new, |day| {
        say!(
            subject.printing,
            " ({day}, {days} days)",
            day,
            days = kind.days
        )
    });
    format!(
        "{}{of_day}",
        in_a_line(&kind.problem, &kind.program, subject.printing)
    )
}

/// Writes a program that was stated.
fn stated(changed: &Changed, printing: Printing) -> Option<String> {
    let blocks = changed.program.iter().map(|block| {
        say!(
            printing,
            "{speed} rpm {from}–{to}",
            speed = number::rpm(printing, block.speed.si),
            from = block.from,
            to = crate::schedule::words::end(block.to)
        )
    });
    let line = blocks.collect::<Vec<_>>().join(", ");
    (!line.is_empty()).then(|| say!(printing, "{line}, as stated", line))
}

/// Lists the changes of which something is known.
fn changed(comparison: &Comparison) -> impl Iterator<Item = (&Alternative, &Changed)> {
    comparison
        .changes
        .iter()
        .filter_map(|alternative| Some((alternative, alternative.result.as_ref().ok()?.as_ref())))
}

/// Lists the limits that a change newly keeps or passes.
fn limits(subject: &Subject<'_>) -> Vec<Block> {
    let mut items = Vec::new();
    let now = &subject.comparison.today.broken;
    if !now.is_empty() {
        items.push(say!(
            subject.printing,
            "As it is, priming or the program does not keep: {now}.",
            now = subject.limits(now)
        ));
    }
    for (alternative, changed) in changed(subject.comparison) {
        for (limits, what) in [
            (
                &changed.newly_kept,
                say!(subject.printing, "keeps what is not kept now"),
            ),
            (
                &changed.newly_broken,
                say!(subject.printing, "no longer keeps"),
            ),
        ] {
            if !limits.is_empty() {
                items.push(format!(
                    "{} {what}: {}.",
                    alternative.name,
                    subject.limits(limits)
                ));
            }
        }
    }
    if items.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Heading(say!(subject.printing, "Limits").to_owned())];
    blocks.extend(items.into_iter().map(Block::Item));
    blocks
}

/// Says what the numbers rest on.
fn rests_on(subject: &Subject<'_>) -> Vec<Block> {
    let comparison = subject.comparison;
    let mut items = vec![
        say!(subject.printing, "Flow and power of today are those of the test. A change moves them by the ratio in which it moves the head of the calibrated plumbing at the same flow; a change of nothing moves nothing.").to_owned(),
    ];
    let carried: Vec<&CarriedFlow> = changed(comparison)
        .filter_map(|(_, changed)| changed.carried.as_ref())
        .collect();
    if carried.iter().any(|carried| carried.fall == FallBy::Curve) {
        items.push(
            say!(
                subject.printing,
                "How the pump answers another head is read off its maker's curve."
            )
            .to_owned(),
        );
    }
    if carried
        .iter()
        .any(|carried| carried.fall == FallBy::UsualFall)
    {
        items.push(say!(subject.printing, "There is no maker's curve: the pump's head is taken to fall by 0.8 ± 0.4 % for each per cent more flow (standard uncertainty; common practice, no source). A curve in the site file narrows this.").to_owned());
    }
    if changed(comparison).any(|(_, changed)| changed.carried.is_some() && !changed.power_by_curve)
    {
        items.push(say!(subject.printing, "At one speed the power above the fixed draw is taken to grow by 0.5 ± 0.25 % for each per cent more flow (standard uncertainty; common practice, no source).").to_owned());
    }
    if changed(comparison).any(|(_, changed)| changed.power_by_curve) {
        items.push(say!(subject.printing, "The power of another pump is its maker's curve of electrical power; at other speeds what lies above today's fixed draw goes with speed as it was measured.").to_owned());
    }
    let rate = number::significant(subject.printing, 100.0 * comparison.discount_rate, 2);
    let source = if comparison.discount_rate_is_stated {
        say!(subject.printing, "as the site file states")
    } else {
        say!(
            subject.printing,
            "a usual rate; state your own as discount_rate below [operation]"
        )
    };
    items.push(say!(subject.printing, "Later money is weighed at {rate} % a year ({source}); pay-back is without interest. Prices stay as they are.", rate, source));
    items.push(say!(subject.printing, "All pads are drawn from the same errors of meters and laws, so what they share cancels in a difference.").to_owned());
    let mut blocks = vec![Block::Heading(
        say!(subject.printing, "What it rests on").to_owned(),
    )];
    blocks.extend(stated::stated_anew(subject));
    blocks.extend(items.into_iter().map(Block::Item));
    blocks
}
