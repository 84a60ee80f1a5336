//! The screens, and which of them is shown. No address changes: the page is one document and works from any folder.

use leptos::prelude::*;

/// A screen of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Screen {
    /// What the engine makes of the demo.
    Demo,
    /// What the page is and how it is kept on a phone.
    About,
}

impl Screen {
    /// All of them, in the order of the menu.
    pub(super) const ALL: [Self; 2] = [Self::Demo, Self::About];

    /// Its word in the menu.
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Demo => "Demo",
            Self::About => "About",
        }
    }
}

/// Makes the signal of the screen shown, known to everything below as `RwSignal<Screen>`.
pub(super) fn provide() -> RwSignal<Screen> {
    let screen = RwSignal::new(Screen::Demo);
    provide_context(screen);
    screen
}
