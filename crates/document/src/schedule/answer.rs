//! The answer in a few sentences, and what to mind.

use super::Subject;
use super::found::does_less;
use super::words::{Thing, counted, day_words, money_with_interval};
use crate::content::{Block, Kind, capitalized, limit_words};
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::Printing;
use metrology::Estimate;
use operation::{AdvisedDay, CutBy, Least, Rule};
use records::unit::Dimension;

/// A gap below this share is none that anybody would see.
const SEEN_GAP: f64 = 1e-9;

pub(crate) fn title(subject: &Subject<'_>) -> String {
    let what = match subject.plan.problem.least {
        Least::Cost => say!(subject.printing, "the cheapest day"),
        Least::Energy => say!(subject.printing, "the day of least energy"),
    };
    let day = day_words(&subject.site.operation, &subject.plan.day, subject.printing)
        .map_or_else(String::new, |day| format!(", {day}"));
    format!("{}: {what}{day}", subject.site.name)
}

pub(crate) fn answers(subject: &Subject<'_>, day: &AdvisedDay) -> Vec<Block> {
    [
        (
            say!(subject.printing, "Program"),
            Some(program(subject, day)),
            Kind::Program,
        ),
        (
            say!(subject.printing, "Cost"),
            cost(subject, day),
            Kind::Money,
        ),
        (
            say!(subject.printing, "Energy"),
            energy(day, subject.printing),
            Kind::Energy,
        ),
        (
            say!(subject.printing, "Water"),
            water(subject, day),
            Kind::Water,
        ),
        (
            say!(subject.printing, "Saves"),
            Some(saves(subject, day) + &undone(subject, day)),
            Kind::Money,
        ),
        (
            say!(subject.printing, "Binds"),
            Some(binds(subject, day)),
            Kind::Program,
        ),
        (
            say!(subject.printing, "One more"),
            one_more(subject, day),
            Kind::Program,
        ),
        (
            say!(subject.printing, "Simpler"),
            simpler(subject, day),
            Kind::Program,
        ),
        (
            say!(subject.printing, "Proven"),
            Some(proven(day, subject.printing)),
            Kind::Program,
        ),
    ]
    .into_iter()
    .filter_map(|(word, text, kind)| {
        Some(Block::Answer {
            word: word.to_owned(),
            text: text?,
            kind: Some(kind),
        })
    })
    .collect()
}

fn program(subject: &Subject<'_>, day: &AdvisedDay) -> String {
    let replay = &day.program.planned.replay;
    let line = capitalized(&subject.in_a_line(&day.program));
    format!(
        "{line}. {}, {}.",
        counted(replay.speeds, Thing::Speeds, subject.printing),
        counted(replay.starts, Thing::Starts, subject.printing)
    )
}

pub(crate) fn with_currency(subject: &Subject<'_>, estimate: Estimate) -> String {
    money_with_interval(estimate, subject.currency(), subject.printing)
}

fn cost(subject: &Subject<'_>, day: &AdvisedDay) -> Option<String> {
    let sums = &day.sums;
    let Some(cost) = sums.cost else {
        let cost = day.program.planned.replay.cost?;
        return Some(say!(
            subject.printing,
            "{cost} a day.",
            cost = subject.money(cost)
        ));
    };
    let month = sums.cost_month.map(|month| {
        say!(
            subject.printing,
            ", {month} a month",
            month = with_currency(subject, month)
        )
    });
    let year = sums.cost_year.map(|year| {
        say!(
            subject.printing,
            ", {year} a year",
            year = with_currency(subject, year)
        )
    });
    let demand = if subject.plan.problem.demand_per_kw > 0.0 {
        let top_w = day.program.planned.replay.top_w;
        say!(
            subject.printing,
            " The charge for the highest draw is part of it: {charge} a day for {draw} W; priming, which is shorter than draws are usually metered over, is left out.",
            charge = subject.money(subject.plan.problem.demand_per_kw * top_w / 1000.0),
            draw = number::plain(subject.printing, top_w)
        )
    } else {
        String::new()
    };
    let fixed = if sums.fixed_month > 0.0 {
        say!(
            subject.printing,
            " The {fixed} a month of fixed charge come on top, whatever the pump does.",
            fixed = subject.money(sums.fixed_month)
        )
    } else {
        String::new()
    };
    Some(say!(
        subject.printing,
        "{cost} a day{month}{year}.{demand}{fixed}",
        cost = with_currency(subject, cost),
        month = month.unwrap_or_default(),
        year = year.unwrap_or_default(),
        demand,
        fixed
    ))
}

