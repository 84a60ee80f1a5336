//! From the parts that a person named to laws of head: which law, and on which bore.
//!
//! A fitting sits on the pipe before it, the first ones of a line on the first pipe after them. Nothing is invented: a part
//! whose drop is not stated takes none, and says so.

use crate::bores::{Inside, NotInCatalogue, pipes};
use crate::finding::{Finding, Matter, Place, Severity};
use hydraulics::element::{Element, element_head_m};
use hydraulics::equipment::{CheckValve as Check, FilterMedia, RatedDrops, filter_law};
use hydraulics::fittings::area_change::step_k;
use hydraulics::fittings::catalogue::Fitting;
use hydraulics::fittings::ends::End;
use hydraulics::fittings::flow_coefficient::k_of_kv;
use hydraulics::fittings::outlet::{Edge, outlet_k};
use hydraulics::fittings::valve::{Valve, opening::partly_open_k};
use hydraulics::loss::PipeRun;
use hydraulics::pipe::PipeSpec;
use hydraulics::water::Water;
use hydraulics::{Answer, HydraulicsError, Warning};
use records::{Part, PartKind, Quantity, RatedDrop, Site, TeePath};

/// The temperature of the water in which a maker rates a drop, K: 20 °C. Common practice, no source.
const RATED_AT_K: f64 = 293.15;

/// Seconds in an hour, exact.
const SECONDS_PER_HOUR: f64 = 3600.0;

/// What a part of a line is to the water.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedPart {
    /// Its law; `None` where what it takes is not stated.
    pub element: Option<Element>,
    /// How many of it, one after another.
    pub in_series: u32,
    /// Between how many of it the flow divides.
    pub side_by_side: u32,
    /// What its coefficients warn of.
    pub warnings: Vec<Warning>,
}

/// Why a part has no law.
#[derive(Clone, Debug, PartialEq)]
pub enum PartProblem {
    /// A word that the catalogue does not hold.
    UnknownWord {
        /// As typed.
        typed: String,
        /// The words that it holds.
        known: Vec<&'static str>,
    },
    /// A pipe, or a size of a part, that the catalogue does not hold.
    UnknownSize {
        /// As typed.
        typed: String,
        /// The specification in which it was looked up; `None` where the specification itself is not known.
        spec: Option<PipeSpec>,
    },
    /// A part whose loss rests on a velocity, in a line without a pipe.
    NoPipe,
    /// Numbers that are impossible together.
    Physics(HydraulicsError),
}

impl From<HydraulicsError> for PartProblem {
    fn from(error: HydraulicsError) -> Self {
        Self::Physics(error)
    }
}

impl PlacedPart {
    /// Computes the head that the part takes at a flow through its line, m; `None` where that is not stated.
    pub fn head_m(
        &self,
        flow_m3s: f64,
        water: &Water,
    ) -> Result<Option<Answer<f64>>, HydraulicsError> {
        let Some(element) = &self.element else {
            return Ok(None);
        };
        let each = element_head_m(element, flow_m3s / f64::from(self.side_by_side), water)?;
        let value = each.value * f64::from(self.in_series);
        let warnings = self.warnings.iter().copied().chain(each.warnings);
        Ok(Some(Answer::new(value, warnings)))
    }
}

/// Finds the laws of the parts of a line, in their order.
pub fn place(parts: &[Part]) -> Vec<Result<PlacedPart, PartProblem>> {
    let mut before = pipes(parts).next().and_then(|pipe| Inside::of(pipe).ok());
    parts
        .iter()
        .map(|part| {
            let placed = placed(part, before);
            if let Some(behind) = bore_behind(part, before) {
                before = Some(behind);
            }
            placed
        })
        .collect()
}

/// Says which parts of a site have no law. A pipe that the catalogue does not hold is said with its velocity limit.
pub(crate) fn unknown_parts(site: &Site) -> Vec<Finding> {
    let mut findings = Vec::new();
    for line in &site.lines {
        for (part, placed) in line.parts.iter().zip(place(&line.parts)) {
            let problem = placed
                .err()
                .filter(|_| !matches!(part.kind, PartKind::Pipe(_)));
            findings.extend(problem.map(|problem| Finding {
                severity: Severity::Warning,
                place: Place::default(),
                matter: Matter::UnknownPart {
                    line: line.name.clone(),
                    part: Box::new(part.clone()),
                    problem,
                },
            }));
        }
    }
    findings
}

