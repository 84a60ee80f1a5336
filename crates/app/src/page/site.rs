//! One site: its tests, what the last one said, and what can be done with it.

use super::browser;
use super::exporting::ExportActions;
use super::importing::{ImportBox, keep_marked};
use super::keeper::{Keeper, keeper};
use super::parts::Parts;
use super::problems::Problems;
use super::route::{Route, Screen, route};
use super::ui::{AskFirst, Back, Gone, titled};
use super::words::{site as words, sites};
use app::answer::answer;
use app::draft::{Edit, Place, Spot, TestDraft};
use app::library::{
    Id, KeptReadings, Revision, SiteRecord, TestRecord, deleted, free_name, pad_of,
};
use app::lineup::HeadEdit;
use app::parts::{Part, parts};
use app::store::Durability;
use leptos::prelude::*;
use records::{Site, UnitSystem, read_site};

/// The screen.
#[component]
pub(super) fn SiteScreen(id: Id) -> impl IntoView {
    let keeper = keeper();
    let found = {
        let id = id.clone();
        Memo::new(move |_| {
            keeper.library.with(|library| {
                library
                    .site(&id)
                    .filter(|site| site.deleted.is_none())
                    .cloned()
            })
        })
    };
    move || match found.get() {
        None => view! { <Gone/> }.into_any(),
        Some(site) => view! { <Shown site/> }.into_any(),
    }
}

#[component]
fn Shown(site: SiteRecord) -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let name = site.name.clone();
    titled(move || name.clone());
    let read = read_site(&site.source());
    let (edit_id, started) = (site.id.clone(), site.clone());
    let start = read.as_ref().ok().cloned().map(|parsed| {
        view! {
            <button type="button" class="primary" on:click=move |_| start_test(keeper, route, &started, &parsed)>
                {words::NEW_TEST}
            </button>
        }
    });
    let problems = read.err().map(|found| {
        let to = Screen::EditSite(site.id.clone());
        view! {
            <section class="finding" data-severity="error">
                <h2>{words::NOT_IN_ORDER}</h2>
                <Problems problems=Signal::derive(move || found.clone()) go=Callback::new(move |_| route.go(to.clone()))/>
            </section>
        }
    });
    view! {
        <Back to=Screen::Sites word=sites::TITLE/>
        <h1>{site.name.clone()}</h1>
        {problems}
        <div class="actions">
            {start}
            <button type="button" on:click=move |_| route.go(Screen::EditSite(edit_id.clone()))>{words::EDIT}</button>
            <ExportActions id=site.id.clone()/>
        </div>
        <div class="panes">
            <section aria-labelledby="tests-title">
                <h2 id="tests-title">{words::TESTS}</h2>
                <Tests id=site.id.clone()/>
                <More site=site.clone()/>
            </section>
            <LastAnswer site/>
        </div>
    }
}

#[component]
fn Tests(id: Id) -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let tests = Memo::new(move |_| {
        keeper.library.with(|library| {
            let mut tests: Vec<TestRecord> = library.tests_of(&id).into_iter().cloned().collect();
            tests.reverse();
            tests
        })
    });
    let card = move |test: TestRecord| {
        let to = if test.open {
            Screen::Test(test.id.clone())
        } else {
            Screen::Result(test.id.clone())
        };
        let rows = TestDraft::from_files(&test.files()).map(|draft| draft.rows.len());
        let line = rows.map_or_else(|_| words::INLINE.to_owned(), words::steps);
        let state = test
            .open
            .then(|| view! { <span class="state" data-open="true">{words::OPEN}</span> });
        view! {
            <li>
                <button type="button" class="card" on:click=move |_| route.go(to.clone())>
                    <span class="title">{test.name}</span><span class="line">{line}</span>{state}
                </button>
            </li>
        }
    };
    move || {
        let tests = tests.get();
        if tests.is_empty() {
            return view! { <p>{words::NO_TESTS}</p> }.into_any();
        }
        view! { <ul class="cards">{tests.into_iter().map(card).collect_view()}</ul> }.into_any()
    }
}

#[component]
fn More(site: SiteRecord) -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let id = site.id.clone();
    let delete = Callback::new(move |()| {
        let marked = keeper
            .library
            .with_untracked(|library| deleted(library, &id, browser::now()));
        route.replace(Screen::Sites);
        keep_marked(keeper, marked);
    });
    view! {
        <details>
            <summary>{words::MORE}</summary>
            <ImportBox open=Some(site.id)/>
            <AskFirst word=words::DELETE question=words::DELETE_ASK sure=words::DELETE_SURE act=delete/>
        </details>
    }
}

/// The answer of the last test with readings, without its tables but the limits.
#[component]
fn LastAnswer(site: SiteRecord) -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let shown = move || {
        let units = keeper
            .settings
            .with(|settings| settings.units)
            .map(UnitSystem::from);
        let last = keeper.library.with(|library| {
            library
                .tests_of(&site.id)
                .last()
                .map(|test| (*test).clone())
        });
        let pad = pad_of(&site, &last.iter().collect::<Vec<_>>());
        let answered = answer(&pad, units).ok()?;
        Some((overview(parts(answered.blocks())), last?.id))
    };
    move || {
        shown().filter(|(parts, _)| !parts.is_empty()).map(|(parts, last)| view! {
            <section aria-labelledby="last-title">
                <h2 id="last-title">{words::LAST}</h2>
                <Parts parts/>
                <div class="actions">
                    <button type="button" on:click=move |_| route.go(Screen::Result(last.clone()))>{super::words::result::OPEN}</button>
                </div>
            </section>
        })
    }
}

/// Keeps the sentences and the limits.
fn overview(all: Vec<Part>) -> Vec<Part> {
    let mut is_limits = false;
    all.into_iter()
        .filter(|part| match part {
            Part::Answers(_) => true,
            Part::Heading(heading) => {
                is_limits = heading == "Limits";
                is_limits
            }
            Part::Table { .. } => is_limits,
            _ => false,
        })
        .collect()
}

/// Starts a test: named after the day, with a column for each meter and the first speed to step to.
fn start_test(keeper: Keeper, route: Route, site: &SiteRecord, parsed: &Site) {
    let (date, time) = browser::date_and_time();
    let tests: Vec<TestRecord> = keeper
        .library
        .with_untracked(|library| library.tests_of(&site.id).into_iter().cloned().collect());
    let name = free_name(&date, |name| tests.iter().any(|test| test.name == name));
    let units = keeper.settings.with_untracked(|settings| settings.units);
    let mut draft = TestDraft::new(
        &name,
        parsed,
        units.map_or_else(UnitSystem::default, UnitSystem::from),
    );
    let dated = draft.edited(&Edit::Head(HeadEdit::Date(Some(format!("{date}T{time}")))));
    draft = dated.unwrap_or(draft);
    let speed = app::draft::next_speed(parsed, &draft, &[]).unwrap_or_default();
    draft = draft.edited(&Edit::AddRow { speed }).unwrap_or(draft);
    debug_assert!(
        draft
            .text(Place {
                row: 0,
                spot: Spot::Speed
            })
            .is_some()
    );
    let test = TestRecord {
        id: browser::new_id(),
        site_id: site.id.clone(),
        name,
        head_text: draft.head_text.clone(),
        readings: Some(KeptReadings {
            file: draft.readings_name(),
            text: draft.readings_text(),
        }),
        changed: browser::now(),
        revision: Revision::default(),
        open: true,
        deleted: None,
    };
    let to = Screen::Test(test.id.clone());
    keeper.put_test(test, Durability::Strict);
    route.go(to);
}
