//! The answer in a few sentences for each visit.

use super::Subject;
use super::tables::seen;
use super::words::{hindrance, hypothesis, look, not_compared, rule, says, split};
use crate::content::{Block, capitalized};
use crate::number;
use crate::words;
use fieldtest::{Candidate, Change, FilterRise, Told, Verdict, Visit, not_calibrated};
use records::unit::Dimension;

/// A hypothesis below this probability is not named beside the answer.
const LEAST_NAMED: f64 = 0.01;
/// One above this is named even where nothing may have changed.
const LIKELY: f64 = 0.2;

fn answer(word: &str, text: String) -> Block {
    Block::Answer {
        word: word.to_owned(),
        text,
    }
}

/// Writes a probability in whole per cent, never as certain.
pub(super) fn percent(probability: f64) -> String {
    if probability > 0.995 {
        "above 99 %".to_owned()
    } else if probability < LEAST_NAMED {
        "below 1 %".to_owned()
    } else {
        format!("{} %", number::with_decimals(100.0 * probability, 0))
    }
}

impl Subject<'_> {
    pub(super) fn title(&self, visit: &Visit) -> String {
        let days = visit.days.map_or_else(String::new, |days| {
            let side = if days < 0.0 { "before" } else { "after" };
            format!(", {} days {side}", number::with_decimals(days.abs(), 0))
        });
        format!(
            "{}: test {} against {}{days}",
            self.site.name, visit.test, self.found.baseline
        )
    }

    pub(super) fn answers(&self, visit: &Visit) -> Vec<Block> {
        let told = match &visit.told {
            Ok(told) => told,
            Err(why) => {
                let calibrated = |problem: &_| {
                    words::finding(&not_calibrated(Clone::clone(problem)), self.printing).says
                };
                return vec![answer("Changed", not_compared(why, calibrated))];
            }
        };
        let mut blocks = match &told.verdict {
            Verdict::NoChange => nothing(told),
            Verdict::Several => vec![answer(
                "Changed",
                "More than one thing: no single change explains the readings. See what each side of the pad takes, below; settle the largest first and test again."
                    .to_owned(),
            )],
            Verdict::Changed { group, split } => self.changed(told, group, split.as_ref()),
        };
        blocks.extend(
            told.filter
                .map(|rise| answer("Filter", self.filter(told, &rise))),
        );
        let is_last = self
            .found
            .visits
            .last()
            .is_some_and(|last| last.test == visit.test);
        blocks.extend(self.due().filter(|_| is_last));
        blocks.extend(told.hindered.iter().map(|it| Block::Item(hindrance(it))));
        blocks
    }

    fn changed(&self, told: &Told, group: &[usize], by: Option<&fieldtest::Split>) -> Vec<Block> {
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
            let (what, to_do) = says(change, factor, told.filter.as_ref());
            let word = if place == 0 { "Changed" } else { "Or" };
            blocks.push(answer(word, format!("{what} {to_do}")));
        }
        blocks.push(answer("How sure", sure(told, &members)));
        if changes.len() > 1 {
            let pressure = |pa: f64| self.printing.plain(pa, Dimension::Pressure);
            let text = by.map_or_else(|| look(&changes).to_owned(), |by| split(by, pressure));
            blocks.push(answer("Tell apart", text));
        }
        blocks
    }

    fn filter(&self, told: &Told, rise: &FilterRise) -> String {
        let takes = if told.names(&Change::Media) {
            "It takes"
        } else {
            "By its loading alone it would take"
        };
        let printing = self.printing;
        let flow = printing.plain(rise.flow_m3s, Dimension::Flow);
        let limit = printing.plain(rise.limit_pa, Dimension::Pressure);
        let now = printing.with_interval(rise.rise_pa, Dimension::Pressure);
        format!(
            "{takes} {now} more than at the baseline at {flow}; {limit} asks for cleaning ({}).",
            rule(rise.rule)
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
            "one return".to_owned()
        } else {
            format!("{} returns", pace.returns)
        };
        Some(answer(
            "Due",
            format!("About {about} ({soon} to {late}), at the pace of {returns}: {weekly} a week."),
        ))
    }
}

fn sure(told: &Told, members: &[&Candidate]) -> String {
    let together: f64 = members.iter().map(|it| it.probability).sum();
    let others = told.candidates.iter().filter(|it| {
        it.probability >= LEAST_NAMED && !members.iter().any(|member| member.change == it.change)
    });
    let others: Vec<String> = others
        .map(|it| {
            format!(
                "{} {}",
                hypothesis(it.change.as_ref()),
                percent(it.probability)
            )
        })
        .collect();
    let mut text = capitalized(&percent(together.min(1.0)));
    if members.len() > 1 {
        text.push_str(" together; these readings do not tell them apart");
    }
    if !others.is_empty() {
        text.push_str("; else ");
        text.push_str(&others.join(", "));
    }
    text + "."
}

/// Says that nothing was seen, and what would have been.
fn nothing(told: &Told) -> Vec<Block> {
    let quiet = told.candidates.iter().find(|it| it.change.is_none());
    let probability = quiet.map_or(0.0, |it| it.probability);
    let mut blocks = vec![answer(
        "Changed",
        format!(
            "Nothing that these instruments could see ({} that nothing did).",
            percent(probability)
        ),
    )];
    let sides = told
        .candidates
        .iter()
        .filter(|it| it.change.as_ref().is_some_and(Change::is_section));
    let shown: Vec<String> = sides
        .map(|it| {
            let change = it.change.as_ref();
            format!("{} {}", hypothesis(change), seen(change, it.least_seen))
        })
        .collect();
    if !shown.is_empty() {
        let text = format!(
            "From about so many times the baseline: {}.",
            shown.join("; ")
        );
        blocks.push(answer("Would show", text));
    }
    let others: Vec<&Candidate> = told
        .candidates
        .iter()
        .filter(|it| it.change.is_some() && it.probability >= LIKELY)
        .collect();
    for it in others {
        if let Some((change, factor)) = it.change.as_ref().zip(it.factor) {
            let (what, _) = says(change, factor, None);
            blocks.push(answer(
                "If at all",
                format!("{what} {} sure.", percent(it.probability)),
            ));
        }
    }
    blocks
}
