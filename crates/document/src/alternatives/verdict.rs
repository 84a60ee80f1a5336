//! A change in one line, in an owner's words.

use super::Subject;
use super::refusal::no_alternative;
use crate::number;
use crate::schedule::found::does_less;
use crate::schedule::words::money_with_interval;
use crate::units::Printing;
use metrology::Estimate;
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
    match saves(subject, plain, subject.comparison.baseline.as_ref()) {
        Some(saves) => format!(
            "{comes_to}; it {saves}, for no work but setting it.{}",
            less(subject)
        ),
        None => format!(
            "{comes_to}. Savings against today are not stated: the site file does not say what the program was (as_found), and none is named with --against."
        ),
    }
}

/// Says what the program that savings are against leaves undone.
fn less(subject: &Subject<'_>) -> String {
    let baseline = subject.comparison.baseline.as_ref();
    does_less(
        baseline.and_then(|baseline| baseline.fulfilment.as_ref()),
        subject.printing,
    )
}

fn named(baseline: &Baseline) -> String {
    baseline.name.as_ref().map_or_else(
        || "the program as found".to_owned(),
        |name| format!("\"{name}\""),
    )
}

/// Says what a pad saves against the baseline, or what it costs more.
fn saves(subject: &Subject<'_>, plain: &Plain, baseline: Option<&Baseline>) -> Option<String> {
    let (saves, unit) = in_print(subject, plain.saves, plain.saves_kwh)?;
    let amount = number::with_interval(without_sign(saves));
    let against = baseline.map(named)?;
    Some(if saves.value >= 0.0 {
        format!("saves {amount} {unit} a year against {against}")
    } else {
        format!("costs {amount} {unit} a year more than {against}")
    })
}

/// Takes money where there is any, else energy.
fn in_print<'a>(
    subject: &Subject<'a>,
    money: Option<Estimate>,
    energy_kwh: Option<Estimate>,
) -> Option<(Estimate, &'a str)> {
    let money = money.map(|money| (money, subject.comparison.currency.as_deref().unwrap_or("")));
    money.or(energy_kwh.map(|energy| (energy, "kWh")))
}

fn without_sign(of: Estimate) -> Estimate {
    if of.value >= 0.0 {
        return of;
    }
    Estimate {
        value: -of.value,
        u: of.u,
        low: -of.high,
        high: -of.low,
    }
}

fn of_changed(subject: &Subject<'_>, changed: &Changed) -> String {
    let is_baseline = changed
        .plain
        .saves
        .is_some_and(|saves| saves.value.abs() <= 0.0 && saves.u <= 0.0);
    if is_baseline {
        return "this is what the others are held against.".to_owned();
    }
    let mut parts: Vec<String> = Vec::new();
    let own = changed.baseline.as_ref();
    let baseline = own.or(subject.comparison.baseline.as_ref());
    let [saves, adds] = [
        saves(subject, &changed.plain, baseline),
        adds(subject, changed),
    ];
    parts.extend(match (saves, adds) {
        (Some(saves), Some(adds)) => Some(format!("{saves}, {adds}")),
        (saves, adds) => saves.or(adds),
    });
    if let Some(worth) = &changed.worth {
        parts.push(pays_back(worth.pay_back, worth.terms.life_years));
        parts.push(net(subject, worth));
        parts.push(likely(worth.chance, "worth its cost"));
    } else {
        let chance = changed.plain.chance.unwrap_or(changed.chance);
        let against = baseline.filter(|_| changed.plain.chance.is_some());
        let what = against.map_or_else(
            || "better than the best program for the pad as it is".to_owned(),
            |baseline| format!("better than {}", named(baseline)),
        );
        parts.push(likely(chance, &what));
    }
    let mut text = parts.join("; ");
    text.push('.');
    if !changed.program.is_empty() {
        text.push_str(
            " It runs the program that is stated, whether or not that keeps the site's rules.",
        );
    }
    text
}

/// What the change adds to the program alone.
fn adds(subject: &Subject<'_>, changed: &Changed) -> Option<String> {
    let (adds, unit) = in_print(subject, changed.adds, changed.adds_kwh)?;
    let amount = number::with_interval(without_sign(adds));
    let beyond = "the best program for the pad as it is";
    let has_baseline = changed.baseline.is_some() || subject.comparison.baseline.is_some();
    Some(match (adds.value >= 0.0, has_baseline) {
        (true, true) => format!("of which {amount} by itself, beyond {beyond}"),
        (true, false) => format!("saves {amount} {unit} a year against {beyond}"),
        (false, true) => format!("which is {amount} {unit} worse than {beyond}"),
        (false, false) => format!("costs {amount} {unit} a year more than {beyond}"),
    })
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
        (Some(low), None) => format!(
            "pays back in {} years at the earliest, perhaps never",
            years(low)
        ),
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
        money_with_interval(without_sign(value), subject.currency())
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
