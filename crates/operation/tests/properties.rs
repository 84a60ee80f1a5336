//! What holds for any day: rules are kept, more freedom costs nothing, prices scale, a conflict is a smallest one.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod support;

use operation::{Effort, Outcome, Planned, Problem, Rule, conflict, replay, schedule};
use support::{Chance, Size, problem};

/// How many problems are made up for each property.
const PROBLEMS: u64 = 150;
/// A day within 2e-12 of the most that a day can cost counts as the best one.
const TOLERANCE: f64 = 1e-9;

const MIDDLE: Size = Size {
    slots: 12,
    speeds: 5,
};

fn solved(problem: &Problem) -> Option<Planned> {
    match schedule(problem, &mut Effort::a_second()).unwrap() {
        Outcome::Found(planned) => Some(planned),
        Outcome::Impossible => None,
        Outcome::Unsettled => unreachable!("a small problem is settled: {problem:?}"),
    }
}

/// The problems of this size that have a day, with it.
fn possible() -> impl Iterator<Item = (u64, Problem, Planned)> {
    let made = (5000..5000 + PROBLEMS).map(|number| (number, problem(number, MIDDLE)));
    made.filter_map(|(number, problem)| {
        let planned = solved(&problem)?;
        Some((number, problem, planned))
    })
}

#[test]
fn a_day_keeps_every_rule_when_it_is_replayed() {
    let mut seen = 0;
    for (number, problem, planned) in possible() {
        let replay = replay(&problem, &planned.day);
        assert!(replay.broken.is_empty(), "{number}: {replay:?}");
        assert!(planned.gap() <= 0.0, "{number}: {}", planned.gap());
        seen += 1;
    }
    assert!(seen > 40, "{seen} days");
}

#[test]
fn more_freedom_never_costs_more() {
    for (number, problem, planned) in possible() {
        for rule in 0..problem.rules.len() {
            let mut freer = problem.clone();
            match &mut freer.rules[rule] {
                Rule::Volume { min_m3 } => *min_m3 *= 0.9,
                Rule::Task(task) => task.hours *= 0.5,
                Rule::MaxSpeed { slots, .. } | Rule::NoStart { slots } => {
                    slots.truncate(slots.len() / 2);
                }
                Rule::Starts { max } | Rule::Speeds { max } | Rule::Changes { max } => *max += 1,
                Rule::Run { min_hours } => *min_hours = (*min_hours - 2.0).max(0.0),
                Rule::Pause { max_hours } => *max_hours += 2.0,
            }
            let least = solved(&freer).unwrap().replay.least;
            let slack = TOLERANCE * planned.replay.least.abs().max(1e-3);
            assert!(
                least <= planned.replay.least + slack,
                "{number}, rule {rule}"
            );
        }
    }
}

#[test]
fn days_scale_with_prices() {
    for (number, mut problem, planned) in possible() {
        for slot in &mut problem.slots {
            slot.price_per_kwh = slot.price_per_kwh.map(|price| 3.0 * price);
        }
        let scaled = solved(&problem).unwrap().replay;
        let factor = if problem.least == operation::Least::Cost {
            3.0
        } else {
            1.0
        };
        let wanted = factor * planned.replay.least;
        assert!(
            (scaled.least - wanted).abs() <= TOLERANCE * wanted.abs().max(1e-3),
            "{number}"
        );
    }
}

#[test]
fn a_conflict_cannot_hold_and_is_none_without_any_of_its_rules() {
    let mut seen = 0;
    for number in 0..400 {
        let problem = problem(
            number,
            Size {
                slots: 6,
                speeds: 3,
            },
        );
        if solved(&problem).is_some() {
            continue;
        }
        let found = conflict(&problem, Effort::a_second()).unwrap();
        let with = |kept: &[usize]| {
            let mut changed = problem.clone();
            changed.rules = kept
                .iter()
                .map(|rule| problem.rules[*rule].clone())
                .collect();
            solved(&changed)
        };
        assert!(
            !found.is_empty() && with(&found).is_none(),
            "{number}: {found:?}"
        );
        for rule in &found {
            let others: Vec<usize> = found
                .iter()
                .copied()
                .filter(|other| other != rule)
                .collect();
            assert!(
                with(&others).is_some(),
                "{number}: {found:?} without {rule}"
            );
        }
        seen += 1;
    }
    assert!(seen > 40, "{seen} conflicts");
}

#[test]
fn with_little_effort_the_gap_says_what_is_open() {
    let (mut open, mut chance) = (0, Chance::new(1));
    for (number, problem, planned) in possible() {
        let steps = 100 + chance.below(20_000) as u64;
        match schedule(&problem, &mut Effort::steps(steps)).unwrap() {
            Outcome::Found(hurried) => {
                assert!(hurried.replay.broken.is_empty(), "{number}");
                let slack = TOLERANCE * planned.replay.least.abs().max(1e-3);
                assert!(
                    hurried.bound <= planned.replay.least + slack,
                    "{number}: {} for {}",
                    hurried.bound,
                    planned.replay.least
                );
                assert!(
                    hurried.replay.least >= planned.replay.least - slack,
                    "{number}"
                );
                open += u32::from(hurried.gap() > 0.0);
            }
            Outcome::Unsettled => open += 1,
            Outcome::Impossible => unreachable!("{number} has a day"),
        }
    }
    assert!(open > 5, "{open} left open");
}

/// The same problems with a charge for the highest draw.
fn with_demand(number: u64, size: Size) -> Problem {
    let mut chance = Chance::new(number ^ 0xD3);
    Problem {
        least: operation::Least::Cost,
        demand_per_kw: chance.between(0.0, 2.0),
        ..problem(number, size)
    }
}

/// All days of a small problem.
fn cheapest_by_trying(problem: &Problem) -> Option<f64> {
    let choices = problem.speeds.len() + 1;
    let count = choices.pow(u32::try_from(problem.slots.len()).unwrap());
    let day = |number: usize| {
        let mut rest = number;
        let mut choice = || {
            let choice = (rest % choices).checked_sub(1);
            rest /= choices;
            choice
        };
        problem.slots.iter().map(|_| choice()).collect::<Vec<_>>()
    };
    let kept = (0..count).map(day).map(|day| replay(problem, &day));
    kept.filter(|replay| replay.broken.is_empty())
        .map(|replay| replay.least)
        .min_by(f64::total_cmp)
}

#[test]
fn a_charge_for_the_highest_draw_is_in_the_optimum() {
    const SMALL: Size = Size {
        slots: 6,
        speeds: 3,
    };
    let (mut seen, mut lower) = (0, 0);
    for number in 9000..9200 {
        let problem = with_demand(number, SMALL);
        let (own, tried) = (solved(&problem), cheapest_by_trying(&problem));
        let (Some(own), Some(tried)) = (&own, tried) else {
            assert!(own.is_none() && tried.is_none(), "{number}");
            continue;
        };
        assert!(own.gap() <= 0.0, "{number}");
        assert!(
            own.replay.broken.is_empty(),
            "{number}: {own:?}, {problem:?}"
        );
        assert!(
            (own.replay.least - tried).abs() <= TOLERANCE * tried.abs().max(1e-3),
            "{number}: {} for {tried}",
            own.replay.least
        );
        let free = solved(&Problem {
            demand_per_kw: 0.0,
            ..problem.clone()
        });
        seen += 1;
        lower += u32::from(free.unwrap().replay.top_w > own.replay.top_w);
    }
    assert!(
        seen > 60 && lower > 3,
        "{seen} days, {lower} with a lower draw"
    );
}
