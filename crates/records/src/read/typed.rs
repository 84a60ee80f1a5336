//! Reads a file of readings for a form: cells as typed, and each row's own text.

use super::cells::{self, CellError};
use super::columns::Heading;
use super::readings::{layout, report_ragged};
use super::records::Records;
use crate::formula;
use crate::number::{self, DecimalMark, NumberError};
use crate::problems::Problems;
use crate::told;
use crate::unit::Unit;
use crate::{
    Cell, CellProblem, Measured, Problem, Separator, Source, TypedHeading, TypedReadings, TypedRow,
};

/// Reads a file of readings as a form holds it.
///
/// # Errors
/// Headings that cannot be read, a quote that is never closed, a row with more or fewer cells than there are headings.
pub fn read_typed(source: &Source) -> Result<TypedReadings, Vec<Problem>> {
    if let Some(problem) = source.too_large_for_readings() {
        return Err(vec![problem]);
    }
    let problems = Problems::new(source);
    let typed = typed(source, &problems);
    problems.finish(typed)
}

fn typed(source: &Source, problems: &Problems<'_>) -> Option<TypedReadings> {
    let mut records = Records::new(&source.text);
    let Some(first) = records.next() else {
        let message = told!("there is nothing in the file; expected a line of headings");
        problems.add(None, message, None);
        return None;
    };
    let separator = Separator::of(first.delimiter());
    let layout = layout(&first, problems)?;
    let mut starts = Vec::new();
    let mut rows = Vec::new();
    for record in &mut records {
        report_ragged(&record, &layout, problems);
        let cell = |(heading, text): (&Heading, &str)| match heading {
            Heading::Note => formula::restored(text).into_owned(),
            Heading::Column(_) => text.to_owned(),
        };
        starts.push(record.start());
        rows.push(TypedRow {
            line: problems.line(record.start()),
            text: String::new(),
            cells: layout
                .headings()
                .iter()
                .zip(record.cells())
                .map(cell)
                .collect(),
        });
    }
    if let Some(at) = records.open_quote() {
        let message = told!("a quote is opened and not closed; expected it at the end of the cell");
        problems.add(Some(at), message, None);
    }
    let piece = |from: usize, to: Option<&usize>| {
        let to = to.copied().unwrap_or(source.text.len());
        source.text.get(from..to).unwrap_or_default().to_owned()
    };
    for (index, row) in rows.iter_mut().enumerate() {
        row.text = piece(starts[index], starts.get(index + 1));
    }
    let heading = |heading| match heading {
        Heading::Note => TypedHeading::Note,
        Heading::Column(column) => TypedHeading::Column(column),
    };
    Some(TypedReadings {
        separator,
        start: piece(0, starts.first()),
        headings: layout.into_headings().into_iter().map(heading).collect(),
        rows,
    })
}

/// Reads one cell, with what to type instead where that is known.
pub(crate) fn read_typed_cell(
    text: &str,
    measured: Measured,
    unit: &'static Unit,
    separator: Separator,
) -> Result<Cell, CellProblem> {
    let mark = match separator {
        Separator::Semicolon => DecimalMark::PointOrComma,
        Separator::Comma | Separator::Tab => DecimalMark::Point,
    };
    let read = cells::cell(text, measured, unit, mark);
    read.map_err(|(expected, hint): CellError| {
        let (accept, is_number) = mend(text.trim(), unit, mark);
        CellProblem {
            expected,
            hint,
            accept,
            is_number,
        }
    })
}

/// Checks a note.
pub(crate) fn check_typed_note(text: &str) -> Result<(), CellProblem> {
    cells::note(text)
        .map(drop)
        .map_err(|(expected, hint)| CellProblem {
            expected,
            hint,
            accept: None,
            is_number: false,
        })
}

/// What to type instead of a text that is no reading, and whether it is a number all the same.
fn mend(text: &str, unit: &'static Unit, mark: DecimalMark) -> (Option<String>, bool) {
    let number = text.strip_prefix('<').unwrap_or(text);
    let below = &text[..text.len() - number.len()];
    match number::scan(number.trim_start(), mark) {
        Ok(scanned) if scanned.rest.is_empty() => (None, true),
        Ok(scanned) => {
            let same = Unit::find(unit.dimension, scanned.rest) == Some(unit);
            (same.then(|| format!("{below}{}", scanned.typed)), false)
        }
        Err(NumberError::ThousandsComma(mend) | NumberError::DecimalComma(mend)) => {
            (Some(format!("{below}{mend}")), false)
        }
        Err(NumberError::None | NumberError::NotFinite) => (None, false),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<TypedReadings, Vec<Problem>> {
        read_typed(&Source {
            name: "a.csv".to_owned(),
            text: text.to_owned(),
        })
    }

    #[test]
    fn the_text_comes_back_byte_for_byte() {
        for text in [
            "speed [rpm],flow [gpm],note\n600,11.4,\n\n850, 7. ,\"a, \"\"b\"\"\nc\"\n,abc,\n",
            "\n\r\nspeed [rpm];flow [gpm]\r\n600;11,4\r\n\r\n;;\r\n850;x",
            "note\tspeed [rpm]\n'=1+1\t600\n",
            "speed [rpm]\n",
        ] {
            let typed = read(text).unwrap();
            let rows = typed.rows.iter().map(|row| row.text.as_str());
            let joined: String = std::iter::once(typed.start.as_str()).chain(rows).collect();
            assert_eq!(joined, text);
        }
    }

    #[test]
    fn cells_are_as_typed_and_lines_are_those_of_the_file() {
        let typed = read("speed [rpm],flow [gpm],note\n600, 7. ,\"a\nb\"\n,1e9,'=x\n").unwrap();
        assert_eq!(typed.rows[0].cells, ["600", " 7. ", "a\nb"]);
        assert_eq!(typed.rows[1].cells, ["", "1e9", "=x"]);
        assert_eq!(typed.rows[1].line, 4);
    }

    #[test]
    fn what_no_form_can_show_is_refused() {
        for text in [
            "",
            "flow [gpm]\n1\n",
            "speed [rpm],flux [gpm]\n",
            "speed [rpm],flow [gpm]\n600\n",
            "speed [rpm],flow [gpm]\n600,1,2\n",
            "speed [rpm],flow [gpm]\n600,\"1\n",
        ] {
            assert!(read(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_mend_can_be_typed_as_it_stands() {
        let flow = Unit::find(crate::unit::Dimension::Flow, "gpm").unwrap();
        let problem =
            |text: &str| read_typed_cell(text, Measured::Flow, flow, Separator::Comma).unwrap_err();
        for (typed, mend) in [("7,5", "7.5"), ("<1,500", "<1500"), ("12.5 GPM", "12.5")] {
            assert_eq!(problem(typed).accept.as_deref(), Some(mend), "{typed}");
        }
        assert_eq!(problem("abc").accept, None);
        assert!(problem("-3").is_number);
        assert!(!problem("abc").is_number);
        assert!(read_typed_cell("7,5", Measured::Flow, flow, Separator::Semicolon).is_ok());
    }
}
