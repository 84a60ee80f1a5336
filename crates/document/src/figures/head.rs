//! Total head against flow: the circuit as the gauges show it, beside the pump as its maker states it.

use super::describe::described;
use super::{Subject, axis, followed, span};
use crate::language::say;
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
    let title = say!(
        subject.printing,
        "The circuit takes {head} of head at {flow}",
        head = printing.with_interval(top.head_m, HEAD),
        flow = printing.best(top.flow_m3s, FLOW)
    );
    let [head, flow] = [HEAD, FLOW].map(|dimension| printing.name(dimension));
    let drawn = say!(
        subject.printing,
        "Total head in {head} against flow in {flow}",
        head,
        flow
    );
    let points = read.iter().map(|step| words(step, printing)).collect();
    let point = |step: &Step| Point {
        x: span(printing.estimate(step.flow_m3s, FLOW)),
        y: span(printing.estimate(step.head_m, HEAD)),
        told: words(step, printing),
    };
    let circuit = circuit(subject, &read);
    Some(Figure {
        description: described(
            [title.clone(), drawn].into_iter(),
            &[(say!(printing, "Read" as "dots"), points)],
            printing,
        ),
        title,
        note: subject.note(say!(subject.printing, "Dots: read, with 95 % bars."), 0),
        x: axis(
            &say!(subject.printing, "Flow, {unit}", unit = flow),
            Start::Zero,
            printing,
        ),
        y: axis(
            &say!(subject.printing, "Total head, {unit}", unit = head),
            Start::Zero,
            printing,
        ),
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
    say!(
        printing,
        "{head} at {flow} and {speed} rpm",
        head,
        flow,
        speed = number::rpm(printing, step.speed_rpm)
    )
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
        label: say!(subject.printing, "circuit").to_owned(),
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
    numerics::order::sort_by(&mut points, |a, b| a.x.total_cmp(&b.x));
    Some(Curve {
        label: say!(
            subject.printing,
            "pump at {speed} rpm, by its maker",
            speed = number::rpm(subject.printing, speed.si)
        ),
        kind: CurveKind::Context,
        points,
    })
}
