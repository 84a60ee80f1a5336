//! Draws a circuit by its plan.

use super::lane::{BOX, DOT, Lane};
use super::order::Item;
use super::plan::{Joint, Plan};
use super::pump::RADIUS;
use super::sides::BAR;
use super::span::Turn;
use super::{Circuit, Shape, Standing, Way};
use crate::draw::frame::{Stack, line};
use crate::draw::open;
use crate::ink::Ink;
use crate::size::{LINE, MARGIN, Size, TYPE};
use crate::svg::{Anchor, Svg, number};
use crate::text::{clean, escaped};
use crate::theme::Theme;

/// Radius of a joint's dot.
const JOINT: f64 = 4.5;
/// Half the length and half the width of an arrow.
const ARROW: (f64, f64) = (5.0, 6.0);

/// What a line is to its reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lines {
    /// A picture.
    ToSee,
    /// A button.
    ToPress,
}

/// What the lines are, and the caller's number for each.
#[derive(Clone, Copy, Debug)]
pub(super) struct Numbered<'a> {
    pub(super) lines: Lines,
    pub(super) numbers: &'a [usize],
}

/// Draws the whole file.
pub(super) fn drawn(circuit: &Circuit, numbered: Numbered<'_>, theme: Theme, size: Size) -> String {
    let plan = Plan::of(circuit, size);
    let mut svg = Svg::new(theme);
    let page = (plan.size.width(), plan.height);
    open(
        &mut svg,
        "group",
        page,
        (&circuit.title, &circuit.description),
    );
    svg.mark(
        "rect",
        Ink::Ground,
        &[("width", page.0), ("height", page.1)],
    );
    for joint in &plan.joints {
        place(&mut svg, circuit, joint);
    }
    for (item, top, lane) in &plan.lanes {
        lane_group(&mut svg, numbered, *item, (*top, lane));
    }
    for joint in plan
        .joints
        .iter()
        .filter(|joint| !circuit.is_water(joint.place))
    {
        dots(&mut svg, joint);
    }
    for (word, top) in plan.names.iter().filter(|(word, _)| !word.text.is_empty()) {
        word.write(&mut svg, *top);
    }
    frame(&mut svg, &plan);
    svg.raw("</svg>\n");
    svg.into_text()
}

/// Draws what a place reaches over: the bar of a body of water, or the pipe that joins lines.
fn place(svg: &mut Svg, circuit: &Circuit, joint: &Joint) {
    if circuit.is_water(joint.place) {
        let (top, bottom) = joint.brims();
        let places = [
            ("x", joint.x),
            ("y", top),
            ("width", BAR),
            ("height", bottom - top),
            ("rx", 4.0),
        ];
        svg.mark("rect", Ink::Water, &places);
    } else {
        let (top, bottom) = joint.reach();
        if top < bottom {
            line(svg, Ink::Riser, (joint.x, top), (joint.x, bottom));
        }
    }
}

/// Dots a joint where more than two lines meet, or where one ends.
fn dots(svg: &mut Svg, joint: &Joint) {
    if joint.meets.len() == 2 {
        return;
    }
    for height in &joint.meets {
        let places = [("cx", joint.x), ("cy", *height), ("r", JOINT)];
        svg.mark("circle", Ink::Joint, &places);
    }
}

/// Draws a lane as a group that a page can find and a reader who does not see it is told of.
fn lane_group(svg: &mut Svg, numbered: Numbered<'_>, item: Item<'_>, (top, lane): (f64, &Lane)) {
    let told = escaped(&clean(match item {
        Item::Line(_, line) => &line.told,
        Item::Pump(pump) => &pump.told,
    }));
    let opening = match item {
        Item::Line(index, line) => {
            let number = numbered.numbers.get(index).copied().unwrap_or(index);
            let role = match numbered.lines {
                Lines::ToSee => "role=\"img\"".to_owned(),
                Lines::ToPress => {
                    let is_shut = line.standing == Standing::Shut;
                    format!("role=\"button\" tabindex=\"0\" aria-pressed=\"{is_shut}\"")
                }
            };
            format!("class=\"circuit-line\" data-line=\"{number}\" {role}")
        }
        Item::Pump(_) => "class=\"circuit-pump\" role=\"img\"".to_owned(),
    };
    svg.raw(&format!("<g {opening}>\n<title>{told}</title>\n"));
    target(svg, (top, lane));
    match item {
        Item::Line(_, line) => {
            let ink = ink(line.standing);
            svg.path(ink, &route(lane, top));
            arrow(svg, ink, line.way, (top, lane));
            leaders(svg, (top, lane));
            symbols(svg, (top, lane));
        }
        Item::Pump(_) => pump(svg, (top, lane)),
    }
    for word in &lane.words {
        word.write(svg, top);
    }
    svg.raw("</g>\n");
}

