//! Made-up pads whose truth is known: a circuit, a pump, a drive, meters that err and a person who mistypes.
//!
//! What comes out is text, a site file and a test with its readings, so that a simulated test goes the same way as a
//! real one. The truth is never one of the laws that are fitted: friction, a filter's media, part-load losses and a
//! falling pump curve bend it as they bend a real pad ([`Pad`]); beside it stands a truth that is exactly the laws
//! ([`LawfulPad`]), to tell a fault of the statistics from one of the model.

mod draw;
mod faults;
mod meters;
mod pad;
mod random;
mod text;

pub use draw::Uniform;
pub use faults::{Fault, InjectedFault};
pub use meters::{MeterModel, Meters};
pub use pad::{Circuit, Drive, LawfulPad, Operation, Pad, PumpCurve, Truth};
pub use random::{RandomTest, random_pad_test, random_test};
pub use text::{SimulatedTest, simulate};
