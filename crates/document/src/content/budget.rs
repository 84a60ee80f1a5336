//! Where the head is lost, in words and as a table: the line that takes most first.

use super::{Block, Table, capitalized, tee_budget};
use crate::number;
use crate::parts;
use crate::units::Printing;
use crate::words::learning;
use fieldtest::{Budget, Calibration, Learning, LineBudget, NotLearnt, PartBudget};
use metrology::Estimate;
use records::unit::Dimension;
use records::{Line, Site};

/// A part below this share is left to the rest of its line.
const LEAST_SHOWN: f64 = 0.005;

/// Composes where the head is lost.
pub(crate) fn budget(site: &Site, calibration: &Calibration, printing: Printing) -> Vec<Block> {
    let budget = &calibration.budget;
    let shut = if budget.closed.is_empty() {
        String::new()
    } else {
        format!("; shut: {}", budget.closed.join(", "))
    };
    let mut blocks = vec![
        Block::Heading("Where the head is lost".to_owned()),
        Block::Answer {
            word: "Head".to_owned(),
            text: format!(
                "{} at {} rpm and {}{shut}.",
                printing.with_interval(budget.head_m, Dimension::Length),
                number::rpm(budget.speed_rpm),
                printing.with_interval(budget.flow_m3s, Dimension::Flow),
            ),
        },
        Block::Answer {
            word: "Taken by".to_owned(),
            text: sections(budget),
        },
        table(site, budget, printing),
        Block::Note(
            "By the stated plumbing, moved as far as the readings ask; ± and ranges hold the truth in 95 of 100 cases.".to_owned(),
        ),
    ];
    blocks.extend(tee_budget::note(budget));
    blocks
}

/// Other readings that are told beside the best.
const OTHERS: usize = 3;

/// Says which reading would tell most of an answer.
pub(super) fn read_next(
    site: &Site,
    found: Result<&Learning, &NotLearnt>,
    printing: Printing,
) -> Vec<Block> {
    let answer = |text: String| Block::Answer {
        word: "Read next".to_owned(),
        text,
    };
    let learning = match found {
        Ok(learning) => learning,
        Err(problem) => {
            let words = learning::not_learnt(problem);
            return vec![answer(format!("{} {}", words.says, words.action))];
        }
    };
    let Some((best, others)) = learning.readings.split_first() else {
        return vec![answer(format!(
            "Of {} readings that were weighed none would narrow {} by more than a twentieth; it is {} now.",
            learning.weighed,
            learning::answer(site, &learning.answer),
            learning::now(learning, printing),
        ))];
    };
    let best = learning::says(site, learning, best);
    let mut blocks = vec![answer(format!(
        "{}; it is {} now.",
        capitalized(&best),
        learning::now(learning, printing)
    ))];
    blocks.extend(others.iter().take(OTHERS).map(|next| {
        let percent = number::significant(100.0 * next.left, 2);
        let reading = capitalized(&learning::reading(&next.reading));
        Block::Item(format!("{reading}: would leave {percent} %."))
    }));
    blocks
}

/// Says what share the lines take, those that share both ends together; the greatest first.
fn sections(budget: &Budget) -> String {
    let mut sections: Vec<_> = budget.sections.iter().collect();
    sections.sort_by(|(_, a), (_, b)| b.value.total_cmp(&a.value));
    let said: Vec<String> = sections
        .iter()
        .filter(|(_, share)| share.value > LEAST_SHOWN)
        .map(|(lines, share)| format!("{} {}", lines.join(" and "), of_whole(*share)))
        .collect();
    let lift = budget
        .lift_share
        .map_or_else(String::new, |share| format!("; lift {}", of_whole(share)));
    capitalized(&format!("{}{lift}.", said.join("; ")))
}

fn of_whole(share: Estimate) -> String {
    format!("{} %", percent(share))
}

fn percent(share: Estimate) -> String {
    number::with_interval(share.scaled(100.0))
}

fn table(site: &Site, budget: &Budget, printing: Printing) -> Block {
    let mut lines: Vec<(&Line, &LineBudget)> = site.lines.iter().zip(&budget.lines).collect();
    // A line that passes nothing takes nothing.
    lines.retain(|(_, line)| line.share.value.abs() > 0.0);
    lines.sort_by(|(_, a), (_, b)| b.share.value.total_cmp(&a.share.value));
    let row = |line: &str, part: &str, head: Estimate, share: Estimate| {
        let head = number::with_interval(printing.estimate(head, Dimension::Length));
        vec![line.to_owned(), part.to_owned(), head, percent(share)]
    };
    let mut rows = Vec::new();
    for (stated, line) in lines {
        rows.push(row(&line.line, "all", line.head_m, line.share));
        let mut taken: Vec<&PartBudget> = line.parts.iter().collect();
        taken.retain(|part| part.share.value > LEAST_SHOWN);
        taken.sort_by(|a, b| b.share.value.total_cmp(&a.share.value));
        rows.extend(taken.into_iter().map(|part| {
            let of = part.part.and_then(|index| stated.parts.get(index));
            let name = of.map_or_else(|| "part-open valve".to_owned(), parts::name);
            row("", &name, part.head_m, part.share)
        }));
        let told = tee_budget::told(line);
        rows.extend(told.map(|tee| row("", &parts::tee_at(&tee.at), tee.head_m, tee.share)));
    }
    rows.extend(budget.lift_share.map(|share| {
        let share = percent(share);
        vec!["lift".to_owned(), String::new(), "–".to_owned(), share]
    }));
    Block::Table(Table {
        headings: vec![
            "line".to_owned(),
            "part".to_owned(),
            format!("head\n{}", printing.name(Dimension::Length)),
            "of the power\n%".to_owned(),
        ],
        rows,
        word_columns: 2,
        struck: Vec::new(),
    })
}
