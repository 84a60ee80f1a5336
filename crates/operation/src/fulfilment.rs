//! Whether a program that was not planned here, such as the one as found, does what is asked: replayed by the independent
//! checker, so that a saving is not claimed against a program that does less without saying so.

use crate::clock::{Clock, Window};
use crate::day::DaySlots;
use crate::pad::Pad;
use crate::problem::{BeforeFirst, Problem, Rule, Speed};
use crate::replay::replay;
use records::ProgramBlock;

/// The most minutes of a slot of the replay; slots are cut wherever a block begins or ends.
const AN_HOUR: u32 = 60;

/// What a stated program does of what is asked, by the best estimate of the laws.
#[derive(Clone, Debug, PartialEq)]
pub struct Fulfilment {
    /// What it moves a day, m³.
    pub volume_m3: f64,
    /// The rules that it does not keep; those of a turnover, a task, quiet hours or the controller.
    pub missed: Vec<Rule>,
}

impl Pad<'_> {
    /// Replays a program in the usual line-up and holds it against what is asked; `None` where the laws do not reach its
    /// speeds.
    pub(crate) fn fulfilment(&self, program: &[ProgramBlock]) -> Option<Fulfilment> {
        let lineup = self.offer.lineups.first()?;
        let speeds: Option<Vec<Speed>> = program
            .iter()
            .map(|block| lineup.speed(block.speed.si))
            .collect();
        let windows: Vec<Window> = program.iter().map(Window::of).collect();
        let slots = DaySlots::cut_also(
            &self.site.operation,
            windows.iter().copied(),
            Clock::Even,
            AN_HOUR,
        );
        let (start_energy_wh, start_volume_m3) = self.priming();
        let (speeds, numbers) = distinct(speeds?);
        let problem = Problem {
            rules: self.rules(&slots),
            slots: slots.slots,
            speeds,
            before_first: BeforeFirst::Cyclic,
            least: crate::Least::Energy,
            off_power_w: self.standby_w.map_or(0.0, |standby| standby.value.max(0.0)),
            start_energy_wh,
            start_volume_m3,
            demand_per_kw: 0.0,
        };
        let runs = |minute: u32| windows.iter().position(|window| window.holds(minute));
        let day: Vec<Option<usize>> = problem
            .slots
            .iter()
            .map(|slot| runs(slot.start.minutes).map(|block| numbers[block]))
            .collect();
        let replay = replay(&problem, &day);
        let missed = replay
            .broken
            .iter()
            .map(|rule| problem.rules[*rule].clone());
        Some(Fulfilment {
            volume_m3: replay.volume_m3,
            missed: missed.collect(),
        })
    }
}

/// Lists each speed once, and for each block the number of its own.
fn distinct(of_blocks: Vec<Speed>) -> (Vec<Speed>, Vec<usize>) {
    let mut speeds: Vec<Speed> = Vec::new();
    let numbers = of_blocks
        .into_iter()
        .map(|speed| {
            let known = speeds.iter().position(|known| *known == speed);
            known.unwrap_or_else(|| {
                speeds.push(speed);
                speeds.len() - 1
            })
        })
        .collect();
    (speeds, numbers)
}
