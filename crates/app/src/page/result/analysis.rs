//! The answer of the analysis: the sentences, what is to be settled, the figures and the numbers.

use super::super::bench::View;
use super::super::browser;
use super::super::figures::{ALL, Figures};
use super::super::parts::{Asks, Parts};
use super::super::words::result as words;
use super::super::worker::worked;
use super::Subject;
use super::asking::{Which, asked};
use super::doubted::DoubtedReadings;
use super::working::numbers_of;
use app::answer::Answered;
use app::parts::{Part, parts};
use app::work::Question;
use charts::Size;
use leptos::ev;
use leptos::prelude::*;

/// The view.
#[component]
pub(super) fn AnalysisView(subject: Subject) -> impl IntoView {
    let Subject { bench, ask } = subject;
    let own_name = StoredValue::new(bench.with_draft(|draft| draft.name.clone()));
    let answer = move |piece| {
        let own_name = own_name.get_value();
        bench.answered.get().map(|answered| {
            bench
                .view
                .with(|view| shown(&answered, view, &own_name, piece))
        })
    };
    let numbers = move || Some((answer(Piece::Numbers)?, bench.answered.get()?));
    view! {
        <div class="panes">
            <div>
                <section aria-labelledby="answer-title">
                    <h2 id="answer-title" class="unseen">{words::ANSWER}</h2>
                    {move || answer(Piece::Answers).map(|parts| view! { <Parts parts/> })}
                </section>
                <DoubtedReadings bench/>
                {move || answer(Piece::Findings).map(|parts| view! { <Parts parts/> })}
            </div>
            <section aria-labelledby="figures-title">
                <h2 id="figures-title">{words::FIGURES}</h2>
                <Figures answered=bench.answered size=Size::Narrow only=ALL/>
            </section>
        </div>
        <section aria-labelledby="numbers-title">
            <h2 id="numbers-title">{words::NUMBERS}</h2>
            <p class="fine">{words::NUMBERS_LEAD}</p>
            <div class="numbers">
                {move || numbers().map(|(parts, answered)| {
                    view! { <Parts parts asks=Asks { answered, ask }/> }
                })}
            </div>
        </section>
        <Json subject/>
    }
}

/// A piece of the answer.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Piece {
    /// The sentences.
    Answers,
    /// The findings, without those that stand beside their reading.
    Findings,
    /// The tables, their notes and the cautions.
    Numbers,
}

/// The parts of one piece. The title of a single test is that of the screen; of several, the last one speaks first.
fn shown(answered: &Answered, view: &View, name: &str, piece: Piece) -> Vec<Part> {
    let all = parts(answered.blocks());
    let first_table = all
        .iter()
        .position(|part| matches!(part, Part::Table { .. }));
    // A table's heading stands before it.
    let cut = first_table.map_or(all.len(), |table| table.saturating_sub(1));
    let (words, numbers) = all.split_at(cut);
    match piece {
        Piece::Numbers => numbers.to_vec(),
        Piece::Answers => answers(words),
        Piece::Findings => {
            let codes = view.doubt_codes();
            let is_own = |tests: &[String]| tests.is_empty() || tests == [name];
            let is_said = |part: &Part| matches!(part, Part::Finding(finding) if codes.contains(&finding.code.as_str()) && is_own(&finding.tests));
            let left = words.iter().filter(|part| !is_said(part));
            let left = left.filter(|part| matches!(part, Part::Finding(_) | Part::Heading(_)));
            without_bare_headings(left.cloned().collect())
        }
    }
}

/// What each test said, the last one first.
fn answers(words: &[Part]) -> Vec<Part> {
    let mut tests: Vec<Vec<Part>> = Vec::new();
    for part in words {
        match part {
            Part::Title(_) => tests.push(vec![part.clone()]),
            Part::Answers(_) => tests
                .last_mut()
                .into_iter()
                .for_each(|test| test.push(part.clone())),
            _ => {}
        }
    }
    let titles = tests.len();
    let said = tests.into_iter().rev().flatten();
    said.filter(|part| titles > 1 || !matches!(part, Part::Title(_)))
        .collect()
}

/// Takes out the headings that nothing stands under any more.
fn without_bare_headings(parts: Vec<Part>) -> Vec<Part> {
    let is_heading = |part: Option<&Part>| matches!(part, None | Some(Part::Heading(_)));
    let keep = |(index, part): (usize, &Part)| {
        let is_bare = matches!(part, Part::Heading(_)) && is_heading(parts.get(index + 1));
        (!is_bare).then(|| part.clone())
    };
    parts.iter().enumerate().filter_map(keep).collect()
}

/// The answer in numbers, worked out only when somebody opens it: the budget of the head is part of it.
#[component]
fn Json(subject: Subject) -> impl IntoView {
    let bench = subject.bench;
    let (is_open, open) = signal(false);
    let (working, _) = worked(move || {
        is_open
            .get()
            .then(|| asked(bench, Which::Chosen, Question::Numbers))
    });
    let json = Memo::new(move |_| working.with(|working| numbers_of(working.answer.as_deref()?)));
    let keep = move |_| {
        let name = bench.with_draft(|draft| format!("{}.json", draft.name));
        let text = json.get_untracked().unwrap_or_default();
        browser::download(&name, text.as_bytes(), "application/json");
    };
    view! {
        <details on:toggle=move |_: ev::Event| open.set(true)>
            <summary>{words::JSON}</summary>
            {move || json.get().map(|json| view! {
                <div class="actions"><button type="button" on:click=keep>{words::COPY}</button></div>
                <pre id="json" tabindex="0" role="region" aria-label=words::JSON>{json}</pre>
            })}
        </details>
    }
}
