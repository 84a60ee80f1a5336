//! In which order the lines of a circuit stand below one another, and how far each place is from the water: as the water
//! goes, out through the suction, through the pump, and back.

use super::{Circuit, CircuitLine, CircuitPump};
use std::collections::VecDeque;

/// What takes a lane of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Item<'a> {
    /// A line, with its place in the list.
    Line(usize, &'a CircuitLine),
    /// The pump.
    Pump(&'a CircuitPump),
}

impl Item<'_> {
    /// Returns the places that it joins.
    pub(super) fn ends(self) -> (usize, usize) {
        match self {
            Self::Line(_, line) => (line.from, line.to),
            Self::Pump(pump) => (pump.inlet, pump.outlet),
        }
    }
}

/// On which side of the pump a place is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    Water,
    Suction,
    Discharge,
    /// Joined to the pump by water alone, or not at all.
    Apart,
}

/// How the places of a circuit stand to one another.
#[derive(Clone, Debug)]
pub(super) struct Order<'a> {
    /// The side of each place.
    pub(super) parts: Vec<Part>,
    /// The distance of each place from the water, counted in lines and the pump.
    pub(super) ranks: Vec<usize>,
    /// The rank of the pump's inlet.
    pub(super) inlet_rank: usize,
    /// The highest rank before the water is reached again.
    pub(super) last_rank: usize,
    /// The lanes, from the top.
    pub(super) items: Vec<Item<'a>>,
}

impl<'a> Order<'a> {
    pub(super) fn of(circuit: &'a Circuit) -> Self {
        let reached = reached(circuit);
        let deepest = reached.iter().flatten().filter_map(|found| match found {
            (Part::Suction, depth) => Some(*depth),
            _ => None,
        });
        let inlet_rank = deepest.max().map_or(0, |deepest| deepest + 1);
        let rank = |place: usize| match reached[place] {
            Some((Part::Suction, depth)) => inlet_rank - depth,
            Some((Part::Discharge, depth)) => inlet_rank + 1 + depth,
            Some((Part::Apart, depth)) => 1 + depth,
            Some((Part::Water, _)) | None => 0,
        };
        let part = |place: usize| match reached[place] {
            Some((part, _)) => part,
            None if circuit.is_water(place) => Part::Water,
            None => Part::Apart,
        };
        let places = 0..circuit.places.len();
        let ranks: Vec<usize> = places.clone().map(rank).collect();
        let mut order = Self {
            parts: places.map(part).collect(),
            last_rank: ranks.iter().copied().max().unwrap_or(0),
            ranks,
            inlet_rank,
            items: Vec::new(),
        };
        order.items = order.sorted(circuit);
        order
    }

