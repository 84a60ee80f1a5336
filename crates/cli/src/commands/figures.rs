//! The figures of an analysis as files.

use crate::arguments::FigureArguments;
use crate::failure::Failure;
use crate::files::write_ours;
use crate::output;
use document::figures::NamedFigure;

/// Writes the figures to the folder that was named; without one, nothing. Where there is no figure, `nothing` says why.
pub(super) fn write(
    figures: &[NamedFigure],
    wanted: &FigureArguments,
    nothing: &str,
) -> Result<(), Failure> {
    let Some(folder) = &wanted.folder else {
        return Ok(());
    };
    let drawn: Vec<(String, String)> = figures
        .iter()
        .filter_map(|named| {
            let text = named.figure.svg(wanted.theme.into(), wanted.size.into())?;
            Some((format!("{}.svg", named.name), text))
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
