//! The line-up and the water, before the first step: one tap for each.

use super::super::bench::Bench;
use super::super::ui::Hint;
use super::super::words::hints::Word;
use super::super::words::{Phrase, here, test as words};
use super::columns::Columns;
use super::plan::PlanPanel;
use super::{Stage, go};
use app::draft::Edit;
use app::lineup::HeadEdit;
use document::names::name;
use leptos::prelude::*;
use records::UnitSystem;

/// The screen.
#[component]
pub(super) fn LineupScreen(bench: Bench, stage: RwSignal<Stage>) -> impl IntoView {
    let lineup = Memo::new(move |_| bench.view.with(|view| view.lineup.clone()));
    let pick = move |make: fn(Option<String>) -> HeadEdit| {
        Callback::new(move |state| {
            bench.edit(&Edit::Head(make(state)));
        })
    };
    view! {
        <div class="with-hint"><h2>{words::LINEUP}</h2><Hint word=Word::LineUp/></div>
        <p class="note">{words::LINEUP_LEAD}</p>
        <div class="panes">
            <div>
                <Lines bench/>
                <Temperature bench/>
                <Pick title=words::FILTER group="filter" options=&words::FILTERS chosen=Signal::derive(move || lineup.get().filter) choose=pick(HeadEdit::Filter)/>
                <Pick title=words::BASKET group="basket" options=&words::BASKETS chosen=Signal::derive(move || lineup.get().basket) choose=pick(HeadEdit::Basket)/>
                <Pick title=words::AIR group="air" options=&words::AIRS chosen=Signal::derive(move || lineup.get().air) choose=pick(HeadEdit::Air)/>
                <Pick title=words::HEATER group="heater" options=&words::HEATERS chosen=Signal::derive(move || lineup.get().heater) choose=pick(HeadEdit::Heater)/>
            </div>
            <Columns bench/>
        </div>
        <PlanPanel/>
        <div class="thumb-bar">
            <button type="button" class="primary" on:click=move |_| { bench.seal(); go(stage, Stage::Steps); }>{words::TO_STEPS}</button>
        </div>
    }
}

/// The lines of the site, each with a tick for shut.
#[component]
fn Lines(bench: Bench) -> impl IntoView {
    let names: Vec<String> = bench
        .site
        .with_value(|(_, site)| site.lines.iter().map(|line| line.name.clone()).collect());
    let closed = Memo::new(move |_| bench.view.with(|view| view.lineup.closed.clone()));
    let is_empty = names.is_empty();
    let line = move |name: String| {
        let is_shut = {
            let name = name.clone();
            move || closed.with(|closed| closed.contains(&name))
        };
        let shut = {
            let name = name.clone();
            move |shut: bool| {
                let mut lines = closed.get_untracked();
                lines.retain(|line| *line != name);
                if shut {
                    lines.push(name.clone());
                }
                bench.edit(&Edit::Head(HeadEdit::Closed(lines)));
            }
        };
        view! {
            <label class="choice">
                <input type="checkbox" prop:checked=is_shut on:change=move |event| shut(event_target_checked(&event))/>
                {name}
            </label>
        }
    };
    view! {
        <fieldset>
            <legend>{words::CLOSED}</legend>
            {is_empty.then(|| view! { <p class="fine">{words::NO_LINES}</p> })}
            {names.into_iter().map(line).collect_view()}
        </fieldset>
    }
}

#[component]
fn Temperature(bench: Bench) -> impl IntoView {
    let unit = bench
        .site
        .with_value(|(_, site)| match site.units.unwrap_or_default() {
            UnitSystem::Us => "degF",
            UnitSystem::Si => "degC",
        });
    let typed = bench
        .view
        .with_untracked(|view| view.lineup.water_temperature.clone());
    let (number, unit) = typed
        .as_deref()
        .and_then(|text| text.trim().split_once(' '))
        .map_or((String::new(), unit.to_owned()), |(number, unit)| {
            (number.to_owned(), unit.to_owned())
        });
    let word = super::super::ui::unit_word(&unit);
    let change = move |number: String| {
        let text = (!number.trim().is_empty()).then(|| format!("{number} {unit}"));
        bench.edit(&Edit::Head(HeadEdit::WaterTemperature(text)));
    };
    view! {
        <div class="field">
            <label for="water-temperature">{words::TEMPERATURE}</label>
            <div class="with-unit">
                <input
                    id="water-temperature" type="text" inputmode="decimal" autocomplete="off" value=number
                    on:input=move |event| change(event_target_value(&event)) on:change=move |_| bench.seal()
                />
                <span class="unit">{word}</span>
            </div>
        </div>
    }
}

/// One of a few states, or none said. What another program wrote there is offered too.
#[component]
fn Pick(
    title: Phrase,
    group: &'static str,
    options: &'static [&'static str],
    chosen: Signal<Option<String>>,
    choose: Callback<Option<String>>,
) -> impl IntoView {
    let mut states: Vec<Option<String>> = vec![None];
    states.extend(options.iter().map(|option| Some((*option).to_owned())));
    let now = chosen.get_untracked();
    if !states.contains(&now) {
        states.push(now);
    }
    let state = move |state: Option<String>| {
        let word = state.as_deref().map_or_else(
            || words::NOT_SAID.to_string(),
            |state| name(state, here()).into_owned(),
        );
        let is_chosen = {
            let state = state.clone();
            move || chosen.get() == state
        };
        view! {
            <label class="choice">
                <input type="radio" name=group prop:checked=is_chosen on:change=move |_| choose.run(state.clone())/>
                {word}
            </label>
        }
    };
    view! {
        <fieldset>
            <legend>{title}</legend>
            <div class="choices">{states.into_iter().map(state).collect_view()}</div>
        </fieldset>
    }
}
