//! The bore of a pipe: as the site file states it, or that of its nominal size.

use crate::circuit::{PUMP_INLET, PUMP_OUTLET};
use hydraulics::pipe::{PVC_ROUGHNESS_M, PipeSpec};
use records::{Line, Part, PartKind, Pipe, Quantity, Site};

/// The specification of a pipe whose size is named without one.
const USUAL_SPEC: PipeSpec = PipeSpec::PvcSchedule40;

/// A pipe that the catalogue does not hold; the specification where that is known and the size is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct NotInCatalogue(pub(crate) Option<PipeSpec>);

/// The inside of a pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Inside {
    /// Inside diameter, m.
    pub bore_m: f64,
    /// Height of the wall's roughness, m.
    pub roughness_m: f64,
    /// The specification, where the pipe is named by one.
    spec: Option<PipeSpec>,
}

impl Inside {
    /// Finds the bore of a pipe.
    pub(crate) fn of(pipe: &Pipe) -> Result<Self, NotInCatalogue> {
        let stated = pipe.roughness.as_ref().map(|roughness| roughness.si);
        if let Some(bore) = &pipe.pipe_bore {
            return Ok(Self {
                bore_m: bore.si,
                roughness_m: stated.unwrap_or(PVC_ROUGHNESS_M),
                spec: None,
            });
        }
        let spec = named(pipe.spec.as_deref()).ok_or(NotInCatalogue(None))?;
        let size = pipe.pipe.as_ref().ok_or(NotInCatalogue(Some(spec)))?;
        let found = Self::of_size(spec, size)?;
        Ok(Self {
            roughness_m: stated.unwrap_or(found.roughness_m),
            ..found
        })
    }

    /// Finds the bore of another size: of a specification that is named, else of this pipe's own.
    pub(crate) fn at_size(
        before: Option<Self>,
        size: &Quantity,
        spec: Option<&str>,
    ) -> Result<Self, NotInCatalogue> {
        let own = before.and_then(|inside| inside.spec).unwrap_or(USUAL_SPEC);
        let spec = spec.map_or(Some(own), PipeSpec::parse);
        Self::of_size(spec.ok_or(NotInCatalogue(None))?, size)
    }

    fn of_size(spec: PipeSpec, size: &Quantity) -> Result<Self, NotInCatalogue> {
        let size = spec.size(size.si).ok_or(NotInCatalogue(Some(spec)))?;
        Ok(Self {
            bore_m: size.bore_m,
            roughness_m: spec.roughness_m(),
            spec: Some(spec),
        })
    }
}

/// Finds the specification that a pipe names; the usual one where it names none.
fn named(spec: Option<&str>) -> Option<PipeSpec> {
    spec.map_or(Some(USUAL_SPEC), PipeSpec::parse)
}

/// Lists the pipes among the parts of a line.
pub(crate) fn pipes(parts: &[Part]) -> impl DoubleEndedIterator<Item = &Pipe> {
    parts.iter().filter_map(|part| match &part.kind {
        PartKind::Pipe(pipe) => Some(pipe),
        _ => None,
    })
}

/// Finds the bore of the last pipe before the pump, where one line alone leads there.
pub(crate) fn suction_bore_m(site: &Site) -> Option<f64> {
    let line = only(site.lines.iter().filter(|line| line.to == PUMP_INLET))?;
    let pipe = pipes(&line.parts).next_back()?;
    Inside::of(pipe).ok().map(|inside| inside.bore_m)
}

/// Finds the bore of the first pipe after the pump, where one line alone leads away.
pub(crate) fn discharge_bore_m(site: &Site) -> Option<f64> {
    let line = only(site.lines.iter().filter(|line| line.from == PUMP_OUTLET))?;
    let pipe = pipes(&line.parts).next()?;
    Inside::of(pipe).ok().map(|inside| inside.bore_m)
}

fn only<'a>(mut lines: impl Iterator<Item = &'a Line>) -> Option<&'a Line> {
    let first = lines.next()?;
    lines.next().is_none().then_some(first)
}
