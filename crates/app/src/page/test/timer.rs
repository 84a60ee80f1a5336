//! How long ago the speed was changed: readings are taken when the displays hold still.

use super::super::words::test as words;
use super::entry::Cursor;
use leptos::prelude::*;
use std::time::Duration;

/// When flow and gauges mostly hold still after a step, s. Common practice, no source.
const USUAL_SETTLING_S: u32 = 60;

/// The moment, in milliseconds.
pub(super) fn now() -> f64 {
    js_sys::Date::now()
}

/// The timer. It is read on demand and tells nothing by itself.
#[component]
pub(super) fn Timer(cursor: Cursor) -> impl IntoView {
    let tick = RwSignal::new(now());
    let ticking = set_interval_with_handle(move || tick.set(now()), Duration::from_secs(1)).ok();
    on_cleanup(move || {
        if let Some(ticking) = ticking {
            ticking.clear();
        }
    });
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "held to what a counter of seconds can be"
    )]
    let seconds = Memo::new(move |_| {
        ((tick.get() - cursor.changed.get()) / 1000.0).clamp(0.0, 35_999.0) as u32
    });
    let is_settled = Memo::new(move |_| seconds.get() >= USUAL_SETTLING_S);
    let word = move || {
        if is_settled.get() {
            words::SETTLED.said()
        } else {
            words::SETTLING.said()
        }
    };
    view! {
        <p class="timer" role="timer" aria-label=words::SECONDS_NAME data-settled=move || is_settled.get().to_string()>
            {move || words::clock(seconds.get())} " " {word}
        </p>
    }
}
