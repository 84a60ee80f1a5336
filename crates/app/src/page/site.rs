//! One site: its tests, what the last one said, and what can be done with it.

mod care;
mod changes;
mod visits;

use super::browser;
use super::circuit::{CircuitPanel, Start};
use super::editing::keep_text;
use super::exporting::ExportActions;
use super::importing::{ImportBox, keep_marked};
use super::keeper::{Keeper, keeper};
use super::parts::Parts;
use super::problems::Problems;
use super::route::{Route, Screen, route};
use super::ui::{self, AskFirst, Gone, titled};
use super::undo::{Back, set_archived, undo};
use super::words::{site as words, sites, undo as undo_words};
use app::answer::answer;
use app::draft::{Edit, Place, Spot, TestDraft};
use app::library::{
    Id, KeptReadings, Revision, SiteRecord, TestRecord, deleted, duplicate_site, free_name, pad_of,
};
use app::lineup::HeadEdit;
use app::parts::{Part, parts};
use app::store::Durability;
use care::CareOf;
use changes::Changes;
use leptos::prelude::*;
use records::{Site, Source, UnitSystem, read_site};
use visits::Visits;

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
    let is_there = Memo::new(move |_| found.with(Option::is_some));
    move || {
        if is_there.get() {
            view! { <Shown found/> }.into_any()
        } else {
            view! { <Gone/> }.into_any()
        }
    }
}

/// The screen of a site that is there. Its text may change while it is shown: what does not depend on it stays.
#[component]
fn Shown(found: Memo<Option<SiteRecord>>) -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let Some(id) = found.with_untracked(|site| site.as_ref().map(|site| site.id.clone())) else {
        return ().into_any();
    };
    let name = Memo::new(move |_| {
        found.with(|site| {
            site.as_ref()
                .map(|site| site.name.clone())
                .unwrap_or_default()
        })
    });
    titled(move || name.get());
    let text = Signal::derive(move || {
        found.with(|site| {
            site.as_ref()
                .map(|site| site.text.clone())
                .unwrap_or_default()
        })
    });
    let (changed, undo) = (id.clone(), undo());
    let change = Callback::new(move |new: String| {
        let before = text.get_untracked();
        if has_fewer_parts(&before, &new) {
            let site = changed.clone();
            let back = Back::Text { site, text: before };
            undo.offer(undo_words::PAD_CHANGED.to_string(), back);
        }
        keep_text(keeper, &changed, new);
    });
    let edited = id.clone();
    view! {
        <ui::Back to=Screen::Sites word=sites::TITLE/>
        <h1>{name}</h1>
        <NotInOrder id=id.clone() text/>
        <div class="actions">
            {move || start_button(keeper, route, found)}
            <button type="button" on:click=move |_| route.go(Screen::EditSite(edited.clone()))>{words::EDIT}</button>
            <ExportActions id=id.clone()/>
        </div>
        <div class="panes">
            <section aria-labelledby="tests-title">
                <h2 id="tests-title">{words::TESTS}</h2>
                <Visits site=found/>
                <CareOf site=found/>
                <Changes site=found/>
                <More id/>
            </section>
            <LastAnswer found/>
        </div>
        <CircuitPanel text start=Start::default() change/>
    }
    .into_any()
}

/// Whether something of the plumbing is gone from a text.
pub(super) fn has_fewer_parts(before: &str, after: &str) -> bool {
    let count = |text: &str| {
        let lines = app::plumbing::lines(text).unwrap_or_default();
        (
            lines.len(),
            lines.iter().map(|line| line.parts.len()).sum::<usize>(),
        )
    };
    let (before, after) = (count(before), count(after));
    after.0 < before.0 || after.1 < before.1
}

/// The button that starts a test, where the site file is in order.
fn start_button(
    keeper: Keeper,
    route: Route,
    found: Memo<Option<SiteRecord>>,
) -> Option<impl IntoView> {
    let site = found.get()?;
    let parsed = read_site(&site.source()).ok()?;
    Some(view! {
        <button type="button" class="primary" on:click=move |_| start_test(keeper, route, &site, &parsed)>
            {words::NEW_TEST}
        </button>
    })
}

