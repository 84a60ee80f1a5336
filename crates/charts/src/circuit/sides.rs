//! Where the places of a circuit stand from left to right: in columns as the water goes where the page is wide enough,
//! else at the two edges of the page, between which the lines go to and fro.

use super::Circuit;
use super::lane::least_width;
use super::order::{Item, Order, Part};
use super::span::{Span, Turn};
use crate::size::{MARGIN, Size};

/// Width of the bar of a body of water.
pub(super) const BAR: f64 = 16.0;
/// Distance of a bar from the next.
const BAR_PITCH: f64 = 28.0;
/// Distance of two places beside one another.
const TRACK: f64 = 14.0;
/// The most room that the bars together, and the places of one edge together, may take.
const MOST_BARS: f64 = 84.0;
const MOST_TRACKS: f64 = 42.0;
/// Room between an end of a lane and its words.
const INSET: f64 = 12.0;
/// Width of the pump's column.
const PUMP: f64 = 124.0;
/// The least width of a column of lines.
const COLUMN: f64 = 170.0;
/// The least width of a lane without a turn.
const STRAIGHT: f64 = 110.0;

/// Where the places stand.
#[derive(Clone, Debug)]
pub(super) struct Sides {
    /// The place of each; of a bar its left edge.
    x: Vec<f64>,
    /// The ends of the column that each place stands in.
    column: Vec<(f64, f64)>,
    /// The ends of the room that lines may take.
    room: (f64, f64),
    waters: Vec<bool>,
    in_columns: bool,
}

impl Sides {
    pub(super) fn of(circuit: &Circuit, order: &Order<'_>, size: Size) -> Self {
        let waters = used_waters(circuit);
        let pitch = BAR_PITCH.min(MOST_BARS / waters.len().max(1) as f64);
        let left = MARGIN + pitch * waters.len() as f64 - (pitch - BAR.min(pitch));
        let room = (left, size.width() - MARGIN - 2.0);
        let mut x = vec![MARGIN; circuit.places.len()];
        for (index, place) in waters.iter().enumerate() {
            x[*place] = MARGIN + pitch * index as f64;
        }
        let mut sides = Self {
            column: vec![(left, left); circuit.places.len()],
            waters: (0..circuit.places.len())
                .map(|place| circuit.is_water(place))
                .collect(),
            in_columns: false,
            room,
            x,
        };
        let wide = size == Size::Wide && circuit.pump.is_some();
        if !(wide && sides.stand_in_columns(order)) {
            sides.stand_at_edges(order);
        }
        sides
    }

    /// Whether the lines beside one another share the height of the page.
    pub(super) fn in_columns(&self) -> bool {
        self.in_columns
    }

    pub(super) fn x(&self, place: usize) -> f64 {
        self.x[place]
    }

    /// Gives each rank a column; `false` where a column would be too narrow for its words.
    fn stand_in_columns(&mut self, order: &Order<'_>) -> bool {
        let joints = |rank: usize| {
            let of_rank = (0..self.x.len()).filter(move |place| order.ranks[*place] == rank);
            // The first stands outermost: its lines lie around those of the others.
            let mut joints: Vec<usize> = of_rank.filter(|place| !self.waters[*place]).collect();
            joints.reverse();
            joints
        };
        let columns: Vec<Vec<usize>> = (1..=order.last_rank).map(joints).collect();
        let tracks: usize = columns.iter().map(|joints| joints.len().max(1) - 1).sum();
        let needs = needs(order);
        let room = self.room.1 - self.room.0 - TRACK * tracks as f64;
        let free = room - needs.iter().sum::<f64>();
        if free < 0.0 {
            return false;
        }
        let more = free / (needs.len() - 1).max(1) as f64;
        let mut at = self.room.0;
        for (index, joints) in columns.iter().enumerate() {
            at += needs[index];
            if index != order.inlet_rank {
                at += more;
            }
            let left = at;
            for (track, place) in joints.iter().enumerate() {
                at = left + TRACK * track as f64;
                self.x[*place] = at;
            }
            for place in joints {
                self.column[*place] = (left, at);
            }
        }
        self.in_columns = true;
        true
    }

