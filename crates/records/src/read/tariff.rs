//! Reads what energy costs: the tariff with its seasons and days, charges, tiers, and carbon dioxide.
//!
//! A tariff has exactly one price at every minute of every kind of day. What is missing or stands twice is told with the
//! time, and with the mend.

use super::operation::{list, list_or, span};
use crate::Told;
use crate::clock::DAY_MINUTES;
use crate::told::later;
use crate::unit::Dimension;
use crate::values::Range;
use crate::walker::{Field, Table};
use crate::wording::{nearest, shown, shown_list};
use crate::{
    CalendarDay, CarbonDioxide, ClockTime, DayKind, Operation, Quantity, Season, TariffBlock, Tier,
};
use crate::{Fill, told};

/// Years for which somebody may state the carbon dioxide of energy.
const YEARS: (u32, u32) = (1950, 2100);

/// A block of the tariff with the place of its text, where it stands in the text at hand.
struct Placed {
    block: TariffBlock,
    at: Option<usize>,
}

/// Reads the keys of `[operation]` that say what energy costs; all others are left empty. What is not stated stays as it was
/// before, and both together are checked.
pub(super) fn tariff(table: &Table<'_>, before: &Operation) -> Operation {
    let blocks = match table.get("tariff") {
        Some(_) => list(table, "tariff", tariff_block),
        None => before.tariff.iter().map(Placed::before).collect(),
    };
    let sum = |key, dimension, before: &Option<Quantity>| {
        table
            .quantity(key, dimension, Range::ZeroOrMore)
            .or_else(|| before.clone())
    };
    let co2 = |before: &Option<CarbonDioxide>| {
        let stated = table.get("co2").and_then(|field| carbon_dioxide(&field));
        stated.or_else(|| before.clone())
    };
    let operation = Operation {
        seasons: list_or(table, "seasons", &before.seasons, season),
        holidays: list_or(table, "holidays", &before.holidays, calendar_day),
        fixed_charge: sum("fixed_charge", Dimension::Charge, &before.fixed_charge),
        demand_charge: sum(
            "demand_charge",
            Dimension::DemandCharge,
            &before.demand_charge,
        ),
        tiers: list_or(table, "tiers", &before.tiers, tier),
        other_use: sum("other_use", Dimension::Energy, &before.other_use),
        co2: co2(&before.co2),
        ..Operation::default()
    };
    let all_read = table
        .get("tariff")
        .is_none_or(|field| field.count() == blocks.len());
    if all_read {
        check_seasons(table, &operation.seasons);
        // A day under a misspelt season would be told to have no price.
        if season_names_hold(table, &blocks, &operation.seasons) {
            check_cover(table, &blocks, &operation.seasons);
        }
    }
    check_tiers(table, &operation.tiers);
    check_currencies(table, &blocks, &operation);
    Operation {
        tariff: blocks.into_iter().map(|placed| placed.block).collect(),
        ..operation
    }
}

impl Placed {
    /// A block that another text stated.
    fn before(block: &TariffBlock) -> Self {
        Self {
            block: block.clone(),
            at: None,
        }
    }
}

fn tariff_block(field: &Field<'_>) -> Option<Placed> {
    let table = field.table(later!("a block of tariff"))?;
    let whole_day = !table.has("from") && !table.has("to");
    let span = if whole_day {
        table.get("from");
        table.get("to");
        Some((
            ClockTime { minutes: 0 },
            ClockTime {
                minutes: DAY_MINUTES,
            },
        ))
    } else {
        span(&table)
    };
    let price = table.require_quantity("price", Dimension::Price, Range::Any);
    let season = table.name("season");
    let days = table.get("days").map(|field| days(&field));
    table.finish();
    let (from, to) = span?;
    Some(Placed {
        at: Some(field.at),
        block: TariffBlock {
            from,
            to,
            price: price?,
            season,
            days: days.unwrap_or_default(),
        },
    })
}

