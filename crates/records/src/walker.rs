//! A typed walk over the spanned tree of a TOML text.
//!
//! A [`Table`] remembers which keys it was asked for, so that every other key is a problem with the list of
//! the accepted ones. A [`Field`] is a value with the name and place that messages give it. Readers ask for
//! everything first and give up afterwards, so that all problems of a text are told at once.

use crate::problems::Problems;
use crate::told::later;
use crate::wording::{nearest, one_of, shown};
use crate::{Fill, Filling, Told, told};
use std::cell::RefCell;
use toml::de::{DeTable, DeValue};

/// The most entries of any list: a bound on time and memory that no site comes near.
const MAX_ENTRIES: usize = 500;

/// A table of the text.
#[derive(Debug)]
pub(crate) struct Table<'t> {
    pub(crate) problems: &'t Problems<'t>,
    label: &'static str,
    at: Option<usize>,
    entries: &'t DeTable<'t>,
    asked: RefCell<Vec<&'static str>>,
}

/// A value of the text, under the name by which messages speak of it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Field<'t> {
    pub(crate) problems: &'t Problems<'t>,
    pub(crate) name: &'t str,
    pub(crate) at: usize,
    pub(crate) value: &'t DeValue<'t>,
}

impl<'t> Table<'t> {
    /// The text itself.
    pub(crate) fn root(problems: &'t Problems<'t>, entries: &'t DeTable<'t>) -> Self {
        Self {
            problems,
            label: later!("the file"),
            at: None,
            entries,
            asked: RefCell::default(),
        }
    }

    /// Looks a key up.
    pub(crate) fn get(&self, key: &'static str) -> Option<Field<'t>> {
        let mut asked = self.asked.borrow_mut();
        if !asked.contains(&key) {
            asked.push(key);
        }
        let value = self.entries.get(key)?;
        Some(Field {
            problems: self.problems,
            name: key,
            at: value.span().start,
            value: value.get_ref(),
        })
    }

    /// Looks up a key that must stand there.
    pub(crate) fn require(&self, key: &'static str, example: &str) -> Option<Field<'t>> {
        let found = self.get(key);
        if found.is_none() {
            self.report(
                told!(
                    "{label} has no {key}; expected {key} = {example}",
                    label = Told::plain(self.label),
                    key,
                    example
                ),
                None,
            );
        }
        found
    }

    /// The tables of an array such as `[[meter]]`; none where the key is absent.
    pub(crate) fn tables(&self, key: &'static str, label: &'static str) -> Vec<Table<'t>> {
        let Some(field) = self.get(key) else {
            return Vec::new();
        };
        if matches!(field.value, DeValue::Table(_)) {
            field.refuse(
                told!("an entry of a list"),
                Some(told!("write {label}", label)),
            );
            return Vec::new();
        }
        field
            .items()
            .iter()
            .filter_map(|item| item.table(label))
            .collect()
    }

    /// Whether the key stands there; it is not marked as asked for.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.entries.contains_key(key)
    }

    /// The keys with their values, all marked as known.
    pub(crate) fn everything(&self) -> impl Iterator<Item = Field<'t>> + use<'t> {
        let problems = self.problems;
        self.entries.iter().map(move |(key, value)| Field {
            problems,
            name: key.get_ref(),
            at: value.span().start,
            value: value.get_ref(),
        })
    }

    /// The line that the table starts on.
    pub(crate) fn line(&self) -> usize {
        self.at.map_or(0, |at| self.problems.line(at))
    }

    /// Reports a problem of the table as a whole.
    pub(crate) fn report(&self, message: Told, hint: Option<Told>) {
        self.problems.add(self.at, message, hint);
    }

