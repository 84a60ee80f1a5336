//! Rule sets: the limits that a jurisdiction or the trade sets, each with its source.
//!
//! Jurisdictions differ, so a set is chosen by name in the site file and any line of it can be overridden there.
//! What was not seen in print is marked as usual practice, to be confirmed locally.

use crate::finding::Basis;
use hydraulics::constants::{FOOT_M, US_GALLON_PER_MINUTE_M3S};
use hydraulics::equipment::FilterMedia;
use records::Quantity;

/// One US gallon per minute through a square foot, m/s, exact.
const GPM_FT2_M_S: f64 = US_GALLON_PER_MINUTE_M3S / (FOOT_M * FOOT_M);
/// One inch of mercury at 0 °C, Pa (NIST SP 811, appendix B.8).
const INHG_PA: f64 = 3386.389;

/// A limiting value with its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// The value, in the SI unit of what it limits.
    pub si: f64,
    /// Where it stands.
    pub source: &'static str,
    /// How well it is founded.
    pub basis: Basis,
}

/// A rule that the flow while filtering stays below what
/// [`highest_filtration_flow_m3s`](hydraulics::codes::highest_filtration_flow_m3s) computes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FiltrationCeiling {
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
    /// Highest velocity before the pump, m/s.
    pub suction_velocity: Rule,
    /// Highest velocity after the pump, m/s.
    pub return_velocity: Rule,
    /// Highest flow per area of a cartridge, of a bed of sand and of a precoat, m/s.
    pub filter_rates: [Rule; 3],
    /// Highest vacuum at the pump's inlet under a standard atmosphere, Pa.
    pub inlet_vacuum: Rule,
    /// Least margin of NPSH available over required, m.
    pub npsh_margin: Rule,
    /// Highest flow while filtering, where the set has one.
    pub filtration_ceiling: Option<FiltrationCeiling>,
}

impl Rule {
    /// The source of what the person stated.
    pub(crate) const SITE_FILE: &'static str = "stated in the site file";

    const fn printed(si: f64, source: &'static str) -> Self {
        Self {
            si,
            source,
            basis: Basis::Printed,
        }
    }

    const fn usual(si: f64, source: &'static str) -> Self {
        Self {
            si,
            source,
            basis: Basis::UsualPractice,
        }
    }

    /// Makes a rule of what the site file states.
    pub(crate) const fn of_site_file(si: f64) -> Self {
        Self {
            si,
            source: Self::SITE_FILE,
            basis: Basis::SiteFile,
        }
    }

    /// Gives way to the site's own word, where there is one.
    pub(crate) fn overridden_by(self, own: Option<&Quantity>) -> Self {
        own.map_or(self, |own| Self::of_site_file(own.si))
    }
}

impl RuleSet {
    /// Returns the highest flow per area of a filter's media, m/s.
    pub const fn filter_rate(&self, media: FilterMedia) -> Rule {
        let [cartridge, sand, precoat] = self.filter_rates;
        match media {
            FilterMedia::Cartridge => cartridge,
            FilterMedia::Sand => sand,
            FilterMedia::Precoat => precoat,
        }
    }
}

/// Ten inches of mercury: beyond it air comes out of the water, and a suction is usually blocked or too narrow.
const USUAL_INLET_VACUUM: Rule = Rule::usual(
    10.0 * INHG_PA,
    "10 inHg at the pump inlet, less where the air is thinner",
);

/// Two feet.
const USUAL_NPSH_MARGIN: Rule = Rule::usual(
    2.0 * FOOT_M,
    "2 ft of NPSH available above what the pump requires",
);

const RESIDENTIAL: RuleSet = RuleSet {
    name: "residential",
    suction_velocity: Rule::printed(
        6.0 * FOOT_M,
        "ISPSC 2015, residential: 6 ft/s in suction piping",
    ),
    return_velocity: Rule::printed(
        8.0 * FOOT_M,
        "ISPSC 2015, residential: 8 ft/s in return piping",
    ),
    filter_rates: [
        Rule::usual(
            1.0 * GPM_FT2_M_S,
            "NSF/ANSI 50, residential: rate of cartridge filters",
        ),
        Rule::usual(
            20.0 * GPM_FT2_M_S,
            "NSF/ANSI 50, residential: rate of high-rate sand",
        ),
        Rule::usual(2.0 * GPM_FT2_M_S, "NSF/ANSI 50: rate of precoat filters"),
    ],
    inlet_vacuum: USUAL_INLET_VACUUM,
    npsh_margin: USUAL_NPSH_MARGIN,
    filtration_ceiling: None,
};

const PUBLIC: RuleSet = RuleSet {
    name: "public",
    suction_velocity: Rule::printed(
        6.0 * FOOT_M,
        "ANSI/APSP-7 2006, 4.4: 6 ft/s in the suction piping of public pools",
    ),
    return_velocity: Rule::printed(
        10.0 * FOOT_M,
        "Pima County AZ 8.32.160: 10 ft/s in return piping (an example of a county's rule)",
    ),
    filter_rates: [
        Rule::printed(
            0.30 * GPM_FT2_M_S,
            "Georgia 511-3-5-.08: rate of cartridge filters (an example of a state's rule)",
        ),
        Rule::printed(
            15.0 * GPM_FT2_M_S,
            "Georgia 511-3-5-.08: rate of high-rate sand, a fifth less where the bed is under 15 in (an example of a state's rule)",
        ),
        Rule::printed(
            2.0 * GPM_FT2_M_S,
            "Georgia 511-3-5-.08: rate of precoat filters (an example of a state's rule)",
        ),
    ],
    ..RESIDENTIAL
};

/// California's rule for homes limits the flow while filtering; its other values are recalled.
const CALIFORNIA_RESIDENTIAL: RuleSet = RuleSet {
    name: "california residential",
    suction_velocity: Rule::usual(
        6.0 * FOOT_M,
        "California Title 24 Part 6, 150.0(p): 6 ft/s in suction piping",
    ),
    return_velocity: Rule::usual(
        8.0 * FOOT_M,
        "California Title 24 Part 6, 150.0(p): 8 ft/s in return piping",
    ),
    filter_rates: [
        Rule::usual(
            0.375 * GPM_FT2_M_S,
            "California Title 24 Part 6, 150.0(p): NSF/ANSI 50 public rate of cartridge filters",
        ),
        Rule::usual(
            15.0 * GPM_FT2_M_S,
            "California Title 24 Part 6, 150.0(p): NSF/ANSI 50 public rate of high-rate sand",
        ),
        Rule::usual(
            2.0 * GPM_FT2_M_S,
            "California Title 24 Part 6, 150.0(p): NSF/ANSI 50 public rate of precoat filters",
        ),
    ],
    filtration_ceiling: Some(FiltrationCeiling {
        source: "California Title 24 Part 6, 150.0(p): at most the volume in 6 hours or 36 gpm, whichever is greater",
        basis: Basis::Printed,
    }),
    ..RESIDENTIAL
};

/// The sets, the first being the one that is used where none is named.
pub const RULE_SETS: [RuleSet; 3] = [RESIDENTIAL, PUBLIC, CALIFORNIA_RESIDENTIAL];

/// Returns the set that is used where none is named.
pub(crate) const fn usual_rules() -> &'static RuleSet {
    &RULE_SETS[0]
}

/// Finds a set by name; `None` as name gives the usual one.
pub fn rule_set(name: Option<&str>) -> Option<&'static RuleSet> {
    match name {
        None => Some(usual_rules()),
        Some(name) => RULE_SETS.iter().find(|set| set.name == name),
    }
}
