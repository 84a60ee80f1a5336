//! What changed since the baseline, where the site has several visits.

use super::super::words::result as words;
use super::super::worker::worked;
use super::Subject;
use super::asking::{Which, asked};
use super::working::{Numbers, Progress, Telling, told};
use app::work::Question;
use leptos::prelude::*;

/// The view.
#[component]
pub(super) fn SinceView(subject: Subject) -> impl IntoView {
    let bench = subject.bench;
    let (working, again) = worked(move || Some(asked(bench, Which::Visits, Question::Since)));
    let found = Memo::new(move |_| working.with(told));
    view! {
        <p class="fine">{words::SINCE_LEAD}</p>
        <Progress working again/>
        {move || found.get().map(|told| view! { <Telling subject told/> })}
        <Numbers name="since-json" working/>
    }
}
