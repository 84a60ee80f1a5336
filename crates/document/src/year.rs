//! The answer of `year`: every day at its own prices, as words, as JSON and hour by hour.

use crate::alternatives;
use crate::content::{Block, Table};
use crate::json::{FORMAT, text};
use crate::language::say;
use crate::number;
use crate::schedule::found::does_less;
use crate::schedule::json::{e, fulfils};
use crate::schedule::words::{day_words, in_a_line, money_with_interval};
use crate::units::Printing;
use operation::{Clock, KindOfDay, Least, YearPlan, YearSums, hours};
use records::Site;
use records::unit::Dimension;
use serde_json::json as object;
use std::fmt::Write;

/// Composes the answer.
pub fn content(site: &Site, year: &YearPlan, printing: Printing) -> Vec<Block> {
    let mut blocks = vec![Block::Title(say!(
        printing,
        "{site}: the year {year}",
        site = site.name,
        year = year.year
    ))];
    let answer = |word: &str, text: String| Block::Answer {
        word: word.to_owned(),
        text,
        kind: None,
    };
    let currency = year.currency.as_deref().unwrap_or("");
    blocks.extend(cost(year, currency, printing).map(|text| answer(say!(printing, "Cost"), text)));
    blocks.extend(energy(&year.sums, printing).map(|text| answer(say!(printing, "Energy"), text)));
    blocks.extend(year.sums.volume_m3.map(|volume| {
        let volume = printing.with_interval(volume, Dimension::Volume);
        answer(
            say!(printing, "Water"),
            say!(printing, "{volume} a year.", volume),
        )
    }));
    let found = year.as_found.as_ref();
    let less = does_less(found.and_then(|found| found.fulfilment.as_ref()), printing);
    blocks.push(answer(
        say!(printing, "Saves"),
        saves(year, currency, printing) + &less,
    ));
    blocks.push(answer(say!(printing, "Days"), days(year, printing)));
    blocks.push(Block::Heading(say!(printing, "Programs").to_owned()));
    blocks.extend(year.kinds.iter().map(|kind| {
        Block::Item(format!(
            "{}: {}.",
            kind_words(site, kind, printing),
            in_a_line(&kind.problem, &kind.program, printing)
        ))
    }));
    blocks.push(Block::Heading(say!(printing, "Days of a kind").to_owned()));
    blocks.push(Block::Table(table(site, year, printing)));
    blocks
}

fn cost(year: &YearPlan, currency: &str, printing: Printing) -> Option<String> {
    let cost = year.sums.cost?;
    let demand = if year.sums.demand > 0.0 {
        say!(
            printing,
            ", of which {demand} {currency} for the highest draw of each month",
            demand = number::plain(printing, year.sums.demand),
            currency
        )
    } else {
        String::new()
    };
    Some(say!(
        printing,
        "{cost} a year{demand}, fixed charges apart.",
        cost = money_with_interval(cost, currency, printing),
        demand
    ))
}

fn energy(sums: &YearSums, printing: Printing) -> Option<String> {
    let co2 = sums.co2_kg.map(|co2| {
        say!(
            printing,
            ", {co2} kg of CO₂",
            co2 = number::best(printing, co2)
        )
    });
    Some(say!(
        printing,
        "{energy} kWh a year{co2}.",
        energy = number::with_interval(printing, sums.energy_kwh?),
        co2 = co2.unwrap_or_default()
    ))
}

fn saves(year: &YearPlan, currency: &str, printing: Printing) -> String {
    let Some(found) = &year.as_found else {
        return say!(
            printing,
            "Not stated: the site file does not say what the program was (as_found)."
        )
        .to_owned();
    };
    match (found.saves, found.saves_kwh) {
        (Some(saves), _) => say!(
            printing,
            "{money} a year against the program as found.",
            money = money_with_interval(saves, currency, printing)
        ),
        (None, Some(saves)) => say!(
            printing,
            "{saves} kWh a year against the program as found.",
            saves = number::with_interval(printing, saves)
        ),
        (None, None) => say!(printing, "Not known.").to_owned(),
    }
}

fn days(year: &YearPlan, printing: Printing) -> String {
    let is_set = year.kinds.iter().any(|kind| kind.clock != Clock::Even);
    let clock = if is_set {
        say!(
            printing,
            "the days on which the clock is set have 23 and 25 hours"
        )
    } else {
        say!(
            printing,
            "every day has 24 hours; name the days on which the clock is set with --clock-forward and --clock-back"
        )
    };
    say!(
        printing,
        "{days} days of {kinds} kinds, each kind planned once; {clock}.",
        days = year.days.len(),
        kinds = year.kinds.len(),
        clock
    )
}

