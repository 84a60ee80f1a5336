//! What goes into a report beside the test: changes and return visits; reports of a whole folder; and reports that are long.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

mod support;

use document::number;
use document::units::Printing;
use metrology::Estimate;
use records::UnitSystem;
use serde_json::Value;
use std::fmt::Write;
use std::fs;
use std::path::Path;
use std::process::Command;
use support::{ends, examples, names};

const ENGLISH: Printing = Printing::english(UnitSystem::Us);
const DATE: [&str; 2] = ["--date", "2026-11-28"];

/// Copies an example into a folder.
fn copied(example: &str, into: &Path) {
    fs::create_dir_all(into).unwrap();
    for entry in fs::read_dir(examples().join(example)).unwrap() {
        let path = entry.unwrap().path();
        if path.is_file() {
            fs::copy(&path, into.join(path.file_name().unwrap())).unwrap();
        }
    }
}

/// The text of a PDF, its words in the order in which they were set, without spaces and hyphens.
fn pdf_text(path: &Path) -> String {
    let output = Command::new("pdftotext")
        .args(["-raw", path.to_str().unwrap(), "-"])
        .output()
        .unwrap_or_else(|error| {
            panic!("pdftotext: {error}; `cargo xtask test` says how to install it")
        });
    assert!(output.status.success());
    squeezed(&String::from_utf8(output.stdout).unwrap())
}

/// Takes spaces, and hyphens at the ends of lines, out of a text.
fn squeezed(text: &str) -> String {
    let is_kept = |sign: &char| !sign.is_whitespace() && !"-\u{ad}\u{2010}\u{200b}".contains(*sign);
    text.chars().filter(is_kept).collect()
}

