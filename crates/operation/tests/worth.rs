//! Tiers, charges for the highest draw, and worth, against sums by hand; what a year adds up to.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use operation::{
    AskedComparison, AskedYear, Clock, Date, Effort, NoAlternative, YearPlan, compare, plan_year,
};
use records::{ClockTime, Source, TestFiles, read_change, read_pad};

const SITE: &str = "format = 1\nname = \"pad\"\n[water]\nvolume = \"48 m3\"\n[pump]\nspeed = { min = \"600 rpm\", max = \"2900 rpm\" }\n\
    [[line]]\nname = \"suction\"\nfrom = \"pool\"\nto = \"pump inlet\"\nparts = [ { pipe = \"2 in\", length = \"12 m\" } ]\n\
    [[line]]\nname = \"return\"\nfrom = \"pump outlet\"\nto = \"pool\"\nparts = [ { pipe = \"1.5 in\", length = \"18 m\" }, { k = 6.0 } ]\n";
const READINGS: &str = "speed [rpm],flow [m3/h],power [W]\n0,,6\n800,3.8,82\n1100,5.7,130\n1400,7.5,205\n1800,9.9,370\n2200,12.2,620\n2600,14.5,980\n";

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

struct Pad {
    site: records::Site,
    tests: Vec<records::Test>,
    analysis: fieldtest::Analysis,
}

fn pad(operation: &str) -> Pad {
    let site = source("site.toml", &format!("{SITE}[operation]\n{operation}"));
    let files = TestFiles {
        test: source("test.toml", "format = 1\nreadings = \"steps.csv\"\n"),
        readings: Some(source("steps.csv", READINGS)),
    };
    let (site, tests) = read_pad(&site, &[files]).unwrap();
    let analysis = fieldtest::analyze(&site, &tests);
    Pad {
        site,
        tests,
        analysis,
    }
}

fn asked(clock_changes: Vec<(Date, Clock)>) -> AskedYear {
    AskedYear {
        year: 2026,
        least: None,
        slot_minutes: 60,
        effort: Effort::a_second(),
        clock_changes,
    }
}

fn year(operation: &str, clock_changes: Vec<(Date, Clock)>) -> YearPlan {
    let pad = pad(operation);
    plan_year(&pad.site, &pad.analysis, &asked(clock_changes), |_, _| {}).unwrap()
}

const FLAT: &str = "turnover = \"1 per day\"\ntariff = [ { price = \"0.25 EUR/kWh\" } ]\n";

#[test]
fn a_flat_year_costs_its_energy() {
    let plan = year(FLAT, Vec::new());
    assert_eq!((plan.kinds.len(), plan.days.len()), (1, 365));
    let (cost, energy) = (plan.sums.cost.unwrap(), plan.sums.energy_kwh.unwrap());
    assert!((cost.value / energy.value - 0.25).abs() < 1e-12);
    // By hand: 365 days of 48 m³, and not less.
    assert!(plan.sums.volume_m3.unwrap().value >= 365.0 * 48.0 * (1.0 - 1e-9));
}

#[test]
fn tiers_cost_what_they_cost_by_hand() {
    let flat = year(FLAT, Vec::new());
    let tiers = "other_use = \"300 kWh\"\ntiers = [ { up_to = \"310 kWh\", add = \"0 EUR/kWh\" }, { add = \"0.10 EUR/kWh\" } ]\n";
    let tiered = year(&format!("{FLAT}{tiers}"), Vec::new());
    let day_kwh = flat.kinds[0].program.planned.replay.energy_kwh;
    // By hand: of each month's energy, what lies above 10 kWh costs 0.10 more.
    let lengths = [
        31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0,
    ];
    let added: f64 = lengths
        .iter()
        .map(|days| 0.10 * (days * day_kwh - 10.0).max(0.0))
        .sum();
    let more = tiered.sums.cost.unwrap().value - flat.sums.cost.unwrap().value;
    assert!((more / added - 1.0).abs() < 1e-9, "{more} for {added}");
    assert!(added > 0.0);
}

#[test]
fn a_charge_for_the_highest_draw_is_paid_twelve_times() {
    let plan = year(&format!("{FLAT}demand_charge = \"9 EUR/kW\"\n"), Vec::new());
    let top_w = plan.kinds[0].program.planned.replay.top_w;
    let by_hand = 12.0 * 9.0 * top_w / 1000.0;
    assert!((plan.sums.demand / by_hand - 1.0).abs() < 1e-12);
    let energy = plan.sums.energy_kwh.unwrap().value;
    let cost = plan.sums.cost.unwrap().value;
    assert!((cost - 0.25 * energy - by_hand).abs() < 1e-9 * cost);
}

