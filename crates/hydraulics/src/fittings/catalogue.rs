//! The catalogue of fittings of one bore under the names that a site file uses.
//!
//! Each fitting has Crane's equivalent length; some have the coefficients of a rival beside it. What
//! has two bores or two flows is no plain fitting and stands in files of its own.

use core::fmt;

use super::crane::k_of_length_ratio;
use super::reads_as;
use super::three_k::ThreeK;
use super::two_k::TwoK;
use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::warning::Answer;

/// A fitting of one bore.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub enum Fitting {
    /// A standard elbow, its inside edge nearly sharp.
    Elbow90,
    /// A standard elbow of 45 degrees.
    Elbow45,
    /// An elbow with one spigot end.
    Street90,
    /// An elbow of 45 degrees with one spigot end.
    Street45,
    /// A sweep: radius 1.5 bores.
    Sweep90,
    /// A long sweep: radius 3 bores.
    LongSweep90,
    /// Two pipes cut and joined at a right angle.
    Mitre90,
    /// Two pipes cut and joined at 45 degrees.
    Mitre45,
    /// A close return bend of 180 degrees.
    ReturnBend,
    /// A tee whose whole flow goes straight through.
    TeeRun,
    /// A tee whose whole flow turns into or out of the branch.
    TeeBranch,
    /// A coupling.
    Coupling,
    /// A union.
    Union,
}

/// What a catalogue says about a fitting.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Loss {
    /// L/D.
    LengthRatio(f64),
    /// K whatever the bore.
    Fixed(f64),
}

impl Fitting {
    /// Every fitting, in the order in which a message lists them.
    pub const ALL: [Self; 13] = [
        Self::Elbow90,
        Self::Elbow45,
        Self::Street90,
        Self::Street45,
        Self::Sweep90,
        Self::LongSweep90,
        Self::Mitre90,
        Self::Mitre45,
        Self::ReturnBend,
        Self::TeeRun,
        Self::TeeBranch,
        Self::Coupling,
        Self::Union,
    ];

