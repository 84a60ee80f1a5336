//! The tees and wyes in which lines meet, for the network: which links they join, and of which bores they are.

use crate::bores::{Inside, pipes};
use crate::network::NetworkProblem;
use hydraulics::circuit::{Leg, Tee};
use records::{JoiningTee, Line, PUMP_LEG, Quantity, Site, TeeShape};

/// The angle of a wye's branch, in degrees.
const WYE_DEG: f64 = 45.0;
const TEE_DEG: f64 = 90.0;

/// Where the network has what a tee joins.
pub(crate) struct Joined {
    /// The node at which the three meet.
    pub(crate) node: usize,
    /// The pump as a leg.
    pub(crate) pump: Leg,
}

/// Makes a tee of the network.
pub(crate) fn tee(
    site: &Site,
    stated: &JoiningTee,
    joined: &Joined,
) -> Result<Tee, NetworkProblem> {
    let leg = |name: &String| match site.lines.iter().position(|line| line.name == *name) {
        _ if name == PUMP_LEG => joined.pump,
        Some(line) => Leg::Link(line),
        None => joined.pump,
    };
    let bore = |own: &Option<Quantity>, legs: &[String]| {
        let near = legs
            .iter()
            .filter_map(|leg| bore_beside_m(site, leg, &stated.at));
        let stated_m = own.as_ref().map(|bore| bore.si);
        stated_m.or_else(|| near.reduce(f64::max))
    };
    let unknown = || NetworkProblem::TeeBores(stated.at.clone());
    let run_bore_m = bore(&stated.run_bore, &stated.run).ok_or_else(unknown)?;
    let branch = std::slice::from_ref(&stated.branch);
    let branch_bore_m = bore(&stated.branch_bore, branch).ok_or_else(unknown)?;
    if branch_bore_m > run_bore_m {
        return Err(NetworkProblem::TeeBranchWider(stated.at.clone()));
    }
    Ok(Tee {
        node: joined.node,
        run: [leg(&stated.run[0]), leg(&stated.run[1])],
        branch: leg(&stated.branch),
        run_bore_m,
        branch_bore_m,
        angle_deg: match stated.shape {
            Some(TeeShape::Wye) => WYE_DEG,
            Some(TeeShape::Tee) | None => TEE_DEG,
        },
        loss_factor: 1.0,
    })
}

/// The bore of the pipe of a line that is nearest to an end, m.
fn bore_beside_m(site: &Site, line: &str, end: &str) -> Option<f64> {
    let is_named = |it: &&Line| it.name == line;
    let line = site.lines.iter().find(is_named)?;
    let mut pipes = pipes(&line.parts);
    let nearest = if line.from == end {
        pipes.next()
    } else {
        pipes.next_back()
    };
    Inside::of(nearest?).ok().map(|inside| inside.bore_m)
}
