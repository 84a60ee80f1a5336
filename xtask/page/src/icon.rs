//! Our icon, as SVG and as pictures in the sizes that phones ask for, all drawn from the same few numbers.
//!
//! A pump's curve falls, a circuit's rises, and where they cross the water runs.

mod raster;

use std::fmt::Write;

use crate::error::Error;
use crate::files::Files;

/// A point in a square of side 1, from its upper left corner.
pub(crate) type Point = (f64, f64);
/// Red, green, blue.
pub(crate) type Colour = [u8; 3];

const GROUND: Colour = [0x0b, 0x3c, 0x49];
const LINE: Colour = [0xf4, 0xf8, 0xf8];
const DOT: Colour = [0xe6, 0x9f, 0x00];
const LINE_WIDTH: f64 = 0.075;
const DOT_RADIUS: f64 = 0.095;
/// Of the corners, where the icon has any.
const CORNER_RADIUS: f64 = 0.2;
/// Pieces that a curve is drawn in: more cannot be seen at the largest size.
const PIECES: u32 = 24;
/// The drawing keeps to the circle that a phone may cut out of the square: 40 % of the side around its middle.
const LEFT: f64 = 0.22;
const RIGHT: f64 = 0.78;

/// What is drawn.
pub(crate) struct Drawing {
    pub(crate) curves: [Vec<Point>; 2],
    pub(crate) dot: Point,
}

/// How the square ends.
#[derive(Clone, Copy)]
pub(crate) enum Corners {
    /// Round, on nothing.
    Round,
    /// Not at all: the phone cuts its own shape.
    Cut,
}

const PICTURES: [(&str, u32, Corners); 4] = [
    ("icon-192.png", 192, Corners::Round),
    ("icon-512.png", 512, Corners::Round),
    ("icon-maskable-512.png", 512, Corners::Cut),
    ("icon-apple-180.png", 180, Corners::Cut),
];

/// Gives the icon in every form.
pub(crate) fn files() -> Result<Files, Error> {
    let drawing = drawing();
    let mut files = Files::from([("icon.svg".to_owned(), svg(&drawing).into_bytes())]);
    for (name, side, corners) in PICTURES {
        let picture = raster::picture(&drawing, side, corners).map_err(Error::Picture)?;
        files.insert(name.to_owned(), picture);
    }
    Ok(files)
}

/// Heads over flow as parabolas: the pump's falls from above, the circuit's rises from its lift.
fn drawing() -> Drawing {
    let pump = |flow: f64| 0.27 + 0.42 * flow * flow;
    let circuit = |flow: f64| 0.73 - 0.42 * flow * flow;
    let curve = |height: &dyn Fn(f64) -> f64| {
        let share = |piece: u32| f64::from(piece) / f64::from(PIECES);
        let point = |flow: f64| (LEFT + (RIGHT - LEFT) * flow, height(flow));
        (0..=PIECES).map(|piece| point(share(piece))).collect()
    };
    // Where both are equal: 0.27 + 0.42 q² = 0.73 - 0.42 q².
    let flow = (0.46_f64 / 0.84).sqrt();
    Drawing {
        curves: [curve(&pump), curve(&circuit)],
        dot: (LEFT + (RIGHT - LEFT) * flow, pump(flow)),
    }
}

fn svg(drawing: &Drawing) -> String {
    const SIDE: f64 = 512.0;
    let hex = |[r, g, b]: Colour| format!("#{r:02x}{g:02x}{b:02x}");
    let at = |(x, y): Point| format!("{:.1} {:.1}", x * SIDE, y * SIDE);
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {SIDE} {SIDE}\">\n\
         <rect width=\"{SIDE}\" height=\"{SIDE}\" rx=\"{:.1}\" fill=\"{}\"/>\n",
        CORNER_RADIUS * SIDE,
        hex(GROUND)
    );
    for curve in &drawing.curves {
        let points: Vec<String> = curve.iter().map(|&point| at(point)).collect();
        // Writing to a string cannot fail.
        let _ = writeln!(
            text,
            "<path d=\"M{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{:.1}\" stroke-linecap=\"round\"/>",
            points.join(" L"),
            hex(LINE),
            LINE_WIDTH * SIDE
        );
    }
    let (x, y) = drawing.dot;
    let _ = writeln!(
        text,
        "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"{:.1}\" fill=\"{}\"/>\n</svg>",
        x * SIDE,
        y * SIDE,
        DOT_RADIUS * SIDE,
        hex(DOT)
    );
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_dot_is_on_both_curves() {
        let drawing = drawing();
        for curve in &drawing.curves {
            let nearest = raster::distance(curve, drawing.dot);
            // The curves are drawn in straight pieces, which lie this little off them.
            assert!(nearest < 1e-3, "{nearest}");
        }
    }

    #[test]
    fn a_phone_cuts_nothing_off() {
        let drawing = drawing();
        for &(x, y) in drawing.curves.iter().flatten() {
            let from_middle = ((x - 0.5) * (x - 0.5) + (y - 0.5) * (y - 0.5)).sqrt();
            // The circle that every cut keeps, of the web app manifest: 40 % of the side.
            assert!(from_middle + 0.5 * LINE_WIDTH <= 0.4, "({x}, {y})");
        }
    }
}
