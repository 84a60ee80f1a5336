//! Which speed to step to next: from the top downwards, or as the person steps, or as a former test did.

use super::TestDraft;
use records::Site;

/// Steps of a test between its highest and its lowest speed, where the person has no pattern: eleven show a curve.
const STEPS: f64 = 10.0;
/// Speeds are proposed in whole multiples of this, rpm: what a keypad reaches without many presses.
const ROUND_RPM: f64 = 50.0;
/// Share of the top speed below which a pump without a stated lowest speed is not stepped. Common practice, no source.
const LOWEST_SHARE: f64 = 0.175;

/// Lists speeds for a test from the top downwards, rpm.
pub fn start_speeds(site: &Site) -> Vec<f64> {
    let (low, top) = range(site);
    let mut speeds = vec![top];
    let step = ((top - low) / STEPS).max(ROUND_RPM);
    let mut place = 1.0;
    while top - place * step >= low - 0.5 * step {
        let rounded = ((top - place * step) / ROUND_RPM).round() * ROUND_RPM;
        let speed = rounded.max(low);
        if speeds.last().is_some_and(|last| speed < *last) {
            speeds.push(speed);
        }
        place += 1.0;
    }
    speeds
}

fn range(site: &Site) -> (f64, f64) {
    let speed = &site.pump.speed;
    let top = speed.max.si;
    let low = speed.min.as_ref().map_or(LOWEST_SHARE * top, |low| low.si);
    (low.min(top), top)
}

/// Proposes the speed of the next row, as it would be typed; `None` where there is nothing left to propose.
///
/// # Inputs
/// `former`: the speeds of a former test in their order, whose pattern is followed where it is not empty.
pub fn next_speed(site: &Site, draft: &TestDraft, former: &[f64]) -> Option<String> {
    let typed = speeds_of(draft);
    let is_new = |speed: &f64| !typed.iter().any(|typed| (typed - speed).abs() < 0.5);
    let listed = if former.is_empty() {
        start_speeds(site)
    } else {
        former.to_vec()
    };
    let running: Vec<f64> = typed.iter().copied().filter(|speed| *speed > 0.0).collect();
    let on_list = || {
        let behind = running.last().and_then(|last| {
            let at = listed.iter().position(|speed| (speed - last).abs() < 0.5)?;
            listed[at + 1..].iter().copied().find(is_new)
        });
        behind.or_else(|| listed.iter().copied().find(is_new))
    };
    let follows_list = running
        .iter()
        .all(|typed| listed.iter().any(|speed| (typed - speed).abs() < 0.5));
    let speed = if follows_list {
        on_list()
    } else {
        continued(site, &running).filter(is_new).or_else(on_list)
    };
    // At last the pump at rest: the draw of its electronics, and the zero of the gauges.
    let at_rest = || Some(0.0).filter(is_new);
    speed.or_else(at_rest).map(|speed| speed.to_string())
}

/// Lists the speeds of a draft that are numbers, rpm, as a former test's pattern.
pub fn speeds_of(draft: &TestDraft) -> Vec<f64> {
    draft
        .rows
        .iter()
        .filter_map(|row| rpm(&row.speed))
        .collect()
}

/// Goes on by the last step, within what the pump runs at.
fn continued(site: &Site, running: &[f64]) -> Option<f64> {
    let [.., before, last] = running else {
        return None;
    };
    let (low, top) = range(site);
    let next = last + (last - before);
    (next >= low && next <= top).then_some(next)
}

/// The speed that a text is, where it is one.
fn rpm(text: &str) -> Option<f64> {
    let speed: f64 = text.trim().parse().ok()?;
    speed.is_finite().then_some(speed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use records::{Source, UnitSystem, read_site};

    fn site(speed: &str) -> Site {
        let text = format!("format = 1\nname = \"A\"\n[pump]\nspeed = {speed}\n");
        let name = "site.toml".to_owned();
        read_site(&Source { name, text }).unwrap()
    }

    fn with_speeds(site: &Site, speeds: &[&str]) -> TestDraft {
        let mut draft = TestDraft::new("a", site, UnitSystem::Us);
        for speed in speeds {
            draft.push_row((*speed).to_owned());
        }
        draft
    }

    #[test]
    fn speeds_go_down_in_round_steps_within_the_pump() {
        let speeds = start_speeds(&site("{ min = \"450 rpm\", max = \"3450 rpm\" }"));
        assert_eq!(
            speeds,
            [
                3450.0, 3150.0, 2850.0, 2550.0, 2250.0, 1950.0, 1650.0, 1350.0, 1050.0, 750.0,
                450.0
            ]
        );
        for text in [
            "{ max = \"3450 rpm\" }",
            "{ min = \"3420 rpm\", max = \"3450 rpm\" }",
            "{ max = \"40 rpm\" }",
        ] {
            let speeds = start_speeds(&site(text));
            assert!(speeds.windows(2).all(|pair| pair[1] < pair[0]), "{text}");
            assert!(!speeds.is_empty() && speeds.len() <= 11, "{text}");
        }
    }

    #[test]
    fn the_next_speed_follows_the_list_then_the_person_then_a_former_test() {
        let site = site("{ min = \"450 rpm\", max = \"3450 rpm\" }");
        let next = |speeds: &[&str]| next_speed(&site, &with_speeds(&site, speeds), &[]);
        assert_eq!(next(&[]).as_deref(), Some("3450"));
        assert_eq!(next(&["3450", "3150"]).as_deref(), Some("2850"));
        assert_eq!(next(&["3400", "3000"]).as_deref(), Some("2600"));
        assert_eq!(next(&["600", "850"]).as_deref(), Some("1100"));
        let former = [600.0, 850.0];
        let draft = with_speeds(&site, &["600"]);
        assert_eq!(next_speed(&site, &draft, &former).as_deref(), Some("850"));
        let draft = with_speeds(&site, &["600", "850"]);
        assert_eq!(next_speed(&site, &draft, &former).as_deref(), Some("0"));
        let draft = with_speeds(&site, &["600", "850", "0"]);
        assert_eq!(next_speed(&site, &draft, &former), None);
    }
}
