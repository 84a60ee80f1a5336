//! The parts that a line is made of. A part has exactly one kind key, and `count` multiplies any.
//!
//! The words of fittings, valves and equipment are kept as typed: the catalogue that knows their
//! resistance stands elsewhere.

use crate::{Guess, Quantity};
use serde::ser::{Serialize, SerializeMap, Serializer};

/// A part of a line.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Part {
    /// What it is.
    #[serde(flatten)]
    pub kind: PartKind,
    /// How many of it, one after another; for a cover and an outlet, side by side.
    #[serde(skip_serializing_if = "is_one")]
    pub count: u32,
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "the signature that serde asks for"
)]
fn is_one(count: &u32) -> bool {
    *count == 1
}

/// The kinds of part.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[serde(untagged)]
pub enum PartKind {
    /// A straight pipe.
    Pipe(Pipe),
    /// A fitting, such as an elbow.
    Fitting(Fitting),
    /// A valve.
    Valve(Valve),
    /// A tee.
    Tee(Tee),
    /// A change of size.
    Reducer(Reducer),
    /// A skimmer.
    Skimmer(Skimmer),
    /// A suction cover.
    Cover(Cover),
    /// A strainer basket.
    Basket(Basket),
    /// A filter.
    Filter(Filter),
    /// A heater.
    Heater(Heater),
    /// A chlorine cell.
    Cell(ChlorineCell),
    /// A check valve.
    CheckValve(CheckValve),
    /// A solar collector.
    Solar(Solar),
    /// A spillover.
    Spillover(Spillover),
    /// An outlet into the water.
    Outlet(Outlet),
    /// A flow meter that takes head.
    FlowMeter(FlowMeter),
    /// A minor loss by its number.
    MinorLoss(MinorLoss),
}

/// A straight pipe, by nominal size and specification or by bore and roughness.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Pipe {
    /// Nominal size as typed, such as `1-1/2 in`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pipe: Option<Quantity>,
    /// Inside diameter, m, where no size is named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pipe_bore: Option<Quantity>,
    /// Specification, such as `PVC Sch 40`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spec: Option<String>,
    /// Length, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<Quantity>,
    /// Height of the wall's roughness, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roughness: Option<Quantity>,
}

/// A fitting, such as an elbow.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Fitting {
    /// What it is, such as `90 elbow`.
    pub fitting: String,
    /// Nominal size; absent, that of the pipe before it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<Quantity>,
}

/// A valve.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Valve {
    /// What it is, such as `ball`.
    pub valve: String,
    /// Nominal size; absent, that of the pipe before it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<Quantity>,
    /// How far it is open, a share; absent, fully.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub open: Option<Quantity>,
    /// Flow at a drop of 1 bar, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kv: Option<Quantity>,
}

/// Which way through a tee.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum TeePath {
    /// Straight through.
    Run,
    /// Round the corner.
    Branch,
}

/// A tee.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Tee {
    /// Which way the water goes.
    pub tee: TeePath,
    /// Nominal size; absent, that of the pipe before it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<Quantity>,
}

/// A change of size, from that of the pipe before it.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Reducer {
    /// The nominal size after it.
    pub reducer: Quantity,
    /// Specification of the size after it; absent, that of the pipe before it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spec: Option<String>,
}

/// A skimmer.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Skimmer {
    /// What is in it, such as `basket`.
    pub skimmer: String,
    /// Its drop at stated flows.
    #[serde(skip_serializing_if = "Vec::is_empty", serialize_with = "one_or_many")]
    pub at: Vec<RatedDrop>,
}

/// Where a suction cover sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CoverPlace {
    /// On the floor.
    Floor,
    /// On a wall.
    Wall,
}

/// A suction cover; `count` says how many draw side by side.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Cover {
    /// Where it sits.
    pub cover: CoverPlace,
    /// The highest flow that is printed on one, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rating: Option<Quantity>,
    /// The drop of one at stated flows.
    #[serde(skip_serializing_if = "Vec::is_empty", serialize_with = "one_or_many")]
    pub at: Vec<RatedDrop>,
}

/// A strainer basket.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Basket {
    /// What it is, such as `pump pot`.
    pub basket: String,
    /// Its drop at stated flows.
    #[serde(skip_serializing_if = "Vec::is_empty", serialize_with = "one_or_many")]
    pub at: Vec<RatedDrop>,
}

