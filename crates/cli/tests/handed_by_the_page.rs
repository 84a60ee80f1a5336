//! The report that the page hands over is the command's, byte for byte, and so is the PDF that the served page asks for.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

mod support;

use app::letterhead::KeptProfile;
use app::work::{Answer, Asked, Desk, Question, Room, Texts};
use document::report::{File, Order, TestFile};
use records::{Source, TestFiles, readings_file};
use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpStream};
use std::path::Path;
use std::process::Stdio;
use support::{ends, examples, headwright};

const DATE: &str = "2026-11-28";

/// An example with what is asked of its report.
struct Case {
    folder: &'static str,
    tests: &'static [&'static str],
    changes: &'static [&'static str],
    language: Option<&'static str>,
    paper: Option<&'static str>,
    units: Option<&'static str>,
}

const PLAIN: Case = Case {
    folder: "larkspur-lane",
    tests: &["2026-06-02.toml"],
    changes: &[],
    language: None,
    paper: None,
    units: None,
};

fn source(folder: &Path, name: &str) -> Source {
    Source {
        name: Path::new(name)
            .file_name()
            .unwrap()
            .to_str()
            .unwrap()
            .to_owned(),
        text: fs::read_to_string(folder.join(name)).unwrap(),
    }
}

impl Case {
    fn order(&self, profile: Option<&KeptProfile>) -> Order {
        let folder = examples().join(self.folder);
        let test = |name: &&str| {
            let test = source(&folder, name);
            let readings = readings_file(&test).unwrap();
            let readings = readings.map(|name| source(&folder, &name));
            TestFile::from(&TestFiles { test, readings })
        };
        let owned = |word: Option<&str>| word.map(str::to_owned);
        Order {
            format: 1,
            site: File::from(&source(&folder, "site.toml")),
            tests: self.tests.iter().map(test).collect(),
            changes: self
                .changes
                .iter()
                .map(|name| File::from(&source(&folder, name)))
                .collect(),
            profile: profile.map(KeptProfile::file),
            logo: profile.and_then(|profile| profile.logo.clone()),
            date: DATE.to_owned(),
            units: owned(self.units),
            language: owned(self.language),
            paper: owned(self.paper),
        }
    }

    /// What the command writes into a file of an ending.
    fn of_command(&self, ending: &str, profile: Option<&Path>) -> Vec<u8> {
        let out = tempfile::tempdir().unwrap();
        let path = out.path().join(format!("report.{ending}"));
        let mut arguments = vec!["report", "site.toml"];
        arguments.extend(self.tests);
        arguments.extend(["--date", DATE, "-o", path.to_str().unwrap()]);
        for (option, word) in [
            ("--language", self.language),
            ("--paper", self.paper),
            ("--units", self.units),
            ("--profile", profile.map(|path| path.to_str().unwrap())),
        ] {
            arguments.extend(word.map(|word| [option, word]).into_iter().flatten());
        }
        if !self.changes.is_empty() {
            arguments.push("--change");
            arguments.extend(self.changes);
        }
        ends(&examples().join(self.folder), &arguments, 0);
        fs::read(&path).unwrap()
    }
}

/// What the worker of the page makes of an order.
fn of_page(order: Order) -> String {
    let asked = Asked {
        pad: Texts::default(),
        language: "en".to_owned(),
        units: None,
        room: Room::Narrow,
        question: Question::HandOver(Box::new(order)),
    };
    // It travels to the worker and back as JSON.
    let asked: Asked = serde_json::from_str(&serde_json::to_string(&asked).unwrap()).unwrap();
    let answer = Desk::default().answer(&asked);
    let answer = serde_json::from_str(&serde_json::to_string(&answer).unwrap()).unwrap();
    match answer {
        Answer::HandedOver(handed) => handed.html,
        other => panic!("{other:?}"),
    }
}

fn is_the_same(case: &Case) {
    let page = of_page(case.order(None));
    let command = String::from_utf8(case.of_command("html", None)).unwrap();
    assert!(page == command, "{}", case.folder);
}

#[test]
fn the_examples_are_handed_over_byte_for_byte() {
    is_the_same(&PLAIN);
    for (folder, tests) in [
        (
            "larkspur-lane",
            ["2026-05-16.toml", "2026-06-02.toml"].as_slice(),
        ),
        ("haus-birkenweg", &["2026-07-08.toml"]),
        (
            "cedar-court",
            &["2026-04-22-spa-shut.toml", "2026-04-22.toml"],
        ),
        (
            "alder-close",
            &["2026-04-11.toml", "2026-05-09.toml", "2026-06-20.toml"],
        ),
    ] {
        is_the_same(&Case {
            folder,
            tests,
            ..PLAIN
        });
    }
}

#[test]
fn every_language_paper_and_unit_is_handed_over_byte_for_byte() {
    for (language, paper, units) in [
        ("es", None, None),
        ("es-US", Some("a4"), Some("us")),
        ("en", Some("letter"), Some("si")),
    ] {
        is_the_same(&Case {
            language: Some(language),
            paper,
            units,
            ..PLAIN
        });
    }
}

