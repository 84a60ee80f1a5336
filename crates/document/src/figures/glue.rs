//! Holds numbers to their units, so that no line breaks between them.

use charts::Figure;

/// What a number is not parted from.
const UNITS: [&str; 12] = [
    "rpm", "gpm", "m³/h", "W", "Wh", "ft", "m", "ft/s", "m/s", "gal", "m³", "%",
];
const NO_BREAK: char = '\u{A0}';

/// Holds the numbers of every text of a figure that may be broken.
pub(super) fn hold(mut figure: Figure) -> Figure {
    let mut texts = vec![&mut figure.title, &mut figure.note];
    texts.extend([&mut figure.x.title, &mut figure.y.title]);
    texts.extend(
        figure
            .highlight
            .iter_mut()
            .map(|stretch| &mut stretch.label),
    );
    texts.extend(figure.curves.iter_mut().map(|curve| &mut curve.label));
    texts.extend(figure.left_out.iter_mut().map(|point| &mut point.label));
    texts.extend(figure.rules.iter_mut().map(|rule| &mut rule.label));
    for text in texts {
        *text = held(text);
    }
    figure
}

/// Holds numbers to their units and to what stands about a ±.
pub(crate) fn held(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut before = "";
    for word in text.split(' ') {
        let bare = word.trim_end_matches([',', '.', ':', ';']);
        let of_number = before.ends_with(|sign: char| sign.is_ascii_digit());
        if !out.is_empty() {
            let is_held = before == "±" || of_number && (bare == "±" || UNITS.contains(&bare));
            out.push(if is_held { NO_BREAK } else { ' ' });
        }
        out.push_str(word);
        before = word;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_held_to_their_units() {
        let spaced = |text: &str| held(text).replace(NO_BREAK, "_");
        for (text, shown) in [
            (
                "about 27.8 gpm more for every 1000 rpm",
                "about 27.8_gpm more for every 1000_rpm",
            ),
            ("law, 95 % band", "law, 95_% band"),
            ("82 ± 6 W whatever", "82_±_6_W whatever"),
            ("between 860 and 1150 rpm.", "between 860 and 1150_rpm."),
            ("return 1 m", "return 1_m"),
        ] {
            assert_eq!(spaced(text), shown);
        }
    }
}
