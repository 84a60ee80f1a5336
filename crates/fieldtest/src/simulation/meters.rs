//! Meters that err as their stated accuracy says: a part that is one draw per meter, and a part per reading.

use super::draw::Uniform;
use super::pad::Operation;
use records::Measured;
use records::unit::Unit;

/// A meter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeterModel {
    /// The id by which its column calls it.
    pub id: &'static str,
    /// What it measures.
    pub measured: Measured,
    /// The unit of its display, as a column names it.
    pub unit: &'static str,
    /// Half-width of its accuracy as a share of the reading.
    pub of_reading: f64,
    /// Half-width of its accuracy in the unit of its display, added to the share.
    pub absolute: f64,
    /// The part of the variance that is one draw per meter.
    pub share_common: f64,
    /// Digits behind the decimal point that it shows.
    pub decimals: usize,
}

/// The meters of a test, each with its draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Meters {
    meters: Vec<(MeterModel, f64)>,
}

impl Meters {
    /// Draws the common error of each meter.
    pub fn draw(models: &[MeterModel], uniform: &mut Uniform<'_>) -> Self {
        let meters = models
            .iter()
            .map(|model| (*model, uniform.between(-1.0, 1.0)))
            .collect();
        Self { meters }
    }

    /// Lists the meters.
    pub fn models(&self) -> impl Iterator<Item = &MeterModel> {
        self.meters.iter().map(|(model, _)| model)
    }

    /// Reads one operation: a text per meter, as the display shows it.
    pub fn read(&self, truth: &Operation, uniform: &mut Uniform<'_>) -> Vec<String> {
        self.meters
            .iter()
            .map(|(model, common)| model.read(truth, *common, uniform.between(-1.0, 1.0)))
            .collect()
    }
}

impl MeterModel {
    /// The meters of the tests in this project: paddle wheel, true-rms power meter and clamp, in US units.
    pub const USUAL: [Self; 3] = [
        Self {
            id: "F",
            measured: Measured::Flow,
            unit: "gpm",
            of_reading: 0.03,
            absolute: 0.0,
            share_common: 0.7,
            decimals: 1,
        },
        Self {
            id: "P",
            measured: Measured::Power,
            unit: "W",
            of_reading: 0.02,
            absolute: 0.0,
            share_common: 0.7,
            decimals: 0,
        },
        Self {
            id: "C",
            measured: Measured::Current,
            unit: "A",
            of_reading: 0.02,
            absolute: 0.0,
            share_common: 0.7,
            decimals: 2,
        },
    ];

    /// Shows the truth with a common and an own error, each a share of the half-width between -1 and 1: the sum of the
    /// two has the variance of a rectangular distribution of the stated half-width.
    fn read(&self, truth: &Operation, common: f64, own: f64) -> String {
        let si = match self.measured {
            Measured::Flow => truth.flow_m3s,
            Measured::Power => truth.power_w,
            Measured::Current => truth.current_a,
            Measured::FilterPressure => truth.filter_pressure_pa,
            Measured::InletVacuum => truth.inlet_vacuum_pa,
            Measured::InletPressure => -truth.inlet_vacuum_pa,
            Measured::Head => truth.head_m,
            Measured::Speed | Measured::Voltage | Measured::Time => truth.speed_rpm,
        };
        let unit = Unit::find(self.measured.dimension(), self.unit);
        let shown = unit.map_or(si, |unit| unit.from_si(si));
        let half_width = self.of_reading * shown.abs() + self.absolute;
        let error = self.share_common.sqrt() * common + (1.0 - self.share_common).sqrt() * own;
        format!("{:.*}", self.decimals, shown + half_width * error)
    }
}
