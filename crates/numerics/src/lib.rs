//! Elementary functions, distributions, roots and small dense and large sparse algebra with the same bits on every machine.
//!
//! This is the ground floor: it knows numbers, and neither a unit nor a pool. Every transcendental
//! function of the workspace comes from [`elementary`], because the ones of the standard library
//! differ between a native machine and WebAssembly by a few units in the last place.

pub mod distributions;
pub mod elementary;
pub mod fixed_point;
pub mod householder;
pub mod linear;
pub mod order;
pub mod random;
pub mod roots;
pub mod sparse;
pub mod vector;