#[test]
fn changes_are_weighed_byte_for_byte() {
    is_the_same(&Case {
        changes: &["changes/clean-filter.toml", "changes/larger-returns.toml"],
        language: Some("es"),
        ..PLAIN
    });
}

/// A profile on the page and as files for the command, with a logo.
fn profile() -> (KeptProfile, tempfile::TempDir) {
    use app::letterhead::Field;
    let png = records::base64::read(
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==",
    );
    let kept = KeptProfile::default()
        .with(Field::Business, "Clearwater & Sons")
        .and_then(|kept| kept.with(Field::Licence, "000000"))
        .and_then(|kept| kept.with(Field::Contact, "1 Example Road\n555-0100\n"))
        .and_then(|kept| kept.with(Field::Language, "es-US"))
        .and_then(|kept| kept.with_logo("Our mark.PNG", png.unwrap()))
        .unwrap();
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("profile.toml"), &kept.text).unwrap();
    let (name, logo) = kept.logo().unwrap();
    fs::write(folder.path().join(name), logo.bytes).unwrap();
    (kept, folder)
}

#[test]
fn the_profile_of_the_page_is_the_profile_of_the_command() {
    let (kept, folder) = profile();
    let file = folder.path().join("profile.toml");
    let page = of_page(PLAIN.order(Some(&kept)));
    let command = String::from_utf8(PLAIN.of_command("html", Some(&file))).unwrap();
    assert!(page == command);
    assert!(page.contains("Clearwater &amp; Sons") && page.contains("data:image/png;base64,"));
    assert!(page.contains("lang=\"es-US\""));
    // And back: the files of the command are the profile of the page.
    let mut files = Vec::new();
    for entry in fs::read_dir(folder.path()).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name().into_string().unwrap();
        files.push((name, fs::read(entry.path()).unwrap()));
    }
    assert_eq!(app::letterhead::imported(&files), Ok(kept));
}

/// Sends an order to a command that serves a page; the status line and the body of the answer.
#[cfg(all(unix, feature = "pdf"))]
fn served(order: &str) -> (String, Vec<u8>) {
    let page = tempfile::tempdir().unwrap();
    fs::write(page.path().join("index.html"), "<!doctype html>").unwrap();
    let mut child = headwright(&examples())
        .args(["serve", "--port", "0", "--page"])
        .arg(page.path())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut line = String::new();
    let out = child.stdout.take().unwrap();
    BufReader::new(out).read_line(&mut line).unwrap();
    let port = line
        .trim()
        .trim_end_matches('/')
        .rsplit(':')
        .next()
        .unwrap();
    let mut stream = TcpStream::connect((Ipv4Addr::LOCALHOST, port.parse().unwrap())).unwrap();
    let head = format!(
        "POST /api/report HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nOrigin: http://127.0.0.1:{port}\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
        order.len()
    );
    stream.write_all(head.as_bytes()).unwrap();
    stream.write_all(order.as_bytes()).unwrap();
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).unwrap();
    child.kill().unwrap();
    child.wait().unwrap();
    let end = b"\r\n\r\n";
    let at = answer
        .windows(end.len())
        .position(|four| four == end)
        .unwrap();
    let body = answer.split_off(at + end.len());
    let head = String::from_utf8(answer).unwrap();
    (head.lines().next().unwrap().to_owned(), body)
}

#[cfg(all(unix, feature = "pdf"))]
#[test]
fn the_pdf_of_the_served_page_is_that_of_the_command() {
    let (kept, folder) = profile();
    let order = serde_json::to_string(&PLAIN.order(Some(&kept))).unwrap();
    let (status, pdf) = served(&order);
    assert_eq!(status, "HTTP/1.1 200 OK");
    let file = folder.path().join("profile.toml");
    assert!(
        pdf == PLAIN.of_command("pdf", Some(&file)),
        "{} bytes",
        pdf.len()
    );
}

#[cfg(all(unix, feature = "pdf"))]
#[test]
fn what_cannot_be_set_is_told_as_the_command_tells_it() {
    let (status, body) = served("{\"site\": 1}");
    assert!(status.starts_with("HTTP/1.1 422"), "{status}");
    let said = String::from_utf8(body).unwrap();
    assert!(
        said.starts_with("what came is no order of a report"),
        "{said}"
    );
    let mut order = PLAIN.order(None);
    order.site.text = order.site.text.replace("[pump]", "[pmup]");
    let (status, body) = served(&serde_json::to_string(&order).unwrap());
    assert!(status.starts_with("HTTP/1.1 422"), "{status}");
    let said = String::from_utf8(body).unwrap();
    assert!(
        said.contains("site.toml:") && said.contains("pump"),
        "{said}"
    );
    for (change, part) in [
        (("date", "soon"), "the date is \"soon\""),
        (("language", "tlh"), "the language is \"tlh\""),
        (("paper", "foolscap"), "the paper is \"foolscap\""),
    ] {
        let mut order = serde_json::to_value(PLAIN.order(None)).unwrap();
        order[change.0] = change.1.into();
        let order: Order = serde_json::from_value(order).unwrap();
        let problems = order.read().unwrap_err();
        assert!(
            problems[0].message.to_string().contains(part),
            "{problems:?}"
        );
    }
}