#[test]
fn a_change_is_weighed_in_the_report() {
    let folder = examples().join("larkspur-lane");
    let report = [
        &["report", "site.toml", "2026-05-16.toml"][..],
        &DATE,
        &[
            "--change",
            "changes/larger-returns.toml",
            "changes/clean-filter.toml",
        ],
    ]
    .concat();
    let (text, _) = ends(&folder, &report, 0);
    let (owner, technician) = text.split_once("FOR THE NEXT TECHNICIAN").unwrap();
    assert!(
        owner.contains("the changes of the pad") || owner.contains("A change of the pad"),
        "{owner}"
    );
    for part in [
        "What a change would save",
        "Larger returns",
        "Clean filter",
        "A year (2026)",
    ] {
        assert!(technician.contains(part), "{part}\n{technician}");
    }
    // The numbers are those of `compare`.
    let compare = [
        "compare",
        "site.toml",
        "2026-05-16.toml",
        "--change",
        "changes/larger-returns.toml",
        "changes/clean-filter.toml",
    ];
    let (compared, _) = ends(&folder, &compare, 0);
    let row = |text: &str| {
        let line = text
            .lines()
            .find(|line| line.starts_with(" Larger returns  "));
        line.unwrap()
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert_eq!(row(technician), row(&compared));
    // A change that is wrong is said, as `compare` says it.
    let wrong = [&report[..], &["no-such.toml"]].concat();
    assert!(ends(&folder, &wrong, 2).1.contains("there is no such file"));
}

#[test]
fn a_report_of_several_visits_says_what_changed() {
    let folder = examples().join("alder-close");
    let visits = ["2026-04-11.toml", "2026-05-09.toml", "2026-06-20.toml"];
    let (text, _) = ends(
        &folder,
        &[&["report", "site.toml"], &visits[..], &DATE].concat(),
        0,
    );
    let (owner, technician) = text.split_once("FOR THE NEXT TECHNICIAN").unwrap();
    assert!(owner.contains("Since the test 2026-04-11"), "{owner}");
    assert!(technician.contains("What has changed"), "{technician}");
    let (tracked, _) = ends(&folder, &[&["track", "site.toml"], &visits[..]].concat(), 0);
    let due = |text: &str| {
        let line = text.lines().find(|line| line.starts_with("Due")).unwrap();
        line.split_whitespace()
            .take(3)
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert_eq!(due(technician), due(&tracked));
    // Two line-ups of one day are no return visit.
    let files = ["site.toml", "2026-04-22.toml", "2026-04-22-spa-shut.toml"];
    let (text, _) = ends(
        &examples().join("cedar-court"),
        &[&["report"], &files[..], &DATE].concat(),
        0,
    );
    assert!(!text.contains("What has changed"), "{text}");
}

#[test]
fn every_site_of_a_folder_gets_its_report_and_a_bad_one_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let pads = folder.path().join("pads");
    copied("haus-birkenweg", &pads.join("haus-birkenweg"));
    copied("larkspur-lane", &pads.join("north/larkspur-lane"));
    copied("haus-birkenweg", &pads.join("wrong"));
    let site = pads.join("wrong/site.toml");
    let text = fs::read_to_string(&site).unwrap();
    fs::write(&site, text.replace("[pump]", "[pmup]")).unwrap();
    // A profile beside a site is no test.
    fs::write(
        pads.join("haus-birkenweg/profile.toml"),
        "format = 1\nbusiness = \"x\"\n",
    )
    .unwrap();
    let call = [&["report", "--all", "pads", "-o", "reports"][..], &DATE].concat();
    let (_, err) = ends(folder.path(), &call, 4);
    assert!(err.contains("wrong: no report."), "{err}");
    assert!(err.contains("has no key pmup"), "{err}");
    assert!(err.contains("Wrote 2 of 3 reports to reports."), "{err}");
    let out = folder.path().join("reports");
    assert_eq!(
        names(&out),
        ["haus-birkenweg.html", "north-larkspur-lane.html"]
    );
    // Each is the report that is made of it alone, and the last test in time is the one that it is about.
    let alone = [
        &[
            "report",
            "site.toml",
            "2026-05-16.toml",
            "2026-06-02.toml",
            "-o",
            "alone.html",
        ][..],
        &DATE,
    ];
    let pad = pads.join("north/larkspur-lane");
    ends(&pad, &alone.concat(), 0);
    assert!(
        fs::read(pad.join("alone.html")).unwrap()
            == fs::read(out.join("north-larkspur-lane.html")).unwrap()
    );
    // Nothing is overwritten, and each that stands already is said.
    let (_, err) = ends(folder.path(), &call, 4);
    assert_eq!(err.matches("stands already").count(), 2, "{err}");
    fs::remove_dir_all(pads.join("wrong")).unwrap();
    let text = ["report", "--all", "pads", "-o", "texts", "--as", "txt"];
    ends(folder.path(), &text, 0);
    assert_eq!(names(&folder.path().join("texts")).len(), 2);
}

#[test]
fn a_folder_without_sites_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let (_, err) = ends(folder.path(), &["report", "--all", ".", "-o", "out"], 2);
    assert!(err.contains("no folder in it holds a site.toml"), "{err}");
    ends(folder.path(), &["report", "--all", "."], 2);
    ends(
        folder.path(),
        &["report", "--all", ".", "site.toml", "-o", "out"],
        2,
    );
}

/// A name of 80 signs.
fn name(what: &str, number: usize) -> String {
    const WORDS: &str =
        " of the far long pad behind the old hedge where nobody ever goes in winter time";
    let mut name = format!("{what} {number}");
    name.push_str(&WORDS[..80 - name.len()]);
    assert_eq!(name.len(), 80);
    name
}

