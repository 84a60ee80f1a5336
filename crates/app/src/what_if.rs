//! What a person may try out on a pad: the bore of the returns and the filter, which change the pad, and the turnover and
//! the price of energy, which change what is asked of it. The change becomes a file as `compare` takes it.

mod catalogue;
mod file;
mod neighbours;

pub use neighbours::neighbours;

pub use catalogue::{Sliders, sliders};
pub use file::{change_name, change_text};

use records::{Site, Turnover};
use serde::{Deserialize, Serialize};

/// What is tried out. The default changes nothing.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Choice {
    /// The nominal size of every pipe of the returns; `None` leaves them.
    pub bore: Option<String>,
    /// The filter.
    pub filter: FilterState,
    /// Turnovers a day; `None` asks for what the site states.
    pub turnovers: Option<f64>,
    /// The price of energy in per cent of the tariff; `None` takes the tariff as it is.
    pub price_percent: Option<u32>,
    /// The text of a change that is kept, in place of the bore and the filter here.
    pub kept: Option<String>,
}

/// How the filter is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum FilterState {
    /// Clean.
    Clean,
    /// As it was in the test.
    #[default]
    AsTested,
    /// It takes one and a half times what the maker says of a clean one.
    HalfMore,
    /// It takes twice as much.
    Double,
    /// It takes three times as much.
    Triple,
}

impl FilterState {
    /// Every state, from clean to loaded.
    pub const ALL: [Self; 5] = [
        Self::Clean,
        Self::AsTested,
        Self::HalfMore,
        Self::Double,
        Self::Triple,
    ];

    /// How many times the drop of a clean filter it takes, where that is stated and not tested.
    pub fn times(self) -> Option<f64> {
        match self {
            Self::Clean | Self::AsTested => None,
            Self::HalfMore => Some(1.5),
            Self::Double => Some(2.0),
            Self::Triple => Some(3.0),
        }
    }
}

impl Choice {
    /// The same asked of the pad as it is.
    #[must_use]
    pub fn without_change(&self) -> Self {
        Self {
            turnovers: self.turnovers,
            price_percent: self.price_percent,
            ..Self::default()
        }
    }

    /// The site with what is asked of it: another turnover, other prices. The pad itself stays.
    pub fn asked_of(&self, site: &Site) -> Site {
        let mut site = site.clone();
        if let Some(per_day) = self.turnovers {
            let text = format!("{per_day} per day");
            site.operation.turnover = Some(Turnover { text, per_day });
        }
        if let Some(percent) = self.price_percent {
            for block in &mut site.operation.tariff {
                block.price.si *= f64::from(percent) / 100.0;
            }
        }
        site
    }
}