fn energy(day: &AdvisedDay, printing: Printing) -> Option<String> {
    let energy = day.sums.energy_kwh?;
    let year = day.sums.energy_year_kwh.map(|year| {
        say!(
            printing,
            ", {year} kWh a year",
            year = number::with_interval(printing, year)
        )
    });
    let co2 = day.sums.co2_year_kg.map(|co2| {
        say!(
            printing,
            ", {co2} kg of CO₂ a year",
            co2 = number::best(printing, co2)
        )
    });
    Some(say!(
        printing,
        "{energy} kWh a day{year}{co2}.",
        energy = number::with_interval(printing, energy),
        year = year.unwrap_or_default(),
        co2 = co2.unwrap_or_default()
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
                    say!(subject.printing, "; for a surer turnover write turnover_chance = \"90 %\" below [operation]")
                };
                say!(subject.printing, " As well as the flow is known, the chance that this is enough is {percent} %{mend}.", percent = number::with_decimals(subject.printing, 100.0 * chance, 0), mend)
            });
    Some(say!(
        subject.printing,
        "{volume} a day.{doubt}",
        volume,
        doubt
    ))
}

fn saves(subject: &Subject<'_>, day: &AdvisedDay) -> String {
    let Some(found) = &day.as_found else {
        return say!(
            subject.printing,
            "Not stated: the site file does not say what the program was (as_found)."
        )
        .to_owned();
    };
    let of_found = |sum: Option<Estimate>, unit: &str| {
        sum.map_or_else(String::new, |sum| {
            say!(
                subject.printing,
                ", which comes to {sum} {unit} a year",
                sum = number::with_interval(subject.printing, sum),
                unit
            )
        })
    };
    match (found.saves_year, found.saves_year_kwh) {
        (Some(saves), _) => say!(
            subject.printing,
            "{saves} a year against the program as found{found}.",
            saves = with_currency(subject, saves),
            found = of_found(found.sums.cost_year, subject.currency())
        ),
        (None, Some(saves)) => say!(
            subject.printing,
            "{saves} kWh a year against the program as found{found}.",
            saves = number::with_interval(subject.printing, saves),
            found = of_found(found.sums.energy_year_kwh, "kWh")
        ),
        (None, None) => say!(
            subject.printing,
            "Not known: the laws do not reach the speeds of both programs."
        )
        .to_owned(),
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
    numerics::order::sort_by(&mut binding, |a, b| b.saves.total_cmp(&a.saves));
    let problem = &subject.plan.problem;
    let costs: Vec<String> = binding
        .iter()
        .map(|binding| {
            let name = subject.short_rule(&problem.rules[binding.rule]);
            say!(
                subject.printing,
                "{name} ({saves} a day)",
                name,
                saves = subject.least(binding.saves)
            )
        })
        .collect();
    match costs.as_slice() {
        [] => say!(
            subject.printing,
            "Nothing: without any one of the rules the day would be the same."
        )
        .to_owned(),
        [only] => say!(subject.printing, "Only {only} costs anything.", only),
        several => say!(
            subject.printing,
            "What costs something, by what the day would save without it: {several}.",
            several = several.join(", ")
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
                Rule::Task(task) => say!(subject.printing, "an hour of {task}", task = task.name),
                _ => say!(subject.printing, "a turnover").to_owned(),
            };
            more.costs.map_or_else(
                || say!(subject.printing, "{what} is more than a day can do", what),
                |costs| {
                    say!(
                        subject.printing,
                        "{what} costs {costs} a day",
                        what,
                        costs = subject.least(costs)
                    )
                },
            )
        })
        .collect();
    (!parts.is_empty()).then(|| capitalized(&parts.join("; ")) + ".")
}

fn simpler(subject: &Subject<'_>, day: &AdvisedDay) -> Option<String> {
    let easier = day.easier.as_ref()?;
    let more = easier.planned.replay.least - day.program.planned.replay.least;
    let (cost, easier_day) = (subject.least(more.max(0.0)), subject.in_a_line(easier));
    Some(match easier.planned.replay.speeds {
        1 => say!(
            subject.printing,
            "One speed only would cost {cost} a day more: {day}.",
            cost,
            day = easier_day
        ),
        _ => say!(
            subject.printing,
            "Two speeds only would cost {cost} a day more: {day}.",
            cost,
            day = easier_day
        ),
    })
}

fn proven(day: &AdvisedDay, printing: Printing) -> String {
    let gap = day.program.planned.gap();
    if gap <= SEEN_GAP {
        return say!(
            printing,
            "No day of these slots and speeds that keeps the rules comes to less."
        )
        .to_owned();
    }
    say!(
        printing,
        "Not to the end: some other day may come to {percent} % less.",
        percent = number::significant(printing, 100.0 * gap, 2)
    )
}

/// Says that no day was found, nor that there is none.
pub(crate) fn unsettled(printing: Printing) -> Block {
    Block::Answer {
        word: say!(printing, "Program").to_owned(),
        text: say!(printing, "Neither a day that keeps all the rules nor the proof that there is none was found in the time given. \
               Fewer rules, or longer slots, are easier.")
            .to_owned(),
        kind: Some(Kind::Program),
    }
}

