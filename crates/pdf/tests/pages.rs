//! What a PDF of a report holds, by tools that are none of ours: poppler reads its text, qpdf checks its structure.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

mod composed;

use composed::{VISIT, composed, unheaded};
use document::html;
use document::report::{Letterhead, Paper, Report};
use records::{Language, Logo, Profile};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Writes a PDF where a tool can read it.
fn file(name: &str, bytes: &[u8]) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::write(&path, bytes).unwrap();
    path
}

/// Runs a tool and gives what it prints.
fn said(tool: &str, arguments: &[&str]) -> String {
    let output = Command::new(tool).args(arguments).output();
    let output = output.unwrap_or_else(|error| {
        panic!("{tool}: {error}; `cargo xtask test` says how to install it")
    });
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    assert!(
        output.status.success(),
        "{tool}: {}{}",
        text(&output.stdout),
        text(&output.stderr)
    );
    text(&output.stdout)
}

/// Reads the text of some pages as one line.
fn read(path: &Path, pages: (u32, u32)) -> String {
    let (first, last) = (pages.0.to_string(), pages.1.to_string());
    let path = path.to_str().unwrap();
    let text = said(
        "pdftotext",
        &["-f", &first, "-l", &last, "-layout", path, "-"],
    );
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn every_example_is_set_on_its_paper() {
    let visits: [(&str, &[&str], Paper); 4] = [
        (VISIT.0, VISIT.1, Paper::Letter),
        (VISIT.0, VISIT.1, Paper::A4),
        ("haus-birkenweg", &["2026-07-08"], Paper::A4),
        (
            "cedar-court",
            &["2026-04-22", "2026-04-22-spa-shut"],
            Paper::Letter,
        ),
    ];
    for (name, tests, paper) in visits {
        let report = composed((name, tests), str::to_owned, unheaded());
        let bytes = pdf::pdf(&report, paper).unwrap();
        let path = file(&format!("{name}-{}.pdf", paper.name()), &bytes);
        is_sound(&path, &report, paper);
        // The page for the owner is one page.
        assert!(!read(&path, (1, 1)).contains("For the next technician"));
        let second = read(&path, (2, 2));
        assert!(
            second.starts_with("For the next technician"),
            "{name} on {paper:?}: {second}"
        );
    }
}

/// Holds a file to what every report is: sound, tagged, of one paper and one face, without a script.
fn is_sound(path: &Path, report: &Report, paper: Paper) {
    let path = path.to_str().unwrap();
    let checked = said("qpdf", &["--check", path]);
    let sound = "No syntax or stream encoding errors found";
    assert!(checked.contains(sound), "{checked}");
    let told = said("pdfinfo", &[path]);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let size = match paper {
        Paper::Letter => "612 x 792 pts (letter)",
        Paper::A4 => "595.276 x 841.89 pts (A4)",
    };
    let parts = [
        "Tagged: yes",
        size,
        "Creator: headwright",
        "JavaScript: no",
        "Encrypted: no",
        &report.title,
    ];
    for part in parts {
        assert!(told.contains(part), "{part}: {told}");
    }
    // ISO 14289-1, clause 5: the file says of itself that it conforms.
    assert!(said("pdfinfo", &["-meta", path]).contains("<pdfuaid:part>1</pdfuaid:part>"));
    for font in said("pdffonts", &[path]).lines().skip(2) {
        assert!(font.contains("AtkinsonHyperlegibleNext"), "{font}");
        assert!(font.contains("yes yes yes"), "{font}");
    }
}

#[test]
fn the_same_report_has_the_same_bytes_and_the_words_of_the_page() {
    let report = composed(VISIT, str::to_owned, unheaded());
    let bytes = pdf::pdf(&report, Paper::Letter).unwrap();
    assert!(bytes == pdf::pdf(&report, Paper::Letter).unwrap());
    let path = file("same-words.pdf", &bytes);
    let text = read(&path, (1, 99));
    let page = html::page(&report, Paper::Letter);
    // Short enough that no line of the page is broken within.
    for part in [
        "Set as below, the pump moves",
        "780 ± 11",
        "What to mend first",
        "59 ± 3",
        "2 × eyeball",
        "filter gauge, psi",
        "Put back as found",
        "Words of the trade",
    ] {
        assert!(page.contains(part), "{part} in the page");
        assert!(text.contains(part), "{part} in the PDF");
    }
    assert!(text.contains("0.223 [1]"));
    // The day is that of the report, and nothing of the clock.
    assert!(said("pdfinfo", &["-isodates", path.to_str().unwrap()]).contains("2026-11-28"));
}

#[test]
fn a_report_in_spanish_has_its_letters_and_says_its_language() {
    let letterhead = Letterhead {
        profile: Profile {
            language: Some(Language::Spanish),
            ..Profile::default()
        },
        ..unheaded()
    };
    let report = composed(VISIT, str::to_owned, letterhead);
    let bytes = pdf::pdf(&report, Paper::A4).unwrap();
    let path = file("spanish.pdf", &bytes);
    is_sound(&path, &report, Paper::A4);
    let text = read(&path, (1, 99));
    for part in [
        "caudal",
        "técnico",
        "presión",
        "año",
        "28 de noviembre de 2026",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    // ISO 14289-1, 7.2: the language of the text is stated.
    let plain = file("spanish-plain.pdf", b"");
    let [from, to] = [&path, &plain].map(|path| path.to_str().unwrap());
    said("qpdf", &["--qdf", "--object-streams=disable", from, to]);
    let objects = fs::read(&plain).unwrap();
    assert!(String::from_utf8_lossy(&objects).contains("/Lang (es)"));
    assert!(!read(&path, (1, 1)).contains("Para el próximo técnico"));
    assert!(read(&path, (2, 2)).starts_with("Para el próximo técnico"));
}

/// A logo: a PNG of one black pixel.
const SQUARE: &[u8] = b"\x89PNG\x0d\x0a\x1a\x0a\x00\x00\x00\x0dIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x00\x00\x00\x00:~\x9bU\x00\x00\x00\x0aIDATx\xdac`\x00\x00\x00\x02\x00\x01\xe5'\xde\xfc\x00\x00\x00\x00IEND\xaeB`\x82";

#[test]
fn hostile_names_are_text_beside_a_logo() {
    let name = "#panic() $x$ <script> `raw` *b* _i_ @ref // /* ~ -- \u{1F3CA} end";
    let letterhead = Letterhead {
        profile: Profile {
            business: Some(name.to_owned()),
            licence: Some("#1".to_owned()),
            contact: vec![name.to_owned()],
            ..Profile::default()
        },
        logo: Some(Logo::from_bytes("logo", SQUARE.to_vec()).unwrap()),
        ..unheaded()
    };
    let change = |site: &str| {
        site.replace("name = \"Larkspur Lane\"", &format!("name = \"{name}\""))
            .replace("skimmer suction", &"#m".repeat(40))
    };
    let report = composed(VISIT, change, letterhead);
    let path = file("hostile.pdf", &pdf::pdf(&report, Paper::Letter).unwrap());
    let text = read(&path, (1, 1));
    for part in [
        "#panic() $x$ <script> `raw` *b* _i_ @ref // /* ~ --",
        "Licence #1",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
}

#[test]
fn a_broken_logo_is_said() {
    let letterhead = Letterhead {
        // A head that says its size, and no picture after it.
        logo: Some(
            Logo::from_bytes(
                "logo",
                b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x0a\0\0\0\x0a".to_vec(),
            )
            .unwrap(),
        ),
        ..unheaded()
    };
    let report = composed(VISIT, str::to_owned, letterhead);
    let broken = pdf::pdf(&report, Paper::Letter).unwrap_err();
    assert!(matches!(broken, pdf::PdfError::Logo(_)), "{broken}");
}
