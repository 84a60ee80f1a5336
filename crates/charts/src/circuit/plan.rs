//! The plan of the drawing: how far down each lane stands, and from where to where each place reaches.

use super::Circuit;
use super::lane::Lane;
use super::order::{Item, Order};
use super::sides::Sides;
use super::words::{Word, cut};
use crate::ink::Ink;
use crate::size::{LINE, MARGIN, Size, TYPE};
use crate::svg::Anchor;
use crate::text::{Face, balanced, broken, clean};

/// Room between parts of the page.
const GAP: f64 = 8.0;
/// How far a body of water reaches beyond its first and its last line.
const BRIM: f64 = 10.0;

/// The plan.
#[derive(Clone, Debug)]
pub(super) struct Plan<'a> {
    pub(super) size: Size,
    /// Height of the whole page.
    pub(super) height: f64,
    pub(super) title: Vec<String>,
    pub(super) note: Vec<String>,
    /// The lanes with their tops.
    pub(super) lanes: Vec<(Item<'a>, f64, Lane)>,
    /// The places that lines lead to.
    pub(super) joints: Vec<Joint>,
    /// The names of the bodies of water.
    pub(super) names: Vec<(Word, f64)>,
}

/// A place with its lines.
#[derive(Clone, Debug)]
pub(super) struct Joint {
    pub(super) place: usize,
    pub(super) x: f64,
    /// The heights at which lines meet it, from the top.
    pub(super) meets: Vec<f64>,
}

impl Joint {
    /// Returns from which height to which the place reaches.
    pub(super) fn reach(&self) -> (f64, f64) {
        let least = self.meets.iter().copied().fold(f64::INFINITY, f64::min);
        let most = self.meets.iter().copied().fold(0.0, f64::max);
        (least, most)
    }

    /// Returns from which height to which the bar of a body of water reaches.
    pub(super) fn brims(&self) -> (f64, f64) {
        let (least, most) = self.reach();
        (least - BRIM, most + BRIM)
    }
}

/// The rooms that are taken: from left to right, and down to where.
#[derive(Default)]
struct Skyline(Vec<(f64, f64, f64)>);

impl Skyline {
    fn top(&self, left: f64, right: f64) -> f64 {
        let above = self.0.iter().filter(|room| room.0 < right && left < room.1);
        above.map(|room| room.2).fold(0.0, f64::max)
    }
}

impl<'a> Plan<'a> {
    pub(super) fn of(circuit: &'a Circuit, size: Size) -> Self {
        let order = Order::of(circuit);
        let sides = Sides::of(circuit, &order, size);
        let room = size.width() - 2.0 * MARGIN;
        let (title_size, title_line) = size.title();
        let title = balanced(&clean(&circuit.title), Face::Bold, title_size, room);
        let note = broken(&clean(&circuit.note), Face::Regular, TYPE, room);
        let mut plan = Self {
            size,
            height: MARGIN + title_line * title.len() as f64 + GAP,
            title,
            note,
            lanes: Vec::new(),
            joints: Vec::new(),
            names: Vec::new(),
        };
        plan.stack(circuit, &order, &sides);
        plan.join(circuit, &sides);
        if !plan.note.is_empty() {
            plan.height += GAP + LINE * plan.note.len() as f64;
        }
        plan.height += MARGIN;
        plan
    }

    /// Stands the lanes below one another; those that share no room from left to right may stand side by side.
    fn stack(&mut self, circuit: &Circuit, order: &Order<'a>, sides: &Sides) {
        let mut taken = Skyline(vec![(0.0, self.size.width(), self.height)]);
        let mut named = vec![false; circuit.places.len()];
        let rail = first_rail(order, sides);
        for item in &order.items {
            let (from, to) = item.ends();
            for place in [from, to] {
                if circuit.is_water(place) && !std::mem::replace(&mut named[place], true) {
                    self.name_water(circuit, sides, place, &mut taken);
                }
            }
            let mut lane = lane(sides, *item);
            if sides.in_columns() && lane.rail < rail && is_outwards(order, (from, to)) {
                lane.lower(rail - lane.rail);
            }
            let span = &lane.span;
            let left = span.left.min(span.from).min(span.to);
            let right = span.right.max(span.from).max(span.to);
            let top = taken.top(left, right);
            taken.0.push((left, right, top + lane.height));
            self.height = self.height.max(top + lane.height);
            self.lanes.push((*item, top, lane));
        }
    }

    /// Writes the name of a body of water where its bar begins.
    fn name_water(&mut self, circuit: &Circuit, sides: &Sides, place: usize, taken: &mut Skyline) {
        let left = sides.x(place);
        let is_first = self.names.is_empty();
        let right = if is_first {
            self.size.width() - MARGIN
        } else {
            sides.first_end()
        };
        let top = taken.top(left, right);
        let word = Word {
            text: cut(&circuit.places[place].name, Face::Regular, right - left),
            ink: Ink::LawText,
            anchor: Anchor::Start,
            x: left,
            top: 0.0,
        };
        // The name of the first stands above all, so that lines beside one another begin alike.
        let reach = if is_first { self.size.width() } else { right };
        taken.0.push((left, reach, top + LINE + GAP));
        self.names.push((word, top));
    }

    /// Finds where each place is met by its lines.
    fn join(&mut self, circuit: &Circuit, sides: &Sides) {
        for place in 0..circuit.places.len() {
            let meets = self.lanes.iter().flat_map(|(item, top, lane)| {
                let (from, to) = item.ends();
                let at = [(from, top + lane.rail), (to, top + lane.back)];
                at.into_iter().filter(|(end, _)| *end == place)
            });
            let meets: Vec<f64> = meets.map(|(_, height)| height).collect();
            if !meets.is_empty() {
                self.joints.push(Joint {
                    place,
                    x: sides.x(place),
                    meets,
                });
            }
        }
    }
}

fn lane(sides: &Sides, item: Item<'_>) -> Lane {
    let (from, to) = item.ends();
    let span = sides.span(from, to);
    match item {
        Item::Pump(pump) => Lane::of_pump(pump, span),
        Item::Line(_, line) => Lane::of_line(line, span),
    }
}

/// Whether a line leads from one column to the next.
fn is_outwards(order: &Order<'_>, (from, to): (usize, usize)) -> bool {
    let ranks = (order.ranks[from], order.ranks[to]);
    ranks.1 == ranks.0 + 1
}

/// Finds the height at which the lines that lead outwards begin, so that those of the first row are one line.
fn first_rail(order: &Order<'_>, sides: &Sides) -> f64 {
    let outwards = order.items.iter().filter(|item| {
        let ends = item.ends();
        is_outwards(order, ends)
    });
    let rails = outwards.map(|item| lane(sides, *item).rail);
    rails.fold(0.0, f64::max)
}