/// A pad of 60 steps and 20 lines, each with a name as long as names may be, with parts missing; and 12 changes of it.
fn long_pad(folder: &Path) -> Vec<String> {
    let mut names = vec![
        name("Site", 1),
        name("Pump", 1),
        name("Skimming", 1),
        name("Suction", 1),
    ];
    let mut site = format!(
        "format = 1\nname = \"{}\"\nunits = \"us\"\n[water]\nvolume = \"18500 gal\"\n[pump]\nname = \"{}\"\nspeed = {{ min = \"450 rpm\", max = \"3450 rpm\" }}\n",
        names[0], names[1]
    );
    let mut line = |name: &str, ends: (&str, &str), parts: &str| {
        let (from, to) = ends;
        write!(
            site,
            "[[line]]\nname = \"{name}\"\nfrom = \"{from}\"\nto = \"{to}\"\nparts = [ {parts} ]\n"
        )
        .unwrap();
    };
    line(
        &names[3],
        ("pool", "pump inlet"),
        "{ pipe = \"2.5 in\", length = \"40 ft\" }",
    );
    let returns: Vec<String> = (1..=19).map(|number| name("Return", number)).collect();
    for name in &returns {
        let parts = "{ pipe = \"1.5 in\", length = \"30 ft\" }, { outlet = \"eyeball\", bore = \"0.75 in\" }";
        line(name, ("pump outlet", "pool"), parts);
    }
    write!(
        site,
        "[operation]\nturnover = \"1 per day\"\nas_found = [ {{ from = \"08:00\", to = \"16:00\", speed = \"2850 rpm\" }} ]\n\
         tariff = [ {{ price = \"0.25 USD/kWh\" }} ]\ntasks = [ {{ name = \"{}\", min_flow = \"30 gpm\", hours = 4 }} ]\n",
        names[2]
    )
    .unwrap();
    fs::write(folder.join("site.toml"), site).unwrap();
    fs::write(
        folder.join("test.toml"),
        "format = 1\ndate = 2026-05-16\nreadings = \"steps.csv\"\n",
    )
    .unwrap();
    let mut readings =
        "speed [rpm],flow [gpm],power [W],filter pressure [psi],note\n0,,7,,\n".to_owned();
    for step in 0..60_u32 {
        let speed = 500.0 + 50.0 * f64::from(step);
        let flow = 0.0268 * (speed * speed - 460.0_f64 * 460.0).sqrt();
        let power = 82.0 + 2280.0 * (speed / 3450.0) * (speed / 3450.0) * (speed / 3450.0);
        writeln!(
            readings,
            "{speed},{flow:.1},{power:.0},{:.1},",
            0.002 * flow * flow
        )
        .unwrap();
    }
    fs::write(folder.join("steps.csv"), readings).unwrap();
    for (number, line) in (1..=12).zip(&returns) {
        let change = name("Change", number);
        let text = format!(
            "format = 1\nname = \"{change}\"\ncapital = \"{number}00 USD\"\nlife = \"20 years\"\n[[part]]\nline = \"{line}\"\npart = 1\nis = {{ pipe = \"2 in\", length = \"30 ft\" }}\n"
        );
        fs::write(folder.join(format!("change-{number}.toml")), text).unwrap();
        names.push(change);
    }
    names.extend(returns);
    names
}

#[test]
fn nothing_of_a_long_report_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let names = long_pad(folder.path());
    let changes: Vec<String> = (1..=12)
        .map(|number| format!("change-{number}.toml"))
        .collect();
    let mut call = vec![
        "report",
        "site.toml",
        "test.toml",
        "--date",
        "2026-11-28",
        "--change",
    ];
    call.extend(changes.iter().map(String::as_str));
    ends(
        folder.path(),
        &[&call[..], &["-o", "long.html"]].concat(),
        0,
    );
    ends(folder.path(), &[&call[..], &["-o", "long.pdf"]].concat(), 0);
    let page = fs::read_to_string(folder.path().join("long.html")).unwrap();
    let sheet = pdf_text(&folder.path().join("long.pdf"));
    for name in &names {
        assert!(page.contains(name.as_str()), "{name} in the page");
        assert!(sheet.contains(&squeezed(name)), "{name} in the PDF");
    }
    for speed in (500..=3450).step_by(50) {
        assert!(
            page.contains(&format!(">{speed}<")),
            "{speed} rpm in the page"
        );
        assert!(sheet.contains(&speed.to_string()), "{speed} rpm in the PDF");
    }
    // What hangs over the edge of its sheet cannot be read out: the returns are alike, and told of alike.
    let told = |number: usize| sheet.matches(&format!("Return{number}of")).count();
    for number in 2..=19 {
        assert_eq!(told(number), told(1), "return {number} in the PDF");
    }
    // The page for the owner stays a page.
    let pages = Command::new("pdftotext")
        .args([
            "-f",
            "1",
            "-l",
            "1",
            folder.path().join("long.pdf").to_str().unwrap(),
            "-",
        ])
        .output()
        .unwrap();
    assert!(!String::from_utf8_lossy(&pages.stdout).contains("For the next technician"));
}

