//! Where a gauge is tapped, as a place in the network: a node, or so many parts along a line.

use crate::bores::{Inside, discharge_bore_m, pipes, suction_bore_m};
use crate::circuit::{PUMP_INLET, PUMP_OUTLET};
use crate::network::Network;
use hydraulics::constants::STANDARD_GRAVITY_M_S2;
use records::{Measured, Part, PartKind, Site, Tap};

/// The end of the equipment, where returns begin.
const PAD_OUTLET: &str = "pad outlet";

/// A place in the network whose head a gauge reads.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct TapPlace {
    /// The node above it along the flow.
    pub(crate) node: usize,
    /// The line that it sits in, and the parts of the link before it.
    pub(crate) within: Option<(usize, Vec<usize>)>,
    /// What the velocity takes off the head where the whole flow passes, s²/m⁵.
    pub(crate) velocity_s2_m5: f64,
}

/// The tap of a column whose meter states none: what the column is called says it.
pub(crate) fn usual_tap(measured: Measured) -> Option<Tap> {
    match measured {
        Measured::FilterPressure => Some(Tap::FilterInlet),
        Measured::InletVacuum | Measured::InletPressure => Some(Tap::PumpPot),
        _ => None,
    }
}

/// Finds the place of a tap; `None` where the site's lines have no such place.
pub(crate) fn tap_place(site: &Site, network: &Network, tap: Tap) -> Option<TapPlace> {
    let at = |end: &str, bore_m: Option<f64>| {
        Some(TapPlace {
            node: network.end(end)?,
            within: None,
            velocity_s2_m5: bore_m.map_or(0.0, velocity_s2_m5),
        })
    };
    match tap {
        Tap::PumpPot => at(PUMP_INLET, None),
        Tap::SuctionPipe => at(PUMP_INLET, suction_bore_m(site)),
        Tap::PumpOutlet => at(PUMP_OUTLET, discharge_bore_m(site)),
        Tap::PadOutlet => at(PAD_OUTLET, pad_bore_m(site)),
        Tap::FilterInlet => beside_filter(site, network, Side::Before)
            .or_else(|| at(PUMP_OUTLET, discharge_bore_m(site))),
        Tap::FilterOutlet => beside_filter(site, network, Side::Behind),
    }
}

#[derive(Clone, Copy)]
enum Side {
    Before,
    Behind,
}

/// Finds the place before or behind the first filter.
fn beside_filter(site: &Site, network: &Network, side: Side) -> Option<TapPlace> {
    let is_filter = |part: &Part| matches!(part.kind, PartKind::Filter(_));
    let mut lines = site.lines.iter();
    let line = lines.position(|line| line.parts.iter().any(is_filter))?;
    let filter = site.lines[line].parts.iter().position(is_filter)?;
    let count = match side {
        Side::Before => filter,
        Side::Behind => filter + 1,
    };
    let before = network.parts[line].iter().take(count).flatten();
    Some(TapPlace {
        node: network.end(&site.lines[line].from)?,
        within: Some((line, before.copied().collect())),
        velocity_s2_m5: 0.0,
    })
}

/// The bore of the last pipe before the end of the equipment, where one line alone leads there.
fn pad_bore_m(site: &Site) -> Option<f64> {
    let mut lines = site.lines.iter().filter(|line| line.to == PAD_OUTLET);
    let line = lines.next().filter(|_| lines.next().is_none())?;
    let pipe = pipes(&line.parts).next_back()?;
    Inside::of(pipe).ok().map(|inside| inside.bore_m)
}

fn velocity_s2_m5(bore_m: f64) -> f64 {
    let area_m2 = 0.25 * core::f64::consts::PI * bore_m * bore_m;
    1.0 / (2.0 * STANDARD_GRAVITY_M_S2 * area_m2 * area_m2)
}