/// The bore of the line behind a part that sets it.
fn bore_behind(part: &Part, before: Option<Inside>) -> Option<Inside> {
    match &part.kind {
        PartKind::Pipe(pipe) => Inside::of(pipe).ok(),
        PartKind::Reducer(reducer) => {
            let spec = reducer.spec.as_deref();
            Inside::at_size(before, &reducer.reducer, spec).ok()
        }
        _ => None,
    }
}

fn placed(part: &Part, before: Option<Inside>) -> Result<PlacedPart, PartProblem> {
    let found = law(part, before)?;
    let (element, warnings) = match found {
        Some(answer) => (Some(answer.value), answer.warnings),
        None => (None, Vec::new()),
    };
    let beside = matches!(part.kind, PartKind::Cover(_) | PartKind::Outlet(_));
    let (in_series, side_by_side) = if beside {
        (1, part.count)
    } else {
        (part.count, 1)
    };
    Ok(PlacedPart {
        element,
        in_series,
        side_by_side,
        warnings,
    })
}

/// Finds the law of one piece of a part, with what its coefficients warn of.
fn law(part: &Part, before: Option<Inside>) -> Result<Option<Answer<Element>>, PartProblem> {
    match &part.kind {
        PartKind::Pipe(pipe) => {
            let bore = Inside::of(pipe).map_err(|missing| unknown(pipe.pipe.as_ref(), missing))?;
            let run = pipe.length.as_ref().map(|length| PipeRun {
                bore_m: bore.bore_m,
                roughness_m: bore.roughness_m,
                length_m: length.si,
                minor_loss_k: 0.0,
            });
            Ok(run.map(|run| Answer::new(Element::Pipe(run), [])))
        }
        PartKind::Fitting(fitting) => {
            let bore_m = sized(before, fitting.size.as_ref())?;
            Ok(Some(minor(fitting_k(&fitting.fitting, bore_m)?, bore_m)))
        }
        PartKind::Valve(valve) => {
            let bore_m = sized(before, valve.size.as_ref())?;
            let k = match &valve.kv {
                Some(kv) => Answer::new(k_of_kv(kv.si * SECONDS_PER_HOUR, bore_m)?, []),
                None => valve_k(&valve.valve, bore_m, valve.open.as_ref())?,
            };
            Ok(Some(minor(k, bore_m)))
        }
        PartKind::Tee(tee) => {
            let bore_m = sized(before, tee.size.as_ref())?;
            let through = match tee.tee {
                TeePath::Run => Fitting::TeeRun,
                TeePath::Branch => Fitting::TeeBranch,
            };
            Ok(Some(minor(through.k(bore_m)?, bore_m)))
        }
        PartKind::Reducer(reducer) => {
            let from = before.ok_or(PartProblem::NoPipe)?;
            let spec = reducer.spec.as_deref();
            let to = Inside::at_size(before, &reducer.reducer, spec)
                .map_err(|missing| unknown(Some(&reducer.reducer), missing))?;
            let k = step_k(from.bore_m, to.bore_m)?;
            Ok(Some(minor(Answer::new(k, []), from.bore_m.min(to.bore_m))))
        }
        PartKind::MinorLoss(loss) => {
            let bore_m = before.ok_or(PartProblem::NoPipe)?.bore_m;
            Ok(Some(minor(Answer::new(loss.k.value, []), bore_m)))
        }
        PartKind::Outlet(outlet) => match &outlet.bore {
            None => Ok(None),
            Some(orifice) => outlet_law(before, orifice.si),
        },
        PartKind::CheckValve(check) => check_valve(check, before),
        PartKind::Filter(filter) => filter_element(filter),
        PartKind::Skimmer(skimmer) => rated(&skimmer.at),
        PartKind::Cover(cover) => rated(&cover.at),
        PartKind::Basket(basket) => rated(&basket.at),
        PartKind::Heater(heater) => rated(&heater.at),
        PartKind::Cell(cell) => rated(&cell.at),
        PartKind::Solar(solar) => rated(&solar.at),
        PartKind::FlowMeter(meter) => rated(&meter.at),
        PartKind::Spillover(_) => Ok(None),
    }
}

fn minor(k: Answer<f64>, bore_m: f64) -> Answer<Element> {
    k.map(|k| Element::MinorLoss { k, bore_m })
}

