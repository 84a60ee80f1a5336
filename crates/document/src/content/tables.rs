//! The tables of an answer: steps, laws, limits.

use super::{Block, Table};
use crate::number;
use crate::units::Printing;
use fieldtest::{Analysis, Basis, Bound, Limit, Step, TestResult};
use metrology::Estimate;
use records::Site;
use records::unit::Dimension;

/// A column of the table of steps: its heading and the number of a step.
type StepColumn<'a> = (String, Box<dyn Fn(&Step) -> Option<String> + 'a>);

fn headed(text: &str, named: Option<&str>) -> Block {
    Block::Heading(named.map_or_else(|| text.to_owned(), |test| format!("{text}, test {test}")))
}

/// Composes the table of steps; a column without any number is left out.
pub(super) fn steps(result: &TestResult, named: Option<&str>, printing: Printing) -> Vec<Block> {
    if result.steps.is_empty() {
        return Vec::new();
    }
    let filled = |column: &StepColumn<'_>| result.steps.iter().any(|step| column.1(step).is_some());
    let columns: Vec<StepColumn<'_>> = step_columns(printing).into_iter().filter(filled).collect();
    let table = Table {
        headings: columns.iter().map(|(heading, _)| heading.clone()).collect(),
        rows: result
            .steps
            .iter()
            .map(|step| {
                columns
                    .iter()
                    .map(|(_, number)| number(step).unwrap_or_else(dash))
                    .collect()
            })
            .collect(),
        word_columns: 0,
    };
    vec![headed("Steps", named), Block::Table(table)]
}

fn dash() -> String {
    "–".to_owned()
}

fn step_columns<'a>(printing: Printing) -> Vec<StepColumn<'a>> {
    let in_unit = move |estimate: Option<Estimate>, dimension: Dimension| {
        estimate.map(|x| number::with_interval(printing.estimate(x, dimension)))
    };
    let heading =
        |word: &str, dimension: Dimension| format!("{word}\n{}", printing.name(dimension));
    let (factor, per_volume) = printing.energy_per_volume();
    vec![
        (
            heading("speed", Dimension::Speed),
            Box::new(|step| Some(number::rpm(step.speed_rpm))),
        ),
        (
            heading("flow", Dimension::Flow),
            Box::new(move |step| in_unit(step.flow_m3s, Dimension::Flow)),
        ),
        (
            heading("power", Dimension::Power),
            Box::new(move |step| in_unit(step.power_w, Dimension::Power)),
        ),
        (
            heading("current", Dimension::Current),
            Box::new(move |step| in_unit(step.current_a, Dimension::Current)),
        ),
        (
            "power\nfactor".to_owned(),
            Box::new(|step| step.power_factor.map(number::with_interval)),
        ),
        (
            format!("energy, Wh\n{per_volume}"),
            Box::new(move |step| {
                step.energy_wh_per_m3
                    .map(|x| number::with_interval(x.scaled(factor)))
            }),
        ),
        (
            heading("head", Dimension::Length),
            Box::new(move |step| in_unit(step.head_m, Dimension::Length)),
        ),
        (
            heading("head below", Dimension::Length),
            Box::new(move |step| {
                step.head_bound_m
                    .map(|x| number::best(printing.estimate(x, Dimension::Length)))
            }),
        ),
        (
            "wire to\nwater".to_owned(),
            Box::new(|step| step.efficiency.map(number::with_interval)),
        ),
    ]
}

/// Composes the table of laws.
pub(super) fn laws(result: &TestResult, named: Option<&str>, printing: Printing) -> Vec<Block> {
    let mut rows: Vec<[String; 2]> = Vec::new();
    if let Some(flow) = &result.laws.flow {
        let slope = printing.with_interval(flow.slope_m3s_per_rpm.scaled(1000.0), Dimension::Flow);
        rows.push([
            "flow per 1000 rpm, far above the start of flow".to_owned(),
            slope,
        ]);
        let intercept = format!("{} rpm", number::with_interval(flow.intercept_speed_rpm));
        rows.push(["speed at which flow starts".to_owned(), intercept]);
    }
    if let Some(power) = &result.laws.power {
        let watts = |x: Estimate| format!("{} W", number::with_interval(x));
        rows.push([
            "draw that does not depend on speed".to_owned(),
            watts(power.fixed_w),
        ]);
        let at = format!("draw that does, at {} rpm", number::rpm(power.at_speed_rpm));
        rows.push([at, watts(power.dynamic_w)]);
        rows.push([
            "exponent of that draw in speed".to_owned(),
            number::with_interval(power.exponent),
        ]);
    }
    if let Some(system) = &result.laws.system {
        if let Some(at_rest) = system.static_m {
            let head = printing.with_interval(at_rest, Dimension::Length);
            rows.push(["head at no flow".to_owned(), head]);
        }
        if let Some(exponent) = system.exponent {
            let value = number::with_interval(exponent);
            rows.push(["exponent of head in flow".to_owned(), value]);
        }
    }
    if let Some(standby) = result.laws.standby_w {
        rows.push([
            "draw at rest".to_owned(),
            format!("{} W", number::with_interval(standby)),
        ]);
    }
    if rows.is_empty() {
        return Vec::new();
    }
    vec![
        headed("Laws", named),
        Block::Table(Table {
            headings: vec!["law".to_owned(), "value, 95 % interval".to_owned()],
            rows: rows.into_iter().map(Vec::from).collect(),
            word_columns: 1,
        }),
    ]
}

/// Composes the table of limits, and where the rules come from.
pub(super) fn limits(site: &Site, analysis: &Analysis, printing: Printing) -> Vec<Block> {
    if analysis.limits.is_empty() {
        return Vec::new();
    }
    let row = |limit: &Limit| {
        vec![
            limit.velocity_m_s.map_or_else(
                || limit.applies_to.clone(),
                |velocity| {
                    format!(
                        "{}, {}",
                        limit.applies_to,
                        printing.plain(velocity, Dimension::Velocity)
                    )
                },
            ),
            match limit.bound {
                Bound::Max => "at most".to_owned(),
                Bound::Min => "at least".to_owned(),
            },
            printing.plain(limit.flow_m3s, Dimension::Flow),
            speed_words(limit.speed_rpm, site.pump.speed.max.si),
        ]
    };
    let mut blocks = vec![
        Block::Heading("Limits".to_owned()),
        Block::Table(Table {
            headings: ["where", "", "flow", "pump speed"]
                .map(str::to_owned)
                .to_vec(),
            rows: analysis.limits.iter().map(row).collect(),
            word_columns: 2,
        }),
    ];
    blocks.extend(sources(&analysis.limits).into_iter().map(Block::Note));
    blocks
}

/// Writes the speed at a limit, where the pump reaches it.
fn speed_words(speed_rpm: Option<f64>, top_rpm: f64) -> String {
    match speed_rpm {
        None => "not known".to_owned(),
        Some(speed) if speed > top_rpm => "not reached".to_owned(),
        Some(speed) => format!("{} rpm", number::rpm_about(speed)),
    }
}

/// Lists the sources of limits once each.
fn sources(limits: &[Limit]) -> Vec<String> {
    let mut sources: Vec<String> = Vec::new();
    for limit in limits.iter().filter(|limit| limit.basis != Basis::SiteFile) {
        let doubt = match limit.basis {
            Basis::UsualPractice => " (usual practice, confirm locally)",
            Basis::Printed | Basis::SiteFile => "",
        };
        let text = format!("Rule: {}{doubt}. Local codes decide.", limit.source);
        if !sources.contains(&text) {
            sources.push(text);
        }
    }
    sources
}