/// The kinds of day, each once.
fn days(field: &Field<'_>) -> Vec<DayKind> {
    let mut kinds = Vec::new();
    for item in field.one_or_more() {
        if let Some(kind) = item.word() {
            if kinds.contains(&kind) {
                item.refuse(told!("each kind of day once"), None);
            }
            kinds.push(kind);
        }
    }
    kinds
}

fn season(field: &Field<'_>) -> Option<Season> {
    let table = field.table(later!("a season"))?;
    let name = table
        .require("name", "\"summer\"")
        .and_then(|field| field.name());
    let day = |key, example| {
        let day = table
            .require(key, example)
            .and_then(|field: Field<'_>| calendar_day(&field).map(|day| (day, field)));
        day.filter(|(day, field)| {
            let of_every_year = day.year.is_none();
            if !of_every_year {
                field.refuse(told!("a day of every year, such as 1 Jun"), None);
            }
            of_every_year
        })
    };
    let (first, last) = (day("first_day", "\"1 Jun\""), day("last_day", "\"30 Sep\""));
    table.finish();
    Some(Season {
        name: name?,
        first_day: first?.0,
        last_day: last?.0,
    })
}

fn calendar_day(field: &Field<'_>) -> Option<CalendarDay> {
    let text = match field.value {
        toml::de::DeValue::Datetime(date) => date.to_string(),
        _ => field
            .text(told!("a day in quotes, such as \"4 Jul\""))?
            .to_owned(),
    };
    CalendarDay::parse(&text)
        .map_err(|error| field.report(error.told(), None))
        .ok()
}

fn tier(field: &Field<'_>) -> Option<Tier> {
    let table = field.table(later!("a tier"))?;
    let up_to = table.quantity("up_to", Dimension::Energy, Range::AboveZero);
    let add = table.require_quantity("add", Dimension::Price, Range::Any);
    table.finish();
    Some(Tier { up_to, add: add? })
}

fn carbon_dioxide(field: &Field<'_>) -> Option<CarbonDioxide> {
    let table = field.table("co2")?;
    let intensity =
        table.require_quantity("intensity", Dimension::CarbonIntensity, Range::ZeroOrMore);
    let year = table
        .require("year", "2024")
        .and_then(|field| field.whole(YEARS.0, YEARS.1));
    let source = table
        .require("source", "\"who states it\"")
        .and_then(|field| field.name());
    table.finish();
    Some(CarbonDioxide {
        intensity: intensity?,
        year: year?,
        source: source?,
    })
}

fn report(table: &Table<'_>, at: Option<usize>, message: Told, hint: Option<Told>) {
    table.problems.add(at, message, hint);
}

/// Where a key stands; where another text states it, where the tariff or the seasons stand that do not go with it.
fn at_key(table: &Table<'_>, key: &'static str) -> Option<usize> {
    let mut keys = [key, "tariff", "seasons"].into_iter();
    keys.find_map(|key| table.get(key)).map(|field| field.at)
}

/// Days before each month of a year with a 29 February.
const BEFORE_MONTH: [u16; 12] = [0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335];
/// Days of such a year.
const YEAR_DAYS: u16 = 366;

/// The day of a year with a 29 February, from 0.
fn day_of_year(day: CalendarDay) -> u16 {
    let before = BEFORE_MONTH.get(usize::from(day.month).wrapping_sub(1));
    before.copied().unwrap_or(0) + u16::from(day.day) - 1
}

fn season_holds(season: &Season, day: u16) -> bool {
    let (first, last) = (day_of_year(season.first_day), day_of_year(season.last_day));
    if first <= last {
        (first..=last).contains(&day)
    } else {
        day >= first || day <= last
    }
}

fn calendar(day: u16) -> CalendarDay {
    let month = BEFORE_MONTH
        .iter()
        .rposition(|before| *before <= day)
        .unwrap_or(0);
    CalendarDay {
        year: None,
        month: u8::try_from(month + 1).unwrap_or(1),
        day: u8::try_from(day - BEFORE_MONTH[month] + 1).unwrap_or(1),
    }
}

/// Reports the first day that no season or two seasons hold.
fn check_seasons(table: &Table<'_>, seasons: &[Season]) {
    if seasons.is_empty() {
        return;
    }
    let holders = |day: u16| {
        seasons
            .iter()
            .filter(move |season| season_holds(season, day))
    };
    for day in 0..YEAR_DAYS {
        let names: Vec<&str> = holders(day).map(|season| season.name.as_str()).collect();
        let day = calendar(day);
        let message = match names.as_slice() {
            [_] => continue,
            [] => told!(
                "{day} is in no season; expected every day of the year in one",
                day
            ),
            [first, second, ..] => told!(
                "{day} is both in {first} and in {second}; expected every day of the year in one season",
                day,
                first = shown(first),
                second = shown(second)
            ),
        };
        let hint = told!("last_day belongs to its season, and the next one starts the day after");
        report(table, at_key(table, "seasons"), message, Some(hint));
        return;
    }
}

/// Reports blocks of a season that is not listed; `true` where there is none.
fn season_names_hold(table: &Table<'_>, blocks: &[Placed], seasons: &[Season]) -> bool {
    let names: Vec<&str> = seasons.iter().map(|season| season.name.as_str()).collect();
    let mut hold = true;
    for placed in blocks {
        let season = placed.block.season.as_deref();
        let Some(season) = season.filter(|season| !names.contains(season)) else {
            continue;
        };
        hold = false;
        let message = told!(
            "season is {season}; expected {names}",
            season = shown(season),
            names = shown_list(&names)
        );
        let near = nearest(season, &names).map(|near| told!("write \"{near}\"", near));
        let list = told!(
            "list it: {example}",
            example =
                "seasons = [ { name = \"summer\", first_day = \"1 Jun\", last_day = \"30 Sep\" } ]"
        );
        let hint = near.or_else(|| names.is_empty().then_some(list));
        let at = placed.at.or_else(|| at_key(table, "seasons"));
        report(table, at, message, hint);
    }
    hold
}

/// Reports, for the first kind of day of which it is true, the minutes that no block or two blocks price.
fn check_cover(table: &Table<'_>, blocks: &[Placed], seasons: &[Season]) {
    let names: Vec<Option<&str>> = if seasons.is_empty() {
        vec![None]
    } else {
        seasons
            .iter()
            .map(|season| Some(season.name.as_str()))
            .collect()
    };
    for season in names {
        for kind in kinds_of_day(blocks) {
            let of_day: Vec<&Placed> = blocks
                .iter()
                .filter(|placed| is_of(&placed.block, season, kind))
                .collect();
            let day = day_words(season, (kinds_of_day(blocks).len() > 1).then_some(kind));
            if !blocks.is_empty() && report_cover(table, &of_day, &day) {
                return;
            }
        }
    }
}

/// The kinds of day that the tariff tells apart.
fn kinds_of_day(blocks: &[Placed]) -> Vec<DayKind> {
    let named = |kind: &DayKind| blocks.iter().any(|placed| placed.block.days.contains(kind));
    let [weekdays, weekends, holidays] = [DayKind::Weekdays, DayKind::Weekends, DayKind::Holidays];
    let mut kinds = vec![weekdays];
    kinds.extend((named(&weekdays) || named(&weekends) || named(&holidays)).then_some(weekends));
    kinds.extend(named(&holidays).then_some(holidays));
    kinds
}

fn is_of(block: &TariffBlock, season: Option<&str>, kind: DayKind) -> bool {
    let in_season = block.season.is_none() || block.season.as_deref() == season;
    in_season && (block.days.is_empty() || block.days.contains(&kind))
}

/// A kind of day in a season, as it follows a time; nothing where every day is alike.
fn day_words(season: Option<&str>, kind: Option<DayKind>) -> Told {
    let kind = kind.map(|kind| match kind {
        DayKind::Weekdays => told!(" on weekdays"),
        DayKind::Weekends => told!(" on weekends"),
        DayKind::Holidays => told!(" on holidays"),
    });
    let season = season.map(|season| told!(" in {season}", season = shown(season)));
    let [kind, season] = [kind, season].map(|it| it.unwrap_or_default().fill());
    Told::new("{kind}{season}", [("kind", kind), ("season", season)])
}

fn report_cover(table: &Table<'_>, blocks: &[&Placed], day: &Told) -> bool {
    let covers = |placed: &Placed, minute: u32| {
        let (from, to) = (placed.block.from.minutes, placed.block.to.minutes);
        if from < to {
            (from..to).contains(&minute)
        } else {
            minute >= from || minute < to
        }
    };
    let wrong = |minute: &u32| {
        blocks
            .iter()
            .filter(|placed| covers(placed, *minute))
            .count()
            != 1
    };
    let Some(start) = (0..DAY_MINUTES).find(wrong) else {
        return false;
    };
    let holders = |minute: u32| {
        let holds = blocks.iter().filter(move |placed| covers(placed, minute));
        holds
            .map(|placed| placed.at)
            .collect::<Vec<Option<usize>>>()
    };
    let here = holders(start);
    let end = (start..DAY_MINUTES).find(|minute| holders(*minute) != here);
    let clock = |minutes| ClockTime { minutes };
    let time = told!(
        "from {start} to {end}{day}",
        start = clock(start),
        end = clock(end.unwrap_or(DAY_MINUTES)),
        day
    );
    let (at, message, hint) = match here.as_slice() {
        [first, .., second] => {
            let other = first.map_or_else(Told::default, |first| {
                told!(
                    ", the other on line {line}",
                    line = table.problems.line(first)
                )
            });
            (
                second.or_else(|| at_key(table, "tariff")),
                told!(
                    "tariff has two prices {time}{other}; expected one",
                    time,
                    other
                ),
                told!("a block ends where the next one starts: the end is exclusive"),
            )
        }
        _ => (
            at_key(table, "tariff"),
            told!(
                "tariff has no price {time}; expected one at every time of the day",
                time
            ),
            told!("a block without from and to holds all day; one may pass midnight"),
        ),
    };
    report(table, at, message, Some(hint));
    true
}

/// Reports tiers that do not rise, or an open one that is not the last.
fn check_tiers(table: &Table<'_>, tiers: &[Tier]) {
    let ends: Vec<f64> = tiers
        .iter()
        .map(|tier| tier.up_to.as_ref().map_or(f64::INFINITY, |up_to| up_to.si))
        .collect();
    let rises = ends.windows(2).all(|pair| pair[0] < pair[1]);
    let ends_open = ends.last().is_none_or(|last| *last >= f64::INFINITY);
    if rises && ends_open {
        return;
    }
    let message = told!(
        "tiers do not follow one another; expected each up_to above the one before, and none in the last"
    );
    report(table, at_key(table, "tiers"), message, None);
}

/// Reports the first sum of money in another currency than the first.
fn check_currencies(table: &Table<'_>, blocks: &[Placed], operation: &Operation) {
    let prices = blocks
        .iter()
        .map(|placed| ("tariff", Some(&placed.block.price)));
    let others = [
        ("fixed_charge", operation.fixed_charge.as_ref()),
        ("demand_charge", operation.demand_charge.as_ref()),
    ];
    let tiers = operation
        .tiers
        .iter()
        .map(|tier| ("tiers", Some(&tier.add)));
    let sums = prices.chain(others).chain(tiers);
    let mut currencies =
        sums.filter_map(|(key, sum)| Some((key, sum.and_then(Quantity::currency)?)));
    let Some((first_key, first)) = currencies.next() else {
        return;
    };
    let Some((key, other)) = currencies.find(|(_, other)| *other != first) else {
        return;
    };
    let message = if key == first_key {
        told!(
            "{key} has prices in {first} and in {other}; expected one currency",
            key,
            first = shown(first),
            other = shown(other)
        )
    } else {
        told!(
            "{key} is in {other}, and {first_key} in {first}; expected one currency",
            key,
            other = shown(other),
            first_key,
            first = shown(first)
        )
    };
    let stated = [key, first_key].into_iter().find(|key| table.has(key));
    report(table, at_key(table, stated.unwrap_or(key)), message, None);
}
