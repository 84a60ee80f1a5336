//! What is wrong in a text, each thing with its place and the mend; a tap goes there.

use super::words::{here, site as words};
use document::problems::{hint, said};
use leptos::prelude::*;
use records::Problem;

/// The list.
#[component]
pub(super) fn Problems(
    /// What is wrong.
    #[prop(into)]
    problems: Signal<Vec<Problem>>,
    /// Goes to a line and a column, from 1.
    go: Callback<(usize, usize)>,
) -> impl IntoView {
    let row = move |problem: Problem| {
        let (line, column) = (problem.line, problem.column);
        let says = said(&problem.message, here());
        let hint = hint(&problem, here());
        let hint = hint.map(|hint| view! { <span class="hint">{hint}</span> });
        view! {
            <li>
                <button type="button" on:click=move |_| go.run((line, column))>
                    <span class="where">{words::place(line, column)}</span> ": " {says} {hint}
                </button>
            </li>
        }
    };
    move || {
        let all = problems.get();
        (!all.is_empty()).then(|| {
            view! {
                <p class="problem">{words::problems(all.len())}</p>
                <ul class="problems">{all.into_iter().map(row).collect_view()}</ul>
            }
        })
    }
}
