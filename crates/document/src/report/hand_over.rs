//! What is filled in by hand: the list of what is put back as it was found, photographs, who did the work and when.

use super::{Letterhead, Subject, heading, listed};
use crate::content::{Block, Room};
use records::{PartKind, Test};

/// Composes what is filled in by hand.
pub(super) fn hand_over(subject: &Subject<'_>, letterhead: &Letterhead) -> Vec<Block> {
    let mut blocks = vec![heading("Put back as found, or as agreed")];
    blocks.extend(ticks(subject).into_iter().map(Block::Tick));
    blocks.push(heading("Photographs"));
    blocks.push(Block::Room(Room::Photographs(
        [
            "The pad from the front",
            "The label of the pump",
            "The label of the filter",
            "The valves as they were left",
        ]
        .map(str::to_owned)
        .to_vec(),
    )));
    blocks.push(heading("Who and when"));
    blocks.extend(
        letterhead
            .profile
            .technician
            .as_ref()
            .map(|technician| Block::Paragraph(format!("Technician: {technician}."))),
    );
    blocks.push(Block::Room(Room::Lines(
        ["Work done by", "Date and hour", "Handed to", "Signatures"]
            .map(str::to_owned)
            .to_vec(),
    )));
    blocks
}

fn ticks(subject: &Subject<'_>) -> Vec<String> {
    let mut ticks = vec![
        "Lids of pump and filter closed, air relief shut after the air is out.".to_owned(),
        "Suction covers in place, whole and tight.".to_owned(),
    ];
    ticks.push(match subject.tests.last().map(moved) {
        Some(moved) if !moved.is_empty() => format!(
            "Every valve back as found; in the test these were shut or part-open: {}.",
            listed(&moved)
        ),
        _ => "Every valve back as found.".to_owned(),
    });
    let has = |is: fn(&PartKind) -> bool| {
        let parts = subject.site.lines.iter().flat_map(|line| &line.parts);
        parts.into_iter().any(|part| is(&part.kind))
    };
    if has(|kind| matches!(kind, PartKind::Heater(_))) {
        ticks.push("Heater and its bypass as found.".to_owned());
    }
    if has(|kind| matches!(kind, PartKind::Cell(_))) {
        ticks.push("Chlorine cell on again.".to_owned());
    }
    if has(|kind| matches!(kind, PartKind::Solar(_))) {
        ticks.push("Solar loop as found.".to_owned());
    }
    ticks.extend(
        [
            "Chemical feeders on again, their hours those of the new program.",
            "Automation, timers and freeze guard out of service mode.",
            "Program set as agreed; one start, one stop and the highest speed watched.",
            "Terminal boxes closed by whoever may open them; meters and hoses taken off.",
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
