//! The uncertainty budget of an answer in words.

use super::{Block, Table};
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::{Printing, with_unit};
use fieldtest::{BudgetPart, ErrorSource, Question, UncertaintyBudget};
use records::unit::Dimension;

/// Composes a budget: the answer, and what its uncertainty is made of.
pub fn why(budget: &UncertaintyBudget, printing: Printing) -> Vec<Block> {
    let row = |part: &BudgetPart| {
        let percent = 100.0 * part.share;
        let share = if percent < 1.0 {
            say!(printing, "below 1 %").to_owned()
        } else {
            format!("{percent:.0} %")
        };
        vec![source(part, printing), share]
    };
    vec![
        Block::Title(title(budget, printing)),
        Block::Table(Table {
            headings: [
                say!(printing, "comes from"),
                say!(printing, "share of the variance"),
            ]
            .map(str::to_owned)
            .to_vec(),
            rows: budget.parts.iter().map(row).collect(),
            word_columns: 1,
            ..Table::default()
        }),
    ]
}

fn title(budget: &UncertaintyBudget, printing: Printing) -> String {
    let estimate = budget.estimate;
    let at = |word: &str, speed: f64, value: String| {
        say!(
            printing,
            "{word} at {speed} rpm: {value}",
            word,
            speed = number::rpm(printing, speed),
            value
        )
    };
    match budget.question {
        Question::Flow(speed) => at(
            say!(printing, "Flow"),
            speed,
            printing.with_interval(estimate, Dimension::Flow),
        ),
        Question::Power(speed) => at(
            say!(printing, "Power"),
            speed,
            printing.with_interval(estimate, Dimension::Power),
        ),
        Question::Energy(speed) => {
            let (factor, unit) = printing.energy_per_volume();
            let value = number::with_interval(printing, estimate.scaled(factor));
            at(
                say!(printing, "Energy"),
                speed,
                format!("{} {unit}", with_unit(&value, "Wh")),
            )
        }
        Question::FixedDraw => say!(
            printing,
            "Draw that does not depend on speed: {power}",
            power = printing.with_interval(estimate, Dimension::Power)
        ),
        Question::Exponent => say!(
            printing,
            "Exponent of the draw that does: {exponent}",
            exponent = number::with_interval(printing, estimate)
        ),
    }
}

/// Says where a part comes from.
pub(crate) fn source(part: &BudgetPart, printing: Printing) -> String {
    let column = part.column.as_deref().unwrap_or_default();
    let column = names::column(column, printing);
    match part.source {
        ErrorSource::MeterCommon { .. } => {
            say!(
                printing,
                "{column}: calibration, the same in every reading",
                column
            )
        }
        ErrorSource::MeterOwn { .. } => say!(printing, "{column}: each reading of its own", column),
        ErrorSource::Discrepancy => say!(printing, "the pad's departure from the law").to_owned(),
        ErrorSource::Prior => say!(printing, "what was assumed before any reading").to_owned(),
    }
}
