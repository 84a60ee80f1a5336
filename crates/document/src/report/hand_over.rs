//! What is filled in by hand: the list of what is put back as it was found, photographs, who did the work and when.

use super::{Letterhead, Subject, heading};
use crate::content::{Block, Room};
use crate::language::say;
use crate::words::listed;
use records::{PartKind, Test};

/// Composes what is filled in by hand.
pub(super) fn hand_over(subject: &Subject<'_>, letterhead: &Letterhead) -> Vec<Block> {
    let mut blocks = vec![heading(say!(
        subject.printing,
        "Put back as found, or as agreed"
    ))];
    blocks.extend(ticks(subject).into_iter().map(Block::Tick));
    blocks.push(heading(say!(subject.printing, "Photographs")));
    blocks.push(Block::Room(Room::Photographs(
        [
            say!(subject.printing, "The pad from the front"),
            say!(subject.printing, "The label of the pump"),
            say!(subject.printing, "The label of the filter"),
            say!(subject.printing, "The valves as they were left"),
        ]
        .map(str::to_owned)
        .to_vec(),
    )));
    blocks.push(heading(say!(subject.printing, "Who and when")));
    blocks.extend(letterhead.profile.technician.as_ref().map(|technician| {
        Block::Paragraph(say!(
            subject.printing,
            "Technician: {technician}.",
            technician
        ))
    }));
    blocks.push(Block::Room(Room::Lines(
        [
            say!(subject.printing, "Work done by"),
            say!(subject.printing, "Date and hour"),
            say!(subject.printing, "Handed to"),
            say!(subject.printing, "Signatures"),
        ]
        .map(str::to_owned)
        .to_vec(),
    )));
    blocks
}

fn ticks(subject: &Subject<'_>) -> Vec<String> {
    let mut ticks = vec![
        say!(
            subject.printing,
            "Lids of pump and filter closed, air relief shut after the air is out."
        )
        .to_owned(),
        say!(
            subject.printing,
            "Suction covers in place, whole and tight."
        )
        .to_owned(),
    ];
    ticks.push(match subject.tests.last().map(moved) {
        Some(moved) if !moved.is_empty() => say!(
            subject.printing,
            "Every valve back as found; in the test these were shut or part-open: {moved}.",
            moved = listed(&moved, subject.printing)
        ),
        _ => say!(subject.printing, "Every valve back as found.").to_owned(),
    });
    let has = |is: fn(&PartKind) -> bool| {
        let parts = subject.site.lines.iter().flat_map(|line| &line.parts);
        parts.into_iter().any(|part| is(&part.kind))
    };
    if has(|kind| matches!(kind, PartKind::Heater(_))) {
        ticks.push(say!(subject.printing, "Heater and its bypass as found.").to_owned());
    }
    if has(|kind| matches!(kind, PartKind::Cell(_))) {
        ticks.push(say!(subject.printing, "Chlorine cell on again.").to_owned());
    }
    if has(|kind| matches!(kind, PartKind::Solar(_))) {
        ticks.push(say!(subject.printing, "Solar loop as found.").to_owned());
    }
    ticks.extend(
        [
            say!(
                subject.printing,
                "Chemical feeders on again, their hours those of the new program."
            ),
            say!(
                subject.printing,
                "Automation, timers and freeze guard out of service mode."
            ),
            say!(
                subject.printing,
                "Program set as agreed; one start, one stop and the highest speed watched."
            ),
            say!(
                subject.printing,
                "Terminal boxes closed by whoever may open them; meters and hoses taken off."
            ),
        ]
        .map(str::to_owned),
    );
    ticks
}

/// Lists the lines whose valves were moved for a test.
fn moved(test: &Test) -> Vec<String> {
    let head = &test.head;
    head.closed.iter().chain(&head.throttled).cloned().collect()
}
