//! `compare --json`: SI numbers and money under stable names.
//!
//! An estimate is `{ value, u, low, high }` or `null`; sums of money are in `currency`, a year's unless the name says a day.
//!
//! ```text
//! { "format": 1, "site", "year", "currency", "discount_rate",
//!   "baseline": null | { "name" (null: as found), "sums", "top_speed_rpm", "top_hours_per_day", "fulfils" },
//!   "today":   PAD,
//!   "findings": as in `analyze --json`,
//!   "changes": [ PAD + { "name", "says", "adds_per_year", "adds_kwh_per_year", "adds_chance",
//!                "worth": null | { "capital", "life_years", "maintenance_per_year", "net_present_value", "pay_back_years":
//!                { "value", "low", "high" } (null: never), "chance" },
//!                "carried": null | { "test", "speeds_rpm", "flow_ratio", "head_ratio_at_same_flow", "by" },
//!                "states": [ "tariff" … ], "baseline": null | as above, "newly_kept", "newly_not_kept" } | { "name", "says", "sums": null } ] }
//! PAD  = { "sums": { "cost", "demand_cost", "energy_kwh", "volume_m3", "co2_kg" }, "saves_per_year", "saves_kwh_per_year",
//!          "chance", "top_speed_rpm", "top_hours_per_day", "days": [DAY], "not_kept": [ { "code", "applies_to", "source" } ] }
//! DAY  = { "season", "kind", "clock", "hours", "count", "program", "cost_per_day", "energy_kwh_per_day",
//!          "volume_m3_per_day", "top_power_w", "gap" }
//! ```

use super::{Subject, verdict};
use crate::json::{FORMAT, findings_of, text};
use crate::schedule::json::{e, fulfils, program};
use crate::units::Printing;
use fieldtest::{CarriedFlow, FallBy, Limit};
use operation::{
    Alternative, Baseline, Changed, Clock, Comparison, KindOfDay, Plain, StatedAnew, Worth,
    YearSums,
};
use records::{DayKind, Site};
use serde_json::{Value, json as object};

/// Writes `compare --json`; `printing` sets the units of the words, the numbers being SI.
pub fn json(site: &Site, comparison: &Comparison, printing: Printing) -> String {
    let subject = Subject {
        site,
        comparison,
        printing,
    };
    text(&object!({
        "format": FORMAT,
        "site": site.name,
        "year": comparison.year,
        "currency": comparison.currency,
        "discount_rate": comparison.discount_rate,
        "baseline": comparison.baseline.as_ref().map(baseline),
        "today": plain(&comparison.today),
        "findings": findings_of(&comparison.findings, printing),
        "changes": comparison.changes.iter().map(|change| alternative(&subject, change)).collect::<Vec<_>>(),
    }))
}

fn baseline(baseline: &Baseline) -> Value {
    object!({
        "name": baseline.name,
        "sums": sums(&baseline.sums),
        "top_speed_rpm": baseline.top.map(|(rpm, _)| rpm),
        "top_hours_per_day": baseline.top.map(|(_, hours)| hours),
        "fulfils": baseline.fulfilment.as_ref().map(fulfils),
    })
}

/// Writes the sums of a year.
pub(crate) fn sums(sums: &YearSums) -> Value {
    object!({
        "cost": e(sums.cost),
        "demand_cost": sums.demand,
        "energy_kwh": e(sums.energy_kwh),
        "volume_m3": e(sums.volume_m3),
        "co2_kg": e(sums.co2_kg),
    })
}

fn plain(plain: &Plain) -> Value {
    object!({
        "sums": sums(&plain.sums),
        "saves_per_year": e(plain.saves),
        "saves_kwh_per_year": e(plain.saves_kwh),
        "chance": plain.chance,
        "top_speed_rpm": plain.top.map(|(rpm, _)| rpm),
        "top_hours_per_day": plain.top.map(|(_, hours)| hours),
        "days": plain.kinds.iter().map(kind).collect::<Vec<_>>(),
        "not_kept": limits(&plain.broken),
    })
}

