//! The figures of an answer, drawn into the page and coloured by its style sheets.

use app::answer::Answered;
use charts::Size;
use leptos::prelude::*;
use std::sync::Arc;

/// The figures, whenever the answer changes; narrow ones, which a phone shows as large as they are. The last test's come
/// first.
#[component]
pub(super) fn Figures(
    #[prop(into)] answered: Signal<Option<Arc<Answered>>>,
    size: Size,
    /// The quantities to draw; the others are left out.
    only: &'static [&'static str],
) -> impl IntoView {
    let drawn = Memo::new(move |_| {
        answered.with(|answered| {
            let figures = answered.as_ref().map(|answered| answered.figures(only));
            let drawn = figures.into_iter().flatten().filter_map(|figure| {
                let svg = figure.svg(size)?;
                Some((figure.name, svg))
            });
            drawn.collect::<Vec<_>>()
        })
    });
    let names = move || {
        drawn.with(|drawn| {
            drawn
                .iter()
                .map(|(name, _)| name.clone())
                .collect::<Vec<_>>()
        })
    };
    // A figure keeps its place in the document while what it shows changes.
    let slot = move |name: String| {
        let quantity = name.rsplit('-').next().unwrap_or_default().to_owned();
        let svg = Memo::new(move |_| {
            drawn.with(|drawn| {
                let found = drawn.iter().find(|(other, _)| *other == name);
                found.map(|(_, svg)| svg.clone()).unwrap_or_default()
            })
        });
        view! { <figure class="figure" data-quantity=quantity inner_html=move || svg.get()></figure> }
    };
    view! { <div class="figures"><For each=names key=Clone::clone children=slot/></div> }
}

/// Every quantity that has a figure.
pub(super) const ALL: &[&str] = &["flow", "power", "energy", "head"];
