//! What can be moved on a pad: which sizes its returns may take, and where they stand now.

use super::file::returns;
use hydraulics::pipe::PipeSpec;
use records::{Part, PartKind, Pipe, Site};

/// The specification of a pipe whose size is named without one, as the engine takes it.
const USUAL_SPEC: PipeSpec = PipeSpec::PvcSchedule40;
/// The smallest and the largest size that returns are laid in, by their inside diameter in m: common practice, no source.
const BORES_M: (f64, f64) = (0.024, 0.11);

/// What can be moved.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sliders {
    /// The sizes of the returns, from the smallest on; empty where their pipes have no size in common.
    pub sizes: Vec<String>,
    /// The place of today's size among them.
    pub size_today: usize,
    /// Whether there is a filter whose clean drop is stated.
    pub has_filter: bool,
    /// Turnovers a day that the site asks for; `None` where no volume is stated.
    pub turnovers: Option<f64>,
    /// Whether there is a tariff.
    pub has_tariff: bool,
}

/// Finds what can be moved on a pad.
pub fn sliders(site: &Site) -> Sliders {
    let (sizes, size_today) = sizes(site).unwrap_or_default();
    let parts = site.lines.iter().flat_map(|line| &line.parts);
    let is_rated =
        |part: &Part| matches!(&part.kind, PartKind::Filter(filter) if filter.clean.is_some());
    let asked = site.operation.turnover.as_ref();
    Sliders {
        sizes,
        size_today,
        has_filter: parts.into_iter().any(is_rated),
        turnovers: site
            .water
            .volume
            .as_ref()
            .map(|_| asked.map_or(1.0, |turnover| turnover.per_day)),
        has_tariff: !site.operation.tariff.is_empty(),
    }
}

/// The sizes of the specification that all pipes of the returns share, and the place of the largest that is laid now.
fn sizes(site: &Site) -> Option<(Vec<String>, usize)> {
    let pipes: Vec<&Pipe> = returns(site)
        .flat_map(|line| &line.parts)
        .filter_map(|part| match &part.kind {
            PartKind::Pipe(pipe) => Some(pipe),
            _ => None,
        })
        .collect();
    let spec_of = |pipe: &&Pipe| {
        let spec = pipe.spec.as_deref();
        spec.map_or(Some(USUAL_SPEC), PipeSpec::parse)
    };
    let spec = spec_of(pipes.first()?)?;
    if !pipes.iter().all(|pipe| spec_of(pipe) == Some(spec)) {
        return None;
    }
    let nominal = |pipe: &&Pipe| Some(pipe.pipe.as_ref()?.si);
    let laid: Option<Vec<f64>> = pipes.iter().map(nominal).collect();
    let largest = laid?.into_iter().max_by(f64::total_cmp)?;
    let today = spec.size(largest)?;
    let (least, most) = BORES_M;
    let is_usual = |bore_m: f64| (least..=most).contains(&bore_m);
    let sizes: Vec<String> = spec
        .sizes()
        .filter(|size| is_usual(size.bore_m) || size.nominal == today.nominal)
        .map(|size| size.nominal.to_owned())
        .collect();
    let place = sizes.iter().position(|size| size == today.nominal)?;
    Some((sizes, place))
}