    /// Gives each place an edge, so that the last before the water stands at the right and lines lead straight back.
    fn stand_at_edges(&mut self, order: &Order<'_>) {
        let discharge = (0..self.x.len()).filter(|place| order.parts[*place] == Part::Discharge);
        let last_rank = discharge.map(|place| order.ranks[place]).max().unwrap_or(0);
        let is_right = |place: usize| match order.parts[place] {
            Part::Water => false,
            Part::Discharge => (last_rank - order.ranks[place]).is_multiple_of(2),
            Part::Suction | Part::Apart => order.ranks[place] % 2 == 1,
        };
        let places: Vec<usize> = (0..self.x.len())
            .filter(|place| !self.waters[*place])
            .collect();
        let (right, left): (Vec<usize>, Vec<usize>) =
            places.into_iter().partition(|place| is_right(*place));
        let (left, left_tracks) = tracks(order, &left);
        let (right, right_tracks) = tracks(order, &right);
        let pitch = |count: usize| TRACK.min(MOST_TRACKS / count.max(1) as f64);
        let inner = (
            self.room.0 + pitch(left_tracks) * left_tracks as f64,
            self.room.1 - pitch(right_tracks) * right_tracks.saturating_sub(1) as f64,
        );
        for (place, track) in left {
            self.x[place] = inner.0 - pitch(left_tracks) * track as f64;
            self.column[place] = (inner.0, inner.0);
        }
        for (place, track) in right {
            self.x[place] = inner.1 + pitch(right_tracks) * track as f64;
            self.column[place] = (inner.1, inner.1);
        }
        for (place, column) in self.column.iter_mut().enumerate() {
            if self.waters[place] {
                *column = (inner.0, inner.0);
            }
        }
        self.room = inner;
    }

    /// Returns where the words of the lines that leave the water end.
    pub(super) fn first_end(&self) -> f64 {
        let columns = self.column.iter().map(|column| column.0);
        let beyond = columns.filter(|left| *left > self.room.0 + STRAIGHT);
        beyond.fold(self.room.1, f64::min)
    }

    /// Finds the room of a lane. A line that would have no room for its words between its ends turns beside them.
    pub(super) fn span(&self, item: Item<'_>) -> Span {
        let (from, to) = item.ends();
        let least = match item {
            Item::Line(_, line) if self.in_columns => COLUMN.min(2.0 * INSET + least_width(line)),
            Item::Line(..) | Item::Pump(_) => 0.0,
        };
        let end = |place: usize| {
            let bar = if self.waters[place] { BAR } else { 0.0 };
            self.x[place] + bar
        };
        let (near, far) = if self.column[from].0 <= self.column[to].0 {
            (self.column[from], self.column[to])
        } else {
            (self.column[to], self.column[from])
        };
        let (left, right, turn) = if far.0 - near.1 >= STRAIGHT.max(least) {
            (near.1, far.0, Turn::Straight)
        } else if self.room.1 - far.1 >= STRAIGHT.max(least).min(near.0 - self.room.0) {
            (far.1, self.room.1, Turn::OpenLeft)
        } else {
            (self.room.0, near.0, Turn::OpenRight)
        };
        Span {
            left: left + INSET,
            right: right - INSET,
            from: end(from),
            to: end(to),
            turn,
        }
    }
}

/// Lists the widths that the columns need, so that the parts of the lines in them can be named in full.
fn needs(order: &Order<'_>) -> Vec<f64> {
    let mut needs = vec![COLUMN; order.last_rank];
    for item in &order.items {
        let (from, to) = item.ends();
        let (near, far) = (order.ranks[from], order.ranks[to]);
        if let (Item::Line(_, line), true) = (item, far == near + 1) {
            needs[near] = needs[near].max(2.0 * INSET + least_width(line));
        }
    }
    needs[order.inlet_rank] = PUMP;
    needs
}

/// Lists the bodies of water that a line leads to.
fn used_waters(circuit: &Circuit) -> Vec<usize> {
    let used = |place: &usize| {
        let mut lines = circuit.lines.iter();
        circuit.is_water(*place) && lines.any(|line| line.from == *place || line.to == *place)
    };
    (0..circuit.places.len()).filter(used).collect()
}

/// Gives the places of one edge tracks, the first innermost, so that none lies upon another; returns how many there are.
fn tracks(order: &Order<'_>, places: &[usize]) -> (Vec<(usize, usize)>, usize) {
    let mut reaches: Vec<(usize, usize, usize)> = places
        .iter()
        .filter_map(|place| {
            let (first, last) = reach(order, *place)?;
            Some((last - first, first, *place))
        })
        .collect();
    reaches.sort_unstable();
    let mut taken: Vec<Vec<(usize, usize)>> = Vec::new();
    let mut found = Vec::new();
    for (long, first, place) in reaches {
        let last = first + long;
        let is_free = |track: &Vec<(usize, usize)>| {
            track
                .iter()
                .all(|(start, end)| last < *start || *end < first)
        };
        let track = taken.iter().position(is_free).unwrap_or_else(|| {
            taken.push(Vec::new());
            taken.len() - 1
        });
        taken[track].push((first, last));
        found.push((place, track));
    }
    (found, taken.len())
}

/// Finds from which to which lane a place reaches; what comes back below itself ends half a lane further down.
fn reach(order: &Order<'_>, place: usize) -> Option<(usize, usize)> {
    let slots = order.items.iter().enumerate().flat_map(|(lane, item)| {
        let (from, to) = item.ends();
        let slots = [(from, 2 * lane), (to, 2 * lane + 1)];
        slots.into_iter().filter(|(end, _)| *end == place)
    });
    let slots: Vec<usize> = slots.map(|(_, slot)| slot).collect();
    Some((*slots.iter().min()?, *slots.iter().max()?))
}
