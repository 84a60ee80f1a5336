//! Changes of a pad as the report that is handed over tells them: in one sentence for the owner, in full for the technician.

use super::{Subject, body, cautions, changed, figure};
use crate::content::findings::alone;
use crate::content::{Block, Drawing};
use crate::language::say;
use crate::number;
use crate::report::Section;
use crate::schedule::words::money_with_interval;
use crate::units::Printing;
use fieldtest::{Finding, Matter};
use operation::{Alternative, Changed, Comparison, Worth};
use records::Site;

/// From this chance on, a change is said to be worth its cost.
const LIKELY: f64 = 0.55;

/// Composes the section of a report.
pub fn handed(site: &Site, comparison: &Comparison, printing: Printing) -> Section {
    let subject = Subject {
        site,
        comparison,
        printing,
    };
    let mut blocks = body(&subject);
    let drawing = figure(site, comparison, printing);
    let drawing = drawing.as_ref().and_then(Drawing::of_figure);
    // Below the verdicts and above the table.
    let at = blocks
        .iter()
        .position(|block| matches!(block, Block::Table(_)))
        .map_or(blocks.len(), |table| table.saturating_sub(1));
    if let Some(drawing) = drawing {
        blocks.insert(at, Block::Drawing(Box::new(drawing)));
    }
    // What is said of the site stands with its other findings.
    let of_change = comparison.findings.iter().filter(|it| is_of_change(it));
    blocks.extend(of_change.map(|it| alone(it, printing)));
    blocks.extend(cautions(printing).map(Block::Note));
    Section {
        in_short: in_short(&subject),
        blocks,
    }
}

fn is_of_change(finding: &Finding) -> bool {
    matches!(
        &finding.matter,
        Matter::UnknownCurrency {
            change: Some(_),
            ..
        }
    )
}

/// Says in one sentence which change is worth its cost, if any; nothing where none has a cost and a saving that are known.
fn in_short(subject: &Subject<'_>) -> Option<String> {
    let weighed: Vec<(&Alternative, &Changed, &Worth)> = changed(subject.comparison)
        .filter_map(|(alternative, changed)| Some((alternative, changed, changed.worth.as_ref()?)))
        .collect();
    let likely = weighed
        .iter()
        .filter(|(_, _, worth)| worth.chance >= LIKELY);
    let value = |worth: &Worth| worth.net_present_value.value;
    let best = likely.max_by(|a, b| value(a.2).total_cmp(&value(b.2)));
    match (best, weighed.as_slice()) {
        (None, []) => None,
        (None, [(only, ..)]) => Some(say!(
            subject.printing,
            "A change was looked at too, \"{change}\": it is not likely to be worth its cost.",
            change = only.name
        )),
        (None, _) => Some(
            say!(
                subject.printing,
                "None of the changes of the pad that were looked at is likely to be worth its cost."
            )
            .to_owned(),
        ),
        (Some((best, changed, worth)), _) => Some(worth_it(subject, best, (*changed, *worth))),
    }
}

fn worth_it(
    subject: &Subject<'_>,
    best: &Alternative,
    (changed, worth): (&Changed, &Worth),
) -> String {
    let saves = changed.adds.map_or_else(String::new, |adds| {
        say!(
            subject.printing,
            " it saves {saving} a year more,",
            saving = money_with_interval(adds, subject.currency(), subject.printing)
        )
    });
    let back = worth.pay_back.years.map_or_else(String::new, |years| {
        say!(
            subject.printing,
            " pays back in about {years} years,",
            years = number::significant(subject.printing, years, 2)
        )
    });
    say!(
        subject.printing,
        "A change of the pad that is likely worth its cost is \"{change}\":{saves}{back} and the second part tells more.",
        change = best.name,
        saves,
        back
    )
}
