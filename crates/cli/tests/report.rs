//! The report that is handed over: what it says of the examples, frozen; where its numbers come from; what is missing; and
//! names that mean no good.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod support;

use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use support::{ends, examples};

const DATE: [&str; 2] = ["--date", "2026-11-28"];

/// The report of an example as text.
fn text_of(folder: &Path, files: &[&str]) -> String {
    let arguments = [&["report"], files, &DATE].concat();
    ends(folder, &arguments, 0).0
}

/// Writes a report to a file of a kind, and gives what it holds.
fn written(folder: &Path, files: &[&str], ending: &str, more: &[&str]) -> Vec<u8> {
    let out = tempfile::tempdir().unwrap();
    let path = out.path().join(format!("report.{ending}"));
    let to = ["-o", path.to_str().unwrap()];
    let arguments = [&["report"], files, &to, &DATE, more].concat();
    ends(folder, &arguments, 0);
    fs::read(&path).unwrap()
}

/// Copies an example to a folder of its own, with its site file changed.
fn changed(example: &str, change: impl Fn(&str) -> String) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for entry in fs::read_dir(examples().join(example)).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let name = path.file_name().unwrap();
        let text = if name == "site.toml" {
            change(&text)
        } else {
            text
        };
        fs::write(folder.path().join(name), text).unwrap();
    }
    folder
}

/// Leaves out the lines from one that begins so up to the next table.
fn without_table(text: &str, table: &str) -> String {
    let mut kept = String::new();
    let mut is_out = false;
    for line in text.lines() {
        if line.starts_with('[') {
            is_out = line.trim() == table;
        }
        if !is_out {
            kept.push_str(line);
            kept.push('\n');
        }
    }
    kept
}

#[test]
fn the_report_of_a_visit_with_faults_reads_as_it_should() {
    let text = text_of(
        &examples().join("larkspur-lane"),
        &["site.toml", "2026-06-02.toml"],
    );
    insta::assert_snapshot!("larkspur_lane", text);
}

#[test]
fn the_metric_report_reads_as_it_should() {
    let text = text_of(
        &examples().join("haus-birkenweg"),
        &["site.toml", "2026-07-08.toml"],
    );
    insta::assert_snapshot!("haus_birkenweg", text);
}

#[test]
fn the_report_of_two_line_ups_reads_as_it_should() {
    let files = ["site.toml", "2026-04-22.toml", "2026-04-22-spa-shut.toml"];
    insta::assert_snapshot!(
        "cedar_court",
        text_of(&examples().join("cedar-court"), &files)
    );
}

/// The numbers of a text as they are written, thousands joined.
fn numbers(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let parts = text.split(|sign: char| !(sign.is_ascii_digit() || ".,".contains(sign)));
    for part in parts {
        let part = part.trim_matches(['.', ',']);
        if part.chars().any(|sign| sign.is_ascii_digit()) {
            found.insert(part.replace(',', ""));
        }
    }
    found
}

/// The ends of the intervals of the JSON, in the units of print, with none to three decimals.
fn ends_of_intervals(value: &Value, found: &mut BTreeSet<String>) {
    /// gpm, ft, psi, inHg and the SI units themselves.
    const PER_UNIT: [f64; 5] = [1.0, 6.30901964e-5, 0.3048, 6894.757293168361, 3386.389];
    match value {
        Value::Array(items) => items.iter().for_each(|item| ends_of_intervals(item, found)),
        Value::Object(entries) => {
            for key in ["low", "high"] {
                if let Some(end) = entries.get(key).and_then(Value::as_f64) {
                    for unit in PER_UNIT {
                        let number = end.abs() / unit;
                        found.extend((0..=3).map(|digits| format!("{number:.digits$}")));
                        found.insert(format!("{:.0}", (number / 10.0).round() * 10.0));
                    }
                }
            }
            entries
                .values()
                .for_each(|entry| ends_of_intervals(entry, found));
        }
        _ => {}
    }
}

