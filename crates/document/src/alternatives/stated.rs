//! What a change states anew of how the pad is run and judged, in words.

use super::{Subject, changed};
use crate::content::Block;
use operation::StatedAnew;

/// Says of each change what it states anew, so that nobody takes its sums for those of the site's own tariff or tasks.
pub(super) fn stated_anew(subject: &Subject<'_>) -> Vec<Block> {
    let items = changed(subject.comparison).filter_map(|(alternative, changed)| {
        let words: Vec<&str> = changed.states.iter().map(|states| word(*states)).collect();
        let own = match &changed.baseline {
            Some(_) => " Its saving is against the program as found that it states, run on the pad as it is.",
            None => "",
        };
        (!words.is_empty()).then(|| {
            format!(
                "{} states its own {}; its sums rest on that, those of the pad as it is on the site file.{own}",
                alternative.name,
                listed(&words)
            )
        })
    });
    items.map(Block::Item).collect()
}

fn word(states: StatedAnew) -> &'static str {
    match states {
        StatedAnew::Tariff => "tariff",
        StatedAnew::Turnover => "turnover",
        StatedAnew::Tasks => "tasks",
        StatedAnew::QuietHours => "quiet hours",
        StatedAnew::Controller => "speeds and starts of the controller",
        StatedAnew::AsFound => "program as found",
        StatedAnew::DiscountRate => "discount rate",
        StatedAnew::Limits => "limits",
        StatedAnew::Water => "water",
    }
}

fn listed(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [word] => (*word).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