/// An estimate of the JSON, in a unit of print; `None` where it is not known.
fn written(value: &Value, per_unit: f64) -> Option<String> {
    let number = |key: &str| Some(value[key].as_f64()? / per_unit);
    Some(number::with_interval(
        ENGLISH,
        Estimate {
            value: number("value")?,
            u: number("u")?,
            low: number("low")?,
            high: number("high")?,
        },
    ))
}

/// Every estimate of the steps, the laws, the schedule and the budget stands in the PDF, rounded as the report rounds.
#[test]
fn the_pdf_holds_every_number_of_the_json() {
    /// US gallon per minute, m³/s; US gallon, m³; foot, m: exact by the inch and the gallon of 231 in³.
    const GPM: f64 = 6.30901964e-5;
    const PER_1000_GAL: f64 = 1.0 / 3.785411784;
    const FOOT: f64 = 0.3048;
    const LEAST_SHOWN: f64 = 0.005;
    let folder = examples().join("larkspur-lane");
    let out = tempfile::tempdir().unwrap();
    let path = out.path().join("report.pdf");
    let files = ["site.toml", "2026-06-02.toml"];
    let report = [
        &["report"],
        &files[..],
        &DATE,
        &["-o", path.to_str().unwrap()],
    ]
    .concat();
    ends(&folder, &report, 0);
    let sheet = pdf_text(&path);
    let json = |arguments: &[&str]| -> Value {
        let (out, _) = ends(&folder, &[arguments, &["--json"]].concat(), 0);
        serde_json::from_str(&out).unwrap()
    };
    let analysis = json(&["analyze", files[0], files[1], "--at", "3450 rpm"]);
    let schedule = json(&["schedule", files[0], files[1]]);
    let mut told: Vec<String> = Vec::new();
    for step in analysis["steps"].as_array().unwrap() {
        told.push(number::rpm(ENGLISH, step["speed_rpm"].as_f64().unwrap()));
        let of = [
            ("flow_m3s", GPM),
            ("power_w", 1.0),
            ("current_a", 1.0),
            ("power_factor", 1.0),
            ("head_m", FOOT),
            ("efficiency", 1.0),
            ("energy_wh_per_m3", PER_1000_GAL),
        ];
        told.extend(
            of.iter()
                .filter_map(|(key, unit)| written(&step[key], *unit)),
        );
    }
    let laws = &analysis["laws"];
    for (law, key, unit) in [
        ("flow", "slope_m3s_per_rpm", GPM / 1000.0),
        ("flow", "intercept_speed_rpm", 1.0),
        ("power", "fixed_w", 1.0),
        ("power", "dynamic_w", 1.0),
        ("power", "exponent", 1.0),
        ("power", "standby_w", 1.0),
    ] {
        told.extend(written(&laws[law][key], unit));
    }
    for share in analysis["budget"].as_array().unwrap() {
        // The table leaves what takes next to nothing to the rest of its line.
        if share["share"]["value"].as_f64() > Some(LEAST_SHOWN) {
            told.extend(written(&share["head_m"], FOOT));
            told.extend(written(&share["share"], 0.01));
        }
    }
    let found = &schedule["as_found"];
    for sum in [
        &schedule["sums"]["cost_per_month"],
        &schedule["sums"]["cost_per_year"],
        &found["sums"]["cost_per_year"],
        &found["saves_per_year"],
    ] {
        told.extend(written(sum, 1.0));
    }
    assert!(told.len() > 70, "{}", told.len());
    let lost: Vec<&String> = told
        .iter()
        .filter(|told| !sheet.contains(&squeezed(told)))
        .collect();
    assert!(lost.is_empty(), "{lost:?}");
}
