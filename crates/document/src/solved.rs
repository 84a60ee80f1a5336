//! The answer of `solve`: the whole pad at one speed, by the plumbing of the site file and the maker's curve.

use crate::content::{Block, Kind, Kinds, Table, capitalized, limit_table, limit_words};
use crate::json::MACHINE;
use crate::language::say;
use crate::number;
use crate::parts;
use crate::units::Printing;
use crate::words::ranges::{self, warning};
use fieldtest::{Bound, Limit, NetworkProblem, SolvedLimit, SolvedLine, SolvedPad, SolvedTee};
use hydraulics::circuit::{CircuitError, PumpEnd};
use records::Site;
use records::unit::Dimension;
use serde::Serialize;

#[derive(Serialize)]
struct SolvedJson {
    format: u32,
    site: String,
    speed_rpm: f64,
    flow_m3s: f64,
    head_m: f64,
    lines: Vec<LineJson>,
    npsh_available_m: Option<f64>,
    npsh_required_m: Option<f64>,
    filter_pressure_pa: Option<f64>,
    lift_share: Option<f64>,
    limits: Vec<LimitJson>,
    warnings: Vec<String>,
}

#[derive(Serialize)]
struct LineJson {
    line: String,
    shut: bool,
    flow_m3s: f64,
    head_loss_m: f64,
    velocity_m_s: Option<f64>,
    parts: Vec<PartJson>,
}

#[derive(Serialize)]
struct PartJson {
    part: String,
    head_m: Option<f64>,
    share: Option<f64>,
}

#[derive(Serialize)]
struct LimitJson {
    kept: bool,
    #[serde(flatten)]
    limit: crate::json::LimitJson,
}

/// Writes `solve --json`.
pub fn json(site: &Site, pad: &SolvedPad) -> String {
    crate::json::text(&SolvedJson {
        format: crate::json::FORMAT,
        site: site.name.clone(),
        speed_rpm: pad.speed_rpm,
        flow_m3s: pad.flow_m3s,
        head_m: pad.head_m,
        lines: site.lines.iter().zip(&pad.lines).map(line_json).collect(),
        npsh_available_m: pad.npsh_available_m,
        npsh_required_m: pad.npsh_required_m,
        filter_pressure_pa: pad.filter_pressure_pa,
        lift_share: pad.lift_share,
        limits: pad.limits.iter().map(limit_json).collect(),
        warnings: warnings(pad, MACHINE),
    })
}

fn line_json((stated, line): (&records::Line, &SolvedLine)) -> LineJson {
    let parts = stated.parts.iter().zip(&line.parts);
    LineJson {
        line: line.line.clone(),
        shut: line.shut,
        flow_m3s: line.flow_m3s,
        head_loss_m: line.head_loss_m,
        velocity_m_s: line.velocity_m_s,
        parts: parts
            .map(|(part, solved)| PartJson {
                part: parts::name(part, MACHINE),
                head_m: solved.head_m,
                share: solved.share,
            })
            .chain(line.tees.iter().map(|tee| PartJson {
                part: tee_name(tee, MACHINE),
                head_m: Some(tee.head_m),
                share: tee.share,
            }))
            .collect(),
    }
}

fn tee_name(tee: &SolvedTee, printing: Printing) -> String {
    parts::tee_at(&tee.at, printing)
}

fn limit_json(found: &SolvedLimit) -> LimitJson {
    LimitJson {
        kept: found.kept,
        limit: crate::json::limit(&found.limit),
    }
}

fn warnings(pad: &SolvedPad, printing: Printing) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for (line, found) in &pad.warnings {
        let words = format!("{line}: {}", warning(found, printing));
        if !said.contains(&words) {
            said.push(words);
        }
    }
    said
}

