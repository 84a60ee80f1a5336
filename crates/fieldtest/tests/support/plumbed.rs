//! Pads whose truth is known, with the plumbing as a site states it: what each part takes over that, and what gauges then show.
//!
//! The truth is made here from the hydraulics of single parts, one after another; nothing of the calibration stands in it.

#![allow(dead_code, reason = "each test binary uses its share")]
#![allow(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

use hydraulics::constants::{STANDARD_GRAVITY_M_S2, US_GALLON_PER_MINUTE_M3S as GPM_M3S};
use hydraulics::loss::{PipeRun, pipe_loss};
use hydraulics::pump::{CurvePoint, PumpCurve};
use hydraulics::water::Water;
use numerics::elementary::{exp, ln, sin};
use numerics::random::{Draw, Draws};
use numerics::roots::bracketed;
use records::{Site, Source, Test, TestFiles, read_pad};
use std::fmt::Write;

pub(crate) const FT_M: f64 = 0.3048;
pub(crate) const PSI_PA: f64 = 6894.757293168361;
pub(crate) const INHG_PA: f64 = 3386.389;
/// Minimum-wall bores of 2 in and 1-1/2 in Schedule 40, m (ASTM D1785).
pub(crate) const BORE_2_M: f64 = 0.0525018;
pub(crate) const BORE_1_5_M: f64 = 0.040894;
/// The flow of the rated drops, m³/s.
pub(crate) const RATED_M3S: f64 = 60.0 * GPM_M3S;

/// Which gauges are read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Gauges {
    /// At the pump's inlet, at the filter's inlet and at the end of the equipment.
    Three,
    /// Without the last.
    Two,
    None,
}

/// What is true of the pad: what each part takes over what the site states, and the pump over its curve.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Factors {
    /// Of suction, pad and the two returns.
    pub(crate) pipes: [f64; 4],
    pub(crate) fittings: [f64; 4],
    pub(crate) filter: f64,
    pub(crate) media: f64,
    pub(crate) heater: f64,
    pub(crate) pump: f64,
    /// Head that air takes off the pump at its top speed, in the logarithm; with the square of speed below.
    pub(crate) air: f64,
    /// Smooth distance of suction, equipment, returns and pump from their laws.
    pub(crate) waves: [Wave; 4],
}

/// A smooth distance from a law: 2 % of head, alike over 0.7 in the logarithm of flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wave {
    pub(crate) per_ln: f64,
    pub(crate) phase: f64,
}

impl Wave {
    /// A random wave has the covariance that the calibration allows for: A. Rahimi, B. Recht, "Random features for large-scale
    /// kernel machines", NIPS 20 (2007) (from memory).
    pub(crate) fn drawn(draw: &mut Draw) -> Self {
        Self {
            per_ln: draw.normal() / 0.7,
            phase: 2.0 * core::f64::consts::PI * draw.uniform(),
        }
    }

    pub(crate) fn factor(self, flow_m3s: f64) -> f64 {
        let angle = self.per_ln * ln(flow_m3s / RATED_M3S) + self.phase;
        1.0 + 0.02 * 2.0_f64.sqrt() * sin(angle)
    }
}

impl Factors {
    /// Draws from what the calibration says is known before.
    pub(crate) fn drawn(draw: &mut Draw) -> Self {
        let mut factor = |sd_ln: f64| exp(sd_ln * draw.normal());
        Self {
            pipes: [(); 4].map(|()| factor(0.05)),
            fittings: [(); 4].map(|()| factor(0.15)),
            filter: factor(0.20),
            media: 1.5 * factor(ln(1.6)),
            heater: factor(0.20),
            pump: factor(0.05),
            air: 0.0,
            waves: [(); 4].map(|()| Wave::drawn(draw)),
        }
    }
}

/// A pad: lengths, fittings and drops, as the site states them.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stated {
    pub(crate) lengths_ft: [f64; 3],
    pub(crate) k: [f64; 3],
    pub(crate) filter_psi: f64,
    pub(crate) heater_psi: f64,
    pub(crate) shutoff_ft: f64,
}

