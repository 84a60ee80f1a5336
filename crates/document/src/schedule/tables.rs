//! The tables of a day: the program, the easier one, the rules.

use super::Subject;
use super::words::{end, hours};
use crate::content::{Block, Kind, Kinds, Table};
use crate::language::say;
use crate::number;
use operation::{Advice, AdvisedDay, Programmed};
use records::unit::Dimension;

/// Composes the table of what to set.
pub(crate) fn program(subject: &Subject<'_>, day: &AdvisedDay) -> Vec<Block> {
    vec![
        Block::Heading(say!(subject.printing, "What to set").to_owned()),
        Block::Table(entries(subject, &day.program)),
    ]
}

/// Composes the table of the program with fewer speeds.
pub(crate) fn easier(subject: &Subject<'_>, day: &AdvisedDay) -> Vec<Block> {
    let table = day.easier.as_ref().map(|easier| {
        [
            Block::Heading(say!(subject.printing, "The simpler program").to_owned()),
            Block::Table(entries(subject, easier)),
        ]
    });
    table.into_iter().flatten().collect()
}

fn entries(subject: &Subject<'_>, program: &Programmed) -> Table {
    let printing = subject.printing;
    let problem = &subject.plan.problem;
    let has_lineups = subject.plan.offer.lineups.len() > 1;
    let row = |entry: &operation::Entry| {
        let speed = entry.speed.map(|speed| &problem.speeds[speed]);
        let mut cells = vec![entry.from.to_string(), end(entry.to)];
        if has_lineups {
            cells.push(
                speed
                    .and_then(|speed| speed.lineup.clone())
                    .unwrap_or_default(),
            );
        }
        cells.extend([
            speed.map_or_else(
                || say!(subject.printing, "off" as "pump").to_owned(),
                |speed| number::rpm(subject.printing, speed.speed_rpm),
            ),
            hours(entry.hours, subject.printing)
                .trim_end_matches(" h")
                .to_owned(),
            number::plain(
                subject.printing,
                printing.number(speed.map_or(0.0, |speed| speed.flow_m3s), Dimension::Flow),
            ),
            number::plain(
                subject.printing,
                speed.map_or(problem.off_power_w, |speed| speed.power_w),
            ),
        ]);
        cells
    };
    let mut headings = vec![
        say!(subject.printing, "start" as "column").to_owned(),
        say!(subject.printing, "end" as "column").to_owned(),
    ];
    if has_lineups {
        headings.push(say!(subject.printing, "valves").to_owned());
    }
    headings.extend([
        say!(subject.printing, "speed (rpm)").to_owned(),
        say!(subject.printing, "hours").to_owned(),
        say!(
            subject.printing,
            "flow ({unit})",
            unit = printing.name(Dimension::Flow)
        ),
        say!(subject.printing, "power (W)").to_owned(),
    ]);
    let word_columns = headings.len() - 4;
    let mut kinds = vec![None; word_columns];
    kinds.extend([Some(Kind::Speed), None, Some(Kind::Flow), Some(Kind::Power)]);
    Table {
        word_columns,
        headings,
        rows: program.entries.iter().map(row).collect(),
        kinds: Kinds::of_columns(kinds),
        ..Table::default()
    }
}

/// Composes the table of the rules, and of what each costs a day.
pub(crate) fn rules(subject: &Subject<'_>) -> Vec<Block> {
    let problem = &subject.plan.problem;
    let advised = match &subject.plan.advice {
        Advice::Day(day) => Some(day),
        Advice::Impossible(_) | Advice::Unsettled => None,
    };
    let row = |(index, rule)| {
        let saves = advised.map(|day| {
            let binding = day.binding.iter().find(|binding| binding.rule == index);
            binding.map_or_else(|| "–".to_owned(), |binding| subject.least(binding.saves))
        });
        [Some(subject.rule(rule)), saves]
            .into_iter()
            .flatten()
            .collect()
    };
    let costs = advised.map(|_| say!(subject.printing, "costs a day").to_owned());
    vec![
        Block::Heading(say!(subject.printing, "Rules").to_owned()),
        Block::Table(Table {
            headings: [Some(say!(subject.printing, "rule").to_owned()), costs]
                .into_iter()
                .flatten()
                .collect(),
            rows: problem.rules.iter().enumerate().map(row).collect(),
            word_columns: 1,
            kinds: Kinds::of_columns([None, Some(Kind::Money)]),
            ..Table::default()
        }),
    ]
}
