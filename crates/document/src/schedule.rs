//! The answer of `schedule`: what to set, what it costs, what it costs less than, which demand it is that costs.

pub(crate) mod answer;
mod figure;
pub(crate) mod found;
pub(crate) mod json;
mod refusal;
mod tables;
mod turnover;
pub(crate) mod words;

use crate::language::say;
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
pub(crate) struct Subject<'a> {
    pub(crate) site: &'a Site,
    pub(crate) analysis: &'a Analysis,
    pub(crate) plan: &'a DayPlan,
    pub(crate) printing: Printing,
}

/// Composes why the day is as it is: what it comes to and costs, a simpler one, the rules, the speeds on offer.
pub(crate) fn reasons(subject: &Subject<'_>) -> Vec<Block> {
    let mut blocks = Vec::new();
    match &subject.plan.advice {
        Advice::Day(day) => {
            blocks.extend(answer::answers(subject, day));
            blocks.extend(tables::easier(subject, day));
        }
        Advice::Impossible(rules) => blocks.extend(answer::impossible(subject, rules)),
        Advice::Unsettled => blocks.push(answer::unsettled(subject.printing)),
    }
    blocks.extend(tables::rules(subject));
    blocks.extend(answer::offer(subject));
    blocks
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
        Advice::Unsettled => blocks.push(answer::unsettled(printing)),
    }
    blocks.extend(tables::rules(&subject));
    blocks.extend(answer::offer(&subject));
    blocks.push(Block::Heading(say!(printing, "Cautions").to_owned()));
    blocks.extend(answer::cautions(&subject));
    blocks
}
