//! Axes: round ticks, and from a number to its place.

use crate::figure::{Axis, Start};
use crate::size::TYPE;
use crate::text::{Face, width};

/// A span narrower than this part of its own size is widened: its ticks would be told apart by digits that nobody reads.
const LEAST_SHARE: f64 = 1e-3;
/// A span narrower than this is widened: no unit of print makes a quantity of a pad so small.
const LEAST_SPAN: f64 = 1e-3;
/// Steps that are tried; from the finest to the coarsest that a drawable number asks for.
const MOST_STEPS: usize = 120;
/// Room between the numbers along the axis to the right.
const BETWEEN_NUMBERS: f64 = 26.0;

/// The ticks of an axis: multiples of a step of 1, 2 or 5 times a power of ten.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Ticks {
    /// From the lowest to the highest, which cover what is drawn.
    pub(crate) all: Vec<Tick>,
}

/// A tick.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Tick {
    pub(crate) value: f64,
    /// The number as it is written; every second tick may go without.
    pub(crate) text: Option<String>,
}

/// How the ticks of an axis share its room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Along {
    /// Numbers beside one another, in so much room.
    Width(f64),
    /// Numbers above one another.
    Height(f64),
}

impl Ticks {
    /// Chooses the finest ticks that cover the values from `low` to `high` and whose numbers have room.
    pub(crate) fn covering(axis: &Axis, (low, high): (f64, f64), along: Along) -> Self {
        if axis.start == Start::Day {
            return Self::through_a_day(axis, along);
        }
        let (low, high) = widened(axis.start, low, high);
        let span = high - low;
        let finest = Step::finest(span);
        let steps = finest.coarser().take_while(|step| step.size() <= span);
        let choices = steps.flat_map(|step| step.numbered().map(move |every| (step, every)));
        let mut covering =
            choices.map(|(step, every)| Self::with_step(axis, (low, high), step, every));
        covering
            .find(|ticks| ticks.have_room(along))
            .unwrap_or_else(|| Self::at_ends(axis, (low, high), along))
    }

    /// Chooses ticks through a day, a whole part of it apart: the finest whose numbers have room.
    fn through_a_day(axis: &Axis, along: Along) -> Self {
        const HOURS: u32 = 24;
        const APART: [usize; 5] = [2, 3, 4, 6, 12];
        let every = |hours: usize| Self {
            all: (0..=HOURS)
                .step_by(hours)
                .map(f64::from)
                .map(|value| Tick {
                    value,
                    text: Some((axis.write)(value, 0)),
                })
                .collect(),
        };
        let mut choices = APART.into_iter().map(every);
        choices
            .find(|ticks| ticks.have_room(along))
            .unwrap_or_else(|| every(HOURS as usize))
    }

    /// Chooses ticks at the ends alone, where numbers are so long that no others have room; the upper one is numbered
    /// if it can be.
    fn at_ends(axis: &Axis, (low, high): (f64, f64), along: Along) -> Self {
        let span = high - low;
        let coarse = Step::finest(span)
            .coarser()
            .find(|step| step.size() >= span);
        let step = coarse.unwrap_or(Step::finest(span));
        let mut ticks = Self::with_step(axis, (low, high), step, 1.0);
        let have_room = match along {
            Along::Height(_) => true,
            Along::Width(room) => room >= ticks.widest() + BETWEEN_NUMBERS,
        };
        let kept = if have_room { ticks.all.len() - 1 } else { 0 };
        for (index, tick) in ticks.all.iter_mut().enumerate() {
            if index != 0 && index != kept {
                tick.text = None;
            }
        }
        ticks
    }

    fn with_step(axis: &Axis, (low, high): (f64, f64), step: Step, every: f64) -> Self {
        let size = step.size();
        let (first, last) = ((low / size).floor(), (high / size).ceil());
        let mut all = Vec::new();
        let mut count = first;
        while count <= last {
            let value = step.times(count);
            let numbered = (count / every).fract() == 0.0;
            let text = numbered.then(|| (axis.write)(value, step.decimals(every)));
            all.push(Tick { value, text });
            count += 1.0;
        }
        Self { all }
    }

