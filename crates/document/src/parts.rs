//! The words for a part of a line, and for one that has no law.

use super::words::ranges;
use crate::language::say;
use crate::names;
use crate::units::Printing;
use fieldtest::PartProblem;
use records::{
    Basket, CheckValve, ChlorineCell, Filter, FlowMeter, Heater, Part, PartKind, Skimmer,
    Spillover, TeePath, Valve,
};

/// Names a tee in which lines meet.
pub(crate) fn tee_at(at: &str, printing: Printing) -> String {
    say!(printing, "tee at {at}", at)
}

/// Names a part as a person at the pad would, with how many of it.
pub fn name(part: &Part, printing: Printing) -> String {
    let one = match &part.kind {
        PartKind::Pipe(_) => say!(printing, "pipe").to_owned(),
        PartKind::Valve(valve) => valve_name(valve, printing),
        PartKind::Tee(tee) => match tee.tee {
            TeePath::Run => say!(printing, "tee, run").to_owned(),
            TeePath::Branch => say!(printing, "tee, branch").to_owned(),
        },
        PartKind::Reducer(reducer) => {
            say!(printing, "reducer to {size}", size = reducer.reducer.text)
        }
        PartKind::Cover(_) => say!(printing, "suction cover").to_owned(),
        PartKind::MinorLoss(loss) => format!("K {}", loss.k.value),
        PartKind::Fitting(fitting) => names::name(&fitting.fitting, printing).into_owned(),
        PartKind::Solar(solar) => names::name(&solar.solar, printing).into_owned(),
        PartKind::Outlet(outlet) => names::name(&outlet.outlet, printing).into_owned(),
        kind => typed_name(kind, printing),
    };
    if part.count == 1 {
        one
    } else {
        format!("{} × {one}", part.count)
    }
}

/// Names a valve, and how far it is open.
fn valve_name(valve: &Valve, printing: Printing) -> String {
    let typed = &valve.valve;
    let name = names::compound(&format!("{typed} valve"), printing)
        .unwrap_or_else(|| say!(printing, "{valve} valve", valve = typed));
    match &valve.open {
        Some(open) => say!(
            printing,
            "{valve}, {opening} open",
            valve = name,
            opening = open.text
        ),
        None => name,
    }
}

/// Names a part whose kind goes with a word that a person typed.
fn typed_name(kind: &PartKind, printing: Printing) -> String {
    let known = |phrase: String| names::compound(&phrase, printing);
    match kind {
        PartKind::Skimmer(Skimmer { skimmer: typed, .. }) => known(format!("skimmer, {typed}"))
            .unwrap_or_else(|| say!(printing, "skimmer, {kind}", kind = typed)),
        PartKind::Basket(Basket { basket: typed, .. }) => known(format!("{typed} basket"))
            .unwrap_or_else(|| say!(printing, "{kind} basket", kind = typed)),
        PartKind::Filter(Filter { filter: typed, .. }) => known(format!("{typed} filter"))
            .unwrap_or_else(|| say!(printing, "{kind} filter", kind = typed)),
        PartKind::Heater(Heater { heater: typed, .. }) => known(format!("{typed} heater"))
            .unwrap_or_else(|| say!(printing, "{kind} heater", kind = typed)),
        PartKind::Cell(ChlorineCell { cell: typed, .. }) => known(format!("{typed} cell"))
            .unwrap_or_else(|| say!(printing, "{kind} cell", kind = typed)),
        PartKind::CheckValve(CheckValve {
            check_valve: typed, ..
        }) => known(format!("{typed} check valve"))
            .unwrap_or_else(|| say!(printing, "{kind} check valve", kind = typed)),
        PartKind::Spillover(Spillover {
            spillover: typed, ..
        }) => known(format!("spillover, {typed}"))
            .unwrap_or_else(|| say!(printing, "spillover, {kind}", kind = typed)),
        PartKind::FlowMeter(FlowMeter {
            flow_meter: typed, ..
        }) => known(format!("{typed} flow meter"))
            .unwrap_or_else(|| say!(printing, "{kind} flow meter", kind = typed)),
        _ => String::new(),
    }
}

/// Says why a part has no law, and what to do.
pub fn problem(problem: &PartProblem, printing: Printing) -> (String, Option<String>) {
    match problem {
        PartProblem::UnknownWord { typed, known } => (
            say!(printing, "\"{typed}\" is not in the catalogue", typed),
            Some(say!(
                printing,
                "name one of: {known}; or state its K: k = 1.2",
                known = known.join(", ")
            )),
        ),
        PartProblem::UnknownSize {
            typed,
            spec: Some(spec),
        } => {
            let sizes: Vec<&str> = spec.sizes().map(|size| size.nominal).collect();
            (
                say!(printing, "{spec} has no size {typed}", spec, typed),
                Some(say!(
                    printing,
                    "name one of: {sizes}; or state its bore",
                    sizes = sizes.join(", ")
                )),
            )
        }
        PartProblem::UnknownSize { typed, spec: None } => {
            let specs = hydraulics::pipe::PipeSpec::ALL.map(hydraulics::pipe::PipeSpec::name);
            (
                say!(
                    printing,
                    "{typed}: the specification is not in the catalogue",
                    typed
                ),
                Some(say!(
                    printing,
                    "name one of: {specs}; or state the bore",
                    specs = specs.join(", ")
                )),
            )
        }
        PartProblem::NoPipe => (
            say!(
                printing,
                "there is no pipe whose velocity the loss could rest on"
            )
            .to_owned(),
            Some(say!(printing, "put a pipe before it, or state its size").to_owned()),
        ),
        PartProblem::Physics(error) => (ranges::refusal(error, printing), None),
    }
}
