//! The figures of an answer, drawn into the page and coloured by its style sheets.
//!
//! A figure that is in sight follows every keystroke, and of it only the marks that moved are touched. The others follow
//! once typing rests: nobody sees them, and the thumb does not wait for them.

use super::seen::in_sight;
use app::answer::{Answered, PageFigure};
use app::marks::{Change, Place, changes};
use charts::Size;
use leptos::html;
use leptos::prelude::*;
use std::sync::Arc;
use std::time::Duration;
use web_sys::Element;

/// How long typing rests before the figures out of sight follow.
const REST: Duration = Duration::from_millis(400);

/// The figures, whenever the answer changes; narrow ones, which a phone shows as large as they are. The last test's come
/// first.
#[component]
pub(super) fn Figures(
    #[prop(into)] answered: Signal<Option<Arc<Answered>>>,
    size: Size,
    /// The quantities to draw; the others are left out.
    only: &'static [&'static str],
) -> impl IntoView {
    let rested = rested(answered);
    let names = Memo::new(move |_| {
        rested.with(|answered| {
            let figures = answered.as_ref().map(|answered| answered.figures(only));
            let names = figures.into_iter().flatten().map(|figure| figure.name);
            names.collect::<Vec<_>>()
        })
    });
    let slot = move |name: String| view! { <Slot answered rested=rested.into() size name/> };
    view! { <div class="figures"><For each=move || names.get() key=Clone::clone children=slot/></div> }
}

/// The answer as it was when typing last rested; the first one at once.
fn rested(answered: Signal<Option<Arc<Answered>>>) -> RwSignal<Option<Arc<Answered>>> {
    let rested = RwSignal::new(answered.get_untracked());
    let waiting = StoredValue::new(None::<TimeoutHandle>);
    Effect::new(move |_| {
        let now = answered.get();
        if rested.with_untracked(Option::is_none) {
            rested.set(now);
            return;
        }
        if let Some(before) = waiting.get_value() {
            before.clear();
        }
        let follow = move || {
            if let Some(now) = answered.try_get_untracked() {
                let _ = rested.try_set(now);
            }
        };
        waiting.set_value(set_timeout_with_handle(follow, REST).ok());
    });
    rested
}

/// One figure: it keeps its place in the document while what it shows changes.
#[component]
fn Slot(
    answered: Signal<Option<Arc<Answered>>>,
    rested: Signal<Option<Arc<Answered>>>,
    size: Size,
    name: String,
) -> impl IntoView {
    let quantity = name.rsplit('-').next().unwrap_or_default().to_owned();
    let place: NodeRef<html::Figure> = NodeRef::new();
    let sight = in_sight(place);
    let asked = quantity.clone();
    // Most readings change some of the figures only: one that shows the same is not drawn again.
    let figure = Memo::new(move |_| {
        let source = if sight.get() { answered } else { rested };
        source.with(|answered| {
            let figures = answered.as_ref()?.figures(&[&asked]);
            figures.into_iter().find(|figure| figure.name == name)
        })
    });
    let shown = StoredValue::new_local(String::new());
    Effect::new(move |_| {
        let Some(place) = place.get() else { return };
        let svg = figure.with(|figure| svg(figure.as_ref(), size));
        shown.update_value(|shown| draw(&place, shown, svg));
    });
    view! { <figure class="figure" data-quantity=quantity node_ref=place></figure> }
}

fn svg(figure: Option<&PageFigure>, size: Size) -> String {
    figure
        .and_then(|figure| figure.svg(size))
        .unwrap_or_default()
}

/// Shows a drawing in place of the one that is shown.
fn draw(place: &Element, shown: &mut String, wanted: String) {
    if *shown == wanted {
        return;
    }
    let moved = place.first_element_child().and_then(|drawing| {
        let changes = changes(shown, &wanted)?;
        changes
            .iter()
            .try_for_each(|change| move_one(&drawing, change))
    });
    if moved.is_none() {
        place.set_inner_html(&wanted);
    }
    *shown = wanted;
}

/// Does one thing to a drawing; `None` where the document is not as it should be, and is then drawn anew.
fn move_one(drawing: &Element, change: &Change) -> Option<()> {
    match change {
        Change::Attribute { place, name, value } => {
            element(drawing, *place)?.set_attribute(name, value).ok()
        }
        Change::Text { place, text } => {
            element(drawing, *place)?.set_text_content(Some(text));
            Some(())
        }
        Change::Replace { place, svg } => {
            element(drawing, *place)?.set_outer_html(svg);
            Some(())
        }
        Change::Append { group, svg } => {
            let whole = group_of(drawing, *group)?;
            whole.insert_adjacent_html("beforeend", svg).ok()
        }
        Change::Remove { group, count } => {
            let whole = group_of(drawing, *group)?;
            (0..*count).try_for_each(|_| {
                whole.last_element_child()?.remove();
                Some(())
            })
        }
    }
}

fn group_of(drawing: &Element, group: Option<usize>) -> Option<Element> {
    match group {
        Some(at) => child(drawing, at),
        None => Some(drawing.clone()),
    }
}

fn element(drawing: &Element, place: Place) -> Option<Element> {
    let outer = child(drawing, place.at)?;
    match place.within {
        Some(within) => child(&outer, within),
        None => Some(outer),
    }
}

fn child(of: &Element, at: usize) -> Option<Element> {
    of.children().item(u32::try_from(at).ok()?)
}

/// Every quantity that has a figure.
pub(super) const ALL: &[&str] = &["flow", "power", "energy", "head"];
