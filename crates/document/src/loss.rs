//! The answer of `loss`: head lost in one run of pipe.

use crate::content::{Block, Table};
use crate::number;
use crate::units::Printing;
use crate::words::ranges::warning;
use hydraulics::loss::PipeLoss;
use records::unit::Dimension;
use serde::Serialize;

/// Writes `loss --json`.
pub fn json(loss: &PipeLoss) -> String {
    #[derive(Serialize)]
    struct LossJson {
        format: u32,
        velocity_m_s: f64,
        reynolds: f64,
        friction_factor: Option<f64>,
        head_m: f64,
        pressure_pa: f64,
        warnings: Vec<String>,
    }
    crate::json::text(&LossJson {
        format: crate::json::FORMAT,
        velocity_m_s: loss.velocity_m_s,
        reynolds: loss.reynolds,
        friction_factor: loss.friction_factor,
        head_m: loss.head_m,
        pressure_pa: loss.pressure_pa,
        warnings: loss.warnings.iter().map(warning).collect(),
    })
}

/// Composes the answer for a person; `what` names the pipe and the flow.
pub fn content(what: &str, loss: &PipeLoss, printing: Printing) -> Vec<Block> {
    let row = |word: &str, value: String| vec![word.to_owned(), value];
    let friction = loss
        .friction_factor
        .map_or_else(|| "–".to_owned(), |f| number::significant(f, 4));
    let rows = vec![
        row("head lost", printing.plain(loss.head_m, Dimension::Length)),
        row(
            "pressure lost",
            printing.plain(loss.pressure_pa, Dimension::Pressure),
        ),
        row(
            "velocity",
            printing.plain(loss.velocity_m_s, Dimension::Velocity),
        ),
        row("Reynolds number", number::significant(loss.reynolds, 3)),
        row("friction factor (Darcy)", friction),
    ];
    let mut blocks = vec![
        Block::Title(what.to_owned()),
        Block::Table(Table {
            headings: Vec::new(),
            rows,
            word_columns: 1,
        }),
    ];
    blocks.extend(
        loss.warnings
            .iter()
            .map(|found| Block::Note(warning(found))),
    );
    blocks
}
