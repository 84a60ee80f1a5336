//! What the verdicts and intervals are worth, over many simulated tests.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use fieldtest::simulation::{Fault, MeterModel, Meters, SimulatedTest, Truth, Uniform, simulate};
use fieldtest::{Analysis, analyze};
use hydraulics::water::Water;
use records::read_pad;
use support::doubts;

const MIX: u64 = 0x9E37_79B9_7F4A_7C15;

fn mixed(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed.wrapping_mul(MIX);
    move || {
        state = state.wrapping_add(MIX);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

fn speeds(uniform: &mut Uniform<'_>, count: usize) -> Vec<f64> {
    let low = [600.0, 700.0, 800.0][uniform.below(3)];
    (0..count)
        .map(|i| (low + (3450.0 - low) * i as f64 / (count - 1) as f64).round())
        .collect()
}

fn truth(uniform: &mut Uniform<'_>, rich: bool) -> Truth {
    if rich {
        loop {
            let pad = Truth::Rich(uniform.pad(Water::fresh(300.0).unwrap()).unwrap());
            // A pad that moves nothing at the lowest speed would not be stepped down to it.
            if pad.at(600.0).unwrap().flow_m3s > 3e-4 {
                return pad;
            }
        }
    } else {
        Truth::Lawful(uniform.lawful_pad())
    }
}

fn analysis(test: &SimulatedTest) -> Analysis {
    let (site, tests) = read_pad(&test.site(), &[test.files()]).unwrap();
    analyze(&site, &tests)
}

#[test]
fn report() {
    let n = 2000;
    for rich in [true, false] {
        for count in [6, 11] {
            let (mut alarms, mut q, mut p, mut e, mut f, mut x, mut tot) = (0, 0, 0, 0, 0, 0, 0);
            let mut wf = 0.0;
            let mut wx = 0.0;
            for seed in 0..n {
                let mut next = mixed(seed + 1000 * count as u64);
                let mut uniform = Uniform(&mut next);
                let truth = truth(&mut uniform, rich);
                let meters = Meters::draw(&MeterModel::USUAL, &mut uniform);
                let at = speeds(&mut uniform, count);
                let test = simulate(&truth, &at, &meters, &mut uniform).unwrap();
                let a = analysis(&test);
                if !doubts(&a).is_empty() {
                    alarms += 1;
                    if alarms < 4 {
                        for g in &a.findings {
                            if g.matter.doubts_a_reading() {
                                println!(
                                    "   {:?} {:?} {:?} {:?}",
                                    g.place.column,
                                    g.place.steps_rpm,
                                    g.matter.code(),
                                    test.rows
                                );
                            }
                        }
                    }
                }
                let laws = &a.tests[0].laws;
                let s = uniform.between(at[0], 3450.0);
                let t = truth.at(s).unwrap();
                let within =
                    |e: metrology::Estimate, v: f64| usize::from(e.low <= v && v <= e.high);
                let (Some(fl), Some(po)) = (&laws.flow, &laws.power) else {
                    continue;
                };
                tot += 1;
                q += within(fl.law.predict(s).unwrap(), t.flow_m3s);
                p += within(po.law.predict(s).unwrap(), t.power_w);
                e += within(
                    laws.energy_wh_per_m3(s).unwrap(),
                    t.power_w / t.flow_m3s / 3600.0,
                );
                if let Truth::Lawful(l) = &truth {
                    f += within(po.fixed_w, l.fixed_w);
                    x += within(po.exponent, l.exponent);
                    wf += po.fixed_w.u / l.fixed_w;
                    wx += po.exponent.u;
                }
            }
            let pc = |k: usize| 100.0 * k as f64 / tot as f64;
            println!(
                "rich {rich} steps {count}: alarms {:.2}% flow {:.1} power {:.1} energy {:.1} fixed {:.1} exp {:.1} (mean u fixed {:.3} exp {:.3}) of {tot}",
                100.0 * alarms as f64 / n as f64,
                pc(q),
                pc(p),
                pc(e),
                pc(f),
                pc(x),
                wf / tot as f64,
                wx / tot as f64
            );
        }
    }
}

#[test]
fn detection() {
    let n = 2000_u64;
    for (name, kind) in [("slip", 0), ("swap", 1), ("repeat", 2), ("speed", 3)] {
        let (mut tot, mut caught, mut right, mut extra) = (0, 0, 0, 0);
        let mut missed = Vec::new();
        for seed in 0..n {
            let mut next = mixed(seed + 77_000 + 10_000 * kind);
            let mut uniform = Uniform(&mut next);
            let truth = truth(&mut uniform, true);
            let meters = Meters::draw(&MeterModel::USUAL, &mut uniform);
            let at = speeds(&mut uniform, 11);
            let mut test = simulate(&truth, &at, &meters, &mut uniform).unwrap();
            let (row, meter) = (uniform.below(11), uniform.below(3));
            let fault = match kind {
                0 => Fault::Factor(
                    [10.0, 0.1, 1000.0, 0.001, 3.785_411_784, 1.0 / 3.785_411_784]
                        [uniform.below(6)],
                ),
                1 => Fault::Swapped,
                2 => Fault::Repeated,
                _ => Fault::Speed(at[row] * [0.8, 1.25][uniform.below(2)]),
            };
            let Some(made) = fault.make(&mut test.rows, row, meter, &mut uniform) else {
                continue;
            };
            if kind < 3 {
                let (was, is): (f64, f64) = (made.was.parse().unwrap(), made.is.parse().unwrap());
                let moved = (is / was).ln().abs();
                if kind == 1 && moved < if row == 0 { 0.20 } else { 0.08 } {
                    continue;
                }
                if kind == 2 && moved < 0.08 {
                    continue;
                }
            }
            tot += 1;
            let a = analysis(&test);
            let found: Vec<_> = a
                .findings
                .iter()
                .filter(|f| f.matter.doubts_a_reading())
                .collect();
            caught += usize::from(!found.is_empty());
            let column = ["flow", "power", "current"][meter];
            let wanted = if kind == 3 { "speed" } else { column };
            let ok = found.iter().any(|f| {
                f.place.rows == [test.line_of(row)] && (f.place.column.as_deref() == Some(wanted))
            });
            right += usize::from(ok);
            extra += usize::from(found.len() > 1);
            if !ok {
                missed.push((
                    row,
                    column,
                    made.was.clone(),
                    made.is.clone(),
                    found
                        .iter()
                        .map(|f| {
                            (
                                f.matter.code(),
                                f.place.rows.clone(),
                                f.place.column.clone(),
                            )
                        })
                        .collect::<Vec<_>>(),
                ));
            }
        }
        println!(
            "{name}: {tot} caught {:.1}% right {:.1}% more than one {:.1}%",
            100.0 * caught as f64 / tot as f64,
            100.0 * right as f64 / tot as f64,
            100.0 * extra as f64 / tot as f64
        );
        for m in missed.iter().take(6) {
            println!("    {m:?}");
        }
    }
}
