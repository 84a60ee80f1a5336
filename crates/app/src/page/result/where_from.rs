//! Where a number comes from: the formula, the share of each meter, the readings.

use super::super::bench::Bench;
use super::super::parts::Parts;
use super::super::ui::{Sheet, unit_word};
use super::super::words::{Phrase, here, result as words};
use app::answer::{ReadingBehind, WhereFrom};
use app::draft::TestDraft;
use app::origin::Origin;
use app::parts::{Part, parts};
use leptos::prelude::*;

/// The sheet.
#[component]
pub(super) fn WhereFromSheet(
    bench: Bench,
    /// What is asked.
    asked: RwSignal<Option<Origin>>,
    open: RwSignal<bool>,
) -> impl IntoView {
    view! {
        <Sheet open title=Signal::derive(|| words::WHERE_FROM.to_string()) id="where-from-title">
            {move || asked.get().and_then(|origin| {
                let from = bench.answered.get()?.where_from(&origin)?;
                Some(view! { <Told bench from/> })
            })}
        </Sheet>
    }
}

#[component]
fn Told(bench: Bench, from: WhereFrom) -> impl IntoView {
    let method = from.method;
    let title = from.title.map(|title| view! { <h3>{title}</h3> });
    let has_readings = !from.readings.is_empty();
    let parts: Vec<Part> = parts(from.blocks)
        .into_iter()
        .map(|part| match part {
            Part::Table { table, .. } => Part::Table {
                name: words::WHERE_FROM.to_string(),
                table,
            },
            part => part,
        })
        .collect();
    // Of another test than that of the screen what is kept is shown.
    let draft = bench.draft_of(&from.test);
    let lines = draft.as_ref().map(TestDraft::lines).unwrap_or_default();
    let row = move |reading: ReadingBehind| {
        let shown = draft.as_ref().and_then(|draft| {
            let row = lines.iter().position(|line| *line == reading.row)?;
            let columns = &draft.columns;
            let column = columns
                .iter()
                .position(|column| column.name() == reading.column)?;
            let typed = draft.rows.get(row)?;
            let text = typed.cells.get(column)?.clone();
            Some((typed.speed.clone(), text, columns[column].unit.name))
        });
        let (speed, text, unit) = shown.unwrap_or_default();
        let class = (!reading.used).then_some("note");
        let state = if reading.used {
            Phrase::NONE
        } else {
            words::LEFT_OUT
        };
        let column = document::names::column(&reading.column, here());
        view! {
            <tr class=class>
                <td class="number">{speed}</td><td>{column}</td>
                <td class="number">{text}"\u{a0}"{unit_word(unit)}</td><td>{state}</td>
            </tr>
        }
    };
    let readings = from.readings.into_iter().map(row).collect_view();
    view! {
        {title}
        <Parts parts/>
        <h3>{words::HOW}</h3>
        <p><strong>{method.formula}</strong></p>
        <p>{method.means}</p>
        <p class="fine">{words::SOURCE} " " {method.source}</p>
        {has_readings.then(|| view! {
            <h3 id="behind-title">{words::READINGS}</h3>
            <div class="wide" role="region" tabindex="0" aria-labelledby="behind-title">
                <table>
                    <thead><tr><th scope="col" class="number">{words::SPEED}</th><th scope="col" colspan="3">{words::READINGS}</th></tr></thead>
                    <tbody>{readings}</tbody>
                </table>
            </div>
        })}
    }
}
