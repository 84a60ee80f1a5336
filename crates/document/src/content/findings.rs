//! The findings of an analysis, what must be settled before what is worth knowing.

use super::{Block, FindingBlock};
use crate::language::{later, said, say};
use crate::units::Printing;
use crate::words;
use fieldtest::{Analysis, Finding, Severity};

/// The sections of findings, and which findings stand in each.
const SECTIONS: [(&str, &[Severity]); 2] = [
    (
        later!("To settle before leaving the pad"),
        &[Severity::Error, Severity::Warning],
    ),
    (later!("Worth knowing"), &[Severity::Note]),
];

/// Composes the findings of all tests, as they are told at the pad.
pub(crate) fn findings(analysis: &Analysis, printing: Printing) -> Vec<Block> {
    let headings = SECTIONS.map(|(heading, _)| said(printing, heading));
    sections(analysis, headings, printing)
}

/// Composes the findings of all tests under headings: of what must be settled, and of what is worth knowing.
pub(crate) fn sections(analysis: &Analysis, headings: [&str; 2], printing: Printing) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (heading, (_, weights)) in headings.into_iter().zip(SECTIONS) {
        let chosen = section(analysis, weights, printing);
        if !chosen.is_empty() {
            blocks.push(Block::Heading(heading.to_owned()));
            blocks.extend(chosen.into_iter().map(Block::Finding));
        }
    }
    blocks
}

/// Composes a finding of no test by itself.
pub(crate) fn alone(found: &Finding, printing: Printing) -> Block {
    Block::Finding(finding(found, false, printing))
}

/// Chooses the findings of some weights; the same thing said of several tests is said once.
fn section(analysis: &Analysis, weights: &[Severity], printing: Printing) -> Vec<FindingBlock> {
    let several = analysis.tests.len() > 1;
    let mut chosen: Vec<FindingBlock> = Vec::new();
    for found in analysis
        .findings
        .iter()
        .filter(|f| weights.contains(&f.severity))
    {
        let block = finding(found, several, printing);
        match chosen.iter_mut().find(|other| other.says == block.says) {
            Some(other) => other.tests.extend(block.tests),
            None => chosen.push(block),
        }
    }
    chosen
}

/// Says how much a finding weighs.
fn severity_word(severity: Severity, printing: Printing) -> &'static str {
    match severity {
        Severity::Error => say!(printing, "error"),
        Severity::Warning => say!(printing, "warning"),
        Severity::Note => say!(printing, "note"),
    }
}

fn finding(finding: &Finding, several: bool, printing: Printing) -> FindingBlock {
    let words = words::finding(finding, printing);
    let test = finding.place.test.clone().filter(|_| several);
    FindingBlock {
        severity: finding.severity,
        word: severity_word(finding.severity, printing),
        code: finding.matter.code(),
        tests: test.into_iter().collect(),
        says: words.says,
        action: words.action,
        source: words.source,
    }
}
