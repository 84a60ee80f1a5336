//! Pads drawn at random, over the range of what stands at equipment pads.

use super::pad::{Circuit, Drive, LawfulPad, Pad, PumpCurve};
use hydraulics::HydraulicsError;
use hydraulics::constants::{FOOT_M, STANDARD_GRAVITY_M_S2, US_GALLON_PER_MINUTE_M3S as GPM_M3S};
use hydraulics::loss::PipeRun;
use hydraulics::pipe::PVC_ROUGHNESS_M;
use hydraulics::water::Water;

/// Minimum-wall bores of 1-1/2, 2 and 2-1/2 in Schedule 40, m (ASTM D1785).
const BORES_M: [f64; 3] = [0.040894, 0.0525018, 0.0627126];
/// The flow at which losses are spoken of, m³/s.
const SPOKEN_M3S: f64 = 60.0 * GPM_M3S;

/// A source of numbers that are even between 0 and 1, from which pads, meters and faults are drawn.
pub struct Uniform<'a>(pub &'a mut dyn FnMut() -> f64);

impl Uniform<'_> {
    /// Draws a number between two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.0)()
    }

    /// Draws a whole number below `count`.
    pub fn below(&mut self, count: usize) -> usize {
        // A count of choices is far below 2^52, and the draw below 1.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a number between 0 and a small count"
        )]
        let index = ((self.0)() * count as f64) as usize;
        index.min(count.saturating_sub(1))
    }

    /// Draws a pad of pump, drive and circuit: first what the water does, then a pump whose best flow and a motor whose
    /// rating lie near what that asks of them at top speed.
    ///
    /// # Errors
    /// Those of the hydraulics.
    ///
    /// # Source
    /// The ranges are common practice, no source; they are wider than any one maker's pumps.
    pub fn pad(&mut self, water: Water) -> Result<Pad, HydraulicsError> {
        let fall = self.between(8.0, 20.0) * FOOT_M / (SPOKEN_M3S * SPOKEN_M3S);
        let mut pad = Pad {
            pump: PumpCurve {
                reference_rpm: 3450.0,
                shutoff_m: self.between(60.0, 110.0) * FOOT_M,
                linear: 0.25 * fall * SPOKEN_M3S,
                square: 0.75 * fall,
                best_efficiency: self.between(0.45, 0.68),
                best_flow_m3s: SPOKEN_M3S,
            },
            drive: self.drive(),
            circuit: self.circuit(),
            water,
        };
        let top = pad.at(pad.pump.reference_rpm)?;
        pad.pump.best_flow_m3s = self.between(0.65, 1.1) * top.flow_m3s;
        let weight = pad.water.density_kg_m3 * STANDARD_GRAVITY_M_S2;
        let shaft_w = weight * top.flow_m3s * top.head_m / pad.pump.best_efficiency;
        pad.drive.rated_w = self.between(0.85, 1.4) * shaft_w;
        Ok(pad)
    }

    fn drive(&mut self) -> Drive {
        Drive {
            electronics_w: self.between(12.0, 45.0),
            rated_w: 1500.0,
            no_load: self.between(0.005, 0.025),
            iron: self.between(0.005, 0.03),
            efficiency: self.between(0.82, 0.9),
            power_factor: (self.between(0.10, 0.20), self.between(0.92, 0.98)),
            power_factor_scale_w: self.between(120.0, 320.0),
            supply_v: 230.0,
        }
    }

    fn circuit(&mut self) -> Circuit {
        let suction_bore = BORES_M[1 + self.below(2)];
        let return_bore = BORES_M[self.below(2)];
        // A small return comes in pairs.
        let share = if return_bore < BORES_M[1] { 0.5 } else { 1.0 };
        Circuit {
            suction: vec![(self.run(suction_bore, (15.0, 80.0), (3.0, 10.0)), 1.0)],
            discharge: vec![
                (self.run(BORES_M[1], (8.0, 16.0), (3.0, 6.0)), 1.0),
                (self.run(return_bore, (20.0, 80.0), (6.0, 16.0)), share),
            ],
            filter_media: self.between(0.2, 3.0) * FOOT_M / SPOKEN_M3S,
            passages: self.between(1.0, 11.0) * FOOT_M / (SPOKEN_M3S * SPOKEN_M3S),
            check_valve_m: self.between(0.0, 0.3),
            filter_gauge_m: self.between(0.6, 1.5),
            pump_m: self.between(0.0, 0.6),
        }
    }

    fn run(&mut self, bore_m: f64, length_ft: (f64, f64), minor_loss_k: (f64, f64)) -> PipeRun {
        PipeRun {
            bore_m,
            roughness_m: PVC_ROUGHNESS_M,
            length_m: self.between(length_ft.0, length_ft.1) * FOOT_M,
            minor_loss_k: self.between(minor_loss_k.0, minor_loss_k.1),
        }
    }

    /// Draws a truth that follows the fitted laws. Its current is that of a drive: a third to a half of the volt-amperes
    /// are watts at no speed, nearly all of them at full speed.
    pub fn lawful_pad(&mut self) -> LawfulPad {
        let supply_v = 230.0;
        let (fixed_w, dynamic_w) = (self.between(35.0, 110.0), self.between(1200.0, 2600.0));
        LawfulPad {
            reference_rpm: 3450.0,
            slope_m3s_per_rpm: self.between(0.020, 0.036) * GPM_M3S,
            intercept_rpm: self.between(0.0, 450.0),
            fixed_w,
            dynamic_w,
            exponent: self.between(2.5, 3.1),
            fixed_a: fixed_w / (supply_v * self.between(0.33, 0.5)),
            dynamic_a: dynamic_w / (supply_v * self.between(0.93, 0.98)),
        }
    }
}
