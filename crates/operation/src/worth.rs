//! What a change is worth: present value, and the time in which it pays back.

use crate::spread::Total;
use metrology::Estimate;
use numerics::elementary::{exp, ln_1p};

/// Days of a year of the charges.
const YEAR_DAYS: f64 = 365.0;
/// Seconds in a day, exact.
const DAY_S: f64 = 86_400.0;
/// What is left out of an interval at each end.
const TAIL: f64 = 0.025;

/// What a change costs, and how later money is weighed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Terms {
    /// What is paid once.
    pub capital: f64,
    /// How long it lasts, years; `None` where nothing is paid once.
    pub life_years: Option<f64>,
    /// What it costs to keep, a year.
    pub maintenance_year: f64,
    /// What money is worth a year later, as a share.
    pub discount_rate: f64,
}

/// What a change is worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// The terms.
    pub terms: Terms,
    /// What it is worth today over its life, all costs taken away.
    pub net_present_value: Estimate,
    /// In how many years it pays back.
    pub pay_back: PayBack,
    /// The share of what is not known in which it is worth its cost.
    pub chance: f64,
}

/// In how many years a change pays back, interest not counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PayBack {
    /// By the best estimate; `None`: never.
    pub years: Option<f64>,
    /// The earliest, with 95 % coverage; `None`: never.
    pub low: Option<f64>,
    /// The latest; `None`: never.
    pub high: Option<f64>,
}

/// Computes what a sum that is paid at the end of each year is worth today, as a multiple of the sum.
///
/// # Equation
/// UPV = (1 − (1 + d)⁻ⁿ) / d, and n where d is 0.
///
/// # Inputs
/// `discount_rate`: d, a share of 0 or more. `years`: n, 0 or more; a part of a year counts as the formula has it.
///
/// # Returns
/// The uniform present value factor.
///
/// # Source
/// S. Fuller, S. Petersen, NIST Handbook 135, Life-Cycle Costing Manual for the Federal Energy Management Program (1995),
/// section 3.2.2, the uniform present value factor (from memory).
///
/// # Checked against
/// `validation/economics/textbook`
///
/// # Example
/// ```
/// let factor = operation::present_value_factor(0.03, 15.0);
/// assert!((factor - 11.94).abs() < 0.005);
/// ```
pub fn present_value_factor(discount_rate: f64, years: f64) -> f64 {
    if discount_rate.abs() < f64::EPSILON {
        return years;
    }
    (1.0 - exp(-years * ln_1p(discount_rate))) / discount_rate
}

impl Terms {
    /// Reads the terms of a change.
    pub(crate) fn of(change: &records::Change, discount_rate: f64) -> Self {
        Self {
            capital: change.capital.as_ref().map_or(0.0, |sum| sum.si),
            life_years: change.life.as_ref().map(|life| life.si / DAY_S / YEAR_DAYS),
            maintenance_year: change
                .maintenance
                .as_ref()
                .map_or(0.0, |sum| YEAR_DAYS * sum.si),
            discount_rate,
        }
    }

    /// Whether anything is paid.
    pub fn costs(&self) -> bool {
        self.capital > 0.0 || self.maintenance_year > 0.0
    }

    /// Weighs what a change adds a year against what it costs; `None` where nothing is paid, or it is not said how long it
    /// lasts.
    pub(crate) fn worth(self, adds_year: &Total) -> Option<Worth> {
        let life = self.life_years.filter(|_| self.costs())?;
        let factor = present_value_factor(self.discount_rate, life);
        let net_year = adds_year.scaled_and_moved(1.0, -self.maintenance_year);
        let value = net_year.scaled_and_moved(factor, -self.capital);
        let years = |net: f64| (net > 0.0).then(|| self.capital / net);
        Some(Worth {
            terms: self,
            net_present_value: value.estimate()?,
            pay_back: PayBack {
                years: years(net_year.best),
                low: years(net_year.quantile(1.0 - TAIL)),
                high: years(net_year.quantile(TAIL)),
            },
            chance: value.share_above(0.0),
        })
    }
}
