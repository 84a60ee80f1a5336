//! What the pump is doing, as far as rules look back on it: off or on, for how long, and at which speed.

use crate::problem::BeforeFirst;

/// The number of a phase.
pub(super) type PhaseId = usize;
/// A choice for a slot: 0 is off, and speed number n is n + 1.
pub(super) type Choice = u16;

/// Off.
pub(super) const OFF: Choice = 0;

/// The phases of a day. Off comes first, by how long the pump has been off; then on, by speed where changes are counted,
/// and by how long it has run.
#[derive(Clone, Debug)]
pub(super) struct Phases {
    /// The longest pause, in units of time; `None` where there is no rule on it.
    longest_pause: Option<u32>,
    /// The least run, in units of time; 1 where there is no rule on it.
    least_run: u32,
    /// How many speeds are told apart; 1 where changes are not counted.
    speeds_apart: usize,
}

/// One step from a phase.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Step {
    pub(super) phase: PhaseId,
    pub(super) started: bool,
    pub(super) changed: bool,
}

/// Phases before the first slot that ask the same of the last.
#[derive(Clone, Debug)]
pub(super) struct Origins {
    /// The phases before the first slot.
    pub(super) before: Vec<PhaseId>,
    /// For each phase, whether the day may end in it. Where speeds are told apart, the last must be that of the origin too.
    pub(super) accepts: Vec<bool>,
}

/// What a step takes from a slot.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    /// Its length in units of time.
    pub(super) units: u32,
    /// Whether the pump may start in it.
    pub(super) may_start: bool,
}

impl Phases {
    pub(super) fn new(longest_pause: Option<u32>, least_run: u32, speeds_apart: usize) -> Self {
        Self {
            longest_pause,
            least_run: least_run.max(1),
            speeds_apart: speeds_apart.max(1),
        }
    }

    fn pauses(&self) -> usize {
        self.longest_pause.map_or(1, |units| units as usize + 1)
    }

    fn runs(&self) -> usize {
        self.least_run as usize
    }

    pub(super) fn count(&self) -> usize {
        self.pauses() + self.speeds_apart * self.runs()
    }

    pub(super) fn tells_speeds_apart(&self) -> bool {
        self.speeds_apart > 1
    }

    fn off(&self, units: u32) -> PhaseId {
        self.longest_pause.map_or(0, |_| units as usize)
    }

    fn on(&self, speed: usize, units: u32) -> PhaseId {
        let length = units.clamp(1, self.least_run) as usize;
        self.pauses() + speed * self.runs() + length - 1
    }

    /// Returns the speed, where it is told apart, and for how long the pump has run; `None` while it is off.
    pub(super) fn running(&self, phase: PhaseId) -> Option<(usize, u32)> {
        let index = phase.checked_sub(self.pauses())?;
        let length = u32::try_from(index % self.runs()).unwrap_or(0) + 1;
        Some((index / self.runs(), length))
    }

    /// Lists the phases of a pump that has run for so long, one for each speed that is told apart.
    pub(super) fn alike(&self, units: u32) -> impl Iterator<Item = PhaseId> + '_ {
        (0..self.speeds_apart).map(move |speed| self.on(speed, units))
    }

    /// Takes one step; `None` where a rule forbids it.
    pub(super) fn step(&self, from: PhaseId, choice: Choice, slot: Stretch) -> Option<Step> {
        let speed = (choice as usize).checked_sub(1);
        let apart = |speed: usize| if self.tells_speeds_apart() { speed } else { 0 };
        match (self.running(from), speed) {
            (None, None) => self.still_off(from, slot.units),
            (None, Some(speed)) => slot.may_start.then(|| Step {
                phase: self.on(apart(speed), slot.units),
                started: true,
                changed: true,
            }),
            (Some((_, length)), None) => (length >= self.least_run)
                .then(|| self.still_off(self.off(0), slot.units))
                .flatten()
                .map(|step| Step {
                    changed: true,
                    ..step
                }),
            (Some((before, length)), Some(speed)) => Some(Step {
                phase: self.on(apart(speed), length.saturating_add(slot.units)),
                started: false,
                changed: before != apart(speed),
            }),
        }
    }

    fn still_off(&self, from: PhaseId, units: u32) -> Option<Step> {
        let step = |phase| Step {
            phase,
            started: false,
            changed: false,
        };
        let Some(longest) = self.longest_pause else {
            return Some(step(0));
        };
        let length = u32::try_from(from)
            .unwrap_or(u32::MAX)
            .saturating_add(units);
        (length <= longest).then(|| step(self.off(length)))
    }

    /// Lists what may go before the first slot, with the ends that each asks for.
    ///
    /// In a cyclic day the end must hold what the start took for granted: a run at least as long, a pause at most as long.
    pub(super) fn origins(&self, before_first: BeforeFirst) -> Vec<Origins> {
        let all = || vec![true; self.count()];
        match before_first {
            BeforeFirst::Off => vec![Origins {
                before: vec![self.off(0)],
                accepts: all(),
            }],
            BeforeFirst::On => vec![Origins {
                before: self.alike(self.least_run).collect(),
                accepts: all(),
            }],
            BeforeFirst::Cyclic => self.cyclic_origins(),
        }
    }

    fn cyclic_origins(&self) -> Vec<Origins> {
        let shortest = u32::from(self.longest_pause.is_some());
        let pauses = shortest..=self.longest_pause.unwrap_or(0);
        let off = pauses.map(|units| Origins {
            before: vec![self.off(units)],
            accepts: (0..self.count())
                .map(|end| self.running(end).is_none() && end <= self.off(units))
                .collect(),
        });
        let on = (1..=self.least_run).map(|units| Origins {
            before: self.alike(units).collect(),
            accepts: (0..self.count())
                .map(|end| self.running(end).is_some_and(|(_, length)| length >= units))
                .collect(),
        });
        off.chain(on).collect()
    }

    /// Whether a day that began after `origin` may end in `end`, its speed included.
    pub(super) fn closes(&self, before_first: BeforeFirst, origin: PhaseId, end: PhaseId) -> bool {
        let speed = |phase| self.running(phase).map(|(speed, _)| speed);
        before_first != BeforeFirst::Cyclic || speed(origin) == speed(end)
    }
}
