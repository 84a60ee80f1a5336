//! The answer in a few sentences, and what to mind.

use super::Subject;
use super::found::does_less;
use super::words::{counted, day_words, money_with_interval};
use crate::content::{Block, capitalized, limit_words};
use crate::number;
use metrology::Estimate;
use operation::{AdvisedDay, CutBy, Least, Rule};
use records::unit::Dimension;

/// A gap below this share is none that anybody would see.
const SEEN_GAP: f64 = 1e-9;

pub(crate) fn title(subject: &Subject<'_>) -> String {
    let what = match subject.plan.problem.least {
        Least::Cost => "the cheapest day",
        Least::Energy => "the day of least energy",
    };
    let day = day_words(&subject.site.operation, &subject.plan.day)
        .map_or_else(String::new, |day| format!(", {day}"));
    format!("{}: {what}{day}", subject.site.name)
}

pub(crate) fn answers(subject: &Subject<'_>, day: &AdvisedDay) -> Vec<Block> {
    [
        ("Program", Some(program(subject, day))),
        ("Cost", cost(subject, day)),
        ("Energy", energy(day)),
        ("Water", water(subject, day)),
        ("Saves", Some(saves(subject, day) + &undone(subject, day))),
        ("Binds", Some(binds(subject, day))),
        ("One more", one_more(subject, day)),
        ("Simpler", simpler(subject, day)),
        ("Proven", Some(proven(day))),
    ]
    .into_iter()
    .filter_map(|(word, text)| {
        Some(Block::Answer {
            word: word.to_owned(),
            text: text?,
        })
    })
    .collect()
}

fn program(subject: &Subject<'_>, day: &AdvisedDay) -> String {
    let replay = &day.program.planned.replay;
    let line = capitalized(&subject.in_a_line(&day.program));
    format!(
        "{line}. {}, {}.",
        counted(replay.speeds, "speed"),
        counted(replay.starts, "start")
    )
}

pub(crate) fn with_currency(subject: &Subject<'_>, estimate: Estimate) -> String {
    money_with_interval(estimate, subject.currency())
}

fn cost(subject: &Subject<'_>, day: &AdvisedDay) -> Option<String> {
    let sums = &day.sums;
    let Some(cost) = sums.cost else {
        let cost = day.program.planned.replay.cost?;
        return Some(format!("{} a day.", subject.money(cost)));
    };
    let month = sums
        .cost_month
        .map(|month| format!(", {} a month", with_currency(subject, month)));
    let year = sums
        .cost_year
        .map(|year| format!(", {} a year", with_currency(subject, year)));
    let demand = if subject.plan.problem.demand_per_kw > 0.0 {
        let top_w = day.program.planned.replay.top_w;
        format!(
            " The charge for the highest draw is part of it: {} a day for {} W; priming, which is shorter than draws are usually metered over, is left out.",
            subject.money(subject.plan.problem.demand_per_kw * top_w / 1000.0),
            number::plain(top_w),
        )
    } else {
        String::new()
    };
    let fixed = if sums.fixed_month > 0.0 {
        format!(
            " The {} a month of fixed charge come on top, whatever the pump does.",
            subject.money(sums.fixed_month)
        )
    } else {
        String::new()
    };
    Some(format!(
        "{} a day{}{}.{demand}{fixed}",
        with_currency(subject, cost),
        month.unwrap_or_default(),
        year.unwrap_or_default(),
    ))
}

fn energy(day: &AdvisedDay) -> Option<String> {
    let energy = day.sums.energy_kwh?;
    let year = day
        .sums
        .energy_year_kwh
        .map(|year| format!(", {} kWh a year", number::with_interval(year)));
    let co2 = day
        .sums
        .co2_year_kg
        .map(|co2| format!(", {} kg of CO₂ a year", number::best(co2)));
    Some(format!(
        "{} kWh a day{}{}.",
        number::with_interval(energy),
        year.unwrap_or_default(),
        co2.unwrap_or_default(),
    ))
}

fn water(subject: &Subject<'_>, day: &AdvisedDay) -> Option<String> {
    /// Odds of one in twenty need no word.
    const SURE: f64 = 0.95;
    let volume = subject
        .printing
        .with_interval(day.sums.volume_m3?, Dimension::Volume);
    let asked = subject.site.operation.turnover_chance.is_some();
    let chance = day.sums.chance_of_volume;
    let doubt =
        chance
            .filter(|chance| asked || *chance < SURE)
            .map_or_else(String::new, |chance| {
                let mend = if asked {
                    ""
                } else {
                    "; for a surer turnover write turnover_chance = \"90 %\" below [operation]"
                };
                format!(
                    " As well as the flow is known, the chance that this is enough is {} %{mend}.",
                    number::with_decimals(100.0 * chance, 0)
                )
            });
    Some(format!("{volume} a day.{doubt}"))
}

