//! The words for a part of a line, and for one that has no law.

use super::words::ranges;
use fieldtest::PartProblem;
use records::{Part, PartKind, TeePath};

/// Names a tee in which lines meet.
pub(crate) fn tee_at(at: &str) -> String {
    format!("tee at {at}")
}

/// Names a part as a person at the pad would, with how many of it.
pub fn name(part: &Part) -> String {
    let one = match &part.kind {
        PartKind::Pipe(_) => "pipe".to_owned(),
        PartKind::Fitting(fitting) => fitting.fitting.clone(),
        PartKind::Valve(valve) => match &valve.open {
            Some(open) => format!("{} valve, {} open", valve.valve, open.text),
            None => format!("{} valve", valve.valve),
        },
        PartKind::Tee(tee) => match tee.tee {
            TeePath::Run => "tee, run".to_owned(),
            TeePath::Branch => "tee, branch".to_owned(),
        },
        PartKind::Reducer(reducer) => format!("reducer to {}", reducer.reducer.text),
        PartKind::Skimmer(skimmer) => format!("skimmer, {}", skimmer.skimmer),
        PartKind::Cover(_) => "suction cover".to_owned(),
        PartKind::Basket(basket) => format!("{} basket", basket.basket),
        PartKind::Filter(filter) => format!("{} filter", filter.filter),
        PartKind::Heater(heater) => format!("{} heater", heater.heater),
        PartKind::Cell(cell) => format!("{} cell", cell.cell),
        PartKind::CheckValve(check) => format!("{} check valve", check.check_valve),
        PartKind::Solar(solar) => solar.solar.clone(),
        PartKind::Spillover(spillover) => format!("spillover, {}", spillover.spillover),
        PartKind::Outlet(outlet) => outlet.outlet.clone(),
        PartKind::FlowMeter(meter) => format!("{} flow meter", meter.flow_meter),
        PartKind::MinorLoss(loss) => format!("K {}", loss.k.value),
    };
    if part.count == 1 {
        one
    } else {
        format!("{} × {one}", part.count)
    }
}

/// Says why a part has no law, and what to do.
pub fn problem(problem: &PartProblem) -> (String, Option<String>) {
    match problem {
        PartProblem::UnknownWord { typed, known } => (
            format!("\"{typed}\" is not in the catalogue"),
            Some(format!(
                "name one of: {}; or state its K: k = 1.2",
                known.join(", ")
            )),
        ),
        PartProblem::UnknownSize {
            typed,
            spec: Some(spec),
        } => {
            let sizes: Vec<&str> = spec.sizes().map(|size| size.nominal).collect();
            (
                format!("{spec} has no size {typed}"),
                Some(format!(
                    "name one of: {}; or state its bore",
                    sizes.join(", ")
                )),
            )
        }
        PartProblem::UnknownSize { typed, spec: None } => {
            let specs = hydraulics::pipe::PipeSpec::ALL.map(hydraulics::pipe::PipeSpec::name);
            (
                format!("{typed}: the specification is not in the catalogue"),
                Some(format!(
                    "name one of: {}; or state the bore",
                    specs.join(", ")
                )),
            )
        }
        PartProblem::NoPipe => (
            "there is no pipe whose velocity the loss could rest on".to_owned(),
            Some("put a pipe before it, or state its size".to_owned()),
        ),
        PartProblem::Physics(error) => (ranges::refusal(error), None),
    }
}
