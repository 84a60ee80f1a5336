//! The return visit on pads whose truth is known: what is named, what is accused, what is refused. Seeds are our own.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

#[path = "support/plumbed.rs"]
mod plumbed;

use fieldtest::{
    Change, FollowUp, Hindrance, NotCompared, NotTracked, Told, Verdict, analyze, follow_up,
};
use numerics::elementary::ln;
use plumbed::{Gauges, Pad, common_errors, pad, read};

/// Follows tests of a site, the first as the baseline.
fn followed(site: &str, tests: &[(&str, &str, &str)]) -> Result<FollowUp, NotTracked> {
    let (site, tests) = read(site, tests);
    let analysis = analyze(&site, &tests);
    follow_up(&site, &tests, &analysis, 0)
}

/// What is changed of the truth between the visits.
#[derive(Clone, Copy, Debug)]
enum Truly {
    Nothing,
    Suction,
    Returns,
    Filter,
    /// The filter, which had loaded as much before the baseline.
    Cleaned,
    /// Air that takes 12 % of the pump's head at top speed.
    Air,
}

impl Truly {
    /// Makes the baseline what it was before the change.
    fn prepare(self, pad: &mut Pad) {
        if matches!(self, Self::Cleaned) {
            Self::Filter.change(pad);
        }
    }

    /// Changes one resistance by 30 %; that of the filter, by its media alone, as it loads.
    fn change(self, pad: &mut Pad) {
        let factors = &mut pad.factors;
        match self {
            Self::Nothing => {}
            Self::Suction => {
                factors.pipes[0] *= 1.3;
                factors.fittings[0] *= 1.3;
            }
            Self::Returns => {
                for line in 2..4 {
                    factors.pipes[line] *= 1.3;
                    factors.fittings[line] *= 1.3;
                }
            }
            // Of the clean drop at the rated flow a fifth is the media's.
            Self::Filter => factors.media += 0.3 * (factors.media + 4.0 * factors.filter),
            Self::Cleaned => factors.media = (factors.media - 1.2 * factors.filter) / 1.3,
            Self::Air => factors.air = -ln(0.88),
        }
    }

    fn is(self, change: Option<&Change>) -> bool {
        match self {
            Self::Nothing => change.is_none(),
            Self::Suction => change == Some(&Change::Suction),
            Self::Returns => change == Some(&Change::Returns),
            Self::Filter | Self::Cleaned => change == Some(&Change::Media),
            Self::Air => change == Some(&Change::Air),
        }
    }
}

fn visited(seed: u64, index: u64, truly: Truly, gauges: Gauges) -> Told {
    let (mut pad, mut draw) = pad(seed, index);
    let common = common_errors(&mut draw);
    truly.prepare(&mut pad);
    let before = pad.readings_with(gauges, common, &mut draw);
    truly.change(&mut pad);
    let after = pad.readings_with(gauges, common, &mut draw);
    told(&pad.stated.site(gauges), &before, ("", &after)).unwrap()
}

/// What a second visit tells against a first one.
fn told(site: &str, before: &str, (more, after): (&str, &str)) -> Result<Told, NotCompared> {
    let found = followed(site, &[("first", "", before), ("second", more, after)]).unwrap();
    found.visits[0].told.clone()
}

/// How often of 100 the truth is in the group that is named, how often it alone is named, and how often nothing is.
fn named(seed: u64, sets: u64, truly: Truly, gauges: Gauges) -> [f64; 3] {
    let mut counts = [0_u32; 3];
    for index in 0..sets {
        let told = visited(seed, index, truly, gauges);
        match &told.verdict {
            Verdict::NoChange => counts[2] += 1,
            Verdict::Several => {}
            Verdict::Changed { group, .. } => {
                let right = |place: &usize| truly.is(told.candidates[*place].change.as_ref());
                counts[0] += u32::from(group.iter().any(right));
                counts[1] += u32::from(group.len() == 1 && right(&group[0]));
            }
        }
    }
    counts.map(|count| 100.0 * f64::from(count) / sets as f64)
}

const SETS: u64 = 200;

#[test]
fn an_unchanged_pad_is_hardly_ever_accused() {
    for gauges in [Gauges::Three, Gauges::Two] {
        let [_, _, nothing] = named(11, SETS, Truly::Nothing, gauges);
        println!("unchanged, {gauges:?}: {nothing} %");
        assert!(nothing >= 98.0, "{gauges:?}: {nothing}");
    }
}

