//! The visits to a site, the last one first: when, at which speeds, how far each got, and a small mark of what was found.

use super::super::keeper::{Keeper, keeper};
use super::super::route::{Screen, route};
use super::super::undo::bring_test_back;
use super::super::words::{site as words, sites};
use app::library::{Found, Id, SiteRecord, TestRecord, Visit, VisitState, found_in, visits};
use leptos::prelude::*;
use std::collections::BTreeMap;
use std::time::Duration;

/// Between two questions to the engine, so that a tap in between is heard.
const PAUSE: Duration = Duration::from_millis(20);

/// The list.
#[component]
pub(super) fn Visits(site: Memo<Option<SiteRecord>>) -> impl IntoView {
    let keeper = keeper();
    let all = Memo::new(move |_| {
        site.with(|site| {
            let site = site.as_ref()?;
            let mut all = keeper.library.with(|library| visits(library, site));
            all.reverse();
            Some(all)
        })
        .unwrap_or_default()
    });
    let found = RwSignal::new(BTreeMap::<Id, Found>::new());
    Effect::new(move |_| {
        let left: Vec<Id> = all.with(|all| all.iter().map(|visit| visit.id.clone()).collect());
        found.update(BTreeMap::clear);
        look(keeper, site, found, left);
    });
    view! {
        {move || {
            let all = all.get();
            if all.is_empty() {
                return view! { <p>{words::NO_TESTS}</p> }.into_any();
            }
            view! { <ul class="cards visits">{all.into_iter().map(|visit| view! { <VisitCard visit found/> }).collect_view()}</ul> }.into_any()
        }}
        <DeletedTests site/>
    }
}

/// Asks the engine of one visit after the other, each in a task of its own.
fn look(
    keeper: Keeper,
    of: Memo<Option<SiteRecord>>,
    found: RwSignal<BTreeMap<Id, Found>>,
    mut left: Vec<Id>,
) {
    if left.is_empty() {
        return;
    }
    let id = left.remove(0);
    set_timeout(
        move || {
            // Where the screen is gone nobody asks any more.
            let Some(Some(site)) = of.try_get_untracked() else {
                return;
            };
            let test = keeper
                .library
                .with_untracked(|library| library.tests.iter().find(|test| test.id == id).cloned());
            if let Some(test) = test {
                let told = found_in(&site, &test);
                let _ = found.try_update(|found| found.insert(id, told));
            }
            look(keeper, of, found, left);
        },
        PAUSE,
    );
}

#[component]
fn VisitCard(visit: Visit, found: RwSignal<BTreeMap<Id, Found>>) -> impl IntoView {
    let route = route();
    let to = match visit.state {
        VisitState::Done => Screen::Result(visit.id.clone()),
        VisitState::Open | VisitState::Empty => Screen::Test(visit.id.clone()),
    };
    let state = (visit.state != VisitState::Done)
        .then(|| view! { <span class="state" data-open="true">{words::OPEN}</span> });
    let baseline = visit
        .is_baseline
        .then(|| view! { <span class="state">{words::BASELINE}</span> });
    let line = words::visit(&visit);
    let id = visit.id;
    let mark = move || {
        let found = found.with(|found| found.get(&id).copied())?;
        let (kind, sign, word) = words::found(found)?;
        Some(view! {
            <span class="found" data-found=kind><span class="sign" aria-hidden="true">{sign}</span>{word}</span>
        })
    };
    view! {
        <li>
            <button type="button" class="card" on:click=move |_| route.go(to.clone())>
                <span class="title">{visit.name}</span>
                <span class="line">{line}</span>
                {mark}
                {baseline}
                {state}
            </button>
        </li>
    }
}

/// The tests that were deleted here and can be brought back.
#[component]
fn DeletedTests(site: Memo<Option<SiteRecord>>) -> impl IntoView {
    let keeper = keeper();
    let deleted = Memo::new(move |_| {
        let id = site.with(|site| site.as_ref().map(|site| site.id.clone()));
        keeper.library.with(|library| {
            let is_gone =
                |test: &&TestRecord| test.deleted.is_some() && id.as_ref() == Some(&test.site_id);
            let gone = library.tests.iter().filter(is_gone);
            gone.map(|test| (test.id.clone(), test.name.clone()))
                .collect::<Vec<_>>()
        })
    });
    let row = move |(id, name): (Id, String)| {
        view! {
            <li>
                {name} " "
                <button type="button" on:click=move |_| bring_test_back(keeper, &id)>{sites::BRING_BACK}</button>
            </li>
        }
    };
    move || {
        let rows = deleted.get();
        (!rows.is_empty()).then(|| view! {
            <details><summary>{words::DELETED_TESTS}</summary><ul>{rows.into_iter().map(row).collect_view()}</ul></details>
        })
    }
}
