//! `export` and `import`: what goes into a bundle comes out as it was, and nothing is overwritten or written elsewhere.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use std::fs;
use std::path::Path;
use support::{ends, examples, names};

/// The files of an example with two tests.
const FILES: [&str; 5] = [
    "2026-05-16.csv",
    "2026-05-16.toml",
    "2026-06-02.csv",
    "2026-06-02.toml",
    "site.toml",
];

/// Exports the example as `pad.zip` in a folder.
fn export(folder: &Path) {
    let zip = folder.join("pad.zip");
    let call = [
        "export",
        "site.toml",
        "2026-05-16.toml",
        "2026-06-02.toml",
        "-o",
        zip.to_str().unwrap(),
    ];
    let (out, err) = ends(&examples().join("larkspur-lane"), &call, 0);
    assert!(
        out.contains("2 tests") && out.contains("headwright import"),
        "{out}"
    );
    assert_eq!(err, "");
}

#[test]
fn files_come_out_as_they_went_in() {
    let folder = tempfile::tempdir().unwrap();
    export(folder.path());
    let (out, err) = ends(folder.path(), &["import", "pad.zip", "--into", "a/b"], 0);
    assert_eq!(err, "");
    let taken_out = folder.path().join("a/b");
    assert_eq!(names(&taken_out), FILES);
    for name in FILES {
        assert!(out.contains(name), "{out}");
        let before = fs::read(examples().join("larkspur-lane").join(name)).unwrap();
        assert_eq!(fs::read(taken_out.join(name)).unwrap(), before, "{name}");
    }
    // The last line is a call that works.
    let call: Vec<&str> = out
        .lines()
        .last()
        .unwrap()
        .split_whitespace()
        .skip(1)
        .collect();
    assert_eq!(call.len(), 4);
    ends(folder.path(), &call, 1);
}

#[test]
fn the_same_files_make_the_same_bundle() {
    let folders = [tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap()];
    let bytes = folders.map(|folder| {
        export(folder.path());
        fs::read(folder.path().join("pad.zip")).unwrap()
    });
    assert_eq!(bytes[0], bytes[1]);
}

#[test]
fn a_site_of_any_name_and_folder_becomes_the_site() {
    let folder = tempfile::tempdir().unwrap();
    let site = examples().join("larkspur-lane/site.toml");
    fs::create_dir(folder.path().join("pads")).unwrap();
    fs::copy(site, folder.path().join("pads/larkspur.toml")).unwrap();
    let call = ["export", "pads/larkspur.toml", "--output", "pad.zip"];
    let (out, _) = ends(folder.path(), &call, 0);
    assert!(out.contains("no test"), "{out}");
    ends(folder.path(), &["import", "pad.zip", "--into", "out"], 0);
    assert_eq!(names(&folder.path().join("out")), ["site.toml"]);
}

#[test]
fn nothing_is_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    export(folder.path());
    let bundle = fs::read(folder.path().join("pad.zip")).unwrap();
    let example = examples().join("larkspur-lane");
    let zip = folder.path().join("pad.zip");
    let call = ["export", "site.toml", "-o", zip.to_str().unwrap()];
    let (_, err) = ends(&example, &call, 2);
    assert!(
        err.contains("stands already") && err.contains("hint:"),
        "{err}"
    );
    assert_eq!(fs::read(&zip).unwrap(), bundle);

    fs::create_dir(folder.path().join("out")).unwrap();
    let mine = folder.path().join("out/2026-06-02.csv");
    fs::write(&mine, "mine").unwrap();
    let (_, err) = ends(folder.path(), &["import", "pad.zip", "--into", "out"], 2);
    assert!(err.contains("2026-06-02.csv stands already"), "{err}");
    assert_eq!(fs::read(&mine).unwrap(), b"mine");
    assert_eq!(names(&folder.path().join("out")), ["2026-06-02.csv"]);
}

#[cfg(unix)]
#[test]
fn no_link_is_followed_out_of_the_folder() {
    let folder = tempfile::tempdir().unwrap();
    export(folder.path());
    fs::create_dir(folder.path().join("out")).unwrap();
    let elsewhere = folder.path().join("elsewhere.toml");
    std::os::unix::fs::symlink(&elsewhere, folder.path().join("out/site.toml")).unwrap();
    let (_, err) = ends(folder.path(), &["import", "pad.zip", "--into", "out"], 2);
    assert!(err.contains("site.toml stands already"), "{err}");
    assert!(!elsewhere.exists());
}

#[test]
fn what_is_no_bundle_is_refused_and_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    export(folder.path());
    let bundle = fs::read(folder.path().join("pad.zip")).unwrap();
    let half = &bundle[..bundle.len() / 2];
    for (bytes, says) in [
        (&b"format = 1\n"[..], "no zip file"),
        (
            b"PK\x05\x06\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0",
            "no site.toml",
        ),
        (half, "does not end where it should"),
    ] {
        fs::write(folder.path().join("bad.zip"), bytes).unwrap();
        let (out, err) = ends(folder.path(), &["import", "bad.zip", "--into", "out"], 2);
        assert!(err.starts_with("bad.zip: ") && err.contains(says), "{err}");
        assert_eq!(out, "");
        assert!(!folder.path().join("out").exists());
    }
    let huge = fs::File::create(folder.path().join("huge.zip")).unwrap();
    huge.set_len(2_000_000_000).unwrap();
    let (_, err) = ends(folder.path(), &["import", "huge.zip", "--into", "out"], 2);
    assert!(err.contains("16 MB"), "{err}");
    for bundle in ["nothing.zip", "."] {
        ends(folder.path(), &["import", bundle, "--into", "out"], 2);
    }
}

#[test]
fn what_makes_no_bundle_is_said_under_its_path() {
    let folder = tempfile::tempdir().unwrap();
    let file = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    let site = "format = 1\nname = \"pad\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n";
    file("pad.toml", site);
    file("broken.toml", "format = 1\nname = \"pad\n");
    file("pr\u{fc}fung.toml", "format = 1\n");
    file("lost.toml", "format = 1\nreadings = \"lost.csv\"\n");
    for (files, says) in [
        (&["broken.toml"][..], "broken.toml:2:"),
        (&["nothing.toml"], "nothing.toml: cannot be read"),
        (&["pad.toml", "pr\u{fc}fung.toml"], "has the character"),
        (&["pad.toml", "lost.toml"], "lost.csv: cannot be read"),
        (
            &["pad.toml", "pad.toml"],
            "is a site file; expected a test file",
        ),
    ] {
        let call = [&["export"], files, &["-o", "pad.zip"]].concat();
        let (_, err) = ends(folder.path(), &call, 2);
        assert!(err.contains(says), "{err}");
        assert!(!folder.path().join("pad.zip").exists());
    }
    ends(folder.path(), &["export", "pad.toml"], 2);
    ends(
        folder.path(),
        &["export", "pad.toml", "-o", "no/pad.zip"],
        3,
    );
}

#[test]
fn help_shows_how() {
    let folder = examples();
    for (command, example) in [
        ("export", "headwright export site.toml 2026-05-16.toml -o"),
        ("import", "headwright import larkspur-lane.zip --into"),
    ] {
        let (help, _) = ends(&folder, &[command, "--help"], 0);
        assert!(help.contains(example), "{help}");
        let (page, _) = ends(&folder, &["man", command], 0);
        assert!(page.contains(command), "{page}");
        let (completions, _) = ends(&folder, &["completions", "bash"], 0);
        assert!(completions.contains(command));
        let (all, _) = ends(&folder, &["--help"], 0);
        assert!(all.contains(command), "{all}");
    }
}
