//! Holds the crate against outside evidence in `validation/`, one module per topic.
//!
//! Every expected value comes from a file whose `SOURCE.md` says who computed or printed it.

#![expect(
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "a test panics on bad evidence and reports its worst deviation"
)]

#[expect(dead_code, reason = "the units of pipework are of no use here")]
#[path = "../../../hydraulics/tests/validation/harness.rs"]
mod harness;
mod huber;
mod models;
mod monte_carlo;
mod nist;
mod odr;
mod polynomials;
mod propagation;
