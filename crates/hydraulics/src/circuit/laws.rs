//! The laws of all links in one water, in flat lists: what the solver asks for head and slope.

use super::error::CircuitError;
use super::network::{Circuit, LinkKind};
use crate::element::{Element, ElementLaw, HeadAndSlope};
use crate::pump::PumpCurve;
use crate::warning::Warning;
use crate::water::Water;

/// The slope that a link has at least, s/m²: one without any loss would let through any flow at no head. At 10 L/s it
/// is 1e-8 m; it steers the search and enters no head.
const LEAST_SLOPE_S_M2: f64 = 1e-6;

/// A flow in m³/s that nothing better is known for, to start from: a usual one of a pool.
const USUAL_FLOW_M3S: f64 = 3e-3;

/// The velocity in m/s at which pipe is first looked at.
const USUAL_VELOCITY_M_S: f64 = 1.0;

/// The laws of all links.
#[derive(Clone, Debug)]
pub(super) struct Laws {
    links: Vec<LinkLaw>,
    /// Parts of all lines, one line after another.
    parts: Vec<PartLaw>,
    /// What tees at its ends take along each link beside its own law, m.
    at_tees_m: Vec<f64>,
}

#[derive(Clone, Debug)]
enum LinkLaw {
    Line {
        first: usize,
        count: usize,
        lift_m: f64,
    },
    Pump {
        curve: PumpCurve,
        speed_rpm: f64,
    },
}

#[derive(Clone, Debug)]
struct PartLaw {
    law: ElementLaw,
    in_series: f64,
    side_by_side: f64,
}

impl PartLaw {
    #[inline]
    fn head_and_slope(&self, flow_m3s: f64) -> HeadAndSlope {
        let one = self.law.head_and_slope(flow_m3s / self.side_by_side);
        HeadAndSlope {
            head_m: self.in_series * one.head_m,
            slope_s_m2: self.in_series * one.slope_s_m2 / self.side_by_side,
        }
    }
}

impl Laws {
    pub(super) fn new(circuit: &Circuit, water: &Water) -> Result<Self, CircuitError> {
        let mut laws = Self {
            links: Vec::with_capacity(circuit.links.len()),
            parts: Vec::new(),
            at_tees_m: vec![0.0; circuit.links.len()],
        };
        for (link, it) in circuit.links.iter().enumerate() {
            let law = match &it.kind {
                LinkKind::Line(line) => LinkLaw::Line {
                    first: laws.parts.len(),
                    count: line.parts.len(),
                    lift_m: line.lift_m,
                },
                LinkKind::Pump(pump) => LinkLaw::Pump {
                    curve: pump.curve.clone(),
                    speed_rpm: pump.speed_rpm,
                },
            };
            laws.links.push(law);
            if let LinkKind::Line(line) = &it.kind {
                for (part, own) in line.parts.iter().enumerate() {
                    let law = ElementLaw::new(&own.element, water)
                        .map_err(|source| CircuitError::Part { link, part, source })?;
                    laws.parts.push(PartLaw {
                        law,
                        in_series: f64::from(own.in_series),
                        side_by_side: f64::from(own.side_by_side),
                    });
                }
            }
        }
        Ok(laws)
    }

    /// Gives all parts another water.
    pub(super) fn set_water(
        &mut self,
        circuit: &Circuit,
        water: &Water,
    ) -> Result<(), CircuitError> {
        let mut laws = self.parts.iter_mut();
        for (link, it) in circuit.links.iter().enumerate() {
            if let LinkKind::Line(line) = &it.kind {
                for ((part, own), law) in line.parts.iter().enumerate().zip(&mut laws) {
                    law.law
                        .change(&own.element, water)
                        .map_err(|source| CircuitError::Part { link, part, source })?;
                }
            }
        }
        Ok(())
    }

    /// Puts another element in the place of one.
    pub(super) fn set_element(
        &mut self,
        (link, part): (usize, usize),
        element: &Element,
        water: &Water,
    ) -> Result<(), CircuitError> {
        let place = self.parts_of(link).start + part;
        self.parts[place]
            .law
            .change(element, water)
            .map_err(|source| CircuitError::Part { link, part, source })
    }

