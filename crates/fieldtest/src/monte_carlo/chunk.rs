//! The deviates of a few consecutive draws.

use super::law::LawDraws;
use numerics::random::Draws;

/// Draws that are made at a time: their deviates stay in the nearest memory.
pub(super) const CHUNK: usize = 128;

/// One number of each draw of a chunk.
pub(super) type Column = [f64; CHUNK];

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

/// The deviates of one law: standard normal ones, and one between −1 and 1 for each meter's limit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Deviates<'a> {
    /// Those that reach the law's numbers to first order.
    pub(super) lead: &'a [Column],
    /// Those that matter to an exact refit alone; empty where none is made.
    pub(super) rest: &'a [Column],
    /// Those of the limits.
    pub(super) limits: &'a [Column],
}

impl<'a> Deviates<'a> {
    /// Lists all deviates: normal ones first, then those of the limits.
    pub(super) fn all(self) -> impl Iterator<Item = &'a Column> {
        self.lead.iter().chain(self.rest).chain(self.limits)
    }
}

/// The deviates of the laws and of the draw at rest.
#[derive(Clone, Copy, Debug)]
pub(super) struct ChunkDeviates<'a> {
    pub(super) flow: Deviates<'a>,
    pub(super) power: Deviates<'a>,
    pub(super) standby: &'a Column,
}

/// The deviates of a chunk of draws, column by column.
#[derive(Debug)]
pub(super) struct Chunk {
    counts: Counts,
    /// An even number of them: they are made in pairs.
    normals: Vec<Column>,
    limits: Vec<Column>,
}

impl Chunk {
    pub(super) fn new(flow: Option<&LawDraws>, power: Option<&LawDraws>) -> Self {
        let counts = Counts::of(flow, power);
        Self {
            counts,
            normals: vec![[0.0; CHUNK]; counts.normals().next_multiple_of(2)],
            limits: vec![[0.0; CHUNK]; counts.limits()],
        }
    }

    /// Draws the deviates of draw `first` and those after it.
    pub(super) fn draw(&mut self, normals: &Draws, rectangles: &Draws, first: u64) {
        for (place, pair) in (0_u64..).zip(self.normals.chunks_exact_mut(2)) {
            if let [even, odd] = pair {
                normals.fill_normal_pairs(place, first, even, odd);
            }
        }
        if self.limits.is_empty() {
            return;
        }
        for (row, index) in (0..CHUNK).zip(first..) {
            let mut draw = rectangles.at(index);
            for column in &mut self.limits {
                column[row] = draw.rectangular();
            }
        }
    }

    pub(super) fn deviates(&self) -> ChunkDeviates<'_> {
        let counts = self.counts;
        let (flow_lead, left) = self.normals.split_at(counts.flow_lead);
        let (power_lead, left) = left.split_at(counts.power_lead);
        let (standby, left) = left.split_at(1);
        let (flow_rest, left) = left.split_at(counts.flow_rest);
        let (flow_limits, power_limits) = self.limits.split_at(counts.flow_limits);
        ChunkDeviates {
            flow: Deviates {
                lead: flow_lead,
                rest: flow_rest,
                limits: flow_limits,
            },
            power: Deviates {
                lead: power_lead,
                rest: &left[..counts.power_rest],
                limits: power_limits,
            },
            standby: &standby[0],
        }
    }
}
