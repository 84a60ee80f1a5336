//! Rule sets: the limits that a jurisdiction or the trade sets, each with its source.
//!
//! Jurisdictions differ, so a set is chosen by name in the site file and any line of it can be overridden there.
//! What was not seen in print is marked as usual practice, to be confirmed locally.

use crate::finding::Basis;

/// One foot, m, exact (NIST SP 811, appendix B.8).
const FOOT_M: f64 = 0.3048;

/// A highest velocity with its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VelocityRule {
    /// The velocity, m/s.
    pub velocity_m_s: f64,
    /// Where it stands.
    pub source: &'static str,
    /// How well it is founded.
    pub basis: Basis,
}

/// A named set of rules.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RuleSet {
    /// The name by which a site file chooses it.
    pub name: &'static str,
    /// Before the pump.
    pub suction: VelocityRule,
    /// After the pump.
    pub discharge: VelocityRule,
}

/// The sets, the first being the one that is used where none is named.
pub const RULE_SETS: [RuleSet; 2] = [
    RuleSet {
        name: "residential",
        suction: VelocityRule {
            velocity_m_s: 6.0 * FOOT_M,
            source: "ISPSC 2015, residential: 6 ft/s in suction piping",
            basis: Basis::Printed,
        },
        discharge: VelocityRule {
            velocity_m_s: 8.0 * FOOT_M,
            source: "ISPSC 2015, residential: 8 ft/s in return piping",
            basis: Basis::Printed,
        },
    },
    RuleSet {
        name: "public",
        suction: VelocityRule {
            velocity_m_s: 6.0 * FOOT_M,
            source: "ANSI/APSP-7 2006, 4.4: 6 ft/s in the suction piping of public pools",
            basis: Basis::Printed,
        },
        discharge: VelocityRule {
            velocity_m_s: 10.0 * FOOT_M,
            source: "Pima County AZ 8.32.160: 10 ft/s in return piping (an example of a county's rule)",
            basis: Basis::Printed,
        },
    },
];

/// Finds a set by name; `None` as name gives the first.
pub(crate) fn rule_set(name: Option<&str>) -> Option<&'static RuleSet> {
    match name {
        None => RULE_SETS.first(),
        Some(name) => RULE_SETS.iter().find(|set| set.name == name),
    }
}
