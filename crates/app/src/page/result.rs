//! What came of a test: the answer first, what is to be settled, the figures, and the numbers, each with where it
//! comes from.

mod beside;
mod doubted;
mod where_from;

use super::bench::{Bench, View};
use super::circuit::{CircuitPanel, Start};
use super::exporting::ExportActions;
use super::figures::{ALL, Figures};
use super::parts::{Asks, Parts};
use super::problems::Problems;
use super::route::{Screen, route};
use super::test::{Foreign, NotOpened, own};
use super::ui::{AskFirst, Back, titled};
use super::words::{result as words, site as site_words};
use super::{browser, keeper};
use app::answer::Answered;
use app::library::Id;
use app::parts::{Part, parts};
use beside::Beside;
use charts::Size;
use doubted::DoubtedReadings;
use fieldtest::Question;
use leptos::ev;
use leptos::prelude::*;
use std::sync::Arc;
use where_from::WhereFromSheet;

/// The screen.
#[component]
pub(super) fn ResultScreen(id: Id) -> impl IntoView {
    match Bench::open(&id) {
        Ok(bench) => view! { <Shown bench/> }.into_any(),
        Err(error) => view! { <NotOpened error/> }.into_any(),
    }
}

#[component]
fn Shown(bench: Bench) -> impl IntoView {
    let route = route();
    let (site, _) = bench.site.get_value();
    let name = bench.with_draft(|draft| draft.name.clone());
    let title = format!("{}, {name}", site.name);
    let called = title.clone();
    titled(move || called.clone());
    own(bench);
    on_cleanup(move || bench.seal());
    let asked = RwSignal::new(None::<(usize, Question)>);
    let sheet = RwSignal::new(false);
    let ask = Callback::new(move |question| {
        asked.set(Some(question));
        sheet.set(true);
    });
    let go_on = move |_| {
        bench.set_open(true);
        route.go(Screen::Test(bench.id.get_value()));
    };
    let own_name = StoredValue::new(name);
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
        <Back to=Screen::Site(site.id.clone()) word=site.name.clone()/>
        <h1>{title}</h1>
        <Foreign bench/>
        <Problems problems=bench.problems go=Callback::new(|_| ())/>
        <div class="actions">
            <button type="button" on:click=go_on>{words::GO_ON}</button>
            <ExportActions id=site.id.clone()/>
        </div>
        <Beside bench/>
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
                {move || numbers().map(|(parts, answered)| view! { <Parts parts asks=Asks { answered, ask }/> })}
            </div>
        </section>
        <Circuit bench/>
        <Json bench/>
        <DeleteTest bench site=site.id/>
        <WhereFromSheet bench asked open=sheet/>
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
            let is_said = |part: &Part| matches!(part, Part::Finding(finding) if codes.contains(&finding.code) && is_own(&finding.tests));
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

/// The circuit as the test had it: its line-up, at its highest speed.
#[component]
fn Circuit(bench: Bench) -> impl IntoView {
    let keeper = keeper::keeper();
    let site = bench.site.with_value(|(site, _)| site.id.clone());
    let text = Signal::derive(move || {
        let text = keeper
            .library
            .with(|library| library.site(&site).map(|site| site.text.clone()));
        text.unwrap_or_default()
    });
    let speed_rpm = bench.answered.with_untracked(|answered| {
        let tests = &answered.as_ref()?.analysis().tests;
        let speeds = tests.last()?.steps.iter().map(|step| step.speed_rpm);
        speeds.max_by(f64::total_cmp)
    });
    let start = Start {
        closed: bench.view.with_untracked(|view| view.lineup.closed.clone()),
        speed_rpm,
    };
    view! { <CircuitPanel text start change=Callback::new(move |text| bench.set_site(text))/> }
}

/// The answer in numbers, written only when somebody opens it: it is long.
#[component]
fn Json(bench: Bench) -> impl IntoView {
    let (is_open, open) = signal(false);
    let json = move || {
        bench.answered.with(|answered| {
            answered
                .as_ref()
                .map(|answered| answered.json())
                .unwrap_or_default()
        })
    };
    let keep = move |_| {
        let name = bench.with_draft(|draft| format!("{}.json", draft.name));
        browser::download(&name, untrack(json).as_bytes(), "application/json");
    };
    view! {
        <details on:toggle=move |_: ev::Event| open.set(true)>
            <summary>{words::JSON}</summary>
            {move || is_open.get().then(|| view! {
                <div class="actions"><button type="button" on:click=keep>{words::COPY}</button></div>
                <pre id="json" tabindex="0" role="region" aria-label=words::JSON>{json}</pre>
            })}
        </details>
    }
}

#[component]
fn DeleteTest(bench: Bench, site: Id) -> impl IntoView {
    let (keeper, route, undo) = (keeper::keeper(), route(), super::undo::undo());
    let delete = Callback::new(move |()| {
        route.replace(Screen::Site(site.clone()));
        super::undo::delete_test(keeper, undo, &bench.id.get_value());
    });
    view! { <AskFirst word=site_words::DELETE_TEST question=site_words::DELETE_TEST_ASK sure=site_words::DELETE_SURE act=delete/> }
}

/// The parts need the answer that they were made of, for what a number is asked.
pub(super) type SharedAnswer = Arc<Answered>;
