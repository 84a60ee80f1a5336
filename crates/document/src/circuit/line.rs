//! What is said of one line of a pad: in few words beside it, and as a whole for a reader who does not see the drawing.

use crate::language::say;
use crate::names::{self, limited};
use crate::number;
use crate::units::Printing;
use charts::{Standing, Way};
use fieldtest::{Bound, Limit, LimitOf, SolvedLimit, SolvedLine, SolvedPad};
use records::Site;
use records::unit::Dimension;

/// A flow of less than this share of the pump's is none: the rounding of the solver.
const NO_FLOW: f64 = 1e-6;

/// What a drawing is made from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Subject<'a> {
    pub(super) site: &'a Site,
    pub(super) solved: Option<&'a SolvedPad>,
    pub(super) printing: Printing,
}

impl<'a> Subject<'a> {
    fn line(&self, index: usize) -> Option<&'a SolvedLine> {
        self.solved?.lines.get(index)
    }

    /// Lists the limits of a line, the ones that are not kept first.
    fn limits(&self, index: usize) -> Vec<&'a SolvedLimit> {
        let name = self.site.lines[index].name.as_str();
        let limits = self.solved.into_iter().flat_map(|pad| &pad.limits);
        let mut own: Vec<&SolvedLimit> = limits
            .filter(|found| found.limit.line.as_deref() == Some(name))
            .collect();
        numerics::order::sort_by_key(&mut own, |found| found.kept);
        own
    }
}

/// Says how a line stands to its limits.
pub(super) fn standing(subject: &Subject<'_>, index: usize) -> Standing {
    let limits = subject.limits(index);
    match subject.line(index) {
        _ if subject.site.lines[index].unknown => Standing::Unstated,
        None => Standing::Unjudged,
        Some(line) if line.shut => Standing::Shut,
        Some(_) if limits.iter().any(|found| !found.kept) => Standing::Passed,
        Some(_) if limits.is_empty() => Standing::Unjudged,
        Some(_) => Standing::Kept,
    }
}

/// Says which way the water goes; where no flow is known, the way that the site states.
pub(super) fn way(subject: &Subject<'_>, index: usize) -> Way {
    let Some((pad, line)) = subject.solved.zip(subject.line(index)) else {
        return Way::Forwards;
    };
    let least = NO_FLOW * pad.flow_m3s.abs();
    if line.shut || line.flow_m3s.abs() <= least {
        Way::Still
    } else if line.flow_m3s > 0.0 {
        Way::Forwards
    } else {
        Way::Backwards
    }
}

/// Says what flows in a line, in few words.
pub(super) fn in_short(subject: &Subject<'_>, index: usize) -> String {
    match (standing(subject, index), subject.line(index)) {
        (Standing::Unstated, _) => say!(subject.printing, "not stated").to_owned(),
        (Standing::Shut, _) => say!(subject.printing, "shut").to_owned(),
        (_, None) => String::new(),
        (_, Some(line)) => {
            if way(subject, index) == Way::Still {
                return say!(subject.printing, "no flow").to_owned();
            }
            let flow = subject.printing.plain(line.flow_m3s.abs(), Dimension::Flow);
            let limits = subject.limits(index).into_iter();
            let passed = limits.filter(|found| !found.kept);
            let (velocities, others): (Vec<&Limit>, Vec<&Limit>) = passed
                .map(|found| &found.limit)
                .partition(|limit| matches!(limit.of, LimitOf::Velocity { .. }));
            let velocity = match velocities.first() {
                Some(limit) => too_fast(limit, line, subject.printing),
                None => line
                    .velocity_m_s
                    .map(|velocity| subject.printing.plain(velocity, Dimension::Velocity)),
            };
            let others = others.into_iter();
            let others = others.map(|limit| beyond(limit, subject.printing));
            let said: Vec<String> = std::iter::once(flow)
                .chain(velocity)
                .chain(others)
                .collect();
            said.join(", ")
        }
    }
}

/// Says a velocity with the limit that it passes.
fn too_fast(limit: &Limit, line: &SolvedLine, printing: Printing) -> Option<String> {
    let LimitOf::Velocity { velocity_m_s } = limit.of else {
        return None;
    };
    let found = limit.velocity_at_m_s(line.flow_m3s.abs())?;
    Some(say!(
        printing,
        "{found}, limit {limit}",
        found = printing.plain(found, Dimension::Velocity),
        limit = number::plain(printing, printing.number(velocity_m_s, Dimension::Velocity))
    ))
}

/// Names a part with the flow that it must have or must not pass.
fn beyond(limit: &Limit, printing: Printing) -> String {
    let bound = match limit.bound {
        Bound::Max => say!(printing, "at most"),
        Bound::Min => say!(printing, "at least"),
    };
    match limit.flow_m3s {
        Some(flow) => format!(
            "{} {bound} {}",
            limited(limit, printing),
            printing.plain(flow, Dimension::Flow)
        ),
        None => say!(
            printing,
            "beyond the rating of the {part}",
            part = limited(limit, printing)
        ),
    }
}

/// Tells a line as a whole.
pub(super) fn told(subject: &Subject<'_>, index: usize) -> String {
    let line = &subject.site.lines[index];
    let (from, to) = match way(subject, index) {
        Way::Backwards => (&line.to, &line.from),
        Way::Forwards | Way::Still => (&line.from, &line.to),
    };
    let mut said = say!(
        subject.printing,
        "{line}, from {from} to {to}",
        line = line.name,
        from = names::name(from, subject.printing),
        to = names::name(to, subject.printing)
    );
    let short = in_short(subject, index);
    if !short.is_empty() {
        said = format!("{said}: {short}");
    }
    if way(subject, index) == Way::Backwards {
        said.push_str(say!(subject.printing, ", against its stated direction"));
    }
    if let Some(solved) = subject.line(index).filter(|line| !line.shut) {
        let head = subject
            .printing
            .plain(solved.head_loss_m.abs(), Dimension::Length);
        said = say!(subject.printing, "{said}, {head} of head", said, head);
    }
    if standing(subject, index) == Standing::Kept {
        said.push_str(say!(subject.printing, ", limits kept"));
    }
    let parts: Vec<String> = line
        .parts
        .iter()
        .map(|part| super::part_words(part, subject.printing))
        .collect();
    if !parts.is_empty() {
        said = format!("{said}; {}", parts.join("; "));
    }
    said
}
