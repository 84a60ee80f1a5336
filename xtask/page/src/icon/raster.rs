//! The drawing as a picture: every pixel by its distance from what is drawn, so that edges are smooth.
//!
//! An edge has eight shades between in and out, which the eye takes for smooth, so the few colours fit a palette: a quarter of the bytes.

use std::io;

use super::{
    CORNER_RADIUS, Colour, Corners, DOT, DOT_RADIUS, Drawing, GROUND, LINE, LINE_WIDTH, Point,
};

/// Of an edge, between in and out.
const SHADES: f64 = 8.0;

/// Draws a square picture and encodes it as PNG.
pub(super) fn picture(
    drawing: &Drawing,
    side: u32,
    corners: Corners,
) -> Result<Vec<u8>, png::EncodingError> {
    let pixel = |index: u32| {
        let middle = |index: u32| (f64::from(index) + 0.5) / f64::from(side);
        colour(
            drawing,
            corners,
            (middle(index % side), middle(index / side)),
            1.0 / f64::from(side),
        )
    };
    let mut palette: Vec<[u8; 4]> = Vec::new();
    let in_palette = |colour: [u8; 4]| {
        let known = palette.iter().position(|of_it| *of_it == colour);
        known.unwrap_or_else(|| {
            palette.push(colour);
            palette.len() - 1
        })
    };
    let places: Vec<usize> = (0..side * side).map(pixel).map(in_palette).collect();
    let places: Result<Vec<u8>, _> = places.into_iter().map(u8::try_from).collect();
    let places = places.map_err(|_| io::Error::other("an icon has more than 256 colours"))?;

    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, side, side);
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::High);
    let (colours, opacities): (Vec<_>, Vec<_>) = palette
        .iter()
        .map(|[red, green, blue, opacity]| ([*red, *green, *blue], *opacity))
        .unzip();
    encoder.set_palette(colours.concat());
    encoder.set_trns(opacities);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&places)?;
    writer.finish()?;
    Ok(bytes)
}

/// Gives the colour of a pixel of this width around a point.
fn colour(drawing: &Drawing, corners: Corners, at: Point, width: f64) -> [u8; 4] {
    // The share of the pixel that lies inside something whose edge is this far outwards.
    let inside = |outwards: f64| {
        let share = (0.5 - outwards / width).clamp(0.0, 1.0);
        (share * SHADES).round() / SHADES
    };
    let mut colour = GROUND;
    for curve in &drawing.curves {
        colour = mixed(colour, LINE, inside(distance(curve, at) - 0.5 * LINE_WIDTH));
    }
    colour = mixed(
        colour,
        DOT,
        inside(length(minus(at, drawing.dot)) - DOT_RADIUS),
    );
    let opaque = match corners {
        Corners::Round => inside(beyond_corners(at)),
        Corners::Cut => 1.0,
    };
    let [red, green, blue] = colour;
    [red, green, blue, byte(255.0 * opaque)]
}

fn mixed(below: Colour, above: Colour, share: f64) -> Colour {
    let mix = |(below, above): (u8, u8)| {
        byte(f64::from(below) + share * (f64::from(above) - f64::from(below)))
    };
    [
        (below[0], above[0]),
        (below[1], above[1]),
        (below[2], above[2]),
    ]
    .map(mix)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a share of a byte, rounded, is a byte"
)]
fn byte(value: f64) -> u8 {
    value.round().clamp(0.0, 255.0) as u8
}

/// How far a point lies outside the square with round corners; negative within.
fn beyond_corners((x, y): Point) -> f64 {
    let reach = |along: f64| (along - 0.5).abs() - (0.5 - CORNER_RADIUS);
    let (x, y) = (reach(x), reach(y));
    length((x.max(0.0), y.max(0.0))) + x.max(y).min(0.0) - CORNER_RADIUS
}

/// How far a point lies from a line of straight pieces.
pub(super) fn distance(line: &[Point], at: Point) -> f64 {
    let from_piece = |ends: &[Point]| match ends {
        [start, end] => {
            let (along, to) = (minus(*end, *start), minus(at, *start));
            let share = (dot(to, along) / dot(along, along)).clamp(0.0, 1.0);
            length(minus(to, (share * along.0, share * along.1)))
        }
        _ => f64::INFINITY,
    };
    line.windows(2)
        .map(from_piece)
        .fold(f64::INFINITY, f64::min)
}

fn minus(a: Point, b: Point) -> Point {
    (a.0 - b.0, a.1 - b.1)
}

fn dot(a: Point, b: Point) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

fn length(a: Point) -> f64 {
    dot(a, a).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_are_those_of_geometry() {
        let line = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)];
        for (at, expected) in [((0.5, 0.25), 0.25), ((1.5, 0.5), 0.5), ((-3.0, -4.0), 5.0)] {
            assert!((distance(&line, at) - expected).abs() < 1e-12, "{at:?}");
        }
        assert!((beyond_corners((0.5, 0.0))).abs() < 1e-12);
        assert!(beyond_corners((0.01, 0.01)) > 0.0);
    }
}
