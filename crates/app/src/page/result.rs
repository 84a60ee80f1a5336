//! What came of a test: the answer first, and beside it what takes longer to work out, each view with its words, its
//! figures and its numbers, and each number with where it comes from.

mod analysis;
mod asking;
mod beside;
mod day;
mod day_form;
mod doubted;
mod lost;
mod since;
mod slider;
mod views;
mod what_if;
mod where_from;
mod working;

pub(super) use working::Progress;

use super::bench::Bench;
use super::exporting::ExportActions;
use super::keeper;
use super::problems::Problems;
use super::route::{Screen, route};
use super::test::{Foreign, NotOpened, own};
use super::ui::{AskFirst, Back, titled};
use super::words::{report as report_words, result as words, site as site_words};
use app::answer::Answered;
use app::library::Id;
use app::origin::Origin;
use beside::Beside;
use leptos::prelude::*;
use std::sync::Arc;
use views::Views;
use where_from::WhereFromSheet;

/// The parts need the answer that they were made of, for what a number is asked.
pub(super) type SharedAnswer = Arc<Answered>;

/// What every view of the result needs.
#[derive(Clone, Copy)]
struct Subject {
    bench: Bench,
    /// Opens where a number comes from.
    ask: Callback<Origin>,
}

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
    let asked = RwSignal::new(None::<Origin>);
    let sheet = RwSignal::new(false);
    let ask = Callback::new(move |origin| {
        asked.set(Some(origin));
        sheet.set(true);
    });
    let hand_over = move |_| {
        bench.seal();
        route.go(Screen::Report(bench.id.get_value()));
    };
    let go_on = move |_| {
        bench.set_open(true);
        route.go(Screen::Test(bench.id.get_value()));
    };
    view! {
        <Back to=Screen::Site(site.id.clone()) word=site.name.clone()/>
        <h1>{title}</h1>
        <Foreign bench/>
        <Problems problems=bench.problems go=Callback::new(|_| ())/>
        <div class="actions">
            <button type="button" class="primary" on:click=hand_over>{report_words::HAND_OVER}</button>
            <button type="button" on:click=go_on>{words::GO_ON}</button>
            <ExportActions id=site.id.clone()/>
        </div>
        <Beside bench/>
        <Views subject=Subject { bench, ask }/>
        <DeleteTest bench site=site.id/>
        <WhereFromSheet bench asked open=sheet/>
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
