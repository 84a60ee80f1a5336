//! The speed of a step: typed, or stepped by a thumb.

use super::super::bench::Bench;
use super::super::ui::{Held, Hint};
use super::super::words::hints::Word;
use super::super::words::test as words;
use super::entry::Cursor;
use super::reading::{VerdictLine, paste, state_word};
use super::timer;
use app::draft::{Place, Spot};
use app::verdict::State;
use leptos::prelude::*;

/// By how much a press changes the speed, rpm.
const STEPS: [u32; 3] = [10, 50, 100];

/// The field with its steppers.
#[component]
pub(super) fn Speed(bench: Bench, cursor: Cursor) -> impl IntoView {
    let step = RwSignal::new(STEPS[1]);
    let place = move || Place {
        row: cursor.row.get(),
        spot: Spot::Speed,
    };
    let here = move || Place {
        row: cursor.row.get_untracked(),
        spot: Spot::Speed,
    };
    let text = Memo::new(move |_| bench.view.with(|view| view.text(place())));
    let verdict = Memo::new(move |_| bench.view.with(|view| view.verdict(place())));
    let set = move |text: String| {
        bench.set(here(), text);
        cursor.changed.set(timer::now());
    };
    let press = move |up: bool| {
        Callback::new(move |()| {
            if let Some(speed) = stepped(&text.get_untracked(), step.get_untracked(), up) {
                set(speed);
            }
        })
    };
    let ended = Callback::new(move |()| bench.seal());
    let choice = move |by: u32| {
        view! {
            <button type="button" aria-pressed=move || (step.get() == by).to_string() on:click=move |_| step.set(by)>{by}</button>
        }
    };
    view! {
        <div class="speed reading" data-state=move || verdict.with(state_word)>
            <label for="speed">{words::SPEED} " " <span class="unit">"rpm"</span></label>
            <div class="stepper">
                <Held label=Signal::derive(move || words::by(words::SLOWER, step.get())) sign="−" act=press(false) ended/>
                <input
                    id="speed" class="big" type="text" inputmode="decimal" autocomplete="off" enterkeyhint="next"
                    aria-describedby="speed-verdict" prop:value=text
                    on:input=move |event| set(event_target_value(&event)) on:change=move |_| bench.seal()
                    on:paste=move |event: web_sys::ClipboardEvent| paste(bench, here(), &event)
                    on:keydown=move |event| if event.key() == "Enter" {
                        event.prevent_default();
                        super::super::ui::focus("reading-0");
                    }
                />
                <Held label=Signal::derive(move || words::by(words::FASTER, step.get())) sign="+" act=press(true) ended/>
            </div>
            <div class="by">
                <span class="label" id="by-label">{words::BY}</span>
                <div class="segments" role="group" aria-labelledby="by-label">{STEPS.map(choice).collect_view()}</div>
            </div>
            {move || (text.with(|text| text.trim() == "0")).then(|| view! { <Hint word=Word::AtRest/> })}
            // Of a speed that is in order there is nothing to say.
            <div id="speed-verdict" hidden=move || verdict.with(|verdict| verdict.state == State::Fine && verdict.ruling.is_none())>
                <VerdictLine bench place=Signal::derive(place) verdict unit=Signal::derive(|| "rpm")/>
            </div>
        </div>
    }
}

/// The speed one press further, on whole multiples of the step; `None` where what stands there is no whole number.
fn stepped(text: &str, step: u32, up: bool) -> Option<String> {
    let speed: u32 = if text.trim().is_empty() {
        0
    } else {
        text.trim().parse().ok()?
    };
    let next = if up {
        (speed / step).checked_add(1)?.checked_mul(step)?
    } else {
        speed.saturating_sub(1) / step * step
    };
    Some(next.to_string())
}
