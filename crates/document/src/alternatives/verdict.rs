//! A change in one line, in an owner's words.

use super::Subject;
use super::refusal::no_alternative;
use crate::number;
use crate::schedule::words::money_with_interval;
use crate::units::Printing;
use operation::{Alternative, Baseline, Changed, Comparison, PayBack, Plain, Worth};
use records::Site;

/// Says of a change what it saves, what it adds, and whether it is worth its cost.
pub fn verdict(
    site: &Site,
    comparison: &Comparison,
    alternative: &Alternative,
    printing: Printing,
) -> String {
    let subject = Subject {
        site,
        comparison,
        printing,
    };
    match &alternative.result {
        Ok(changed) => of_changed(&subject, changed),
        Err(why) => {
            let (message, hint) = no_alternative(why);
            let hint = hint.map_or_else(String::new, |hint| format!(" To mend it: {hint}."));
            format!("not known: {message}.{hint}")
        }
    }
}

/// Says what the best program saves on the pad as it is.
pub(super) fn today(subject: &Subject<'_>) -> String {
    let plain = &subject.comparison.today;
    let comes_to = match (plain.sums.cost, plain.sums.energy_kwh) {
        (Some(cost), _) => format!(
            "the best program comes to {} a year",
            money_with_interval(cost, subject.currency())
        ),
        (None, Some(energy)) => format!(
            "the best program comes to {} kWh a year",
            number::with_interval(energy)
        ),
        (None, None) => "what the best program comes to is not known".to_owned(),
    };
    match (&subject.comparison.baseline, saves(subject, plain)) {
        (Some(baseline), Some(saves)) => format!(
            "{comes_to}; that saves {saves} against {}, and costs nothing",
            named(baseline)
        ) + ".",
        _ => format!(
            "{comes_to}. Savings against today are not stated: the site file does not say what the program was (as_found), and none is named with --against."
        ),
    }
}

fn named(baseline: &Baseline) -> String {
    baseline.name.as_ref().map_or_else(
        || "the program as found".to_owned(),
        |name| format!("\"{name}\""),
    )
}

fn saves(subject: &Subject<'_>, plain: &Plain) -> Option<String> {
    match (plain.saves, plain.saves_kwh) {
        (Some(saves), _) => Some(format!(
            "{} a year",
            money_with_interval(saves, subject.currency())
        )),
        (None, Some(saves)) => Some(format!("{} kWh a year", number::with_interval(saves))),
        (None, None) => None,
    }
}

fn of_changed(subject: &Subject<'_>, changed: &Changed) -> String {
    let mut parts = Vec::new();
    let is_baseline = changed
        .plain
        .saves
        .is_some_and(|saves| saves.value.abs() <= 0.0 && saves.u <= 0.0);
    if is_baseline {
        return "this is what the others are held against.".to_owned();
    }
    parts.extend(saves(subject, &changed.plain).map(|saves| format!("saves {saves}")));
    parts.extend(adds(subject, changed));
    match &changed.worth {
        Some(worth) => {
            parts.push(pays_back(worth.pay_back, worth.terms.life_years));
            parts.push(format!(
                "{}, {}",
                net(subject, worth),
                likely(worth.chance, "worth its cost")
            ));
        }
        None => {
            let chance = changed.plain.chance.unwrap_or(changed.chance);
            parts.push(likely(chance, "better than today"));
        }
    }
    let mut text = parts.join("; ");
    text.push('.');
    if let Some(flow) = short(changed) {
        text.push_str(&flow);
    }
    text
}

/// What the change adds to the program alone.
fn adds(subject: &Subject<'_>, changed: &Changed) -> Option<String> {
    let (value, amount) = match (changed.adds, changed.adds_kwh) {
        (Some(adds), _) => (
            adds.value,
            format!(
                "{} a year",
                money_with_interval(adds.map_sign(), subject.currency())
            ),
        ),
        (None, Some(adds)) => (
            adds.value,
            format!("{} kWh a year", number::with_interval(adds.map_sign())),
        ),
        (None, None) => return None,
    };
    Some(if value >= 0.0 {
        format!("{amount} of that by itself, beyond the best program for the pad as it is")
    } else {
        format!("{amount} less than the best program for the pad as it is")
    })
}

/// The sign of an estimate taken off where it is told in words.
trait WithoutSign {
    fn map_sign(self) -> Self;
}

impl WithoutSign for metrology::Estimate {
    fn map_sign(self) -> Self {
        if self.value >= 0.0 {
            return self;
        }
        Self {
            value: -self.value,
            u: self.u,
            low: -self.high,
            high: -self.low,
        }
    }
}

/// Says in how many years a change pays back.
fn pays_back(pay_back: PayBack, life_years: Option<f64>) -> String {
    /// Beyond this many years nobody counts.
    const LONG: f64 = 100.0;
    let years = |years: f64| number::significant(years, 2);
    let early = pay_back.low.filter(|low| *low < LONG);
    let text = match (early, pay_back.high.filter(|high| *high < LONG)) {
        (Some(low), Some(high)) if years(low) == years(high) => {
            format!("pays back in {} years", years(low))
        }
        (Some(low), Some(high)) => format!("pays back in {} to {} years", years(low), years(high)),
        (Some(low), None) => format!("pays back in {} years at the earliest, perhaps never", years(low)),
        (None, _) => "does not pay back in a hundred years".to_owned(),
    };
    let outlives = pay_back.years.zip(life_years);
    match outlives {
        Some((back, life)) if back > life && early.is_some() => {
            format!("{text}, and lasts {}", years(life))
        }
        _ => text,
    }
}

fn net(subject: &Subject<'_>, worth: &Worth) -> String {
    let value = worth.net_present_value;
    let kind = if value.value < 0.0 { "loss" } else { "gain" };
    format!(
        "a {kind} of {} over its life in money of today",
        money_with_interval(value.map_sign(), subject.currency())
    )
}

/// Puts a chance into a word, with its number.
fn likely(chance: f64, what: &str) -> String {
    /// Words for chances, from the surest on.
    const WORDS: [(f64, &str); 4] = [
        (0.95, "almost surely"),
        (0.75, "likely"),
        (0.55, "rather likely"),
        (0.45, "as likely as not"),
    ];
    let written = |chance: f64| number::with_decimals(chance.clamp(0.01, 0.99), 2);
    let found = WORDS.iter().find(|(least, _)| chance >= *least);
    if let Some((_, word)) = found {
        return format!("{word} ({}) {what}", written(chance));
    }
    let against = WORDS.iter().find(|(least, _)| 1.0 - chance >= *least);
    let word = against.map_or("as likely as not", |(_, word)| word);
    format!("{word} ({}) not {what}", written(1.0 - chance))
}

/// Says that a stated program is run as it stands.
fn short(changed: &Changed) -> Option<String> {
    (!changed.program.is_empty()).then(|| {
        " It runs the program that is stated, whether or not that keeps the site's rules.".to_owned()
    })
}
