//! What if: the returns, the filter, the turnover and the price are moved, and the verdict follows.

use super::super::bench::Bench;
use super::super::browser;
use super::super::keeper::keeper;
use super::super::parts::{Asks, Parts};
use super::super::words::{Phrase, result as words};
use super::super::worker::{Working, worked};
use super::Subject;
use super::asking::{Which, asked};
use super::slider::{Slider, Way};
use super::working::{Numbers, Progress, Telling, told};
use app::library::change_to_keep;
use app::what_if::{Choice, FilterState, Sliders, change_name, neighbours, sliders};
use app::work::{Answer, Question, Weighed};
use leptos::ev;
use leptos::prelude::*;

/// How often a day the water is turned over at most, and by how much that is moved.
const TURNOVERS: Way = Way {
    min: 0.25,
    max: 4.0,
    step: 0.25,
    press: 0.25,
};
/// Prices in per cent of the tariff.
const PRICES: Way = Way {
    min: 50.0,
    max: 200.0,
    step: 5.0,
    press: 10.0,
};
/// The price as it is.
const AS_IT_IS: u32 = 100;

/// The view.
#[component]
pub(super) fn WhatIfView(subject: Subject) -> impl IntoView {
    let bench = subject.bench;
    let choice = RwSignal::new(Choice::default());
    let (working, again) =
        worked(move || Some(asked(bench, Which::Chosen, Question::WhatIf(choice.get()))));
    let found = Memo::new(move |_| working.with(weighed));
    let short = Memo::new(move |_| found.with(|found| Some(found.as_ref()?.short.clone())));
    let asks = move || {
        Some(Asks {
            answered: bench.answered.get_untracked()?,
            ask: subject.ask,
        })
    };
    let can = Memo::new(move |_| {
        bench.view.track();
        bench.site.with_value(|(_, site)| sliders(site))
    });
    let is_plain = Memo::new(move |_| choice.with(|choice| *choice == Choice::default()));
    work_ahead(
        subject,
        working,
        Signal::derive(move || can.with(|can| choice.with(|choice| neighbours(choice, can)))),
    );
    view! {
        <p class="fine">{words::WHAT_IF_LEAD}</p>
        <div class="panes">
            <div class="moved">
                <Kept bench choice/>
                <Moved can choice/>
                <div class="actions">
                    <button type="button" disabled=move || is_plain.get() on:click=move |_| choice.set(Choice::default())>{words::AS_IS}</button>
                </div>
                <Keep bench found/>
            </div>
            <div class="verdict-now" aria-live="polite" aria-busy=move || working.with(|working| working.is_waiting).to_string()>
                {move || short.get().zip(asks()).map(|(parts, asks)| view! { <Parts parts asks/> })}
            </div>
        </div>
        <Progress working again/>
        <Whole subject choice/>
    }
}

/// Works the places beside out, one after the other, while nobody waits for the verdict.
fn work_ahead(subject: Subject, working: ReadSignal<Working>, near: Signal<Vec<Choice>>) {
    let done = RwSignal::new(0_usize);
    let near = Memo::new(move |_| near.get());
    Effect::new(move |_| {
        near.track();
        done.set(0);
    });
    let (ahead, _) = worked(move || {
        if working.with(|working| working.is_waiting || working.answer.is_none()) {
            return None;
        }
        let next = near.with(|near| near.get(done.get()).cloned())?;
        Some(asked(subject.bench, Which::Chosen, Question::WhatIf(next)))
    });
    Effect::new(move |_| {
        let is_told = ahead.with(|ahead| ahead.answer.is_some() && !ahead.is_waiting);
        if is_told {
            done.update(|done| *done += 1);
        }
    });
}

/// The whole comparison, worked out where somebody opens it.
#[component]
fn Whole(subject: Subject, choice: RwSignal<Choice>) -> impl IntoView {
    let (is_open, open) = signal(false);
    let (working, again) = worked(move || {
        let question = is_open.get().then(|| Question::Compared(choice.get()))?;
        Some(asked(subject.bench, Which::Chosen, question))
    });
    let found = Memo::new(move |_| working.with(told));
    view! {
        <details class="whole" on:toggle=move |_: ev::Event| open.set(true)>
            <summary>{words::WHOLE}</summary>
            <Progress working again/>
            {move || found.get().map(|told| view! { <Telling subject told/> })}
            <Numbers name="what-if-json" working/>
        </details>
    }
}

