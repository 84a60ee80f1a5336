//! Why there is no plan, and the mend.

use operation::{NoOffer, NoPlan};

/// Why there is no plan, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// What is missing or wrong.
    pub message: String,
    /// What to do.
    pub hint: Option<String>,
    /// Where the mend is.
    pub lies_in: LiesIn,
}

/// Where the mend of a refusal is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LiesIn {
    /// In the site file.
    SiteFile,
    /// In what was read on site.
    Readings,
}

/// Puts into English why there is no plan.
pub fn refusal(no_plan: &NoPlan) -> Refusal {
    let of = |lies_in, message: &str, hint: &str| Refusal {
        message: message.to_owned(),
        hint: (!hint.is_empty()).then(|| hint.to_owned()),
        lies_in,
    };
    let (file, readings) = (LiesIn::SiteFile, LiesIn::Readings);
    match no_plan {
        NoPlan::NoVolume => of(
            file,
            "[operation] has a turnover, and [water] no volume; expected both",
            "write volume = \"18500 gal\" below [water]",
        ),
        NoPlan::NothingAsked => of(
            file,
            "[operation] asks for nothing: neither a turnover nor a task",
            "write turnover = \"1 per day\", or tasks = [ { name = \"skimming\", min_flow = \"30 gpm\", hours = 4 } ]",
        ),
        NoPlan::NoTariff => of(
            file,
            "[operation] has no tariff; least cost needs one",
            "write tariff = [ { price = \"0.24 USD/kWh\" } ], or ask for --least energy",
        ),
        NoPlan::Offer(offer) => no_offer(offer),
        NoPlan::Problem(error) => of(
            file,
            &format!("the day cannot be planned: {error}"),
            "take longer slots, or fewer tasks",
        ),
        NoPlan::Broken(_) => of(
            readings,
            "the day that was found breaks rules when it is replayed, and is not given",
            "tell the makers of this program",
        ),
    }
}

fn no_offer(offer: &NoOffer) -> Refusal {
    let (message, hint) = match offer {
        NoOffer::NoTest => ("there is no test".to_owned(), "name a step test"),
        NoOffer::NoFlowLaw { test } => (
            format!("test {test} gives no law of flow: too few trusted steps with a flow"),
            "read the flow at three speeds or more; `analyze` says what is missing",
        ),
        NoOffer::NoPowerLaw { test } => (
            format!("test {test} gives no law of power: too few trusted steps with a power"),
            "read the power at three speeds or more; `analyze` says what is missing",
        ),
        NoOffer::NoTestOfLineUp { lineup } => (
            format!("a task needs valves as no test has them ({lineup})"),
            "step the pump with these lines shut, and name that test too",
        ),
        NoOffer::NoSpeed => (
            "no speed that may be set lies within the steps of the test and the limits".to_owned(),
            "test more speeds, or look at the limits that `analyze` lists",
        ),
    };
    Refusal {
        message,
        hint: Some(hint.to_owned()),
        lies_in: LiesIn::Readings,
    }
}
