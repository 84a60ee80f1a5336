//! Parts of an answer as elements of a page.

use super::result::SharedAnswer;
use super::words::result as words;
use app::origin::{Origin, Spot, origin};
use app::parts::{AnswerPart, FindingPart, Part};
use document::content::Table;
use document::json::severity;
use leptos::prelude::*;

/// Whom a number is asked where it comes from.
#[derive(Clone)]
pub(super) struct Asks {
    /// The analysis that it rests on.
    pub(super) answered: SharedAnswer,
    /// Opens what is told of a number.
    pub(super) ask: Callback<Origin>,
}

impl Asks {
    fn origin(&self, spot: Spot<'_>) -> Option<Origin> {
        origin(self.answered.analysis(), spot)
    }
}

/// Shows parts one below the other.
#[component]
pub(super) fn Parts(parts: Vec<Part>, #[prop(optional)] asks: Option<Asks>) -> impl IntoView {
    parts
        .into_iter()
        .map(|shown| part(shown, asks.as_ref()))
        .collect_view()
}

fn part(part: Part, asks: Option<&Asks>) -> AnyView {
    match part {
        Part::Title(title) => view! { <h2 class="title">{title}</h2> }.into_any(),
        Part::Heading(heading) => view! { <h2>{heading}</h2> }.into_any(),
        Part::Answers(answers) => {
            let answers = answers.into_iter().map(|said| answer(said, asks));
            view! { <dl class="answers">{answers.collect_view()}</dl> }.into_any()
        }
        Part::Finding(finding) => view! { <Finding finding/> }.into_any(),
        Part::Table { name, table } => numbers(name, table, asks).into_any(),
        Part::Note(note) => view! { <p class="note">{note}</p> }.into_any(),
        Part::Items(items) => view! {
            <ul>{items.into_iter().map(|item| view! { <li>{item}</li> }).collect_view()}</ul>
        }
        .into_any(),
    }
}

/// A sentence with its word; where it tells of numbers that can say where they come from, the word is pressed for that.
fn answer(AnswerPart { word, text, kind }: AnswerPart, asks: Option<&Asks>) -> AnyView {
    let spot = Spot::Answer { kind, word: &word };
    let origin = asks.and_then(|asks| Some((asks.origin(spot)?, asks.ask)));
    match origin {
        Some((origin, ask)) => view! {
            <div class="asked">
                <dt><button type="button" class="plain" on:click=move |_| ask.run(origin.clone())>{word}</button></dt>
                <dd>{text}</dd>
            </div>
        }
        .into_any(),
        None => view! { <div><dt>{word}</dt><dd>{text}</dd></div> }.into_any(),
    }
}

#[component]
fn Finding(finding: FindingPart) -> impl IntoView {
    let tests = (!finding.tests.is_empty()).then(|| format!(" ({})", finding.tests.join(", ")));
    let source = finding
        .source
        .map(|source| view! { <p class="fine">{words::SOURCE} " " {source}</p> });
    let word = words::weight(finding.severity);
    view! {
        <article class="finding" data-severity=severity(finding.severity) data-code=finding.code>
            <h3>{word} {tests}</h3>
            <p>{finding.says}</p>
            <p class="do">{finding.action}</p>
            {source}
        </article>
    }
}

/// A table that is moved sideways by itself where the screen is narrow.
fn numbers(name: String, table: Table, asks: Option<&Asks>) -> impl IntoView + use<> {
    let words = table.word_columns;
    let class = move |column: usize| (column >= words).then_some("number");
    let asked = |row: usize, column: usize| {
        let asks = asks?;
        let spot = Spot::Cell {
            table: &table,
            row,
            column,
        };
        Some((asks.origin(spot)?, asks.ask))
    };
    let cell = |row: usize, column: usize, text: &String| {
        match asked(row, column) {
        Some((origin, ask)) if text != NOTHING => view! {
            <td class=class(column)><button type="button" class="plain" on:click=move |_| ask.run(origin.clone())>{text.clone()}</button></td>
        }
        .into_any(),
        _ => view! { <td class=class(column)>{text.clone()}</td> }.into_any(),
    }
    };
    let row = |(row, cells): (usize, &Vec<String>)| {
        let cells = cells
            .iter()
            .enumerate()
            .map(|(column, text)| cell(row, column, text));
        view! { <tr>{cells.collect_view()}</tr> }
    };
    let rows = table.rows.iter().enumerate().map(row).collect_view();
    // A column without a name has no heading: an empty one would be read out as one.
    let heading = move |(column, text): (usize, &String)| match text.as_str() {
        "" => view! { <td></td> }.into_any(),
        text => view! { <th scope="col" class=class(column)>{text.to_owned()}</th> }.into_any(),
    };
    let head = (!table.headings.is_empty()).then(|| {
        view! { <thead><tr>{table.headings.iter().enumerate().map(heading).collect_view()}</tr></thead> }
    });
    view! {
        <div class="wide" role="region" tabindex="0" aria-label=name>
            <table>{head}<tbody>{rows}</tbody></table>
        </div>
    }
}

/// What stands where there is no number.
const NOTHING: &str = "–";
