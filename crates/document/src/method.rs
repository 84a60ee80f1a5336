//! How numbers are computed, in words: the formula, what it means, who stands behind it.

use crate::content::Kind;
use crate::language::{later, said, say};
use crate::units::Printing;
use crate::words::sourced;
use fieldtest::{Limit, LimitOf, Question};

/// How an answer was computed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Method {
    /// The formula.
    pub formula: &'static str,
    /// What it means, and what was done with the readings.
    pub means: &'static str,
    /// Who stands behind it.
    pub source: String,
}

/// What was computed.
#[derive(Clone, Copy, Debug)]
pub enum Computed<'a> {
    /// The answer of a law.
    Law(Question),
    /// Where a limit is met.
    Limit(Option<&'a Limit>),
    /// A number that comes from no law and no limit alone.
    Other(Kind),
}

/// The evaluation of uncertainty behind every answer.
const GUIDE: &str =
    later!("Guide to the expression of uncertainty in measurement, JCGM 100:2008, section 5.1.2.");

/// Says how a number is computed; a limit brings its own rule.
pub fn method(of: Computed<'_>, printing: Printing) -> Method {
    match of {
        Computed::Law(question) => of_law(question, printing),
        Computed::Limit(limit) => of_limit(limit, printing),
        Computed::Other(kind) => of_kind(kind, printing),
    }
}

/// Says how the answer to a question is computed.
fn of_law(question: Question, printing: Printing) -> Method {
    match question {
        Question::Flow(_) => Method {
            formula: "Q² = s² · (N² − N₀²)",
            means: say!(
                printing,
                "One law through all flows that count: Q flow, N speed, s slope, N₀ the speed at which flow starts. The law carries a smooth departure of 3 % or what 8 steps and more show."
            ),
            source: said(printing, GUIDE).to_owned(),
        },
        Question::Power(_) => Method {
            formula: "P = P₀ + c · (N / Nmax)^m",
            means: say!(
                printing,
                "One law through all powers that count: P₀ is the draw that does not depend on speed, m the exponent of the rest. The law carries a smooth departure of 4 % or what 8 steps and more show."
            ),
            source: said(printing, GUIDE).to_owned(),
        },
        Question::Energy(_) => Method {
            formula: "E = P / Q",
            means: say!(
                printing,
                "The law of power over the law of flow at the speed."
            ),
            source: said(printing, GUIDE).to_owned(),
        },
        Question::FixedDraw => Method {
            formula: say!(printing, "P₀ in P = P₀ + c · (N / Nmax)^m"),
            means: say!(
                printing,
                "The running law drawn on to zero speed. It is not the reading with the pump at rest."
            ),
            source: said(printing, GUIDE).to_owned(),
        },
        Question::Exponent => Method {
            formula: say!(printing, "m in P = P₀ + c · (N / Nmax)^m"),
            means: say!(
                printing,
                "How steeply the moving part of the draw grows with speed; the affinity laws alone would say 3."
            ),
            source: said(printing, GUIDE).to_owned(),
        },
    }
}

/// Says how the flow and the speed at a limit are computed.
fn of_limit(limit: Option<&Limit>, printing: Printing) -> Method {
    let of = limit.map(|limit| limit.of);
    let (formula, means) = match of {
        Some(LimitOf::Velocity { .. }) => (
            "Q = v · π d² / 4",
            say!(
                printing,
                "The velocity that is allowed, times the inside area of the pipe. The speed is where the law of flow of the last test reaches that flow; of a line beside others, where its part of the flow does."
            ),
        ),
        Some(LimitOf::FilterRate { .. }) => (
            say!(printing, "Q = rate · area"),
            say!(
                printing,
                "The flow that is allowed through each unit of area, times the area of the filter. The speed is where the law of flow of the last test reaches it."
            ),
        ),
        Some(LimitOf::Pressure { .. } | LimitOf::Vacuum { .. }) => (
            "p ∝ N²",
            say!(
                printing,
                "The step that came closest to the limit is carried by the square of speed; media that lose less than the square make the true pressure lower."
            ),
        ),
        Some(LimitOf::NpshMargin { .. }) => (
            say!(printing, "margin = NPSH available − NPSH required"),
            say!(
                printing,
                "By the gauge at the inlet, the air of the place and the maker's curve."
            ),
        ),
        Some(LimitOf::Lift { .. }) => (
            say!(printing, "head of the pump ≥ lift"),
            say!(
                printing,
                "The speed at which the pump lifts the water to the top of the loop."
            ),
        ),
        Some(LimitOf::Flow) | None => (
            say!(printing, "Q(N) = printed flow"),
            say!(
                printing,
                "The flow is stated; the speed is where the law of flow of the last test reaches it."
            ),
        ),
    };
    let source = limit.map_or_else(String::new, |limit| {
        sourced(&limit.source, limit.basis, printing)
    });
    Method {
        formula,
        means,
        source,
    }
}

