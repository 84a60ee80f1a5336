//! Small random problems, each fixed by its number.

#![allow(dead_code, reason = "each test binary uses its share")]

use numerics::random::Draws;
use operation::{BeforeFirst, HoursLie, Least, Problem, Rule, Slot, Speed, TaskRule};
use records::ClockTime;

/// How large a problem is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Size {
    pub(crate) slots: usize,
    pub(crate) speeds: usize,
}

/// A source of choices.
pub(crate) struct Chance(numerics::random::Draw);

impl Chance {
    pub(crate) fn new(number: u64) -> Self {
        Self(Draws::new(number).at(0))
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.0.uniform()
    }

    pub(crate) fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.0.bits() % count.max(1) as u64).unwrap_or(0)
    }

    pub(crate) fn happens(&mut self, share: f64) -> bool {
        self.0.uniform() < share
    }

    /// A run of slots that may pass midnight.
    fn window(&mut self, slots: usize) -> Vec<usize> {
        let (first, length) = (self.below(slots), 1 + self.below(slots));
        (first..first + length).map(|slot| slot % slots).collect()
    }
}

/// Makes a problem up; any rule may be in it.
pub(crate) fn problem(number: u64, size: Size) -> Problem {
    let mut chance = Chance::new(number);
    let hours = 24.0 / size.slots as f64;
    let may_pay = chance.happens(0.2);
    let slots = (0..size.slots).map(|index| Slot {
        start: ClockTime {
            minutes: u32::try_from(index * 1440 / size.slots).unwrap_or(0),
        },
        hours,
        price_per_kwh: Some(chance.between(if may_pay { -0.2 } else { 0.1 }, 0.5)),
    });
    let slots = slots.collect();
    let speeds: Vec<Speed> = (1..=size.speeds)
        .map(|index| {
            let share = index as f64 / size.speeds as f64;
            Speed {
                speed_rpm: 3000.0 * share,
                flow_m3s: 0.004 * share + chance.between(0.0, 0.0003),
                power_w: 40.0 + 1500.0 * share * share * share + chance.between(0.0, 10.0),
                lineup: None,
            }
        })
        .collect();
    let mut problem = Problem {
        slots,
        rules: Vec::new(),
        before_first: [BeforeFirst::Cyclic, BeforeFirst::Off, BeforeFirst::On][chance.below(3)],
        least: if chance.happens(0.2) {
            Least::Energy
        } else {
            Least::Cost
        },
        off_power_w: if chance.happens(0.5) { 0.0 } else { 12.0 },
        start_energy_wh: if chance.happens(0.5) { 0.0 } else { 150.0 },
        start_volume_m3: if chance.happens(0.5) { 0.0 } else { 0.7 },
        demand_per_kw: 0.0,
        speeds,
    };
    add_rules(&mut problem, &mut chance, hours);
    problem
}

fn add_rules(problem: &mut Problem, chance: &mut Chance, hours: f64) {
    let (slots, speeds) = (problem.slots.len(), problem.speeds.len());
    let rules = &mut problem.rules;
    rules.push(Rule::Volume {
        min_m3: chance.between(0.0, 250.0),
    });
    for _ in 0..chance.below(3) {
        let window = chance.window(slots);
        rules.push(Rule::Task(TaskRule {
            name: "task".to_owned(),
            min_flow_m3s: chance.between(0.0005, 0.004),
            hours: hours * (1 + chance.below(window.len())) as f64,
            slots: window,
            lineup: None,
            hours_lie: if chance.happens(0.4) {
                HoursLie::InOneStretch
            } else {
                HoursLie::Anywhere
            },
        }));
    }
    let speed_rpm = problem.speeds[chance.below(speeds)].speed_rpm;
    let optional = [
        Rule::MaxSpeed {
            slots: chance.window(slots),
            speed_rpm: if chance.happens(0.2) { 0.0 } else { speed_rpm },
        },
        Rule::NoStart {
            slots: chance.window(slots),
        },
        Rule::Starts {
            max: u32::try_from(chance.below(3)).unwrap_or(0),
        },
        Rule::Speeds {
            max: u32::try_from(chance.below(3)).unwrap_or(0),
        },
        Rule::Changes {
            max: u32::try_from(chance.below(5)).unwrap_or(0),
        },
        Rule::Run {
            min_hours: hours * (1 + chance.below(3)) as f64,
        },
        Rule::Pause {
            max_hours: hours * (1 + chance.below(4)) as f64,
        },
    ];
    rules.extend(optional.into_iter().filter(|_| chance.happens(0.3)));
}
