//! The answer in a few sentences for each visit.

use super::Subject;
use super::tables::seen;
use super::words::{hindrance, hypothesis, look, not_compared, rule, says, split};
use crate::content::{Block, Kind, capitalized};
use crate::language::say;
use crate::number;
use crate::units::Printing;
use crate::words;
use fieldtest::{Candidate, Change, FilterRise, Told, Verdict, Visit, not_calibrated};
use records::unit::Dimension;

/// A hypothesis below this probability is not named beside the answer.
const LEAST_NAMED: f64 = 0.01;
/// One above this is named even where nothing may have changed.
const LIKELY: f64 = 0.2;

/// A sentence of a change: by how much a part of the pad takes more or less.
fn answer(word: &str, text: String) -> Block {
    answer_of(Kind::Factor, word, text)
}

fn answer_of(kind: Kind, word: &str, text: String) -> Block {
    Block::Answer {
        word: word.to_owned(),
        text,
        kind: Some(kind),
    }
}

/// Writes a probability in whole per cent, never as certain.
pub(super) fn percent(probability: f64, printing: Printing) -> String {
    if probability > 0.995 {
        say!(printing, "above 99 %").to_owned()
    } else if probability < LEAST_NAMED {
        say!(printing, "below 1 %").to_owned()
    } else {
        format!(
            "{} %",
            number::with_decimals(printing, 100.0 * probability, 0)
        )
    }
}

impl Subject<'_> {
    pub(super) fn title(&self, visit: &Visit) -> String {
        let days = visit.days.map_or_else(String::new, |days| {
            let side = if days < 0.0 {
                say!(self.printing, "before")
            } else {
                say!(self.printing, "after")
            };
            say!(
                self.printing,
                ", {days} days {side}",
                days = number::with_decimals(self.printing, days.abs(), 0),
                side
            )
        });
        say!(
            self.printing,
            "{site}: test {test} against {baseline}{days}",
            site = self.site.name,
            test = visit.test,
            baseline = self.found.baseline,
            days
        )
    }

    pub(super) fn answers(&self, visit: &Visit) -> Vec<Block> {
        let told = match &visit.told {
            Ok(told) => told,
            Err(why) => {
                let calibrated = |problem: &_| {
                    words::finding(&not_calibrated(Clone::clone(problem)), self.printing).says
                };
                return vec![answer(
                    say!(self.printing, "Changed"),
                    not_compared(why, calibrated, self.printing),
                )];
            }
        };
        let mut blocks = match &told.verdict {
            Verdict::NoChange => nothing(told, self.printing),
            Verdict::Several => vec![answer(
                say!(self.printing, "Changed"),
                say!(self.printing, "More than one thing: no single change explains the readings. See what each side of the pad takes, below; settle the largest first and test again.")
                    .to_owned(),
            )],
            Verdict::Changed { group, split } => self.changed(told, group, split.as_ref(), self.printing),
        };
        blocks.extend(told.filter.map(|rise| {
            answer_of(
                Kind::Due,
                say!(self.printing, "Filter"),
                self.filter(told, &rise),
            )
        }));
        let is_last = self
            .found
            .visits
            .last()
            .is_some_and(|last| last.test == visit.test);
        blocks.extend(self.due().filter(|_| is_last));
        blocks.extend(
            told.hindered
                .iter()
                .map(|it| Block::Item(hindrance(it, self.printing))),
        );
        blocks
    }

    fn changed(
        &self,
        told: &Told,
        group: &[usize],
        by: Option<&fieldtest::Split>,
        printing: Printing,
    ) -> Vec<Block> {
        let members: Vec<&Candidate> = group
            .iter()
            .filter_map(|place| told.candidates.get(*place))
            .collect();
        let changes: Vec<_> = members.iter().filter_map(|it| it.change.as_ref()).collect();
        let mut blocks = Vec::new();
        for (place, it) in members.iter().enumerate() {
            let Some((change, factor)) = it.change.as_ref().zip(it.factor) else {
                continue;
            };
            let (what, to_do) = says(change, factor, told.filter.as_ref(), self.printing);
            let word = if place == 0 {
                say!(printing, "Changed")
            } else {
                say!(printing, "Or")
            };
            blocks.push(answer(word, format!("{what} {to_do}")));
        }
        blocks.push(answer_of(
            Kind::Odds,
            say!(printing, "How sure"),
            sure(told, &members, printing),
        ));
        if changes.len() > 1 {
            let pressure = |pa: f64| self.printing.plain(pa, Dimension::Pressure);
            let text = by.map_or_else(
                || look(&changes, self.printing).to_owned(),
                |by| split(by, pressure, self.printing),
            );
            blocks.push(answer(say!(printing, "Tell apart"), text));
        }
        blocks
    }

    fn filter(&self, told: &Told, rise: &FilterRise) -> String {
        let printing = self.printing;
        let takes = if told.names(&Change::Media) {
            say!(printing, "It takes")
        } else {
            say!(printing, "By its loading alone it would take")
        };
        let flow = printing.plain(rise.flow_m3s, Dimension::Flow);
        let limit = printing.plain(rise.limit_pa, Dimension::Pressure);
        let now = printing.with_interval(rise.rise_pa, Dimension::Pressure);
        say!(
            printing,
            "{takes} {now} more than at the baseline at {flow}; {limit} asks for cleaning ({rule}).",
            takes,
            now,
            flow,
            limit,
            rule = rule(rise.rule, self.printing)
        )
    }

    fn due(&self) -> Option<Block> {
        let pace = self.found.pace?;
        let [soon, about, late] = pace.dates.map(|date| {
            let (year, month, day) = date;
            format!("{year}-{month:02}-{day:02}")
        });
        let weekly = self
            .printing
            .with_interval(pace.pa_per_day.scaled(7.0), Dimension::Pressure);
        let returns = if pace.returns == 1 {
            say!(self.printing, "one return").to_owned()
        } else {
            say!(self.printing, "{returns} returns", returns = pace.returns)
        };
        Some(answer_of(
            Kind::Due,
            say!(self.printing, "Due"),
            say!(
                self.printing,
                "About {about} ({soon} to {late}), at the pace of {returns}: {weekly} a week.",
                about,
                soon,
                late,
                returns,
                weekly
            ),
        ))
    }
}