#[test]
fn a_change_is_named_or_stands_in_the_group() {
    for (seed, truly) in [
        (12, Truly::Suction),
        (13, Truly::Returns),
        (14, Truly::Filter),
        (18, Truly::Cleaned),
        (19, Truly::Air),
    ] {
        let percent = named(seed, SETS, truly, Gauges::Three);
        println!("{truly:?}: {percent:?}");
        assert!(percent[0] >= 95.0, "{truly:?}: {percent:?}");
    }
}

#[test]
fn the_factor_holds_the_truth() {
    let mut held = 0;
    for index in 0..SETS {
        let told = visited(15, index, Truly::Suction, Gauges::Three);
        let mut candidates = told.candidates.iter();
        let suction = candidates.find(|it| it.change == Some(Change::Suction));
        let factor = suction.unwrap().factor.unwrap();
        held += u32::from(factor.low <= 1.3 && 1.3 <= factor.high);
    }
    let percent = 100.0 * f64::from(held) / SETS as f64;
    println!("factor held: {percent} %");
    // The standard error of 95 % of 200 is 1.5 points.
    assert!((92.0..=98.5).contains(&percent), "{percent}");
}

#[test]
fn what_cannot_be_compared_is_refused() {
    let (pad, mut draw) = pad(16, 0);
    let site = pad.stated.site(Gauges::Two);
    let rows = pad.readings(Gauges::Two, &mut draw);
    assert_eq!(
        followed(&site, &[("first", "", &rows)]).unwrap_err(),
        NotTracked::OneTest
    );
    let refused = |more: &str, after: &str| told(&site, &rows, (more, after)).unwrap_err();
    let throttled = "throttled = [\"return 1\", \"return 2\"]\n";
    assert_eq!(refused(throttled, &rows), NotCompared::AllThrottled);
    let out = "[condition]\nfilter = \"media out\"\n";
    assert_eq!(refused(out, &rows), NotCompared::MediaOut);
    // Another pad: three times the vacuum and a third of the pressure at the same flows, which no one change makes.
    let other: Vec<String> = rows
        .lines()
        .enumerate()
        .map(|(row, line)| {
            let cells: Vec<&str> = line.split(',').collect();
            match (row, cells.as_slice()) {
                (1.., [speed, flow, pressure, vacuum]) => {
                    let number = |text: &str| text.parse::<f64>().unwrap();
                    format!(
                        "{speed},{flow},{:.1},{:.1}",
                        40.0 - number(pressure),
                        2.0 + number(vacuum) / 3.0
                    )
                }
                _ => line.to_owned(),
            }
        })
        .collect();
    assert_eq!(refused("", &other.join("\n")), NotCompared::NotOnePad);
}

#[test]
fn another_meter_is_said_and_hides_more() {
    let (pad, mut draw) = pad(17, 0);
    let more = "[[meter]]\nid = \"G\"\nmeasures = \"flow\"\naccuracy = [\"2 % of reading\"]\nresolution = \"0.1 gpm\"\ncoverage = 2\nshare_common = 0.7\n";
    let site = [&pad.stated.site(Gauges::Three), more].concat();
    let common = common_errors(&mut draw);
    let before = pad.readings_with(Gauges::Three, common, &mut draw);
    let after = pad.readings_with(Gauges::Three, common, &mut draw);
    let least = |after: &str| {
        let told = told(&site, &before, ("", after)).unwrap();
        let suction = told
            .candidates
            .iter()
            .find(|it| it.change == Some(Change::Suction));
        let other = told
            .hindered
            .iter()
            .any(|it| matches!(it, Hindrance::OtherMeters { .. }));
        (suction.unwrap().least_seen.unwrap(), other)
    };
    let (same, same_said) = least(&after);
    let (other, other_said) = least(&after.replacen("flow F", "flow G", 1));
    println!("least seen: {same} with the same meter, {other} with another");
    assert!(!same_said && other_said);
    assert!(other > same);
}

