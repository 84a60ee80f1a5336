//! Prints what one pass of verdicts over a test of eleven rows costs: `cargo run --release -p app --example pass`.

#![expect(clippy::print_stdout, reason = "an example prints its figures")]

use app::demo;
use app::draft::{Edit, Place, Spot, TestDraft};
use app::verdict::verdicts;
use document::units::Printing;
use records::{Problem, UnitSystem, read_site};
use std::time::Instant;

/// Passes of each figure.
const PASSES: u32 = 200;

fn main() -> Result<(), Vec<Problem>> {
    let pad = demo::pad();
    let site = read_site(&pad.site)?;
    let printing = Printing {
        system: UnitSystem::Us,
    };
    for (name, files) in ["sound", "three faults"].iter().zip(&pad.tests) {
        let Ok(draft) = TestDraft::from_files(files) else {
            continue;
        };
        let mut times = Vec::new();
        for pass in 0..PASSES {
            // Another reading each time, as keystrokes bring.
            let edit = Edit::Set {
                place: Place {
                    row: 11,
                    spot: Spot::Cell(0),
                },
                text: format!("9{}.{}", pass % 7, pass % 10),
            };
            let start = Instant::now();
            let Ok(edited) = draft.edited(&edit) else {
                continue;
            };
            let verdicts = verdicts(&site, &edited, printing);
            times.push(start.elapsed());
            assert_eq!(verdicts.problems, []);
        }
        times.sort_unstable();
        println!(
            "{name}: median {:?}, slowest {:?} of {PASSES}",
            times[times.len() / 2],
            times[times.len() - 1]
        );
    }
    Ok(())
}