impl Stated {
    pub(crate) fn drawn(draw: &mut Draw) -> Self {
        let mut between = |low: f64, high: f64| low + (high - low) * draw.uniform();
        Self {
            lengths_ft: [
                between(20.0, 70.0).round(),
                between(8.0, 16.0).round(),
                between(25.0, 80.0).round(),
            ],
            k: [
                between(2.0, 7.0).round(),
                between(2.0, 5.0).round(),
                between(4.0, 10.0).round(),
            ],
            filter_psi: between(2.0, 5.0).round(),
            heater_psi: between(1.0, 4.0).round(),
            shutoff_ft: between(70.0, 100.0).round(),
        }
    }

    pub(crate) fn curve_points(&self) -> Vec<(f64, f64)> {
        let fall = 14.0 / (60.0 * 60.0);
        let head = |gpm: f64| self.shutoff_ft - fall * gpm * gpm;
        (0..8_u32)
            .map(|i| 20.0 * f64::from(i))
            .map(|gpm| (gpm, (10.0 * head(gpm)).round() / 10.0))
            .filter(|(_, head)| *head > 5.0)
            .collect()
    }

    pub(crate) fn curve(&self) -> PumpCurve {
        let points: Vec<CurvePoint> = self
            .curve_points()
            .iter()
            .map(|(gpm, ft)| CurvePoint {
                flow_m3s: gpm * GPM_M3S,
                head_m: ft * FT_M,
                npsh_required_m: None,
                shaft_power_w: None,
                efficiency: None,
            })
            .collect();
        PumpCurve::from_points(&points, 3450.0).unwrap()
    }

    pub(crate) fn site(&self, gauges: Gauges) -> String {
        let mut text = format!(
            "format = 1\nname = \"made up\"\n[pump]\nspeed = {{ max = \"3450 rpm\" }}\nheight = \"1 ft\"\ncurve_speed = \"3450 rpm\"\ncurve = [ {} ]\n",
            self.curve_points()
                .iter()
                .map(|(gpm, ft)| format!("{{ flow = \"{gpm} gpm\", head = \"{ft} ft\" }}"))
                .collect::<Vec<_>>()
                .join(", ")
        );
        text.push_str("[[meter]]\nid = \"F\"\nmeasures = \"flow\"\naccuracy = [\"2 % of reading\"]\nresolution = \"0.1 gpm\"\ncoverage = 2\nshare_common = 0.7\n");
        text.push_str("[[meter]]\nid = \"P\"\nmeasures = \"pressure\"\naccuracy = [\"0.5 psi\"]\nresolution = \"0.1 psi\"\ntap = \"filter inlet\"\nheight = \"3 ft\"\ncoverage = 2\nshare_common = 0.7\n");
        text.push_str("[[meter]]\nid = \"V\"\nmeasures = \"vacuum\"\naccuracy = [\"0.5 inHg\"]\nresolution = \"0.1 inHg\"\ntap = \"pump pot\"\nheight = \"1 ft\"\ncoverage = 2\nshare_common = 0.7\n");
        if gauges == Gauges::Three {
            text.push_str("[[meter]]\nid = \"E\"\nmeasures = \"pressure\"\naccuracy = [\"0.5 psi\"]\nresolution = \"0.1 psi\"\ntap = \"pad outlet\"\nheight = \"3 ft\"\ncoverage = 2\nshare_common = 0.7\n");
        }
        let [suction, pad, back] = self.lengths_ft;
        let k = self.k;
        let _ = write!(
            text,
            "[[line]]\nname = \"suction\"\nfrom = \"pool\"\nto = \"pump inlet\"\nparts = [ {{ pipe = \"2 in\", length = \"{suction} ft\" }}, {{ k = {} }} ]\n\
             [[line]]\nname = \"pad\"\nfrom = \"pump outlet\"\nto = \"pad outlet\"\nparts = [ {{ pipe = \"2 in\", length = \"{pad} ft\" }}, {{ k = {} }}, {{ filter = \"cartridge\", clean = {{ flow = \"60 gpm\", drop = \"{} psi\" }} }}, {{ heater = \"gas\", at = {{ flow = \"60 gpm\", drop = \"{} psi\" }} }} ]\n",
            k[0], k[1], self.filter_psi, self.heater_psi,
        );
        for name in ["return 1", "return 2"] {
            let _ = write!(
                text,
                "[[line]]\nname = \"{name}\"\nfrom = \"pad outlet\"\nto = \"pool\"\nparts = [ {{ pipe = \"1.5 in\", length = \"{back} ft\" }}, {{ k = {} }} ]\n",
                k[2]
            );
        }
        text
    }
}