/// Writes a distinct day with its program.
pub(crate) fn kind(kind: &KindOfDay) -> Value {
    let replay = &kind.program.planned.replay;
    let hours: f64 = kind.problem.slots.iter().map(|slot| slot.hours).sum();
    object!({
        "season": kind.day.season,
        "kind": match kind.day.kind {
            DayKind::Weekdays => "weekdays",
            DayKind::Weekends => "weekends",
            DayKind::Holidays => "holidays",
        },
        "clock": match kind.clock {
            Clock::Even => "even",
            Clock::Forward { .. } => "forward",
            Clock::Back { .. } => "back",
        },
        "hours": hours,
        "count": kind.days,
        "program": program(&kind.problem, &kind.program),
        "cost_per_day": replay.cost,
        "energy_kwh_per_day": replay.energy_kwh,
        "volume_m3_per_day": replay.volume_m3,
        "top_power_w": replay.top_w,
        "gap": kind.program.planned.gap(),
    })
}

fn limits(limits: &[Limit]) -> Value {
    let limit = |limit: &Limit| {
        object!({
            "code": limit.code,
            "applies_to": limit.applies_to,
            "source": limit.source,
        })
    };
    limits.iter().map(limit).collect()
}

fn alternative(subject: &Subject<'_>, alternative: &Alternative) -> Value {
    let says = verdict(
        subject.site,
        subject.comparison,
        alternative,
        subject.printing,
    );
    let mut value = match &alternative.result {
        Ok(known) => changed(known),
        Err(_) => object!({ "sums": null }),
    };
    if let Some(map) = value.as_object_mut() {
        map.insert("name".to_owned(), object!(alternative.name));
        map.insert("says".to_owned(), object!(says));
    }
    value
}

fn changed(changed: &Changed) -> Value {
    let mut value = plain(&changed.plain);
    let more = object!({
        "adds_per_year": e(changed.adds),
        "adds_kwh_per_year": e(changed.adds_kwh),
        "adds_chance": changed.chance,
        "worth": changed.worth.as_ref().map(worth),
        "carried": changed.carried.as_ref().map(carried),
        "states": changed.states.iter().map(|states| states_anew(*states)).collect::<Vec<_>>(),
        "baseline": changed.baseline.as_ref().map(baseline),
        "newly_kept": limits(&changed.newly_kept),
        "newly_not_kept": limits(&changed.newly_broken),
    });
    if let (Some(map), Value::Object(more)) = (value.as_object_mut(), more) {
        map.extend(more);
    }
    value
}

fn states_anew(states: StatedAnew) -> &'static str {
    match states {
        StatedAnew::Tariff => "tariff",
        StatedAnew::Turnover => "turnover",
        StatedAnew::Tasks => "tasks",
        StatedAnew::QuietHours => "quiet hours",
        StatedAnew::Controller => "controller",
        StatedAnew::AsFound => "as found",
        StatedAnew::DiscountRate => "discount rate",
        StatedAnew::Limits => "limits",
        StatedAnew::Water => "water",
    }
}

fn worth(worth: &Worth) -> Value {
    object!({
        "capital": worth.terms.capital,
        "life_years": worth.terms.life_years,
        "maintenance_per_year": worth.terms.maintenance_year,
        "net_present_value": e(Some(worth.net_present_value)),
        "pay_back_years": {
            "value": worth.pay_back.years,
            "low": worth.pay_back.low,
            "high": worth.pay_back.high,
        },
        "chance": worth.chance,
    })
}

fn carried(flow: &CarriedFlow) -> Value {
    object!({
        "test": flow.test,
        "speeds_rpm": flow.speeds_rpm,
        "flow_ratio": flow.flow_ratio,
        "head_ratio_at_same_flow": flow.head_ratio,
        "by": match flow.fall {
            FallBy::Curve => "maker's curve",
            FallBy::UsualFall => "usual fall of a pump's head",
        },
    })
}
