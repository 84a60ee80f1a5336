//! The calibrated circuit against pads whose truth is known: shares of suction, pad and return, and what intervals hold.
//!
//! The truth is made here from the hydraulics of single parts, one after another; nothing of the calibration stands in it. Seeds
//! are our own.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

use fieldtest::{Calibration, analyze, calibrate};
use hydraulics::constants::{STANDARD_GRAVITY_M_S2, US_GALLON_PER_MINUTE_M3S as GPM_M3S};
use hydraulics::loss::{PipeRun, pipe_loss};
use hydraulics::pump::{CurvePoint, PumpCurve};
use hydraulics::water::Water;
use metrology::Estimate;
use numerics::elementary::{exp, ln, sin};
use numerics::random::{Draw, Draws};
use numerics::roots::bracketed;
use records::{Source, TestFiles, read_pad};
use std::fmt::Write;

const FT_M: f64 = 0.3048;
const PSI_PA: f64 = 6894.757293168361;
const INHG_PA: f64 = 3386.389;
/// Minimum-wall bores of 2 in and 1-1/2 in Schedule 40, m (ASTM D1785).
const BORE_2_M: f64 = 0.0525018;
const BORE_1_5_M: f64 = 0.040894;
/// The flow of the rated drops, m³/s.
const RATED_M3S: f64 = 60.0 * GPM_M3S;

/// Which gauges are read.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Gauges {
    /// At the pump's inlet, at the filter's inlet and at the end of the equipment.
    Three,
    /// Without the last.
    Two,
    None,
}

/// What is true of the pad: what each part takes over what the site states, and the pump over its curve.
#[derive(Clone, Copy, Debug)]
struct Factors {
    /// Of suction, pad and the two returns.
    pipes: [f64; 4],
    fittings: [f64; 4],
    filter: f64,
    media: f64,
    heater: f64,
    pump: f64,
    /// Smooth distance of suction, equipment, returns and pump from their laws.
    waves: [Wave; 4],
}

/// A smooth distance from a law: 2 % of head, alike over 0.7 in the logarithm of flow.
#[derive(Clone, Copy, Debug)]
struct Wave {
    per_ln: f64,
    phase: f64,
}

impl Wave {
    /// A random wave has the covariance that the calibration allows for: A. Rahimi, B. Recht, "Random features for large-scale
    /// kernel machines", NIPS 20 (2007) (from memory).
    fn drawn(draw: &mut Draw) -> Self {
        Self {
            per_ln: draw.normal() / 0.7,
            phase: 2.0 * core::f64::consts::PI * draw.uniform(),
        }
    }

    fn factor(self, flow_m3s: f64) -> f64 {
        let angle = self.per_ln * ln(flow_m3s / RATED_M3S) + self.phase;
        1.0 + 0.02 * 2.0_f64.sqrt() * sin(angle)
    }
}

impl Factors {
    /// Draws from what the calibration says is known before.
    fn drawn(draw: &mut Draw) -> Self {
        let mut factor = |sd_ln: f64| exp(sd_ln * draw.normal());
        Self {
            pipes: [(); 4].map(|()| factor(0.05)),
            fittings: [(); 4].map(|()| factor(0.15)),
            filter: factor(0.20),
            media: 1.5 * factor(ln(1.6)),
            heater: factor(0.20),
            pump: factor(0.05),
            waves: [(); 4].map(|()| Wave::drawn(draw)),
        }
    }
}

/// A pad: lengths, fittings and drops, as the site states them.
#[derive(Clone, Copy, Debug)]
struct Stated {
    lengths_ft: [f64; 3],
    k: [f64; 3],
    filter_psi: f64,
    heater_psi: f64,
    shutoff_ft: f64,
}

