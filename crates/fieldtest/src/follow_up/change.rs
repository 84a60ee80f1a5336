//! What may change of a pad between two visits, and how probable and how large that is before a reading.

/// How probable it is before a reading that nothing changed. Common practice, no source.
pub const PRIOR_OF_NOTHING: f64 = 0.5;

/// What may change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// What the filter's media take.
    Media,
    /// What all lines to the pump take together.
    Suction,
    /// What all lines back to the water take together.
    Returns,
    /// What one line takes: a valve, or dirt in it.
    Line {
        /// The line.
        line: String,
    },
    /// The head of the pump, alike at every flow and speed: its impeller.
    Pump,
    /// The head of the pump, the more the faster it runs: air that is drawn in with the vacuum.
    Air,
}

impl Change {
    /// Whether it is of a whole side of the pad, or of the pump: those can be let free together.
    pub fn is_section(&self) -> bool {
        matches!(
            self,
            Self::Media | Self::Suction | Self::Returns | Self::Pump
        )
    }

    /// Standard deviation of the logarithm of the factor, where it changes. Common practice, no source: media load to three times what
    /// they took, an impeller loses a tenth of its head.
    pub(super) fn sd_ln(&self) -> f64 {
        match self {
            Self::Media => 0.6,
            Self::Suction | Self::Returns => 0.5,
            Self::Line { .. } => 0.7,
            Self::Pump | Self::Air => 0.15,
        }
    }

    /// How probable it is before a reading; all lines share what a moved valve has. Common practice, no source: filters load always,
    /// baskets and skimmers clog often.
    pub(super) fn prior(&self, lines: usize) -> f64 {
        match self {
            Self::Media => 0.20,
            Self::Suction => 0.10,
            Self::Returns => 0.05,
            Self::Line { .. } => 0.08 / lines.max(1) as f64,
            Self::Pump => 0.04,
            Self::Air => 0.03,
        }
    }
}
