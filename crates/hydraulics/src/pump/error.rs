//! Why points or coefficients are no pump curve, with the place in the list.

use thiserror::Error;

use crate::error::HydraulicsError;

/// Why there is no curve.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum CurveError {
    /// A curve has a shape from two points on.
    #[error("the pump curve has {given} points; expected at least 2")]
    TooFewPoints {
        /// How many there are.
        given: usize,
    },
    /// A point is impossible by itself.
    #[error("point {index} of the pump curve: {source}")]
    Point {
        /// Which point, counted from 0.
        index: usize,
        /// What is wrong with it.
        source: HydraulicsError,
    },
    /// Two points have one flow, or the flows do not rise.
    #[error(
        "point {index} of the pump curve has a flow of {flow_m3s} m3/s after {before_m3s} m3/s; expected flows that rise"
    )]
    FlowDoesNotRise {
        /// The second of the two points, counted from 0.
        index: usize,
        /// Its flow.
        flow_m3s: f64,
        /// The flow of the point before.
        before_m3s: f64,
    },
    /// The head rises with flow: such a pump has two flows at one head.
    #[error(
        "point {index} of the pump curve has a head of {head_m} m after {before_m} m; expected heads that do not rise"
    )]
    HeadRises {
        /// The second of the two points, counted from 0.
        index: usize,
        /// Its head.
        head_m: f64,
        /// The head of the point before.
        before_m: f64,
    },
    /// The last two points have one head: the curve would have no end.
    #[error("the head of the pump curve does not fall at its last point, {index}")]
    EndDoesNotFall {
        /// The last point, counted from 0.
        index: usize,
    },
    /// A value that belongs to the whole curve is impossible.
    #[error("the pump curve: {source}")]
    Whole {
        /// What is wrong with it.
        #[from]
        source: HydraulicsError,
    },
}
