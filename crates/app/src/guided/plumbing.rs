//! The plumbing that the form asks for: the pipe on either side of the pump, the filter and the heater.

use super::document::{put, put_or_take};
use super::read::measure;
use super::{Asked, Measure};
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value};

/// A side of the pump.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Between the pool and the pump.
    Before,
    /// Between the pump and the pool.
    After,
}

impl Side {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Before, Self::After];

    /// The end by which the line of the side is known, and what it is called where the file has none.
    fn line(self) -> (&'static str, &'static str, [&'static str; 3]) {
        match self {
            Self::Before => ("to", "pump inlet", ["suction", "pool", "pump inlet"]),
            Self::After => ("to", "pool", ["return", "pump outlet", "pool"]),
        }
    }
}

/// What the form holds of a pipe.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum PipeAnswer {
    /// Nothing.
    #[default]
    NotKnown,
    /// A size of a specification, as the catalogue writes both.
    Catalogue {
        /// The specification.
        spec: String,
        /// The nominal size.
        size: String,
    },
    /// An inside diameter.
    Bore(Measure),
}

/// A part that is known by one key.
fn find_part<'d>(document: &'d DocumentMut, key: &str) -> Vec<&'d InlineTable> {
    let lines = document.get("line").and_then(Item::as_array_of_tables);
    let lines = lines.into_iter().flat_map(ArrayOfTables::iter);
    let parts = lines.filter_map(|line| line.get("parts")?.as_array());
    parts
        .flat_map(Array::iter)
        .filter_map(Value::as_inline_table)
        .filter(|part| part.contains_key(key))
        .collect()
}

fn find_part_mut<'d>(document: &'d mut DocumentMut, key: &str) -> Option<&'d mut InlineTable> {
    let lines = document.get_mut("line")?.as_array_of_tables_mut()?;
    let parts = lines
        .iter_mut()
        .filter_map(|line| line.get_mut("parts")?.as_array_mut());
    parts
        .flat_map(Array::iter_mut)
        .filter_map(Value::as_inline_table_mut)
        .find(|part| part.contains_key(key))
}

/// Reads the kind of the one filter.
pub(super) fn filter(document: &DocumentMut) -> Asked<String> {
    match find_part(document, "filter").as_slice() {
        [] => Asked::Here(String::new()),
        [part] => match part.get("filter").and_then(Value::as_str) {
            Some(kind) => Asked::Here(kind.to_owned()),
            None => Asked::InTheText,
        },
        _ => Asked::InTheText,
    }
}

/// Reads a quantity of the one part with a key.
pub(super) fn part_measure(
    document: &DocumentMut,
    [part, key]: [&str; 2],
    unit: &str,
) -> Asked<Measure> {
    match find_part(document, part).as_slice() {
        [] => Asked::Here(Measure::unknown(unit)),
        [found] => measure(found.get(key), unit),
        _ => Asked::InTheText,
    }
}

/// Writes a quantity of a part, adding the part where there is none.
pub(super) fn write_part_measure(
    document: &mut DocumentMut,
    [part, key]: [&str; 2],
    kind: &str,
    text: Option<&str>,
) {
    if find_part(document, part).is_empty() {
        if text.is_none() {
            return;
        }
        add_part(document, part, kind);
    }
    if let Some(found) = find_part_mut(document, part) {
        put_or_take(found, key, text);
    }
}

/// Writes the kind of the filter; an empty one takes the filter out.
pub(super) fn write_filter(document: &mut DocumentMut, kind: &str) {
    if kind.is_empty() {
        remove_parts(document, "filter");
    } else if let Some(part) = find_part_mut(document, "filter") {
        put(part, "filter", kind);
    } else {
        add_part(document, "filter", kind);
    }
}

/// Takes every part of a key out of the plumbing.
pub(super) fn remove_parts(document: &mut DocumentMut, key: &str) {
    let lines = document
        .get_mut("line")
        .and_then(Item::as_array_of_tables_mut);
    for line in lines.into_iter().flat_map(ArrayOfTables::iter_mut) {
        if let Some(parts) = line.get_mut("parts").and_then(Item::as_array_mut) {
            parts.retain(|part| !is_of(part, key));
        }
    }
}

fn is_of(part: &Value, key: &str) -> bool {
    part.as_inline_table()
        .is_some_and(|part| part.contains_key(key))
}

/// Adds a part of the equipment where the water leaves the pump.
fn add_part(document: &mut DocumentMut, key: &str, kind: &str) {
    let Some(line) = equipment_line(document) else {
        return;
    };
    let Some(parts) = parts_of(line) else { return };
    let mut part = InlineTable::new();
    part.insert(key, kind.into());
    // The filter stands before the heater.
    let at =
        usize::from(key != "filter" && parts.get(0).is_some_and(|first| is_of(first, "filter")));
    parts.insert(at, part);
}

fn equipment_line(document: &mut DocumentMut) -> Option<&mut Table> {
    let is_first = |line: &Table| line.get("from").and_then(Item::as_str) == Some("pump outlet");
    let at = lines(document)?.iter().position(is_first);
    line_at(document, at, Side::After)
}