    fn have_room(&self, along: Along) -> bool {
        /// Ticks stand at least so far apart.
        const TICKS_APART: f64 = 24.0;
        /// Numbers above one another stand at least so far apart.
        const NUMBERS_APART: f64 = 42.0;
        let gaps = self.all.len().saturating_sub(1).max(1) as f64;
        let numbers = self.all.iter().filter(|tick| tick.text.is_some()).count();
        let ticks_a_number = if numbers == self.all.len() { 1.0 } else { 2.0 };
        let (room, numbers_apart) = match along {
            Along::Height(room) => (room, NUMBERS_APART),
            Along::Width(room) => (room, self.widest() + BETWEEN_NUMBERS),
        };
        let apart = room / gaps;
        numbers > 1 && apart >= TICKS_APART && ticks_a_number * apart >= numbers_apart
    }

    /// Returns the width of the widest number.
    pub(crate) fn widest(&self) -> f64 {
        let texts = self.all.iter().filter_map(|tick| tick.text.as_ref());
        texts
            .map(|text| width(text, Face::Regular, TYPE))
            .fold(0.0, f64::max)
    }

    /// Returns the first and the last value.
    pub(crate) fn ends(&self) -> (f64, f64) {
        let first = self.all.first().map_or(0.0, |tick| tick.value);
        (first, self.all.last().map_or(1.0, |tick| tick.value))
    }
}

/// Widens a span to what an axis shows.
fn widened(start: Start, low: f64, high: f64) -> (f64, f64) {
    let low = if start == Start::Zero {
        low.min(0.0)
    } else {
        low
    };
    let high = if start == Start::Zero {
        high.max(0.0)
    } else {
        high
    };
    let size = low.abs().max(high.abs());
    if high - low > (LEAST_SHARE * size).max(LEAST_SPAN) {
        return (low, high);
    }
    // One value alone: half of it to either side, or one unit about zero.
    let reach = if size > LEAST_SPAN { 0.5 * size } else { 1.0 };
    (low - reach, high + reach)
}

/// A step of ticks: 1, 2 or 5 times ten to a power.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Step {
    digit: u8,
    power: i32,
}

impl Step {
    /// The first step that is wider than a fortieth of a span.
    fn finest(span: f64) -> Self {
        /// Power of ten below that of any drawable span.
        const LOWEST: i32 = -20;
        let start = Self {
            digit: 1,
            power: LOWEST,
        };
        let wide = |step: &Self| step.size() >= span / 40.0;
        start.coarser().find(wide).unwrap_or(start)
    }

    /// Lists the steps that follow, each coarser than the one before.
    fn coarser(self) -> impl Iterator<Item = Self> {
        std::iter::successors(Some(self), |step| {
            Some(match step.digit {
                1 => Self { digit: 2, ..*step },
                2 => Self { digit: 5, ..*step },
                _ => Self {
                    digit: 1,
                    power: step.power + 1,
                },
            })
        })
        .skip(1)
        .take(MOST_STEPS)
    }

    fn size(self) -> f64 {
        self.times(1.0)
    }

    /// Computes a multiple of the step, rounded once: by the exact power of ten on the side where it is whole.
    fn times(self, count: f64) -> f64 {
        let power_of_ten = (0..self.power.abs()).fold(1.0, |power, _| power * 10.0);
        let digits = count * f64::from(self.digit);
        if self.power < 0 {
            digits / power_of_ten
        } else {
            digits * power_of_ten
        }
    }

    /// Lists how many ticks may share a number: one, or two where twice the step is such a step too.
    fn numbered(self) -> impl Iterator<Item = f64> {
        let two = (self.digit != 2).then_some(2.0);
        std::iter::once(1.0).chain(two)
    }

