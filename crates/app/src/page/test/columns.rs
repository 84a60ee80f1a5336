//! What is read in a test: one column for each meter, in the unit that the meter shows.

use super::super::bench::{Bench, ColumnView};
use super::super::ui::{Hint, unit_word};
use super::super::words::hints::Word;
use super::super::words::test as words;
use app::draft::{DraftColumn, Edit, heading};
use leptos::prelude::*;
use records::Measured;
use records::unit::Unit;

/// The quantities that can be added, those of every pad first.
const MORE: [Measured; 8] = [
    Measured::Flow,
    Measured::Power,
    Measured::Current,
    Measured::Voltage,
    Measured::FilterPressure,
    Measured::InletVacuum,
    Measured::InletPressure,
    Measured::Head,
];

/// The list.
#[component]
pub(super) fn Columns(bench: Bench) -> impl IntoView {
    let columns = Memo::new(move |_| bench.view.with(|view| view.columns.clone()));
    let row = move |(index, column): (usize, ColumnView)| view! { <ColumnRow bench index column/> };
    let missing = move || {
        let has = |measured: &Measured| {
            columns.with(|columns| columns.iter().any(|column| column.measured == *measured))
        };
        MORE.into_iter()
            .filter(|measured| !has(measured))
            .collect::<Vec<_>>()
    };
    view! {
        <fieldset>
            <legend>{words::COLUMNS}</legend>
            <p class="fine">{words::COLUMNS_HELP}</p>
            {move || columns.get().into_iter().enumerate().map(row).collect_view()}
            {move || {
                let missing = missing();
                (!missing.is_empty()).then(|| view! { <AddColumn bench missing/> })
            }}
        </fieldset>
    }
}

/// The units that a quantity is read in.
fn units(measured: Measured) -> Vec<&'static Unit> {
    Unit::all()
        .filter(|unit| unit.dimension == measured.dimension())
        .collect()
}

#[component]
fn ColumnRow(bench: Bench, index: usize, column: ColumnView) -> impl IntoView {
    let (id, measured, now) = (format!("column-{index}"), column.measured, column.unit);
    let change = move |name: String| {
        let Some(unit) = Unit::find(measured.dimension(), &name) else {
            return;
        };
        let meter = bench.with_draft(|draft| {
            draft
                .columns
                .get(index)
                .and_then(|column| column.meter.clone())
        });
        let heading = heading(measured, meter.as_deref(), unit);
        bench.edit(&Edit::SetColumn {
            column: index,
            to: DraftColumn {
                heading,
                measured,
                meter,
                unit,
            },
        });
    };
    let option = move |unit: &'static Unit| view! { <option value=unit.name selected=unit.name == now>{unit_word(unit.name)}</option> };
    view! {
        <div class="field">
            <label for=id.clone()>{words::column(&column.name)}</label>
            <div class="with-unit">
                <select id=id on:change=move |event| change(event_target_value(&event))>
                    {units(measured).into_iter().map(option).collect_view()}
                </select>
                <button
                    type="button" aria-label=format!("{}: {}", words::column(&column.name), words::REMOVE_COLUMN)
                    on:click=move |_| { bench.edit(&Edit::RemoveColumn { column: index }); }
                >{words::REMOVE_COLUMN}</button>
                <Hint word=Word::Read(measured)/>
            </div>
        </div>
    }
}

#[component]
fn AddColumn(bench: Bench, missing: Vec<Measured>) -> impl IntoView {
    let add = move |measured: Measured| {
        let system = bench
            .site
            .with_value(|(_, site)| site.units.unwrap_or_default());
        // As the model of a new test would read it, where that has it; else in its first unit.
        let usual = bench
            .site
            .with_value(|(_, site)| app::draft::default_columns(site, system));
        let usual = usual.into_iter().find(|column| column.measured == measured);
        let column = usual.or_else(|| {
            let unit = units(measured).into_iter().next()?;
            Some(DraftColumn {
                heading: heading(measured, None, unit),
                measured,
                meter: None,
                unit,
            })
        });
        if let Some(column) = column {
            bench.edit(&Edit::AddColumn(column));
        }
    };
    let button = move |measured: Measured| {
        view! {
            <button type="button" on:click=move |_| add(measured)>{words::measured(measured)}</button>
        }
    };
    view! {
        <p class="label">{words::ADD_COLUMN}</p>
        <div class="segments">{missing.into_iter().map(button).collect_view()}</div>
    }
}
