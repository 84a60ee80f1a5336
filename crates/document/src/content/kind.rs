//! What the numbers of an answer are, whatever they are called: words differ from language to language.

use super::{Block, Table};
use serde::{Deserialize, Serialize};

/// What a number is, or what the sentence is of that tells it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Kind {
    /// The speed that the other numbers of its row belong to.
    Speed,
    /// Flow by the law of a test.
    Flow,
    /// Power by the law of a test.
    Power,
    /// Energy for a volume of water, by the laws of a test.
    EnergyPerVolume,
    /// The draw that does not depend on speed.
    FixedDraw,
    /// The exponent of the draw that does.
    Exponent,
    /// Where a limit is met.
    Limit,
    /// Head along a line or a part, or of the pump.
    Head,
    /// A part of the power that the pump gives.
    Share,
    /// A sum of money.
    Money,
    /// Energy of a day or a year.
    Energy,
    /// A volume of water.
    Water,
    /// A day that was found and proven.
    Program,
    /// By how much a part of the pad takes more or less than at the baseline.
    Factor,
    /// How probable a change is.
    Odds,
    /// When the filter is due.
    Due,
}

/// What the numbers of a table are.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Kinds {
    /// The place of the test that the table is of, where it is of a single one.
    pub test: Option<usize>,
    /// What those of each column are, where the columns differ.
    pub columns: Vec<Option<Kind>>,
    /// What those of each row are, where the rows differ.
    pub rows: Vec<Option<Kind>>,
}

impl Kinds {
    /// Of a table whose columns differ.
    pub(crate) fn of_columns(columns: impl Into<Vec<Option<Kind>>>) -> Self {
        Self {
            columns: columns.into(),
            ..Self::default()
        }
    }

    /// Of a table whose rows differ.
    pub(crate) fn of_rows(rows: Vec<Option<Kind>>) -> Self {
        Self {
            rows,
            ..Self::default()
        }
    }
}

impl Table {
    /// Tells what the number in a cell is; `None` where there is none, or nothing to tell.
    pub fn kind(&self, row: usize, column: usize) -> Option<Kind> {
        let of = |kinds: &[Option<Kind>], at: usize| kinds.get(at).copied().flatten();
        let found = of(&self.kinds.columns, column).or_else(|| of(&self.kinds.rows, row));
        found.filter(|_| column >= self.word_columns)
    }

    /// Whether it is the table of limits.
    pub fn is_of_limits(&self) -> bool {
        self.kinds.columns.contains(&Some(Kind::Limit))
    }
}

/// Says of which test tables are, by its place in the analysis.
pub(super) fn of_test(mut blocks: Vec<Block>, test: usize) -> Vec<Block> {
    for block in &mut blocks {
        if let Block::Table(table) = block {
            table.kinds.test = Some(test);
        }
    }
    blocks
}
