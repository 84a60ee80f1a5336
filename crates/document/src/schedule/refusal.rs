//! Why there is no plan, and the mend.

use crate::language::say;
use crate::units::Printing;
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
pub fn refusal(no_plan: &NoPlan, printing: Printing) -> Refusal {
    let of = |lies_in, message: &str, hint: &str| Refusal {
        message: message.to_owned(),
        hint: (!hint.is_empty()).then(|| hint.to_owned()),
        lies_in,
    };
    let (file, readings) = (LiesIn::SiteFile, LiesIn::Readings);
    match no_plan {
        NoPlan::NoVolume => of(
            file,
            say!(
                printing,
                "[operation] has a turnover, and [water] no volume; expected both"
            ),
            say!(printing, "write volume = \"18500 gal\" below [water]"),
        ),
        NoPlan::NothingAsked => of(
            file,
            say!(
                printing,
                "[operation] asks for nothing: neither a turnover nor a task"
            ),
            say!(
                printing,
                "write turnover = \"1 per day\", or tasks = [ { name = \"skimming\", min_flow = \"30 gpm\", hours = 4 } ]"
            ),
        ),
        NoPlan::NoTariff => of(
            file,
            say!(printing, "[operation] has no tariff; least cost needs one"),
            say!(
                printing,
                "write tariff = [ { price = \"0.24 USD/kWh\" } ], or ask for --least energy"
            ),
        ),
        NoPlan::Offer(offer) => no_offer(offer, printing),
        NoPlan::Problem(error) => of(
            file,
            &say!(printing, "the day cannot be planned: {error}", error),
            say!(printing, "take longer slots, or fewer tasks"),
        ),
        NoPlan::Broken(_) => of(
            readings,
            say!(
                printing,
                "the day that was found breaks rules when it is replayed, and is not given"
            ),
            say!(printing, "tell the makers of this program"),
        ),
    }
}

fn no_offer(offer: &NoOffer, printing: Printing) -> Refusal {
    let (message, hint) = match offer {
        NoOffer::NoTest => (
            say!(printing, "there is no test").to_owned(),
            say!(printing, "name a step test"),
        ),
        NoOffer::NoFlowLaw { test } => (
            say!(
                printing,
                "test {test} gives no law of flow: too few trusted steps with a flow",
                test
            ),
            say!(
                printing,
                "read the flow at three speeds or more; `analyze` says what is missing"
            ),
        ),
        NoOffer::NoPowerLaw { test } => (
            say!(
                printing,
                "test {test} gives no law of power: too few trusted steps with a power",
                test
            ),
            say!(
                printing,
                "read the power at three speeds or more; `analyze` says what is missing"
            ),
        ),
        NoOffer::NoTestOfLineUp { lineup } => (
            say!(
                printing,
                "a task needs valves as no test has them ({lineup})",
                lineup
            ),
            say!(
                printing,
                "step the pump with these lines shut, and name that test too"
            ),
        ),
        NoOffer::NoSpeed => (
            say!(
                printing,
                "no speed that may be set lies within the steps of the test and the limits"
            )
            .to_owned(),
            say!(
                printing,
                "test more speeds, or look at the limits that `analyze` lists"
            ),
        ),
    };
    Refusal {
        message,
        hint: Some(hint.to_owned()),
        lies_in: LiesIn::Readings,
    }
}
