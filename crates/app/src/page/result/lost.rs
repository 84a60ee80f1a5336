//! Where the head is lost: on the drawn circuit, as shares and as a table, at a speed that is chosen; what the readings could
//! not tell apart, and what to read next.

use super::super::circuit::{CircuitPanel, Start};
use super::super::keeper;
use super::super::words::result as words;
use super::super::worker::{Working, worked};
use super::Subject;
use super::asking::{Which, asked};
use super::slider::{Slider, Way};
use super::working::{Numbers, Progress, Telling};
use app::work::{Answer, Lost, Question, Share};
use leptos::prelude::*;

/// By how much a press changes the speed, rpm.
const PRESS_RPM: f64 = 100.0;

/// The view.
#[component]
pub(super) fn LostView(subject: Subject) -> impl IntoView {
    let bench = subject.bench;
    let chosen = RwSignal::new(None::<f64>);
    let (working, again) = worked(move || {
        let speed_rpm = chosen.get();
        Some(asked(bench, Which::Chosen, Question::Lost { speed_rpm }))
    });
    let found = Memo::new(move |_| working.with(found));
    let has_answer = Memo::new(move |_| found.with(Option::is_some));
    view! {
        <p class="fine">{words::LOST_LEAD}</p>
        <Show when=move || has_answer.get()><SpeedChoice found chosen/></Show>
        <Progress working again/>
        {move || found.get().map(|lost| {
            let below = view! { <Shares shares=lost.shares/> }.into_any();
            view! { <Telling subject told=lost.told below/> }
        })}
        <Numbers name="lost-json" working/>
        <Circuit subject/>
    }
}

fn found(working: &Working) -> Option<Lost> {
    match working.answer.as_deref()? {
        Answer::Lost(lost) => Some(*lost.clone()),
        _ => None,
    }
}

/// The speed at which the head is told.
#[component]
fn SpeedChoice(found: Memo<Option<Lost>>, chosen: RwSignal<Option<f64>>) -> impl IntoView {
    let way = Memo::new(move |_| {
        let (min, max) = found
            .with(|found| found.as_ref().map(|lost| lost.range_rpm))
            .unwrap_or_default();
        Way {
            min,
            max,
            step: 10.0,
            press: PRESS_RPM,
        }
    });
    let at = Memo::new(move |_| {
        let told = found.with(|found| found.as_ref().map(|lost| lost.speed_rpm));
        chosen.get().or(told).unwrap_or_default()
    });
    view! {
        <Slider
            id="lost-speed" label=words::AT_SPEED way at says=Signal::derive(move || words::rpm(at.get()))
            set=Callback::new(move |rpm| chosen.set(Some(rpm)))
        />
    }
}

/// What each line takes, as bars: the share, and in a lighter tone how far it may reach.
#[component]
fn Shares(shares: Vec<Share>) -> impl IntoView {
    let bar = |share: Share| {
        let (low, value, high) = share.span;
        let percent = |part: f64| format!("{:.1}", 100.0 * part.clamp(0.0, 1.0));
        view! {
            <li>
                <span class="line">{share.line}</span> <span class="says">{share.says}</span>
                <svg class="share" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
                    <rect class="whole" width="100" height="10"/>
                    <rect class="may" x=percent(low) width=percent(high - low.max(0.0)) height="10"/>
                    <rect class="is" y="2.5" width=percent(value) height="5"/>
                </svg>
            </li>
        }
    };
    view! {
        <h3>{words::SHARES}</h3>
        <ul class="shares">{shares.into_iter().map(bar).collect_view()}</ul>
        <p class="fine">{words::SHARES_NOTE}</p>
    }
}

/// The circuit as the test had it: its line-up, at its highest speed.
#[component]
fn Circuit(subject: Subject) -> impl IntoView {
    let bench = subject.bench;
    let keeper = keeper::keeper();
    let site = bench.site.with_value(|(site, _)| site.id.clone());
    let text = Signal::derive(move || {
        let text = keeper
            .library
            .with(|library| library.site(&site).map(|site| site.text.clone()));
        text.unwrap_or_default()
    });
    let speed_rpm = bench.answered.with_untracked(|answered| {
        let tests = &answered.as_ref()?.analysis().tests;
        let speeds = tests.last()?.steps.iter().map(|step| step.speed_rpm);
        speeds.max_by(f64::total_cmp)
    });
    let start = Start {
        closed: bench.view.with_untracked(|view| view.lineup.closed.clone()),
        speed_rpm,
    };
    view! { <CircuitPanel text start change=Callback::new(move |text| bench.set_site(text))/> }
}
