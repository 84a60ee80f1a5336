//! How the fronts of a sparse factorisation fit together: the tree along which each passes on what remains of it.
//!
//! A front is the dense matrix of the rows that one step of the elimination touches. Everything here depends on where
//! the entries are and on none of their values, and is worked out once for a structure.

use super::minimum_degree::{Step, minimum_degree};

/// One front. Rows are counted in the order of elimination.
#[derive(Clone, Debug)]
pub(super) struct Front {
    /// The first row that it eliminates.
    pub(super) first: usize,
    /// How many rows it eliminates.
    pub(super) pivots: usize,
    /// Where the list of its other rows begins, in [`Assembly::rows`].
    pub(super) boundary_at: usize,
    /// How many other rows it has.
    pub(super) boundary: usize,
    /// How many fronts pass on to it: they are the last ones before it that no front has taken.
    pub(super) children: usize,
    /// Where its columns of L begin.
    pub(super) columns_at: usize,
    /// Where its pairs begin, in [`Assembly::entries`].
    pub(super) entries_at: usize,
    /// How many pairs it takes up.
    pub(super) entries: usize,
}

impl Front {
    /// Rows of its matrix.
    pub(super) fn order(&self) -> usize {
        self.pivots + self.boundary
    }
}

/// A pair of the given structure as an entry of a front.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entry {
    /// Which pair.
    pub(super) pair: usize,
    /// The place in the front's matrix, column by column.
    pub(super) place: usize,
}

/// All fronts, in an order in which children stand before their parents.
#[derive(Clone, Debug)]
pub(super) struct Assembly {
    pub(super) fronts: Vec<Front>,
    /// Boundary rows of the fronts.
    pub(super) rows: Vec<usize>,
    /// For each boundary row, its place in the front that is passed on to.
    pub(super) places: Vec<usize>,
    pub(super) entries: Vec<Entry>,
    /// The row that is eliminated at each place of the order.
    pub(super) eliminated: Vec<usize>,
    /// Numbers in L.
    pub(super) columns: usize,
    /// Numbers in the largest front.
    pub(super) largest: usize,
    /// Numbers that wait to be passed on, at most.
    pub(super) waiting: usize,
}

impl Assembly {
    /// Works the fronts out; the pairs are within the order.
    pub(super) fn new(order: usize, pairs: &[(usize, usize)]) -> Self {
        let steps = minimum_degree(order, pairs);
        let sequence = children_first(&steps);
        let eliminated: Vec<usize> = sequence
            .iter()
            .flat_map(|&step| steps[step].pivots.iter().copied())
            .collect();
        let mut position = vec![0; order];
        for (place, &row) in eliminated.iter().enumerate() {
            position[row] = place;
        }
        let mut assembly = Self {
            fronts: Vec::with_capacity(steps.len()),
            rows: Vec::new(),
            places: Vec::new(),
            entries: Vec::with_capacity(pairs.len()),
            eliminated,
            columns: 0,
            largest: 0,
            waiting: 0,
        };
        let parents = assembly.add_fronts(&steps, &sequence, &position);
        assembly.find_places(&parents);
        assembly.place_entries(pairs, &position);
        assembly.measure();
        assembly
    }

    /// Adds a front for each step and returns the front that each passes on to.
    fn add_fronts(
        &mut self,
        steps: &[Step],
        sequence: &[usize],
        position: &[usize],
    ) -> Vec<Option<usize>> {
        let mut front_of = vec![0; steps.len()];
        for (front, &step) in sequence.iter().enumerate() {
            front_of[step] = front;
        }
        let mut first = 0;
        let mut parents = Vec::with_capacity(steps.len());
        for &step in sequence {
            let step = &steps[step];
            let boundary_at = self.rows.len();
            self.rows
                .extend(step.boundary.iter().map(|&row| position[row]));
            self.rows[boundary_at..].sort_unstable();
            let front = Front {
                first,
                pivots: step.pivots.len(),
                boundary_at,
                boundary: step.boundary.len(),
                children: 0,
                columns_at: self.columns,
                entries_at: 0,
                entries: 0,
            };
            first += front.pivots;
            self.columns += front.pivots * front.order();
            self.fronts.push(front);
            parents.push(step.parent.map(|parent| front_of[parent]));
        }
        for &parent in parents.iter().flatten() {
            self.fronts[parent].children += 1;
        }
        parents
    }