impl Stated {
    fn drawn(draw: &mut Draw) -> Self {
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

    fn curve_points(&self) -> Vec<(f64, f64)> {
        let fall = 14.0 / (60.0 * 60.0);
        let head = |gpm: f64| self.shutoff_ft - fall * gpm * gpm;
        (0..8_u32)
            .map(|i| 20.0 * f64::from(i))
            .map(|gpm| (gpm, (10.0 * head(gpm)).round() / 10.0))
            .filter(|(_, head)| *head > 5.0)
            .collect()
    }

    fn curve(&self) -> PumpCurve {
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

    fn site(&self, gauges: Gauges) -> String {
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
struct Heads {
    suction: f64,
    before_filter: f64,
    pad: f64,
    back: f64,
}

impl Heads {
    fn total(&self) -> f64 {
        self.suction + self.pad + self.back
    }

    fn shares(&self) -> [f64; 3] {
        [self.suction, self.pad, self.back].map(|head| head / self.total())
    }
}

struct Pad {
    stated: Stated,
    factors: Factors,
    water: Water,
}

impl Pad {
    fn weight(&self) -> f64 {
        self.water.density_kg_m3 * STANDARD_GRAVITY_M_S2
    }

    /// The heads that the pad takes.
    fn heads(&self, flow_m3s: f64) -> Heads {
        self.heads_with(flow_m3s, |index| self.factors.waves[index].factor(flow_m3s))
    }

    /// The heads that its parts take by their laws.
    fn heads_by_law(&self, flow_m3s: f64) -> Heads {
        self.heads_with(flow_m3s, |_| 1.0)
    }

    fn heads_with(&self, flow_m3s: f64, wave: impl Fn(usize) -> f64) -> Heads {
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
        let apart = |first: f64| line(2, BORE_1_5_M, first) - line(3, BORE_1_5_M, flow_m3s - first);
        let first = bracketed(apart, 0.0, flow_m3s, 1e-12).unwrap();
        let equipment_m = (filter_psi + heater_psi) * PSI_PA / self.weight();
        Heads {
            suction: wave(0) * line(0, BORE_2_M, flow_m3s),
            before_filter,
            pad: before_filter + wave(1) * equipment_m,
            back: wave(2) * line(2, BORE_1_5_M, first),
        }
    }

    fn flow_m3s(&self, speed_rpm: f64) -> f64 {
        let curve = self.stated.curve();
        let excess = |flow: f64| {
            self.factors.pump
                * self.factors.waves[3].factor(flow)
                * curve.head_and_slope(flow, speed_rpm).head_m
                - self.heads(flow).total()
        };
        bracketed(excess, 1e-6, 200.0 * GPM_M3S, 1e-12).unwrap()
    }

    /// Readings with a common and an own error each, normal with half the stated accuracy as their standard deviation.
    fn readings(&self, gauges: Gauges, draw: &mut Draw) -> String {
        let mut half = || 0.5 * draw.normal();
        let common = [half(), half(), half(), half()];
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

    fn calibration(&self, gauges: Gauges, draw: &mut Draw) -> Calibration {
        let readings = self.readings(gauges, draw);
        calibration(&self.stated.site(gauges), &[("first", "", &readings)])
    }
}

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

const ASKED_RPM: f64 = 2600.0;

fn calibration(site: &str, tests: &[(&str, &str, &str)]) -> Calibration {
    let files: Vec<TestFiles> = tests
        .iter()
        .map(|(name, more, readings)| TestFiles {
            test: source(
                &format!("{name}.toml"),
                &format!("format = 1\nreadings = \"{name}.csv\"\n{more}"),
            ),
            readings: Some(source(&format!("{name}.csv"), readings)),
        })
        .collect();
    let (site, tests) = read_pad(&source("site.toml", site), &files).unwrap();
    let analysis = analyze(&site, &tests);
    calibrate(&site, &tests, &analysis, ASKED_RPM).unwrap()
}

fn pad(seed: u64, index: u64) -> (Pad, Draw) {
    let mut draw = Draws::new(seed).at(index);
    let pad = Pad {
        stated: Stated::drawn(&mut draw),
        factors: Factors::drawn(&mut draw),
        water: Water::fresh(293.15).unwrap(),
    };
    (pad, draw)
}

fn holds(estimate: Estimate, value: f64) -> bool {
    estimate.low <= value && value <= estimate.high
}

/// Counts, per section, how often the share is within 5 points of the truth, and how often its interval holds what the laws of
/// the true parts make of it, and how often the truth itself.
fn counted(seed: u64, sets: u64, gauges: Gauges) -> [[f64; 3]; 3] {
    let mut counts = [[0.0; 3]; 3];
    for index in 0..sets {
        let (pad, mut draw) = pad(seed, index);
        let flow = pad.flow_m3s(ASKED_RPM);
        let (truth, by_law) = (pad.heads(flow).shares(), pad.heads_by_law(flow).shares());
        let found = pad.calibration(gauges, &mut draw);
        assert_eq!(found.budget.sections.len(), 3);
        for (section, (_, share)) in found.budget.sections.iter().enumerate() {
            let close = (share.value - truth[section]).abs() < 0.05;
            counts[section][0] += f64::from(u8::from(close));
            counts[section][1] += f64::from(u8::from(holds(*share, by_law[section])));
            counts[section][2] += f64::from(u8::from(holds(*share, truth[section])));
        }
    }
    counts.map(|counts| counts.map(|count| 100.0 * count / sets as f64))
}

/// The standard error of 95 % of 400 is 1.1 points. A gauge sees the truth, the smooth distance from the laws in it, better than it
/// tells the laws: of the truth the intervals hold more.
#[track_caller]
fn hold(percent: [[f64; 3]; 3]) {
    for [_, by_law, truth] in percent {
        assert!((92.0..=98.0).contains(&by_law), "{percent:?}");
        assert!((92.0..=99.9).contains(&truth), "{percent:?}");
    }
}

#[test]
fn three_gauges_tell_the_shares_of_suction_pad_and_return() {
    let percent = counted(1, 400, Gauges::Three);
    println!("{percent:?}");
    for [close, _, _] in percent {
        assert!(close >= 95.0, "{percent:?}");
    }
    hold(percent);
}

#[test]
fn two_gauges_tell_the_share_of_the_suction() {
    let percent = counted(2, 400, Gauges::Two);
    println!("{percent:?}");
    assert!(percent[0][0] >= 95.0, "{percent:?}");
    hold(percent);
}

#[test]
fn shares_sum_to_one_and_lines_to_their_parts() {
    let (pad, mut draw) = pad(3, 0);
    let budget = pad.calibration(Gauges::Three, &mut draw).budget;
    let lines: f64 = budget.lines.iter().map(|line| line.share.value).sum();
    // Some twenty roundings.
    assert!((lines - 1.0).abs() < 1e-9, "{lines}");
    for line in &budget.lines {
        let parts: f64 = line.parts.iter().map(|part| part.share.value).sum();
        assert!((parts - line.share.value).abs() < 1e-12);
    }
    assert_eq!(budget.lift_share, None);
}

#[test]
fn a_line_that_takes_three_times_as_much_shows() {
    let sets = 40;
    let mut shown = 0;
    for index in 0..sets {
        let (mut pad, mut draw) = pad(4, index);
        pad.factors.pipes[0] *= 3.0;
        pad.factors.fittings[0] *= 3.0;
        let truth = pad.heads(pad.flow_m3s(ASKED_RPM)).shares()[0];
        let found = pad.calibration(Gauges::Two, &mut draw);
        let unlike = found
            .findings
            .iter()
            .any(|finding| matches!(finding.matter.code(), "unlike-stated" | "heads-disagree"));
        shown += u32::from(unlike || holds(found.budget.sections[0].1, truth));
    }
    // What a person at the pad may rely on: 95 of 100 at the least.
    assert!(shown >= 38, "{shown}");
}

#[test]
fn without_gauges_it_says_which_would_tell() {
    let (pad, mut draw) = pad(5, 0);
    let blind = pad.calibration(Gauges::None, &mut draw);
    let seeing = pad.calibration(Gauges::Three, &mut draw);
    let codes: Vec<&str> = blind.findings.iter().map(|it| it.matter.code()).collect();
    assert!(codes.contains(&"not-identifiable"), "{codes:?}");
    let width = |found: &Calibration| {
        let share = found.budget.sections[0].1;
        share.high - share.low
    };
    assert!(width(&blind) > 1.5 * width(&seeing));
}
