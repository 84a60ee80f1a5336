//! Pads that are read once with everything, so that a test without some of it can be held against one that has it.
//!
//! Pads and readings are drawn by `fieldtest::simulation`.

#![allow(dead_code, reason = "each test binary uses its share")]
#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

use fieldtest::simulation::{MeterModel, Meters, Pad, SimulatedTest, Truth, Uniform, simulate};
use hydraulics::constants::{FOOT_M, US_GALLON_PER_MINUTE_M3S as GPM_M3S};
use hydraulics::water::Water;
use numerics::random::Draws;
use records::{Measured, Site, Source, Test, TestFiles, read_pad};
use std::fmt::Write;

pub(crate) const STEPS_RPM: [f64; 6] = [1200.0, 1600.0, 2000.0, 2450.0, 2900.0, 3450.0];

/// Paddle wheel, power meter, and gauges at the filter and in the pump's pot.
fn models() -> [MeterModel; 4] {
    let [flow, power, _] = MeterModel::USUAL;
    let gauge = |id, measured, unit, absolute| MeterModel {
        id,
        measured,
        unit,
        of_reading: 0.0,
        absolute,
        share_common: 0.7,
        decimals: 1,
    };
    [
        flow,
        power,
        gauge("G", Measured::FilterPressure, "psi", 1.0),
        gauge("V", Measured::InletVacuum, "inHg", 0.8),
    ]
}

/// What of a test is taken.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Taken<'a> {
    /// The columns of these meters are left out.
    pub(crate) without: &'a [&'a str],
    /// So many of its rows, without the one at rest.
    pub(crate) rows: usize,
    /// Whether the row at rest is there.
    pub(crate) at_rest: bool,
}

impl Taken<'_> {
    /// The six steps and the row at rest, on all meters.
    pub(crate) const USUAL: Self = Self {
        without: &[],
        rows: 6,
        at_rest: true,
    };

    fn of(self, text: &str) -> String {
        let headings: Vec<&str> = text.lines().next().unwrap().split(',').collect();
        let is_without = |heading: &str| {
            let named = |id: &&str| heading.contains(&format!(" {id} "));
            self.without.iter().any(named)
        };
        let mut readings = String::new();
        for (line, row) in text.lines().enumerate().take(self.rows + 2) {
            if line == 1 && !self.at_rest {
                continue;
            }
            let cells = row.split(',').zip(&headings);
            let cells = cells.filter(|(_, heading)| !is_without(heading));
            let cells: Vec<&str> = cells.map(|(cell, _)| cell).collect();
            let _ = writeln!(readings, "{}", cells.join(","));
        }
        readings
    }
}

/// One pad with a test that read everything at all steps, and at more.
pub(crate) struct Made {
    site: String,
    full: SimulatedTest,
    /// With one of two returns shut, read at the fastest, at a middle and at a slow step.
    shut: Option<SimulatedTest>,
}

impl Made {
    pub(crate) fn new(seed: u64, more_rpm: &[f64]) -> Self {
        Self::stepped(seed, &STEPS_RPM, more_rpm)
    }

    pub(crate) fn stepped(seed: u64, steps_rpm: &[f64], more_rpm: &[f64]) -> Self {
        let mut draw = Draws::new(seed).at(0);
        let mut next = || draw.uniform();
        let mut uniform = Uniform(&mut next);
        let pad = uniform.pad(Water::fresh(293.15).unwrap()).unwrap();
        let truth = Truth::Rich(pad.clone());
        let meters = Meters::draw(&models(), &mut uniform);
        let speeds: Vec<f64> = steps_rpm.iter().chain(more_rpm).copied().collect();
        let full = simulate(&truth, &speeds, &meters, &mut uniform).unwrap();
        let site = site(&pad, &full);
        let mut one = pad;
        let share = &mut one.circuit.discharge[1].1;
        let both = *share < 1.0;
        *share = 1.0;
        let steps = [1, 3, 5].map(|step| steps_rpm[step]);
        let shut =
            both.then(|| simulate(&Truth::Rich(one), &steps, &meters, &mut uniform).unwrap());
        Self { site, full, shut }
    }

    /// The pad and its test, as far as it is taken.
    pub(crate) fn read(&self, taken: Taken<'_>) -> (Site, Test) {
        let (site, tests) = self.tests(&[self.open(taken)]);
        (site, tests.into_iter().next().unwrap())
    }