    /// Finds where each boundary row stands in the front that it is passed on to: both lists rise.
    fn find_places(&mut self, parents: &[Option<usize>]) {
        self.places = vec![0; self.rows.len()];
        for (front, parent) in self.fronts.iter().zip(parents) {
            let Some(parent) = parent.map(|parent| &self.fronts[parent]) else {
                continue;
            };
            let theirs = &self.rows[parent.boundary_at..][..parent.boundary];
            let mut beyond = 0;
            for at in front.boundary_at..front.boundary_at + front.boundary {
                let row = self.rows[at];
                self.places[at] = if row < parent.first + parent.pivots {
                    row - parent.first
                } else {
                    while theirs[beyond] < row {
                        beyond += 1;
                    }
                    parent.pivots + beyond
                };
            }
        }
    }

    /// Gives each pair to the front that eliminates its earlier row.
    fn place_entries(&mut self, pairs: &[(usize, usize)], position: &[usize]) {
        let mut front_at = vec![0; position.len()];
        for (index, front) in self.fronts.iter().enumerate() {
            front_at[front.first..front.first + front.pivots].fill(index);
        }
        let mut owned = Vec::with_capacity(pairs.len());
        for (pair, &(i, j)) in pairs.iter().enumerate().filter(|(_, (i, j))| i != j) {
            let (early, late) = (position[i].min(position[j]), position[i].max(position[j]));
            let index = front_at[early];
            let front = &self.fronts[index];
            let end = front.first + front.pivots;
            let below = if late < end {
                late - front.first
            } else {
                let boundary = &self.rows[front.boundary_at..][..front.boundary];
                // The boundary holds every row that an eliminated row has an entry with.
                front.pivots + boundary.partition_point(|&row| row < late)
            };
            let place = (early - front.first) * front.order() + below;
            owned.push((index, Entry { pair, place }));
        }
        owned.sort_by_key(|(index, _)| *index);
        let mut rest = owned.as_slice();
        for (index, front) in self.fronts.iter_mut().enumerate() {
            let own = rest.partition_point(|(owner, _)| *owner <= index);
            (front.entries_at, front.entries) = (self.entries.len(), own);
            let (mine, others) = rest.split_at(own);
            self.entries.extend(mine.iter().map(|(_, entry)| *entry));
            rest = others;
        }
    }

    /// Finds how much room the numbers need.
    fn measure(&mut self) {
        let mut waiting = Vec::new();
        let mut now = 0;
        for front in &self.fronts {
            for _ in 0..front.children {
                now -= waiting.pop().unwrap_or(0);
            }
            let left = front.boundary * front.boundary;
            waiting.push(left);
            now += left;
            self.waiting = self.waiting.max(now);
            self.largest = self.largest.max(front.order() * front.order());
        }
    }
}

/// Orders the steps so that what passes on to a step stands right before it.
fn children_first(steps: &[Step]) -> Vec<usize> {
    let mut children = vec![Vec::new(); steps.len()];
    let mut roots = Vec::new();
    for (step, Step { parent, .. }) in steps.iter().enumerate() {
        match parent {
            Some(parent) => children[*parent].push(step),
            None => roots.push(step),
        }
    }
    // Parents first and the list turned round, for a tree may be as deep as it has steps.
    let mut sequence = Vec::with_capacity(steps.len());
    let mut open = roots;
    while let Some(step) = open.pop() {
        sequence.push(step);
        open.append(&mut children[step]);
    }
    sequence.reverse();
    sequence
}