/// A flow with the pressure drop that belongs to it.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct RatedDrop {
    /// Flow, m³/s.
    pub flow: Quantity,
    /// Pressure drop, Pa.
    pub drop: Quantity,
}

/// A filter.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Filter {
    /// What it is: `cartridge`, `sand`, `precoat`.
    pub filter: String,
    /// Area of the media, m².
    #[serde(skip_serializing_if = "Option::is_none")]
    pub area: Option<Quantity>,
    /// Its drop when clean.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clean: Option<RatedDrop>,
    /// Highest flow, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_flow: Option<Quantity>,
    /// Highest gauge pressure, Pa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_pressure: Option<Quantity>,
}

/// A heater.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Heater {
    /// What it is, such as `gas`.
    pub heater: String,
    /// Its drop at stated flows.
    #[serde(skip_serializing_if = "Vec::is_empty", serialize_with = "one_or_many")]
    pub at: Vec<RatedDrop>,
    /// Least flow, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min_flow: Option<Quantity>,
    /// Highest flow, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_flow: Option<Quantity>,
    /// Its bypass, such as `spring` or `shut`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bypass: Option<String>,
}

/// A chlorine cell.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct ChlorineCell {
    /// What it is, such as `salt`.
    pub cell: String,
    /// Its drop at stated flows.
    #[serde(skip_serializing_if = "Vec::is_empty", serialize_with = "one_or_many")]
    pub at: Vec<RatedDrop>,
    /// Least flow, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min_flow: Option<Quantity>,
    /// Highest flow, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_flow: Option<Quantity>,
}

/// A check valve.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct CheckValve {
    /// What it is: `spring` or `swing`.
    pub check_valve: String,
    /// Nominal size; absent, that of the pipe before it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<Quantity>,
    /// Pressure at which it opens, Pa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cracking: Option<Quantity>,
    /// Flow at a drop of 1 bar, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kv: Option<Quantity>,
}

/// A solar collector.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Solar {
    /// What it is, such as `roof panels`.
    pub solar: String,
    /// Height of its top above the water, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height: Option<Quantity>,
    /// Its drop at stated flows.
    #[serde(skip_serializing_if = "Vec::is_empty", serialize_with = "one_or_many")]
    pub at: Vec<RatedDrop>,
    /// Least flow, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min_flow: Option<Quantity>,
    /// Highest flow, m³/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_flow: Option<Quantity>,
}

/// A spillover, over which water falls freely.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Spillover {
    /// What it is, such as `weir`.
    pub spillover: String,
    /// Height of its edge above the water, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height: Option<Quantity>,
}

/// An outlet into the water; `count` says how many blow side by side.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Outlet {
    /// What it is, such as `eyeball`.
    pub outlet: String,
    /// Bore of one, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bore: Option<Quantity>,
}

/// A flow meter that takes head.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct FlowMeter {
    /// What it is, such as `float`.
    pub flow_meter: String,
    /// Its drop at stated flows.
    #[serde(skip_serializing_if = "Vec::is_empty", serialize_with = "one_or_many")]
    pub at: Vec<RatedDrop>,
}

/// A minor loss on the velocity of the pipe before it: `{ k = 4.2 }`.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct MinorLoss {
    /// Loss coefficient, 0 or more.
    pub k: Coefficient,
}

/// A number without a unit, stated or guessed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficient {
    /// The value.
    pub value: f64,
    /// Where it is a guess: how good a one.
    pub guess: Option<Guess>,
}

impl Serialize for Coefficient {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Some(guess) = self.guess else {
            return serializer.serialize_f64(self.value);
        };
        let mut table = serializer.serialize_map(Some(2))?;
        table.serialize_entry("about", &self.value)?;
        table.serialize_entry("factor", &guess.factor)?;
        table.end()
    }
}

/// Writes one rated point as a table and several as a list, which is how either is read.
fn one_or_many<S: Serializer>(points: &[RatedDrop], serializer: S) -> Result<S::Ok, S::Error> {
    match points {
        [only] => only.serialize(serializer),
        many => many.serialize(serializer),
    }
}