/// Heads at one flow, m.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Heads {
    pub(crate) suction: f64,
    pub(crate) before_filter: f64,
    pub(crate) pad: f64,
    pub(crate) back: f64,
}

impl Heads {
    pub(crate) fn total(&self) -> f64 {
        self.suction + self.pad + self.back
    }

    pub(crate) fn shares(&self) -> [f64; 3] {
        [self.suction, self.pad, self.back].map(|head| head / self.total())
    }
}

pub(crate) struct Pad {
    pub(crate) stated: Stated,
    pub(crate) factors: Factors,
    pub(crate) water: Water,
}

impl Pad {
    pub(crate) fn weight(&self) -> f64 {
        self.water.density_kg_m3 * STANDARD_GRAVITY_M_S2
    }

    /// The heads that the pad takes.
    pub(crate) fn heads(&self, flow_m3s: f64) -> Heads {
        self.heads_with(flow_m3s, |index| self.factors.waves[index].factor(flow_m3s))
    }

    /// The heads that its parts take by their laws.
    pub(crate) fn heads_by_law(&self, flow_m3s: f64) -> Heads {
        self.heads_with(flow_m3s, |_| 1.0)
    }

    pub(crate) fn heads_with(&self, flow_m3s: f64, wave: impl Fn(usize) -> f64) -> Heads {
        let (stated, factors) = (self.stated, self.factors);
        let line = |index: usize, bore_m: f64, flow: f64| {
            let run = PipeRun {
                bore_m,
                roughness_m: 1.5e-6,
                length_m: stated.lengths_ft[index.min(2)] * FT_M * factors.pipes[index],
                minor_loss_k: stated.k[index.min(2)] * factors.fittings[index],
            };
            pipe_loss(&run, flow, &self.water).unwrap().head_m
        };
        let ratio = flow_m3s / RATED_M3S;
        // A cartridge's media take a fifth of its clean drop, in proportion to viscosity; the rest goes with the square.
        let viscosity = self.water.dynamic_viscosity_pa_s
            / Water::fresh(293.15).unwrap().dynamic_viscosity_pa_s;
        let filter_psi = stated.filter_psi
            * (0.2 * factors.media * viscosity * ratio + 0.8 * factors.filter * ratio * ratio);
        let heater_psi = stated.heater_psi * factors.heater * ratio * ratio;
        let before_filter = line(1, BORE_2_M, flow_m3s);
        // The two returns take the same head.
        let first = self.first_return_m3s(flow_m3s);
        let equipment_m = (filter_psi + heater_psi) * PSI_PA / self.weight();
        Heads {
            suction: wave(0) * line(0, BORE_2_M, flow_m3s),
            before_filter,
            pad: before_filter + wave(1) * equipment_m,
            back: wave(2) * line(2, BORE_1_5_M, first),
        }
    }

    /// The flow in the first of the returns, m³/s.
    pub(crate) fn first_return_m3s(&self, flow_m3s: f64) -> f64 {
        let lost = |index: usize, flow: f64| {
            let run = PipeRun {
                bore_m: BORE_1_5_M,
                roughness_m: 1.5e-6,
                length_m: self.stated.lengths_ft[2] * FT_M * self.factors.pipes[index],
                minor_loss_k: self.stated.k[2] * self.factors.fittings[index],
            };
            pipe_loss(&run, flow, &self.water).unwrap().head_m
        };
        let apart = |first: f64| lost(2, first) - lost(3, flow_m3s - first);
        bracketed(apart, 0.0, flow_m3s, 1e-12).unwrap()
    }

