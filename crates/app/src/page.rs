//! What needs a browser: the screens, and what the page hears from and tells its surroundings.

mod bench;
mod browser;
mod circuit;
mod editing;
mod exporting;
mod figures;
mod first_steps;
mod guided;
mod help;
mod importing;
mod keeper;
mod letterhead;
mod network;
mod parts;
mod preferences;
mod problems;
mod report;
mod result;
mod route;
mod seen;
mod shell;
mod site;
mod sites;
mod stopped;
mod store;
mod stores;
mod tabs;
mod test;
mod ui;
mod undo;
mod update;
mod words;
mod worker;

use leptos::mount::mount_to;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The element that the page lives in; `index.html` has it.
const PLACE: &str = "app";

/// Starts the page.
pub(crate) fn start() {
    if worker::is_here() {
        worker::serve();
        return;
    }
    stopped::install();
    let place = document()
        .get_element_by_id(PLACE)
        .and_then(|element| element.dyn_into().ok());
    let Some(place) = place else {
        stopped::show("the page has no place to live in");
        return;
    };
    mount_to(place, shell::Shell).forget();
    update::tell(update::Work::None);
}
