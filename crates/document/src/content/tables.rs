//! The tables of an answer: steps, laws, limits.

use super::{Block, Kind, Kinds, Table};
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::Printing;
use crate::words;
use fieldtest::{Analysis, Basis, Bound, Limit, LimitOf, Passage, Step, TestResult};
use metrology::Estimate;
use records::unit::Dimension;

/// Writes the number of a step.
type Written<'a> = Box<dyn Fn(&Step) -> Option<String> + 'a>;

/// A column of a table of steps.
struct StepColumn<'a> {
    heading: String,
    number: Written<'a>,
    /// What those numbers are, where they can be asked where they come from.
    kind: Option<Kind>,
}

impl<'a> StepColumn<'a> {
    fn new(heading: String, number: impl Fn(&Step) -> Option<String> + 'a) -> Self {
        Self {
            heading,
            number: Box::new(number),
            kind: None,
        }
    }

    /// Says what the numbers are.
    fn of(self, kind: Kind) -> Self {
        Self {
            kind: Some(kind),
            ..self
        }
    }
}

fn headed(text: &str, named: Option<&str>, printing: Printing) -> Block {
    Block::Heading(named.map_or_else(
        || text.to_owned(),
        |test| say!(printing, "{text}, test {test}", text, test),
    ))
}

fn dash() -> String {
    "–".to_owned()
}

/// Composes the tables of steps: what the water does, then what the electricity does.
pub(crate) fn steps(result: &TestResult, named: Option<&str>, printing: Printing) -> Vec<Block> {
    let mut blocks = step_table(
        result,
        headed(say!(printing, "Steps"), named, printing),
        water_columns(result, printing),
    );
    blocks.extend(step_table(
        result,
        headed(say!(printing, "Electricity"), named, printing),
        electrical_columns(printing),
    ));
    blocks.extend(step_table(
        result,
        headed(say!(printing, "Pressures"), named, printing),
        pressure_columns(printing),
    ));
    blocks
}

/// Composes one table of steps; a column without any number is left out, and so is a table with nothing beside the speed.
fn step_table(result: &TestResult, heading: Block, columns: Vec<StepColumn<'_>>) -> Vec<Block> {
    let filled = |column: &StepColumn<'_>| {
        result
            .steps
            .iter()
            .any(|step| (column.number)(step).is_some())
    };
    let columns: Vec<StepColumn<'_>> = columns.into_iter().filter(filled).collect();
    if columns.len() < 2 {
        return Vec::new();
    }
    let row = |step: &Step| {
        let numbers = columns
            .iter()
            .map(|column| (column.number)(step).unwrap_or_else(dash));
        numbers.collect()
    };
    let table = Table {
        headings: columns
            .iter()
            .map(|column| column.heading.clone())
            .collect(),
        rows: result.steps.iter().map(row).collect(),
        kinds: Kinds::of_columns(columns.iter().map(|column| column.kind).collect::<Vec<_>>()),
        ..Table::default()
    };
    vec![heading, Block::Table(table)]
}

/// Makes the column of an estimate in the unit of print.
fn quantity<'a>(
    word: &str,
    dimension: Dimension,
    printing: Printing,
    of: impl Fn(&Step) -> Option<Estimate> + 'a,
) -> StepColumn<'a> {
    let heading = format!("{word}\n{}", printing.name(dimension));
    let write = move |step: &Step| {
        of(step)
            .map(|estimate| number::with_interval(printing, printing.estimate(estimate, dimension)))
    };
    StepColumn::new(heading, write)
}

fn speed<'a>(printing: Printing) -> StepColumn<'a> {
    let heading = say!(
        printing,
        "speed\n{unit}",
        unit = printing.name(Dimension::Speed)
    );
    StepColumn::new(heading, move |step| {
        Some(number::rpm(printing, step.speed_rpm))
    })
}

fn water_columns<'a>(result: &TestResult, printing: Printing) -> Vec<StepColumn<'a>> {
    let (factor, per_volume) = printing.energy_per_volume();
    let energy = move |step: &Step| {
        let energy = step.energy_wh_per_m3;
        energy.map(|energy| number::with_interval(printing, energy.scaled(factor)))
    };
    let mut columns = vec![
        speed(printing),
        quantity(say!(printing, "flow"), Dimension::Flow, printing, |step| {
            step.flow_m3s
        })
        .of(Kind::Flow),
        StepColumn::new(
            say!(printing, "energy, Wh\n{per_volume}", per_volume),
            energy,
        )
        .of(Kind::EnergyPerVolume),
        quantity(
            say!(printing, "head"),
            Dimension::Length,
            printing,
            |step| step.head_m,
        ),
        StepColumn::new(say!(printing, "wire to\nwater").to_owned(), move |step| {
            step.efficiency
                .map(|value| number::with_interval(printing, value))
        }),
    ];
    // The bound on head is of use where the head is not known.
    if result.steps.iter().all(|step| step.head_m.is_none()) {
        let bound = quantity(
            say!(printing, "head below"),
            Dimension::Length,
            printing,
            |step| step.head_bound_m,
        );
        columns.push(bound);
    }
    columns
}

