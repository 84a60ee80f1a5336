//! The plan of the drawing: how far down each lane stands, and from where to where each place reaches.

use super::lane::Lane;
use super::order::{Item, Order};
use super::sides::Sides;
use super::words::{Word, cut};
use super::{Circuit, pump};
use crate::ink::Ink;
use crate::size::{LINE, MARGIN, Size, TYPE};
use crate::svg::Anchor;
use crate::text::{Face, balanced, broken, clean};

/// Room between parts of the page.
const GAP: f64 = 8.0;
/// Height of the name of a body of water.
const NAME: f64 = LINE + 8.0;
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
        let mut unnamed = waters(circuit, order);
        if !unnamed.is_empty() {
            // The first name stands above all, so that lines beside one another begin alike.
            let room = self.size.width() - MARGIN;
            self.names
                .push((name(circuit, sides, unnamed.remove(0), room), self.height));
            self.height += NAME;
        }
        let mut taken = Skyline(vec![(0.0, self.size.width(), self.height)]);
        let rail = first_rail(order, sides);
        for item in &order.items {
            let mut lane = lane(sides, *item);
            if sides.in_columns() && lane.rail < rail && is_outwards(order, item.ends()) {
                lane.lower(rail - lane.rail);
            }
            let (left, right) = lane.span.reach();
            let (from, to) = item.ends();
            let is_new = |place: &mut usize| *place == from || *place == to;
            let new: Vec<usize> = unnamed.extract_if(.., is_new).collect();
            let top = taken.top(left, right);
            let top = self.name_above(circuit, sides, (&new, top), &mut taken);
            taken.0.push((left, right, top + lane.height));
            self.height = self.height.max(top + lane.height);
            self.lanes.push((*item, top, lane));
        }
    }

    /// Names bodies of water above the first lane that leads to them; returns the top of the lane.
    fn name_above(
        &mut self,
        circuit: &Circuit,
        sides: &Sides,
        (new, top): (&[usize], f64),
        taken: &mut Skyline,
    ) -> f64 {
        if new.is_empty() {
            return top;
        }
        let right = sides.first_end();
        let lefts = new.iter().map(|place| sides.x(*place));
        let left = lefts.fold(right, f64::min);
        let high = NAME * new.len() as f64;
        let top = top.max(taken.top(left, right) + high);
        for (row, place) in new.iter().enumerate() {
            let word = name(circuit, sides, *place, right);
            self.names.push((word, top - high + NAME * row as f64));
        }
        taken.0.push((left, right, top));
        top
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
    let span = sides.span(item);
    match item {
        Item::Pump(drawn) => pump::lane(drawn, span),
        Item::Line(_, line) => Lane::of_line(line, span),
    }
}

/// Lists the bodies of water in the order in which lanes lead to them.
fn waters(circuit: &Circuit, order: &Order<'_>) -> Vec<usize> {
    let mut found = Vec::new();
    for item in &order.items {
        let (from, to) = item.ends();
        for place in [from, to] {
            if circuit.is_water(place) && !found.contains(&place) {
                found.push(place);
            }
        }
    }
    found
}

/// Names a body of water at its bar.
fn name(circuit: &Circuit, sides: &Sides, place: usize, right: f64) -> Word {
    let x = sides.x(place);
    Word {
        text: cut(&circuit.places[place].name, Face::Regular, right - x),
        ink: Ink::LawText,
        anchor: Anchor::Start,
        x,
        top: 0.0,
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
