//! The pad as it is and as each change would make it, each with the programs of its year.

use super::another_pump::{another_power, is_another};
use super::today::{PadToday, Today};
use super::{AskedComparison, NoAlternative};
use crate::carried::{Carried, PowerBy};
use crate::counted::CountedYear;
use crate::offer::{NoOffer, Offer};
use crate::pad::Pad;
use crate::plan::NoPlan;
use crate::year::{KindOfDay, NoYear, SolvedYear};
use fieldtest::{Analysis, Carrier, ChangedPad, FilterThen, NotCalibrated};
use records::Change;
use std::borrow::Cow;

/// A pad with the hours of its year.
pub(super) struct Planned<'a> {
    pub(super) pad: Pad<'a>,
    pub(super) kinds: Cow<'a, [KindOfDay]>,
    pub(super) counted: CountedYear,
    pub(super) carried: Option<Vec<(String, Carried)>>,
}

/// What carries changes, made when the first one asks for it.
pub(super) type MaybeCarrier<'a> = Option<Result<Carrier<'a>, NotCalibrated>>;

impl<'a> Planned<'a> {
    /// The pad as it is, with the programs that were found for it.
    pub(super) fn today(pad: PadToday<'a>, asked: &AskedComparison) -> Result<Self, NoYear> {
        let PadToday {
            today: Today { solved },
            ..
        } = pad;
        let pad = Pad::of(pad.site, pad.analysis, asked.year.least)?;
        Ok(Self {
            counted: solved.counted(&pad),
            pad,
            kinds: Cow::Borrowed(&solved.kinds),
            carried: None,
        })
    }
}

impl<'a> PadToday<'a> {
    /// The analysis of today with the limits of a changed site: what was read stays what it was.
    pub(super) fn after(self, change: &Change) -> Analysis {
        let limits = if change.site == *self.site {
            self.analysis.limits.clone()
        } else {
            fieldtest::analyze(&change.site, self.tests).limits
        };
        Analysis {
            limits,
            ..self.analysis.clone()
        }
    }

    /// Plans a pad after a change.
    pub(super) fn plan<'c>(
        self,
        change: &'c Change,
        analysis: &'c Analysis,
        asked: &AskedComparison,
        carrier: &mut MaybeCarrier<'a>,
    ) -> Result<Planned<'c>, NoAlternative> {
        Pad::checked(&change.site, asked.year.least)?;
        let carried = if self.moves(change) {
            let carrier = carrier.get_or_insert_with(|| self.carrier()).as_ref();
            let carrier = carrier.map_err(|error| NoAlternative::NotCarried(error.clone()))?;
            Some(self.carry(change, carrier)?)
        } else {
            None
        };
        let offer = Offer::after(
            &change.site,
            analysis,
            carried.as_deref().unwrap_or_default(),
        );
        let offer = offer.map_err(|error: NoOffer| NoPlan::Offer(error))?;
        let pad = Pad::with(&change.site, analysis, offer, asked.year.least)?;
        let (kinds, counted) = if change.program.is_empty() {
            let solved = SolvedYear::of(&pad, &asked.year, &mut |_, _| {})?;
            let counted = solved.counted(&pad);
            (solved.kinds, counted)
        } else {
            let counted = CountedYear::of_program(&pad, &asked.year, &change.program);
            (Vec::new(), counted)
        };
        Ok(Planned {
            pad,
            kinds: Cow::Owned(kinds),
            counted,
            carried,
        })
    }

    fn carrier(self) -> Result<Carrier<'a>, NotCalibrated> {
        let circuit = self.circuit.calibrated(self)?;
        Ok(Carrier::new(self.site, self.tests, self.analysis, circuit))
    }

    /// Whether a change moves flow or power: it touches the plumbing, the pump or the water, not only how the pad is run.
    fn moves(self, change: &Change) -> bool {
        let (now, then) = (self.site, &change.site);
        change.cleans_filter
            || (&now.pump, &now.lines, &now.tees) != (&then.pump, &then.lines, &then.tees)
            || (&now.water.temperature, &now.water.salinity)
                != (&then.water.temperature, &then.water.salinity)
    }

    /// Carries a change into the laws of each test.
    fn carry(
        self,
        change: &Change,
        carrier: &Carrier<'_>,
    ) -> Result<Vec<(String, Carried)>, NoAlternative> {
        let is_another_pump = is_another(&self.site.pump, &change.site.pump);
        if is_another_pump && self.site.pump.curve.is_empty() {
            return Err(NoAlternative::NoCurveToday);
        }
        let changed = ChangedPad {
            site: &change.site,
            filter: if change.cleans_filter {
                FilterThen::Clean
            } else {
                FilterThen::AsTested
            },
        };
        let flows = carrier.carry(&changed).map_err(NoAlternative::NotCarried)?;
        let tests = flows.into_iter().zip(&self.analysis.tests);
        tests
            .map(|(flow, test)| {
                let power = if is_another_pump {
                    PowerBy::Curve(
                        another_power(&change.site.pump, test, &flow)
                            .ok_or(NoAlternative::NoPowerOfPump)?,
                    )
                } else {
                    PowerBy::Flow
                };
                Ok((test.name.clone(), Carried::new(flow, power)))
            })
            .collect()
    }
}