fn electrical_columns<'a>(printing: Printing) -> Vec<StepColumn<'a>> {
    vec![
        speed(printing),
        quantity(
            say!(printing, "power"),
            Dimension::Power,
            printing,
            |step| step.power_w,
        )
        .of(Kind::Power),
        quantity(
            say!(printing, "current"),
            Dimension::Current,
            printing,
            |step| step.current_a,
        ),
        StepColumn::new(say!(printing, "power\nfactor").to_owned(), move |step| {
            step.power_factor
                .map(|value| number::with_interval(printing, value))
        }),
    ]
}

fn pressure_columns<'a>(printing: Printing) -> Vec<StepColumn<'a>> {
    let length = printing.name(Dimension::Length);
    let vacuum = move |step: &Step| {
        let inlet = step.inlet_pressure_pa;
        inlet.map(|inlet| printing.vacuum_number(inlet.negated()))
    };
    let required = move |step: &Step| {
        let head = step.npsh_required_m;
        head.map(|head| number::significant(printing, printing.number(head, Dimension::Length), 2))
    };
    vec![
        speed(printing),
        quantity(
            say!(printing, "filter gauge"),
            Dimension::Pressure,
            printing,
            |step| step.filter_pressure_pa,
        ),
        StepColumn::new(
            say!(
                printing,
                "inlet vacuum\n{unit}",
                unit = printing.vacuum_name()
            ),
            vacuum,
        ),
        quantity(
            say!(printing, "NPSH there is"),
            Dimension::Length,
            printing,
            |step| step.npsh_available_m,
        ),
        StepColumn::new(
            say!(printing, "NPSH needed\n{unit}", unit = length),
            required,
        ),
    ]
}

