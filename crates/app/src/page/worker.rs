//! The worker: a second run of the program without a screen, which does what takes longer than a keystroke.
//!
//! The page asks by [`worked`]: a question that is asked anew whenever what it is made of changes. Between the two go
//! texts of JSON. A worker that panics or is killed is told of in place, and the next question starts another.

mod inside;
mod outside;

pub(super) use inside::{is_here, serve};
pub(super) use outside::{Working, worked};