fn weighed(working: &Working) -> Option<Weighed> {
    match working.answer.as_deref()? {
        Answer::WhatIf(weighed) => Some(*weighed.clone()),
        _ => None,
    }
}

/// The sliders that this pad has.
#[component]
fn Moved(can: Memo<Sliders>, choice: RwSignal<Choice>) -> impl IntoView {
    let is_kept = Memo::new(move |_| choice.with(|choice| choice.kept.is_some()));
    move || {
        let can = can.get();
        if is_kept.get() {
            // The kept change says what the pipes and the filter are.
            return view! {
                {can.turnovers.map(|asked| turnover(asked, choice))}
                {can.has_tariff.then(|| price(choice))}
            }
            .into_any();
        }
        let lacks = [
            (can.sizes.len() < 2, words::NO_SIZES),
            (!can.has_filter, words::NO_FILTER),
            (can.turnovers.is_none(), words::NO_VOLUME),
            (!can.has_tariff, words::NO_TARIFF),
        ];
        let lacks = lacks.into_iter().filter(|(lacks, _)| *lacks);
        view! {
            {(can.sizes.len() > 1).then(|| bore(can.clone(), choice))}
            {can.has_filter.then(|| filter(choice))}
            {can.turnovers.map(|asked| turnover(asked, choice))}
            {can.has_tariff.then(|| price(choice))}
            {lacks.map(|(_, says)| view! { <p class="note">{says}</p> }).collect_view()}
        }
        .into_any()
    }
}

/// What is moved from place to place of a list.
struct Listed {
    id: &'static str,
    label: Phrase,
    /// How many places there are.
    count: usize,
    at: Memo<usize>,
    /// What is said of the place.
    says: Signal<String>,
    /// Takes another place.
    set: Callback<usize>,
}

#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "places on a slider of a few"
)]
fn listed(listed: Listed) -> impl IntoView {
    let Listed {
        id,
        label,
        count,
        at,
        says,
        set,
    } = listed;
    let way = Way {
        min: 0.0,
        max: count.saturating_sub(1) as f64,
        step: 1.0,
        press: 1.0,
    };
    view! {
        <Slider
            id label way=Signal::stored(way) at=Signal::derive(move || at.get() as f64)
            says set=Callback::new(move |place: f64| set.run(place.round() as usize))
        />
    }
}

fn bore(can: Sliders, choice: RwSignal<Choice>) -> impl IntoView {
    let (count, today) = (can.sizes.len(), can.size_today);
    let sizes = StoredValue::new(can.sizes);
    let at = Memo::new(move |_| {
        let bore = choice.with(|choice| choice.bore.clone());
        let of =
            |bore: &String| sizes.with_value(|sizes| sizes.iter().position(|size| size == bore));
        bore.as_ref().and_then(of).unwrap_or(today)
    });
    let size = move |place: usize| sizes.with_value(|sizes| sizes.get(place).cloned());
    listed(Listed {
        id: "what-if-bore",
        label: words::BORE,
        count,
        at,
        says: Signal::derive(move || {
            let place = at.get();
            words::size(&size(place).unwrap_or_default(), place == today)
        }),
        set: Callback::new(move |place: usize| {
            choice.update(|choice| choice.bore = size(place).filter(|_| place != today));
        }),
    })
}

fn filter(choice: RwSignal<Choice>) -> impl IntoView {
    listed(Listed {
        id: "what-if-filter",
        label: words::FILTER,
        count: FilterState::ALL.len(),
        at: Memo::new(move |_| {
            let state = choice.with(|choice| choice.filter);
            let place = FilterState::ALL.iter().position(|other| *other == state);
            place.unwrap_or_default()
        }),
        says: Signal::derive(move || {
            words::filter(choice.with(|choice| choice.filter)).to_string()
        }),
        set: Callback::new(move |place: usize| {
            let state = FilterState::ALL.get(place).copied();
            choice.update(|choice| choice.filter = state.unwrap_or_default());
        }),
    })
}

