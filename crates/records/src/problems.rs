//! Gathers what is wrong in one text, and hands it over in order of place.

use crate::place::Lines;
use crate::told;
use crate::{Problem, Source, Told};
use std::cell::{Cell, RefCell};

/// The most problems that are told at once.
const TOLD: usize = 50;
/// The most that are kept before they are sorted: a bound on memory for a text that is nothing but wrong.
const KEPT: usize = 2000;

/// What is wrong so far.
#[derive(Debug)]
pub(crate) struct Problems<'s> {
    file: &'s str,
    lines: Lines<'s>,
    kept: RefCell<Vec<Found>>,
    beyond: Cell<usize>,
}

/// One problem, at a byte of the text or in the text as a whole.
#[derive(Debug)]
struct Found {
    at: Option<usize>,
    message: Told,
    hint: Option<Told>,
}

impl<'s> Problems<'s> {
    pub(crate) fn new(source: &'s Source) -> Self {
        let lines = Lines::new(&source.text);
        Self {
            file: &source.name,
            lines,
            kept: RefCell::default(),
            beyond: Cell::new(0),
        }
    }

    /// Notes a problem at a byte; `None` means the whole text.
    pub(crate) fn add(&self, at: Option<usize>, message: Told, hint: Option<Told>) {
        let mut kept = self.kept.borrow_mut();
        if kept.len() < KEPT {
            kept.push(Found { at, message, hint });
        } else {
            self.beyond.set(self.beyond.get() + 1);
        }
    }

    /// The line of a byte, for a message that points at another place.
    pub(crate) fn line(&self, at: usize) -> usize {
        self.lines.line(at)
    }

    /// Whether further problems are only counted.
    pub(crate) fn is_full(&self) -> bool {
        self.kept.borrow().len() >= KEPT
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.kept.borrow().is_empty()
    }

    /// The record where nothing was wrong, else the problems.
    pub(crate) fn finish<T>(self, record: Option<T>) -> Result<T, Vec<Problem>> {
        match record {
            Some(record) if self.is_empty() => Ok(record),
            _ => Err(self.into_list()),
        }
    }

    /// The problems in order of place, the first ones told and the others counted.
    pub(crate) fn into_list(self) -> Vec<Problem> {
        let mut kept = self.kept.into_inner();
        numerics::order::sort_by_key(&mut kept, |found| found.at);
        let beyond = self.beyond.get() + kept.len().saturating_sub(TOLD);
        kept.truncate(TOLD);
        let place = |found: Found| {
            let place = found.at.map(|at| self.lines.place(at));
            Problem {
                file: self.file.to_owned(),
                line: place.map_or(0, |place| place.line),
                column: place.map_or(0, |place| place.column),
                message: found.message,
                hint: found.hint,
            }
        };
        let mut list: Vec<Problem> = kept.into_iter().map(place).collect();
        list.extend(how_many_more(self.file, beyond));
        list
    }
}

fn how_many_more(file: &str, beyond: usize) -> Option<Problem> {
    let message = if beyond == 1 {
        told!("1 more problem after these")
    } else {
        told!("{beyond} more problems after these", beyond)
    };
    let hint = Some(told!(
        "mend the first ones; they may be the cause of the others"
    ));
    (beyond > 0).then(|| Problem {
        file: file.to_owned(),
        line: 0,
        column: 0,
        message,
        hint,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn problems_come_in_order_and_not_without_end() {
        let source = Source {
            name: "site.toml".into(),
            text: "a\n".repeat(3000),
        };
        let problems = Problems::new(&source);
        for line in (0..3000).rev() {
            problems.add(
                Some(2 * line),
                told!("wrong {line}", line = line.to_string()),
                None,
            );
        }
        let list = problems.finish::<()>(None).unwrap_err();
        assert_eq!(list.len(), TOLD + 1);
        assert!(
            list.windows(2)
                .take(TOLD - 1)
                .all(|pair| pair[0].line < pair[1].line)
        );
        assert_eq!(
            list.last().unwrap().message.to_string(),
            "2950 more problems after these"
        );
    }
}
