//! The way to the first own test.

use app::first_steps::{ENOUGH_STEPS, Step};

pub(in crate::page) const TITLE: &str = "Your first test in five steps";
pub(in crate::page) const DONE: &str = "done";
pub(in crate::page) const NOW: &str = "next";

/// What a step is called.
pub(in crate::page) fn name(step: Step) -> &'static str {
    match step {
        Step::Site => "Make a site",
        Step::Test => "Start a test",
        Step::Read => "Read the first speed",
        Step::StepOn => "Step down, speed by speed",
        Step::Result => "End the test",
    }
}

/// What is done in a step.
pub(in crate::page) fn means(step: Step) -> String {
    match step {
        Step::Site => {
            "A name and the pump's highest speed are enough. The rest can wait.".to_owned()
        }
        Step::Test => {
            "Read the cautions, and say which lines are shut and what you read with.".to_owned()
        }
        Step::Read => {
            "Run the highest speed. When the displays hold still, type what they show. Leave empty what you cannot read."
                .to_owned()
        }
        Step::StepOn => format!(
            "“Next step” proposes the next speed. With {ENOUGH_STEPS} speeds the readings can be held against each other."
        ),
        Step::Result => {
            "At last the pump at rest, if you can. Then everything back as found, and the result."
                .to_owned()
        }
    }
}

/// Says where on the way a person is, in a line.
pub(in crate::page) fn place(number: usize, step: Step) -> String {
    format!("Step {number} of {}: {}", Step::ALL.len(), name(step))
}

/// Says how many speeds are still to be read.
pub(in crate::page) fn speeds_left(count: usize) -> String {
    match count {
        0 => "Enough speeds are read. More make the answer surer.".to_owned(),
        1 => "One more speed.".to_owned(),
        count => format!("{count} more speeds."),
    }
}
