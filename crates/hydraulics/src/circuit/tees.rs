//! What all tees of a circuit take, sought until it reproduces itself.
//!
//! With the heads at the tees held, a circuit has one answer. Its flows then say what the tees take, which is held in
//! turn: a search for a fixed point around the search for flows.

use numerics::fixed_point::FixedPoint;

use super::laws::Laws;
use super::network::{Circuit, LinkKind};
use super::newton::GaveUp;
use super::solution::{LinkWarning, TeeLoss};
use super::tee::{Leg, Outflows, Tee};

/// What a tee takes may be apart from what it was held at by this, m.
const HEAD_TOLERANCE_M: f64 = 1e-9;

/// Solutions in one search; some six are usual.
const MOST_ROUNDS: u32 = 100;

const LEGS: usize = 3;

/// The heads along the legs of all tees, and the search for them.
#[derive(Clone, Debug)]
pub(super) struct Tees {
    /// Heads outwards that are held, three for each tee, m.
    held_m: Vec<f64>,
    /// What the tees take at the flows that follow, less what was held, m.
    left_m: Vec<f64>,
    outflows: Vec<Outflows>,
    search: FixedPoint,
    rounds: u32,
}

impl Tees {
    pub(super) fn new(circuit: &Circuit) -> Self {
        let legs = LEGS * circuit.tees.len();
        let still = Outflows {
            m3s: [0.0; LEGS],
            shut: [false; LEGS],
            of_pump: [false; LEGS],
        };
        Self {
            held_m: vec![0.0; legs],
            left_m: vec![0.0; legs],
            outflows: vec![still; circuit.tees.len()],
            search: FixedPoint::new(legs),
            rounds: 0,
        }
    }

    /// The largest head that is left over, m.
    pub(super) fn left_m(&self) -> f64 {
        let left = self.left_m.iter();
        left.fold(0.0, |largest, left| left.abs().max(largest))
    }

    /// Begins with tees that take nothing.
    pub(super) fn begin(&mut self, laws: &mut Laws) {
        if self.held_m.is_empty() {
            return;
        }
        self.held_m.fill(0.0);
        self.search.begin();
        self.rounds = 0;
        laws.forget_tees();
    }

    /// Begins with tees that take what they took last, and with what was learnt of them.
    pub(super) fn resume(&mut self) {
        self.search.resume();
        self.rounds = 0;
    }

    /// Says whether the flows that follow from what the tees were held at bear it out, and else holds them anew.
    pub(super) fn agree(
        &mut self,
        circuit: &Circuit,
        may_open: &[bool],
        flows_m3s: &[f64],
        laws: &mut Laws,
    ) -> Result<bool, GaveUp> {
        for (place, tee) in circuit.tees.iter().enumerate() {
            let outflows = outflows(tee, circuit, may_open, flows_m3s);
            for (leg, head_m) in tee.heads_m(&outflows).into_iter().enumerate() {
                let leg = LEGS * place + leg;
                self.left_m[leg] = head_m - self.held_m[leg];
            }
            self.outflows[place] = outflows;
        }
        if self.left_m() <= HEAD_TOLERANCE_M {
            return Ok(true);
        }
        self.rounds += 1;
        if self.rounds == MOST_ROUNDS {
            return Err(GaveUp);
        }
        self.search.step(&mut self.held_m, &self.left_m);
        self.hold(circuit, laws);
        Ok(false)
    }

    fn hold(&self, circuit: &Circuit, laws: &mut Laws) {
        laws.forget_tees();
        for (tee, held_m) in circuit.tees.iter().zip(self.held_m.chunks_exact(LEGS)) {
            for (leg, link) in tee.links() {
                let outwards = tee.outwards(&circuit.links[link]);
                laws.add_at_tee_m(link, outwards * held_m[leg]);
            }
        }
    }

    /// Says what each tee takes along each of its links, without shares.
    pub(super) fn losses<'a>(
        &'a self,
        circuit: &'a Circuit,
    ) -> impl Iterator<Item = TeeLoss> + use<'a> {
        let tees = circuit.tees.iter().zip(self.held_m.chunks_exact(LEGS));
        tees.enumerate().flat_map(move |(place, (tee, held_m))| {
            tee.links().map(move |(leg, link)| TeeLoss {
                tee: place,
                link,
                head_m: tee.outwards(&circuit.links[link]) * held_m[leg],
                share: None,
            })
        })
    }

    /// Says what must be said beside what the tees take, by a link of each.
    pub(super) fn warnings<'a>(
        &'a self,
        circuit: &'a Circuit,
    ) -> impl Iterator<Item = LinkWarning> + use<'a> {
        let tees = circuit.tees.iter().zip(&self.outflows);
        tees.filter_map(|(tee, outflows)| {
            let (_, link) = tee.links().last()?;
            Some(LinkWarning {
                link,
                part: None,
                warning: tee.warning(outflows)?,
            })
        })
    }
}

/// Says what tees would take along their links at some flows, m, in the order of [`Tees::losses`].
pub(super) fn taken_m<'a>(
    circuit: &'a Circuit,
    may_open: &'a [bool],
    flows_m3s: &'a [f64],
) -> impl Iterator<Item = f64> + use<'a> {
    circuit.tees.iter().flat_map(move |tee| {
        let heads_m = tee.heads_m(&outflows(tee, circuit, may_open, flows_m3s));
        tee.links()
            .map(move |(leg, link)| tee.outwards(&circuit.links[link]) * heads_m[leg])
    })
}

fn outflows(tee: &Tee, circuit: &Circuit, may_open: &[bool], flows_m3s: &[f64]) -> Outflows {
    let by_link = |link: usize| tee.outwards(&circuit.links[link]) * flows_m3s[link];
    // What comes in goes out: what is drawn follows from the other two, also where flows are only tried.
    let by_links: f64 = tee.links().map(|(_, link)| by_link(link)).sum();
    let legs = tee.legs();
    Outflows {
        m3s: legs.map(|leg| match leg {
            Leg::Link(link) => by_link(link),
            Leg::Drawn => -by_links,
        }),
        shut: legs.map(|leg| matches!(leg, Leg::Link(link) if !may_open[link])),
        of_pump: legs.map(|leg| match leg {
            Leg::Link(link) => matches!(circuit.links[link].kind, LinkKind::Pump(_)),
            Leg::Drawn => true,
        }),
    }
}
