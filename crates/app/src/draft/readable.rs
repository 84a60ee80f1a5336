//! A draft as the engine can read it: what is no reading yet is left out, and every row keeps its line.

use super::file::line_ends;
use super::{Place, Spot, TestDraft};
use crate::lineup;
use crate::words;
use records::unit::Unit;
use records::{Cell, CellProblem, Measured, Quantity, Separator, Source, TestFiles, read_cell};

/// A draft as the engine can read it.
#[derive(Clone, Debug)]
pub struct Readable {
    /// The files, without what is no reading.
    pub files: TestFiles,
    /// What was left out of them.
    pub left_out: Vec<LeftOut>,
    /// The line of each row.
    pub lines: Vec<usize>,
}

/// A cell that is no reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// Where it stands.
    pub place: Place,
    /// Why.
    pub problem: CellProblem,
}

impl TestDraft {
    /// Returns the files without the cells that are no readings, so that these keep nobody from the others.
    ///
    /// A row without a speed is left out whole, for no reading counts without one. Lines of the file are those of
    /// [`TestDraft::to_files`].
    pub fn readable(&self) -> Readable {
        let left_out = self.left_out();
        let lines = self.lines();
        let mut kept = self.clone();
        let mut is_out = vec![false; self.rows.len()];
        for LeftOut { place, .. } in &left_out {
            match place.spot {
                Spot::Speed => is_out[place.row] = true,
                Spot::Cell(column) => kept.rows[place.row].cells[column].clear(),
                Spot::Note => kept.rows[place.row].note.clear(),
            }
        }
        for (row, typed) in self.rows.iter().enumerate() {
            is_out[row] |= typed.speed.trim().is_empty();
        }
        let text = self.on_lines(&kept, &lines, &is_out);
        let ruled = |line: usize, name: &str| kept.is_read(&lines, &is_out, line, name);
        let files = self.to_files();
        let head = lineup::readable(&files.test.text, ruled, is_temperature);
        Readable {
            files: TestFiles {
                test: Source {
                    text: head,
                    ..files.test
                },
                readings: files.readings.map(|source| Source { text, ..source }),
            },
            left_out,
            lines,
        }
    }

    /// Writes the rows of `kept` that are not out, each on the line that it has in the whole.
    fn on_lines(&self, kept: &Self, lines: &[usize], is_out: &[bool]) -> String {
        let written = self.written();
        let slots = self.slots();
        let mut text = written.text;
        text.truncate(written.start);
        let mut line = 1 + line_ends(&text);
        for (row, typed) in kept.rows.iter().enumerate() {
            while line < lines[row] {
                text.push('\n');
                line += 1;
            }
            if !is_out[row] {
                let piece = self.row_text(typed, &slots);
                line += line_ends(&piece);
                text.push_str(&piece);
            }
        }
        text
    }

    /// Whether there is a reading for a ruling at a line in a column of a name.
    fn is_read(&self, lines: &[usize], is_out: &[bool], line: usize, name: &str) -> bool {
        let row = lines.iter().position(|other| *other == line);
        let place = row.zip(self.spot_named(name));
        place.is_some_and(|(row, spot)| {
            let text = self.text(Place { row, spot });
            !is_out[row] && text.is_some_and(|text| !text.trim().is_empty())
        })
    }

    /// Lists the cells that are no readings.
    fn left_out(&self) -> Vec<LeftOut> {
        let has_comma = self.separator == Separator::Semicolon
            && self.readings().any(|(text, measured, unit)| {
                text.contains(',') && read_cell(text, measured, unit, self.separator).is_ok()
            });
        let mut out = Vec::new();
        for (row, typed) in self.rows.iter().enumerate() {
            let mut judge = |spot: Spot, problem: Option<CellProblem>| {
                let place = Place { row, spot };
                out.extend(problem.map(|problem| LeftOut { place, problem }));
            };
            judge(Spot::Speed, self.speed_problem(&typed.speed, has_comma));
            for (column, (text, of)) in typed.cells.iter().zip(&self.columns).enumerate() {
                let read = self.cell_problem(text, of.measured, of.unit, has_comma);
                judge(Spot::Cell(column), read.err());
            }
            judge(Spot::Note, records::check_note(&typed.note).err());
        }
        out
    }

    fn speed_problem(&self, text: &str, has_comma: bool) -> Option<CellProblem> {
        let unit = Unit::find(Measured::Speed.dimension(), "rpm")?;
        match self.cell_problem(text, Measured::Speed, unit, has_comma) {
            Ok(Cell::Below { .. }) => Some(CellProblem {
                expected: words::speed_expected(),
                hint: None,
                accept: None,
                is_number: false,
            }),
            Ok(_) => None,
            Err(problem) => Some(problem),
        }
    }

    /// Reads a cell; beside decimal commas, a point may mean thousands, and is asked about.
    fn cell_problem(
        &self,
        text: &str,
        measured: Measured,
        unit: &'static Unit,
        has_comma: bool,
    ) -> Result<Cell, CellProblem> {
        let cell = read_cell(text, measured, unit, self.separator)?;
        if has_comma && text.contains('.') {
            let accept = text.trim().replace('.', ",");
            return Err(CellProblem {
                expected: words::comma_expected(),
                hint: Some(words::write_one_of(&accept, &text.trim().replace('.', ""))),
                accept: Some(accept),
                is_number: false,
            });
        }
        Ok(cell)
    }
}

/// Whether a text is a temperature that the records take.
fn is_temperature(text: &str) -> bool {
    Quantity::parse(text, records::unit::Dimension::Temperature).is_ok()
}
