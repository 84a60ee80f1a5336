//! The screens, and which of them is shown. The address changes in its fragment alone: the page is one document, works
//! from any folder, comes back to the same screen when it is loaded again, and lets the device's own "back" work.

use super::browser;
use super::words::shell as words;
use app::library::{Id, Library};
use leptos::ev;
use leptos::prelude::*;

/// A screen of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Screen {
    /// The list of sites.
    Sites,
    /// The form of a new site.
    NewSite,
    /// One site: its tests and what they said.
    Site(Id),
    /// What a site file says, as a form and as a text.
    EditSite(Id),
    /// A test while it is done.
    Test(Id),
    /// What came of a test.
    Result(Id),
    /// The report of a test, before it is handed over.
    Report(Id),
    /// How the page looks and speaks.
    Settings,
    /// Help, and what the page is.
    Help,
}

impl Screen {
    fn fragment(&self) -> String {
        match self {
            Self::Sites => "#sites".to_owned(),
            Self::NewSite => "#new-site".to_owned(),
            Self::Site(id) => format!("#site/{}", id.0),
            Self::EditSite(id) => format!("#edit/{}", id.0),
            Self::Test(id) => format!("#test/{}", id.0),
            Self::Result(id) => format!("#result/{}", id.0),
            Self::Report(id) => format!("#report/{}", id.0),
            Self::Settings => "#settings".to_owned(),
            Self::Help => "#help".to_owned(),
        }
    }

    /// The site whose tests a screen shows something of; `None` where it shows none.
    pub(super) fn site(&self, library: &Library) -> Option<Id> {
        match self {
            Self::Site(id) => Some(id.clone()),
            Self::Test(id) | Self::Result(id) | Self::Report(id) => library.site_of(id).cloned(),
            Self::Sites | Self::NewSite | Self::EditSite(_) | Self::Settings | Self::Help => None,
        }
    }

    /// The screen of an address; the list of sites where it names none.
    fn of(fragment: &str) -> Self {
        let (word, id) = fragment.split_once('/').unwrap_or((fragment, ""));
        let id = Id(id.to_owned());
        match word {
            "#new-site" => Self::NewSite,
            "#site" => Self::Site(id),
            "#edit" => Self::EditSite(id),
            "#test" => Self::Test(id),
            "#result" => Self::Result(id),
            "#report" => Self::Report(id),
            "#settings" => Self::Settings,
            "#help" => Self::Help,
            _ => Self::Sites,
        }
    }
}

/// Which screen is shown, and how another comes.
#[derive(Clone, Copy)]
pub(super) struct Route {
    screen: RwSignal<Screen>,
}

impl Route {
    /// The screen that is shown.
    pub(super) fn get(self) -> Screen {
        self.screen.get()
    }

    /// Shows a screen; "back" comes back to this one.
    pub(super) fn go(self, to: Screen) {
        browser::push_fragment(&to.fragment());
        self.show(to);
    }

    /// Shows a screen in place of this one, which "back" then does not know.
    pub(super) fn replace(self, to: Screen) {
        browser::replace_fragment(&to.fragment());
        self.show(to);
    }

    fn show(self, to: Screen) {
        if self.screen.get_untracked() != to {
            self.screen.set(to);
            browser::start_of_screen();
        }
    }
}

/// Makes the route, known to everything below as [`Route`].
pub(super) fn provide() -> Route {
    let screen = RwSignal::new(Screen::of(&browser::fragment()));
    let route = Route { screen };
    provide_context(route);
    for event in ["popstate", "hashchange"] {
        let handle = window_event_listener_untyped(event, move |_: ev::Event| {
            route.show(Screen::of(&browser::fragment()));
        });
        on_cleanup(move || handle.remove());
    }
    route
}

/// The route that is known here.
pub(super) fn route() -> Route {
    expect_context()
}

/// Calls the window after what it shows.
pub(super) fn title(what: &str) {
    document().set_title(&format!("{what} · {}", words::NAME));
}
