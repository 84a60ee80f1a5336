//! A change in one line, in an owner's words.

use super::Subject;
use super::refusal::no_alternative;
use crate::language::{later, said, say};
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
            let (message, hint) = no_alternative(why, subject.printing);
            let hint = hint.map_or_else(String::new, |hint| {
                say!(printing, " To mend it: {hint}.", hint)
            });
            say!(printing, "not known: {message}.{hint}", message, hint)
        }
    }
}

/// Says what the best program saves on the pad as it is.
pub(super) fn today(subject: &Subject<'_>) -> String {
    let plain = &subject.comparison.today;
    let comes_to = match (plain.sums.cost, plain.sums.energy_kwh) {
        (Some(cost), _) => say!(
            subject.printing,
            "the best program comes to {cost} a year",
            cost = money_with_interval(cost, subject.currency(), subject.printing)
        ),
        (None, Some(energy)) => say!(
            subject.printing,
            "the best program comes to {energy} kWh a year",
            energy = number::with_interval(subject.printing, energy)
        ),
        (None, None) => say!(
            subject.printing,
            "what the best program comes to is not known"
        )
        .to_owned(),
    };
    match saves(subject, plain, subject.comparison.baseline.as_ref()) {
        Some(saves) => {
            let sentence = say!(
                subject.printing,
                "{comes_to}; it {saves}, for no work but setting it.",
                comes_to,
                saves
            );
            sentence + &less(subject)
        }
        None => say!(
            subject.printing,
            "{comes_to}. Savings against today are not stated: the site file does not say what the program was (as_found), and none is named with --against.",
            comes_to
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

fn named(baseline: &Baseline, printing: Printing) -> String {
    baseline.name.as_ref().map_or_else(
        || say!(printing, "the program as found").to_owned(),
        |name| format!("\"{name}\""),
    )
}

/// Says what a pad saves against the baseline, or what it costs more.
fn saves(subject: &Subject<'_>, plain: &Plain, baseline: Option<&Baseline>) -> Option<String> {
    let (saves, unit) = in_print(subject, plain.saves, plain.saves_kwh)?;
    let amount = number::with_interval(subject.printing, without_sign(saves));
    let against = baseline.map(|baseline| named(baseline, subject.printing))?;
    Some(if saves.value >= 0.0 {
        say!(
            subject.printing,
            "saves {amount} {unit} a year against {against}",
            amount,
            unit,
            against
        )
    } else {
        say!(
            subject.printing,
            "costs {amount} {unit} a year more than {against}",
            amount,
            unit,
            against
        )
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
        return say!(
            subject.printing,
            "this is what the others are held against."
        )
        .to_owned();
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
        parts.push(pays_back(
            worth.pay_back,
            worth.terms.life_years,
            subject.printing,
        ));
        parts.push(net(subject, worth));
        parts.push(likely(
            worth.chance,
            say!(subject.printing, "worth its cost"),
            subject.printing,
        ));
    } else {
        let chance = changed.plain.chance.unwrap_or(changed.chance);
        let against = baseline.filter(|_| changed.plain.chance.is_some());
        let what = against.map_or_else(
            || {
                say!(
                    subject.printing,
                    "better than the best program for the pad as it is"
                )
                .to_owned()
            },
            |baseline| {
                say!(
                    subject.printing,
                    "better than {baseline}",
                    baseline = named(baseline, subject.printing)
                )
            },
        );
        parts.push(likely(chance, &what, subject.printing));
    }
    let mut text = parts.join("; ");
    text.push('.');
    if !changed.program.is_empty() {
        text.push_str(say!(
            subject.printing,
            " It runs the program that is stated, whether or not that keeps the site's rules."
        ));
    }
    text
}

/// What the change adds to the program alone.
fn adds(subject: &Subject<'_>, changed: &Changed) -> Option<String> {
    let (adds, unit) = in_print(subject, changed.adds, changed.adds_kwh)?;
    let amount = number::with_interval(subject.printing, without_sign(adds));
    let beyond = say!(subject.printing, "the best program for the pad as it is");
    let has_baseline = changed.baseline.is_some() || subject.comparison.baseline.is_some();
    Some(match (adds.value >= 0.0, has_baseline) {
        (true, true) => say!(
            subject.printing,
            "of which {amount} by itself, beyond {beyond}",
            amount,
            beyond
        ),
        (true, false) => say!(
            subject.printing,
            "saves {amount} {unit} a year against {beyond}",
            amount,
            unit,
            beyond
        ),
        (false, true) => say!(
            subject.printing,
            "which is {amount} {unit} worse than {beyond}",
            amount,
            unit,
            beyond
        ),
        (false, false) => say!(
            subject.printing,
            "costs {amount} {unit} a year more than {beyond}",
            amount,
            unit,
            beyond
        ),
    })
}

/// Says in how many years a change pays back.
fn pays_back(pay_back: PayBack, life_years: Option<f64>, printing: Printing) -> String {
    /// Beyond this many years nobody counts.
    const LONG: f64 = 100.0;
    let years = |years: f64| number::significant(printing, years, 2);
    let early = pay_back.low.filter(|low| *low < LONG);
    let text = match (early, pay_back.high.filter(|high| *high < LONG)) {
        (Some(low), Some(high)) if years(low) == years(high) => {
            say!(printing, "pays back in {years} years", years = years(low))
        }
        (Some(low), Some(high)) => say!(
            printing,
            "pays back in {low} to {high} years",
            low = years(low),
            high = years(high)
        ),
        (Some(low), None) => say!(
            printing,
            "pays back in {years} years at the earliest, perhaps never",
            years = years(low)
        ),
        (None, _) => say!(printing, "does not pay back in a hundred years").to_owned(),
    };
    let outlives = pay_back.years.zip(life_years);
    match outlives {
        Some((back, life)) if back > life && early.is_some() => {
            say!(
                printing,
                "{text}, and lasts {life}",
                text,
                life = years(life)
            )
        }
        _ => text,
    }
}

fn net(subject: &Subject<'_>, worth: &Worth) -> String {
    let value = worth.net_present_value;
    let printing = subject.printing;
    let amount = money_with_interval(without_sign(value), subject.currency(), printing);
    if value.value < 0.0 {
        say!(
            printing,
            "a loss of {amount} over its life in money of today",
            amount
        )
    } else {
        say!(
            printing,
            "a gain of {amount} over its life in money of today",
            amount
        )
    }
}

/// Puts a chance into a word, with its number.
fn likely(chance: f64, what: &str, printing: Printing) -> String {
    /// Words for chances, from the surest on.
    const WORDS: [(f64, &str); 4] = [
        (0.95, later!("almost surely")),
        (0.75, later!("likely")),
        (0.55, later!("rather likely")),
        (0.45, later!("as likely as not")),
    ];
    let written = |chance: f64| number::with_decimals(printing, chance.clamp(0.01, 0.99), 2);
    let found = WORDS.iter().find(|(least, _)| chance >= *least);
    if let Some((_, word)) = found {
        let word = said(printing, word);
        return format!("{word} ({}) {what}", written(chance));
    }
    let against = WORDS.iter().find(|(least, _)| 1.0 - chance >= *least);
    let word = against.map_or(say!(printing, "as likely as not"), |(_, word)| {
        said(printing, word)
    });
    say!(
        printing,
        "{word} ({chance}) not {what}",
        word,
        chance = written(1.0 - chance),
        what
    )
}
