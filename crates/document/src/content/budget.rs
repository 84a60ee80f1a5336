//! Where the head is lost, in words and as a table: the line that takes most first.

use super::{Block, Kind, capitalized, tee_budget};
use crate::language::say;
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
        say!(
            printing,
            "; shut: {closed}",
            closed = budget.closed.join(", ")
        )
    };
    let mut blocks = vec![
        Block::Heading(say!(printing, "Where the head is lost").to_owned()),
        Block::Answer {
            word: say!(printing, "Head").to_owned(),
            text: say!(printing, "{head} at {speed} rpm and {flow}{shut}.", head = printing.with_interval(budget.head_m, Dimension::Length), speed = number::rpm(printing, budget.speed_rpm), flow = printing.with_interval(budget.flow_m3s, Dimension::Flow), shut),
            kind: Some(Kind::Head),
        },
        Block::Answer {
            word: say!(printing, "Taken by").to_owned(),
            text: sections(budget, printing),
            kind: Some(Kind::Share),
        },
        table(site, budget, printing),
        Block::Note(
            say!(printing, "By the stated plumbing, moved as far as the readings ask; ± and ranges hold the truth in 95 of 100 cases.").to_owned(),
        ),
    ];
    blocks.extend(tee_budget::note(budget, printing));
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
        word: say!(printing, "Read next").to_owned(),
        text,
        kind: None,
    };
    let learning = match found {
        Ok(learning) => learning,
        Err(problem) => {
            let words = learning::not_learnt(problem, printing);
            return vec![answer(format!("{} {}", words.says, words.action))];
        }
    };
    let Some((best, others)) = learning.readings.split_first() else {
        return vec![answer(say!(
            printing,
            "Of {weighed} readings that were weighed none would narrow {answer} by more than a twentieth; it is {now} now.",
            weighed = learning.weighed,
            answer = learning::answer(site, &learning.answer, printing),
            now = learning::now(learning, printing)
        ))];
    };
    let best = learning::says(site, learning, best, printing);
    let mut blocks = vec![answer(say!(
        printing,
        "{reading}; it is {now} now.",
        reading = capitalized(&best),
        now = learning::now(learning, printing)
    ))];
    blocks.extend(others.iter().take(OTHERS).map(|next| {
        let percent = number::significant(printing, 100.0 * next.left, 2);
        let reading = capitalized(&learning::reading(&next.reading, printing));
        Block::Item(say!(
            printing,
            "{reading}: would leave {percent} %.",
            reading,
            percent
        ))
    }));
    blocks
}

/// Says what share the lines take, those that share both ends together; the greatest first.
fn sections(budget: &Budget, printing: Printing) -> String {
    let mut sections: Vec<_> = budget.sections.iter().collect();
    numerics::order::sort_by(&mut sections, |(_, a), (_, b)| b.value.total_cmp(&a.value));
    let said: Vec<String> = sections
        .iter()
        .filter(|(_, share)| share.value > LEAST_SHOWN)
        .map(|(lines, share)| {
            format!(
                "{} {}",
                lines.join(say!(printing, " and ")),
                of_whole(*share, printing)
            )
        })
        .collect();
    let lift = budget.lift_share.map_or_else(String::new, |share| {
        say!(
            printing,
            "; lift {share}",
            share = of_whole(share, printing)
        )
    });
    capitalized(&format!("{}{lift}.", said.join("; ")))
}

fn of_whole(share: Estimate, printing: Printing) -> String {
    format!("{} %", percent(share, printing))
}

fn percent(share: Estimate, printing: Printing) -> String {
    number::with_interval(printing, share.scaled(100.0))
}

fn table(site: &Site, budget: &Budget, printing: Printing) -> Block {
    let mut lines: Vec<(&Line, &LineBudget)> = site.lines.iter().zip(&budget.lines).collect();
    // A line that passes nothing takes nothing.
    lines.retain(|(_, line)| line.share.value.abs() > 0.0);
    numerics::order::sort_by(&mut lines, |(_, a), (_, b)| {
        b.share.value.total_cmp(&a.share.value)
    });
    let row = |line: &str, part: &str, head: Estimate, share: Estimate| {
        let head = number::with_interval(printing, printing.estimate(head, Dimension::Length));
        vec![
            line.to_owned(),
            part.to_owned(),
            head,
            percent(share, printing),
        ]
    };
    let mut rows = Vec::new();
    for (stated, line) in lines {
        rows.push(row(
            &line.line,
            say!(printing, "all"),
            line.head_m,
            line.share,
        ));
        let mut taken: Vec<&PartBudget> = line.parts.iter().collect();
        taken.retain(|part| part.share.value > LEAST_SHOWN);
        numerics::order::sort_by(&mut taken, |a, b| b.share.value.total_cmp(&a.share.value));
        rows.extend(taken.into_iter().map(|part| {
            let of = part.part.and_then(|index| stated.parts.get(index));
            let name = of.map_or_else(
                || say!(printing, "part-open valve").to_owned(),
                |part| parts::name(part, printing),
            );
            row("", &name, part.head_m, part.share)
        }));
        let told = tee_budget::told(line);
        rows.extend(
            told.map(|tee| row("", &parts::tee_at(&tee.at, printing), tee.head_m, tee.share)),
        );
    }
    rows.extend(budget.lift_share.map(|share| {
        let share = percent(share, printing);
        vec![
            say!(printing, "lift").to_owned(),
            String::new(),
            "–".to_owned(),
            share,
        ]
    }));
    crate::solved::losses(rows, printing)
}
