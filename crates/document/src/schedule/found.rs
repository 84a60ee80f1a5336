//! What the program as found leaves undone of what is asked, in words: a saving against less work is not all a saving.

use super::words::hours;
use crate::language::say;
use crate::number;
use crate::units::Printing;
use crate::words::listed;
use operation::{Fulfilment, Rule};
use records::unit::Dimension;

/// Says after a saving that the program it is against does less than is asked; nothing where it does all.
pub(crate) fn does_less(fulfilment: Option<&Fulfilment>, printing: Printing) -> String {
    let missed = missed(fulfilment, printing);
    if missed.is_empty() {
        return String::new();
    }
    say!(
        printing,
        " That program does not do all that is asked now; it misses {missed}.",
        missed = listed(&missed, printing)
    )
}

/// Lists what a program misses.
pub(crate) fn missed(fulfilment: Option<&Fulfilment>, printing: Printing) -> Vec<String> {
    let Some(fulfilment) = fulfilment else {
        return Vec::new();
    };
    let mut missed: Vec<String> = Vec::new();
    for rule in &fulfilment.missed {
        let word = word(rule, fulfilment.volume_m3, printing);
        if !missed.contains(&word) {
            missed.push(word);
        }
    }
    missed
}

fn word(rule: &Rule, volume_m3: f64, printing: Printing) -> String {
    match rule {
        Rule::Volume { min_m3 } => say!(
            printing,
            "the turnover ({volume} a day of {asked})",
            volume = printing.plain(volume_m3, Dimension::Volume),
            asked = printing.plain(*min_m3, Dimension::Volume)
        ),
        Rule::Task(task) => say!(
            printing,
            "{task} ({hours} at {flow})",
            task = task.name,
            hours = hours(task.hours, printing),
            flow = printing.plain(task.min_flow_m3s, Dimension::Flow)
        ),
        Rule::MaxSpeed { .. } | Rule::NoStart { .. } => {
            say!(printing, "the quiet hours").to_owned()
        }
        Rule::Starts { max } => say!(
            printing,
            "the rule of at most {count} starts",
            count = number::plain(printing, f64::from(*max))
        ),
        Rule::Speeds { .. } | Rule::Changes { .. } => {
            say!(printing, "what the controller holds").to_owned()
        }
        Rule::Run { .. } => say!(printing, "the shortest run").to_owned(),
        Rule::Pause { .. } => say!(printing, "the longest pause").to_owned(),
    }
}
