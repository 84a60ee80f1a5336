//! The circuit and its parts.

use super::{Phrase, here, phrase, rpm};
use app::plumbing::EditError;
use document::problems::{hint, said};
use document::say;
use records::Problem;

pub(in crate::page) const TITLE: Phrase = phrase!("The circuit");
pub(in crate::page) const LEAD: Phrase = phrase!(
    "Tap a line to shut or open it here and see what flows then. No valve, test or file changes by it. At the pad, move a valve only with the pump stopped, and always leave a way back to the pool."
);
pub(in crate::page) const SPEED: Phrase = phrase!("Pump speed");
pub(in crate::page) const COMPUTED: Phrase = phrase!(
    "Computed from the plumbing that the site file states and the maker's curve, not measured."
);
pub(in crate::page) const LINES: Phrase = phrase!("Lines and their parts");
pub(in crate::page) const SHUT: Phrase = phrase!("Shut here");
pub(in crate::page) const ADD_PART: Phrase = phrase!("Add a part");
pub(in crate::page) const KIND: Phrase = phrase!("Kind of part");
pub(in crate::page) const DONE: Phrase = phrase!("Done");
pub(in crate::page) const EARLIER: Phrase = phrase!("Move up");
pub(in crate::page) const LATER: Phrase = phrase!("Move down");
pub(in crate::page) const TAKE_OUT: Phrase = phrase!("Take out");
pub(in crate::page) const NOT_SAID: Phrase = phrase!("not said");

pub(in crate::page) fn slower(by_rpm: f64) -> String {
    say!(here(), "Slower by {speed} rpm", speed = rpm(by_rpm))
}

pub(in crate::page) fn faster(by_rpm: f64) -> String {
    say!(here(), "Faster by {speed} rpm", speed = rpm(by_rpm))
}

/// Says why the pad is not solved.
pub(in crate::page) fn not_solved(says: &str) -> String {
    say!(here(), "Not solved: {says}.", says)
}

/// Makes a sentence of a hint.
pub(in crate::page) fn sentence(hint: &str) -> String {
    format!("{}.", super::test::capital(hint))
}

/// Names the button of a part.
pub(in crate::page) fn change(part: &str) -> String {
    say!(here(), "{part}: change it", part)
}

/// Heads the form of a part.
pub(in crate::page) fn part_of(line: &str) -> String {
    say!(here(), "A part of {line}", line)
}

/// Says where a part stands in its line.
pub(in crate::page) fn position(part: usize, of: usize) -> String {
    say!(
        here(),
        "Part {part} of {of}, in the direction of flow.",
        part = part + 1,
        of
    )
}

/// Says why a text cannot be changed.
pub(in crate::page) fn not_changed(error: &EditError) -> String {
    match error {
        EditError::NoNumber { key } => no_number(key),
        EditError::NoKind => say!(here(), "The part has no kind.").to_owned(),
        EditError::Text => say!(
            here(),
            "The text is not in order, or has no such part; change it as a text."
        )
        .to_owned(),
    }
}

/// Says that a field takes a number.
pub(in crate::page) fn no_number(key: &str) -> String {
    say!(here(), "{field}: expected a number.", field = field(key).0)
}

/// Says what is wrong in a site file, without its place, which the form is not.
pub(in crate::page) fn problem(problem: &Problem) -> String {
    let says = said(&problem.message, here());
    match hint(problem, here()) {
        Some(hint) => format!("{says}; {hint}"),
        None => says,
    }
}

