//! The circuit and its parts.

use records::Problem;

pub(in crate::page) const TITLE: &str = "The circuit";
pub(in crate::page) const LEAD: &str = "Tap a line to shut or open it here and see what flows then. No valve, test or file changes by it. At the pad, move a valve only with the pump stopped, and always leave a way back to the pool.";
pub(in crate::page) const SPEED: &str = "Pump speed";
pub(in crate::page) const COMPUTED: &str =
    "Computed from the plumbing that the site file states and the maker's curve, not measured.";
pub(in crate::page) const LINES: &str = "Lines and their parts";
pub(in crate::page) const SHUT: &str = "Shut here";
pub(in crate::page) const ADD_PART: &str = "Add a part";
pub(in crate::page) const KIND: &str = "Kind of part";
pub(in crate::page) const DONE: &str = "Done";
pub(in crate::page) const EARLIER: &str = "Move up";
pub(in crate::page) const LATER: &str = "Move down";
pub(in crate::page) const TAKE_OUT: &str = "Take out";
pub(in crate::page) const NOT_SAID: &str = "not said";

pub(in crate::page) fn slower(by_rpm: f64) -> String {
    format!("Slower by {by_rpm:.0} rpm")
}

pub(in crate::page) fn faster(by_rpm: f64) -> String {
    format!("Faster by {by_rpm:.0} rpm")
}

/// Says why the pad is not solved.
pub(in crate::page) fn not_solved(says: &str) -> String {
    format!("Not solved: {says}.")
}

/// Makes a sentence of a hint.
pub(in crate::page) fn sentence(hint: &str) -> String {
    format!("{}.", super::test::column(hint))
}

/// Names the button of a part.
pub(in crate::page) fn change(part: &str) -> String {
    format!("{part}: change it")
}

/// Heads the form of a part.
pub(in crate::page) fn part_of(line: &str) -> String {
    format!("A part of {line}")
}

/// Says where a part stands in its line.
pub(in crate::page) fn position(part: usize, of: usize) -> String {
    format!("Part {} of {of}, in the direction of flow.", part + 1)
}

/// Says that a field takes a number.
pub(in crate::page) fn no_number(key: &str) -> String {
    format!("{}: expected a number.", field(key).0)
}

/// Says what is wrong in a site file, without its place, which the form is not.
pub(in crate::page) fn problem(problem: Problem) -> String {
    match problem.hint {
        Some(hint) => format!("{}; {hint}", problem.message),
        None => problem.message,
    }
}

/// What a kind of part is called.
pub(in crate::page) fn kind(key: &str) -> &'static str {
    match key {
        "pipe" => "pipe, by its size",
        "pipe_bore" => "pipe, by its inside diameter",
        "fitting" => "fitting",
        "valve" => "valve",
        "tee" => "tee",
        "filter" => "filter",
        "heater" => "heater",
        "check_valve" => "check valve",
        "cell" => "chlorine cell",
        "outlet" => "outlet into the water",
        "skimmer" => "skimmer",
        "cover" => "suction cover",
        "basket" => "strainer basket",
        "reducer" => "change of size",
        "solar" => "solar panels",
        "spillover" => "spillover",
        "flow_meter" => "flow meter in the pipe",
        _ => "loss by its K",
    }
}

/// What a field asks, and an example.
pub(in crate::page) fn field(key: &str) -> (&'static str, &'static str) {
    match key {
        "pipe" | "size" => ("Size", "such as 2 in"),
        "spec" => ("Kind of pipe", ""),
        "length" => ("Length", "such as 46 ft"),
        "count" => ("How many", "1"),
        "fitting" => ("Which fitting", ""),
        "valve" => ("Which valve", ""),
        "open" => ("How far open", "such as 50 %; empty: fully"),
        "tee" => ("Way through", ""),
        "filter" => ("Kind of filter", "such as cartridge"),
        "area" => ("Filter area", "such as 150 ft2"),
        "clean.flow" => ("Clean: at a flow of", "such as 60 gpm"),
        "clean.drop" => ("Clean: drop then", "such as 2.4 psi"),
        "at.flow" => ("Maker's point: flow", "such as 60 gpm"),
        "at.drop" => ("Maker's point: drop", "such as 1.5 psi"),
        "min_flow" => ("Least flow", "such as 35 gpm"),
        "max_flow" => ("Highest flow", "such as 120 gpm"),
        "max_pressure" => ("Rated pressure", "such as 50 psi"),
        "heater" => ("Kind of heater", "such as gas"),
        "check_valve" => ("Kind of check valve", "such as spring"),
        "cracking" => ("Pressure that opens it", "such as 0.5 psi"),
        "kv" => ("Kv: flow at a drop of 1 bar", "such as 60 m3/h"),
        "cell" => ("Kind of cell", "such as salt"),
        "outlet" => ("Kind of outlet", "such as eyeball"),
        "bore" => ("Opening", "such as 0.75 in"),
        "skimmer" => ("What is in it", "such as basket"),
        "cover" => ("Where it sits", ""),
        "rating" => ("Printed flow of one", "such as 120 gpm"),
        "basket" => ("Kind of basket", "such as pump"),
        "reducer" => ("Size behind it", "such as 1.5 in"),
        "solar" => ("Kind of panels", "such as panel"),
        "height" => ("Height above the water", "such as 12 ft"),
        "spillover" => ("What it falls over", "such as edge"),
        "flow_meter" => ("Kind of meter", "such as paddle"),
        "pipe_bore" => ("Inside diameter", "such as 2.05 in"),
        "roughness" => ("Roughness of the wall", "such as 0.0015 mm"),
        _ => ("K, on the velocity of the pipe before it", "such as 4.2"),
    }
}
