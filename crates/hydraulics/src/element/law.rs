//! A part in a given water as a few numbers: head and slope at any signed flow, for a loop that asks many times.
//!
//! Everything that can be refused is refused when the law is made, so that the loop has nothing to check. For a single
//! number that a person reads, [`element_head_m`](super::element_head_m) is the right call.

use core::f64::consts::PI;

use super::{Element, element_head_m};
use crate::constants::STANDARD_GRAVITY_M_S2;
use crate::equipment::{FilterLaw, RatedDrops};
use crate::error::HydraulicsError;
use crate::friction::group_and_slope;
use crate::loss::{PipeRun, warnings};
use crate::quantity::Quantity;
use crate::warning::Warning;
use crate::water::Water;

/// Below this flow in m³/s the slope of a loss that goes with the square of flow is taken as it is at this flow, so that
/// it is never zero. A microlitre per second: no meter sees it, and with K = 10 on a bore of 50 mm it takes 1e-13 m.
pub const REST_FLOW_M3S: f64 = 1e-9;

/// The head that a part takes at one flow.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct HeadAndSlope {
    /// Loss of head in m, of the sign of the flow.
    pub head_m: f64,
    /// Its derivative over flow, s/m².
    pub slope_s_m2: f64,
}

/// A part of a line in a given water.
///
/// # Equation
/// That of [`element_head_m`](super::element_head_m) at |Q|, with the sign of Q.
///
/// # Validity
/// As [`element_head_m`](super::element_head_m), any flow of either sign. A check valve passes nothing backwards: at no
/// flow its law has the cracking head, which holds as it begins to open, and for Q < 0 it goes on with h = h_crack − k Q²,
/// which no water follows but which leads a search back. [`ElementLaw::closes`] tells such a part. The slope of a loss
/// with the square of flow is held at its value at [`REST_FLOW_M3S`] below that flow.
///
/// # Accuracy
/// Head as [`element_head_m`](super::element_head_m), a few roundings apart; slope to five digits.
///
/// # Example
/// ```
/// use hydraulics::{element::{Element, ElementLaw}, water::Water};
/// let elbow = Element::MinorLoss { k: 0.57, bore_m: 0.0525018 };
/// let law = ElementLaw::new(&elbow, &Water::fresh(293.15).unwrap()).unwrap();
/// let back = law.head_and_slope(-3.785411784e-3);
/// assert!((back.head_m / 0.3048 + 0.2915).abs() < 5e-4); // ft
/// assert!((back.slope_s_m2 * 3.785411784e-3 + 2.0 * back.head_m).abs() < 1e-15); // a square
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct ElementLaw(Law);

#[derive(Clone, Debug, PartialEq)]
enum Law {
    /// Friction in proportion to f Re², and K.
    Pipe {
        reynolds_per_flow: f64,
        relative_roughness: f64,
        head_per_group: f64,
        square: f64,
    },
    /// A head that goes with flow and one that goes with its square.
    Powers {
        linear: f64,
        square: f64,
    },
    Rated {
        drops: RatedDrops,
        head_m_per_pa: f64,
    },
    CheckValve {
        cracking_m: f64,
        square: f64,
    },
}

impl ElementLaw {
    /// Makes the law of a part in a water.
    ///
    /// # Errors
    /// Those of [`element_head_m`](super::element_head_m), and [`HydraulicsError::LossNotFinite`].
    pub fn new(element: &Element, water: &Water) -> Result<Self, HydraulicsError> {
        // It asks all that can be asked of a part.
        element_head_m(element, 0.0, water)?;
        Quantity::Density.above_zero(water.density_kg_m3)?;
        let head_m_per_pa = 1.0 / (water.density_kg_m3 * STANDARD_GRAVITY_M_S2);
        let law = match element {
            Element::Pipe(run) => pipe(run, water),
            Element::MinorLoss { k, bore_m } => Law::Powers {
                linear: 0.0,
                square: k * head_per_k(*bore_m),
            },
            Element::Filter { law, loading } => filter(law, *loading, water)?.times(head_m_per_pa),
            Element::Rated(drops) => Law::Rated {
                drops: drops.clone(),
                head_m_per_pa,
            },
            Element::CheckValve(valve) => Law::CheckValve {
                cracking_m: valve.cracking_pa * head_m_per_pa,
                square: valve.passage_pa_s2_m6(water) * head_m_per_pa,
            },
        };
        if law.is_finite() {
            Ok(Self(law))
        } else {
            Err(HydraulicsError::LossNotFinite)
        }
    }

