//! The colours of a figure on three grounds. Hues after Okabe and Ito, which the colour-blind tell apart, moved in
//! lightness until they stand out from their ground.

/// A ground with its colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Theme {
    /// For paper and a bright screen.
    Light,
    /// For a dark room.
    Dark,
    /// For full sun: black on white, heavier lines.
    Sun,
}

/// The colours of a theme, as six hexadecimal digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Palette {
    /// Behind everything.
    pub(crate) ground: &'static str,
    /// The titles and the measured points.
    pub(crate) ink: &'static str,
    /// Numbers of the axes and names of what stands beside.
    pub(crate) muted: &'static str,
    /// Axes, rules and bars.
    pub(crate) line: &'static str,
    /// The net behind the points, which may be faint: it carries nothing alone.
    pub(crate) grid: &'static str,
    /// A law.
    pub(crate) law: &'static str,
    /// Its name.
    pub(crate) law_text: &'static str,
    /// Its band.
    pub(crate) band: &'static str,
    /// What to do.
    pub(crate) act: &'static str,
    /// Its name.
    pub(crate) act_text: &'static str,
    /// The stretch to choose.
    pub(crate) highlight: &'static str,
}

impl Theme {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Light, Self::Dark, Self::Sun];

    pub(crate) fn palette(self) -> Palette {
        match self {
            Self::Light => Palette {
                ground: "#ffffff",
                ink: "#14181b",
                muted: "#3f464c",
                line: "#5c656c",
                grid: "#e1e5e8",
                law: "#0072b2",
                law_text: "#004c78",
                band: "#d3e8f5",
                act: "#c85200",
                act_text: "#7a3100",
                highlight: "#fdecd9",
            },
            Self::Dark => Palette {
                ground: "#12171b",
                ink: "#f3f5f6",
                muted: "#cad0d4",
                line: "#98a2aa",
                grid: "#2a3238",
                law: "#56b4e9",
                law_text: "#9cd5f6",
                band: "#1b394c",
                act: "#e69f00",
                act_text: "#f7c964",
                highlight: "#3d2d0c",
            },
            Self::Sun => Palette {
                ground: "#ffffff",
                ink: "#000000",
                muted: "#1c1c1c",
                line: "#333333",
                grid: "#d0d0d0",
                law: "#005a94",
                law_text: "#003e66",
                band: "#b5d7ee",
                act: "#a84300",
                act_text: "#662900",
                highlight: "#ffdfbf",
            },
        }
    }

    /// Returns by how much lines are heavier than on paper.
    pub(crate) fn weight(self) -> f64 {
        match self {
            Self::Light | Self::Dark => 1.0,
            Self::Sun => 1.5,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::elementary::pow;

    /// Relative luminance, WCAG 2.2, definition of terms.
    fn luminance(colour: &str) -> f64 {
        let channel = |at: usize| {
            let part = u8::from_str_radix(&colour[at..at + 2], 16).unwrap();
            let share = f64::from(part) / 255.0;
            if share <= 0.04045 {
                share / 12.92
            } else {
                pow((share + 0.055) / 1.055, 2.4)
            }
        };
        0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
    }

    /// Contrast ratio, WCAG 2.2, definition of terms.
    fn contrast(a: &str, b: &str) -> f64 {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn black_on_white_has_the_contrast_of_the_standard() {
        assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    }

    #[test]
    fn text_and_marks_stand_out_from_every_ground_that_they_may_stand_on() {
        for theme in Theme::ALL {
            let colours = theme.palette();
            let texts = [
                colours.ink,
                colours.muted,
                colours.law_text,
                colours.act_text,
            ];
            let marks = [colours.ink, colours.line, colours.law, colours.act];
            for ground in [colours.ground, colours.band, colours.highlight] {
                for text in texts {
                    let found = contrast(text, ground);
                    assert!(
                        found >= 7.0,
                        "{theme:?} text {text} on {ground}: {found:.1}"
                    );
                }
                for mark in marks {
                    let found = contrast(mark, ground);
                    assert!(
                        found >= 3.0,
                        "{theme:?} mark {mark} on {ground}: {found:.1}"
                    );
                }
            }
        }
    }
}