fn ink(standing: Standing) -> Ink {
    match standing {
        Standing::Unjudged => Ink::Pipe,
        Standing::Kept => Ink::PipeKept,
        Standing::Passed => Ink::PipePassed,
        Standing::Shut => Ink::PipeShut,
        Standing::Unstated => Ink::PipeUnstated,
    }
}

fn target(svg: &mut Svg, (top, lane): (f64, &Lane)) {
    let places = [
        ("x", lane.span.left),
        ("y", top),
        ("width", lane.span.width()),
        ("height", lane.height),
    ];
    svg.mark("rect", Ink::Target, &places);
}

/// Writes the way of a line.
fn route(lane: &Lane, top: f64) -> String {
    let span = &lane.span;
    let (rail, back) = (number(top + lane.rail), number(top + lane.back));
    let (from, to) = (number(span.from), number(span.to));
    let turn = match span.turn {
        Turn::Straight => return format!("M{from} {rail}H{to}"),
        Turn::OpenLeft => span.right,
        Turn::OpenRight => span.left,
    };
    format!("M{from} {rail}H{}V{back}H{to}", number(turn))
}

/// Draws which way the water goes.
fn arrow(svg: &mut Svg, ink: Ink, way: Way, (top, lane): (f64, &Lane)) {
    let runs_right = match lane.span.turn {
        Turn::Straight => !lane.span.runs_left(),
        Turn::OpenLeft => false,
        Turn::OpenRight => true,
    };
    let points_right = match way {
        Way::Forwards => runs_right,
        Way::Backwards => !runs_right,
        Way::Still => return,
    };
    let (x, y) = (lane.middle.0, top + lane.middle.1);
    chevron(
        svg,
        ink,
        (x, y),
        if points_right { ARROW.0 } else { -ARROW.0 },
    );
}

/// Draws an arrow's head; a negative length points left.
fn chevron(svg: &mut Svg, ink: Ink, (x, y): (f64, f64), long: f64) {
    let [above, below] = [y - ARROW.1, y + ARROW.1].map(number);
    let (foot, tip, y) = (number(x - long), number(x + long), number(y));
    svg.path(ink, &format!("M{foot} {above}L{tip} {y}L{foot} {below}"));
}

fn leaders(svg: &mut Svg, (top, lane): (f64, &Lane)) {
    for leader in &lane.leaders {
        let [x, to] = [leader.x, leader.to_x].map(number);
        let [from, down] = [lane.rail, leader.to_y].map(|height| number(top + height));
        svg.path(Ink::Rule, &format!("M{x} {from}V{down}H{to}"));
    }
}

fn symbols(svg: &mut Svg, (top, lane): (f64, &Lane)) {
    let y = top + lane.rail;
    for (x, shape) in &lane.symbols {
        match shape {
            Shape::Pipe => {}
            Shape::Box => {
                let places = [
                    ("x", x - BOX),
                    ("y", y - BOX),
                    ("width", 2.0 * BOX),
                    ("height", 2.0 * BOX),
                    ("rx", 2.0),
                ];
                svg.mark("rect", Ink::Symbol, &places);
            }
            Shape::Dot => svg.mark("circle", Ink::Symbol, &[("cx", *x), ("cy", y), ("r", DOT)]),
        }
    }
}

/// Draws the pump with the pipe that leads through it.
fn pump(svg: &mut Svg, (top, lane): (f64, &Lane)) {
    let span = &lane.span;
    let (x, y) = (lane.middle.0, top + lane.middle.1);
    let (from, to, middle) = (number(span.from), number(span.to), number(x));
    let (rail, back) = (number(top + lane.rail), number(top + lane.back));
    svg.path(Ink::Riser, &format!("M{from} {rail}H{middle}V{back}H{to}"));
    svg.mark(
        "circle",
        Ink::Symbol,
        &[("cx", x), ("cy", y), ("r", RADIUS)],
    );
    if span.turn == Turn::Straight {
        let long = if span.runs_left() { -ARROW.0 } else { ARROW.0 };
        chevron(svg, Ink::Bar, (x, y), long);
    } else {
        let [left, middle, right] = [x - ARROW.1, x, x + ARROW.1].map(number);
        let [foot, tip] = [y - ARROW.0, y + ARROW.0].map(number);
        svg.path(
            Ink::Bar,
            &format!("M{left} {foot}L{middle} {tip}L{right} {foot}"),
        );
    }
}

/// Writes the title and the note.
fn frame(svg: &mut Svg, plan: &Plan<'_>) {
    let note = Stack {
        lines: &plan.note,
        ink: Ink::Number,
        anchor: Anchor::Start,
        x: MARGIN,
        top: plan.height - MARGIN - LINE * plan.note.len() as f64,
        size: (TYPE, LINE),
    };
    let title = Stack {
        lines: &plan.title,
        ink: Ink::Title,
        top: MARGIN,
        size: plan.size.title(),
        ..note
    };
    title.write(svg);
    note.write(svg);
}