#[test]
fn a_month_is_planned_under_one_ceiling() {
    // Two kinds of day: the dearer week would like a higher draw in its cheap hours.
    let two = "turnover = \"2 per day\"\ntariff = [ { from = \"00:00\", to = \"06:00\", price = \"0.10 EUR/kWh\", days = \"weekdays\" }, \
        { from = \"06:00\", to = \"24:00\", price = \"0.60 EUR/kWh\", days = \"weekdays\" }, { price = \"0.10 EUR/kWh\", days = \"weekends\" } ]\n";
    let free = year(two, Vec::new());
    let charged = year(&format!("{two}demand_charge = \"40 EUR/kW\"\n"), Vec::new());
    let top = |plan: &YearPlan| {
        let tops = plan
            .kinds
            .iter()
            .map(|kind| kind.program.planned.replay.top_w);
        tops.fold(0.0, f64::max)
    };
    assert!(
        top(&charged) < top(&free),
        "{} {}",
        top(&charged),
        top(&free)
    );
    // What the free programs would cost with the charge.
    let with_charge = free.sums.cost.unwrap().value + 12.0 * 40.0 * top(&free) / 1000.0;
    assert!(charged.sums.cost.unwrap().value <= with_charge * (1.0 + 1e-9));
}

#[test]
fn days_of_23_and_25_hours_are_days_of_their_own() {
    let date = |month, day| Date {
        year: 2026,
        month,
        day,
    };
    let at = ClockTime { minutes: 120 };
    let forward = Clock::Forward { at, minutes: 60 };
    let back = Clock::Back { at, minutes: 60 };
    let plan = year(FLAT, vec![(date(3, 8), forward), (date(11, 1), back)]);
    let hours: Vec<(f64, u32)> = plan
        .kinds
        .iter()
        .map(|kind| {
            let hours: f64 = kind.problem.slots.iter().map(|slot| slot.hours).sum();
            (hours.round(), kind.days)
        })
        .collect();
    assert_eq!(hours, [(24.0, 363), (23.0, 1), (25.0, 1)]);
    for kind in &plan.kinds {
        let by_hour = operation::hours(&kind.problem, &kind.program.planned.day);
        let sum: f64 = by_hour.iter().map(|hour| hour.energy_kwh).sum();
        let replay = &kind.program.planned.replay;
        assert!((sum / replay.energy_kwh - 1.0).abs() < 1e-12);
        let length: f64 = by_hour.iter().map(|hour| hour.hours).sum();
        let whole: f64 = kind.problem.slots.iter().map(|slot| slot.hours).sum();
        assert!((length - whole).abs() < 1e-12);
        assert!(by_hour.len() >= 23);
    }
}

#[test]
fn a_turnover_is_met_with_the_chance_that_is_asked_for() {
    let even = pad(FLAT);
    let sure = pad(&format!("{FLAT}turnover_chance = \"90 %\"\n"));
    let chance = |pad: &Pad| {
        let plan = operation::plan(&pad.site, &pad.analysis, &operation::Asked::default()).unwrap();
        let operation::Advice::Day(day) = plan.advice else {
            unreachable!("the pad has a day");
        };
        let cost = day.program.planned.replay.least;
        (day.sums.chance_of_volume.unwrap(), cost)
    };
    let (even, sure) = (chance(&even), chance(&sure));
    assert!((0.4..0.75).contains(&even.0), "{even:?}");
    // 4000 draws: the share itself is known to 0.005.
    assert!(sure.0 >= 0.9 && sure.1 > even.1, "{sure:?} {even:?}");
}

fn compared(changes: &[&str]) -> operation::Comparison {
    compared_under(
        &format!(
            "{FLAT}discount_rate = \"5 %\"\nas_found = [ {{ from = \"08:00\", to = \"16:00\", speed = \"2600 rpm\" }} ]\n"
        ),
        changes,
    )
}

