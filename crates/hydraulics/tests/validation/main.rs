//! Holds the crate against outside evidence in `validation/`, one module per topic.
//!
//! Every expected value comes from a file whose `SOURCE.md` says who computed or printed it.

#![expect(
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test panics on bad evidence and reports its worst deviation"
)]

mod atmosphere;
mod codes;
mod fittings;
mod friction;
mod granular_bed;
mod handbook;
mod handbook_crane;
mod handbook_fittings;
mod harness;
mod networks;
mod passages;
mod pipes;
mod pump;
mod rating;
mod tees;
mod water;