    pub(crate) fn flow_m3s(&self, speed_rpm: f64) -> f64 {
        let curve = self.stated.curve();
        let top = speed_rpm / 3450.0;
        let pump = self.factors.pump * exp(-self.factors.air * top * top);
        let excess = |flow: f64| {
            pump * self.factors.waves[3].factor(flow) * curve.head_and_slope(flow, speed_rpm).head_m
                - self.heads(flow).total()
        };
        bracketed(excess, 1e-6, 200.0 * GPM_M3S, 1e-12).unwrap()
    }

    /// Readings with a common and an own error each, normal with half the stated accuracy as their standard deviation.
    pub(crate) fn readings(&self, gauges: Gauges, draw: &mut Draw) -> String {
        let common = common_errors(draw);
        self.readings_with(gauges, common, draw)
    }

    /// Readings of a visit with meters whose common errors are known.
    pub(crate) fn readings_with(
        &self,
        gauges: Gauges,
        common: [f64; 4],
        draw: &mut Draw,
    ) -> String {
        let mut half = || 0.5 * draw.normal();
        let mut error = |meter: usize| 0.7_f64.sqrt() * common[meter] + 0.3_f64.sqrt() * half();
        let mut text = String::from("speed [rpm],flow F [gpm]");
        if gauges != Gauges::None {
            text.push_str(",filter pressure P [psi],inlet vacuum V [inHg]");
        }
        if gauges == Gauges::Three {
            text.push_str(",filter pressure E [psi]");
        }
        text.push('\n');
        for step in 0..8_u32 {
            let speed = 900.0 + 360.0 * f64::from(step);
            let flow = self.flow_m3s(speed);
            let heads = self.heads(flow);
            let gpm = flow / GPM_M3S * (1.0 + 0.02 * error(0));
            let _ = write!(text, "{speed},{gpm:.1}");
            if gauges != Gauges::None {
                let above = heads.pad - heads.before_filter + heads.back - 3.0 * FT_M;
                let filter = above * self.weight() / PSI_PA + 0.5 * error(1);
                let vacuum = (heads.suction + FT_M) * self.weight() / INHG_PA + 0.5 * error(2);
                let _ = write!(text, ",{filter:.1},{vacuum:.1}");
            }
            if gauges == Gauges::Three {
                let area = 0.25 * core::f64::consts::PI * BORE_2_M * BORE_2_M;
                let velocity = flow / area;
                let above =
                    heads.back - velocity * velocity / (2.0 * STANDARD_GRAVITY_M_S2) - 3.0 * FT_M;
                let end = above * self.weight() / PSI_PA + 0.5 * error(3);
                let _ = write!(text, ",{end:.1}");
            }
            text.push('\n');
        }
        text
    }
}

/// What each of four meters is off by everywhere, in stated accuracies.
pub(crate) fn common_errors(draw: &mut Draw) -> [f64; 4] {
    let mut half = || 0.5 * draw.normal();
    [half(), half(), half(), half()]
}

pub(crate) fn pad(seed: u64, index: u64) -> (Pad, Draw) {
    let mut draw = Draws::new(seed).at(index);
    let pad = Pad {
        stated: Stated::drawn(&mut draw),
        factors: Factors::drawn(&mut draw),
        water: Water::fresh(293.15).unwrap(),
    };
    (pad, draw)
}

pub(crate) fn source(name: String, text: &str) -> Source {
    Source {
        name,
        text: text.to_owned(),
    }
}

/// Reads a site and its tests: name, more of the test file, readings.
pub(crate) fn read(site: &str, tests: &[(&str, &str, &str)]) -> (Site, Vec<Test>) {
    let files: Vec<TestFiles> = tests
        .iter()
        .map(|(name, more, readings)| TestFiles {
            test: source(
                format!("{name}.toml"),
                &format!("format = 1\nreadings = \"{name}.csv\"\n{more}"),
            ),
            readings: Some(source(format!("{name}.csv"), readings)),
        })
        .collect();
    read_pad(&source("site.toml".to_owned(), site), &files).unwrap()
}
