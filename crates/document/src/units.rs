//! The units and the language in which an answer is printed.

use crate::language::say;
use crate::number;
use metrology::Estimate;
use records::unit::{Dimension, Unit};
use records::{Language, UnitSystem};

/// How results are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Printing {
    /// The system of units.
    pub system: UnitSystem,
    /// The language, with its habits of numbers and dates.
    pub language: Language,
}

impl Printing {
    /// Prints in English.
    pub const fn english(system: UnitSystem) -> Self {
        Self {
            system,
            language: Language::English,
        }
    }

    /// Returns the unit in which a dimension is printed; `None` where the SI unit of the records is printed.
    fn unit(self, dimension: Dimension) -> Option<&'static Unit> {
        let us = self.system == UnitSystem::Us;
        let name = match dimension {
            Dimension::Flow if us => "gpm",
            Dimension::Flow => "m3/h",
            Dimension::Length if us => "ft",
            Dimension::Length => "m",
            Dimension::Volume if us => "gal",
            Dimension::Volume => "m3",
            Dimension::Pressure if us => "psi",
            Dimension::Pressure => "kPa",
            Dimension::Velocity if us => "ft/s",
            Dimension::Velocity => "m/s",
            Dimension::Temperature if us => "degF",
            Dimension::Temperature => "degC",
            Dimension::Speed => "rpm",
            Dimension::Power => "W",
            Dimension::Current => "A",
            Dimension::Voltage => "V",
            _ => return None,
        };
        Unit::find(dimension, name)
    }

    /// Returns the name of the unit in which a dimension is printed.
    pub fn name(self, dimension: Dimension) -> &'static str {
        self.unit(dimension).map_or("", |unit| written(unit.name))
    }

    /// Converts an SI value to the unit of print.
    pub fn number(self, si: f64, dimension: Dimension) -> f64 {
        self.unit(dimension).map_or(si, |unit| unit.from_si(si))
    }

    /// Converts an estimate of a dimension without offset to the unit of print.
    pub fn estimate(self, si: Estimate, dimension: Dimension) -> Estimate {
        si.scaled(1.0 / self.unit(dimension).map_or(1.0, |unit| unit.factor))
    }

    /// Writes an SI value with its unit, three digits.
    pub fn plain(self, si: f64, dimension: Dimension) -> String {
        with_unit(
            &number::plain(self, self.number(si, dimension)),
            self.name(dimension),
        )
    }

    /// Writes an estimate with its interval and unit.
    pub fn with_interval(self, si: Estimate, dimension: Dimension) -> String {
        let text = number::with_interval(self, self.estimate(si, dimension));
        with_unit(&text, self.name(dimension))
    }

    /// Writes the best value of an estimate with its unit.
    pub fn best(self, si: Estimate, dimension: Dimension) -> String {
        with_unit(
            &number::best(self, self.estimate(si, dimension)),
            self.name(dimension),
        )
    }

    /// Writes the bore of a pipe: in inches or millimetres.
    pub fn bore(self, m: f64) -> String {
        let name = match self.system {
            UnitSystem::Us => "in",
            UnitSystem::Si => "mm",
        };
        let number = Unit::find(Dimension::Length, name).map_or(m, |unit| unit.from_si(m));
        with_unit(&number::plain(self, number), name)
    }

    /// Writes a flow per area of media, m/s: per square foot and minute, or as metres in an hour.
    pub fn filter_rate(self, m_s: f64) -> String {
        /// One square foot, m², exact (NIST SP 811, appendix B.8).
        const SQUARE_FOOT_M2: f64 = 0.09290304;
        let (area_m2, unit) = match self.system {
            UnitSystem::Us => (SQUARE_FOOT_M2, "gpm/ft²"),
            UnitSystem::Si => (1.0, "m/h"),
        };
        let flow = self.number(m_s * area_m2, Dimension::Flow);
        with_unit(&number::significant(self, flow, 2), unit)
    }

    /// Writes a vacuum below the atmosphere: in inches of mercury where feet and pounds are printed.
    pub fn vacuum(self, pa: f64) -> String {
        let number = self.vacuum_unit().map_or(pa, |unit| unit.from_si(pa));
        with_unit(&number::significant(self, number, 2), self.vacuum_name())
    }

    /// Writes an estimate of a vacuum, without its unit, in the unit of [`Printing::vacuum_name`].
    pub fn vacuum_number(self, pa: Estimate) -> String {
        number::with_interval(self, self.vacuum_estimate(pa))
    }

    /// Converts an estimate of a vacuum to the unit of [`Printing::vacuum_name`].
    pub fn vacuum_estimate(self, pa: Estimate) -> Estimate {
        pa.scaled(1.0 / self.vacuum_unit().map_or(1.0, |unit| unit.factor))
    }

    /// Returns the name of the unit in which a vacuum is printed.
    pub fn vacuum_name(self) -> &'static str {
        self.vacuum_unit().map_or("", |unit| written(unit.name))
    }

    fn vacuum_unit(self) -> Option<&'static Unit> {
        match self.system {
            UnitSystem::Us => Unit::find(Dimension::Pressure, "inHg"),
            UnitSystem::Si => self.unit(Dimension::Pressure),
        }
    }

    /// Returns how many watt-hours per printed volume one W h/m³ is, with that volume: per 1000 gal or per m³.
    pub fn energy_per_volume(self) -> (f64, &'static str) {
        match (self.system, Unit::find(Dimension::Volume, "gal")) {
            (UnitSystem::Us, Some(gallon)) => (1000.0 * gallon.factor, say!(self, "per 1000 gal")),
            _ => (1.0, say!(self, "per m³")),
        }
    }
}

/// Puts a unit behind a number, the degree and the percent sign included.
pub fn with_unit(number: &str, unit: &str) -> String {
    if unit.is_empty() {
        number.to_owned()
    } else {
        format!("{number} {unit}")
    }
}

/// Writes a unit as it is printed, with its superscripts.
pub fn written(name: &'static str) -> &'static str {
    match name {
        "m3/h" => "m³/h",
        "m3/s" => "m³/s",
        "m3" => "m³",
        "ft2" => "ft²",
        "m2" => "m²",
        "degF" => "°F",
        "degC" => "°C",
        name => name,
    }
}
