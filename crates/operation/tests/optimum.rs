//! The optimum against all days of small problems, one by one.

mod support;

use operation::{Effort, Outcome, Problem, replay, schedule};
use support::{Size, problem};

/// How many problems are made up.
const PROBLEMS: u64 = 1200;
/// What is to be least is summed in another order here, and a day within 2e-12 of the most counts as the best.
const TOLERANCE: f64 = 1e-9;

/// Finds what the best of all days comes to; `None` where none keeps the rules.
fn best_of_all(problem: &Problem) -> Option<f64> {
    let choices = problem.speeds.len() + 1;
    let days = (0..problem.slots.len()).fold(1, |days, _| days * choices);
    let mut best: Option<f64> = None;
    for number in 0..days {
        let mut rest = number;
        let day: Vec<Option<usize>> = problem
            .slots
            .iter()
            .map(|_| {
                let choice = rest % choices;
                rest /= choices;
                choice.checked_sub(1)
            })
            .collect();
        let replay = replay(problem, &day);
        if replay.broken.is_empty() {
            best = Some(best.map_or(replay.least, |least| least.min(replay.least)));
        }
    }
    best
}

#[test]
fn no_other_day_of_a_small_problem_is_better() {
    let (mut possible, mut impossible) = (0, 0);
    for number in 0..PROBLEMS {
        let size = if number % 2 == 0 {
            Size {
                slots: 6,
                speeds: 3,
            }
        } else {
            Size {
                slots: 8,
                speeds: 2,
            }
        };
        let problem = problem(number, size);
        let outcome = schedule(&problem, &mut Effort::a_second()).unwrap();
        match (best_of_all(&problem), outcome) {
            (Some(best), Outcome::Found(planned)) => {
                let own = planned.replay.least;
                assert!(
                    planned.replay.broken.is_empty() && planned.gap() <= 0.0,
                    "{number}: {planned:?} {problem:?}"
                );
                let scale = best.abs().max(1e-3);
                assert!(
                    (own - best).abs() <= TOLERANCE * scale,
                    "{number}: {own} for {best} {planned:?} {problem:?}"
                );
                possible += 1;
            }
            (None, Outcome::Impossible) => impossible += 1,
            (best, outcome) => unreachable!("{number}: {best:?} for {outcome:?} {problem:?}"),
        }
    }
    // Either kind is met often enough to mean something.
    assert!(
        possible > 300 && impossible > 100,
        "{possible} {impossible}"
    );
}