fn of_kind(kind: Kind, printing: Printing) -> Method {
    let (formula, means, source) = match kind {
        Kind::Speed | Kind::Flow => return of_law(Question::Flow(0.0), printing),
        Kind::Power => return of_law(Question::Power(0.0), printing),
        Kind::EnergyPerVolume => return of_law(Question::Energy(0.0), printing),
        Kind::FixedDraw => return of_law(Question::FixedDraw, printing),
        Kind::Exponent => return of_law(Question::Exponent, printing),
        Kind::Limit => return of_limit(None, printing),
        Kind::Head => (
            "h = (f · L / d + Σ K) · v² / 2g",
            say!(
                printing,
                "The head of each part by the stated plumbing, its resistance moved as far as gauges and meters ask; the heads along a way add up to the head of the pump."
            ),
            say!(
                printing,
                "Darcy-Weisbach with Colebrook-White; generalised least squares with the stated uncertainties (JCGM 100:2008)."
            ),
        ),
        Kind::Share => (
            say!(printing, "share = h · q / (H · Q)"),
            say!(
                printing,
                "Head times flow of the line or part, over head times flow of the pump: its part of the power that moves water."
            ),
            say!(printing, "Energy of flowing water, ρ g Q H."),
        ),
        Kind::Money => (
            say!(printing, "cost = Σ price · P · hours"),
            say!(
                printing,
                "The price of each stretch of the tariff times the power of the speed that is set then, by the law of the last test. Savings are drawn from the same errors of meters and laws, so that what both share cancels."
            ),
            say!(printing, "The tariff of the site file; the law of power."),
        ),
        Kind::Energy => (
            say!(printing, "W = Σ P · hours"),
            say!(
                printing,
                "The power of each speed by the law of the last test, times its hours; the draw at rest and the priming are counted."
            ),
            say!(printing, "The law of power."),
        ),
        Kind::Water => (
            say!(printing, "V = Σ Q · hours"),
            say!(
                printing,
                "The flow of each speed by the law of the last test, times its hours."
            ),
            say!(printing, "The law of flow."),
        ),
        Kind::Program => (
            say!(printing, "least Σ price · P · hours, under the rules"),
            say!(
                printing,
                "Every day that keeps the rules is searched, and those that cannot be the best are dropped; a bound proves the one that is left. The day is replayed by another piece of code before it is told."
            ),
            say!(
                printing,
                "Exact dynamic programming over the slots of the day."
            ),
        ),
        Kind::Factor => (
            say!(printing, "h = factor · h at the baseline"),
            say!(
                printing,
                "Both visits are calibrated together; what a meter is off by at both drops out of the comparison."
            ),
            say!(
                printing,
                "Generalised least squares with priors (JCGM 100:2008)."
            ),
        ),
        Kind::Odds => (
            say!(printing, "odds after = odds before · evidence"),
            say!(
                printing,
                "What each change would make the gauges read, held against what they read; a change with a free factor pays for it."
            ),
            say!(
                printing,
                "Bayes' rule with the Laplace approximation; odds before a reading by common practice, no source."
            ),
        ),
        Kind::Due => (
            say!(
                printing,
                "rise of pressure at one flow, carried straight on"
            ),
            say!(
                printing,
                "A line through the baseline and the rises since, to the rise at which the filter is due: a quarter over the clean pressure, 8 psi or the rating, whichever comes first."
            ),
            say!(printing, "Common practice, no source."),
        ),
    };
    Method {
        formula,
        means,
        source: source.to_owned(),
    }
}
