//! The sizes that a figure is drawn in.

/// A size, in units that are pixels where the figure is shown as large as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// For a phone held upright, 390 pixels wide.
    Narrow,
    /// For a page, a sheet or a screen.
    Wide,
}

/// Room between the frame and what stands in it.
pub(crate) const MARGIN: f64 = 10.0;
/// Size of type: 12 pt at 96 pixels to the inch.
pub(crate) const TYPE: f64 = 16.0;
/// Height of a line of type.
pub(crate) const LINE: f64 = 20.0;

impl Size {
    /// Both, the narrow one first.
    pub const ALL: [Self; 2] = [Self::Narrow, Self::Wide];

    /// Returns the width of the whole figure.
    pub fn width(self) -> f64 {
        match self {
            Self::Narrow => 360.0,
            Self::Wide => 760.0,
        }
    }

    /// Returns the height of the room between the axes.
    pub(crate) fn plot_height(self) -> f64 {
        match self {
            Self::Narrow => 270.0,
            Self::Wide => 330.0,
        }
    }

    /// Returns the size of the title's type and the height of its lines.
    pub(crate) fn title(self) -> (f64, f64) {
        match self {
            Self::Narrow => (18.0, 23.0),
            Self::Wide => (21.0, 27.0),
        }
    }

    /// Returns how wide a label may grow before it is broken.
    pub(crate) fn label_width(self) -> f64 {
        match self {
            Self::Narrow => 150.0,
            Self::Wide => 230.0,
        }
    }
}
