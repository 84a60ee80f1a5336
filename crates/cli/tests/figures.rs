//! `analyze --figures` and `solve --figures`: what is written, what is left alone, and how it fails.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

mod support;

use std::fs;
use std::path::Path;
use support::{ends, examples, names};

/// Analyses the second test of the example with figures in `folder`; returns standard output and standard error.
fn analyzed(folder: &Path, more: &[&str], code: i32) -> (String, String) {
    let folder = folder.to_str().unwrap();
    let mut arguments = vec![
        "analyze",
        "site.toml",
        "2026-06-02.toml",
        "--figures",
        folder,
    ];
    arguments.extend(more);
    ends(&examples().join("larkspur-lane"), &arguments, code)
}

#[test]
fn the_figures_are_written_beside_the_same_answer() {
    let folder = tempfile::tempdir().unwrap();
    let figures = folder.path().join("new").join("figures");
    let (out, err) = analyzed(&figures, &[], 0);
    let plain = ["analyze", "site.toml", "2026-06-02.toml"];
    assert_eq!(out, ends(&examples().join("larkspur-lane"), &plain, 0).0);
    assert_eq!(err, format!("Wrote 5 figures to {}.\n", figures.display()));
    assert_eq!(
        names(&figures),
        [
            "2026-06-02-energy.svg",
            "2026-06-02-flow.svg",
            "2026-06-02-head.svg",
            "2026-06-02-power.svg",
            "site-circuit.svg",
        ]
    );
    let energy = fs::read_to_string(figures.join("2026-06-02-energy.svg")).unwrap();
    assert!(energy.starts_with(charts::OPENING));
    assert!(
        energy.contains("<title>Cheapest water between 880 and 1170\u{A0}rpm</title>"),
        "{energy}"
    );
}

#[test]
fn figures_of_ours_are_replaced_and_the_same_call_writes_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let flow = folder.path().join("2026-06-02-flow.svg");
    let written = |more: &[&str]| {
        analyzed(folder.path(), more, 0);
        fs::read_to_string(&flow).unwrap()
    };
    let light = written(&[]);
    let dark = written(&[
        "--figure-theme",
        "dark",
        "--figure-size",
        "narrow",
        "--json",
    ]);
    assert_ne!(light, dark);
    assert!(light.contains(" width=\"760\"") && dark.contains(" width=\"360\""));
    assert_eq!(written(&[]), light);
}

#[test]
fn a_file_that_is_none_of_ours_is_left_alone_and_nothing_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let head = folder.path().join("2026-06-02-head.svg");
    fs::write(&head, "<svg>mine</svg>").unwrap();
    let (out, err) = analyzed(folder.path(), &[], 2);
    assert_eq!(out, "");
    assert!(
        err.contains("2026-06-02-head.svg stands already and is none of our figures"),
        "{err}"
    );
    assert_eq!(fs::read_to_string(&head).unwrap(), "<svg>mine</svg>");
    assert_eq!(names(folder.path()), ["2026-06-02-head.svg"]);
}

#[test]
fn a_folder_that_cannot_be_made_ends_with_three() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("file");
    fs::write(&file, "").unwrap();
    let (_, err) = analyzed(&file.join("figures"), &[], 3);
    assert!(err.contains("cannot be written"), "{err}");
}

#[test]
fn where_there_is_nothing_to_draw_this_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    write(
        "site.toml",
        "format = 1\nname = \"s\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n",
    );
    write("t.toml", "format = 1\nreadings = \"t.csv\"\n");
    write("t.csv", "speed [rpm],current [A]\n1000,1.2\n2000,2.7\n");
    let arguments = ["analyze", "site.toml", "t.toml", "--figures", "figures"];
    let (_, err) = ends(folder.path(), &arguments, 0);
    assert_eq!(
        err,
        "There is nothing to draw: no step has a reading of flow or power, and the site states no line.\n"
    );
    assert!(!folder.path().join("figures").exists());
}

/// Finds the title of a drawing that was written.
fn title(path: &Path) -> String {
    let svg = fs::read_to_string(path).unwrap();
    assert!(svg.starts_with(charts::OPENING));
    let (_, rest) = svg.split_once("<title>").unwrap();
    rest.split_once("</title>").unwrap().0.to_owned()
}

#[test]
fn a_solved_pad_is_drawn_beside_the_same_answer() {
    let folder = tempfile::tempdir().unwrap();
    let figures = folder.path().to_str().unwrap();
    let site = examples().join("larkspur-lane");
    let plain = [
        "solve",
        "site.toml",
        "--speed",
        "3450 rpm",
        "--closed",
        "return 2",
    ];
    let drawn = [plain.as_slice(), &["--figures", figures]].concat();
    let (out, err) = ends(&site, &drawn, 0);
    assert_eq!(out, ends(&site, &plain, 0).0);
    assert_eq!(err, format!("Wrote 1 figure to {figures}.\n"));
    assert_eq!(names(folder.path()), ["circuit.svg"]);
    let path = folder.path().join("circuit.svg");
    assert!(title(&path).ends_with(" at 3450\u{A0}rpm: 2 limits are not kept"));
    let svg = fs::read_to_string(&path).unwrap();
    assert!(svg.contains(">shut</text>") && svg.contains("class=\"pipe-passed\""));
}

#[test]
fn a_pad_without_a_curve_is_drawn_as_it_is_stated() {
    let folder = tempfile::tempdir().unwrap();
    let figures = folder.path().to_str().unwrap();
    let site = examples().join("haus-birkenweg");
    let call = [
        "analyze",
        "site.toml",
        "2026-07-08.toml",
        "--figures",
        figures,
    ];
    ends(&site, &call, 0);
    let path = folder.path().join("site-circuit.svg");
    assert_eq!(title(&path), "Haus Birkenweg: the circuit as stated");
    let svg = fs::read_to_string(&path).unwrap();
    assert!(svg.contains("Not solved: ") && !svg.contains("class=\"pipe-kept\""));
}