fn saves(subject: &Subject<'_>, day: &AdvisedDay) -> String {
    let Some(found) = &day.as_found else {
        return "Not stated: the site file does not say what the program was (as_found)."
            .to_owned();
    };
    let of_found = |sum: Option<Estimate>, unit: &str| {
        sum.map_or_else(String::new, |sum| {
            format!(
                ", which comes to {} {unit} a year",
                number::with_interval(sum)
            )
        })
    };
    match (found.saves_year, found.saves_year_kwh) {
        (Some(saves), _) => format!(
            "{} a year against the program as found{}.",
            with_currency(subject, saves),
            of_found(found.sums.cost_year, subject.currency()),
        ),
        (None, Some(saves)) => format!(
            "{} kWh a year against the program as found{}.",
            number::with_interval(saves),
            of_found(found.sums.energy_year_kwh, "kWh"),
        ),
        (None, None) => "Not known: the laws do not reach the speeds of both programs.".to_owned(),
    }
}

/// Says what the program as found leaves undone.
fn undone(subject: &Subject<'_>, day: &AdvisedDay) -> String {
    let found = day.as_found.as_ref();
    does_less(
        found.and_then(|found| found.fulfilment.as_ref()),
        subject.printing,
    )
}

fn binds(subject: &Subject<'_>, day: &AdvisedDay) -> String {
    let mut binding = day.binding.clone();
    binding.sort_by(|a, b| b.saves.total_cmp(&a.saves));
    let problem = &subject.plan.problem;
    let costs: Vec<String> = binding
        .iter()
        .map(|binding| {
            let name = subject.short_rule(&problem.rules[binding.rule]);
            format!("{name} ({} a day)", subject.least(binding.saves))
        })
        .collect();
    match costs.as_slice() {
        [] => "Nothing: without any one of the rules the day would be the same.".to_owned(),
        [only] => format!("Only {only} costs anything."),
        several => format!(
            "What costs something, by what the day would save without it: {}.",
            several.join(", ")
        ),
    }
}

fn one_more(subject: &Subject<'_>, day: &AdvisedDay) -> Option<String> {
    let problem = &subject.plan.problem;
    let parts: Vec<String> = day
        .one_more
        .iter()
        .map(|more| {
            let what = match &problem.rules[more.rule] {
                Rule::Task(task) => format!("an hour of {}", task.name),
                _ => "a turnover".to_owned(),
            };
            more.costs.map_or_else(
                || format!("{what} is more than a day can do"),
                |costs| format!("{what} costs {} a day", subject.least(costs)),
            )
        })
        .collect();
    (!parts.is_empty()).then(|| capitalized(&parts.join("; ")) + ".")
}

fn simpler(subject: &Subject<'_>, day: &AdvisedDay) -> Option<String> {
    let easier = day.easier.as_ref()?;
    let more = easier.planned.replay.least - day.program.planned.replay.least;
    let count = match easier.planned.replay.speeds {
        1 => "One speed",
        _ => "Two speeds",
    };
    Some(format!(
        "{count} only would cost {} a day more: {}.",
        subject.least(more.max(0.0)),
        subject.in_a_line(easier)
    ))
}

fn proven(day: &AdvisedDay) -> String {
    let gap = day.program.planned.gap();
    if gap <= SEEN_GAP {
        return "No day of these slots and speeds that keeps the rules comes to less.".to_owned();
    }
    format!(
        "Not to the end: some other day may come to {} % less.",
        number::significant(100.0 * gap, 2)
    )
}

/// Says that no day was found, nor that there is none.
pub(crate) fn unsettled() -> Block {
    Block::Answer {
        word: "Program".to_owned(),
        text: "Neither a day that keeps all the rules nor the proof that there is none was found in the time given. \
               Fewer rules, or longer slots, are easier."
            .to_owned(),
    }
}

