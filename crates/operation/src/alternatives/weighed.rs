//! All pads drawn from the same errors, and each change weighed against the pad as it is and against what savings are against.

use super::broken::{broken, not_among};
use super::planned::Planned;
use super::{Alternative, AskedComparison, Baseline, Changed, NoAlternative, Plain, StatedAnew};
use crate::carried::Carried;
use crate::counted::{CountedYear, YearTotals};
use crate::offer::Running;
use crate::pad::Pad;
use crate::spread::{Drawn, Total};
use crate::sums::distinct;
use crate::worth::Terms;
use fieldtest::Limit;
use records::{Change, ProgramBlock, Site};

/// All pads, ready to be drawn together.
pub(super) struct Comparing<'a> {
    pub(super) today: Planned<'a>,
    pub(super) discount_rate: f64,
}

/// What savings are against, with its year draw by draw.
struct Against {
    baseline: Baseline,
    totals: YearTotals,
}

impl Comparing<'_> {
    /// Weighs all changes: what savings are against, the pad as it is, and each change.
    pub(super) fn compared(
        &self,
        changes: &[Change],
        planned: Vec<Result<Planned<'_>, NoAlternative>>,
        asked: &AskedComparison,
    ) -> (Option<Baseline>, Plain, Vec<Alternative>) {
        let site = self.today.pad.site;
        let found = self.found(&site.operation.as_found, asked);
        let own_found: Vec<Option<CountedYear>> = changes
            .iter()
            .map(|change| &change.site.operation.as_found)
            .map(|program| {
                let is_own = *program != site.operation.as_found && asked.against.is_none();
                is_own.then(|| self.found(program, asked)).flatten()
            })
            .collect();
        let counted = planned.iter().flatten().map(|planned| &planned.counted);
        let stated = found.iter().chain(own_found.iter().flatten());
        let all = counted.chain([&self.today.counted]).chain(stated);
        // All pads are drawn at the same speeds, so that what they share is drawn alike.
        let speeds = distinct(all.flat_map(CountedYear::running));
        let drawn = drawn(&self.today.pad, &speeds);
        let drawn = drawn.as_ref();
        let today = drawn.map(|drawn| self.today.counted.totals(&self.today.pad, drawn));
        let against = match asked.against {
            Some(index) => against_change(&changes[index], planned.get(index), &speeds),
            None => self.against_found(&site.operation.as_found, found.as_ref(), drawn),
        };
        let of_against = against.as_ref().map(|against| &against.totals);
        let plain = plain_of(&self.today, today.as_ref(), of_against, &[]);
        let weighing = Weighing {
            site,
            today: today.as_ref(),
            against: of_against,
            broken_today: &plain.broken,
            discount_rate: self.discount_rate,
        };
        let alternatives = changes.iter().zip(planned).zip(&own_found);
        let alternatives = alternatives
            .map(|((change, planned), found)| Alternative {
                name: change.name.clone(),
                result: planned.map(|planned| {
                    let own = totals(&planned.pad, &planned.counted, &speeds);
                    let program = &change.site.operation.as_found;
                    let found = self.against_found(program, found.as_ref(), drawn);
                    Box::new(weighing.changed(change, &planned, own.as_ref(), found))
                }),
            })
            .collect();
        (against.map(|against| against.baseline), plain, alternatives)
    }

    /// What a program as found comes to; the pad as it is was drawn already.
    fn against_found(
        &self,
        program: &[ProgramBlock],
        counted: Option<&CountedYear>,
        drawn: Option<&Drawn>,
    ) -> Option<Against> {
        let stated = Stated {
            name: None,
            pad: &self.today.pad,
            program,
            counted: counted?,
        };
        Some(stated.against(drawn?))
    }

    /// Counts a year of a program on the pad as it is, where one is stated.
    fn found(&self, program: &[ProgramBlock], asked: &AskedComparison) -> Option<CountedYear> {
        (!program.is_empty())
            .then(|| CountedYear::of_program(&self.today.pad, &asked.year, program))
    }
}

fn against_change(
    change: &Change,
    planned: Option<&Result<Planned<'_>, NoAlternative>>,
    speeds: &[Running],
) -> Option<Against> {
    let planned = planned?.as_ref().ok()?;
    let stated = Stated {
        name: Some(change.name.clone()),
        pad: &planned.pad,
        program: &change.program,
        counted: &planned.counted,
    };
    Some(stated.against(&drawn(&planned.pad, speeds)?))
}

