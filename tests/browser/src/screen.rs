//! What the browser looks like to the page.

use serde_json::{Value, json};

/// A screen.
#[derive(Clone, Copy, Debug)]
pub struct Screen {
    /// What it is called in the names of pictures.
    pub name: &'static str,
    /// Its width in CSS pixels.
    pub width: u32,
    /// Its height in CSS pixels.
    pub height: u32,
    /// What it is part of.
    pub kind: Kind,
}

/// What a screen is part of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A device that is touched.
    Phone,
    /// A window that is pointed into.
    Desk,
}

/// Which colours the person likes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scheme {
    /// Dark on light.
    Light,
    /// Light on dark.
    Dark,
}

impl Scheme {
    /// Returns the word of the media feature.
    pub fn word(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::Dark => "dark",
        }
    }
}

impl Screen {
    /// A phone held upright.
    pub const PHONE: Self = Self {
        name: "phone",
        width: 390,
        height: 844,
        kind: Kind::Phone,
    };
    /// A window on a desk.
    pub const DESK: Self = Self {
        name: "desk",
        width: 1440,
        height: 900,
        kind: Kind::Desk,
    };

    /// Returns what the driver must be asked for, with what the browser is told besides.
    pub(crate) fn capabilities(self, more: &[String]) -> Value {
        // Without a sandbox, because tests may run as root, and it is our own page that is opened.
        let mut arguments = vec![
            "--headless".to_owned(),
            "--no-sandbox".to_owned(),
            "--disable-dev-shm-usage".to_owned(),
            "--hide-scrollbars".to_owned(),
        ];
        arguments.extend_from_slice(more);
        let is_phone = self.kind == Kind::Phone;
        let metrics = json!({
            "width": self.width,
            "height": self.height,
            "pixelRatio": if is_phone { 2 } else { 1 },
            "touch": is_phone,
            "mobile": is_phone,
        });
        json!({ "capabilities": { "alwaysMatch": {
            "browserName": "chrome",
            "goog:chromeOptions": {
                "args": arguments,
                "mobileEmulation": { "deviceMetrics": metrics },
            },
            "goog:loggingPrefs": { "performance": "ALL", "browser": "ALL" },
        }}})
    }
}
