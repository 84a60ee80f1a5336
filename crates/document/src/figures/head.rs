//! Total head against flow: the circuit as the gauges show it, beside the pump as its maker states it.

use super::describe::described;
use super::{Subject, axis, followed, span};
use crate::number;
use crate::units::Printing;
use charts::{Curve, CurveKind, CurvePoint, Figure, Point, Span, Start};
use metrology::Estimate;
use records::unit::Dimension;

const HEAD: Dimension = Dimension::Length;
const FLOW: Dimension = Dimension::Flow;

/// A step with both flow and head.
struct Step {
    speed_rpm: f64,
    flow_m3s: Estimate,
    head_m: Estimate,
}

/// Composes the figure; `None` where no step has both flow and head.
pub(super) fn figure(subject: &Subject<'_>) -> Option<Figure> {
    let printing = subject.printing;
    let read = read(subject);
    let top = read.last()?;
    let title = format!(
        "The circuit takes {} of head at {}",
        printing.with_interval(top.head_m, HEAD),
        printing.best(top.flow_m3s, FLOW),
    );
    let [head, flow] = [HEAD, FLOW].map(|dimension| printing.name(dimension));
    let drawn = format!("Total head in {head} against flow in {flow}");
    let points = read.iter().map(|step| words(step, printing)).collect();
    let point = |step: &Step| Point {
        x: span(printing.estimate(step.flow_m3s, FLOW)),
        y: span(printing.estimate(step.head_m, HEAD)),
        told: words(step, printing),
    };
    let circuit = circuit(subject, &read);
    Some(Figure {
        description: described([title.clone(), drawn].into_iter(), &[("Read", points)]),
        title,
        note: subject.note("Dots: read, with 95 % bars.", 0),
        x: axis(&format!("Flow, {flow}"), Start::Zero),
        y: axis(&format!("Total head, {head}"), Start::Zero),
        highlight: None,
        curves: circuit.into_iter().chain(maker(subject)).collect(),
        points: read.iter().map(point).collect(),
        left_out: Vec::new(),
        rules: Vec::new(),
    })
}

fn read(subject: &Subject<'_>) -> Vec<Step> {
    let steps = subject.test.steps.iter();
    steps
        .filter_map(|step| {
            Some(Step {
                speed_rpm: step.speed_rpm,
                flow_m3s: step.flow_m3s?,
                head_m: step.head_m?,
            })
        })
        .collect()
}

fn words(step: &Step, printing: Printing) -> String {
    let head = printing.with_interval(step.head_m, HEAD);
    let flow = printing.with_interval(step.flow_m3s, FLOW);
    format!("{head} at {flow} and {} rpm", number::rpm(step.speed_rpm))
}

/// Draws the law of the circuit, where the readings tell it.
fn circuit(subject: &Subject<'_>, read: &[Step]) -> Option<Curve> {
    let law = subject.test.laws.system.as_ref()?;
    let printing = subject.printing;
    let flows = read.iter().map(|step| step.flow_m3s.value);
    let low = flows.clone().fold(f64::INFINITY, f64::min);
    let head = |flow_m3s: f64| {
        let head = printing.number(law.head_m(flow_m3s)?, HEAD);
        Some(Span::exact(head))
    };
    let mut points = followed(low, flows.fold(0.0, f64::max), head);
    for point in &mut points {
        point.x = printing.number(point.x, FLOW);
    }
    Some(Curve {
        label: "circuit".to_owned(),
        kind: CurveKind::Law,
        points,
    })
}

/// Draws the maker's curve, where the site states it.
fn maker(subject: &Subject<'_>) -> Option<Curve> {
    let pump = &subject.site.pump;
    let speed = pump.curve_speed.as_ref()?;
    let printing = subject.printing;
    let stated = pump.curve.iter().map(|point| CurvePoint {
        x: printing.number(point.flow.si, FLOW),
        y: Span::exact(printing.number(point.head.si, HEAD)),
    });
    let mut points: Vec<CurvePoint> = stated.collect();
    points.sort_by(|a, b| a.x.total_cmp(&b.x));
    Some(Curve {
        label: format!("pump at {} rpm, by its maker", number::rpm(speed.si)),
        kind: CurveKind::Context,
        points,
    })
}