    fn sorted(&self, circuit: &'a Circuit) -> Vec<Item<'a>> {
        let lines = circuit.lines.iter().enumerate();
        let mut keyed: Vec<([usize; 6], Item<'_>)> = lines
            .map(|(index, line)| {
                (
                    self.key(index, (line.from, line.to)),
                    Item::Line(index, line),
                )
            })
            .collect();
        let pump = circuit.pump.iter();
        keyed.extend(pump.map(|pump| ([1, 0, 0, 0, 0, 0], Item::Pump(pump))));
        keyed.sort_by_key(|(key, _)| *key);
        keyed.into_iter().map(|(_, item)| item).collect()
    }

    /// Says where a line stands among the others. Lines that leave the outermost water go first and those that lead back
    /// to it last, so that the lanes of an inner one lie within and do not cross them.
    fn key(&self, index: usize, (from, to): (usize, usize)) -> [usize; 6] {
        let places = self.ranks.len();
        let (low, high) = if self.ranks[from] <= self.ranks[to] {
            (from, to)
        } else {
            (to, from)
        };
        let (near, far) = (self.ranks[low], self.ranks[high]);
        // What joins places of one rank comes below the lines that lead to them.
        let level = usize::from(near == far);
        let forwards =
            |phase: usize| [phase, 2 * far + level, self.last_rank - near, low, index, 0];
        match (self.parts[low], self.parts[high]) {
            (Part::Water | Part::Suction, Part::Suction) => forwards(0),
            (Part::Discharge, Part::Discharge) => forwards(2),
            (Part::Suction, Part::Discharge) => forwards(3),
            (Part::Water, Part::Water) => [4, places - low.max(high), 1, 0, 0, index],
            (Part::Water, _) => [4, places - low, 0, far, places - high, index],
            _ => [4, places, 2, far, places - high, index],
        }
    }
}

/// Finds the side of each place that is no water, and its distance from the pump, or from the water where no pump is near.
fn reached(circuit: &Circuit) -> Vec<Option<(Part, usize)>> {
    let mut found = vec![None; circuit.places.len()];
    let ends = circuit
        .pump
        .iter()
        .flat_map(|pump| [(pump.inlet, Part::Suction), (pump.outlet, Part::Discharge)]);
    spread(circuit, &mut found, ends.collect());
    // What is left hangs on the water alone, or on nothing.
    let beside_water = circuit.lines.iter().flat_map(|line| {
        let ends = [(line.from, line.to), (line.to, line.from)];
        ends.into_iter()
            .filter(|(water, _)| circuit.is_water(*water))
            .map(|(_, place)| (place, Part::Apart))
    });
    let beside_water: Vec<_> = beside_water.collect();
    spread(circuit, &mut found, beside_water);
    let anything = circuit.lines.iter().map(|line| (line.from, Part::Apart));
    for start in anything {
        spread(circuit, &mut found, vec![start]);
    }
    found
}

/// Follows the lines from some places on, through places that were not reached yet.
fn spread(circuit: &Circuit, found: &mut [Option<(Part, usize)>], starts: Vec<(usize, Part)>) {
    let starts = starts.into_iter().map(|(place, part)| (place, part, 0));
    let mut next: VecDeque<(usize, Part, usize)> = starts.collect();
    while let Some((place, part, depth)) = next.pop_front() {
        if circuit.is_water(place) || found[place].is_some() {
            continue;
        }
        found[place] = Some((part, depth));
        for line in &circuit.lines {
            for (end, other) in [(line.from, line.to), (line.to, line.from)] {
                if end == place {
                    next.push_back((other, part, depth + 1));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::circuit::{Place, PlaceKind, Standing, Way};

    /// Makes a circuit of pool, spa, pump inlet and outlet, and two joints, with lines between them.
    fn circuit(ends: &[(usize, usize)]) -> Circuit {
        let place = |name: &str, kind: PlaceKind| Place {
            name: name.to_owned(),
            kind,
        };
        let waters = ["pool", "spa"].map(|name| place(name, PlaceKind::Water));
        let joints = ["pump inlet", "pump outlet", "tee", "pad outlet"];
        let joints = joints.map(|name| place(name, PlaceKind::Joint));
        let line = |(from, to): &(usize, usize)| CircuitLine {
            name: String::new(),
            from: *from,
            to: *to,
            values: String::new(),
            told: String::new(),
            standing: Standing::Unjudged,
            way: Way::Still,
            parts: Vec::new(),
        };
        Circuit {
            title: String::new(),
            description: String::new(),
            note: String::new(),
            places: waters.into_iter().chain(joints).collect(),
            pump: Some(CircuitPump {
                inlet: 2,
                outlet: 3,
                words: Vec::new(),
                told: String::new(),
            }),
            lines: ends.iter().map(line).collect(),
        }
    }

    /// The order of the lanes: the lines by their numbers, the pump as `None`.
    fn lanes(circuit: &Circuit) -> Vec<Option<usize>> {
        let items = Order::of(circuit).items.into_iter();
        items
            .map(|item| match item {
                Item::Line(index, _) => Some(index),
                Item::Pump(_) => None,
            })
            .collect()
    }

    #[test]
    fn lines_stand_as_the_water_goes_whatever_their_order() {
        let circuit = circuit(&[(5, 0), (3, 5), (4, 2), (0, 4)]);
        assert_eq!(lanes(&circuit), [Some(3), Some(2), None, Some(1), Some(0)]);
        assert_eq!(Order::of(&circuit).ranks, [0, 0, 2, 3, 1, 4]);
    }

    #[test]
    fn the_lines_of_an_inner_water_lie_within_those_of_the_outer() {
        let pool_and_spa = [(1, 2), (0, 2), (3, 0), (3, 1), (1, 0)];
        let circuit = circuit(&pool_and_spa);
        let within = [Some(1), Some(0), None, Some(3), Some(4), Some(2)];
        assert_eq!(lanes(&circuit), within);
    }

    #[test]
    fn what_joins_two_places_beside_one_another_comes_below_what_leads_to_them() {
        let circuit = circuit(&[(4, 5), (3, 4), (3, 5), (0, 2), (4, 0)]);
        let below = [Some(3), None, Some(1), Some(2), Some(0), Some(4)];
        assert_eq!(lanes(&circuit), below);
    }
}
