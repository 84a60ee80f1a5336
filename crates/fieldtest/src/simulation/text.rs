//! A simulated test as the text that a person would have typed.

use super::draw::Uniform;
use super::meters::{MeterModel, Meters};
use super::pad::{Operation, Truth};
use hydraulics::HydraulicsError;
use records::{Measured, Source, TestFiles};
use std::fmt::Write;

/// A test with its truth.
#[derive(Clone, Debug, PartialEq)]
pub struct SimulatedTest {
    /// What is true at each step.
    pub truth: Vec<Operation>,
    /// The rows as read: speed, and a text per meter.
    pub rows: Vec<(f64, Vec<String>)>,
    /// The draw at rest, as read.
    pub standby: String,
    models: Vec<MeterModel>,
    top_rpm: f64,
}

/// Steps a truth through `speeds_rpm`, reading each on `meters`.
///
/// # Errors
/// Those of the hydraulics.
pub fn simulate(
    truth: &Truth,
    speeds_rpm: &[f64],
    meters: &Meters,
    uniform: &mut Uniform<'_>,
) -> Result<SimulatedTest, HydraulicsError> {
    let operations = speeds_rpm.iter().map(|speed| truth.at(*speed));
    let operations: Vec<Operation> = operations.collect::<Result<_, _>>()?;
    let rows = operations
        .iter()
        .map(|operation| (operation.speed_rpm, meters.read(operation, uniform)))
        .collect();
    Ok(SimulatedTest {
        truth: operations,
        rows,
        standby: format!("{:.0}", uniform.between(3.0, 12.0)),
        models: meters.models().copied().collect(),
        top_rpm: truth.top_rpm(),
    })
}

impl SimulatedTest {
    /// Writes the site file: the pump and the meters with their accuracies.
    pub fn site(&self) -> Source {
        let mut text = format!(
            "# A made-up pad.\nformat = 1\nname = \"Simulated pad\"\nunits = \"us\"\n\n[pump]\nspeed = {{ max = \"{} rpm\" }}\nsupply = \"230 V\"\n",
            self.top_rpm,
        );
        for model in &self.models {
            // Writing to a string does not fail.
            let _ = write!(
                text,
                "\n[[meter]]\nid = \"{}\"\n{}",
                model.id,
                declaration(model)
            );
        }
        source("site.toml", text)
    }

    /// Writes the test file and the readings.
    pub fn files(&self) -> TestFiles {
        let mut text = String::from("speed [rpm]");
        for model in &self.models {
            let _ = write!(
                text,
                ",{} {} [{}]",
                model.measured.word(),
                model.id,
                model.unit
            );
        }
        text.push('\n');
        let at_rest = self.models.iter().map(|model| match model.measured {
            Measured::Power => self.standby.as_str(),
            _ => "",
        });
        let _ = writeln!(text, "0,{}", at_rest.collect::<Vec<_>>().join(","));
        for (speed, cells) in &self.rows {
            let _ = writeln!(text, "{speed:.0},{}", cells.join(","));
        }
        TestFiles {
            test: source(
                "first.toml",
                "format = 1\nreadings = \"first.csv\"\n".to_owned(),
            ),
            readings: Some(source("first.csv", text)),
        }
    }

    /// Returns the line of the readings on which a step stands.
    pub fn line_of(&self, step: usize) -> usize {
        step + 3
    }
}

fn declaration(model: &MeterModel) -> String {
    let of = match model.measured {
        Measured::FilterPressure | Measured::InletPressure => "pressure",
        Measured::InletVacuum => "vacuum",
        measured => measured.word(),
    };
    format!(
        "measures = \"{of}\"\naccuracy = [\"{} % of reading + {} {}\"]\nshare_common = {}\n",
        100.0 * model.of_reading,
        model.absolute,
        model.unit,
        model.share_common,
    )
}

fn source(name: &str, text: String) -> Source {
    Source {
        name: name.to_owned(),
        text,
    }
}
