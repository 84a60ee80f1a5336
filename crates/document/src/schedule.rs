//! The answer of `schedule`: what to set, what it costs, what it costs less than, which demand it is that costs.

mod answer;
mod figure;
pub(crate) mod json;
mod refusal;
mod tables;
mod turnover;
pub(crate) mod words;

pub use figure::figure;
pub use json::json;
pub use refusal::{LiesIn, Refusal, refusal};
pub use turnover::turnover_figure;

use crate::content::Block;
use crate::units::Printing;
use fieldtest::Analysis;
use operation::{Advice, DayPlan};
use records::Site;

/// What the words are made from.
#[derive(Clone, Copy, Debug)]
struct Subject<'a> {
    site: &'a Site,
    analysis: &'a Analysis,
    plan: &'a DayPlan,
    printing: Printing,
}

/// Composes the answer.
pub fn content(site: &Site, analysis: &Analysis, plan: &DayPlan, printing: Printing) -> Vec<Block> {
    let subject = Subject {
        site,
        analysis,
        plan,
        printing,
    };
    let mut blocks = vec![Block::Title(answer::title(&subject))];
    match &plan.advice {
        Advice::Day(day) => {
            blocks.extend(answer::answers(&subject, day));
            blocks.extend(tables::program(&subject, day));
            blocks.extend(tables::easier(&subject, day));
        }
        Advice::Impossible(rules) => blocks.extend(answer::impossible(&subject, rules)),
        Advice::Unsettled => blocks.push(Block::Answer {
            word: "Program".to_owned(),
            text: "Neither a day that keeps all the rules nor the proof that there is none was found in the time given. \
                   Fewer rules, or longer slots, are easier."
                .to_owned(),
        }),
    }
    blocks.extend(tables::rules(&subject));
    blocks.extend(answer::offer(&subject));
    blocks.push(Block::Heading("Cautions".to_owned()));
    blocks.extend(answer::cautions(&subject));
    blocks
}