fn sure(told: &Told, members: &[&Candidate], printing: Printing) -> String {
    let together: f64 = members.iter().map(|it| it.probability).sum();
    let others = told.candidates.iter().filter(|it| {
        it.probability >= LEAST_NAMED && !members.iter().any(|member| member.change == it.change)
    });
    let others: Vec<String> = others
        .map(|it| {
            format!(
                "{} {}",
                hypothesis(it.change.as_ref(), printing),
                percent(it.probability, printing)
            )
        })
        .collect();
    let mut text = capitalized(&percent(together.min(1.0), printing));
    if members.len() > 1 {
        text.push_str(say!(
            printing,
            " together; these readings do not tell them apart"
        ));
    }
    if !others.is_empty() {
        text.push_str(say!(printing, "; else "));
        text.push_str(&others.join(", "));
    }
    text + "."
}

/// Says that nothing was seen, and what would have been.
fn nothing(told: &Told, printing: Printing) -> Vec<Block> {
    let quiet = told.candidates.iter().find(|it| it.change.is_none());
    let probability = quiet.map_or(0.0, |it| it.probability);
    let mut blocks = vec![answer(
        say!(printing, "Changed"),
        say!(
            printing,
            "Nothing that these instruments could see ({probability} that nothing did).",
            probability = percent(probability, printing)
        ),
    )];
    let sides = told
        .candidates
        .iter()
        .filter(|it| it.change.as_ref().is_some_and(Change::is_section));
    let shown: Vec<String> = sides
        .map(|it| {
            let change = it.change.as_ref();
            format!(
                "{} {}",
                hypothesis(change, printing),
                seen(change, it.least_seen, printing)
            )
        })
        .collect();
    if !shown.is_empty() {
        let text = say!(
            printing,
            "From about so many times the baseline: {shown}.",
            shown = shown.join("; ")
        );
        blocks.push(answer(say!(printing, "Would show"), text));
    }
    let others: Vec<&Candidate> = told
        .candidates
        .iter()
        .filter(|it| it.change.is_some() && it.probability >= LIKELY)
        .collect();
    for it in others {
        if let Some((change, factor)) = it.change.as_ref().zip(it.factor) {
            let (what, _) = says(change, factor, None, printing);
            blocks.push(answer(
                say!(printing, "If at all"),
                say!(
                    printing,
                    "{what} {probability} sure.",
                    what,
                    probability = percent(it.probability, printing)
                ),
            ));
        }
    }
    blocks
}
