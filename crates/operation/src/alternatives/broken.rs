//! Which limits a program does not keep.

use crate::offer::LineUp;
use crate::pad::Pad;
use crate::year::KindOfDay;
use fieldtest::{Bound, Limit, Passage};
use records::ProgramBlock;

/// Lists the limits that priming or programs pass, and those of appliances that do not get their flow.
pub(super) fn broken(pad: &Pad<'_>, kinds: &[KindOfDay], program: &[ProgramBlock]) -> Vec<Limit> {
    let prime = pad.site.pump.prime.as_ref().map(|prime| prime.speed.si);
    let stated = program.iter().map(|block| block.speed.si);
    let highest = stated.chain(prime).fold(0.0, f64::max);
    let limits = &pad.analysis.limits;
    let Some(lineup) = pad.offer.lineups.first() else {
        return Vec::new();
    };
    let passes = |limit: &&Limit| {
        let is_highest = limit.bound == Bound::Max && limit.passage == Passage::Whole;
        let at = limit.speed_rpm.map(|speed| lineup.speed_after(speed));
        is_highest && at.is_some_and(|at| highest > at)
    };
    let mut broken: Vec<Limit> = limits.iter().filter(passes).cloned().collect();
    let mut short: Vec<usize> = kinds
        .iter()
        .flat_map(|kind| pad.short_of(&kind.problem, &kind.program))
        .collect();
    short.extend(short_of_stated(pad, lineup, program));
    short.sort_unstable();
    short.dedup();
    broken.extend(
        short
            .into_iter()
            .filter_map(|index| limits.get(index).cloned()),
    );
    broken
}

fn short_of_stated(pad: &Pad<'_>, lineup: &LineUp, program: &[ProgramBlock]) -> Vec<usize> {
    let speeds = program.iter().map(|block| block.speed.si);
    let slowest = speeds.fold(f64::INFINITY, f64::min);
    let flow = lineup.speed(slowest).filter(|_| slowest.is_finite());
    let Some(least_m3s) = flow.map(|speed| speed.flow_m3s) else {
        return Vec::new();
    };
    let limits = pad.analysis.limits.iter().enumerate();
    limits
        .filter(|(_, limit)| limit.bound == Bound::Min && limit.passage == Passage::Whole)
        .filter(|(_, limit)| limit.flow_m3s.is_some_and(|flow| flow > least_m3s))
        .map(|(index, _)| index)
        .collect()
}

/// Lists the limits that are not among others.
pub(super) fn not_among(limits: &[Limit], others: &[Limit]) -> Vec<Limit> {
    let is_among = |limit: &&Limit| {
        let same =
            |other: &Limit| (other.code, &other.applies_to) == (limit.code, &limit.applies_to);
        !others.iter().any(same)
    };
    limits.iter().filter(is_among).cloned().collect()
}
