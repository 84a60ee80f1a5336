//! The way to the first own test: nothing to read beforehand, each step says what it asks when it comes.

use super::keeper::keeper;
use super::route::{Screen, route};
use super::words::first_steps as words;
use app::first_steps::{ENOUGH_STEPS, Step, Way, way};
use leptos::prelude::*;

/// Where on the way the person is; `None` once a test of their own has come to its end.
fn here() -> Memo<Option<Way>> {
    let keeper = keeper();
    Memo::new(move |_| keeper.library.with(way))
}

fn number(step: Step) -> usize {
    1 + Step::ALL
        .iter()
        .position(|other| *other == step)
        .unwrap_or_default()
}

/// The whole way, with the step that comes next as a button.
#[component]
pub(super) fn WholeWay() -> impl IntoView {
    let (here, route) = (here(), route());
    let item = move |way: &Way, step: Step| {
        let is_next = step == way.next;
        let state = match step.cmp(&way.next) {
            std::cmp::Ordering::Less => "done",
            std::cmp::Ordering::Equal => "next",
            std::cmp::Ordering::Greater => "later",
        };
        let to = target(way);
        let word = match state {
            "done" => Some(words::DONE),
            "next" => Some(words::NOW),
            _ => None,
        };
        view! {
            <li data-state=state aria-current=is_next.then_some("step")>
                <p class="title">
                    {words::name(step)} {word.map(|word| view! { " " <span class="state">{word}</span> })}
                </p>
                {is_next.then(|| view! {
                    <p>{words::means(step)}</p>
                    {(step == Step::StepOn).then(|| view! { <p class="note">{words::speeds_left(way.speeds_left)}</p> })}
                    <div class="actions">
                        <button type="button" class="primary" on:click=move |_| route.go(to.clone())>{words::name(step)}</button>
                    </div>
                })}
            </li>
        }
    };
    move || {
        here.get().map(|way| {
            view! {
                <section class="card way" aria-labelledby="way-title">
                    <h2 id="way-title">{words::TITLE}</h2>
                    <ol>{Step::ALL.map(|step| item(&way, step)).collect_view()}</ol>
                </section>
            }
        })
    }
}

/// Where the next step is taken.
fn target(way: &Way) -> Screen {
    match (&way.test, &way.site) {
        (Some(test), _) => Screen::Test(test.clone()),
        (None, Some(site)) => Screen::Site(site.clone()),
        (None, None) => Screen::NewSite,
    }
}

/// The step of a first test that is taken now, in a line or two; nothing for who has made a test before.
#[component]
pub(super) fn NextOnTheWay(
    /// How many steps of the test are read.
    #[prop(into)]
    read: Signal<usize>,
) -> impl IntoView {
    let is_first = keeper()
        .library
        .with_untracked(|library| way(library).is_some());
    let step = Memo::new(move |_| match read.get() {
        0 => Step::Read,
        read if read < ENOUGH_STEPS => Step::StepOn,
        _ => Step::Result,
    });
    let left = move || {
        let left = ENOUGH_STEPS.saturating_sub(read.get());
        (step.get() == Step::StepOn).then(|| words::speeds_left(left))
    };
    is_first.then(|| {
        view! {
            <div class="on-the-way" role="note">
                <p class="title">{move || words::place(number(step.get()), step.get())}</p>
                <p>{move || words::means(step.get())} " " {left}</p>
            </div>
        }
    })
}
