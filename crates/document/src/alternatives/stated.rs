//! What a change states anew of how the pad is run and judged, in words.

use super::{Subject, changed};
use crate::content::Block;
use crate::language::say;
use crate::units::Printing;
use crate::words::listed;
use operation::StatedAnew;

/// Says of each change what it states anew, so that nobody takes its sums for those of the site's own tariff or tasks.
pub(super) fn stated_anew(subject: &Subject<'_>) -> Vec<Block> {
    let items = changed(subject.comparison).filter_map(|(alternative, changed)| {
        let words = changed.states.iter();
        let words: Vec<&str> = words
            .map(|states| word(*states, subject.printing))
            .collect();
        let own = match &changed.baseline {
            Some(_) => say!(subject.printing, " Its saving is against the program as found that it states, run on the pad as it is."),
            None => "",
        };
        (!words.is_empty()).then(|| {
            let sentence = say!(
                subject.printing,
                "{change} states its own {what}; its sums rest on that, those of the pad as it is on the site file.",
                change = alternative.name,
                what = listed(&words, subject.printing)
            );
            sentence + own
        })
    });
    items.map(Block::Item).collect()
}

fn word(states: StatedAnew, printing: Printing) -> &'static str {
    match states {
        StatedAnew::Tariff => say!(printing, "tariff"),
        StatedAnew::Turnover => say!(printing, "turnover"),
        StatedAnew::Tasks => say!(printing, "tasks"),
        StatedAnew::QuietHours => say!(printing, "quiet hours"),
        StatedAnew::Controller => say!(printing, "speeds and starts of the controller"),
        StatedAnew::AsFound => say!(printing, "program as found"),
        StatedAnew::DiscountRate => say!(printing, "discount rate"),
        StatedAnew::Limits => say!(printing, "limits"),
        StatedAnew::Water => say!(printing, "water"),
    }
}
