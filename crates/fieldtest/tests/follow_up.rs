//! The return visit on pads whose truth is known: what is named, what is accused, what is refused. Seeds are our own.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

#[path = "support/plumbed.rs"]
mod plumbed;

use fieldtest::{
    Change, FollowUp, Hindrance, NotCompared, NotTracked, Told, Verdict, analyze, follow_up,
};
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
}

impl Truly {
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
        }
    }

    fn is(self, change: Option<&Change>) -> bool {
        match self {
            Self::Nothing => change.is_none(),
            Self::Suction => change == Some(&Change::Suction),
            Self::Returns => change == Some(&Change::Returns),
            Self::Filter => change == Some(&Change::Media),
        }
    }
}

fn visited(seed: u64, index: u64, truly: Truly, gauges: Gauges) -> Told {
    let (mut pad, mut draw) = pad(seed, index);
    let common = common_errors(&mut draw);
    let before = pad.readings_with(gauges, common, &mut draw);
    truly.change(&mut pad);
    let after = pad.readings_with(gauges, common, &mut draw);
    let site = pad.stated.site(gauges);
    let found = followed(&site, &[("first", "", &before), ("second", "", &after)]).unwrap();
    found.visits[0].told.clone().unwrap()
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
fn a_change_of_thirty_per_cent_is_named_or_stands_in_the_group() {
    for (seed, truly) in [
        (12, Truly::Suction),
        (13, Truly::Returns),
        (14, Truly::Filter),
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
    let refused = |more: &str, rows_2: &str| {
        let found = followed(&site, &[("first", "", &rows), ("second", more, rows_2)]).unwrap();
        found.visits[0].told.clone().unwrap_err()
    };
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
        let found = followed(&site, &[("first", "", &before), ("second", "", after)]).unwrap();
        let told = found.visits[0].told.clone().unwrap();
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
