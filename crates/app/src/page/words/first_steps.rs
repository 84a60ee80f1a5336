//! The way to the first own test.

use super::{Phrase, here, phrase};
use app::first_steps::{ENOUGH_STEPS, Step};
use document::say;

pub(in crate::page) const TITLE: Phrase = phrase!("Your first test in five steps");
pub(in crate::page) const DONE: Phrase = phrase!("done");
pub(in crate::page) const NOW: Phrase = phrase!("next");

/// What a step is called.
pub(in crate::page) fn name(step: Step) -> Phrase {
    match step {
        Step::Site => phrase!("Make a site"),
        Step::Test => phrase!("Start a test"),
        Step::Read => phrase!("Read the first speed"),
        Step::StepOn => phrase!("Step down, speed by speed"),
        Step::Result => phrase!("End the test"),
    }
}

/// What is done in a step.
pub(in crate::page) fn means(step: Step) -> String {
    match step {
        Step::Site => {
            say!(here(), "A name and the pump's highest speed are enough. The rest can wait.").to_owned()
        }
        Step::Test => {
            say!(here(), "Read the cautions, and say which lines are shut and what you read with.").to_owned()
        }
        Step::Read => {
            say!(here(), "Run the highest speed. When the displays hold still, type what they show. Leave empty what you cannot read.").to_owned()
        }
        Step::StepOn => say!(here(), "“Next step” proposes the next speed. With {count} speeds the readings can be held against each other.", count = ENOUGH_STEPS),
        Step::Result => {
            say!(here(), "At last the pump at rest, if you can. Then everything back as found, and the result.").to_owned()
        }
    }
}

/// Says where on the way a person is, in a line.
pub(in crate::page) fn place(number: usize, step: Step) -> String {
    say!(
        here(),
        "Step {number} of {all}: {name}",
        number,
        all = Step::ALL.len(),
        name = name(step)
    )
}

/// Says how many speeds are still to be read.
pub(in crate::page) fn speeds_left(count: usize) -> String {
    match count {
        0 => say!(
            here(),
            "Enough speeds are read. More make the answer surer."
        )
        .to_owned(),
        1 => say!(here(), "One more speed.").to_owned(),
        count => say!(here(), "{count} more speeds.", count),
    }
}