/// Two pads of the same make and other plumbing, whose tests were put together.
#[test]
fn tests_of_two_pads_are_refused_or_said_to_be_several_changes() {
    const PAIRS: u64 = 40;
    let (mut refused, mut one_change) = (0, 0);
    for index in 0..PAIRS {
        let (pad_1, mut draw) = pad(20, index);
        let (pad_2, _) = pad(21, index);
        let common = common_errors(&mut draw);
        let before = pad_1.readings_with(Gauges::Three, common, &mut draw);
        let after = pad_2.readings_with(Gauges::Three, common, &mut draw);
        match told(&pad_1.stated.site(Gauges::Three), &before, ("", &after)) {
            Err(NotCompared::NotOnePad) => refused += 1,
            Err(other) => panic!("{other:?}"),
            Ok(told) => one_change += u32::from(!matches!(told.verdict, Verdict::Several)),
        }
    }
    println!("of {PAIRS} mixed pairs {refused} refused, {one_change} taken for one change");
    // Pads that differ in one thing only do look like one that changed.
    assert!(one_change <= 4, "{one_change}");
}

/// What a person wrote of the filter and of air weighs less than what was read.
#[test]
fn what_was_written_gives_way_to_what_was_read() {
    const PADS: u64 = 20;
    for (seed, truly, more) in [
        (22, Truly::Filter, "filter = \"clean\"\n"),
        (23, Truly::Air, "air = \"none\"\n"),
        (24, Truly::Nothing, "filter = \"clean\"\n"),
    ] {
        let mut right = 0;
        for index in 0..PADS {
            let (mut pad, mut draw) = pad(seed, index);
            let common = common_errors(&mut draw);
            let before = pad.readings_with(Gauges::Three, common, &mut draw);
            truly.change(&mut pad);
            let after = pad.readings_with(Gauges::Three, common, &mut draw);
            let more = format!("[condition]\n{more}");
            let told = told(&pad.stated.site(Gauges::Three), &before, (&more, &after)).unwrap();
            right += match (truly, &told.verdict) {
                (Truly::Nothing, verdict) => u32::from(*verdict == Verdict::NoChange),
                (Truly::Air, _) => u32::from(told.names(&Change::Air)),
                _ => u32::from(told.names(&Change::Media)),
            };
        }
        println!("{truly:?} against what was written: {right} of {PADS}");
        assert!(right >= 19, "{truly:?}: {right}");
    }
}

/// One throttled line beside an open one: what is left is compared, and what that hides is said.
#[test]
fn a_part_open_line_is_left_out_and_said() {
    let (pad, mut draw) = pad(25, 0);
    let common = common_errors(&mut draw);
    let before = pad.readings_with(Gauges::Three, common, &mut draw);
    let after = pad.readings_with(Gauges::Three, common, &mut draw);
    let throttled = "throttled = [\"return 1\"]\n";
    let told = told(
        &pad.stated.site(Gauges::Three),
        &before,
        (throttled, &after),
    )
    .unwrap();
    let lines = vec!["return 1".to_owned()];
    assert!(told.hindered.contains(&Hindrance::Throttled { lines }));
    let of = |change: &Change| {
        told.candidates
            .iter()
            .any(|it| it.change.as_ref() == Some(change))
    };
    assert!(!of(&Change::Returns));
    assert!(!of(&Change::Line {
        line: "return 1".to_owned()
    }));
    assert!(of(&Change::Suction));
}

/// Without a maker's curve, or without a gauge before the pump, what cannot be seen is said.
#[test]
fn what_is_missing_narrows_and_is_said() {
    let (pad, mut draw) = pad(26, 0);
    let site = pad.stated.site(Gauges::Two);
    let rows = pad.readings(Gauges::Two, &mut draw);
    let without: Vec<&str> = site.lines().filter(|it| !it.starts_with("curve")).collect();
    let told_1 = told(&without.join("\n"), &rows, ("", &rows)).unwrap();
    assert!(told_1.hindered.contains(&Hindrance::NoCurve));
    let cut: Vec<&str> = rows
        .lines()
        .map(|row| row.rsplit_once(',').unwrap().0)
        .collect();
    let cut = cut.join("\n");
    let told_2 = told(&site, &cut, ("", &cut)).unwrap();
    assert!(told_2.hindered.contains(&Hindrance::NoInletGauge));
    let bare: Vec<&str> = cut
        .lines()
        .map(|row| row.rsplit_once(',').unwrap().0)
        .collect();
    let bare = bare.join("\n");
    let nothing = told(&without.join("\n"), &bare, ("", &bare)).unwrap_err();
    assert_eq!(nothing, NotCompared::NothingRead);
}
