//! Where a line begins and ends in still water.

use core::fmt;

use super::{along, reads_as};
use crate::error::HydraulicsError;
use crate::quantity::Quantity;

/// The beginning or the end of a line in still water.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub enum End {
    /// A sharp edge flush with the wall.
    Entrance,
    /// A pipe that reaches into the water.
    ProjectingEntrance,
    /// The end of a pipe, of any shape: the water keeps its velocity and loses it in the pool.
    Exit,
}

impl End {
    /// Every end, in the order in which a message lists them.
    pub const ALL: [Self; 3] = [Self::Entrance, Self::ProjectingEntrance, Self::Exit];

    /// Reads a name as [`End::name`] writes it, whatever the case and the spaces.
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|end| reads_as(text, end.name()))
    }

    /// Names the end as a site file does.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Entrance => "entrance",
            Self::ProjectingEntrance => "projecting entrance",
            Self::Exit => "exit",
        }
    }

    /// Gives K on the velocity in the bore.
    ///
    /// # Source
    /// Crane Technical Paper 410, 2009, page A-30 (page from memory), as printed in the Python package fluids 1.3.1
    /// (`fluids.fittings.entrance_sharp`, `entrance_distance`, `exit_normal`). A rival gives 0.57 for the flush entrance.
    ///
    /// # Checked against
    /// `validation/fittings/fluids`
    pub const fn k(self) -> f64 {
        match self {
            Self::Entrance => 0.5,
            Self::ProjectingEntrance => 0.78,
            Self::Exit => 1.0,
        }
    }
}

impl fmt::Display for End {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Computes the loss coefficient of a flush entrance with a rounded edge after Crane.
///
/// # Equation
/// K = 0.5, 0.28, 0.24, 0.15, 0.09, 0.04 at r/D = 0, 0.02, 0.04, 0.06, 0.10, 0.15, along straight lines between; 0.04 beyond
///
/// # Inputs
/// `radius_ratio`: radius of the edge over the bore, 0 or more.
///
/// # Returns
/// K on the velocity in the bore.
///
/// # Validity
/// Any rounding: the last value holds for all larger radii.
///
/// # Accuracy
/// Rivals differ by a factor of two at r/D = 0.1.
///
/// # Errors
/// [`HydraulicsError::BelowZero`].
///
/// # Source
/// Crane Technical Paper 410, 2009, page A-30 (page from memory), as printed in the Python package fluids 1.3.1
/// (`fluids.fittings.entrance_rounded`).
///
/// # Checked against
/// `validation/fittings/fluids`
///
/// # Example
/// ```
/// let k = hydraulics::fittings::ends::rounded_entrance_k(0.05).unwrap();
/// assert!((k - 0.195).abs() < 1e-12);
/// ```
pub fn rounded_entrance_k(radius_ratio: f64) -> Result<f64, HydraulicsError> {
    const TABLE: [(f64, f64); 6] = [
        (0.0, 0.5),
        (0.02, 0.28),
        (0.04, 0.24),
        (0.06, 0.15),
        (0.10, 0.09),
        (0.15, 0.04),
    ];
    let radius_ratio = Quantity::RadiusRatio.zero_or_more(radius_ratio)?;
    Ok(along(&TABLE, radius_ratio))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_name_reads_back_as_its_end() {
        for end in End::ALL {
            assert_eq!(End::parse(&end.to_string().to_uppercase()), Some(end));
        }
        assert_eq!(End::parse("outlet"), None);
    }

    #[test]
    fn an_edge_without_radius_is_sharp() {
        let sharp = rounded_entrance_k(0.0).unwrap();
        assert!((sharp - End::Entrance.k()).abs() < 1e-15);
        assert!(rounded_entrance_k(-0.1).is_err() && rounded_entrance_k(f64::NAN).is_err());
    }

    proptest! {
        #[test]
        fn rounding_spares_head(radius_ratio in 0.0_f64..0.3, more in 0.0_f64..0.3) {
            let k = |radius_ratio: f64| rounded_entrance_k(radius_ratio).unwrap();
            prop_assert!(k(radius_ratio) >= k(radius_ratio + more) && k(radius_ratio + more) > 0.0);
        }
    }
}
