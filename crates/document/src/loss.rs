//! The answer of `loss`: head lost in one run of pipe, part by part, beside the handbook's law and the rules.

use crate::content::{Block, Table};
use crate::json::MACHINE;
use crate::language::{self, later, say};
use crate::number;
use crate::parts;
use crate::units::{Printing, with_unit};
use crate::words::ranges::warning;
use crate::words::rule;
use fieldtest::{RunLoss, VelocityLimit};
use records::unit::Dimension;
use records::{Part, PartKind};
use serde::Serialize;

/// What was asked, for the words of the answer.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// Names the pipe, the flow and the water.
    pub title: &'a str,
    /// The parts, the pipe first.
    pub parts: &'a [Part],
    /// The coefficient C of the Hazen-Williams formula.
    pub hazen_williams_c: f64,
}

#[derive(Serialize)]
struct LossJson {
    format: u32,
    velocity_m_s: f64,
    reynolds: f64,
    friction_factor: Option<f64>,
    head_m: f64,
    pressure_pa: f64,
    parts: Vec<PartJson>,
    hazen_williams: HazenWilliamsJson,
    limits: Vec<LimitJson>,
    warnings: Vec<String>,
}

#[derive(Serialize)]
struct PartJson {
    part: String,
    head_m: Option<f64>,
}

#[derive(Serialize)]
struct HazenWilliamsJson {
    c: f64,
    head_m: f64,
    over_darcy_weisbach: Option<f64>,
}

#[derive(Serialize)]
struct LimitJson {
    side: &'static str,
    velocity_m_s: f64,
    flow_m3s: f64,
    within: bool,
    basis: &'static str,
    source: &'static str,
}

/// The sides of the pump, in the order of the limits.
const SIDES: [&str; 2] = [later!("suction"), later!("return")];

/// Writes `loss --json`.
pub fn json(asked: &Asked<'_>, loss: &RunLoss) -> String {
    let parts = asked.parts.iter().zip(&loss.parts);
    let limit = |(side, limit): (&'static str, VelocityLimit)| LimitJson {
        side,
        velocity_m_s: limit.rule.si,
        flow_m3s: limit.flow_m3s,
        within: is_within(loss, &limit),
        basis: crate::json::basis(limit.rule.basis),
        source: limit.rule.source,
    };
    crate::json::text(&LossJson {
        format: crate::json::FORMAT,
        velocity_m_s: loss.pipe.velocity_m_s,
        reynolds: loss.pipe.reynolds,
        friction_factor: loss.pipe.friction_factor,
        head_m: loss.head_m,
        pressure_pa: loss.pressure_pa,
        parts: parts
            .map(|(part, loss)| PartJson {
                part: parts::name(part, MACHINE),
                head_m: loss.head_m,
            })
            .collect(),
        hazen_williams: HazenWilliamsJson {
            c: asked.hazen_williams_c,
            head_m: loss.friction.value.hazen_williams_m,
            over_darcy_weisbach: loss.friction.value.ratio,
        },
        limits: SIDES
            .into_iter()
            .zip(loss.velocity_limits)
            .map(limit)
            .collect(),
        warnings: said(loss, MACHINE),
    })
}

fn is_within(loss: &RunLoss, limit: &VelocityLimit) -> bool {
    loss.pipe.velocity_m_s <= limit.rule.si
}

/// Lists what must be said, each once: of the parts and, last, of the handbook's formula.
fn said(loss: &RunLoss, printing: Printing) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    let of_parts = loss.parts.iter().flat_map(|part| &part.warnings);
    for found in of_parts.chain(&loss.friction.warnings) {
        let words = warning(found, printing);
        if !said.contains(&words) {
            said.push(words);
        }
    }
    said
}

/// Composes the answer for a person.
pub fn content(asked: &Asked<'_>, loss: &RunLoss, printing: Printing) -> Vec<Block> {
    let mut blocks = vec![
        Block::Title(asked.title.to_owned()),
        table(numbers(loss, printing)),
    ];
    if asked.parts.len() > 1 {
        blocks.push(Block::Heading(say!(printing, "Part by part").to_owned()));
        blocks.push(table(part_rows(asked, loss, printing)));
        blocks.extend(asked.parts.iter().any(is_by_table).then(|| {
            Block::Note(
                say!(printing, "Fittings and valves after Crane; printed tables differ by some 20 % among themselves.")
                    .to_owned(),
            )
        }));
    }
    blocks.push(Block::Heading(
        say!(printing, "Velocity against the rules").to_owned(),
    ));
    blocks.push(table(limit_rows(loss, printing)));
    blocks.extend(rule_notes(loss, printing));
    blocks.push(Block::Heading(
        say!(printing, "By the handbook's law").to_owned(),
    ));
    blocks.push(Block::Item(handbook(asked, loss, printing)));
    blocks.extend(said(loss, printing).into_iter().map(Block::Note));
    blocks
}

