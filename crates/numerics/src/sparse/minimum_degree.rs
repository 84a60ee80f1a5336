//! The order in which the rows of a sparse symmetric matrix are eliminated, and what each elimination touches.
//!
//! Minimum degree on a quotient graph: an eliminated row becomes an element, a set of rows that are all neighbours of
//! one another, so that the graph never grows. Degrees are bounded from above rather than counted, rows that cannot be
//! told apart are eliminated together, and an element inside another is absorbed by it. No number of the matrix is
//! looked at here.
//!
//! # Source
//! P. R. Amestoy, T. A. Davis, I. S. Duff, "An approximate minimum degree ordering algorithm", SIAM J. Matrix Anal.
//! Appl. 17 (1996) 886-905.

/// Rows that are eliminated together, and the rows that this changes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Step {
    /// The rows that are eliminated.
    pub(super) pivots: Vec<usize>,
    /// The rows below them in the factor, in no order.
    pub(super) boundary: Vec<usize>,
    /// The step whose rows hold the whole boundary; `None` where there is no boundary.
    pub(super) parent: Option<usize>,
}

/// Orders a matrix of so many rows with entries at the pairs, which are all within it.
pub(super) fn minimum_degree(order: usize, pairs: &[(usize, usize)]) -> Vec<Step> {
    let mut graph = Graph::new(order, pairs);
    let mut left = order;
    while left > 0 {
        let Some(pivot) = graph.queue.least() else {
            break;
        };
        left -= graph.eliminate(pivot, left);
    }
    graph.steps
}

/// The quotient graph.
struct Graph {
    /// Neighbours of a row that no element stands for.
    rows: Vec<Vec<usize>>,
    /// Elements, by their step, that a row belongs to.
    elements: Vec<Vec<usize>>,
    /// Rows that a row stands for beside itself.
    twins: Vec<Vec<usize>>,
    /// How many rows a row stands for; 0 once it is eliminated, or another stands for it.
    weight: Vec<usize>,
    /// Upper bound of a row's degree.
    degree: Vec<usize>,
    queue: Queue,
    steps: Vec<Step>,
    /// Rows that stand for the members of an element; empty once it is absorbed.
    members: Vec<Vec<usize>>,
    /// Sum of the weights of the members.
    size: Vec<usize>,
    /// Weight of an element's members outside the newest one; holds where `seen` is the newest.
    outside: Vec<usize>,
    seen: Vec<usize>,
    /// The newest element that a row was found in, plus one.
    mark: Vec<usize>,
    /// Room to group alike rows.
    alike: Vec<(usize, usize)>,
}

impl Graph {
    fn new(order: usize, pairs: &[(usize, usize)]) -> Self {
        let mut rows = vec![Vec::new(); order];
        for &(i, j) in pairs.iter().filter(|(i, j)| i != j) {
            rows[i].push(j);
            rows[j].push(i);
        }
        for row in &mut rows {
            row.sort_unstable();
            row.dedup();
        }
        let degree: Vec<usize> = rows.iter().map(Vec::len).collect();
        let mut queue = Queue::new(order);
        // The lowest of equal rows is taken first.
        for row in (0..order).rev() {
            queue.insert(row, degree[row]);
        }
        Self {
            rows,
            elements: vec![Vec::new(); order],
            twins: vec![Vec::new(); order],
            weight: vec![1; order],
            degree,
            queue,
            steps: Vec::new(),
            members: Vec::new(),
            size: Vec::new(),
            outside: Vec::new(),
            seen: Vec::new(),
            mark: vec![0; order],
            alike: Vec::new(),
        }
    }

