//! `loss`: head lost in one run of pipe.

use crate::arguments::LossArguments;
use crate::failure::Failure;
use crate::output;
use document::units::Printing;
use hydraulics::loss::{PipeRun, pipe_loss};
use hydraulics::pipe::PipeSpec;
use hydraulics::water::Water;
use records::unit::Dimension;
use records::{Quantity, UnitSystem};
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &LossArguments) -> Result<ExitCode, Failure> {
    let flow = quantity("--flow", &arguments.flow, Dimension::Flow)?;
    if flow.si < 0.0 {
        return Err(Failure::call(
            format!("--flow is {}; expected 0 or more", flow.text),
            "the loss is the same in either direction",
        ));
    }
    let temperature = quantity(
        "--temperature",
        &arguments.temperature,
        Dimension::Temperature,
    )?;
    let pipe = PipeRun {
        bore_m: bore_m(arguments)?,
        roughness_m: quantity("--roughness", &arguments.roughness, Dimension::Length)?.si,
        length_m: quantity("--length", &arguments.length, Dimension::Length)?.si,
        minor_loss_k: arguments.k,
    };
    let physical = |error: hydraulics::HydraulicsError| Failure::Call {
        message: error.to_string(),
        hint: None,
    };
    let water = Water::fresh(temperature.si).map_err(physical)?;
    let loss = pipe_loss(&pipe, flow.si, &water).map_err(physical)?;
    if arguments.answer.json {
        return output::print(&document::loss::json(&loss));
    }
    let units = arguments.answer.units.map(UnitSystem::from);
    let printing = Printing {
        system: units.unwrap_or_else(|| spoken(&flow)),
    };
    output::blocks(&document::loss::content(&title(arguments), &loss, printing))
}

fn quantity(option: &str, text: &str, dimension: Dimension) -> Result<Quantity, Failure> {
    Quantity::parse(text, dimension).map_err(|error| Failure::Call {
        message: format!("{option}: {error}"),
        hint: None,
    })
}

/// Finds the bore: as stated, or that of the nominal size.
fn bore_m(arguments: &LossArguments) -> Result<f64, Failure> {
    if let Some(bore) = &arguments.bore {
        return Ok(quantity("--bore", bore, Dimension::Length)?.si);
    }
    let specs: Vec<&str> = PipeSpec::ALL.iter().map(|spec| spec.name()).collect();
    let spec = PipeSpec::parse(&arguments.spec).ok_or_else(|| {
        Failure::call(
            format!("--spec: \"{}\" is not in the catalogue", arguments.spec),
            format!("name one of: {}; or give --bore", specs.join(", ")),
        )
    })?;
    let size = quantity(
        "--pipe",
        arguments.pipe.as_deref().unwrap_or_default(),
        Dimension::Length,
    )?;
    spec.size(size.si).map(|size| size.bore_m).ok_or_else(|| {
        let sizes: Vec<&str> = spec.sizes().map(|size| size.nominal).collect();
        Failure::call(
            format!("--pipe: {} has no size {}", spec.name(), size.text),
            format!("name one of: {}; or give --bore", sizes.join(", ")),
        )
    })
}

/// Chooses the units of print by how the flow was typed.
fn spoken(flow: &Quantity) -> UnitSystem {
    if flow.text.to_lowercase().contains("gpm") {
        UnitSystem::Us
    } else {
        UnitSystem::Si
    }
}

fn title(arguments: &LossArguments) -> String {
    let pipe = match (&arguments.bore, &arguments.pipe) {
        (Some(bore), _) => format!("bore {bore}"),
        (None, Some(size)) => format!("{size} {}", arguments.spec),
        (None, None) => String::new(),
    };
    format!(
        "{} through {} of {pipe}, water at {}",
        arguments.flow, arguments.length, arguments.temperature,
    )
}
