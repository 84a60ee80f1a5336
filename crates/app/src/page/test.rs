//! A test while it is done: cautions, line-up, the steps, and putting everything back.

mod columns;
mod ending;
mod entry;
mod lineup;
mod next;
mod plan;
mod reading;
mod speed;
mod strip;
mod timer;

pub(super) use reading::{VerdictLine, state_word};

use super::bench::{Bench, CannotOpen};
use super::browser;
use super::keeper::keeper;
use super::route::{Screen, route};
use super::store::{Hold, How, hold};
use super::tabs;
use super::ui::{Back, Gone, titled};
use super::update::{self, Work};
use super::words::{here, shell, site as site_words, test as words};
use app::library::Id;
use document::cautions::CAUTIONS;
use document::language::said;
use leptos::ev;
use leptos::prelude::*;

/// Where a test has got to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Cautions,
    Lineup,
    Steps,
    Ending,
}

/// Where it is remembered that the cautions of a test were read.
const READ_KEY: &str = "headwright-cautions-read/";

/// The screen.
#[component]
pub(super) fn TestScreen(id: Id) -> impl IntoView {
    match Bench::open(&id) {
        Ok(bench) => view! { <Opened bench/> }.into_any(),
        Err(error) => view! { <NotOpened error/> }.into_any(),
    }
}

/// What is shown where a test cannot be put on the screen.
#[component]
pub(super) fn NotOpened(error: CannotOpen) -> impl IntoView {
    let route = route();
    match error {
        CannotOpen::Gone => view! { <Gone/> }.into_any(),
        CannotOpen::Site(site) => {
            let to = Screen::EditSite(site.clone());
            view! {
                <Back to=Screen::Site(site) word=super::words::sites::TITLE/>
                <h1>{site_words::NOT_IN_ORDER}</h1>
                <div class="actions">
                    <button type="button" class="primary" on:click=move |_| route.go(to.clone())>{site_words::MEND}</button>
                </div>
            }
            .into_any()
        }
        CannotOpen::Texts(error) => view! {
            <Back to=Screen::Sites word=super::words::sites::TITLE/>
            <h1>{words::NOT_A_TABLE}</h1>
            <pre>{words::no_table(&error)}</pre>
        }
        .into_any(),
    }
}

#[component]
fn Opened(bench: Bench) -> impl IntoView {
    let (record, _) = bench.site.get_value();
    let stage = RwSignal::new(first_stage(bench));
    let name = bench.with_draft(|draft| draft.name.clone());
    let title = format!("{}, {name}", record.name);
    let called = title.clone();
    titled(move || called.clone());
    own(bench);
    plan::provide(bench);
    update::tell(Work::Test);
    // A phone may end a page that is out of sight without another word.
    let hidden = window_event_listener_untyped("visibilitychange", move |_: ev::Event| {
        if document().hidden() {
            bench.seal();
        }
    });
    on_cleanup(move || {
        hidden.remove();
        bench.seal();
        update::tell(Work::None);
    });
    view! {
        <Back to=Screen::Site(record.id.clone()) word=record.name.clone()/>
        <h1 class="unseen">{title}</h1>
        <Foreign bench/>
        {move || match stage.get() {
            Stage::Cautions => view! { <Cautions bench stage/> }.into_any(),
            Stage::Lineup => view! { <lineup::LineupScreen bench stage/> }.into_any(),
            Stage::Steps => view! { <entry::Entry bench stage/> }.into_any(),
            Stage::Ending => view! { <ending::Ending bench stage/> }.into_any(),
        }}
    }
}

fn first_stage(bench: Bench) -> Stage {
    let was_read = browser::remembered(&format!("{READ_KEY}{}", bench.id.get_value().0)).is_some();
    let has_readings = bench.with_draft(|draft| {
        draft
            .rows
            .iter()
            .any(|row| row.cells.iter().any(|cell| !cell.trim().is_empty()))
    });
    match (was_read, has_readings) {
        (false, false) => Stage::Cautions,
        (true, false) => Stage::Lineup,
        (_, true) => Stage::Steps,
    }
}

/// Shows another stage from its top.
fn go(stage: RwSignal<Stage>, to: Stage) {
    stage.set(to);
    browser::start_of_screen();
}

