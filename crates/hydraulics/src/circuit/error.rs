//! Why a circuit has no solution, by the places of nodes, links and parts in its lists.

use core::fmt;

use thiserror::Error;

use crate::error::HydraulicsError;

/// An end of a pump.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum PumpEnd {
    /// Where it draws.
    Inlet,
    /// Where it delivers.
    Outlet,
}

impl fmt::Display for PumpEnd {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Inlet => "inlet",
            Self::Outlet => "outlet",
        })
    }
}

/// Why no tee can be where one is stated.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum TeeFault {
    /// It is at no junction.
    NoJunction,
    /// Its legs are not just what meets at its junction.
    OtherLegs,
}

impl fmt::Display for TeeFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoJunction => "it is at no junction",
            Self::OtherLegs => "its three legs are not just what meets at its junction",
        })
    }
}

/// Why a circuit has no solution. Everything is counted from 0.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum CircuitError {
    /// A link ends at a node that is not there.
    #[error("link {link} ends at node {node}, which is not there")]
    NoSuchNode {
        /// Which link.
        link: usize,
        /// The node that it names.
        node: usize,
    },
    /// A link begins where it ends.
    #[error("link {link} begins and ends at node {node}; expected two nodes")]
    SameEnds {
        /// Which link.
        link: usize,
        /// The node.
        node: usize,
    },
    /// Nothing leads to a node.
    #[error("node {node} dangles: no link leads to it")]
    DanglingNode {
        /// Which node.
        node: usize,
    },
    /// Every head would be open.
    #[error("the circuit has no body of water")]
    NoBody,
    /// A node is impossible by itself.
    #[error("node {node}: {source}")]
    Node {
        /// Which node.
        node: usize,
        /// What is wrong with it.
        source: HydraulicsError,
    },
    /// A link is impossible by itself.
    #[error("link {link}: {source}")]
    Link {
        /// Which link.
        link: usize,
        /// What is wrong with it.
        source: HydraulicsError,
    },
    /// A part of a line is impossible by itself.
    #[error("link {link}, part {part}: {source}")]
    Part {
        /// Which link.
        link: usize,
        /// Which of its parts.
        part: usize,
        /// What is wrong with it.
        source: HydraulicsError,
    },
    /// A part of a line stands for no element at all.
    #[error("link {link}, part {part}: a count is 0; expected 1 or more")]
    NoneOfPart {
        /// Which link.
        link: usize,
        /// Which of its parts.
        part: usize,
    },
    /// A tee is in no place for one.
    #[error("tee {tee}: {fault}")]
    Tee {
        /// Which tee.
        tee: usize,
        /// What is wrong with its place.
        fault: TeeFault,
    },
    /// A tee is impossible by itself.
    #[error("tee {tee}: {source}")]
    TeeShape {
        /// Which tee.
        tee: usize,
        /// What is wrong with it.
        source: HydraulicsError,
    },
    /// Something is asked of a link or a part that is not there, or is of another kind.
    #[error("link {link} has no {what}")]
    NoSuch {
        /// Which link.
        link: usize,
        /// What it was thought to have.
        what: &'static str,
    },
    /// Something is asked of a tee that is not there.
    #[error("there is no tee {tee}")]
    NoSuchTee {
        /// Which tee.
        tee: usize,
    },
    /// Something is to be drawn from a node that is no junction.
    #[error("node {node} is no junction")]
    NoSuchJunction {
        /// Which node.
        node: usize,
    },
    /// All links are shut.
    #[error("every line is shut and every pump is off")]
    AllShut,
    /// A running pump has no water to draw, or nowhere to deliver it.
    #[error("the pump in link {link} runs, but no open way joins its {end} to a body of water")]
    NoWay {
        /// The link of the pump.
        link: usize,
        /// Which of its ends.
        end: PumpEnd,
    },
    /// Flow is drawn from a node that no water reaches.
    #[error(
        "{drawn_m3s} m3/s are drawn from node {node}, but no open way joins it to a body of water"
    )]
    DrawnFromNowhere {
        /// Which node.
        node: usize,
        /// What is drawn there.
        drawn_m3s: f64,
    },
    /// A start has another number of flows than the circuit has links.
    #[error("the start has {given} flows for {links} links; expected a finite flow for each")]
    WrongStart {
        /// How many finite flows were given.
        given: usize,
        /// How many links there are.
        links: usize,
    },
    /// The search for flows and heads was given up.
    #[error(
        "no flows were found in {iterations} steps: heads are {residual_m} m apart, flows {unbalanced_m3s} m3/s"
    )]
    DidNotConverge {
        /// The largest head that is left over along a link.
        residual_m: f64,
        /// The largest flow that is left over at a node.
        unbalanced_m3s: f64,
        /// How many steps were taken.
        iterations: u32,
    },
}