/// Composes the answer for a person.
pub fn content(site: &Site, pad: &SolvedPad, printing: Printing) -> Vec<Block> {
    let answer = |word: &str, text: String| Block::Answer {
        word: word.to_owned(),
        text,
        kind: None,
    };
    let mut blocks = vec![
        Block::Title(say!(
            printing,
            "{site} at {speed} rpm, by its plumbing and the maker's curve",
            site = site.name,
            speed = number::rpm(printing, pad.speed_rpm)
        )),
        answer(
            say!(printing, "Flow"),
            say!(
                printing,
                "{flow} against {head} of head.",
                flow = printing.plain(pad.flow_m3s, Dimension::Flow),
                head = printing.plain(pad.head_m, Dimension::Length)
            ),
        ),
    ];
    blocks.extend(suction(pad, printing).map(|text| answer(say!(printing, "Suction"), text)));
    blocks.extend(pad.filter_pressure_pa.map(|pressure| {
        let pressure = printing.plain(pressure, Dimension::Pressure);
        answer(
            say!(printing, "Filter"),
            say!(
                printing,
                "{pressure} at its inlet, on a gauge at the height of the water.",
                pressure
            ),
        )
    }));
    blocks.push(answer(say!(printing, "Limit"), binding(pad, printing)));
    blocks.push(Block::Heading(say!(printing, "Lines").to_owned()));
    blocks.push(lines(pad, printing));
    blocks.push(Block::Heading(
        say!(printing, "Where the head is lost").to_owned(),
    ));
    blocks.push(budget(site, pad, printing));
    if unstated(pad) {
        let note = say!(
            printing,
            "What a part takes that is not stated is left out: true flow is lower."
        );
        blocks.push(Block::Note(note.to_owned()));
    }
    let limits: Vec<&Limit> = pad.limits.iter().map(|found| &found.limit).collect();
    blocks.extend(limit_table(&limits, true, printing));
    blocks.extend(warnings(pad, printing).into_iter().map(Block::Note));
    blocks.push(Block::Note(
        say!(
            printing,
            "Computed, not measured: a step test with gauges says what this pad does."
        )
        .to_owned(),
    ));
    blocks
}

fn suction(pad: &SolvedPad, printing: Printing) -> Option<String> {
    let available = printing.plain(pad.npsh_available_m?, Dimension::Length);
    Some(match pad.npsh_required_m {
        Some(required) => say!(
            printing,
            "{available} of head above boiling at the pump inlet; the pump asks for {required}.",
            available,
            required = printing.plain(required, Dimension::Length)
        ),
        None => say!(
            printing,
            "{available} of head above boiling at the pump inlet; what the pump asks for is not stated.",
            available
        ),
    })
}

/// Says which limits are passed, or which is met first.
fn binding(pad: &SolvedPad, printing: Printing) -> String {
    let highest = pad
        .limits
        .iter()
        .filter(|found| found.limit.bound == Bound::Max);
    let reached = highest.filter_map(|found| Some((found, found.limit.speed_rpm?)));
    let first = reached.min_by(|(_, a), (_, b)| a.total_cmp(b));
    let passed = pad.limits.iter().filter(|found| !found.kept);
    let passed: Vec<String> = passed
        .map(|found| limit_words(&found.limit, printing))
        .collect();
    let first = first.map_or_else(
        || say!(printing, "no limit is reached up to the pump's top speed").to_owned(),
        |(found, speed)| {
            say!(
                printing,
                "{limit} is met first, at about {speed} rpm",
                limit = limit_words(&found.limit, printing),
                speed = number::rpm_about(speed)
            )
        },
    );
    match passed.as_slice() {
        [] => say!(printing, "All are kept; {first}.", first),
        passed => say!(
            printing,
            "Not kept: {passed}. {first}.",
            passed = passed.join("; "),
            first = capitalized(&first)
        ),
    }
}