/// Draws a pad at all the speeds of a comparison.
fn drawn(pad: &Pad<'_>, speeds: &[Running]) -> Option<Drawn> {
    Drawn::of(&pad.offer.lineups, speeds, pad.standby_w)
}

/// Adds a year of a pad up, drawn at all the speeds of a comparison.
fn totals(pad: &Pad<'_>, counted: &CountedYear, speeds: &[Running]) -> Option<YearTotals> {
    Some(counted.totals(pad, &drawn(pad, speeds)?))
}

/// A program that savings are against.
struct Stated<'a> {
    name: Option<String>,
    pad: &'a Pad<'a>,
    program: &'a [ProgramBlock],
    counted: &'a CountedYear,
}

impl Stated<'_> {
    fn against(self, drawn: &Drawn) -> Against {
        let totals = self.counted.totals(self.pad, drawn);
        Against {
            baseline: Baseline {
                name: self.name,
                sums: totals.sums(&self.pad.site.operation),
                top: self.counted.top(),
                fulfilment: self.pad.fulfilment(self.program),
            },
            totals,
        }
    }
}

fn plain_of(
    planned: &Planned<'_>,
    own: Option<&YearTotals>,
    against: Option<&YearTotals>,
    program: &[ProgramBlock],
) -> Plain {
    let saves = own.zip(against).map(|(own, against)| own.saves(against));
    let saves_kwh = own
        .zip(against)
        .map(|(own, against)| own.energy_kwh.less_than(&against.energy_kwh));
    let top = planned.counted.top();
    let counts = saves.clone().flatten().or_else(|| saves_kwh.clone());
    Plain {
        sums: own
            .map(|own| own.sums(&planned.pad.site.operation))
            .unwrap_or_default(),
        saves: saves.flatten().and_then(|saves| saves.estimate()),
        saves_kwh: saves_kwh.and_then(|saves| saves.estimate()),
        chance: counts.map(|saves| saves.share_above(0.0)),
        broken: broken(&planned.pad, &planned.kinds, program),
        kinds: planned.kinds.to_vec(),
        top,
    }
}

/// What each change is weighed against.
struct Weighing<'a> {
    site: &'a Site,
    today: Option<&'a YearTotals>,
    against: Option<&'a YearTotals>,
    broken_today: &'a [Limit],
    discount_rate: f64,
}

impl Weighing<'_> {
    /// Weighs a change, against a program as found of its own where it states one.
    fn changed(
        &self,
        change: &Change,
        planned: &Planned<'_>,
        own: Option<&YearTotals>,
        found: Option<Against>,
    ) -> Changed {
        let against = found.as_ref().map(|found| &found.totals).or(self.against);
        let plain = plain_of(planned, own, against, &change.program);
        let both = own.zip(self.today);
        let adds = both.and_then(|(own, today)| own.saves(today));
        let adds_kwh = both.map(|(own, today)| own.energy_kwh.less_than(&today.energy_kwh));
        let counts: Option<&Total> = adds.as_ref().or(adds_kwh.as_ref());
        let rate = change.site.operation.discount_rate.as_ref();
        let terms = Terms::of(change, rate.map_or(self.discount_rate, |rate| rate.si));
        let carried = usual_carried(planned);
        Changed {
            chance: counts.map_or(0.0, |adds| adds.share_above(0.0)),
            worth: adds.as_ref().and_then(|adds| terms.worth(adds)),
            adds: adds.as_ref().and_then(Total::estimate),
            adds_kwh: adds_kwh.as_ref().and_then(Total::estimate),
            program: change.program.clone(),
            states: StatedAnew::of(change, self.site),
            baseline: found.map(|found| found.baseline),
            power_by_curve: carried.is_some_and(Carried::is_by_curve),
            carried: carried.map(|carried| carried.flow().clone()),
            newly_kept: not_among(self.broken_today, &plain.broken),
            newly_broken: not_among(&plain.broken, self.broken_today),
            plain,
        }
    }
}

/// How the flow was carried in the usual line-up.
fn usual_carried<'p>(planned: &'p Planned<'_>) -> Option<&'p Carried> {
    let lineup = planned.pad.offer.lineups.first()?;
    let mut carried = planned.carried.iter().flatten();
    let (_, carried) = carried.find(|(test, _)| *test == lineup.test)?;
    Some(carried)
}