fn turnover(asked: f64, choice: RwSignal<Choice>) -> impl IntoView {
    let at = Memo::new(move |_| choice.with(|choice| choice.turnovers).unwrap_or(asked));
    let set = move |per_day: f64| {
        let is_asked = (per_day - asked).abs() < 0.5 * TURNOVERS.step;
        choice.update(|choice| choice.turnovers = (!is_asked).then_some(per_day));
    };
    view! {
        <Slider
            id="what-if-turnover" label=words::TURNOVER way=Signal::stored(TURNOVERS) at
            says=Signal::derive(move || words::per_day(at.get())) set=Callback::new(set)
        />
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "per cent between fifty and two hundred"
)]
fn price(choice: RwSignal<Choice>) -> impl IntoView {
    let percent = move || {
        choice
            .with(|choice| choice.price_percent)
            .unwrap_or(AS_IT_IS)
    };
    let set = move |percent: f64| {
        let percent = percent.round() as u32;
        choice.update(|choice| choice.price_percent = (percent != AS_IT_IS).then_some(percent));
    };
    view! {
        <Slider
            id="what-if-price" label=words::PRICE_NOW way=Signal::stored(PRICES) at=Signal::derive(move || f64::from(percent()))
            says=Signal::derive(move || words::percent_of_tariff(percent())) set=Callback::new(set)
        />
    }
}

/// The kept changes of the site, of which one may be tried out in place of what is moved.
#[component]
fn Kept(bench: Bench, choice: RwSignal<Choice>) -> impl IntoView {
    let keeper = keeper();
    let kept = Memo::new(move |_| {
        let site = bench.site.with_value(|(site, _)| site.id.clone());
        keeper.library.with(|library| {
            let changes = library.changes_of(&site).into_iter();
            changes
                .map(|change| (change.title(), change.text.clone()))
                .collect::<Vec<_>>()
        })
    });
    let choose = move |event: ev::Event| {
        let at: Option<usize> = event_target_value(&event).parse().ok();
        let text = at.and_then(|at| kept.with_untracked(|kept| Some(kept.get(at)?.1.clone())));
        choice.update(|choice| {
            choice.kept = text;
            choice.bore = None;
            choice.filter = FilterState::default();
        });
    };
    let shown = move || {
        let tried = choice.with(|choice| choice.kept.clone());
        let at = kept.with(|kept| {
            kept.iter()
                .position(|(_, text)| tried.as_ref() == Some(text))
        });
        at.map(|at| at.to_string()).unwrap_or_default()
    };
    let option = |(at, (title, _)): (usize, (String, String))| {
        view! { <option value=at.to_string()>{title}</option> }
    };
    move || {
        let kept = kept.get();
        (!kept.is_empty()).then(|| {
            view! {
                <div class="field">
                    <label for="what-if-kept">{words::TRIED}</label>
                    <select id="what-if-kept" prop:value=shown on:change=choose>
                        <option value="">{words::MOVED_BELOW}</option>
                        {kept.into_iter().enumerate().map(option).collect_view()}
                    </select>
                </div>
            }
        })
    }
}

/// Keeps the change under a name with its site.
#[component]
fn Keep(bench: Bench, found: Memo<Option<Weighed>>) -> impl IntoView {
    let keeper = keeper();
    let change = Memo::new(move |_| found.with(|found| found.as_ref()?.change.clone()));
    let name = RwSignal::new(String::new());
    let problem = RwSignal::new(None::<String>);
    let (said, say) = signal("");
    Effect::new(move |_| {
        name.set(change.with(|change| change.as_deref().map(change_name).unwrap_or_default()));
        problem.set(None);
        say.set("");
    });
    let keep = move |_| {
        let Some(text) = change.get_untracked() else {
            return;
        };
        let new = keeper.library.with_untracked(|library| {
            let (site, _) = bench.site.get_value();
            let named = name.get_untracked();
            let as_new = (browser::new_id(), browser::now());
            change_to_keep(library, &site, (&text, &named), as_new)
        });
        match new {
            Ok(new) => {
                problem.set(None);
                say.set(words::CHANGE_KEPT.said());
                keeper.put_change(new);
            }
            Err(problems) => {
                say.set("");
                problem.set(problems.first().map(words::problem));
            }
        }
    };
    let has_none = Memo::new(move |_| change.with(Option::is_none));
    view! {
        <div class="field" hidden=move || has_none.get()>
            <label for="change-name">{words::CHANGE_NAME}</label>
            <input
                id="change-name" type="text" autocomplete="off" maxlength="80" prop:value=move || name.get()
                on:input=move |event| name.set(event_target_value(&event))
            />
        </div>
        <div class="actions">
            <button type="button" class="primary" disabled=move || has_none.get() on:click=keep>{words::KEEP_CHANGE}</button>
        </div>
        {move || problem.get().map(|problem| view! { <p class="problem" role="alert">{problem}</p> })}
        <p class="kept" role="status">{said}</p>
    }
}
