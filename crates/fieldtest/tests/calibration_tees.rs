//! Tees in the calibrated circuit: the head that they take is in the budget, and shares are told better with them than without.
//!
//! The truth is `solve_pad` of another site file than the one that is calibrated; factors are drawn from what the calibration says
//! is known before, seeds are our own.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

#[path = "support/plumbed.rs"]
mod plumbed;

use fieldtest::{Budget, PadQuestion, SolvedPad, analyze, calibrate, solve_pad};
use hydraulics::constants::US_GALLON_PER_MINUTE_M3S as GPM_M3S;
use numerics::elementary::exp;
use numerics::random::{Draw, Draws};
use plumbed::{FT_M, INHG_PA, PSI_PA};
use records::{Site, Test, TestFiles, read_pad};
use std::fmt::Write;

const TEES: &str = r#"
[[tee]]
at = "pump inlet"
run = ["pump", "skimmer"]
branch = "drain"
[[tee]]
at = "pad outlet"
run = ["pad", "return 1"]
branch = "return 2"
"#;

/// A pad of two suctions and two returns, each length and K times a factor of its own.
fn pad(factor: &mut dyn FnMut(f64) -> f64) -> String {
    let mut text = String::from(
        "format = 1\nname = \"made up\"\n[pump]\nspeed = { max = \"3450 rpm\" }\nheight = \"1 ft\"\ncurve_speed = \"3450 rpm\"\ncurve = [ { flow = \"0 gpm\", head = \"88 ft\" }, { flow = \"60 gpm\", head = \"74 ft\" }, { flow = \"120 gpm\", head = \"32 ft\" } ]\n[[meter]]\nid = \"F\"\nmeasures = \"flow\"\naccuracy = [\"2 % of reading\"]\nresolution = \"0.1 gpm\"\ncoverage = 2\nshare_common = 0.7\n[[meter]]\nid = \"P\"\nmeasures = \"pressure\"\naccuracy = [\"0.5 psi\"]\nresolution = \"0.1 psi\"\ntap = \"filter inlet\"\nheight = \"3 ft\"\ncoverage = 2\nshare_common = 0.7\n[[meter]]\nid = \"V\"\nmeasures = \"vacuum\"\naccuracy = [\"0.5 inHg\"]\nresolution = \"0.1 inHg\"\ntap = \"pump pot\"\nheight = \"1 ft\"\ncoverage = 2\nshare_common = 0.7\n[[meter]]\nid = \"R\"\nmeasures = \"flow\"\non = \"return 1\"\naccuracy = [\"2 % of reading\"]\nresolution = \"0.1 gpm\"\ncoverage = 2\nshare_common = 0.7\n",
    );
    let mut line = |name: &str,
                    ends: [&str; 2],
                    size: &str,
                    (length, k): (f64, f64),
                    more: &str| {
        let (length, k) = (length * factor(0.05), k * factor(0.15));
        let [from, to] = ends;
        let _ = write!(
            text,
            "[[line]]\nname = \"{name}\"\nfrom = \"{from}\"\nto = \"{to}\"\nparts = [ {more}{{ pipe = \"{size}\", length = \"{length:.4} ft\" }}, {{ k = {k:.5} }} ]\n"
        );
    };
    let filter = "{ filter = \"cartridge\", clean = { flow = \"60 gpm\", drop = \"2 psi\" } }, ";
    line("skimmer", ["pool", "pump inlet"], "2 in", (40.0, 3.0), "");
    line("drain", ["pool", "pump inlet"], "2 in", (60.0, 4.0), "");
    line(
        "pad",
        ["pump outlet", "pad outlet"],
        "2 in",
        (12.0, 3.0),
        filter,
    );
    line("return 1", ["pad outlet", "pool"], "2 in", (50.0, 4.0), "");
    line("return 2", ["pad outlet", "pool"], "2 in", (30.0, 3.0), "");
    text
}

fn site(text: &str, files: &[TestFiles]) -> (Site, Vec<Test>) {
    read_pad(&plumbed::source("site.toml".to_owned(), text), files).unwrap()
}

fn solved(site: &Site, speed_rpm: f64) -> SolvedPad {
    let question = PadQuestion {
        speed_rpm,
        closed: &[],
        temperature_k: None,
    };
    solve_pad(site, &question).unwrap()
}

/// Shares of the lines, as the truth has them.
fn shares(pad: &SolvedPad) -> Vec<f64> {
    let whole = pad.flow_m3s * pad.head_m;
    let lines = pad.lines.iter();
    lines
        .map(|line| line.flow_m3s * line.head_loss_m / whole)
        .collect()
}

