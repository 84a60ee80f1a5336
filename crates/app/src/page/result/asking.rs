//! What the worker is asked by the views: the texts as they are typed, in the units and for the room of this screen.

use super::super::bench::Bench;
use super::super::browser;
use super::super::keeper::keeper;
use super::super::words::language;
use app::engine::Pad;
use app::library::{TestRecord, baseline};
use app::work::{Asked, Question, Room, Texts};
use leptos::prelude::*;

/// From this width on, in pixels, figures stand in a column of their own beside the words, and take this part of the width.
const BESIDE_FROM: f64 = 1156.0;
const COLUMN: f64 = 6.0 / 11.0;
/// What a wide figure takes with its frame and the margins, in pixels.
const WIDE: f64 = 810.0;

/// Which tests are asked of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Which {
    /// The one on the screen, and those that were chosen beside it.
    Chosen,
    /// All visits up to the one on the screen.
    Visits,
}

/// Puts a question together; it changes whenever the texts or the units do.
pub(super) fn asked(bench: Bench, which: Which, question: Question) -> Asked {
    let keeper = keeper();
    bench.view.track();
    let beside = bench.beside.get();
    let (site, _) = bench.site.get_value();
    let own = bench.id.get_value();
    let name = bench.with_draft(|draft| draft.name.clone());
    let tests = keeper.library.with_untracked(|library| {
        let is_asked = |test: &&TestRecord| match which {
            _ if test.id == own => true,
            Which::Chosen => beside.contains(&test.id),
            Which::Visits => test.name < name,
        };
        let files = |test: &TestRecord| {
            if test.id == own {
                bench.with_draft(|draft| draft.readable().files)
            } else {
                test.files()
            }
        };
        let tests = library.tests_of(&site.id).into_iter();
        let mut tests: Vec<&TestRecord> = tests.filter(is_asked).collect();
        let baseline = library
            .site(&site.id)
            .and_then(|site| baseline(library, site));
        if which == Which::Visits {
            // The others are held against the first of them.
            numerics::order::sort_by_key(&mut tests, |test| {
                baseline.is_none_or(|baseline| baseline.id != test.id)
            });
        }
        tests.into_iter().map(files).collect()
    });
    let pad = Pad {
        site: site.source(),
        tests,
    };
    Asked {
        pad: Texts::from(pad),
        units: keeper.settings.with(|settings| settings.units),
        language: language().tag().to_owned(),
        room: room(),
        question,
    }
}

/// The room of this screen.
pub(super) fn room() -> Room {
    let width = browser::width();
    let is_beside = width >= BESIDE_FROM;
    let column = if is_beside { COLUMN * width } else { width };
    if column < WIDE {
        Room::Narrow
    } else {
        Room::Wide
    }
}

/// How many visits there are up to the one on the screen.
pub(super) fn visits(bench: Bench) -> usize {
    let site = bench.site.with_value(|(site, _)| site.id.clone());
    let name = bench.with_draft(|draft| draft.name.clone());
    keeper().library.with_untracked(|library| {
        let tests = library.tests_of(&site).into_iter();
        tests.filter(|test| test.name <= name).count()
    })
}