    /// Eliminates a row with all that can go with it and returns how many rows these are.
    fn eliminate(&mut self, pivot: usize, left: usize) -> usize {
        let step = self.steps.len();
        self.queue.remove(pivot, self.degree[pivot]);
        let mut members = self.members_of(pivot, step);
        let mut pivots = vec![pivot];
        pivots.append(&mut self.twins[pivot]);
        self.weight[pivot] = 0;

        let mut size: usize = members.iter().map(|&row| self.weight[row]).sum();
        self.steps.push(Step::default());
        self.members.push(Vec::new());
        self.size.push(0);
        self.outside.push(0);
        self.seen.push(0);
        for &row in &members {
            self.queue.remove(row, self.degree[row]);
        }
        self.measure_outside(&members, step);
        for &row in &members {
            let beyond = self.prune(row, step);
            if beyond == 0 {
                size -= self.weight[row];
                pivots.push(row);
                pivots.append(&mut self.twins[row]);
                self.weight[row] = 0;
            } else {
                self.degree[row] = beyond.min(self.degree[row]);
            }
        }
        members.retain(|&row| self.weight[row] > 0);
        self.merge_alike(&members);
        members.retain(|&row| self.weight[row] > 0);

        let left = left - pivots.len();
        for &row in &members {
            let within = size - self.weight[row];
            self.degree[row] = (self.degree[row] + within).min(left - self.weight[row]);
            self.queue.insert(row, self.degree[row]);
        }
        let boundary = members
            .iter()
            .flat_map(|&row| core::iter::once(row).chain(self.twins[row].iter().copied()));
        self.steps[step].boundary = boundary.collect();
        let eliminated = pivots.len();
        self.steps[step].pivots = pivots;
        self.members[step] = members;
        self.size[step] = size;
        eliminated
    }

    /// Gathers the rows that neighbour a row, and absorbs its elements.
    fn members_of(&mut self, pivot: usize, step: usize) -> Vec<usize> {
        let mut found = Vec::new();
        self.mark[pivot] = step + 1;
        let absorbed = core::mem::take(&mut self.elements[pivot]);
        let direct = core::mem::take(&mut self.rows[pivot]);
        let through = absorbed.iter().map(|&element| {
            self.steps[element].parent = Some(step);
            core::mem::take(&mut self.members[element])
        });
        let lists: Vec<Vec<usize>> = core::iter::once(direct).chain(through).collect();
        for row in lists.into_iter().flatten() {
            if self.weight[row] > 0 && self.mark[row] != step + 1 {
                self.mark[row] = step + 1;
                found.push(row);
            }
        }
        found
    }

    /// Finds, for every element that shares a row with the newest, how much of it lies outside.
    fn measure_outside(&mut self, members: &[usize], step: usize) {
        for &row in members {
            for &element in &self.elements[row] {
                if self.seen[element] != step {
                    self.seen[element] = step;
                    self.outside[element] = self.size[element];
                }
                self.outside[element] -= self.weight[row];
            }
        }
    }

    /// Leaves a row only the neighbours that the newest element does not hold; returns a bound on their weight.
    fn prune(&mut self, row: usize, step: usize) -> usize {
        let mut beyond = 0;
        let mut elements = core::mem::take(&mut self.elements[row]);
        elements.retain(|&element| {
            let live = self.steps[element].parent.is_none();
            let outside = self.outside[element];
            if live && outside == 0 {
                self.steps[element].parent = Some(step);
                self.members[element] = Vec::new();
            }
            beyond += if live { outside } else { 0 };
            live && outside > 0
        });
        let mut rows = core::mem::take(&mut self.rows[row]);
        rows.retain(|&other| {
            let apart = self.weight[other] > 0 && self.mark[other] != step + 1;
            beyond += if apart { self.weight[other] } else { 0 };
            apart
        });
        elements.push(step);
        self.elements[row] = elements;
        self.rows[row] = rows;
        beyond
    }

    /// Lets one row stand for all that have the same neighbours.
    fn merge_alike(&mut self, members: &[usize]) {
        let mut alike = core::mem::take(&mut self.alike);
        alike.clear();
        for &row in members {
            let neighbours = self.rows[row].iter().chain(&self.elements[row]);
            let key = neighbours.fold(self.rows[row].len(), |sum, x| sum.wrapping_add(*x));
            alike.push((key, row));
        }
        alike.sort_unstable();
        for at in 0..alike.len() {
            let (key, row) = alike[at];
            if self.weight[row] == 0 {
                continue;
            }
            let rest = alike[at + 1..]
                .iter()
                .take_while(|(other, _)| *other == key);
            for &(_, other) in rest {
                if self.weight[other] > 0 && self.are_alike(row, other) {
                    self.weight[row] += self.weight[other];
                    self.weight[other] = 0;
                    let theirs = core::mem::take(&mut self.twins[other]);
                    self.twins[row].push(other);
                    self.twins[row].extend(theirs);
                    self.rows[other] = Vec::new();
                    self.elements[other] = Vec::new();
                }
            }
        }
        self.alike = alike;
    }