/// Every number of the report is one of the answers, of the files, of the intervals, or stands in the report's fixed words.
#[test]
fn no_number_is_the_reports_own() {
    let folder = examples().join("larkspur-lane");
    let files = ["site.toml", "2026-06-02.toml"];
    let report = text_of(&folder, &files);
    let ask = |arguments: &[&str]| ends(&folder, arguments, 0).0;
    let budget = ["analyze", files[0], files[1], "--at", "3450 rpm"];
    let schedule = ["schedule", files[0], files[1]];
    let mut known: String = ask(&budget) + &ask(&schedule) + &described(&folder, &files);
    for file in ["site.toml", "2026-06-02.toml", "2026-06-02.csv"] {
        let text = fs::read_to_string(folder.join(file)).unwrap();
        known += &text.replace(',', " ");
    }
    let mut allowed = numbers(&known);
    for asked in [&budget[..], &schedule[..]] {
        let json = ask(&[asked, &["--json"]].concat());
        let value: Value = serde_json::from_str(&json).unwrap();
        ends_of_intervals(&value, &mut allowed);
        // What is saved and found in a month and a year stands in the JSON alone.
        let sums = &value["as_found"];
        for sum in [
            &sums["sums"]["cost_per_month"],
            &sums["sums"]["cost_per_year"],
            &sums["saves_per_month"],
        ] {
            let Some(best) = sum["value"].as_f64() else {
                continue;
            };
            let half = 0.5 * (sum["high"].as_f64().unwrap() - sum["low"].as_f64().unwrap());
            for digits in 0..=2 {
                allowed.extend([best, half].map(|number| format!("{number:.digits$}")));
            }
        }
    }
    // The numbers of standards, the coverage, and the figures of fixed sentences.
    let fixed = [
        "95", "100", "2008", "6", "08", "7", "97", "12", "9906", "410", "1981", "2001", "3",
    ];
    allowed.extend(fixed.map(str::to_owned));
    // The date of the report and of the visit in words, and the numbers of the reasons.
    allowed.extend(["28", "2", "2026", "1"].map(str::to_owned));
    let found = numbers(&report);
    let own: Vec<&String> = found.difference(&allowed).collect();
    assert_eq!(own, Vec::<&String>::new());
}

/// What the figures of a visit say of themselves.
fn described(folder: &Path, files: &[&str]) -> String {
    let out = tempfile::tempdir().unwrap();
    let to = ["--figures", out.path().to_str().unwrap()];
    ends(folder, &[&["analyze"], files, &to].concat(), 0);
    let entries = fs::read_dir(out.path()).unwrap();
    let texts = entries.map(|entry| fs::read_to_string(entry.unwrap().path()).unwrap());
    let told = texts.filter_map(|text| {
        let (_, after) = text.split_once("<desc>")?;
        let (told, _) = after.split_once("</desc>")?;
        Some(told.to_owned())
    });
    told.collect()
}

#[test]
fn the_same_report_has_the_same_bytes() {
    let folder = examples().join("larkspur-lane");
    let files = ["site.toml", "2026-06-02.toml"];
    let once = written(&folder, &files, "html", &[]);
    assert_eq!(once, written(&folder, &files, "html", &[]));
    let page = String::from_utf8(once).unwrap();
    assert!(page.starts_with("<!DOCTYPE html>"));
    assert!(page.contains("@page { size: letter portrait;"));
    // Nothing is fetched from anywhere.
    let fetched = page.replace("http://www.w3.org/2000/svg", "");
    assert!(
        !fetched.contains("http")
            || fetched.matches("http").count() == fetched.matches("http-equiv").count()
    );
}

#[test]
fn the_paper_goes_with_the_units_unless_it_is_asked_for() {
    let folder = examples().join("haus-birkenweg");
    let files = ["site.toml", "2026-07-08.toml"];
    let page = |more: &[&str]| String::from_utf8(written(&folder, &files, "html", more)).unwrap();
    assert!(page(&[]).contains("size: a4 "));
    assert!(page(&["--paper", "letter"]).contains("size: letter "));
    assert!(page(&["--units", "us"]).contains("size: letter "));
}

#[test]
fn a_bare_site_gets_no_empty_section_and_is_told_what_is_missing() {
    let folder = changed("larkspur-lane", |_| {
        "format = 1\nname = \"Bare\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n".to_owned()
    });
    // The columns name a meter that this site does not have.
    let readings = folder.path().join("2026-05-16.csv");
    let text = fs::read_to_string(&readings).unwrap();
    fs::write(&readings, text.replace("flow A", "flow")).unwrap();
    let text = text_of(folder.path(), &["site.toml", "2026-05-16.toml"]);
    for told in [
        "The plumbing is not stated",
        "No meter is described",
        "The price of energy is not stated",
        "The program that was found is not stated",
        "There is no program for the day",
    ] {
        assert!(text.contains(told), "{told}\n{text}");
    }
    for heading in [
        "What it saves",
        "What to set",
        "Meters",
        "Where the head is lost",
        "Why this program",
        "What a change would save",
        "What has changed",
    ] {
        assert!(
            !text.lines().any(|line| line.trim() == heading),
            "{heading}\n{text}"
        );
    }
}