/// What is wrong in the site file, where something is.
#[component]
fn NotInOrder(id: Id, text: Signal<String>) -> impl IntoView {
    let route = route();
    let problems = Memo::new(move |_| {
        let (name, text) = ("site.toml".to_owned(), text.get());
        read_site(&Source { name, text }).err().unwrap_or_default()
    });
    let id = StoredValue::new(id);
    move || {
        problems.with(|problems| !problems.is_empty()).then(|| view! {
            <section class="finding" data-severity="error">
                <h2>{words::NOT_IN_ORDER}</h2>
                <Problems problems go=Callback::new(move |_| route.go(Screen::EditSite(id.get_value())))/>
            </section>
        })
    }
}

/// What is done with a site as a whole, folded away.
#[component]
fn More(id: Id) -> impl IntoView {
    let (keeper, route, undo) = (keeper(), route(), undo());
    let open = Some(id.clone());
    let named = move |id: &Id| {
        let site = keeper
            .library
            .with_untracked(|library| library.site(id).cloned());
        site.map(|site| site.name).unwrap_or_default()
    };
    let (copied, away) = (id.clone(), id.clone());
    let is_away = Memo::new({
        let id = id.clone();
        move |_| {
            keeper.library.with(|library| {
                let site = library.site(&id);
                site.is_some_and(|site| site.care.archived.is_some())
            })
        }
    });
    let duplicate = move |_| {
        let copy = keeper.library.with_untracked(|library| {
            let site = library.site(&copied)?;
            Some(duplicate_site(
                library,
                site,
                browser::new_id(),
                browser::now(),
            ))
        });
        if let Some(copy) = copy {
            let to = Screen::Site(copy.id.clone());
            keeper.put_site(copy);
            route.go(to);
        }
    };
    let put_away = move |_| {
        if is_away.get_untracked() {
            set_archived(keeper, &away, None);
        } else {
            set_archived(keeper, &away, Some(browser::now()));
            undo.offer(
                undo_words::archived(&named(&away)),
                Back::Unarchived(away.clone()),
            );
            route.go(Screen::Sites);
        }
    };
    let delete = Callback::new(move |()| {
        let marked = keeper
            .library
            .with_untracked(|library| deleted(library, &id, browser::now()));
        undo.offer(undo_words::deleted(&named(&id)), Back::Site(id.clone()));
        route.replace(Screen::Sites);
        keep_marked(keeper, marked);
    });
    view! {
        <details>
            <summary>{words::MORE}</summary>
            <ImportBox open/>
            <div class="actions">
                <button type="button" on:click=duplicate>{words::DUPLICATE}</button>
                <button type="button" on:click=put_away>
                    {move || if is_away.get() { words::TAKE_OUT.said() } else { words::PUT_AWAY.said() }}
                </button>
            </div>
            <AskFirst word=words::DELETE question=words::DELETE_ASK sure=words::DELETE_SURE act=delete/>
        </details>
    }
}

/// The answer of the last test with readings, without its tables but the limits.
#[component]
fn LastAnswer(found: Memo<Option<SiteRecord>>) -> impl IntoView {
    let (keeper, route) = (keeper(), route());
    let shown = move || {
        let site = found.get()?;
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
        let answered = answer(&pad, units, super::words::language()).ok()?;
        Some((overview(parts(answered.blocks())), last?.id))
    };
    move || {
        shown().filter(|(parts, _)| !parts.is_empty()).map(|(parts, last)| {
            let report = Screen::Report(last.clone());
            view! {
            <section aria-labelledby="last-title">
                <h2 id="last-title">{words::LAST}</h2>
                <Parts parts/>
                <div class="actions">
                    <button type="button" on:click=move |_| route.go(Screen::Result(last.clone()))>{super::words::result::OPEN}</button>
                    <button type="button" on:click=move |_| route.go(report.clone())>{super::words::report::HAND_OVER}</button>
                </div>
            </section>
            }
        })
    }
}

/// Keeps the sentences, and the table of limits with its heading.
fn overview(all: Vec<Part>) -> Vec<Part> {
    let is_of_limits = |part: Option<&Part>| match part {
        Some(Part::Table { table, .. }) => table.is_of_limits(),
        _ => false,
    };
    let is_kept = |at: usize, part: &Part| match part {
        Part::Answers(_) => true,
        Part::Heading(_) => is_of_limits(all.get(at + 1)),
        part => is_of_limits(Some(part)),
    };
    let parts = all.iter().enumerate();
    let kept = parts.filter(|(at, part)| is_kept(*at, part));
    kept.map(|(_, part)| part.clone()).collect()
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