/// Composes the table of laws.
pub(crate) fn laws(result: &TestResult, named: Option<&str>, printing: Printing) -> Vec<Block> {
    let mut rows: Vec<[String; 2]> = Vec::new();
    let mut kinds: Vec<(usize, Kind)> = Vec::new();
    if let Some(flow) = &result.laws.flow {
        let slope = printing.with_interval(flow.slope_m3s_per_rpm.scaled(1000.0), Dimension::Flow);
        rows.push([
            say!(printing, "flow per 1000 rpm, far above the start of flow").to_owned(),
            slope,
        ]);
        let intercept = say!(
            printing,
            "{speed} rpm",
            speed = number::with_interval(printing, flow.intercept_speed_rpm)
        );
        rows.push([
            say!(printing, "speed at which flow starts").to_owned(),
            intercept,
        ]);
    }
    if let Some(power) = &result.laws.power {
        let watts = |x: Estimate| format!("{} W", number::with_interval(printing, x));
        kinds.push((rows.len(), Kind::FixedDraw));
        rows.push([
            say!(printing, "draw that does not depend on speed").to_owned(),
            watts(power.fixed_w),
        ]);
        let at = say!(
            printing,
            "draw that does, at {speed} rpm",
            speed = number::rpm(printing, power.at_speed_rpm)
        );
        rows.push([at, watts(power.dynamic_w)]);
        kinds.push((rows.len(), Kind::Exponent));
        rows.push([
            say!(printing, "exponent of that draw in speed").to_owned(),
            number::with_interval(printing, power.exponent),
        ]);
    }
    if let Some(system) = &result.laws.system {
        if let Some(at_rest) = system.static_m {
            let head = printing.with_interval(at_rest, Dimension::Length);
            rows.push([say!(printing, "head at no flow").to_owned(), head]);
        }
        if let Some(exponent) = system.exponent {
            let value = number::with_interval(printing, exponent);
            rows.push([say!(printing, "exponent of head in flow").to_owned(), value]);
        }
    }
    if let Some(standby) = result.laws.standby_w {
        rows.push([
            say!(printing, "draw at rest").to_owned(),
            format!("{} W", number::with_interval(printing, standby)),
        ]);
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let kind_of = |row: usize| {
        kinds
            .iter()
            .find(|(at, _)| *at == row)
            .map(|(_, kind)| *kind)
    };
    let kinds = Kinds::of_rows((0..rows.len()).map(kind_of).collect());
    vec![
        headed(say!(printing, "Laws"), named, printing),
        Block::Table(Table {
            headings: vec![
                say!(printing, "law").to_owned(),
                say!(printing, "value, 95 % interval").to_owned(),
            ],
            rows: rows.into_iter().map(Vec::from).collect(),
            word_columns: 1,
            kinds,
            ..Table::default()
        }),
    ]
}

/// Composes the table of limits, and where the rules come from.
pub(crate) fn limits(analysis: &Analysis, printing: Printing) -> Vec<Block> {
    let last = analysis.tests.last();
    let has_law = last.is_some_and(|test| test.laws.flow.is_some());
    let limits: Vec<&Limit> = analysis.limits.iter().collect();
    let mut blocks = limit_table(&limits, has_law, printing);
    let divided = |limit: &&Limit| limit.passage == Passage::Divided;
    if limits.iter().any(divided) {
        let note = say!(
            printing,
            "Lines beside one another: the flow is divided as the plumbing of the site file divides it."
        );
        blocks.insert(2, Block::Note(note.to_owned()));
    }
    blocks
}

/// Composes a table of limits, and where the rules come from; `knows_speeds` says whether one without a speed is out of reach.
pub(crate) fn limit_table(limits: &[&Limit], knows_speeds: bool, printing: Printing) -> Vec<Block> {
    if limits.is_empty() {
        return Vec::new();
    }
    let row = |limit: &&Limit| {
        vec![
            match limited_value(limit.of, printing) {
                Some(what) => format!("{}, {what}", names::applied_to(limit, printing)),
                None => names::applied_to(limit, printing),
            },
            match limit.bound {
                Bound::Max => say!(printing, "at most").to_owned(),
                Bound::Min => say!(printing, "at least").to_owned(),
            },
            limit
                .flow_m3s
                .map_or_else(dash, |flow| printing.plain(flow, Dimension::Flow)),
            speed_words(limit, knows_speeds, printing),
        ]
    };
    let mut blocks = vec![
        Block::Heading(say!(printing, "Limits").to_owned()),
        Block::Table(Table {
            headings: [
                say!(printing, "where"),
                "",
                say!(printing, "flow"),
                say!(printing, "pump speed"),
            ]
            .map(str::to_owned)
            .to_vec(),
            rows: limits.iter().map(row).collect(),
            word_columns: 2,
            kinds: Kinds::of_columns([None, None, Some(Kind::Limit), Some(Kind::Limit)]),
            ..Table::default()
        }),
    ];
    blocks.extend(sources(limits, printing).into_iter().map(Block::Note));
    blocks
}

/// Writes what is limited beside the flow: 8 ft/s, 50 psi.
pub(crate) fn limited_value(of: LimitOf, printing: Printing) -> Option<String> {
    match of {
        LimitOf::Flow => None,
        LimitOf::Velocity { velocity_m_s } => {
            Some(printing.plain(velocity_m_s, Dimension::Velocity))
        }
        LimitOf::FilterRate { rate_m_s } => Some(printing.filter_rate(rate_m_s)),
        LimitOf::Pressure { pressure_pa } => Some(printing.plain(pressure_pa, Dimension::Pressure)),
        LimitOf::Vacuum { vacuum_pa } => Some(say!(
            printing,
            "{vacuum} of vacuum",
            vacuum = printing.vacuum(vacuum_pa)
        )),
        LimitOf::NpshMargin { margin_m } => Some(say!(
            printing,
            "{margin} of NPSH to spare",
            margin = printing.plain(margin_m, Dimension::Length)
        )),
        LimitOf::Lift { height_m } => Some(say!(
            printing,
            "lift of {height}",
            height = printing.plain(height_m, Dimension::Length)
        )),
    }
}

/// Writes the speed at a limit, or why there is none.
fn speed_words(limit: &Limit, has_law: bool, printing: Printing) -> String {
    match (limit.speed_rpm, limit.passage) {
        (Some(speed), _) => say!(printing, "{speed} rpm", speed = number::rpm_about(speed)),
        (None, Passage::Shut) => say!(printing, "shut in this test").to_owned(),
        (None, Passage::Part) => say!(printing, "takes a part of the flow").to_owned(),
        (None, Passage::Whole | Passage::Divided) if has_law => {
            say!(printing, "not reached").to_owned()
        }
        (None, Passage::Whole | Passage::Divided) => say!(printing, "not known").to_owned(),
    }
}

/// Lists the sources of limits once each.
fn sources(limits: &[&Limit], printing: Printing) -> Vec<String> {
    let mut sources: Vec<String> = Vec::new();
    for limit in limits.iter().filter(|limit| limit.basis != Basis::SiteFile) {
        let text = words::rule(&limit.source, limit.basis, printing);
        if !sources.contains(&text) {
            sources.push(text);
        }
    }
    sources
}
