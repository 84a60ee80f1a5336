//! Help in the words of the trade, and what the page is.

use super::ui::titled;
use super::words::{Phrase, help as words, here};
use document::cautions::CAUTIONS;
use document::language::said;
use leptos::prelude::*;

/// The screen.
#[component]
pub(super) fn Help() -> impl IntoView {
    titled(|| words::TITLE.to_string());
    let section = |(title, lines): (Phrase, &'static [Phrase])| {
        view! {
            <h2>{title}</h2>
            <ul>{lines.iter().map(|line| view! { <li>{*line}</li> }).collect_view()}</ul>
        }
    };
    view! {
        <h1>{words::TITLE}</h1>
        {words::SECTIONS.map(section).collect_view()}
        <h2>{words::CAUTIONS}</h2>
        <ul>{CAUTIONS.map(|caution| view! { <li>{said(here(), caution)}</li> }).collect_view()}</ul>
        <p class="fine">{words::version()}</p>
    }
}
