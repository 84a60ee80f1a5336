//! The pages for the next technician: what was read and what it says, with its sources, and what to read next time.

use super::{
    Letterhead, Subject, baseline, hand_over, heading, meters, method, missing, pad, readings,
};
use crate::circuit;
use crate::content::{self, Block, Drawing, budget, findings, tables};
use crate::figures;
use crate::language::say;
use crate::schedule;

/// Composes the pages.
pub(super) fn pages(subject: &Subject<'_>, letterhead: &Letterhead) -> Vec<Block> {
    let mut blocks = vec![Block::Part(
        say!(subject.printing, "For the next technician").to_owned(),
    )];
    blocks.extend(pad::pad(subject));
    blocks.extend(readings::readings(subject));
    blocks.extend(findings::sections(
        subject.analysis,
        [
            say!(
                subject.printing,
                "What the readings do not bear, or the pad should not"
            ),
            say!(subject.printing, "Worth knowing"),
        ],
        subject.printing,
    ));
    blocks.extend(results(subject));
    blocks.extend(drawings(subject));
    blocks.extend(head_budget(subject));
    blocks.extend(tables::limits(subject.analysis, subject.printing));
    blocks.extend(meters::meters(subject));
    blocks.extend(program(subject));
    blocks.extend(section(
        say!(subject.printing, "What a change would save"),
        &subject.more.alternatives.blocks,
    ));
    blocks.extend(section(
        say!(subject.printing, "What has changed"),
        &subject.more.follow_up.blocks,
    ));
    blocks.extend(baseline::baseline(subject));
    blocks.extend(missing::missing(subject));
    blocks.extend(content::cautions(subject.printing));
    blocks.extend(hand_over::hand_over(subject, letterhead));
    blocks.extend(method::method(subject));
    blocks
}

/// Puts blocks of another answer under a heading; nothing where there are none.
fn section(name: &str, blocks: &[Block]) -> Vec<Block> {
    if blocks.is_empty() {
        return Vec::new();
    }
    let kept = blocks
        .iter()
        .filter(|block| !matches!(block, Block::Title(_)));
    std::iter::once(heading(name))
        .chain(kept.cloned())
        .collect()
}

fn results(subject: &Subject<'_>) -> Vec<Block> {
    let tests = &subject.analysis.tests;
    let named = |name: &str| (tests.len() > 1).then(|| name.to_owned());
    let of_test = tests.iter().flat_map(|result| {
        let named = named(&result.name);
        let mut blocks = tables::steps(result, named.as_deref(), subject.printing);
        blocks.extend(tables::laws(result, named.as_deref(), subject.printing));
        blocks
    });
    of_test.collect()
}

fn drawings(subject: &Subject<'_>) -> Vec<Block> {
    let figures = figures::figures(subject.site, subject.analysis, subject.printing);
    let drawn = figures.iter().filter_map(Drawing::of_figure);
    let drawn: Vec<Block> = drawn
        .map(|drawing| Block::Drawing(Box::new(drawing)))
        .collect();
    section(say!(subject.printing, "Figures"), &drawn)
}

fn head_budget(subject: &Subject<'_>) -> Vec<Block> {
    let Some(calibration) = subject.calibration else {
        return Vec::new();
    };
    let (site, printing) = (subject.site, subject.printing);
    let mut blocks = budget::budget(site, calibration, printing);
    let drawing = circuit::lost(site, &calibration.budget, printing);
    let drawing = drawing.as_ref().and_then(Drawing::of_circuit);
    // Below the heading and the two sentences that the table then takes apart.
    let at = blocks
        .iter()
        .position(|block| matches!(block, Block::Table(_)))
        .unwrap_or(blocks.len());
    if let Some(drawing) = drawing {
        blocks.insert(at, Block::Drawing(Box::new(drawing)));
    }
    blocks
}

/// Says why the program is as it is.
fn program(subject: &Subject<'_>) -> Vec<Block> {
    let Some(schedule) = subject.schedule() else {
        return Vec::new();
    };
    let reasons = schedule::reasons(&schedule);
    section(say!(subject.printing, "Why this program"), &reasons)
}
