//! Site files, test files and readings: text to records and back, with every problem placed.
//!
//! Text comes in as a [`Source`], never as a path: this crate opens no file. What comes out is either a
//! record or the list of everything that is wrong, each with line, column, what was found, what is
//! accepted and the mend. Quantities keep the text they were typed as beside the SI value, so that
//! reading, writing and reading again is the identity.

mod accuracy;
pub mod base64;
mod bundle;
mod calendar;
mod change;
mod clock;
pub mod currency;
mod document;
mod empty;
mod formula;
mod kind;
mod language;
mod number;
mod operation;
mod pad;
mod part;
mod place;
mod problem;
mod problems;
mod profile;
mod quantity;
mod read;
mod readings;
mod site;
mod source;
mod syntax;
mod template;
mod test;
mod told;
mod typed;
pub mod unit;
mod values;
mod walker;
mod wording;
mod write;

pub use accuracy::AccuracyError;
pub use bundle::{
    Bundle, BundleError, MAX_BUNDLE_BYTES, MAX_BUNDLE_FILES, MAX_BUNDLED_FILE_BYTES, NameFault,
    SITE_FILE, read_bundle, write_bundle,
};
pub use calendar::CalendarDayError;
pub use change::Change;
pub use clock::{ClockTimeError, TurnoverError};
pub use kind::{is_change_file, is_test_file};
pub use language::Language;
pub use operation::*;
pub use pad::{TestFiles, read_pad};
pub use part::*;
pub use problem::Problem;
pub use profile::{Logo, LogoKind, MAX_LOGO_BYTES, Profile};
pub use quantity::{Guess, Quantity, QuantityError};
pub use read::{
    check_test, read_change, read_changes, read_part, read_profile, read_readings, read_site,
    read_test, read_typed, readings_file,
};
pub use readings::{Cell, Column, Measured, Readings, Row};
pub use site::*;
pub use source::{MAX_FILE_BYTES, MAX_TOML_BYTES, Source};
pub use template::{TEMPLATE_NAME, site_template};
pub use test::*;
pub use told::{Fill, Filling, Told, filled};
pub use typed::{
    CellProblem, CellText, Separator, TypedHeading, TypedReadings, TypedRow, check_note, read_cell,
};
pub use write::{write_change, write_readings, write_site, write_test, write_typed_row};

use wording::{nearest, one_of, shown};
