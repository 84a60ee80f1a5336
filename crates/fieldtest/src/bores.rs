//! The bore of a pipe: as the site file states it, or that of its nominal size.

use crate::circuit::{PUMP_INLET, PUMP_OUTLET};
use hydraulics::pipe::PipeSpec;
use records::{Line, PartKind, Pipe, Site};

/// The specification of a pipe whose size is named without one.
const USUAL_SPEC: PipeSpec = PipeSpec::PvcSchedule40;

/// A pipe that the catalogue does not hold; the specification where that is known and the size is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct NotInCatalogue(pub(crate) Option<PipeSpec>);

/// Finds the bore of a pipe, m.
pub(crate) fn bore_m(pipe: &Pipe) -> Result<f64, NotInCatalogue> {
    if let Some(bore) = &pipe.pipe_bore {
        return Ok(bore.si);
    }
    let spec = pipe
        .spec
        .as_deref()
        .map_or(Some(USUAL_SPEC), PipeSpec::parse);
    spec.zip(pipe.pipe.as_ref())
        .and_then(|(spec, size)| spec.size(size.si))
        .map(|size| size.bore_m)
        .ok_or(NotInCatalogue(spec))
}

/// Lists the pipes of a line.
pub(crate) fn pipes(line: &Line) -> impl DoubleEndedIterator<Item = &Pipe> {
    line.parts.iter().filter_map(|part| match &part.kind {
        PartKind::Pipe(pipe) => Some(pipe),
        _ => None,
    })
}

/// Finds the bore of the last pipe before the pump, where one line alone leads there.
pub(crate) fn suction_bore_m(site: &Site) -> Option<f64> {
    let line = only(site.lines.iter().filter(|line| line.to == PUMP_INLET))?;
    bore_m(pipes(line).next_back()?).ok()
}

/// Finds the bore of the first pipe after the pump, where one line alone leads away.
pub(crate) fn discharge_bore_m(site: &Site) -> Option<f64> {
    let line = only(site.lines.iter().filter(|line| line.from == PUMP_OUTLET))?;
    bore_m(pipes(line).next()?).ok()
}

fn only<'a>(mut lines: impl Iterator<Item = &'a Line>) -> Option<&'a Line> {
    let first = lines.next()?;
    lines.next().is_none().then_some(first)
}