fn compared_under(operation: &str, changes: &[&str]) -> operation::Comparison {
    let pad = pad(operation);
    let changes: Vec<records::Change> = changes
        .iter()
        .map(|text| read_change(&source("change.toml", text), &pad.site).unwrap())
        .collect();
    let asked = AskedComparison {
        year: asked(Vec::new()),
        against: None,
    };
    compare(
        &pad.site,
        &pad.tests,
        &pad.analysis,
        &changes,
        &asked,
        |_, _| {},
    )
    .unwrap()
}

const WIDER: &str = "format = 1\nname = \"wider\"\ncapital = \"200 EUR\"\nlife = \"20 years\"\nmaintenance = \"1 EUR/year\"\n\
    [[part]]\nline = \"return\"\npart = 1\nis = { pipe = \"2 in\", length = \"18 m\" }\n";

#[test]
fn a_wider_pipe_moves_more_water_and_never_costs_more_to_run() {
    let comparison = compared(&[WIDER]);
    let changed = comparison.changes[0].result.as_ref().unwrap();
    let carried = changed.carried.as_ref().unwrap();
    assert!(carried.flow_ratio.iter().all(|ratio| *ratio > 1.0));
    assert!(carried.head_ratio.iter().all(|ratio| *ratio < 1.0));
    let adds = changed.adds.unwrap();
    assert!(adds.value > 0.0 && adds.low > 0.0, "{adds:?}");
    // Of one saving against the program as found, the program alone has its part.
    let whole = changed.plain.saves.unwrap().value;
    let program = comparison.today.saves.unwrap().value;
    assert!((whole - program - adds.value).abs() < 1e-9 * whole);
}

/// By hand: net present value is the net sum of a year times the factor less the capital, and pay-back is capital over the
/// net sum; the factor for 20 years at 5 % is printed as 12.462.
#[test]
fn worth_is_what_the_formula_says() {
    let comparison = compared(&[WIDER]);
    let changed = comparison.changes[0].result.as_ref().unwrap();
    let worth = changed.worth.unwrap();
    let net = changed.adds.unwrap().value - 1.0;
    let by_hand = 12.462_210 * net - 200.0;
    assert!(
        (worth.net_present_value.value - by_hand).abs() < 1e-4,
        "{} for {by_hand}",
        worth.net_present_value.value
    );
    match worth.pay_back.years {
        Some(years) => assert!((years - 200.0 / net).abs() < 1e-9 * years),
        None => assert!(net <= 0.0),
    }
    assert!((0.0..=1.0).contains(&worth.chance));
}

#[test]
fn the_same_part_again_adds_exactly_nothing() {
    let same = "format = 1\nname = \"same\"\n[[line]]\nname = \"return\"\nfrom = \"pump outlet\"\nto = \"pool\"\nparts = [ { pipe = \"1.5 in\", length = \"9 m\" }, { pipe = \"1.5 in\", length = \"9 m\" }, { k = 6.0 } ]\n";
    let comparison = compared(&[same]);
    let changed = comparison.changes[0].result.as_ref().unwrap();
    for ratio in &changed.carried.as_ref().unwrap().flow_ratio {
        assert!((ratio - 1.0).abs() < 1e-8, "{ratio}");
    }
    assert!(changed.adds.unwrap().value.abs() < 1e-5);
}

#[test]
fn another_pump_without_a_curve_today_is_refused() {
    let pump = "format = 1\nname = \"other\"\n[pump]\nspeed = { max = \"3000 rpm\" }\ncurve_speed = \"3000 rpm\"\ncurve = [ { flow = \"0 m3/h\", head = \"14 m\" }, { flow = \"15 m3/h\", head = \"8 m\" } ]\n";
    let comparison = compared(&[pump]);
    assert_eq!(
        comparison.changes[0].result.as_ref().unwrap_err(),
        &NoAlternative::NoCurveToday
    );
}

/// ISO 4217 lists EUR and not ERU.
#[test]
fn a_currency_that_is_not_listed_is_told_of_the_change_that_states_it() {
    let misspelt = WIDER.replace("EUR", "ERU").replace("wider", "misspelt");
    let comparison = compared_under("turnover = \"1 per day\"\n", &[WIDER, &misspelt]);
    let [found] = &comparison.findings[..] else {
        unreachable!("one finding: {:?}", comparison.findings);
    };
    assert_eq!(
        found.matter,
        fieldtest::Matter::UnknownCurrency {
            code: "ERU".to_owned(),
            meant: Some("EUR"),
            change: Some("misspelt".to_owned()),
        }
    );
    assert!(compared(&[WIDER]).findings.is_empty());
}
