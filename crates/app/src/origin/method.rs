//! How numbers are computed, in words: the formula, what it means, who stands behind it.

use super::{Kind, Origin};
use fieldtest::{Basis, Limit, LimitOf, Question};

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

/// The evaluation of uncertainty behind every answer.
const GUIDE: &str =
    "Guide to the expression of uncertainty in measurement, JCGM 100:2008, section 5.1.2.";

/// Says how a number is computed; a limit brings its own rule.
pub fn method(origin: &Origin, limit: Option<&Limit>) -> Method {
    match origin {
        Origin::Law { question, .. } => of_law(*question),
        Origin::Limit(_) => of_limit(limit),
        Origin::Other { kind, .. } => of_kind(*kind),
    }
}

/// Says how the answer to a question is computed.
fn of_law(question: Question) -> Method {
    match question {
        Question::Flow(_) => Method {
            formula: "Q² = s² · (N² − N₀²)",
            means: "One law through all flows that count: Q flow, N speed, s slope, N₀ the speed at which flow starts. The law carries a smooth departure of 3 % or what 8 steps and more show.",
            source: GUIDE.to_owned(),
        },
        Question::Power(_) => Method {
            formula: "P = P₀ + c · (N / Nmax)^m",
            means: "One law through all powers that count: P₀ is the draw that does not depend on speed, m the exponent of the rest. The law carries a smooth departure of 4 % or what 8 steps and more show.",
            source: GUIDE.to_owned(),
        },
        Question::Energy(_) => Method {
            formula: "E = P / Q",
            means: "The law of power over the law of flow at the speed.",
            source: GUIDE.to_owned(),
        },
        Question::FixedDraw => Method {
            formula: "P₀ in P = P₀ + c · (N / Nmax)^m",
            means: "The running law drawn on to zero speed. It is not the reading with the pump at rest.",
            source: GUIDE.to_owned(),
        },
        Question::Exponent => Method {
            formula: "m in P = P₀ + c · (N / Nmax)^m",
            means: "How steeply the moving part of the draw grows with speed; the affinity laws alone would say 3.",
            source: GUIDE.to_owned(),
        },
    }
}

/// Says how the flow and the speed at a limit are computed.
fn of_limit(limit: Option<&Limit>) -> Method {
    let of = limit.map(|limit| limit.of);
    let (formula, means) = match of {
        Some(LimitOf::Velocity { .. }) => (
            "Q = v · π d² / 4",
            "The velocity that is allowed, times the inside area of the pipe. The speed is where the law of flow of the last test reaches that flow; of a line beside others, where its part of the flow does.",
        ),
        Some(LimitOf::FilterRate { .. }) => (
            "Q = rate · area",
            "The flow that is allowed through each unit of area, times the area of the filter. The speed is where the law of flow of the last test reaches it.",
        ),
        Some(LimitOf::Pressure { .. } | LimitOf::Vacuum { .. }) => (
            "p ∝ N²",
            "The step that came closest to the limit is carried by the square of speed; media that lose less than the square make the true pressure lower.",
        ),
        Some(LimitOf::NpshMargin { .. }) => (
            "margin = NPSH available − NPSH required",
            "By the gauge at the inlet, the air of the place and the maker's curve.",
        ),
        Some(LimitOf::Lift { .. }) => (
            "head of the pump ≥ lift",
            "The speed at which the pump lifts the water to the top of the loop.",
        ),
        Some(LimitOf::Flow) | None => (
            "Q(N) = printed flow",
            "The flow is stated; the speed is where the law of flow of the last test reaches it.",
        ),
    };
    let source = limit.map_or_else(String::new, |limit| {
        let basis = match limit.basis {
            Basis::Printed => "seen in print; local codes decide.",
            Basis::UsualPractice => "usual practice, recalled: confirm it locally.",
            Basis::SiteFile => "stated in the site file.",
        };
        format!("{}: {basis}", limit.source)
    });
    Method {
        formula,
        means,
        source,
    }
}

fn of_kind(kind: Kind) -> Method {
    let (formula, means, source) = match kind {
        Kind::Head => (
            "h = (f · L / d + Σ K) · v² / 2g",
            "The head of each part by the stated plumbing, its resistance moved as far as gauges and meters ask; the heads along a way add up to the head of the pump.",
            "Darcy-Weisbach with Colebrook-White; generalised least squares with the stated uncertainties (JCGM 100:2008).",
        ),
        Kind::Share => (
            "share = h · q / (H · Q)",
            "Head times flow of the line or part, over head times flow of the pump: its part of the power that moves water.",
            "Energy of flowing water, ρ g Q H.",
        ),
        Kind::Money => (
            "cost = Σ price · P · hours",
            "The price of each stretch of the tariff times the power of the speed that is set then, by the law of the last test. Savings are drawn from the same errors of meters and laws, so that what both share cancels.",
            "The tariff of the site file; the law of power.",
        ),
        Kind::Energy => (
            "W = Σ P · hours",
            "The power of each speed by the law of the last test, times its hours; the draw at rest and the priming are counted.",
            "The law of power.",
        ),
        Kind::Water => (
            "V = Σ Q · hours",
            "The flow of each speed by the law of the last test, times its hours.",
            "The law of flow.",
        ),
        Kind::Program => (
            "least Σ price · P · hours, under the rules",
            "Every day that keeps the rules is searched, and those that cannot be the best are dropped; a bound proves the one that is left. The day is replayed by another piece of code before it is told.",
            "Exact dynamic programming over the slots of the day.",
        ),
        Kind::Factor => (
            "h = factor · h at the baseline",
            "Both visits are calibrated together; what a meter is off by at both drops out of the comparison.",
            "Generalised least squares with priors (JCGM 100:2008).",
        ),
        Kind::Odds => (
            "odds after = odds before · evidence",
            "What each change would make the gauges read, held against what they read; a change with a free factor pays for it.",
            "Bayes' rule with the Laplace approximation; odds before a reading by common practice, no source.",
        ),
        Kind::Due => (
            "rise of pressure at one flow, carried straight on",
            "A line through the baseline and the rises since, to the rise at which the filter is due: a quarter over the clean pressure, 8 psi or the rating, whichever comes first.",
            "Common practice, no source.",
        ),
    };
    Method {
        formula,
        means,
        source: source.to_owned(),
    }
}
