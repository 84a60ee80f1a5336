//! Whether there is a way for the water: from a body to where a pump draws, and from where it delivers to a body.

use super::error::{CircuitError, PumpEnd};
use super::network::{Circuit, LinkKind, Node};

/// Checks that something is open, that each running pump has a way on either side, and that what is drawn is fed.
pub(super) fn check_ways(circuit: &Circuit) -> Result<(), CircuitError> {
    if !circuit.links.iter().any(super::Link::passes) {
        return Err(CircuitError::AllShut);
    }
    let fed = reached(circuit, Direction::WithTheFlow);
    let drained = reached(circuit, Direction::AgainstTheFlow);
    for (link, it) in circuit.links.iter().enumerate() {
        if it.passes() && matches!(it.kind, LinkKind::Pump(_)) {
            let end = match (fed[it.from], drained[it.to]) {
                (false, _) => PumpEnd::Inlet,
                (_, false) => PumpEnd::Outlet,
                _ => continue,
            };
            return Err(CircuitError::NoWay { link, end });
        }
    }
    for (node, kind) in circuit.nodes.iter().enumerate() {
        if let Node::Junction { drawn_m3s } = *kind {
            let served = match drawn_m3s {
                drawn if drawn > 0.0 => fed[node],
                drawn if drawn < 0.0 => drained[node],
                _ => true,
            };
            if !served {
                return Err(CircuitError::DrawnFromNowhere { node, drawn_m3s });
            }
        }
    }
    Ok(())
}

#[derive(Clone, Copy, PartialEq)]
enum Direction {
    WithTheFlow,
    AgainstTheFlow,
}

/// The nodes that open links join to a body, one-way links taken in a direction.
fn reached(circuit: &Circuit, direction: Direction) -> Vec<bool> {
    let mut ways = vec![Vec::new(); circuit.nodes.len()];
    for link in circuit.links.iter().filter(|link| link.passes()) {
        let (start, end) = match direction {
            Direction::WithTheFlow => (link.from, link.to),
            Direction::AgainstTheFlow => (link.to, link.from),
        };
        ways[start].push(end);
        if !link.is_one_way() {
            ways[end].push(start);
        }
    }
    let mut reached: Vec<bool> = circuit
        .nodes
        .iter()
        .map(|node| matches!(node, Node::Body { .. }))
        .collect();
    let mut open: Vec<usize> = (0..reached.len()).filter(|&node| reached[node]).collect();
    while let Some(node) = open.pop() {
        for &next in &ways[node] {
            if !reached[next] {
                reached[next] = true;
                open.push(next);
            }
        }
    }
    reached
}
