//! What no change moves: the programs of the year on the pad as it is, and its calibrated circuit. Both borrow nothing, so that
//! who weighs one change after the other works them out once.

use crate::pad::Pad;
use crate::year::{AskedYear, NoYear, SolvedYear};
use fieldtest::{Analysis, CalibratedCircuit, NotCalibrated};
use records::{Site, Test};
use std::cell::OnceCell;

/// The programs of a year on a pad as it is. They are good as long as its site, its tests and what is asked of the year stay.
#[derive(Clone, Debug)]
pub struct Today {
    pub(super) solved: SolvedYear,
}

impl Today {
    /// Plans each distinct day of the year.
    ///
    /// # Errors
    /// Why there is no plan.
    pub fn plan(site: &Site, analysis: &Analysis, asked: &AskedYear) -> Result<Self, NoYear> {
        let pad = Pad::of(site, analysis, asked.least)?;
        let solved = SolvedYear::of(&pad, asked, &mut |_, _| {})?;
        Ok(Self { solved })
    }
}

/// The circuit of a pad, calibrated when the first change asks for it. It is good as long as plumbing, pump, water and tests
/// stay, whatever is asked of a day and whatever energy costs.
#[derive(Clone, Debug, Default)]
pub struct TodaysCircuit(OnceCell<Result<CalibratedCircuit, NotCalibrated>>);

impl TodaysCircuit {
    pub(super) fn calibrated<'a>(
        &'a self,
        pad: PadToday<'a>,
    ) -> Result<&'a CalibratedCircuit, NotCalibrated> {
        let calibrate = || CalibratedCircuit::of(pad.site, pad.tests, pad.analysis);
        self.0.get_or_init(calibrate).as_ref().map_err(Clone::clone)
    }
}

/// A pad as it is, with what is known of it before any change is weighed.
#[derive(Clone, Copy, Debug)]
pub struct PadToday<'a> {
    /// The site.
    pub site: &'a Site,
    /// Its tests.
    pub tests: &'a [Test],
    /// Their analysis.
    pub analysis: &'a Analysis,
    /// The programs of its year.
    pub today: &'a Today,
    /// Its circuit.
    pub circuit: &'a TodaysCircuit,
}