fn lines(pad: &SolvedPad, printing: Printing) -> Block {
    let heading =
        |word: &str, dimension: Dimension| format!("{word}\n{}", printing.name(dimension));
    let row = |line: &SolvedLine| {
        let number = |si: f64, dimension| number::plain(printing, printing.number(si, dimension));
        let velocity = line.velocity_m_s;
        let flow = if line.shut {
            say!(printing, "shut").to_owned()
        } else {
            number(line.flow_m3s, Dimension::Flow)
        };
        vec![
            line.line.clone(),
            flow,
            velocity.map_or_else(
                || "–".to_owned(),
                |velocity| number(velocity, Dimension::Velocity),
            ),
            number(line.head_loss_m, Dimension::Length),
        ]
    };
    Block::Table(Table {
        headings: vec![
            say!(printing, "line").to_owned(),
            heading(say!(printing, "flow"), Dimension::Flow),
            heading(say!(printing, "fastest"), Dimension::Velocity),
            heading(say!(printing, "head lost"), Dimension::Length),
        ],
        rows: pad.lines.iter().map(row).collect(),
        word_columns: 1,
        ..Table::default()
    })
}

/// Lists the parts by how much of the power they take, the largest first.
fn budget(site: &Site, pad: &SolvedPad, printing: Printing) -> Block {
    let mut rows: Vec<(f64, Vec<String>)> = Vec::new();
    let mut add = |line: &SolvedLine, name: String, (head_m, share): (Option<f64>, Option<f64>)| {
        let share = share.unwrap_or_default();
        let head = head_m.map_or_else(
            || say!(printing, "not stated").to_owned(),
            |head| number::significant(printing, printing.number(head, Dimension::Length), 2),
        );
        let percent = format!("{:.0}", 100.0 * share);
        rows.push((share, vec![line.line.clone(), name, head, percent]));
    };
    for (stated, line) in site.lines.iter().zip(&pad.lines) {
        for (part, solved) in stated.parts.iter().zip(&line.parts) {
            add(
                line,
                parts::name(part, printing),
                (solved.head_m, solved.share),
            );
        }
        // The leg of the combined flow takes nothing.
        for tee in line.tees.iter().filter(|tee| tee.head_m.abs() > 0.0) {
            add(line, tee_name(tee, printing), (Some(tee.head_m), tee.share));
        }
    }
    if let Some(share) = pad.lift_share.filter(|share| *share > 0.0) {
        let percent = format!("{:.0}", 100.0 * share);
        let row = [say!(printing, "lift"), "", "–", &percent]
            .map(str::to_owned)
            .to_vec();
        rows.push((share, row));
    }
    numerics::order::sort_by(&mut rows, |(a, _), (b, _)| b.total_cmp(a));
    losses(rows.into_iter().map(|(_, row)| row).collect(), printing)
}

/// Makes the table of what lines and their parts take.
pub(crate) fn losses(rows: Vec<Vec<String>>, printing: Printing) -> Block {
    Block::Table(Table {
        headings: vec![
            say!(printing, "line").to_owned(),
            say!(printing, "part").to_owned(),
            say!(
                printing,
                "head\n{unit}",
                unit = printing.name(Dimension::Length)
            ),
            say!(printing, "of the power\n%").to_owned(),
        ],
        rows,
        word_columns: 2,
        kinds: Kinds::of_columns([None, None, Some(Kind::Head), Some(Kind::Share)]),
        ..Table::default()
    })
}

fn unstated(pad: &SolvedPad) -> bool {
    let parts = pad.lines.iter().flat_map(|line| &line.parts);
    parts.into_iter().any(|part| part.head_m.is_none())
}

