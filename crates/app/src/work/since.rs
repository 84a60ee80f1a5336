//! What changed since the first of the tests, as `track` answers it.

use super::day::drawn;
use super::{Answer, Given, Known, Refused, Told};
use crate::parts::parts;
use document::track;

pub(super) fn since(given: Given<'_>) -> Answer {
    let Known {
        site,
        tests,
        analysis,
    } = given.known;
    let found = match fieldtest::follow_up(site, tests, analysis, 0) {
        Ok(found) => found,
        Err(why) => {
            let (says, hint) = track::refusal(&why, given.printing);
            return Answer::Refused(Refused {
                says,
                hint: Some(hint),
                lies_in_site: false,
            });
        }
    };
    let figure = track::figure(site, &found, given.printing);
    Answer::Told(Told {
        parts: parts(track::content(site, &found, given.printing)),
        figures: figure
            .into_iter()
            .filter_map(|figure| drawn(given, figure))
            .collect(),
        json: track::json(site, &found, given.printing),
    })
}
