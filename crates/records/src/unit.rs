//! Units as people write them: one table of spelling, dimension, exact factor and source.

mod table;

use crate::{Told, told};
use serde::Serialize;

/// What kind of quantity a unit measures, with the SI unit that values are held in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum Dimension {
    /// Volume flow, m³/s.
    Flow,
    /// Length, bore, head and level, m.
    Length,
    /// Area, m².
    Area,
    /// Volume, m³.
    Volume,
    /// Pressure, Pa; a head of water counts as a pressure.
    Pressure,
    /// Temperature, K.
    Temperature,
    /// Speed of rotation, rpm (the trade's own unit is kept).
    Speed,
    /// Velocity, m/s.
    Velocity,
    /// Power, W.
    Power,
    /// Current, A.
    Current,
    /// Voltage, V.
    Voltage,
    /// Energy, J.
    Energy,
    /// Mass concentration, kg/m³.
    Concentration,
    /// Duration, s.
    Time,
    /// Price of energy, in the currency named by the text, per kWh.
    Price,
    /// What is paid whatever is used, in the currency named by the text, per day.
    Charge,
    /// What is paid a month for the highest power, in the currency named by the text, per kW.
    DemandCharge,
    /// What is paid once, in the currency named by the text.
    Money,
    /// Carbon dioxide of energy, kg per kWh.
    CarbonIntensity,
    /// A share, 1.
    Ratio,
}

impl Dimension {
    /// Whether its values are sums of money per something, with a currency in the text.
    pub(crate) fn is_money(self) -> bool {
        matches!(
            self,
            Self::Price | Self::Charge | Self::DemandCharge | Self::Money
        )
    }

    /// Names the dimension with its article, for messages: `a flow`.
    pub fn noun(self) -> Told {
        match self {
            Self::Flow => told!("a flow"),
            Self::Length => told!("a length"),
            Self::Area => told!("an area"),
            Self::Volume => told!("a volume"),
            Self::Pressure => told!("a pressure"),
            Self::Temperature => told!("a temperature"),
            Self::Speed => told!("a speed of rotation"),
            Self::Velocity => told!("a velocity"),
            Self::Power => told!("a power"),
            Self::Current => told!("a current"),
            Self::Voltage => told!("a voltage"),
            Self::Energy => told!("an energy"),
            Self::Concentration => told!("a concentration"),
            Self::Time => told!("a duration"),
            Self::Price => told!("a price of energy"),
            Self::Charge => told!("a charge for a time"),
            Self::DemandCharge => told!("a charge for power"),
            Self::Money => told!("a sum of money"),
            Self::CarbonIntensity => told!("carbon dioxide per energy"),
            Self::Ratio => told!("a share"),
        }
    }

    /// Shows how a value of the dimension is written, for messages: `60 gpm`.
    pub fn example(self) -> &'static str {
        match self {
            Self::Flow => "60 gpm",
            Self::Length => "12 ft",
            Self::Area => "150 ft2",
            Self::Volume => "18500 gal",
            Self::Pressure => "12 psi",
            Self::Temperature => "80 degF",
            Self::Speed => "2400 rpm",
            Self::Velocity => "6 ft/s",
            Self::Power => "1100 W",
            Self::Current => "5.2 A",
            Self::Voltage => "230 V",
            Self::Energy => "12 kWh",
            Self::Concentration => "3.2 g/L",
            Self::Time => "5 min",
            Self::Price => "0.24 USD/kWh",
            Self::Charge => "12.50 USD/month",
            Self::DemandCharge => "14 USD/kW",
            Self::Money => "640 USD",
            Self::CarbonIntensity => "0.39 kg/kWh",
            Self::Ratio => "50 %",
        }
    }
}

/// One unit: a row of the table.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// The spelling that is printed.
    pub name: &'static str,
    /// Other spellings that are read.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// How many SI units one of it is.
    pub factor: f64,
    /// What is added after the factor, for temperatures.
    pub offset: f64,
    /// Where the factor comes from, and whether it is exact.
    pub source: &'static str,
}