    pub(super) fn set_speed(&mut self, link: usize, rpm: f64) {
        if let LinkLaw::Pump { speed_rpm, .. } = &mut self.links[link] {
            *speed_rpm = rpm;
        }
    }

    /// Forgets what tees take.
    pub(super) fn forget_tees(&mut self) {
        self.at_tees_m.fill(0.0);
    }

    /// Lets a tee take this along a link, m, beside what others take.
    pub(super) fn add_at_tee_m(&mut self, link: usize, head_m: f64) {
        self.at_tees_m[link] += head_m;
    }

    /// Where the parts of a link are in the list of all; nowhere for a pump.
    pub(super) fn parts_of(&self, link: usize) -> core::ops::Range<usize> {
        match self.links[link] {
            LinkLaw::Line { first, count, .. } => first..first + count,
            LinkLaw::Pump { .. } => 0..0,
        }
    }

    /// How many parts there are in all lines.
    pub(super) fn part_count(&self) -> usize {
        self.parts.len()
    }

    /// The lift of a line.
    pub(super) fn lift_m(&self, link: usize) -> f64 {
        match self.links[link] {
            LinkLaw::Line { lift_m, .. } => lift_m,
            LinkLaw::Pump { .. } => 0.0,
        }
    }

    /// The head that a link takes between its ends at a flow, lift and tees included and a pump's head taken off, and
    /// its slope, which is above zero.
    #[inline]
    pub(super) fn head_and_slope(&self, link: usize, flow_m3s: f64) -> HeadAndSlope {
        let (head_m, slope_s_m2) = match &self.links[link] {
            LinkLaw::Line {
                first,
                count,
                lift_m,
            } => {
                let (mut head_m, mut slope) = (*lift_m, 0.0);
                for part in &self.parts[*first..first + count] {
                    let own = part.head_and_slope(flow_m3s);
                    head_m += own.head_m;
                    slope += own.slope_s_m2;
                }
                (head_m, slope)
            }
            LinkLaw::Pump { curve, speed_rpm } => {
                let own = curve.head_and_slope(flow_m3s, *speed_rpm);
                (-own.head_m, -own.slope_s_m2)
            }
        };
        HeadAndSlope {
            head_m: head_m + self.at_tees_m[link],
            slope_s_m2: slope_s_m2.max(LEAST_SLOPE_S_M2),
        }
    }

    /// The head that a link takes, without tees at its ends.
    pub(super) fn own_head_m(&self, link: usize, flow_m3s: f64) -> f64 {
        self.head_and_slope(link, flow_m3s).head_m - self.at_tees_m[link]
    }

    /// What a part takes at the flow of its link.
    pub(super) fn part_at(&self, place: usize, flow_m3s: f64) -> HeadAndSlope {
        self.parts[place].head_and_slope(flow_m3s)
    }

    /// Says what must be said beside the heads of a link at a flow, by part; a pump has none.
    pub(super) fn warnings(
        &self,
        link: usize,
        flow_m3s: f64,
        mut say: impl FnMut(Option<usize>, Warning),
    ) {
        for (part, place) in self.parts_of(link).enumerate() {
            let own = &self.parts[place];
            for warning in own.law.warnings(flow_m3s / own.side_by_side) {
                say(Some(part), warning);
            }
        }
        if let LinkLaw::Pump { curve, speed_rpm } = &self.links[link]
            && let Some(warning) = curve.warning(flow_m3s, *speed_rpm)
        {
            say(None, warning);
        }
    }
}

/// A flow to start from: a usual velocity in the first bore of a line, and a usual flow of a pump.
pub(super) fn usual_flow_m3s(kind: &LinkKind) -> f64 {
    let LinkKind::Line(line) = kind else {
        return USUAL_FLOW_M3S;
    };
    let flow = line.parts.iter().find_map(|part| {
        let bore_m = match &part.element {
            Element::Pipe(run) => run.bore_m,
            Element::MinorLoss { bore_m, .. } => *bore_m,
            _ => return None,
        };
        let area_m2 = 0.25 * core::f64::consts::PI * bore_m * bore_m;
        Some(USUAL_VELOCITY_M_S * area_m2 * f64::from(part.side_by_side))
    });
    flow.unwrap_or(USUAL_FLOW_M3S)
}
