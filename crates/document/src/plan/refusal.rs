//! Why there is no test to plan.

use super::words::{broken, minutes};
use crate::language::say;
use crate::names;
use crate::number;
use crate::units::Printing;
use crate::words::Words;
use fieldtest::NoPlan;

/// Says why there is no test to plan.
pub fn refusal(problem: &NoPlan, printing: Printing) -> Words {
    match problem {
        NoPlan::TooLittleTime {
            have_s,
            needed_s,
            speeds,
        } => Words {
            says: say!(
                printing,
                "{have} is too short for a test: {speeds} speeds, one of them again, with preparing, climb and putting back take {needed}; with fewer there is no law of power and no fixed draw",
                have = minutes(*have_s, printing),
                speeds,
                needed = minutes(*needed_s, printing)
            ),
            action: say!(
                printing,
                "plan {needed} or more",
                needed = minutes(*needed_s, printing)
            ),
            source: None,
        },
        NoPlan::NoOpenWay { end } => Words {
            says: say!(
                printing,
                "no open way joins the {end} to the water, so that the pump must not run",
                end = names::name(end, printing)
            ),
            action: say!(
                printing,
                "open a line: a pump is never run against shut valves"
            )
            .to_owned(),
            source: None,
        },
        NoPlan::AllThrottled { end } => Words {
            says: say!(
                printing,
                "every way between the {end} and the water passes a part-open valve, so that neither flow nor pressure is known beforehand",
                end = names::name(end, printing)
            ),
            action: say!(
                printing,
                "open one way fully; the suction is never throttled"
            )
            .to_owned(),
            source: None,
        },
        NoPlan::NoRoom {
            low_rpm,
            high_rpm,
            limit,
        } => {
            let low = number::rpm(printing, *low_rpm);
            let why = limit.as_ref().map_or_else(String::new, |limit| {
                say!(
                    printing,
                    ", above which {limit}",
                    limit = broken(limit, printing)
                )
            });
            let says = if *high_rpm > 0.0 {
                say!(
                    printing,
                    "between {low} rpm and {high} rpm{why}, there is no room for three steps that tell anything",
                    low,
                    high = number::rpm(printing, *high_rpm),
                    why
                )
            } else {
                let limit = limit.as_ref().map_or_else(String::new, |limit| {
                    format!(": {}", broken(limit, printing))
                });
                say!(
                    printing,
                    "not even the lowest speed, {low} rpm, is allowed{limit}",
                    low,
                    limit
                )
            };
            Words {
                says,
                action: say!(printing, "check the rating, the speeds and the plumbing in the site file; never test beyond a rating").to_owned(),
                source: None,
            }
        }
    }
}