fn kind_words(site: &Site, kind: &KindOfDay, printing: Printing) -> String {
    let day = day_words(&site.operation, &kind.day, printing);
    let clock = match kind.clock {
        Clock::Even => "",
        Clock::Forward { .. } => say!(printing, ", 23 hours"),
        Clock::Back { .. } => say!(printing, ", 25 hours"),
    };
    let words = day.unwrap_or_else(|| say!(printing, "every day").to_owned());
    format!("{words}{clock}")
}

fn table(site: &Site, year: &YearPlan, printing: Printing) -> Table {
    let has_cost = year.least == Least::Cost;
    let mut headings = vec![
        say!(printing, "kind").to_owned(),
        say!(printing, "days").to_owned(),
    ];
    if has_cost {
        headings.push(say!(
            printing,
            "cost a day ({currency})",
            currency = year.currency.as_deref().unwrap_or("")
        ));
    }
    headings.extend([
        say!(printing, "energy (kWh)").to_owned(),
        say!(
            printing,
            "water ({unit})",
            unit = printing.name(Dimension::Volume)
        ),
        say!(printing, "top (W)").to_owned(),
    ]);
    let row = |kind: &KindOfDay| {
        let replay = &kind.program.planned.replay;
        let mut cells = vec![kind_words(site, kind, printing), kind.days.to_string()];
        if has_cost {
            cells.push(
                replay
                    .cost
                    .map_or_else(String::new, |cost| number::with_decimals(printing, cost, 2)),
            );
        }
        cells.extend([
            number::plain(printing, replay.energy_kwh),
            number::plain(
                printing,
                printing.number(replay.volume_m3, Dimension::Volume),
            ),
            number::plain(printing, replay.top_w),
        ]);
        cells
    };
    Table {
        headings,
        rows: year.kinds.iter().map(row).collect(),
        word_columns: 1,
        ..Table::default()
    }
}

/// Writes `year --json`.
pub fn json(site: &Site, year: &YearPlan) -> String {
    let day = |day: &operation::DayOfYear| object!({ "date": date(day.date), "kind": day.kind });
    text(&object!({
        "format": FORMAT,
        "site": site.name,
        "year": year.year,
        "minimised": match year.least {
            Least::Cost => "cost",
            Least::Energy => "energy",
        },
        "currency": year.currency,
        "sums": alternatives::sums_json(&year.sums),
        "as_found": year.as_found.as_ref().map(|found| object!({
            "fulfils": found.fulfilment.as_ref().map(fulfils),
            "sums": alternatives::sums_json(&found.sums),
            "saves_per_year": e(found.saves),
            "saves_kwh_per_year": e(found.saves_kwh),
        })),
        "kinds": year.kinds.iter().map(alternatives::kind_json).collect::<Vec<_>>(),
        "days": year.days.iter().map(day).collect::<Vec<_>>(),
    }))
}

fn date(date: operation::Date) -> String {
    format!("{}-{:02}-{:02}", date.year, date.month, date.day)
}

/// Writes the year hour by hour as a table (CSV). An hour that the clock shows twice is there twice.
pub fn csv(year: &YearPlan, printing: Printing) -> String {
    let currency = year.currency.as_deref();
    let mut text = format!(
        "date,time,length [min],highest speed [rpm],water [{}],energy [kWh]",
        printing.name(Dimension::Volume)
    );
    if let Some(currency) = currency {
        // A text takes whatever is written.
        let _ = write!(text, ",cost of energy [{currency}]");
    }
    text.push('\n');
    for day in &year.days {
        let kind = &year.kinds[day.kind];
        for hour in hours(&kind.problem, &kind.program.planned.day) {
            let _ = write!(
                text,
                "{},{},{:.0},{:.0},{:.3},{:.5}",
                date(day.date),
                hour.start,
                60.0 * hour.hours,
                hour.top_rpm,
                printing.number(hour.volume_m3, Dimension::Volume),
                hour.energy_kwh
            );
            if currency.is_some() {
                let _ = write!(text, ",{:.6}", hour.cost.unwrap_or(0.0));
            }
            text.push('\n');
        }
    }
    text
}
