//! What a person keeps of a site beside its text: the visit that the others are held against, and when to come back.

use super::super::browser;
use super::super::keeper::{Keeper, keeper};
use super::super::ui::Hint;
use super::super::words::{hints::Word, language, site as words, sites};
use super::super::worker::worked;
use app::library::{
    Care, Id, SiteRecord, TestRecord, Visit, VisitState, due, is_day, pad_of, visits,
};
use app::work::{Answer, Asked, Question, Room, Texts};
use leptos::prelude::*;
use std::time::Duration;

/// How long a site is looked at before the worker is asked when its filter is due: no tap waits for that.
const LATER: Duration = Duration::from_millis(1500);

/// The two choices.
#[component]
pub(super) fn CareOf(site: Memo<Option<SiteRecord>>) -> impl IntoView {
    let keeper = keeper();
    let care = Memo::new(move |_| site.with(|site| site.as_ref().map(|site| site.care.clone())));
    let all = Memo::new(move |_| {
        let of = |site: &SiteRecord| keeper.library.with(|library| visits(library, site));
        site.with(|site| site.as_ref().map(of).unwrap_or_default())
    });
    ask_of_the_filter(keeper, site);
    let change = move |how: &dyn Fn(&mut Care)| {
        if let Some(mut site) = site.get_untracked() {
            how(&mut site.care);
            keeper.put_site(site);
        }
    };
    let (today, _) = browser::date_and_time();
    let said = move || {
        let due = care.with(|care| due(care.as_ref()?, &today))?;
        Some(view! { <p class="note" data-due=due.has_come().to_string()>{sites::due(&due)}</p> })
    };
    let typed = move |text: String| {
        let day = is_day(&text).then_some(text);
        change(&|care| care.return_on.clone_from(&day));
    };
    view! {
        <div class="field">
            <label for="return-on">{words::RETURN_ON}</label>
            <input
                id="return-on" type="date" aria-describedby="return-more"
                prop:value=move || care.with(|care| care.as_ref().and_then(|care| care.return_on.clone()).unwrap_or_default())
                on:change=move |event| typed(event_target_value(&event))
            />
            <p class="fine" id="return-more">{words::RETURN_MORE}</p>
            {said}
        </div>
        {move || (all.with(Vec::len) > 1).then(|| {
            let choose = move |id: String| {
                change(&|care| care.baseline = (!id.is_empty()).then(|| Id(id.clone())));
            };
            view! { <Baseline all=all.get() choose=Callback::new(choose)/> }
        })}
    }
}

#[component]
fn Baseline(all: Vec<Visit>, choose: Callback<String>) -> impl IntoView {
    let option = |visit: Visit| {
        view! { <option value=visit.id.0 selected=visit.is_baseline>{visit.name}</option> }
    };
    view! {
        <div class="field">
            <label for="baseline">{words::BASELINE_CHOICE}</label>
            <div class="with-hint">
            <select id="baseline" on:change=move |event| choose.run(event_target_value(&event))>
                {all.into_iter().map(option).collect_view()}
            </select>
            <Hint word=Word::Baseline/>
            </div>
        </div>
    }
}

/// Asks the worker when the filter is due, once the screen has been looked at for a while, and keeps what it says.
fn ask_of_the_filter(keeper: Keeper, site: Memo<Option<SiteRecord>>) {
    let is_later = RwSignal::new(false);
    let waiting = set_timeout_with_handle(
        move || {
            let _ = is_later.try_set(true);
        },
        LATER,
    );
    on_cleanup(move || {
        if let Ok(waiting) = waiting {
            waiting.clear();
        }
    });
    let question = move || {
        let site = site.get().filter(|_| is_later.get())?;
        keeper.library.with(|library| {
            let mut visits = visits(library, &site);
            visits.retain(|visit| visit.state == VisitState::Done && visit.is_table);
            numerics::order::sort_by_key(&mut visits, |visit| !visit.is_baseline);
            let test = |visit: &Visit| library.tests.iter().find(|test| test.id == visit.id);
            let tests: Vec<&TestRecord> = visits.iter().filter_map(test).collect();
            (tests.len() > 1).then(|| Asked {
                pad: Texts::from(pad_of(&site, &tests)),
                units: None,
                language: language().tag().to_owned(),
                room: Room::Narrow,
                question: Question::FilterDue,
            })
        })
    };
    let (working, _) = worked(question);
    Effect::new(move |_| {
        let told = working.with(|working| match working.answer.as_deref() {
            Some(Answer::FilterDue(due)) => Some(due.clone()),
            _ => None,
        });
        let (Some(due), Some(mut site)) = (told, site.get_untracked()) else {
            return;
        };
        if due != site.care.filter_due {
            site.care.filter_due = due;
            keeper.put_site(site);
        }
    });
}
