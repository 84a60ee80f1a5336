//! What the program as found leaves undone of what is asked, in words: a saving against less work is not all a saving.

use super::words::hours;
use crate::number;
use crate::units::Printing;
use operation::{Fulfilment, Rule};
use records::unit::Dimension;

/// Says after a saving that the program it is against does less than is asked; nothing where it does all.
pub(crate) fn does_less(fulfilment: Option<&Fulfilment>, printing: Printing) -> String {
    let missed = missed(fulfilment, printing);
    if missed.is_empty() {
        return String::new();
    }
    format!(
        " That program does not do all that is asked now; it misses {}.",
        listed(&missed)
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
        Rule::Volume { min_m3 } => format!(
            "the turnover ({} a day of {})",
            printing.plain(volume_m3, Dimension::Volume),
            printing.plain(*min_m3, Dimension::Volume)
        ),
        Rule::Task(task) => format!(
            "{} ({} at {})",
            task.name,
            hours(task.hours),
            printing.plain(task.min_flow_m3s, Dimension::Flow)
        ),
        Rule::MaxSpeed { .. } | Rule::NoStart { .. } => "the quiet hours".to_owned(),
        Rule::Starts { max } => format!(
            "the rule of at most {} starts",
            number::plain(f64::from(*max))
        ),
        Rule::Speeds { .. } | Rule::Changes { .. } => "what the controller holds".to_owned(),
        Rule::Run { .. } => "the shortest run".to_owned(),
        Rule::Pause { .. } => "the longest pause".to_owned(),
    }
}

fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [word] => word.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
