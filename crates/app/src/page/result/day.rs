//! The day: what to set in which hours, what it comes to, and what each demand costs; and what the site does not say yet.

use super::super::words::result as words;
use super::super::worker::worked;
use super::Subject;
use super::asking::{Which, asked};
use super::day_form::DayFields;
use super::working::{Numbers, Progress, Telling, refused, told};
use app::work::Question;
use leptos::prelude::*;

/// The view.
#[component]
pub(super) fn DayView(subject: Subject) -> impl IntoView {
    let bench = subject.bench;
    let (working, again) = worked(move || Some(asked(bench, Which::Chosen, Question::Day)));
    let found = Memo::new(move |_| working.with(told));
    // What the site lacks is asked for at once; else the form waits to be opened.
    let is_asked = Memo::new(move |_| {
        working.with(|working| refused(working).is_some_and(|refused| refused.lies_in_site))
    });
    view! {
        <Progress working again/>
        {move || found.get().map(|told| view! { <Telling subject told/> })}
        <details class="asked-of-day" prop:open=move || is_asked.get()>
            <summary>{words::DAY_FORM}</summary>
            <DayFields bench/>
        </details>
        <Numbers name="day-json" working/>
    }
}