/// Readings at six speeds, each meter with a common and an own error.
fn readings(truth: &Site, draw: &mut Draw) -> String {
    let mut half = || 0.5 * draw.normal();
    let common = [half(), half(), half(), half()];
    let mut error = |meter: usize| 0.7_f64.sqrt() * common[meter] + 0.3_f64.sqrt() * half();
    let mut text = String::from(
        "speed [rpm],flow F [gpm],flow R [gpm],filter pressure P [psi],inlet vacuum V [inHg]\n",
    );
    for speed in [1500.0, 1900.0, 2300.0, 2700.0, 3100.0, 3450.0] {
        let pad = solved(truth, speed);
        // Of a pool at 20 °C; the pump's inlet takes what either suction does.
        let weight = 998.2 * 9.80665;
        let suction_m = pad.lines[0].head_loss_m;
        let _ = writeln!(
            text,
            "{speed},{:.1},{:.1},{:.1},{:.1}",
            pad.flow_m3s / GPM_M3S * (1.0 + 0.02 * error(0)),
            pad.lines[3].flow_m3s / GPM_M3S * (1.0 + 0.02 * error(1)),
            (pad.filter_pressure_pa.unwrap() - 3.0 * FT_M * weight) / PSI_PA + 0.5 * error(2),
            (suction_m + FT_M) * weight / INHG_PA + 0.5 * error(3),
        );
    }
    text
}

fn budget(text: &str, readings: &str) -> Budget {
    let files = [TestFiles {
        test: plumbed::source(
            "first.toml".to_owned(),
            "format = 1\nreadings = \"first.csv\"\n[condition]\nfilter = \"clean\"\n",
        ),
        readings: Some(plumbed::source("first.csv".to_owned(), readings)),
    }];
    let (site, tests) = site(text, &files);
    let analysis = analyze(&site, &tests);
    calibrate(&site, &tests, &analysis, 2700.0).unwrap().budget
}

#[test]
fn shares_are_told_better_with_the_tees_than_without() {
    const PADS: u64 = 40;
    let (mut with_off, mut without_off, mut held, mut told) = (0.0, 0.0, 0_u32, 0_u32);
    for index in 0..PADS {
        let mut draw = Draws::new(31).at(index);
        let truth = pad(&mut |sd| exp(sd * draw.normal()));
        let (truth, _) = site(&[&truth, TEES].concat(), &[]);
        let rows = readings(&truth, &mut draw);
        let stated = pad(&mut |_| 1.0);
        let true_shares = shares(&solved(&truth, 2700.0));
        let with = budget(&[&stated, TEES].concat(), &rows);
        let without = budget(&stated, &rows);
        for (line, share) in true_shares.iter().enumerate() {
            let off = |of: &Budget| (of.lines[line].share.value - share).abs();
            with_off += off(&with) / (5 * PADS) as f64;
            without_off += off(&without) / (5 * PADS) as f64;
            let interval = with.lines[line].share;
            held += u32::from(interval.low <= *share && *share <= interval.high);
            told += 1;
        }
    }
    let percent = 100.0 * f64::from(held) / f64::from(told);
    println!("off by {with_off:.4} with the tees, {without_off:.4} without; {percent:.1} % held");
    assert!(with_off < without_off, "{with_off} {without_off}");
    // The truth takes what Crane prints at a tee, without the factor about it that the calibration allows for.
    assert!((92.0..=100.0).contains(&percent), "{percent}");
}

/// The example with two tees, each line-up: what parts and tees take along a line is its head, and all power is found again.
#[test]
fn the_budget_of_an_example_with_tees_sums_to_the_head_of_the_step() {
    let file = |name: &str| {
        let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/cedar-court/");
        let text = std::fs::read_to_string([root, name].concat()).unwrap();
        plumbed::source(name.to_owned(), &text)
    };
    let files = ["2026-04-22", "2026-04-22-spa-shut"].map(|test| TestFiles {
        test: file(&format!("{test}.toml")),
        readings: Some(file(&format!("{test}.csv"))),
    });
    for last in [0, 1] {
        let (site, tests) = read_pad(&file("site.toml"), &files[..=last]).unwrap();
        let analysis = analyze(&site, &tests);
        let budget = calibrate(&site, &tests, &analysis, 2600.0).unwrap().budget;
        let head = |line: usize| {
            let line = &budget.lines[line];
            let parts: f64 = line.parts.iter().map(|part| part.head_m.value).sum();
            let tees: f64 = line.tees.iter().map(|tee| tee.head_m.value).sum();
            assert!((parts + tees - line.head_m.value).abs() < 1e-9);
            parts + tees
        };
        // Skimmers, equipment and pool returns lead from the pool to the pool; the other suction is beside the first.
        let whole = head(0) + head(2) + head(3);
        assert!((whole - budget.head_m.value).abs() < 1e-8, "{whole}");
        assert!((head(0) - head(1)).abs() < 1e-8);
        let share = |line: &fieldtest::LineBudget| {
            let parts: f64 = line.parts.iter().map(|part| part.share.value).sum();
            parts + line.tees.iter().map(|tee| tee.share.value).sum::<f64>()
        };
        let shares: f64 = budget.lines.iter().map(share).sum();
        let lift = budget.lift_share.map_or(0.0, |share| share.value);
        assert!((shares + lift - 1.0).abs() < 1e-9, "{shares} {lift}");
        let tees = budget.lines.iter().flat_map(|line| &line.tees);
        let told = tees.filter(|tee| tee.head_m.value.abs() > 0.0);
        for tee in told.clone() {
            println!("{} {:?}", tee.at, tee.head_m);
        }
        assert!(told.count() >= 3);
    }
}