/// Says which rules cannot hold together.
pub(crate) fn impossible(subject: &Subject<'_>, rules: &[usize]) -> Vec<Block> {
    let problem = &subject.plan.problem;
    let text = match rules.len() {
        0 => "No day keeps all the rules; which of them stand against one another was not found."
            .to_owned(),
        1 => "No day can keep this rule:".to_owned(),
        _ => {
            "No day can keep these rules together; without any one of them the others can be kept:"
                .to_owned()
        }
    };
    let mut blocks = vec![Block::Answer {
        word: "Program".to_owned(),
        text: format!("None. {text}"),
    }];
    blocks.extend(
        rules
            .iter()
            .map(|rule| Block::Item(subject.rule(&problem.rules[*rule]))),
    );
    let fastest = problem
        .speeds
        .iter()
        .max_by(|a, b| a.flow_m3s.total_cmp(&b.flow_m3s));
    blocks.extend(fastest.map(|fastest| {
        /// Seconds in a day, exact.
        const SECONDS_PER_DAY: f64 = 86_400.0;
        let printing = subject.printing;
        Block::Note(format!(
            "The most on offer is {} at {} rpm, which is {} in 24 h.",
            printing.plain(fastest.flow_m3s, Dimension::Flow),
            number::rpm(fastest.speed_rpm),
            printing.plain(fastest.flow_m3s * SECONDS_PER_DAY, Dimension::Volume),
        ))
    }));
    blocks.push(Block::Note(
        "Ask for less, widen a window, or find what limits the speed.".to_owned(),
    ));
    blocks
}

/// Says which speeds are on offer, and why no others.
pub(crate) fn offer(subject: &Subject<'_>) -> Vec<Block> {
    let offer = &subject.plan.offer;
    let ends = offer.speeds.iter().map(|speed| speed.speed_rpm);
    let low = ends.clone().fold(f64::INFINITY, f64::min);
    let high = ends.fold(0.0, f64::max);
    let mut blocks = vec![
        Block::Heading("Speeds on offer".to_owned()),
        Block::Item(format!(
            "{} from {} to {} rpm, with flow and power by the laws of test {}.",
            counted(
                u32::try_from(offer.speeds.len()).unwrap_or(u32::MAX),
                "speed"
            ),
            number::rpm(low),
            number::rpm(high),
            offer
                .lineups
                .first()
                .map_or("", |lineup| lineup.test.as_str()),
        )),
    ];
    blocks.extend(
        offer
            .cuts
            .iter()
            .map(|(by, at)| Block::Item(cut(subject, by, *at))),
    );
    if subject.plan.standby_w.is_none() {
        blocks.push(Block::Item(
            "The draw at rest was not read, and is taken for nothing while the pump is off."
                .to_owned(),
        ));
    }
    if subject.plan.problem.start_energy_wh > 0.0 {
        blocks.push(Block::Item(format!(
            "Each start is counted with {} Wh of priming.",
            number::significant(subject.plan.problem.start_energy_wh, 2)
        )));
    }
    if subject.plan.currency.is_none() {
        blocks.push(Block::Item(
            "The site file has no tariff: energy is made least, and no cost is stated.".to_owned(),
        ));
    }
    blocks
}

fn cut(subject: &Subject<'_>, by: &CutBy, at_rpm: f64) -> String {
    match by {
        CutBy::FastestStep => format!(
            "None above {} rpm, the fastest step of the test.",
            number::rpm(at_rpm)
        ),
        CutBy::SlowestStep => format!(
            "None below {} rpm, the slowest step of the test.",
            number::rpm(at_rpm)
        ),
        CutBy::Limit(index) => {
            let limit = subject.analysis.limits.get(*index);
            let what = limit.map_or_else(String::new, |limit| limit_words(limit, subject.printing));
            format!(
                "None above about {} rpm, where {what} is met.",
                number::rpm_about(at_rpm)
            )
        }
    }
}

/// Lists what to mind when a program is set.
pub(crate) fn cautions(subject: &Subject<'_>) -> Vec<Block> {
    let mut cautions = Vec::new();
    if let operation::Advice::Day(day) = &subject.plan.advice {
        for limit in day
            .short_of
            .iter()
            .filter_map(|index| subject.analysis.limits.get(*index))
        {
            let flow = limit.flow_m3s.map_or_else(String::new, |flow| {
                subject.printing.plain(flow, Dimension::Flow)
            });
            cautions.push(format!(
                "The program runs below the {flow} that the {} needs: it must stay off in those hours, by a flow switch or by hand.",
                limit.applies_to
            ));
        }
    }
    let primed = subject.plan.priming_beyond;
    let passed = primed.and_then(|index| subject.analysis.limits.get(index));
    cautions.extend(passed.zip(subject.site.pump.prime.as_ref()).map(|(limit, prime)| {
        format!(
            "Priming at {} rpm passes a limit at each start: {}. Prime slower where the pump still primes.",
            number::rpm(prime.speed.si),
            limit_words(limit, subject.printing),
        )
    }));
    cautions.extend(
        [
            "The laws are those of the day of the test: a filter that loads moves less at the same speed. Test again when its pressure has risen.",
            "Freeze guard, automation and the chlorine feeder have programs of their own: set them to the new hours.",
            "After the change watch one start, one stop and one whole day. Local codes and licensed practice decide how long and how fast a pool must be filtered.",
        ]
        .map(str::to_owned),
    );
    cautions.into_iter().map(Block::Item).collect()
}