    /// Reports every key that was not asked for.
    pub(crate) fn finish(&self) {
        let asked = self.asked.borrow();
        for (key, _) in self.entries {
            if asked.contains(&key.get_ref().as_ref()) {
                continue;
            }
            let message = told!(
                "{label} has no key {key}; expected {keys}",
                label = Told::plain(self.label),
                key = shown(key.get_ref()),
                keys = one_of(&asked)
            );
            let is_told = !self.problems.is_full();
            let hint = is_told
                .then(|| nearest(key.get_ref(), &asked))
                .flatten()
                .map(|near| told!("write {near}", near));
            self.problems.add(Some(key.span().start), message, hint);
        }
    }
}

impl<'t> Field<'t> {
    /// Reports what was found and what is expected.
    pub(crate) fn refuse(&self, expected: Told, hint: Option<Told>) {
        let expected = [("expected", Filling::Told(expected))];
        self.report(Told::new(later!("expected {expected}"), expected), hint);
    }

    /// Reports what was found, and a sentence on it.
    pub(crate) fn report(&self, sentence: Told, hint: Option<Told>) {
        let places = [
            ("name", shown(self.name).fill()),
            ("found", found(self.value)),
            ("sentence", Filling::Told(sentence)),
        ];
        let message = Told::new(later!("{name} is {found}; {sentence}"), places);
        self.problems.add(Some(self.at), message, hint);
    }

    /// A table.
    pub(crate) fn table(&self, label: &'static str) -> Option<Table<'t>> {
        let DeValue::Table(entries) = self.value else {
            self.refuse(
                told!(
                    "a table, such as {example}",
                    example = "{ key = \"value\" }"
                ),
                None,
            );
            return None;
        };
        Some(Table {
            problems: self.problems,
            label,
            at: Some(self.at),
            entries,
            asked: RefCell::default(),
        })
    }

    /// The entries of a list, each under the name of the list.
    pub(crate) fn items(&self) -> Vec<Field<'t>> {
        let DeValue::Array(items) = self.value else {
            self.refuse(told!("a list in [ ]"), None);
            return Vec::new();
        };
        if items.len() > MAX_ENTRIES {
            let count = items.len();
            self.report(
                told!(
                    "it has {count} entries; expected at most {most}",
                    count,
                    most = MAX_ENTRIES
                ),
                None,
            );
        }
        let field = |item: &'t toml::Spanned<DeValue<'t>>| Field {
            at: item.span().start,
            value: item.get_ref(),
            ..*self
        };
        items.iter().take(MAX_ENTRIES).map(field).collect()
    }

    /// How many entries a list has; none where it is no list.
    pub(crate) fn count(&self) -> usize {
        match self.value {
            DeValue::Array(items) => items.len(),
            _ => 0,
        }
    }

    /// The entries of a list, or a single value that stands for a list of one.
    pub(crate) fn one_or_more(&self) -> Vec<Field<'t>> {
        if matches!(self.value, DeValue::Array(_)) {
            self.items()
        } else {
            vec![*self]
        }
    }

    /// Two values in a list, such as the ends of a range.
    pub(crate) fn pair(&self, example: &str) -> Option<[Field<'t>; 2]> {
        let items = if matches!(self.value, DeValue::Array(_)) {
            self.items()
        } else {
            Vec::new()
        };
        let pair = <[Field<'t>; 2]>::try_from(items).ok();
        if pair.is_none() {
            self.refuse(told!("two values, such as {example}", example), None);
        }
        pair
    }
}

/// What stands in the text, in words.
fn found(value: &DeValue<'_>) -> Filling {
    match value {
        DeValue::String(text) if text.trim().is_empty() => told!("empty").fill(),
        DeValue::String(text) => shown(text).fill(),
        DeValue::Integer(number) => shown(&number.to_string()).fill(),
        DeValue::Float(number) => shown(number.as_str()).fill(),
        DeValue::Boolean(value) => value.to_string().fill(),
        DeValue::Datetime(time) => time.to_string().fill(),
        DeValue::Array(_) => told!("a list").fill(),
        DeValue::Table(_) => told!("a table").fill(),
    }
}
