//! Parts of an answer as elements of a page.

use app::parts::Part;
use document::content::{FindingBlock, Table};
use document::json::severity;
use leptos::prelude::*;

/// Shows parts one below the other.
#[component]
pub(super) fn Parts(parts: Vec<Part>) -> impl IntoView {
    parts.into_iter().map(part).collect_view()
}

fn part(part: Part) -> AnyView {
    match part {
        Part::Title(title) => view! { <h2 class="title">{title}</h2> }.into_any(),
        Part::Heading(heading) => view! { <h2>{heading}</h2> }.into_any(),
        Part::Answers(answers) => {
            view! { <dl class="answers">{answers.into_iter().map(answer).collect_view()}</dl> }
                .into_any()
        }
        Part::Finding(finding) => view! { <Finding finding/> }.into_any(),
        Part::Table { name, table } => view! { <Numbers name table/> }.into_any(),
        Part::Note(note) => view! { <p class="note">{note}</p> }.into_any(),
        Part::Items(items) => view! {
            <ul>{items.into_iter().map(|item| view! { <li>{item}</li> }).collect_view()}</ul>
        }
        .into_any(),
    }
}

fn answer((word, text): (String, String)) -> impl IntoView {
    view! { <div><dt>{word}</dt><dd>{text}</dd></div> }
}

#[component]
fn Finding(finding: FindingBlock) -> impl IntoView {
    let tests = (!finding.tests.is_empty()).then(|| format!(" ({})", finding.tests.join(", ")));
    let source = finding
        .source
        .map(|source| view! { <p class="fine">"Source: " {source}</p> });
    view! {
        <article class="finding" data-severity=severity(finding.severity)>
            <h3>{finding.word} " " <span class="code">{finding.code}</span> {tests}</h3>
            <p>{finding.says}</p>
            <p class="do">{finding.action}</p>
            {source}
        </article>
    }
}

/// A table that is moved sideways by itself where the screen is narrow.
#[component]
fn Numbers(name: String, table: Table) -> impl IntoView {
    let Table {
        headings,
        rows,
        word_columns,
    } = table;
    let class = move |column: usize| (column >= word_columns).then_some("number");
    let heading = move |(column, text): (usize, String)| view! { <th scope="col" class=class(column)>{text}</th> };
    let cell = move |(column, text): (usize, String)| view! { <td class=class(column)>{text}</td> };
    let row = move |cells: Vec<String>| {
        view! { <tr>{cells.into_iter().enumerate().map(cell).collect_view()}</tr> }
    };
    let head = (!headings.is_empty()).then(|| {
        view! { <thead><tr>{headings.into_iter().enumerate().map(heading).collect_view()}</tr></thead> }
    });
    view! {
        <div class="wide" role="region" tabindex="0" aria-label=name>
            <table>{head}<tbody>{rows.into_iter().map(row).collect_view()}</tbody></table>
        </div>
    }
}