    /// Becomes the law of another part or in another water. Nothing is allocated unless a table takes the place of
    /// something else.
    pub(crate) fn change(
        &mut self,
        element: &Element,
        water: &Water,
    ) -> Result<(), HydraulicsError> {
        if let (
            Law::Rated {
                drops,
                head_m_per_pa,
            },
            Element::Rated(given),
        ) = (&mut self.0, element)
        {
            let density_kg_m3 = Quantity::Density.above_zero(water.density_kg_m3)?;
            drops.become_like(given);
            *head_m_per_pa = 1.0 / (density_kg_m3 * STANDARD_GRAVITY_M_S2);
            return Ok(());
        }
        *self = Self::new(element, water)?;
        Ok(())
    }

    /// Whether the part passes water one way only.
    pub fn closes(&self) -> bool {
        matches!(self.0, Law::CheckValve { .. })
    }

    /// Computes head and slope at a flow in m³/s of either sign, without a check and without allocating.
    #[inline]
    pub fn head_and_slope(&self, flow_m3s: f64) -> HeadAndSlope {
        let size = flow_m3s.abs();
        let moving = size.max(REST_FLOW_M3S);
        let (head_m, slope_s_m2) = match &self.0 {
            Law::Pipe {
                reynolds_per_flow,
                relative_roughness,
                head_per_group,
                square,
            } => {
                let (group, slope) = group_and_slope(reynolds_per_flow * size, *relative_roughness);
                (
                    head_per_group * group + square * size * size,
                    head_per_group * slope * reynolds_per_flow + 2.0 * square * moving,
                )
            }
            Law::Powers { linear, square } => (
                (linear + square * size) * size,
                linear + 2.0 * square * moving,
            ),
            Law::Rated {
                drops,
                head_m_per_pa,
            } => {
                let (drop_pa, slope) = drops.drop_and_slope(size, moving);
                (drop_pa * head_m_per_pa, slope * head_m_per_pa)
            }
            Law::CheckValve { cracking_m, square } => {
                return check_valve(*cracking_m, *square, flow_m3s);
            }
        };
        HeadAndSlope {
            head_m: if flow_m3s < 0.0 { -head_m } else { head_m },
            slope_s_m2,
        }
    }

    /// Says what must be said beside the head at a flow, without allocating.
    pub fn warnings(&self, flow_m3s: f64) -> impl Iterator<Item = Warning> {
        let said = match &self.0 {
            Law::Pipe {
                reynolds_per_flow,
                relative_roughness,
                ..
            } => warnings(reynolds_per_flow * flow_m3s.abs(), *relative_roughness),
            Law::Rated { drops, .. } => [drops.warning(flow_m3s.abs()), None, None],
            Law::Powers { .. } | Law::CheckValve { .. } => [None; 3],
        };
        said.into_iter().flatten()
    }
}

impl Law {
    fn times(self, factor: f64) -> Self {
        match self {
            Self::Powers { linear, square } => Self::Powers {
                linear: linear * factor,
                square: square * factor,
            },
            other => other,
        }
    }

    fn is_finite(&self) -> bool {
        match self {
            Self::Pipe {
                reynolds_per_flow,
                head_per_group,
                square,
                ..
            } => [reynolds_per_flow, head_per_group, square]
                .into_iter()
                .all(|number| number.is_finite()),
            Self::Powers { linear, square } => linear.is_finite() && square.is_finite(),
            Self::Rated { head_m_per_pa, .. } => head_m_per_pa.is_finite(),
            Self::CheckValve { cracking_m, square } => cracking_m.is_finite() && square.is_finite(),
        }
    }
}

/// Velocity heads per square of flow in a bore, s²/m⁵.
fn head_per_k(bore_m: f64) -> f64 {
    let area_m2 = 0.25 * PI * bore_m * bore_m;
    1.0 / (2.0 * STANDARD_GRAVITY_M_S2 * area_m2 * area_m2)
}

fn pipe(run: &PipeRun, water: &Water) -> Law {
    let reynolds_per_flow =
        4.0 * water.density_kg_m3 / (PI * run.bore_m * water.dynamic_viscosity_pa_s);
    let per_k = head_per_k(run.bore_m);
    Law::Pipe {
        reynolds_per_flow,
        relative_roughness: run.roughness_m / run.bore_m,
        head_per_group: run.length_m / run.bore_m * per_k / (reynolds_per_flow * reynolds_per_flow),
        square: run.minor_loss_k * per_k,
    }
}

/// A filter's pressure in powers of flow.
fn filter(law: &FilterLaw, loading: f64, water: &Water) -> Result<Law, HydraulicsError> {
    let thickness = water.dynamic_viscosity_pa_s / law.reference_viscosity_pa_s;
    Ok(Law::Powers {
        linear: loading * Quantity::MediaDrop.zero_or_more(law.media_pa_s_m3)? * thickness,
        square: Quantity::PressureDrop.zero_or_more(law.passages_pa_s2_m6)?,
    })
}