/// Says why a pad is not solved, and what to do.
pub fn problem(problem: &NetworkProblem, printing: Printing) -> (String, Option<String>) {
    let said = |message: &str, hint: &str| (message.to_owned(), Some(hint.to_owned()));
    match problem {
        NetworkProblem::NoLines => said(
            say!(
                printing,
                "the site states no line to the pump inlet or none from the pump outlet"
            ),
            say!(
                printing,
                "state the lines: from = \"pool\", to = \"pump inlet\"; from = \"pump outlet\", to = \"pool\""
            ),
        ),
        NetworkProblem::NoCurve => said(
            say!(
                printing,
                "the site states no maker's curve, so no flow follows from a speed"
            ),
            say!(
                printing,
                "state [pump] curve_speed and curve, from the maker's sheet"
            ),
        ),
        NetworkProblem::Curve(error) => (
            say!(
                printing,
                "the maker's curve cannot be used: {error}",
                error = ranges::no_curve(error, printing)
            ),
            Some(
                say!(
                    printing,
                    "correct its points: flows rise, and heads fall with them"
                )
                .to_owned(),
            ),
        ),
        NetworkProblem::UnknownLine(line) => (
            say!(printing, "of {line} nothing is known", line),
            Some(
                say!(
                    printing,
                    "state its parts, as far as they can be seen, and take unknown away"
                )
                .to_owned(),
            ),
        ),
        NetworkProblem::Part {
            line,
            index,
            problem,
        } => {
            let (message, hint) = parts::problem(problem, printing);
            (
                say!(
                    printing,
                    "{line}, part {part}: {message}",
                    line,
                    part = index + 1,
                    message
                ),
                hint,
            )
        }
        NetworkProblem::TeeBores(at) => (
            say!(
                printing,
                "the tee at {at}: no pipe beside it says how wide it is",
                at
            ),
            Some(say!(printing, "state its run_bore and branch_bore").to_owned()),
        ),
        NetworkProblem::TeeBranchWider(at) => (
            say!(
                printing,
                "the tee at {at}: its branch is wider than its run",
                at
            ),
            Some(
                say!(
                    printing,
                    "state run_bore and branch_bore, or which two lines are its run"
                )
                .to_owned(),
            ),
        ),
        NetworkProblem::Water(error) => (ranges::refusal(error, printing), None),
        NetworkProblem::Unsolved { error, lines } => circuit(error, lines, printing),
    }
}

fn end_word(end: PumpEnd, printing: Printing) -> &'static str {
    match end {
        PumpEnd::Inlet => say!(printing, "inlet" as "end of a pump"),
        PumpEnd::Outlet => say!(printing, "outlet" as "end of a pump"),
    }
}

fn circuit(error: &CircuitError, lines: &[String], printing: Printing) -> (String, Option<String>) {
    let name = |link: usize| {
        lines
            .get(link)
            .map_or(say!(printing, "the pump"), String::as_str)
    };
    match error {
        CircuitError::NoWay { end, .. } => (
            say!(printing, "the pump runs, but no open way joins its {end} to a body of water", end = end_word(*end, printing)),
            Some(say!(printing, "open a line, or state the one that is missing; a pump is never run against shut valves").to_owned()),
        ),
        CircuitError::AllShut => (
            say!(printing, "every line is shut").to_owned(),
            Some(say!(printing, "open a line: a pump is never run against shut valves").to_owned()),
        ),
        CircuitError::SameEnds { link, .. } => (
            say!(printing, "{link} begins and ends at one place", link = name(*link)),
            Some(say!(printing, "correct its from and to in the site file").to_owned()),
        ),
        CircuitError::Part { link, part, source } => (
            say!(printing, "{link}, part {part}: {error}", link = name(*link), part = part + 1, error = ranges::refusal(source, printing)),
            None,
        ),
        CircuitError::Link { link, source } => (
            format!("{}: {}", name(*link), ranges::refusal(source, printing)),
            None,
        ),
        CircuitError::Node { source, .. } | CircuitError::TeeShape { source, .. } => {
            (ranges::refusal(source, printing), None)
        }
        CircuitError::NoBody => (
            say!(printing, "the circuit has no body of water").to_owned(),
            Some(say!(printing, "correct its from and to in the site file").to_owned()),
        ),
        CircuitError::DrawnFromNowhere { .. } => (
            say!(printing, "flow is drawn where no open way leads from a body of water").to_owned(),
            Some(say!(printing, "open a line, or state the one that is missing; a pump is never run against shut valves").to_owned()),
        ),
        CircuitError::DidNotConverge { iterations, .. } => (
            say!(printing, "no flows were found in {iterations} steps", iterations),
            None,
        ),
        // No file leads there.
        other => (other.to_string(), None),
    }
}
