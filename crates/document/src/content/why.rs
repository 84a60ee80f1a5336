//! The uncertainty budget of an answer in words.

use super::{Block, Table};
use crate::number;
use crate::units::{Printing, with_unit};
use fieldtest::{BudgetPart, ErrorSource, Question, UncertaintyBudget};
use records::unit::Dimension;

/// Composes a budget: the answer, and what its uncertainty is made of.
pub fn why(budget: &UncertaintyBudget, printing: Printing) -> Vec<Block> {
    let row = |part: &BudgetPart| {
        let percent = 100.0 * part.share;
        let share = if percent < 1.0 {
            "below 1 %".to_owned()
        } else {
            format!("{percent:.0} %")
        };
        vec![source(part), share]
    };
    vec![
        Block::Title(title(budget, printing)),
        Block::Table(Table {
            headings: ["comes from", "share of the variance"]
                .map(str::to_owned)
                .to_vec(),
            rows: budget.parts.iter().map(row).collect(),
            word_columns: 1,
            struck: Vec::new(),
        }),
    ]
}

/// The formula behind an answer, and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Formula {
    /// The formula, with its letters named.
    pub formula: &'static str,
    /// Its source.
    pub source: &'static str,
}

/// Says by which formula a question is answered.
pub fn formula(question: Question) -> Formula {
    match question {
        Question::Flow(_) => Formula {
            formula: "Q² = s² · (N² − N₀²): Q flow, N speed, s flow per speed, N₀ the speed at which water begins to move.",
            source: "Affinity laws with a lift. The law is a summary; where the readings depart from it smoothly, they are followed.",
        },
        Question::Power(_) | Question::FixedDraw | Question::Exponent => Formula {
            formula: "P = P₀ + c · (N / N_top)^m: P power, N speed, P₀ the draw that does not depend on speed, m the exponent.",
            source: "Affinity laws, and the losses of motor and drive. The law is a summary; where the readings depart from it smoothly, they are followed.",
        },
        Question::Energy(_) => Formula {
            formula: "E = P / Q: power over flow at the same speed.",
            source: "The laws of power and flow of this test.",
        },
    }
}

fn title(budget: &UncertaintyBudget, printing: Printing) -> String {
    let estimate = budget.estimate;
    let at = |word: &str, speed: f64, value: String| {
        format!("{word} at {} rpm: {value}", number::rpm(speed))
    };
    match budget.question {
        Question::Flow(speed) => at(
            "Flow",
            speed,
            printing.with_interval(estimate, Dimension::Flow),
        ),
        Question::Power(speed) => at(
            "Power",
            speed,
            printing.with_interval(estimate, Dimension::Power),
        ),
        Question::Energy(speed) => {
            let (factor, unit) = printing.energy_per_volume();
            let value = number::with_interval(estimate.scaled(factor));
            at(
                "Energy",
                speed,
                format!("{} {unit}", with_unit(&value, "Wh")),
            )
        }
        Question::FixedDraw => format!(
            "Draw that does not depend on speed: {}",
            printing.with_interval(estimate, Dimension::Power),
        ),
        Question::Exponent => format!(
            "Exponent of the draw that does: {}",
            number::with_interval(estimate),
        ),
    }
}

/// Says where a part comes from.
pub(crate) fn source(part: &BudgetPart) -> String {
    let column = part.column.as_deref().unwrap_or_default();
    match part.source {
        ErrorSource::MeterCommon { .. } => {
            format!("{column}: calibration, the same in every reading")
        }
        ErrorSource::MeterOwn { .. } => format!("{column}: each reading of its own"),
        ErrorSource::Discrepancy => "the pad's departure from the law".to_owned(),
        ErrorSource::Prior => "what was assumed before any reading".to_owned(),
    }
}