/// How often a test is asked for again before another window is said to have it.
const PATIENT_ASKS: usize = 3;
/// How long between two asks.
const PAUSE_MS: i32 = 100;

/// Makes the test ours as long as it is on the screen, unless another window has it.
pub(super) fn own(bench: Bench) {
    let held = StoredValue::new_local(None::<Hold>);
    let listening = StoredValue::new_local(None::<tabs::Listening>);
    hold_test(bench, held, How::IfFree);
    listening.set_value(tabs::listen(move |changed| {
        let is_this = bench.id.try_get_value() == Some(changed);
        if is_this && bench.is_ours.try_get_untracked() == Some(false) {
            wasm_bindgen_futures::spawn_local(bench.reload());
        }
    }));
    provide_context(TakeOver(Callback::new(move |()| {
        hold_test(bench, held, How::TakeOver);
    })));
    on_cleanup(move || {
        held.try_update_value(Option::take);
        listening.try_update_value(Option::take);
    });
}

/// Asks for the right to change the test. Who takes it over first takes what the other window has kept.
fn hold_test(bench: Bench, held: StoredValue<Option<Hold>, LocalStorage>, how: How) {
    wasm_bindgen_futures::spawn_local(async move {
        let Some(id) = bench.id.try_get_value() else {
            return;
        };
        let mut got = hold(&id, how, move || set_ours(bench, false)).await;
        // The screen before this one may be about to let go of it.
        for _ in 0..PATIENT_ASKS {
            if got.is_some() {
                break;
            }
            browser::rest(PAUSE_MS).await;
            got = hold(&id, how, move || set_ours(bench, false)).await;
        }
        let is_ours = got.is_some();
        if is_ours && how == How::TakeOver {
            bench.reload().await;
        }
        // Where the screen is gone meanwhile, what was got is let go of here.
        if held.try_update_value(|held| *held = got).is_some() {
            set_ours(bench, is_ours);
        }
    });
}

/// Says whose the test is; a screen that is gone is told nothing.
fn set_ours(bench: Bench, is_ours: bool) {
    let _ = bench.is_ours.try_set(is_ours);
}

/// What takes a test over from another window.
#[derive(Clone, Copy)]
struct TakeOver(Callback<()>);

/// Says that another window has the test, and takes it over on demand.
#[component]
pub(super) fn Foreign(bench: Bench) -> impl IntoView {
    let TakeOver(take_over) = expect_context();
    move || {
        (!bench.is_ours.get()).then(|| view! {
            <div class="banner" role="status">
                <p>{words::FOREIGN}</p>
                <button type="button" on:click=move |_| take_over.run(())>{words::TAKE_OVER}</button>
            </div>
        })
    }
}

/// The cautions, once for each test.
#[component]
fn Cautions(bench: Bench, stage: RwSignal<Stage>) -> impl IntoView {
    let read = move |_| {
        browser::remember(&format!("{READ_KEY}{}", bench.id.get_value().0), "read");
        go(stage, Stage::Lineup);
    };
    view! {
        <h2>{words::CAUTIONS}</h2>
        <ul class="cautions">{CAUTIONS.map(|caution| view! { <li>{said(here(), caution)}</li> }).collect_view()}</ul>
        <div class="thumb-bar">
            <button type="button" class="primary" on:click=read>{words::READ}</button>
        </div>
    }
}

/// Whether what was typed is kept, in a word that does not chatter.
#[component]
fn KeptLine() -> impl IntoView {
    let keeper = keeper();
    let is_memory = move || matches!(keeper.opened.get(), super::keeper::Opened::Memory(_));
    let state = Memo::new(move |_| {
        match (
            keeper.trouble.with(Option::is_some) || is_memory(),
            keeper.under_way.get(),
        ) {
            (true, _) => "no",
            (false, 0) => "yes",
            (false, _) => "on-its-way",
        }
    });
    let word = move || match state.get() {
        "no" => words::NOT_KEPT.said(),
        "yes" => words::KEPT.said(),
        _ => words::KEEPING.said(),
    };
    view! {
        <p class="kept" data-kept=move || state.get()>
            {word}
            {move || (state.get() == "no").then(|| view! {
                " "
                <button type="button" on:click=move |_| super::exporting::export_everything(keeper)>{shell::EXPORT_NOW}</button>
            })}
        </p>
    }
}
