//! What to read next, while the pump runs: asked for when somebody wants to know, and followed while it is open.

use super::super::bench::Bench;
use super::super::words::next as words;
use app::next::{About, Advice, Next, next};
use leptos::ev;
use leptos::prelude::*;
use std::time::Duration;

/// How long typing rests before the engine is asked.
const REST: Duration = Duration::from_millis(600);
/// How much later it is asked of the circuit, which takes it a while.
const LATER: Duration = Duration::from_millis(300);

/// The panel.
#[component]
pub(super) fn NextReading(bench: Bench) -> impl IntoView {
    let is_open = RwSignal::new(false);
    let laws = RwSignal::new(None::<Next>);
    let circuit = RwSignal::new(None::<Next>);
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    let stop = move || {
        if let Some(before) = waiting.try_update_value(Option::take).flatten() {
            before.clear();
        }
    };
    on_cleanup(stop);
    let ask_circuit = move || circuit.set(ask(bench, About::Circuit));
    let ask_laws = move || {
        laws.set(ask(bench, About::Laws));
        waiting.set_value(set_timeout_with_handle(ask_circuit, LATER).ok());
    };
    Effect::new(move |_| {
        bench.answered.track();
        stop();
        if is_open.get() {
            waiting.set_value(set_timeout_with_handle(ask_laws, REST).ok());
        }
    });
    let all = move || {
        let told = [laws.get(), circuit.get()].into_iter().flatten();
        let (mut advice, mut first) = (Vec::new(), None);
        for Next {
            advice: more,
            first: problem,
        } in told
        {
            advice.extend(more);
            first = first.or(problem);
        }
        (advice, first)
    };
    let toggled = move |event: ev::Event| is_open.set(super::super::ui::is_open(&event));
    view! {
        <details class="next-reading" on:toggle=toggled>
            <summary>{words::TITLE}</summary>
            <p class="fine">{words::LEAD}</p>
            {move || {
                let is_asked = laws.with(Option::is_some);
                let (advice, first) = all();
                if !is_asked {
                    return view! { <p class="note" role="status">{words::BUSY}</p> }.into_any();
                }
                let first = first.map(|(says, action)| view! { <p>{says}</p> <p class="do">{action}</p> });
                let nothing = (advice.is_empty() && first.is_none()).then_some(words::NOTHING);
                view! { {first} {advice.into_iter().map(advised).collect_view()} <p class="note">{nothing}</p> }.into_any()
            }}
        </details>
    }
}

fn advised(Advice { of, now, readings }: Advice) -> impl IntoView {
    view! {
        <h3>{words::of(&of, &now)}</h3>
        <ol>{readings.into_iter().map(|reading| view! { <li>{reading}</li> }).collect_view()}</ol>
    }
}

fn ask(bench: Bench, about: About) -> Option<Next> {
    let answered = bench.answered.try_get_untracked()??;
    let printing = bench.printing();
    let tests = answered.tests();
    bench
        .site
        .with_value(|(_, site)| Some(next(site, tests, answered.analysis(), (about, printing))))
}