fn table(rows: Vec<Vec<String>>) -> Block {
    Block::Table(Table {
        headings: Vec::new(),
        rows,
        word_columns: 1,
        ..Table::default()
    })
}

fn numbers(loss: &RunLoss, printing: Printing) -> Vec<Vec<String>> {
    let row = |word: &str, value: String| vec![word.to_owned(), value];
    let friction = loss
        .pipe
        .friction_factor
        .map_or_else(|| "–".to_owned(), |f| number::significant(printing, f, 4));
    let lost = if loss.parts.iter().all(|part| part.head_m.is_some()) {
        say!(printing, "head lost")
    } else {
        say!(printing, "head lost, as far as stated")
    };
    vec![
        row(lost, printing.plain(loss.head_m, Dimension::Length)),
        row(
            say!(printing, "pressure lost"),
            printing.plain(loss.pressure_pa, Dimension::Pressure),
        ),
        row(
            say!(printing, "velocity"),
            printing.plain(loss.pipe.velocity_m_s, Dimension::Velocity),
        ),
        row(
            say!(printing, "Reynolds number"),
            number::significant(printing, loss.pipe.reynolds, 3),
        ),
        row(say!(printing, "friction factor (Darcy)"), friction),
    ]
}

fn part_rows(asked: &Asked<'_>, loss: &RunLoss, printing: Printing) -> Vec<Vec<String>> {
    let parts = asked.parts.iter().zip(&loss.parts);
    parts
        .map(|(part, loss)| {
            let digits = if is_by_table(part) { 2 } else { 3 };
            let head = loss.head_m.map_or_else(
                || say!(printing, "not stated").to_owned(),
                |head| {
                    let number = printing.number(head, Dimension::Length);
                    with_unit(
                        &number::significant(printing, number, digits),
                        printing.name(Dimension::Length),
                    )
                },
            );
            vec![parts::name(part, printing), head]
        })
        .collect()
}

/// Says whether the loss of a part comes from a table of fittings, which carries two digits.
fn is_by_table(part: &Part) -> bool {
    matches!(
        part.kind,
        PartKind::Fitting(_)
            | PartKind::Valve(_)
            | PartKind::Tee(_)
            | PartKind::Reducer(_)
            | PartKind::Outlet(_)
    )
}

fn limit_rows(loss: &RunLoss, printing: Printing) -> Vec<Vec<String>> {
    let row = |(side, limit): (&'static str, VelocityLimit)| {
        let verdict = if is_within(loss, &limit) {
            say!(printing, "kept")
        } else {
            say!(printing, "passed")
        };
        vec![
            say!(
                printing,
                "{side}, at most {limit}: {verdict}",
                side = language::said(printing, side),
                limit = printing.plain(limit.rule.si, Dimension::Velocity),
                verdict
            ),
            say!(
                printing,
                "reached at {flow}",
                flow = printing.plain(limit.flow_m3s, Dimension::Flow)
            ),
        ]
    };
    SIDES
        .into_iter()
        .zip(loss.velocity_limits)
        .map(row)
        .collect()
}

fn rule_notes(loss: &RunLoss, printing: Printing) -> Vec<Block> {
    let note =
        |limit: &VelocityLimit| Block::Note(rule(limit.rule.source, limit.rule.basis, printing));
    loss.velocity_limits.iter().map(note).collect()
}

fn handbook(asked: &Asked<'_>, loss: &RunLoss, printing: Printing) -> String {
    let friction = &loss.friction.value;
    let apart = friction.ratio.map_or_else(String::new, |ratio| {
        let percent = 100.0 * (ratio - 1.0);
        let direction = if percent < 0.0 { say!(printing, "less") } else { say!(printing, "more") };
        say!(printing, ", {percent} % {direction} than friction by Darcy-Weisbach; the formula knows only water of 60 °F (16 °C)", percent = number::significant(printing, percent.abs(), 2), direction)
    });
    say!(
        printing,
        "Hazen-Williams with C = {c} gives {head} for the pipe alone{apart}.",
        c = number::plain(printing, asked.hazen_williams_c),
        head = printing.plain(friction.hazen_williams_m, Dimension::Length),
        apart
    )
}