    /// Returns the decimals of every so many multiples: half a unit of ten, twice, is a whole one.
    fn decimals(self, every: f64) -> usize {
        let carried = i32::from(self.digit == 5 && every > 1.0);
        usize::try_from(-self.power - carried).unwrap_or(0)
    }
}

/// From a number to its place on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Scale {
    /// The numbers at the ends of the axis.
    pub(crate) numbers: (f64, f64),
    /// The places of these ends.
    pub(crate) places: (f64, f64),
}

impl Scale {
    /// Returns the place of a number; one beyond the ends is held at the end.
    pub(crate) fn place(&self, number: f64) -> f64 {
        let (low, high) = self.numbers;
        let share = ((number - low) / (high - low)).clamp(0.0, 1.0);
        self.places.0 + share * (self.places.1 - self.places.0)
    }

    pub(crate) fn holds(&self, number: f64) -> bool {
        self.numbers.0 <= number && number <= self.numbers.1
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn axis(start: Start) -> Axis {
        Axis {
            title: String::new(),
            start,
            write: |value, decimals| format!("{value:.decimals$}"),
        }
    }

    #[test]
    fn a_day_is_told_in_whole_parts_of_it() {
        let written = |room: f64| {
            let ticks = Ticks::covering(&axis(Start::Day), (0.0, 24.0), Along::Width(room));
            let texts = ticks.all.into_iter().filter_map(|tick| tick.text);
            texts.collect::<Vec<_>>().join(" ")
        };
        assert_eq!(written(700.0), "0 2 4 6 8 10 12 14 16 18 20 22 24");
        assert_eq!(written(220.0), "0 6 12 18 24");
        assert_eq!(written(1.0), "0 24");
    }

    fn numbers(low: f64, high: f64, along: Along) -> Vec<String> {
        let ticks = Ticks::covering(&axis(Start::Data), (low, high), along);
        ticks.all.into_iter().filter_map(|tick| tick.text).collect()
    }

    #[test]
    fn ticks_are_what_a_person_would_choose() {
        let height = Along::Height(250.0);
        for (low, high, along, written) in [
            (600.0, 3450.0, Along::Width(300.0), "1000 2000 3000"),
            (
                600.0,
                3450.0,
                Along::Width(690.0),
                "500 1000 1500 2000 2500 3000 3500",
            ),
            (0.0, 96.0, height, "0 20 40 60 80 100"),
            (0.0, 427.0, height, "0 100 200 300 400"),
            (0.0, 0.021, height, "0.000 0.005 0.010 0.015 0.020 0.025"),
            (0.0, 0.0, height, "-1.0 -0.5 0.0 0.5 1.0"),
        ] {
            assert_eq!(numbers(low, high, along).join(" "), written);
        }
    }

    proptest! {
        #[test]
        fn ticks_cover_are_round_and_have_room(low in -1e4..1e4_f64, span in 1e-3..1e5_f64) {
            for along in [Along::Height(250.0), Along::Width(300.0)] {
                let ticks = Ticks::covering(&axis(Start::Data), (low, low + span), along);
                let (first, last) = ticks.ends();
                prop_assert!(first <= low && low + span <= last);
                prop_assert!(ticks.have_room(along));
                prop_assert!((2..=28).contains(&ticks.all.len()), "{ticks:?}");
                let numbered = ticks.all.iter().filter_map(|tick| Some((tick.value, tick.text.clone()?)));
                let mut told: Vec<String> = numbered.clone().map(|(_, text)| text).collect();
                let count = told.len();
                told.dedup();
                prop_assert_eq!(told.len(), count);
                for (value, text) in numbered {
                    // What is written is the tick itself, not a rounding of it.
                    let written: f64 = text.parse().unwrap();
                    prop_assert!((written - value).abs() <= 1e-9 * (span + value.abs()), "{} {}", text, value);
                }
            }
        }
    }
}