/// The bore that a part sits on: of its own size, or of the pipe before it.
fn sized(before: Option<Inside>, size: Option<&Quantity>) -> Result<f64, PartProblem> {
    let pipe = match size {
        Some(size) => Some(
            Inside::at_size(before, size, None).map_err(|missing| unknown(Some(size), missing))?,
        ),
        None => before,
    };
    pipe.map(|bore| bore.bore_m).ok_or(PartProblem::NoPipe)
}

fn unknown(size: Option<&Quantity>, missing: NotInCatalogue) -> PartProblem {
    PartProblem::UnknownSize {
        typed: size.map(|size| size.text.clone()).unwrap_or_default(),
        spec: missing.0,
    }
}

fn fitting_k(word: &str, bore_m: f64) -> Result<Answer<f64>, PartProblem> {
    if let Some(fitting) = Fitting::parse(word) {
        return Ok(fitting.k(bore_m)?);
    }
    let end = End::parse(word).ok_or_else(|| PartProblem::UnknownWord {
        typed: word.to_owned(),
        known: fitting_words().collect(),
    })?;
    Ok(Answer::new(end.k(), []))
}

/// Lists the words for fittings and ends of lines.
pub fn fitting_words() -> impl Iterator<Item = &'static str> {
    let fittings = Fitting::ALL.into_iter().map(Fitting::name);
    fittings.chain(End::ALL.into_iter().map(End::name))
}

fn valve_k(word: &str, bore_m: f64, open: Option<&Quantity>) -> Result<Answer<f64>, PartProblem> {
    let valve = Valve::parse(word).ok_or_else(|| PartProblem::UnknownWord {
        typed: word.to_owned(),
        known: Valve::ALL.into_iter().map(Valve::name).collect(),
    })?;
    Ok(match open.filter(|open| open.si < 1.0) {
        Some(open) => partly_open_k(valve, bore_m, open.si)?,
        None => valve.k(bore_m)?,
    })
}

/// An outlet gives its jet to the pool; its loss hardly depends on the bore that leads to it.
fn outlet_law(
    before: Option<Inside>,
    orifice_m: f64,
) -> Result<Option<Answer<Element>>, PartProblem> {
    let line_m = before.map_or(orifice_m, |bore| bore.bore_m).max(orifice_m);
    let k = outlet_k(line_m, orifice_m, Edge::Rounded.discharge_coefficient())?;
    Ok(Some(minor(k, line_m)))
}

fn check_valve(
    check: &records::CheckValve,
    before: Option<Inside>,
) -> Result<Option<Answer<Element>>, PartProblem> {
    if let Some(kv) = &check.kv {
        let valve = Check {
            cracking_pa: check.cracking.as_ref().map_or(0.0, |cracking| cracking.si),
            kv_m3h: kv.si * SECONDS_PER_HOUR,
        };
        return Ok(Some(Answer::new(Element::CheckValve(valve), [])));
    }
    let bore_m = sized(before, check.size.as_ref())?;
    let word = match check.check_valve.as_str() {
        "spring" => Valve::SpringCheck.name(),
        "swing" => Valve::SwingCheck.name(),
        other => other,
    };
    Ok(Some(minor(valve_k(word, bore_m, None)?, bore_m)))
}

fn filter_element(filter: &records::Filter) -> Result<Option<Answer<Element>>, PartProblem> {
    let Some(clean) = &filter.clean else {
        return Ok(None);
    };
    let media = FilterMedia::parse(&filter.filter).ok_or_else(|| PartProblem::UnknownWord {
        typed: filter.filter.clone(),
        known: FilterMedia::ALL
            .into_iter()
            .map(FilterMedia::name)
            .collect(),
    })?;
    let rated_in = Water::fresh(RATED_AT_K)?;
    let law = filter_law(
        clean.flow.si,
        clean.drop.si,
        media.usual_media_share(),
        &rated_in,
    )?;
    let element = Element::Filter { law, loading: 1.0 };
    Ok(Some(Answer::new(element, [])))
}

fn rated(at: &[RatedDrop]) -> Result<Option<Answer<Element>>, PartProblem> {
    if at.is_empty() {
        return Ok(None);
    }
    let points: Vec<(f64, f64)> = at
        .iter()
        .map(|point| (point.flow.si, point.drop.si))
        .collect();
    let drops = RatedDrops::new(&points)?;
    Ok(Some(Answer::new(Element::Rated(drops), [])))
}
