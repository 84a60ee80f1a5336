//! Site files, test files and readings: text to records and back, with every problem placed.
//!
//! Text comes in as a [`Source`], never as a path: this crate opens no file. What comes out is either a
//! record or the list of everything that is wrong, each with line, column, what was found, what is
//! accepted and the mend. Quantities keep the text they were typed as beside the SI value, so that
//! reading, writing and reading again is the identity.

mod accuracy;
mod clock;
mod empty;
mod number;
mod part;
mod problem;
mod quantity;
mod readings;
mod site;
mod source;
mod test;
pub mod unit;
mod wording;

pub use accuracy::AccuracyError;
pub use clock::{ClockTimeError, TurnoverError};
pub use part::*;
pub use problem::Problem;
pub use quantity::{Guess, Quantity, QuantityError};
pub use readings::{Cell, Column, Measured, Readings, Row};
pub use site::*;
pub use source::{MAX_FILE_BYTES, Source};
pub use test::*;

use wording::{nearest, one_of, shown};
