//! A filter: its media, which dirt loads and cold water stiffens, and its passages, which neither touches.

use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::water::Water;

/// What a filter filters through.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum FilterMedia {
    /// Pleated fabric.
    Cartridge,
    /// A bed of sand or of another granular medium.
    Sand,
    /// A coat of powder on a fabric, such as diatomaceous earth.
    Precoat,
}

impl FilterMedia {
    /// Every kind, in the order in which a message lists them.
    pub const ALL: [Self; 3] = [Self::Cartridge, Self::Sand, Self::Precoat];

    /// Names the kind as a site file does.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cartridge => "cartridge",
            Self::Sand => "sand",
            Self::Precoat => "precoat",
        }
    }

    /// Reads a name as [`FilterMedia::name`] writes it, whatever the case.
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        Self::ALL
            .into_iter()
            .find(|media| media.name().eq_ignore_ascii_case(text))
    }

    /// Returns the part of a clean filter's rated drop that its media take, where nothing better is known.
    ///
    /// Clean fabric is open and most of its drop lies in inlet, core and manifold; a bed of sand takes about as much
    /// as its valve and laterals. Common practice, no source: the three shares are guesses, good to a factor of about 1.5.
    pub const fn usual_media_share(self) -> f64 {
        match self {
            Self::Cartridge => 0.2,
            Self::Sand => 0.5,
            Self::Precoat => 0.4,
        }
    }
}

/// The law of a clean filter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilterLaw {
    /// Pressure per flow in the clean media at the reference viscosity, Pa s/m³.
    pub media_pa_s_m3: f64,
    /// Pressure per square of flow in the passages, Pa s²/m⁶.
    pub passages_pa_s2_m6: f64,
    /// The dynamic viscosity at which the media were rated, Pa s.
    pub reference_viscosity_pa_s: f64,
}

/// Makes the law of a clean filter from its rated point.
///
/// # Equation
/// a = s Δp / Q, b = (1 − s) Δp / Q²
///
/// # Inputs
/// `flow_m3s`: rated flow, above 0. `drop_pa`: drop of the clean filter there, 0 or more. `media_share`: s, the part of
/// that drop in the media, 0 to 1. `rated_in`: the water of the rating; only its viscosity counts.
///
/// # Returns
/// The law.
///
/// # Validity
/// Flow through the media that is slow enough to be laminar, as in every pool filter: Δp in proportion to velocity.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`], [`HydraulicsError::OutOfRange`].
///
/// # Source
/// H. Darcy, Les fontaines publiques de la ville de Dijon (1856), for the media; loss with the square of flow in
/// passages, as in Crane Technical Paper 410, equation 2-2 (number from memory).
///
/// # Checked against
/// Properties: the rated point is met; media and passages add up.
///
/// # Example
/// ```
/// use hydraulics::{equipment::{filter_law, filter_pressure_pa}, water::Water};
/// let water = Water::fresh(293.15).unwrap();
/// let law = filter_law(3.785e-3, 16_500.0, 0.2, &water).unwrap();
/// let rated = filter_pressure_pa(&law, 1.0, 3.785e-3, &water).unwrap();
/// assert!((rated / 16_500.0 - 1.0).abs() < 1e-12); // Pa
/// ```
pub fn filter_law(
    flow_m3s: f64,
    drop_pa: f64,
    media_share: f64,
    rated_in: &Water,
) -> Result<FilterLaw, HydraulicsError> {
    Quantity::Flow.above_zero(flow_m3s)?;
    Quantity::PressureDrop.zero_or_more(drop_pa)?;
    Quantity::MediaShare.within(media_share, (0.0, 1.0))?;
    Ok(FilterLaw {
        media_pa_s_m3: media_share * drop_pa / flow_m3s,
        passages_pa_s2_m6: (1.0 - media_share) * drop_pa / (flow_m3s * flow_m3s),
        reference_viscosity_pa_s: Quantity::DynamicViscosity
            .above_zero(rated_in.dynamic_viscosity_pa_s)?,
    })
}

/// Computes the pressure that a filter takes.
///
/// # Equation
/// Δp = λ a (μ/μ_ref) Q + b Q²
///
/// # Inputs
/// `law`: of the clean filter. `loading`: λ, 1 when clean, 0 with the media taken out. `flow_m3s`: 0 or more.
/// `water`: its viscosity counts.
///
/// # Returns
/// Pressure drop in Pa.
///
/// # Validity
/// Loading acts on the media only. A gauge rise of so many psi at one speed is another at another speed: with clean
/// media nearly a quarter of it at half the flow, with loaded media nearly half.
///
/// # Errors
/// [`HydraulicsError::BelowZero`]; [`HydraulicsError::NotAboveZero`] for a viscosity that is none.
///
/// # Source
/// As [`filter_law`].
///
/// # Checked against
/// Properties: proportional to loading and viscosity in the media, to the square of flow in the passages.
///
/// # Example
/// ```
/// use hydraulics::{equipment::{filter_law, filter_pressure_pa}, water::Water};
/// let water = Water::fresh(293.15).unwrap();
/// let law = filter_law(3.785e-3, 16_500.0, 0.2, &water).unwrap();
/// let loaded = filter_pressure_pa(&law, 3.0, 3.785e-3, &water).unwrap();
/// assert!((loaded - (3.0 * 3_300.0 + 13_200.0)).abs() < 1e-6); // Pa
/// ```
pub fn filter_pressure_pa(
    law: &FilterLaw,
    loading: f64,
    flow_m3s: f64,
    water: &Water,
) -> Result<f64, HydraulicsError> {
    Quantity::Loading.zero_or_more(loading)?;
    Quantity::Flow.zero_or_more(flow_m3s)?;
    Ok(loading * media_pa(law, flow_m3s, water)? + law.passages_pa_s2_m6 * flow_m3s * flow_m3s)
}