#[test]
fn without_the_program_as_found_nothing_is_said_to_be_saved() {
    let folder = changed("larkspur-lane", |site| {
        site.lines()
            .filter(|line| !line.starts_with("as_found"))
            .collect::<Vec<_>>()
            .join("\n")
    });
    let text = text_of(folder.path(), &["site.toml", "2026-05-16.toml"]);
    assert!(!text.contains("What it saves"));
    assert!(text.contains("it would tell what the new one saves"));
}

#[test]
fn a_site_that_asks_for_nothing_gets_the_cheapest_speed() {
    let folder = changed("larkspur-lane", |site| without_table(site, "[operation]"));
    let text = text_of(folder.path(), &["site.toml", "2026-05-16.toml"]);
    assert!(text.contains("Water is cheapest to move between"), "{text}");
    assert!(!text.contains("What to set on the controller"));
}

/// A name of 80 signs that would be markup anywhere else.
const HOSTILE: &str =
    "#eval(1) $x$ <script>alert(1)</script> \\u `raw` *b* @ref [ ] \u{1F3CA} '' &quot; <x>";

#[test]
fn hostile_names_are_text() {
    let toml = HOSTILE.replace('\\', "\\\\").replace('"', "\\\"");
    let folder = changed("larkspur-lane", |site| {
        site.replace("name = \"Larkspur Lane\"", &format!("name = \"{toml}\""))
            .replace("skimmer suction", "#panic() <b>s</b>")
    });
    let profile = folder.path().join("profile.toml");
    fs::write(
        &profile,
        format!(
            "format = 1\nbusiness = \"{toml}\"\nlicence = \"#1 <b>\"\ncontact = [\"{toml}\"]\n"
        ),
    )
    .unwrap();
    let more = ["--profile", "profile.toml"];
    let files = ["site.toml", "2026-06-02.toml"];
    let page = String::from_utf8(written(folder.path(), &files, "html", &more)).unwrap();
    assert!(page.contains("#eval(1) $x$ &lt;script&gt;alert(1)&lt;/script&gt;"));
    assert!(!page.contains("<script>alert") && !page.contains("<b>"));
    assert_eq!(page.matches("<script>").count(), 1);
}

#[test]
fn a_profile_heads_the_report() {
    let folder = changed("larkspur-lane", str::to_owned);
    let profile = "format = 1\nbusiness = \"Clearwater & Sons\"\nlicence = \"C-53 000000\"\ntechnician = \"R. Doe\"\n\
                   contact = [\"1 Example Road\", \"555-0100\"]\nlogo = \"logo.png\"\n";
    fs::write(folder.path().join("profile.toml"), profile).unwrap();
    let logo = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x5a\0\0\0\x1e";
    fs::write(folder.path().join("logo.png"), logo).unwrap();
    let files = ["site.toml", "2026-05-16.toml"];
    let page = String::from_utf8(written(
        folder.path(),
        &files,
        "html",
        &["--profile", "profile.toml"],
    ))
    .unwrap();
    assert!(page.contains("Clearwater &amp; Sons<br>Licence C-53 000000<br>1 Example Road"));
    assert!(
        page.contains("<img alt=\"Clearwater &amp; Sons\" src=\"data:image/png;base64,iVBORw0KGgo")
    );
    assert!(page.contains("Technician: R. Doe."));
}

#[test]
fn what_is_wrong_with_a_call_is_said() {
    let folder = examples().join("larkspur-lane");
    let refused = |more: &[&str]| {
        let arguments = [&["report", "site.toml", "2026-05-16.toml"], more].concat();
        ends(&folder, &arguments, 2).1
    };
    assert!(refused(&["-o", "report.docx"]).contains("written as .html, .pdf or .txt"));
    assert!(refused(&["--date", "1 Jun"]).contains("write the year too"));
    assert!(refused(&["--profile", "no-such.toml"]).contains("there is no such file"));
    assert!(refused(&["-o", "site.html", "--profile", "site.toml"]).contains("has no key pump"));
}

#[test]
fn nothing_is_overwritten() {
    let out = tempfile::tempdir().unwrap();
    let path = out.path().join("report.html");
    fs::write(&path, "mine").unwrap();
    let folder = examples().join("larkspur-lane");
    let arguments = [
        "report",
        "site.toml",
        "2026-05-16.toml",
        "-o",
        path.to_str().unwrap(),
    ];
    let (_, err) = ends(&folder, &arguments, 2);
    assert!(err.contains("stands already"), "{err}");
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
}