/// Says which rules cannot hold together.
pub(crate) fn impossible(subject: &Subject<'_>, rules: &[usize]) -> Vec<Block> {
    let problem = &subject.plan.problem;
    let text = match rules.len() {
        0 => say!(
            subject.printing,
            "No day keeps all the rules; which of them stand against one another was not found."
        )
        .to_owned(),
        1 => say!(subject.printing, "No day can keep this rule:").to_owned(),
        _ => say!(
            subject.printing,
            "No day can keep these rules together; without any one of them the others can be kept:"
        )
        .to_owned(),
    };
    let mut blocks = vec![Block::Answer {
        word: say!(subject.printing, "Program").to_owned(),
        text: say!(subject.printing, "None. {text}", text),
        kind: Some(Kind::Program),
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
        Block::Note(say!(
            subject.printing,
            "The most on offer is {flow} at {speed} rpm, which is {volume} in 24 h.",
            flow = printing.plain(fastest.flow_m3s, Dimension::Flow),
            speed = number::rpm(subject.printing, fastest.speed_rpm),
            volume = printing.plain(fastest.flow_m3s * SECONDS_PER_DAY, Dimension::Volume)
        ))
    }));
    blocks.push(Block::Note(
        say!(
            subject.printing,
            "Ask for less, widen a window, or find what limits the speed."
        )
        .to_owned(),
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
        Block::Heading(say!(subject.printing, "Speeds on offer").to_owned()),
        Block::Item(say!(
            subject.printing,
            "{speeds} from {low} to {high} rpm, with flow and power by the laws of test {test}.",
            speeds = counted(
                u32::try_from(offer.speeds.len()).unwrap_or(u32::MAX),
                Thing::Speeds,
                subject.printing
            ),
            low = number::rpm(subject.printing, low),
            high = number::rpm(subject.printing, high),
            test = offer
                .lineups
                .first()
                .map_or("", |lineup| lineup.test.as_str())
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
            say!(
                subject.printing,
                "The draw at rest was not read, and is taken for nothing while the pump is off."
            )
            .to_owned(),
        ));
    }
    if subject.plan.problem.start_energy_wh > 0.0 {
        blocks.push(Block::Item(say!(
            subject.printing,
            "Each start is counted with {energy} Wh of priming.",
            energy = number::significant(subject.printing, subject.plan.problem.start_energy_wh, 2)
        )));
    }
    if subject.plan.currency.is_none() {
        blocks.push(Block::Item(
            say!(
                subject.printing,
                "The site file has no tariff: energy is made least, and no cost is stated."
            )
            .to_owned(),
        ));
    }
    blocks
}

fn cut(subject: &Subject<'_>, by: &CutBy, at_rpm: f64) -> String {
    match by {
        CutBy::FastestStep => say!(
            subject.printing,
            "None above {speed} rpm, the fastest step of the test.",
            speed = number::rpm(subject.printing, at_rpm)
        ),
        CutBy::SlowestStep => say!(
            subject.printing,
            "None below {speed} rpm, the slowest step of the test.",
            speed = number::rpm(subject.printing, at_rpm)
        ),
        CutBy::Limit(index) => {
            let limit = subject.analysis.limits.get(*index);
            let what = limit.map_or_else(String::new, |limit| limit_words(limit, subject.printing));
            say!(
                subject.printing,
                "None above about {speed} rpm, where {what} is met.",
                speed = number::rpm_about(at_rpm),
                what
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
            cautions.push(say!(subject.printing, "The program runs below the {flow} that the {part} needs: it must stay off in those hours, by a flow switch or by hand.", flow, part = names::applied_to(limit, subject.printing)));
        }
    }
    let primed = subject.plan.priming_beyond;
    let passed = primed.and_then(|index| subject.analysis.limits.get(index));
    cautions.extend(passed.zip(subject.site.pump.prime.as_ref()).map(|(limit, prime)| {
        say!(subject.printing, "Priming at {speed} rpm passes a limit at each start: {limit}. Prime slower where the pump still primes.", speed = number::rpm(subject.printing, prime.speed.si), limit = limit_words(limit, subject.printing))
    }));
    cautions.extend(
        [
            say!(subject.printing, "The laws are those of the day of the test: a filter that loads moves less at the same speed. Test again when its pressure has risen."),
            say!(subject.printing, "Freeze guard, automation and the chlorine feeder have programs of their own: set them to the new hours."),
            say!(subject.printing, "After the change watch one start, one stop and one whole day. Local codes and licensed practice decide how long and how fast a pool must be filtered."),
        ]
        .map(str::to_owned),
    );
    cautions.into_iter().map(Block::Item).collect()
}
