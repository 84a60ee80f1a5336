//! The deviates of a few consecutive draws.

use super::law::{Deviates, LawDraws};
use numerics::random::Draws;

/// Draws that are made at a time: their deviates stay in the nearest memory.
pub(super) const CHUNK: usize = 128;

/// How many deviates each use takes. What reaches the answers to first order stands first, so that an exact refit meets
/// the same deviates there.
#[derive(Clone, Copy, Debug)]
struct Counts {
    flow_lead: usize,
    power_lead: usize,
    flow_rest: usize,
    power_rest: usize,
    flow_limits: usize,
    power_limits: usize,
}

impl Counts {
    fn of(flow: Option<&LawDraws>, power: Option<&LawDraws>) -> Self {
        let of = |law: Option<&LawDraws>, count: fn(&LawDraws) -> usize| law.map_or(0, count);
        Self {
            flow_lead: of(flow, LawDraws::lead),
            power_lead: of(power, LawDraws::lead),
            flow_rest: of(flow, LawDraws::rest),
            power_rest: of(power, LawDraws::rest),
            flow_limits: of(flow, LawDraws::limits),
            power_limits: of(power, LawDraws::limits),
        }
    }

    /// The normal deviates of a draw, that of the draw at rest included.
    fn normals(self) -> usize {
        self.flow_lead + self.power_lead + 1 + self.flow_rest + self.power_rest
    }

    fn limits(self) -> usize {
        self.flow_limits + self.power_limits
    }
}

/// The deviates of one draw.
#[derive(Clone, Copy, Debug)]
pub(super) struct DrawDeviates<'a> {
    pub(super) flow: Deviates<'a>,
    pub(super) power: Deviates<'a>,
    pub(super) standby: f64,
}

/// The deviates of a chunk of draws, those of a draw beside one another.
#[derive(Debug)]
pub(super) struct Chunk {
    counts: Counts,
    normals: Vec<f64>,
    limits: Vec<f64>,
}

impl Chunk {
    pub(super) fn new(flow: Option<&LawDraws>, power: Option<&LawDraws>) -> Self {
        let counts = Counts::of(flow, power);
        Self {
            counts,
            normals: vec![0.0; CHUNK * counts.normals()],
            limits: vec![0.0; CHUNK * counts.limits()],
        }
    }

    /// Draws the deviates of draw `first` and those after it.
    pub(super) fn draw(&mut self, normals: &Draws, rectangles: &Draws, first: u64) {
        let (mut even, mut odd) = ([0.0; CHUNK], [0.0; CHUNK]);
        let width = self.counts.normals();
        for (place, column) in (0_u64..).zip((0..width).step_by(2)) {
            normals.fill_normal_pairs(place, first, &mut even, &mut odd);
            let rows = self.normals.chunks_exact_mut(width);
            for (row, (even, odd)) in rows.zip(even.iter().zip(&odd)) {
                row[column] = *even;
                if let Some(next) = row.get_mut(column + 1) {
                    *next = *odd;
                }
            }
        }
        if self.counts.limits() == 0 {
            return;
        }
        let rows = self.limits.chunks_exact_mut(self.counts.limits());
        for (index, row) in (first..).zip(rows) {
            let mut draw = rectangles.at(index);
            row.fill_with(|| draw.rectangular());
        }
    }

    /// Returns the deviates of draw `i` of the chunk.
    pub(super) fn of(&self, i: usize) -> DrawDeviates<'_> {
        let counts = self.counts;
        let width = counts.normals();
        let row = &self.normals[i * width..(i + 1) * width];
        let (flow_lead, row) = row.split_at(counts.flow_lead);
        let (power_lead, row) = row.split_at(counts.power_lead);
        let (standby, row) = row.split_at(1);
        let (flow_rest, power_rest) = row.split_at(counts.flow_rest);
        let limits = &self.limits[i * counts.limits()..(i + 1) * counts.limits()];
        let (flow_limits, power_limits) = limits.split_at(counts.flow_limits);
        DrawDeviates {
            flow: Deviates {
                lead: flow_lead,
                rest: flow_rest,
                limits: flow_limits,
            },
            power: Deviates {
                lead: power_lead,
                rest: power_rest,
                limits: power_limits,
            },
            standby: standby[0],
        }
    }
}