/// Computes how loaded a filter is from its drop.
///
/// # Equation
/// λ = (Δp − b Q²) / (a (μ/μ_ref) Q)
///
/// # Inputs
/// `law`: of the clean filter, with media that take some of the drop. `drop_pa`: 0 or more. `flow_m3s`: above 0.
///
/// # Returns
/// Loading: 1 as when clean. Below 1 the filter takes less than it did when clean, and below 0 less than its passages
/// did: the number is returned as it is, because a wrong gauge or a torn filter shows so.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], also where the clean media take nothing; [`HydraulicsError::BelowZero`].
///
/// # Source
/// As [`filter_law`], solved for the loading.
///
/// # Checked against
/// Properties: round trip with [`filter_pressure_pa`].
///
/// # Example
/// ```
/// use hydraulics::{equipment::{filter_law, filter_loading}, water::Water};
/// let water = Water::fresh(293.15).unwrap();
/// let law = filter_law(3.785e-3, 16_500.0, 0.2, &water).unwrap();
/// let loading = filter_loading(&law, 23_100.0, 3.785e-3, &water).unwrap();
/// assert!((loading - 3.0).abs() < 1e-9);
/// ```
pub fn filter_loading(
    law: &FilterLaw,
    drop_pa: f64,
    flow_m3s: f64,
    water: &Water,
) -> Result<f64, HydraulicsError> {
    Quantity::PressureDrop.zero_or_more(drop_pa)?;
    Quantity::Flow.above_zero(flow_m3s)?;
    let media_pa = Quantity::MediaDrop.above_zero(media_pa(law, flow_m3s, water)?)?;
    Ok((drop_pa - law.passages_pa_s2_m6 * flow_m3s * flow_m3s) / media_pa)
}

/// The pressure that the clean media take.
fn media_pa(law: &FilterLaw, flow_m3s: f64, water: &Water) -> Result<f64, HydraulicsError> {
    let viscosity_pa_s = Quantity::DynamicViscosity.above_zero(water.dynamic_viscosity_pa_s)?;
    let reference_pa_s = Quantity::DynamicViscosity.above_zero(law.reference_viscosity_pa_s)?;
    Ok(law.media_pa_s_m3 * viscosity_pa_s / reference_pa_s * flow_m3s)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn law(share: f64) -> FilterLaw {
        filter_law(4e-3, 20_000.0, share, &Water::fresh(293.15).unwrap()).unwrap()
    }

    #[test]
    fn what_no_filter_has_is_refused() {
        let water = Water::fresh(293.15).unwrap();
        assert!(filter_law(0.0, 1.0, 0.2, &water).is_err());
        assert!(filter_law(1e-3, -1.0, 0.2, &water).is_err());
        for share in [-0.1, 1.1, f64::NAN] {
            let error = filter_law(1e-3, 1.0, share, &water).unwrap_err();
            assert!(error.to_string().ends_with("expected 0 to 1"), "{error}");
        }
        assert!(filter_pressure_pa(&law(0.2), -1.0, 1e-3, &water).is_err());
        // Without media there is no loading to find.
        assert!(filter_loading(&law(0.0), 1e4, 1e-3, &water).is_err());
    }

    #[test]
    fn names_read_back() {
        for media in FilterMedia::ALL {
            assert_eq!(FilterMedia::parse(media.name()), Some(media));
        }
        assert_eq!(FilterMedia::parse("sponge"), None);
    }

    proptest! {
        #[test]
        fn the_rated_point_is_met_and_loading_comes_back(
            share in 0.05_f64..1.0, loading in 0.1_f64..20.0, flow in 1e-4_f64..1e-2, kelvin in 275.0_f64..310.0,
        ) {
            let rated_in = Water::fresh(293.15).unwrap();
            let rated = filter_pressure_pa(&law(share), 1.0, 4e-3, &rated_in).unwrap();
            // A few roundings.
            prop_assert!((rated / 20_000.0 - 1.0).abs() < 1e-14);
            let water = Water::fresh(kelvin).unwrap();
            let drop = filter_pressure_pa(&law(share), loading, flow, &water).unwrap();
            let back = filter_loading(&law(share), drop, flow, &water).unwrap();
            // The media are at least a thousandth of the drop here, so a rounding of the drop grows a thousandfold at most.
            prop_assert!((back / loading - 1.0).abs() < 1e-12);
        }

        #[test]
        fn cold_water_and_dirt_cost_in_the_media_alone(flow in 1e-4_f64..1e-2, loading in 1.0_f64..9.0) {
            let (cold, warm) = (Water::fresh(280.0).unwrap(), Water::fresh(300.0).unwrap());
            let drop = |share: f64, loading: f64, water: &Water| {
                filter_pressure_pa(&law(share), loading, flow, water).unwrap()
            };
            let thicker = cold.dynamic_viscosity_pa_s / warm.dynamic_viscosity_pa_s;
            // A few roundings.
            prop_assert!((drop(1.0, 1.0, &cold) / drop(1.0, 1.0, &warm) / thicker - 1.0).abs() < 1e-14);
            prop_assert!((drop(1.0, loading, &warm) / drop(1.0, 1.0, &warm) / loading - 1.0).abs() < 1e-14);
            prop_assert!((drop(0.0, loading, &cold) / drop(0.0, 1.0, &warm) - 1.0).abs() < 1e-14);
        }
    }
}