fn check_valve(cracking_m: f64, square: f64, flow_m3s: f64) -> HeadAndSlope {
    let passage_m = square * flow_m3s * flow_m3s;
    if flow_m3s < 0.0 {
        HeadAndSlope {
            head_m: cracking_m - passage_m,
            slope_s_m2: -2.0 * square * flow_m3s,
        }
    } else if passage_m > cracking_m {
        HeadAndSlope {
            head_m: passage_m,
            slope_s_m2: 2.0 * square * flow_m3s,
        }
    } else {
        HeadAndSlope {
            head_m: cracking_m,
            slope_s_m2: 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::equipment::{CheckValve, filter_law};

    fn water() -> Water {
        Water::fresh(293.15).unwrap()
    }

    fn elements() -> Vec<Element> {
        let law = filter_law(4e-3, 20_000.0, 0.3, &Water::fresh(285.0).unwrap()).unwrap();
        let points = [(2e-3, 4_000.0), (4e-3, 15_000.0), (6e-3, 30_000.0)];
        vec![
            Element::Pipe(PipeRun {
                bore_m: 0.05,
                roughness_m: 1.5e-6,
                length_m: 12.0,
                minor_loss_k: 2.5,
            }),
            Element::MinorLoss {
                k: 4.0,
                bore_m: 0.04,
            },
            Element::Filter { law, loading: 2.0 },
            Element::Rated(RatedDrops::new(&points).unwrap()),
            Element::CheckValve(CheckValve {
                cracking_pa: 3_000.0,
                kv_m3h: 21.6,
            }),
        ]
    }

    #[test]
    fn a_law_takes_nothing_at_rest_and_has_a_slope_there() {
        for element in elements() {
            let law = ElementLaw::new(&element, &water()).unwrap();
            let rest = law.head_and_slope(0.0);
            if law.closes() {
                // As it begins to open.
                assert!(
                    (rest.head_m * water().density_kg_m3 * 9.80665 / 3_000.0 - 1.0).abs() < 1e-14
                );
            } else {
                assert!(rest.head_m.abs() < f64::MIN_POSITIVE && rest.slope_s_m2 > 0.0);
            }
        }
    }

    #[test]
    fn what_is_impossible_is_refused_when_the_law_is_made() {
        let refused = |element: &Element| ElementLaw::new(element, &water()).is_err();
        assert!(refused(&Element::MinorLoss {
            k: f64::NAN,
            bore_m: 0.05
        }));
        assert!(refused(&Element::MinorLoss {
            k: 1.0,
            bore_m: 1e-90
        }));
        let law = FilterLaw {
            media_pa_s_m3: -1.0,
            passages_pa_s2_m6: 0.0,
            reference_viscosity_pa_s: 1e-3,
        };
        assert!(refused(&Element::Filter { law, loading: 1.0 }));
        let dry = Water {
            density_kg_m3: 0.0,
            ..water()
        };
        assert!(
            elements()
                .iter()
                .all(|element| ElementLaw::new(element, &dry).is_err())
        );
    }

    proptest! {
        #[test]
        fn the_head_is_that_of_the_checked_function_and_odd(ln_flow in -16.0_f64..-3.9) {
            let flow = numerics::elementary::exp(ln_flow);
            for element in elements() {
                let law = ElementLaw::new(&element, &water()).unwrap();
                let checked = element_head_m(&element, flow, &water()).unwrap();
                // A few roundings of either.
                prop_assert!((law.head_and_slope(flow).head_m / checked.value - 1.0).abs() < 1e-13);
                prop_assert_eq!(law.warnings(-flow).count(), checked.warnings.len());
                if !law.closes() {
                    let back = law.head_and_slope(-flow);
                    prop_assert!((back.head_m + law.head_and_slope(flow).head_m).abs() < f64::MIN_POSITIVE);
                }
            }
        }

        #[test]
        fn the_slope_is_the_derivative(flow in -2e-2_f64..2e-2) {
            for element in elements() {
                let law = ElementLaw::new(&element, &water()).unwrap();
                let step = 1e-3 * flow.abs() + 1e-9;
                let head = |flow: f64| law.head_and_slope(flow).head_m;
                let secant = (head(flow + step) - head(flow - step)) / (2.0 * step);
                let least = law.head_and_slope(flow - step).slope_s_m2;
                let most = law.head_and_slope(flow + step).slope_s_m2;
                let (least, most) = (least.min(most), least.max(most));
                let own = law.head_and_slope(flow).slope_s_m2;
                // Between the slopes at both ends, also across a kink; a rounding of the head in a step of 1e-9.
                let slack = 1e-3 * own.abs().max(most) + 1e-6;
                prop_assert!((least - slack..=most + slack).contains(&secant), "{element:?} at {flow}");
            }
        }
    }
}