impl Unit {
    /// Finds the unit of a dimension by any of its spellings, in upper or lower case.
    ///
    /// A price or a charge has any currency: three capital letters (ISO 4217) before `/kWh`, `/month`, `/day` or `/kW`.
    pub fn find(dimension: Dimension, spelling: &str) -> Option<&'static Self> {
        let folded = fold(spelling);
        let fits = |unit: &&Self| unit.dimension == dimension && unit.is_spelled(&folded);
        if dimension.is_money() {
            return money(spelling)
                .map(|(_, unit)| unit)
                .filter(|unit| unit.dimension == dimension);
        }
        table::UNITS.iter().find(fits)
    }

    /// Finds what a spelling measures where the dimension is not known: the first that fits.
    pub fn find_any(spelling: &str) -> Option<&'static Self> {
        let folded = fold(spelling);
        let named = table::UNITS.iter().find(|unit| unit.is_spelled(&folded));
        // Any three capitals might be a currency: alone they tell nothing.
        let money = || {
            let (_, unit) = money(spelling)?;
            (unit.dimension != Dimension::Money).then_some(unit)
        };
        named.or_else(money)
    }

    /// Finds the unit of a dimension that a misspelt one most likely stands for.
    pub(crate) fn nearest(dimension: Dimension, spelling: &str) -> Option<&'static Self> {
        let units = || Self::all().filter(|unit| unit.dimension == dimension);
        let spellings = units().flat_map(|unit| unit.spellings.iter().copied().chain([unit.name]));
        let near = crate::nearest(spelling, &spellings.collect::<Vec<_>>())?;
        Self::find(dimension, near)
    }

    /// Lists the units of a dimension as they are printed, for messages.
    pub fn accepted(dimension: Dimension) -> Vec<&'static str> {
        Self::all()
            .filter(|unit| unit.dimension == dimension)
            .map(|unit| unit.name)
            .collect()
    }

    /// Walks through the whole table.
    pub fn all() -> impl Iterator<Item = &'static Self> {
        table::UNITS.iter().chain(&table::MONEY)
    }

    /// Converts a value in this unit to the SI unit of its dimension.
    pub fn to_si(&self, value: f64) -> f64 {
        value * self.factor + self.offset
    }

    /// Converts a value in the SI unit of the dimension to this unit.
    pub fn from_si(&self, value_si: f64) -> f64 {
        (value_si - self.offset) / self.factor
    }

    fn is_spelled(&self, folded: &str) -> bool {
        fold(self.name) == folded
            || self
                .spellings
                .iter()
                .any(|spelling| fold(spelling) == folded)
    }
}

/// The currency of a sum, a price or a charge such as `USD/kWh`, three capital letters, and what it is paid for.
pub(crate) fn money(spelling: &str) -> Option<(&str, &'static Unit)> {
    let spelling = spelling.trim();
    let (currency, per) = spelling.split_once('/').unwrap_or((spelling, ""));
    let currency = currency.trim();
    let is_code = currency.len() == 3 && currency.bytes().all(|byte| byte.is_ascii_uppercase());
    let per = fold(per);
    let paid_for = |unit: &&Unit| {
        let own = unit.name.split_once('/').map_or("", |(_, per)| per);
        fold(own) == per
    };
    let unit = table::MONEY.iter().find(paid_for)?;
    is_code.then_some((currency, unit))
}

/// Brings the spellings of one unit together: case, spaces, raised figures, degree signs, dots.
fn fold(spelling: &str) -> String {
    let mut folded = String::with_capacity(spelling.len());
    for character in spelling.trim().trim_end_matches('.').chars() {
        match character {
            '²' => folded.push('2'),
            '³' => folded.push('3'),
            '¹' => folded.push('1'),
            '⁻' | '\u{2212}' => folded.push('-'),
            'º' | '˚' => folded.push('°'),
            '⁄' | '∕' => folded.push('/'),
            'ℓ' => folded.push('l'),
            '·' | '⋅' | '∙' | '^' => {}
            space if space.is_whitespace() => {
                if !folded.ends_with(' ') {
                    folded.push(' ');
                }
            }
            other => folded.extend(other.to_lowercase()),
        }
    }
    folded
}

#[cfg(test)]
mod tests;
