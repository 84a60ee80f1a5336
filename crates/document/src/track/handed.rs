//! What changed since an earlier visit, as the report that is handed over tells it: in one sentence for the owner, in full for
//! the technician.

use super::words::says;
use super::{Subject, body, figure};
use crate::content::{Block, Drawing};
use crate::language::say;
use crate::report::{Section, date_words};
use crate::units::Printing;
use fieldtest::{FollowUp, Told, Verdict};
use records::{CalendarDay, Site};

/// Composes the section of a report.
pub fn handed(site: &Site, found: &FollowUp, printing: Printing) -> Section {
    let subject = Subject {
        site,
        found,
        printing,
    };
    let prefix = format!("{}: ", site.name);
    // The report has a title of its own; here each visit is a heading, without the name of the site.
    let blocks = body(&subject).into_iter().map(|block| match block {
        Block::Title(title) => {
            let visit = title.strip_prefix(&prefix).unwrap_or(&title);
            Block::Heading(crate::content::capitalized(visit))
        }
        other => other,
    });
    let mut blocks: Vec<Block> = blocks.collect();
    let drawing = figure(site, found, printing);
    let drawing = drawing.as_ref().and_then(Drawing::of_figure);
    blocks.extend(drawing.map(|drawing| Block::Drawing(Box::new(drawing))));
    Section {
        in_short: in_short(&subject),
        blocks,
    }
}

/// Says in one sentence what changed by the last visit, and when the filter is due; nothing where it could not be compared.
fn in_short(subject: &Subject<'_>) -> Option<String> {
    let last = subject.found.visits.last()?;
    let told = last.told.as_ref().ok()?;
    let (printing, baseline) = (subject.printing, &subject.found.baseline);
    let what = match &told.verdict {
        Verdict::NoChange => say!(
            printing,
            "Since the test {baseline} nothing has changed that these instruments could see.",
            baseline
        ),
        Verdict::Several => say!(
            printing,
            "Since the test {baseline} more than one thing has changed: the second part tells which.",
            baseline
        ),
        Verdict::Changed { group, .. } => say!(
            printing,
            "Since the test {baseline}: {change}",
            baseline,
            change = first(told, group, printing)?
        ),
    };
    let due = subject.found.pace.map_or_else(String::new, |pace| {
        let [_, (year, month, day), _] = pace.dates;
        let part = |number: i64| u8::try_from(number).unwrap_or(1);
        let date = CalendarDay {
            year: u16::try_from(year).ok(),
            month: part(month),
            day: part(day),
        };
        say!(
            printing,
            " At this pace the filter is due for cleaning about {date}.",
            date = date_words(date, printing)
        )
    });
    Some(what + &due)
}

/// Says what the most probable change is, and what to do.
fn first(told: &Told, group: &[usize], printing: Printing) -> Option<String> {
    let candidate = told.candidates.get(*group.first()?)?;
    let (what, to_do) = says(
        candidate.change.as_ref()?,
        candidate.factor?,
        told.filter.as_ref(),
        printing,
    );
    let mut letters = what.chars();
    let small = letters
        .next()
        .map_or_else(String::new, |letter| letter.to_lowercase().to_string());
    Some(format!("{small}{} {to_do}", letters.as_str()))
}
