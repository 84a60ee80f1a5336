//! Circuits as a whole: conservation, what does not depend on the way to an answer, one-way links, and refusals.

#![expect(
    clippy::unwrap_used,
    reason = "a test panics where its own machinery fails"
)]

mod generated;
mod one_way;
mod parts;
mod properties;
mod refusals;
mod tees;