    /// Whether two rows of the newest element have the same neighbours beyond it. Both lists keep their order.
    fn are_alike(&self, one: usize, other: usize) -> bool {
        self.elements[one] == self.elements[other] && self.rows[one] == self.rows[other]
    }
}

/// Rows by degree: one doubly linked list for each.
struct Queue {
    first: Vec<Option<usize>>,
    next: Vec<Option<usize>>,
    previous: Vec<Option<usize>>,
    /// No row has a lower degree.
    lowest: usize,
}

impl Queue {
    fn new(order: usize) -> Self {
        Self {
            first: vec![None; order],
            next: vec![None; order],
            previous: vec![None; order],
            lowest: 0,
        }
    }

    fn least(&mut self) -> Option<usize> {
        let lists = self.first.get(self.lowest..)?;
        let (above, row) = lists
            .iter()
            .enumerate()
            .find_map(|(above, row)| row.map(|row| (above, row)))?;
        self.lowest += above;
        Some(row)
    }

    fn insert(&mut self, row: usize, degree: usize) {
        let head = self.first[degree].replace(row);
        self.next[row] = head;
        self.previous[row] = None;
        if let Some(head) = head {
            self.previous[head] = Some(row);
        }
        self.lowest = self.lowest.min(degree);
    }

    fn remove(&mut self, row: usize, degree: usize) {
        let (next, previous) = (self.next[row], self.previous[row]);
        match previous {
            Some(previous) => self.next[previous] = next,
            None => self.first[degree] = next,
        }
        if let Some(next) = next {
            self.previous[next] = previous;
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;

    /// The boundary of each step by the definition: eliminate row after row on a graph of sets.
    fn boundaries(order: usize, pairs: &[(usize, usize)], steps: &[Step]) -> Vec<BTreeSet<usize>> {
        let mut graph = vec![BTreeSet::new(); order];
        for &(i, j) in pairs.iter().filter(|(i, j)| i != j) {
            graph[i].insert(j);
            graph[j].insert(i);
        }
        let mut found = Vec::new();
        for step in steps {
            for &pivot in &step.pivots {
                let neighbours = core::mem::take(&mut graph[pivot]);
                for &row in &neighbours {
                    graph[row].remove(&pivot);
                    let others = neighbours.iter().filter(|&&other| other != row);
                    graph[row].extend(others.copied());
                }
                if Some(&pivot) == step.pivots.last() {
                    found.push(neighbours);
                }
            }
        }
        found
    }

    proptest! {
        #[test]
        fn every_row_is_eliminated_once_and_its_boundary_is_that_of_the_definition(
            order in 1_usize..40, picks in prop::collection::vec((0_usize..40, 0_usize..40), 0..120),
        ) {
            let pairs: Vec<_> = picks.iter().map(|(i, j)| (i % order, j % order)).collect();
            let steps = minimum_degree(order, &pairs);
            let mut pivots: Vec<usize> = steps.iter().flat_map(|step| step.pivots.clone()).collect();
            pivots.sort_unstable();
            prop_assert_eq!(pivots, (0..order).collect::<Vec<_>>());
            for (step, expected) in steps.iter().zip(boundaries(order, &pairs, &steps)) {
                let found: BTreeSet<usize> = step.boundary.iter().copied().collect();
                prop_assert_eq!(&found, &expected);
                prop_assert_eq!(step.boundary.is_empty(), step.parent.is_none());
                if let Some(parent) = step.parent {
                    let above = &steps[parent];
                    let held = |row: &usize| above.pivots.contains(row) || above.boundary.contains(row);
                    prop_assert!(step.boundary.iter().all(held));
                }
            }
        }
    }

    #[test]
    fn a_chain_fills_in_nothing() {
        let pairs: Vec<_> = (1..50).map(|i| (i - 1, i)).collect();
        let steps = minimum_degree(50, &pairs);
        assert!(steps.iter().all(|step| step.boundary.len() <= 1));
    }
}
