//! A check valve with a spring: shut below its cracking pressure, hanging in the stream above it.

use crate::error::HydraulicsError;
use crate::quantity::Quantity;
use crate::water::Water;

/// The drop for which a Kv is stated: 1 bar in Pa, exact.
const KV_DROP_PA: f64 = 1e5;

/// The density of the water for which a Kv is stated, kg/m³.
const KV_DENSITY_KG_M3: f64 = 1e3;

/// Seconds in an hour, exact.
const SECONDS_PER_HOUR: f64 = 3600.0;

/// A check valve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CheckValve {
    /// The pressure that begins to lift it, Pa.
    pub cracking_pa: f64,
    /// Its Kv when wide open: the flow in m³/h at a drop of 1 bar.
    pub kv_m3h: f64,
}

/// Computes the pressure that an open check valve takes.
///
/// # Equation
/// Δp = max(p_crack, 1 bar · (ρ / 1000 kg/m³) (Q/Kv)²) for Q > 0
///
/// # Inputs
/// `valve`: cracking pressure 0 or more, Kv above 0. `flow_m3s`: 0 or more. `water`: its density counts.
///
/// # Returns
/// Pressure drop in Pa; at rest 0, for there the valve holds back whatever stands before it.
///
/// # Validity
/// Until the disc is wide open the stream holds it up against the spring, and the drop stays near the cracking
/// pressure; wide open, the valve is a passage. The step between both is sharp here and round in a real valve.
///
/// # Errors
/// [`HydraulicsError::NotAboveZero`], [`HydraulicsError::BelowZero`].
///
/// # Source
/// Kv as in IEC 60534-1:2005, 4.4 (number from memory); the rest is the balance of forces on the disc.
///
/// # Checked against
/// Properties: the cracking pressure at small flow, 1 bar at a flow of Kv, never falls with flow.
///
/// # Example
/// ```
/// use hydraulics::{equipment::{CheckValve, check_valve_pressure_pa}, water::Water};
/// let valve = CheckValve { cracking_pa: 3_447.0, kv_m3h: 22.0 };
/// let drop = check_valve_pressure_pa(&valve, 3.785e-3, &Water::fresh(293.15).unwrap()).unwrap();
/// assert!((drop - 38_300.0).abs() < 100.0); // Pa
/// ```
pub fn check_valve_pressure_pa(
    valve: &CheckValve,
    flow_m3s: f64,
    water: &Water,
) -> Result<f64, HydraulicsError> {
    let cracking_pa = Quantity::CrackingPressure.zero_or_more(valve.cracking_pa)?;
    let kv_m3s = Quantity::FlowCoefficientKv.above_zero(valve.kv_m3h)? / SECONDS_PER_HOUR;
    let through_kv = Quantity::Flow.zero_or_more(flow_m3s)? / kv_m3s;
    let density = Quantity::Density.above_zero(water.density_kg_m3)? / KV_DENSITY_KG_M3;
    if flow_m3s > 0.0 {
        Ok(cracking_pa.max(KV_DROP_PA * density * through_kv * through_kv))
    } else {
        Ok(0.0)
    }
}

impl CheckValve {
    /// Pressure per square of flow wide open, Pa s²/m⁶.
    pub(crate) fn passage_pa_s2_m6(&self, water: &Water) -> f64 {
        let kv_m3s = self.kv_m3h / SECONDS_PER_HOUR;
        KV_DROP_PA * (water.density_kg_m3 / KV_DENSITY_KG_M3) / (kv_m3s * kv_m3s)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const VALVE: CheckValve = CheckValve {
        cracking_pa: 3_000.0,
        kv_m3h: 21.6,
    };

    #[test]
    fn it_hangs_on_its_spring_and_then_is_a_passage() {
        let water = Water {
            density_kg_m3: 1e3,
            ..Water::fresh(290.0).unwrap()
        };
        let drop = |flow: f64| check_valve_pressure_pa(&VALVE, flow, &water).unwrap();
        assert!(drop(0.0).abs() < f64::MIN_POSITIVE);
        assert!((drop(1e-9) - 3_000.0).abs() < 1e-9);
        // 1 bar at a flow of Kv, by its definition.
        assert!((drop(6e-3) - 1e5).abs() < 1e-9);
    }

    #[test]
    fn a_valve_without_a_passage_is_refused() {
        let water = Water::fresh(290.0).unwrap();
        let shut = CheckValve {
            kv_m3h: 0.0,
            ..VALVE
        };
        assert!(check_valve_pressure_pa(&shut, 1e-3, &water).is_err());
        assert!(check_valve_pressure_pa(&VALVE, -1e-3, &water).is_err());
    }

    proptest! {
        #[test]
        fn the_drop_never_falls_with_flow(flow in 0.0_f64..1e-2, more in 0.0_f64..1e-2) {
            let water = Water::fresh(290.0).unwrap();
            let drop = |flow: f64| check_valve_pressure_pa(&VALVE, flow, &water).unwrap();
            prop_assert!(drop(flow + more) >= drop(flow));
        }
    }
}
