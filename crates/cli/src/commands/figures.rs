//! The figures of an answer as files.

use crate::arguments::FigureArguments;
use crate::failure::Failure;
use crate::files::write_ours;
use crate::output;
use charts::{Circuit, Size, Theme};
use document::figures::NamedFigure;

/// What is drawn into a file.
#[derive(Clone, Debug)]
pub(super) struct Drawing {
    /// The name of the file, without `.svg`.
    name: String,
    kind: Kind,
}

#[derive(Clone, Debug)]
enum Kind {
    Figure(Box<NamedFigure>),
    Circuit(Box<Circuit>),
}

impl Drawing {
    /// Takes the drawing of a pad under a name.
    pub(super) fn of_circuit(name: &str, circuit: Circuit) -> Self {
        Self {
            name: name.to_owned(),
            kind: Kind::Circuit(Box::new(circuit)),
        }
    }

    fn svg(&self, theme: Theme, size: Size) -> Option<String> {
        match &self.kind {
            Kind::Figure(named) => named.figure.svg(theme, size),
            Kind::Circuit(circuit) => circuit.svg(theme, size),
        }
    }
}

impl From<NamedFigure> for Drawing {
    fn from(named: NamedFigure) -> Self {
        Self {
            name: named.name.clone(),
            kind: Kind::Figure(Box::new(named)),
        }
    }
}

/// Writes the drawings to the folder that was named; without one, nothing is drawn. Where there is none, `nothing` says why.
pub(super) fn write(
    drawings: impl FnOnce() -> Vec<Drawing>,
    wanted: &FigureArguments,
    nothing: &str,
) -> Result<(), Failure> {
    let Some(folder) = &wanted.folder else {
        return Ok(());
    };
    let drawn: Vec<(String, String)> = drawings()
        .iter()
        .filter_map(|drawing| {
            let text = drawing.svg(wanted.theme.into(), wanted.size.into())?;
            Some((format!("{}.svg", drawing.name), text))
        })
        .collect();
    if drawn.is_empty() {
        output::note(nothing);
        return Ok(());
    }
    write_ours(folder, &drawn, charts::OPENING)?;
    let figures = match drawn.len() {
        1 => "1 figure".to_owned(),
        n => format!("{n} figures"),
    };
    output::note(&format!("Wrote {figures} to {}.", folder.display()));
    Ok(())
}
