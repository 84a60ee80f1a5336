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
pub fn formula(question: Question, printing: Printing) -> Formula {
    match question {
        Question::Flow(_) => Formula {
            formula: say!(
                printing,
                "Q² = s² · (N² − N₀²): Q flow, N speed, s flow per speed, N₀ the speed at which water begins to move."
            ),
            source: say!(
                printing,
                "Affinity laws with a lift. The law is a summary; where the readings depart from it smoothly, they are followed."
            ),
        },
        Question::Power(_) | Question::FixedDraw | Question::Exponent => Formula {
            formula: say!(
                printing,
                "P = P₀ + c · (N / N_top)^m: P power, N speed, P₀ the draw that does not depend on speed, m the exponent."
            ),
            source: say!(
                printing,
                "Affinity laws, and the losses of motor and drive. The law is a summary; where the readings depart from it smoothly, they are followed."
            ),
        },
        Question::Energy(_) => Formula {
            formula: say!(printing, "E = P / Q: power over flow at the same speed."),
            source: say!(printing, "The laws of power and flow of this test."),
        },
    }
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