/// What a kind of part is called.
pub(in crate::page) fn kind(key: &str) -> Phrase {
    match key {
        "pipe" => phrase!("pipe, by its size"),
        "pipe_bore" => phrase!("pipe, by its inside diameter"),
        "fitting" => phrase!("fitting"),
        "valve" => phrase!("valve"),
        "tee" => phrase!("tee"),
        "filter" => phrase!("filter"),
        "heater" => phrase!("heater"),
        "check_valve" => phrase!("check valve"),
        "cell" => phrase!("chlorine cell"),
        "outlet" => phrase!("outlet into the water"),
        "skimmer" => phrase!("skimmer"),
        "cover" => phrase!("suction cover"),
        "basket" => phrase!("strainer basket"),
        "reducer" => phrase!("change of size"),
        "solar" => phrase!("solar panels"),
        "spillover" => phrase!("spillover"),
        "flow_meter" => phrase!("flow meter in the pipe"),
        _ => phrase!("loss by its K"),
    }
}

/// What a field asks, and an example.
pub(in crate::page) fn field(key: &str) -> (Phrase, Phrase) {
    match key {
        "pipe" | "size" => (phrase!("Size"), phrase!("such as 2 in")),
        "spec" => (phrase!("Kind of pipe"), Phrase::NONE),
        "length" => (phrase!("Length"), phrase!("such as 46 ft")),
        "count" => (phrase!("How many"), phrase!("1")),
        "fitting" => (phrase!("Which fitting"), Phrase::NONE),
        "valve" => (phrase!("Which valve"), Phrase::NONE),
        "open" => (
            phrase!("How far open"),
            phrase!("such as 50 %; empty: fully"),
        ),
        "tee" => (phrase!("Way through"), Phrase::NONE),
        "filter" => (phrase!("Kind of filter"), phrase!("such as cartridge")),
        "area" => (phrase!("Filter area"), phrase!("such as 150 ft2")),
        "clean.flow" => (phrase!("Clean: at a flow of"), phrase!("such as 60 gpm")),
        "clean.drop" => (phrase!("Clean: drop then"), phrase!("such as 2.4 psi")),
        "at.flow" => (phrase!("Maker's point: flow"), phrase!("such as 60 gpm")),
        "at.drop" => (phrase!("Maker's point: drop"), phrase!("such as 1.5 psi")),
        "min_flow" => (phrase!("Least flow"), phrase!("such as 35 gpm")),
        "max_flow" => (phrase!("Highest flow"), phrase!("such as 120 gpm")),
        "max_pressure" => (phrase!("Rated pressure"), phrase!("such as 50 psi")),
        "heater" => (phrase!("Kind of heater"), phrase!("such as gas")),
        "check_valve" => (phrase!("Kind of check valve"), phrase!("such as spring")),
        "cracking" => (
            phrase!("Pressure that opens it"),
            phrase!("such as 0.5 psi"),
        ),
        "kv" => (
            phrase!("Kv: flow at a drop of 1 bar"),
            phrase!("such as 60 m3/h"),
        ),
        "cell" => (phrase!("Kind of cell"), phrase!("such as salt")),
        "outlet" => (phrase!("Kind of outlet"), phrase!("such as eyeball")),
        "bore" => (phrase!("Opening"), phrase!("such as 0.75 in")),
        "skimmer" => (phrase!("What is in it"), phrase!("such as basket")),
        "cover" => (phrase!("Where it sits"), Phrase::NONE),
        "rating" => (phrase!("Printed flow of one"), phrase!("such as 120 gpm")),
        "basket" => (phrase!("Kind of basket"), phrase!("such as pump")),
        "reducer" => (phrase!("Size behind it"), phrase!("such as 1.5 in")),
        "solar" => (phrase!("Kind of panels"), phrase!("such as panel")),
        "height" => (phrase!("Height above the water"), phrase!("such as 12 ft")),
        "spillover" => (phrase!("What it falls over"), phrase!("such as edge")),
        "flow_meter" => (phrase!("Kind of meter"), phrase!("such as paddle")),
        "pipe_bore" => (phrase!("Inside diameter"), phrase!("such as 2.05 in")),
        "roughness" => (
            phrase!("Roughness of the wall"),
            phrase!("such as 0.0015 mm"),
        ),
        _ => (
            phrase!("K, on the velocity of the pipe before it"),
            phrase!("such as 4.2"),
        ),
    }
}
