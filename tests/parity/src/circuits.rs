//! Circuits of every kind of part and of many sizes, solved, and the bits of their answers.

use hydraulics::HydraulicsError;
use hydraulics::circuit::{
    Circuit, CircuitError, Line, Link, LinkKind, Node, Part, Passage, Pump, solve_circuit,
};
use hydraulics::element::Element;
use hydraulics::equipment::{CheckValve, RatedDrops, filter_law};
use hydraulics::loss::PipeRun;
use hydraulics::pump::{CurveError, CurvePoint, PumpCurve};
use hydraulics::water::Water;

/// The largest grid; its last fronts are far wider than a register.
const LARGEST_SIDE: usize = 90;

/// Solves so many circuits and writes a line for each: steps, a digest of all bits, and the bits of one flow.
pub(crate) fn bits(count: u32) -> String {
    let lines: Vec<String> = (0..count).map(line).collect();
    lines.join("\n")
}

fn line(index: u32) -> String {
    match solved(index) {
        Ok(line) => line,
        Err(error) => format!("{index} refused: {error}"),
    }
}

fn solved(index: u32) -> Result<String, Refused> {
    let side = if index == 0 {
        LARGEST_SIDE
    } else {
        2 + index as usize % 13
    };
    let mut turn = Turn(f64::from(index) * 0.37);
    let water = Water::fresh(turn.between(278.0, 308.0))?;
    let solution = solve_circuit(&grid(side, &mut turn, &water)?, &water)?;
    let heads = solution.heads_m.iter().flatten();
    let numbers = solution.flows_m3s.iter().chain(heads);
    // FNV-1a in words of 64 bits: any bit that differs shows.
    let digest = numbers.fold(0xcbf2_9ce4_8422_2325_u64, |digest, number| {
        (digest ^ number.to_bits()).wrapping_mul(0x0000_0100_0000_01b3)
    });
    let first = solution.flows_m3s.first().map_or(0, |flow| flow.to_bits());
    Ok(format!(
        "{index} {} {digest:016x} {first:016x}",
        solution.iterations
    ))
}

/// Why there is no circuit to compare.
enum Refused {
    Part(HydraulicsError),
    Curve(CurveError),
    Circuit(CircuitError),
}

impl From<HydraulicsError> for Refused {
    fn from(error: HydraulicsError) -> Self {
        Self::Part(error)
    }
}

impl From<CurveError> for Refused {
    fn from(error: CurveError) -> Self {
        Self::Curve(error)
    }
}

impl From<CircuitError> for Refused {
    fn from(error: CircuitError) -> Self {
        Self::Circuit(error)
    }
}

impl core::fmt::Display for Refused {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::Part(error) => error.fmt(f),
            Self::Curve(error) => error.fmt(f),
            Self::Circuit(error) => error.fmt(f),
        }
    }
}

/// Numbers in no order: a lattice of irrational step.
struct Turn(f64);

impl Turn {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = (self.0 + 0.618_033_988_749_894_9).fract();
        low + (high - low) * self.0
    }
}

/// A grid of lines of every kind of part, fed by a pump at a corner and open to a spa at the other.
fn grid(side: usize, turn: &mut Turn, water: &Water) -> Result<Circuit, Refused> {
    let last = side * side;
    let mut nodes = vec![Node::JUNCTION; last + 2];
    nodes[0] = Node::POOL;
    nodes[last + 1] = Node::Body {
        level_m: turn.between(-0.5, 1.0),
    };
    let mut links = vec![link(0, 1, LinkKind::Pump(pump(turn)?))];
    for node in 1..=last {
        let place = node - 1;
        for (other, is_there) in [
            (node + 1, (place + 1) % side > 0),
            (node + side, place + side < last),
        ] {
            if is_there {
                links.push(link(node, other, any_line(turn, water)?));
            }
        }
    }
    links.push(link(last, 0, any_line(turn, water)?));
    links.push(link(last, last + 1, any_line(turn, water)?));
    links.push(link(1 + last / 2, last + 1, spillover(turn)));
    Ok(Circuit {
        nodes,
        links,
        tees: vec![],
    })
}

fn link(from: usize, to: usize, kind: LinkKind) -> Link {
    Link {
        from,
        to,
        kind,
        passage: Passage::Open,
    }
}

fn pump(turn: &mut Turn) -> Result<Pump, Refused> {
    let point = |flow_m3s, head_m| CurvePoint {
        flow_m3s,
        head_m,
        ..CurvePoint::default()
    };
    let points = [
        point(0.0, 28.0),
        point(4e-3, 25.0),
        point(7e-3, 17.0),
        point(9e-3, 8.0),
    ];
    Ok(Pump {
        curve: PumpCurve::from_points(&points, 3450.0)?,
        speed_rpm: turn.between(600.0, 3450.0),
    })
}

fn run(turn: &mut Turn) -> Element {
    Element::Pipe(PipeRun {
        bore_m: turn.between(0.03, 0.08),
        roughness_m: turn.between(0.0, 5e-6),
        length_m: turn.between(0.5, 20.0),
        minor_loss_k: turn.between(0.0, 6.0),
    })
}

fn any_line(turn: &mut Turn, water: &Water) -> Result<LinkKind, Refused> {
    let extra = match turn.between(0.0, 1.0) {
        kind if kind < 0.1 => Some(Element::Filter {
            law: filter_law(4e-3, 20_000.0, turn.between(0.1, 0.6), water)?,
            loading: turn.between(0.5, 4.0),
        }),
        kind if kind < 0.2 => Some(Element::Rated(RatedDrops::new(&[
            (2e-3, 4e3),
            (5e-3, 2e4),
        ])?)),
        kind if kind < 0.25 => Some(Element::CheckValve(CheckValve {
            cracking_pa: turn.between(0.0, 3e3),
            kv_m3h: turn.between(10.0, 40.0),
        })),
        kind if kind < 0.5 => Some(Element::MinorLoss {
            k: turn.between(0.2, 20.0),
            bore_m: turn.between(0.03, 0.06),
        }),
        _ => None,
    };
    let parts = core::iter::once(run(turn)).chain(extra).map(Part::one);
    Ok(LinkKind::Line(Line {
        parts: parts.collect(),
        lift_m: 0.0,
    }))
}

fn spillover(turn: &mut Turn) -> LinkKind {
    LinkKind::Line(Line {
        parts: vec![Part::one(run(turn))],
        lift_m: turn.between(0.1, 1.0),
    })
}
