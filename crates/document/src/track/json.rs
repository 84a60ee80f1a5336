//! The answer of `track` as JSON: SI numbers, with the English words.

use super::Subject;
use super::words::{code, hindrance, rule, says};
use crate::content::Block;
use crate::json::MACHINE;
use crate::json::{E, FORMAT, text};
use crate::units::Printing;
use crate::words::calibration::tap_words;
use fieldtest::{Candidate, Change, FollowUp, Split, Told, Verdict, Visit};
use records::Site;
use serde::Serialize;
use serde_json::{Value, json};

#[derive(Serialize)]
struct Document {
    format: u32,
    site: String,
    baseline: String,
    visits: Vec<VisitJson>,
    pace: Option<Value>,
}

#[derive(Serialize)]
struct VisitJson {
    test: String,
    days_after: Option<f64>,
    verdict: &'static str,
    says: Vec<String>,
    changed: Vec<Value>,
    split: Option<Value>,
    hypotheses: Vec<Value>,
    times_baseline: Vec<Value>,
    filter: Option<Value>,
    hindered: Vec<String>,
}

/// Writes `track --json`; `printing` sets the units of the words, the numbers being SI.
pub fn json(site: &Site, found: &FollowUp, printing: Printing) -> String {
    let subject = Subject {
        site,
        found,
        printing,
    };
    let pace = found.pace.map(|pace| {
        let [soon, about, late] = pace
            .dates
            .map(|(year, month, day)| format!("{year}-{month:02}-{day:02}"));
        json!({
            "pa_per_day": E::from(pace.pa_per_day),
            "limit_pa": pace.limit_pa,
            "rule": rule(pace.rule, printing),
            "days_after": E::from(pace.days),
            "date": about, "date_low": soon, "date_high": late,
            "returns": pace.returns,
        })
    });
    text(&Document {
        format: FORMAT,
        site: site.name.clone(),
        baseline: found.baseline.clone(),
        visits: found
            .visits
            .iter()
            .map(|visit| subject.visit(visit))
            .collect(),
        pace,
    })
}

impl Subject<'_> {
    fn visit(&self, visit: &Visit) -> VisitJson {
        let said = self
            .answers(visit)
            .into_iter()
            .filter_map(|block| match block {
                Block::Answer { text, .. } => Some(text),
                _ => None,
            });
        let mut found = VisitJson {
            test: visit.test.clone(),
            days_after: visit.days,
            verdict: "not-compared",
            says: said.collect(),
            changed: Vec::new(),
            split: None,
            hypotheses: Vec::new(),
            times_baseline: Vec::new(),
            filter: None,
            hindered: Vec::new(),
        };
        if let Ok(told) = &visit.told {
            fill(&mut found, told, self.printing);
        }
        found
    }
}

fn fill(found: &mut VisitJson, told: &Told, printing: Printing) {
    found.verdict = match &told.verdict {
        Verdict::NoChange => "no-change",
        Verdict::Several => "several",
        Verdict::Changed { group, split } => {
            let group = group.iter().filter_map(|place| told.candidates.get(*place));
            found.changed = group.filter_map(|it| changed(it, told, printing)).collect();
            found.split = split.as_ref().map(split_of);
            "changed"
        }
    };
    found.hypotheses = told.candidates.iter().map(hypothesis_of).collect();
    let of_side = |(of, factor): &(Change, metrology::Estimate)| json!({"of": code(Some(of)), "factor": E::from(*factor)});
    found.times_baseline = told.at_once.iter().map(of_side).collect();
    found.filter = told.filter.map(|rise| {
        json!({
            "flow_m3s": rise.flow_m3s,
            "rise_pa": E::from(rise.rise_pa),
            "limit_pa": rise.limit_pa,
            "rule": rule(rise.rule, printing),
        })
    });
    found.hindered = told
        .hindered
        .iter()
        .map(|it| hindrance(it, printing))
        .collect();
}

fn changed(it: &Candidate, told: &Told, printing: Printing) -> Option<Value> {
    let change = it.change.as_ref()?;
    let (says, to_do) = says(change, it.factor?, told.filter.as_ref(), printing);
    Some(
        json!({"change": code(Some(change)), "line": line(change), "factor": it.factor.map(E::from), "says": says, "do": to_do}),
    )
}

fn hypothesis_of(it: &Candidate) -> Value {
    json!({
        "change": code(it.change.as_ref()),
        "line": it.change.as_ref().and_then(line),
        "prior": it.prior,
        "probability": it.probability,
        "factor": it.factor.map(E::from),
        "least_seen": it.least_seen,
    })
}

fn line(change: &Change) -> Option<&str> {
    match change {
        Change::Line { line } => Some(line),
        _ => None,
    }
}

fn split_of(split: &Split) -> Value {
    match split {
        Split::Gauge { tap, apart_pa } => {
            json!({"reading": tap_words(*tap, MACHINE), "apart_pa": apart_pa})
        }
        Split::Flow { line, apart } => json!({"flow_in": line, "apart_share": apart}),
    }
}