    /// Reads a name as [`Fitting::name`] writes it, whatever the case and the spaces.
    ///
    /// # Example
    /// ```
    /// use hydraulics::fittings::catalogue::Fitting;
    /// assert_eq!(Fitting::parse(" 90  Elbow "), Some(Fitting::Elbow90));
    /// assert_eq!(Fitting::parse("elbow"), None);
    /// ```
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|fitting| reads_as(text, fitting.name()))
    }

    /// Names the fitting as a site file does.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Elbow90 => "90 elbow",
            Self::Elbow45 => "45 elbow",
            Self::Street90 => "street 90",
            Self::Street45 => "street 45",
            Self::Sweep90 => "sweep 90",
            Self::LongSweep90 => "long sweep 90",
            Self::Mitre90 => "mitre 90",
            Self::Mitre45 => "mitre 45",
            Self::ReturnBend => "return bend",
            Self::TeeRun => "tee run",
            Self::TeeBranch => "tee branch",
            Self::Coupling => "coupling",
            Self::Union => "union",
        }
    }

    /// Says where the loss comes from.
    pub const fn source(self) -> &'static str {
        match self {
            Self::Elbow90 | Self::Elbow45 | Self::ReturnBend => {
                "Crane TP-410, standard elbows and return bends, as printed in the Python package fluids 1.3.1"
            }
            Self::Sweep90 | Self::LongSweep90 => {
                "Crane TP-410, 90 degree bends by radius, as printed in the Python package fluids 1.3.1"
            }
            Self::Mitre90 | Self::Mitre45 => {
                "Crane TP-410, mitre bends, as printed in the Python package fluids 1.3.1"
            }
            Self::TeeRun | Self::TeeBranch | Self::Street90 | Self::Street45 => {
                "Crane TP-410, from memory"
            }
            Self::Coupling | Self::Union => "handbook value of a screwed union, from memory",
        }
    }

    const fn loss(self) -> Loss {
        match self {
            Self::Elbow90 => Loss::LengthRatio(30.0),
            Self::Elbow45 => Loss::LengthRatio(16.0),
            Self::Street90 | Self::ReturnBend => Loss::LengthRatio(50.0),
            Self::Street45 => Loss::LengthRatio(26.0),
            Self::Sweep90 => Loss::LengthRatio(14.0),
            Self::LongSweep90 => Loss::LengthRatio(12.0),
            Self::Mitre90 | Self::TeeBranch => Loss::LengthRatio(60.0),
            Self::Mitre45 => Loss::LengthRatio(15.0),
            Self::TeeRun => Loss::LengthRatio(20.0),
            Self::Coupling | Self::Union => Loss::Fixed(0.08),
        }
    }

    /// Gives Crane's equivalent length in bores, `None` where the catalogue has a fixed K.
    pub const fn length_ratio(self) -> Option<f64> {
        match self.loss() {
            Loss::LengthRatio(ratio) => Some(ratio),
            Loss::Fixed(_) => None,
        }
    }

    /// Gives the equivalent length in bores of a plumbing code for screwed fittings, a rival of Crane's.
    ///
    /// # Source
    /// International Residential Code 2018, table A.2.2, screwed fittings; its tee is the one that turns the flow.
    ///
    /// # Checked against
    /// `validation/handbook-fittings/plumbing-code`
    pub const fn plumbing_code_length_ratio(self) -> Option<f64> {
        match self {
            Self::Elbow90 => Some(30.0),
            Self::Elbow45 => Some(14.0),
            Self::ReturnBend => Some(67.0),
            Self::TeeBranch => Some(60.0),
            _ => None,
        }
    }

    /// Gives Hooper's two coefficients, `None` where no row of his could be read without doubt.
    ///
    /// # Source
    /// W. B. Hooper, Chem. Eng. 88 (1981) 96-100, as printed in the Python package fluids 1.3.1 (`fluids.fittings`),
    /// the screwed rows. Its rows of tees that turn the flow, of the screwed return bend and of the flanged straight
    /// tee are mislabelled or doubtful there and are left out.
    ///
    /// # Checked against
    /// `validation/fittings/fluids`
    pub const fn two_k(self) -> Option<TwoK> {
        match self {
            Self::Elbow90 => Some(TwoK::new(800.0, 0.4)),
            Self::Elbow45 => Some(TwoK::new(500.0, 0.2)),
            Self::Sweep90 => Some(TwoK::new(800.0, 0.2)),
            Self::Mitre90 => Some(TwoK::new(1000.0, 1.15)),
            Self::Mitre45 => Some(TwoK::new(500.0, 0.25)),
            Self::TeeRun => Some(TwoK::new(200.0, 0.1)),
            _ => None,
        }
    }

    /// Gives Darby's three coefficients, `None` where he has no such row.
    ///
    /// # Source
    /// R. Darby, Chemical Engineering Fluid Mechanics, 2nd edition, 2001, as printed in the Python package fluids 1.3.1
    /// (`fluids.fittings`), the threaded rows.
    ///
    /// # Checked against
    /// `validation/fittings/fluids`
    pub const fn three_k(self) -> Option<ThreeK> {
        match self {
            Self::Elbow90 => Some(ThreeK::new(800.0, 0.14, 4.0)),
            Self::Elbow45 => Some(ThreeK::new(500.0, 0.071, 4.2)),
            Self::Sweep90 => Some(ThreeK::new(800.0, 0.071, 4.2)),
            Self::Mitre90 => Some(ThreeK::new(1000.0, 0.27, 4.0)),
            Self::Mitre45 => Some(ThreeK::new(500.0, 0.086, 4.0)),
            Self::ReturnBend => Some(ThreeK::new(1000.0, 0.23, 4.0)),
            Self::TeeRun => Some(ThreeK::new(200.0, 0.091, 4.0)),
            Self::TeeBranch => Some(ThreeK::new(500.0, 0.274, 4.0)),
            _ => None,
        }
    }

    /// Computes K on the velocity in the bore, after Crane.
    ///
    /// # Checked against
    /// `validation/fittings/fluids`, `validation/handbook-fittings/elbow-2in`
    ///
    /// # Example
    /// ```
    /// use hydraulics::fittings::catalogue::Fitting;
    /// let k = Fitting::TeeBranch.k(0.0525018).unwrap().value;
    /// assert!((k - 1.1308).abs() < 1e-4);
    /// ```
    pub fn k(self, bore_m: f64) -> Result<Answer<f64>, HydraulicsError> {
        match self.loss() {
            Loss::LengthRatio(ratio) => k_of_length_ratio(ratio, bore_m),
            Loss::Fixed(k) => Quantity::Bore
                .above_zero(bore_m)
                .map(|_| Answer::new(k, None)),
        }
    }
}

impl fmt::Display for Fitting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_reads_back_as_its_fitting() {
        for fitting in Fitting::ALL {
            assert_eq!(Fitting::parse(fitting.name()), Some(fitting));
            assert_eq!(
                Fitting::parse(&fitting.to_string().to_uppercase().replace(' ', " \t")),
                Some(fitting)
            );
            assert!(!fitting.source().is_empty());
        }
        for unknown in ["", "90", "elbow 90", "90elbow", "tee"] {
            assert_eq!(Fitting::parse(unknown), None);
        }
    }

    #[test]
    fn the_impossible_is_refused() {
        for bore_m in [0.0, -0.05, f64::NAN, f64::INFINITY] {
            for fitting in Fitting::ALL {
                assert!(fitting.k(bore_m).is_err());
            }
        }
    }

    #[test]
    fn every_fitting_takes_head_and_a_gentler_one_less() {
        let k = |fitting: Fitting| fitting.k(0.05).unwrap().value;
        for fitting in Fitting::ALL {
            assert!(k(fitting) > 0.0);
        }
        for (gentle, harsh) in [
            (Fitting::LongSweep90, Fitting::Sweep90),
            (Fitting::Sweep90, Fitting::Elbow90),
            (Fitting::Elbow45, Fitting::Elbow90),
            (Fitting::Elbow90, Fitting::Street90),
            (Fitting::Elbow90, Fitting::Mitre90),
            (Fitting::TeeRun, Fitting::TeeBranch),
        ] {
            assert!(k(gentle) < k(harsh));
        }
    }
}