fn lines(document: &mut DocumentMut) -> Option<&mut ArrayOfTables> {
    document
        .as_table_mut()
        .entry("line")
        .or_insert(Item::ArrayOfTables(ArrayOfTables::new()))
        .as_array_of_tables_mut()
}

/// The line at a place, or a new one of a side.
fn line_at(document: &mut DocumentMut, at: Option<usize>, side: Side) -> Option<&mut Table> {
    let lines = lines(document)?;
    let at = at.unwrap_or_else(|| {
        let (_, _, [name, from, to]) = side.line();
        let mut line = Table::new();
        put(&mut line, "name", name);
        put(&mut line, "from", from);
        put(&mut line, "to", to);
        lines.push(line);
        lines.len() - 1
    });
    lines.get_mut(at)
}

fn parts_of(line: &mut Table) -> Option<&mut Array> {
    line.entry("parts")
        .or_insert(Item::Value(Value::Array(Array::new())))
        .as_array_mut()
}

fn side_of(line: &Table, side: Side) -> bool {
    let (key, end, _) = side.line();
    line.get(key).and_then(Item::as_str) == Some(end)
}

/// The parts that are pipe.
fn pipes(line: &Table) -> Option<Vec<&InlineTable>> {
    let Some(parts) = line.get("parts") else {
        return Some(Vec::new());
    };
    let is_pipe = |part: &&InlineTable| part.contains_key("pipe") || part.contains_key("pipe_bore");
    let parts = parts.as_array()?.iter();
    Some(
        parts
            .filter_map(Value::as_inline_table)
            .filter(is_pipe)
            .collect(),
    )
}

/// Reads the pipe of a side.
pub(super) fn pipe(document: &DocumentMut, side: Side, unit: &str) -> Asked<PipeAnswer> {
    let lines = match document.get("line") {
        None => return Asked::Here(PipeAnswer::NotKnown),
        Some(Item::ArrayOfTables(lines)) => lines,
        Some(_) => return Asked::InTheText,
    };
    let mut of = lines.iter().filter(|line| side_of(line, side));
    let (line, another) = (of.next(), of.next());
    let pipes = match line {
        _ if another.is_some() => None,
        None => Some(Vec::new()),
        Some(line) => pipes(line),
    };
    match pipes.as_deref() {
        Some([]) => Asked::Here(PipeAnswer::NotKnown),
        Some([pipe]) => pipe_answer(pipe, unit),
        _ => Asked::InTheText,
    }
}

fn pipe_answer(pipe: &InlineTable, unit: &str) -> Asked<PipeAnswer> {
    let text = |key: &str| pipe.get(key).and_then(Value::as_str);
    if pipe.contains_key("pipe_bore") {
        return match measure(pipe.get("pipe_bore"), unit) {
            Asked::Here(bore) => Asked::Here(PipeAnswer::Bore(bore)),
            Asked::InTheText => Asked::InTheText,
        };
    }
    match (text("spec"), text("pipe")) {
        (Some(spec), Some(size)) => Asked::Here(PipeAnswer::Catalogue {
            spec: spec.to_owned(),
            size: size.to_owned(),
        }),
        _ => Asked::InTheText,
    }
}

/// Writes the pipe of a side; its length and all other parts of the line stay.
pub(super) fn write_pipe(document: &mut DocumentMut, side: Side, answer: &PipeAnswer) {
    let at = lines(document).and_then(|lines| lines.iter().position(|line| side_of(line, side)));
    if at.is_none() && *answer == PipeAnswer::NotKnown {
        return;
    }
    let Some(parts) = line_at(document, at, side).and_then(parts_of) else {
        return;
    };
    let is_pipe = |part: &Value| is_of(part, "pipe") || is_of(part, "pipe_bore");
    if *answer == PipeAnswer::NotKnown {
        parts.retain(|part| !is_pipe(part));
        return;
    }
    if !parts.iter().any(is_pipe) {
        parts.push(InlineTable::new());
        let last = parts.len() - 1;
        if let Some(pipe) = parts.get_mut(last).and_then(Value::as_inline_table_mut) {
            state_pipe(pipe, answer);
        }
        return;
    }
    let pipe = parts.iter_mut().find(|part| is_pipe(part));
    if let Some(pipe) = pipe.and_then(Value::as_inline_table_mut) {
        state_pipe(pipe, answer);
    }
}

fn state_pipe(pipe: &mut InlineTable, answer: &PipeAnswer) {
    let (size, spec, bore) = match answer {
        PipeAnswer::NotKnown => (None, None, None),
        PipeAnswer::Catalogue { spec, size } => (Some(size.clone()), Some(spec.clone()), None),
        PipeAnswer::Bore(bore) => (None, None, bore.text()),
    };
    put_or_take(pipe, "pipe", size.as_deref());
    put_or_take(pipe, "spec", spec.as_deref());
    put_or_take(pipe, "pipe_bore", bore.as_deref());
}