    /// The pad, its test, and before that one with the second return shut; `None` where it has one return.
    pub(crate) fn read_with_one_shut(&self) -> Option<(Site, Vec<Test>)> {
        let files = self.shut.as_ref()?.files();
        let all = Taken {
            rows: 3,
            ..Taken::USUAL
        };
        let shut = TestFiles {
            test: source("shut.toml", head("shut", "closed = [\"return 2\"]\n")),
            readings: Some(source("shut.csv", all.of(&files.readings.unwrap().text))),
        };
        Some(self.tests(&[shut, self.open(Taken::USUAL)]))
    }

    fn open(&self, taken: Taken<'_>) -> TestFiles {
        let text = self.full.files().readings.unwrap().text;
        TestFiles {
            test: source("first.toml", head("first", "")),
            readings: Some(source("first.csv", taken.of(&text))),
        }
    }

    fn tests(&self, files: &[TestFiles]) -> (Site, Vec<Test>) {
        read_pad(&source("site.toml", self.site.clone()), files).unwrap()
    }
}

fn head(name: &str, more: &str) -> String {
    format!("format = 1\ndate = 2026-05-16\nreadings = \"{name}.csv\"\n{more}")
}

fn source(name: &str, text: String) -> Source {
    Source {
        name: name.to_owned(),
        text,
    }
}

/// The site file of a pad, with its plumbing and the pump's curve.
fn site(pad: &Pad, test: &SimulatedTest) -> String {
    let curve: Vec<String> = (0..8_u32)
        .map(|i| f64::from(i) * 15.0)
        .map(|gpm| {
            let flow = gpm * GPM_M3S;
            let head_m = pad.pump.shutoff_m - flow * (pad.pump.linear + pad.pump.square * flow);
            format!(
                "{{ flow = \"{gpm} gpm\", head = \"{:.2} ft\" }}",
                head_m / FOOT_M
            )
        })
        .collect();
    let pump = format!(
        "supply = \"230 V\"\nheight = \"{:.3} m\"\ncurve_speed = \"3450 rpm\"\ncurve = [ {} ]\n",
        pad.circuit.pump_m,
        curve.join(", ")
    );
    let mut text = test.site().text.replacen("supply = \"230 V\"\n", &pump, 1);
    text = text.replacen(
        "measures = \"pressure\"\n",
        &format!(
            "measures = \"pressure\"\ntap = \"filter inlet\"\nheight = \"{:.3} m\"\n",
            pad.circuit.filter_gauge_m
        ),
        1,
    );
    text = text.replacen(
        "measures = \"vacuum\"\n",
        &format!(
            "measures = \"vacuum\"\ntap = \"pump pot\"\nheight = \"{:.3} m\"\n",
            pad.circuit.pump_m
        ),
        1,
    );
    let spoken = 60.0 * GPM_M3S;
    let drop_m = pad.circuit.filter_media * spoken + pad.circuit.passages * spoken * spoken;
    let run = |(run, _): &(hydraulics::loss::PipeRun, f64)| {
        format!(
            "{{ pipe_bore = \"{:.3} mm\", length = \"{:.2} m\" }}, {{ k = {:.2} }}",
            1e3 * run.bore_m,
            run.length_m,
            run.minor_loss_k
        )
    };
    let [before, back] = [&pad.circuit.discharge[0], &pad.circuit.discharge[1]];
    let filter = format!(
        "{{ filter = \"cartridge\", clean = {{ flow = \"60 gpm\", drop = \"{:.3} psi\" }} }}",
        drop_m / 0.704
    );
    let lines = [
        (
            "suction",
            "pool",
            "pump inlet",
            run(&pad.circuit.suction[0]),
        ),
        (
            "pad",
            "pump outlet",
            "pad outlet",
            format!("{}, {filter}", run(before)),
        ),
    ];
    for (name, from, to, parts) in lines {
        let _ = write!(
            text,
            "\n[[line]]\nname = \"{name}\"\nfrom = \"{from}\"\nto = \"{to}\"\nparts = [ {parts} ]\n"
        );
    }
    let count = if back.1 < 1.0 { 2 } else { 1 };
    for number in 1..=count {
        let _ = write!(
            text,
            "\n[[line]]\nname = \"return {number}\"\nfrom = \"pad outlet\"\nto = \"pool\"\nparts = [ {} ]\n",
            run(back)
        );
    }
    text
}
