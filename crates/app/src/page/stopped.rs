//! What is shown when the program has met a bug of its own: where the readings are, and what to do.
//!
//! The words stand in `index.html`, since a program that stopped can write none; this only uncovers them.

use leptos::prelude::document;

const NOTICE: &str = "stopped";
const WHY: &str = "stopped-why";

/// Shows the notice whenever the program stops.
pub(super) fn install() {
    std::panic::set_hook(Box::new(|panic| show(&panic.to_string())));
}

/// Uncovers the notice and writes what happened below it.
pub(super) fn show(why: &str) {
    let document = document();
    if let Some(element) = document.get_element_by_id(WHY) {
        element.set_text_content(Some(why));
    }
    if let Some(notice) = document.get_element_by_id(NOTICE) {
        // Where the notice cannot be uncovered there is nobody left to tell.
        let _ = notice.remove_attribute("hidden");
    }
}
