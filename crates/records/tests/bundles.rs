//! Zip files that are no bundles: each is refused for its own reason, and the words help the person who was sent it.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

mod zips;

use records::{
    Bundle, BundleError, MAX_BUNDLE_BYTES, MAX_BUNDLE_FILES, MAX_BUNDLED_FILE_BYTES, NameFault,
    Source, TestFiles, read_bundle, read_pad, write_bundle,
};
use zips::{Entry, deflated, stored, zip};

const SITE: &str = "format = 1\nname = \"pad\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n";
const TEST: &str = "format = 1\nreadings = \"first.csv\"\n";
const READINGS: &str = "speed [rpm],flow [gpm]\n600,12\n";
const INLINE: &str = "format = 1\n[[step]]\nspeed = \"600 rpm\"\nflow = \"12 gpm\"\n";

/// The entries of a sound bundle.
fn sound() -> Vec<Entry> {
    vec![
        deflated("first.toml", TEST.as_bytes()),
        stored("first.csv", READINGS.as_bytes()),
        deflated("site.toml", SITE.as_bytes()),
    ]
}

/// The reason why a sound bundle with more entries is refused.
fn refused_with(more: impl IntoIterator<Item = Entry>) -> BundleError {
    let mut entries = sound();
    entries.extend(more);
    refused(&zip(&entries))
}

/// The reason of a refusal, which is told in one line, without control characters, with what is expected.
fn refused(bytes: &[u8]) -> BundleError {
    let error = read_bundle(bytes).unwrap_err();
    for problem in error.problems("pad.zip") {
        assert!(problem.file.starts_with("pad.zip"), "{problem}");
        assert!(
            !problem.message.to_string().chars().any(char::is_control),
            "{problem}"
        );
        assert!(!problem.message.to_string().ends_with('.'), "{problem}");
        assert!(
            problem.message.to_string().contains("expected"),
            "{problem}"
        );
    }
    error
}

fn name_fault(name: &str) -> NameFault {
    match refused_with([stored(name, b"format = 1\n")]) {
        BundleError::Name { entry, fault } if entry == name => fault,
        other => panic!("{name}: {other}"),
    }
}

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

#[test]
fn a_sound_bundle_of_another_program_is_read() {
    let bundle = read_bundle(&zip(&sound())).unwrap();
    assert_eq!(bundle.site, source("site.toml", SITE));
    let first = TestFiles {
        test: source("first.toml", TEST),
        readings: Some(source("first.csv", READINGS)),
    };
    assert_eq!(bundle.tests, [first]);
    read_pad(&bundle.site, &bundle.tests).unwrap();
    let written = write_bundle(&bundle).unwrap();
    assert_eq!(read_bundle(&written), Ok(bundle));
}

#[test]
fn what_is_no_zip_file_is_said_to_be_none() {
    for bytes in [&b""[..], SITE.as_bytes(), b"PK", &[0; 4096], b"\x7fELF"] {
        assert_eq!(refused(bytes), BundleError::NotAZip);
    }
    let too_large = vec![b' '; MAX_BUNDLE_BYTES + 1];
    assert_eq!(refused(&too_large), BundleError::TooLarge);
}

#[test]
fn an_empty_zip_file_and_a_foreign_one_have_no_site() {
    let near = None;
    assert_eq!(refused(&zip(&[])), BundleError::NoSite { near });
    let foreign = zip(&[stored("word/document.xml", b"<x/>")]);
    assert_eq!(refused(&foreign), BundleError::NoSite { near: None });
    for (near, says) in [
        ("pad/site.toml", "not the folder"),
        ("Site.toml", "call it site.toml"),
    ] {
        let error = refused(&zip(&[stored(near, SITE.as_bytes())]));
        assert!(error.hint().unwrap().to_string().contains(says), "{error}");
    }
}

#[test]
fn a_part_of_a_zip_file_is_refused_wherever_it_ends() {
    let whole = zip(&sound());
    for end in 0..whole.len() {
        let error = refused(&whole[..end]);
        let expected = [BundleError::NotAZip, BundleError::CutShort];
        assert!(expected.contains(&error), "{end}: {error}");
    }
    let longer = [&whole[..], b"more"].concat();
    assert_eq!(refused(&longer), BundleError::CutShort);
    // In the middle of a copy something went missing.
    let gap = [&whole[..60], &whole[64..]].concat();
    refused(&gap);
}

#[test]
fn a_changed_byte_is_found_or_changes_no_text() {
    let whole = zip(&sound());
    let sound = read_bundle(&whole).unwrap();
    let mut found = 0;
    for at in 0..whole.len() {
        let mut changed = whole.clone();
        changed[at] ^= 0x20;
        match read_bundle(&changed) {
            Ok(bundle) => assert_eq!(bundle, sound, "byte {at}"),
            Err(_) => found += 1,
        }
    }
    assert!(found > whole.len() / 2, "{found} of {}", whole.len());
}

#[test]
fn a_wrong_checksum_or_size_is_found() {
    let entry = "second.toml".to_owned();
    let damaged = BundleError::DamagedEntry { entry };
    let second = || deflated("second.toml", INLINE.as_bytes());
    let crc = Entry { crc: 1, ..second() };
    assert_eq!(refused_with([crc]), damaged);
    for size in [0, 1, u32::MAX - 1] {
        assert_eq!(refused_with([Entry { size, ..second() }]), damaged);
    }
    let packed = vec![0xFF; 9];
    assert_eq!(refused_with([Entry { packed, ..second() }]), damaged);
    let local_name = Some(b"other.toml".to_vec());
    let two_names = Entry {
        local_name,
        ..second()
    };
    assert_eq!(refused_with([two_names]), damaged);
}

#[test]
fn a_bomb_is_stopped_while_it_is_inflated() {
    // Zeros deflate to a thousandth.
    let zeros = vec![0; 50_000_000];
    let mut bomb = deflated("bomb.csv", &zeros);
    assert!(bomb.packed.len() < MAX_BUNDLED_FILE_BYTES);
    let entry = "bomb.csv".to_owned();
    let too_large = BundleError::FileTooLarge { entry };
    assert_eq!(refused_with([bomb.clone()]), too_large);
    // It does not help to state another size.
    bomb.size = 10;
    assert_eq!(refused_with([bomb]), too_large);
}

#[test]
fn many_bombs_are_stopped_together() {
    let most = vec![b' '; MAX_BUNDLED_FILE_BYTES];
    let whole = |number| deflated(&format!("long {number}.csv"), &most);
    assert_eq!(refused_with((0..17).map(whole)), BundleError::AllTooLarge);
}

#[test]
fn a_file_of_just_the_size_allowed_is_read() {
    for pack in [stored, deflated] {
        let mut long = INLINE.as_bytes().to_vec();
        long.resize(MAX_BUNDLED_FILE_BYTES, b'\n');
        let read = |text: &[u8]| {
            let mut entries = sound();
            entries.push(pack("long.toml", text));
            read_bundle(&zip(&entries))
        };
        assert_eq!(read(&long).unwrap().tests.len(), 2);
        long.push(b'\n');
        let entry = "long.toml".to_owned();
        assert_eq!(read(&long), Err(BundleError::FileTooLarge { entry }));
    }
}

#[test]
fn two_hundred_files_are_read_and_one_more_is_not() {
    let test = |number| stored(&format!("test {number}.toml"), INLINE.as_bytes());
    let mut entries: Vec<Entry> = (1..MAX_BUNDLE_FILES).map(test).collect();
    entries.push(stored("site.toml", SITE.as_bytes()));
    let bundle = read_bundle(&zip(&entries)).unwrap();
    assert_eq!(bundle.tests.len(), MAX_BUNDLE_FILES - 1);
    entries.push(test(0));
    assert_eq!(refused(&zip(&entries)), BundleError::TooManyFiles);
    let mut bundle = bundle;
    let test = source("one more.toml", INLINE);
    bundle.tests.push(TestFiles {
        test,
        readings: None,
    });
    assert_eq!(write_bundle(&bundle), Err(BundleError::TooManyFiles));
}

#[test]
fn names_that_lead_elsewhere_or_deceive_are_refused() {
    for name in [
        "../x.toml",
        "/x.toml",
        "C:\\x.toml",
        "C:x.toml",
        "a/b.toml",
        "..\\x.toml",
        "old/",
    ] {
        assert_eq!(name_fault(name), NameFault::Folder, "{name}");
    }
    for (name, character) in [
        ("a\u{202e}lmot.toml", '\u{202e}'),
        ("a\u{1b}[2J.toml", '\u{1b}'),
        ("a\0.toml", '\0'),
        ("ma\u{f1}ana.toml", '\u{f1}'),
    ] {
        assert_eq!(name_fault(name), NameFault::Character(character));
    }
    assert_eq!(name_fault("photo.jpg"), NameFault::Ending);
    assert_eq!(name_fault("-o.toml"), NameFault::Ends);
    assert_eq!(name_fault("nul.toml"), NameFault::Device);
    let name = b"\xFF.toml".to_vec();
    let not_text = Entry {
        name,
        ..stored("x", b"")
    };
    let error = refused_with([not_text]);
    let fault = NameFault::NotText;
    assert!(
        matches!(error, BundleError::Name { fault: found, .. } if found == fault),
        "{error}"
    );
}

#[test]
fn links_folders_passwords_and_other_packing_are_refused() {
    let entry = || "x.toml".to_owned();
    let x = || stored("x.toml", b"site.toml");
    let not_a_file = BundleError::NotAFile { entry: entry() };
    // A symbolic link, a folder, a pipe; the folder of other systems.
    for attributes in [0o120_777 << 16, 0o040_755 << 16, 0o010_644 << 16, 0x10] {
        assert_eq!(refused_with([Entry { attributes, ..x() }]), not_a_file);
    }
    let encrypted = BundleError::Encrypted { entry: entry() };
    for flags in [1, 1 << 6, 1 << 13] {
        assert_eq!(refused_with([Entry { flags, ..x() }]), encrypted);
    }
    for method in [9, 12, 14, 93, 99] {
        let expected = BundleError::Method {
            entry: entry(),
            method,
        };
        assert_eq!(refused_with([Entry { method, ..x() }]), expected);
    }
}

#[test]
fn two_files_of_one_name_are_refused_also_by_capitals() {
    for name in ["site.toml", "SITE.toml", "First.csv", "first.toml"] {
        let error = refused_with([stored(name, SITE.as_bytes())]);
        assert!(matches!(error, BundleError::Namesakes { .. }), "{error}");
    }
    let entry = "other.toml".to_owned();
    let second = stored(&entry, SITE.as_bytes());
    assert_eq!(refused_with([second]), BundleError::SecondSite { entry });
}

#[test]
fn readings_belong_to_a_test_and_are_there() {
    let test = "second.toml".to_owned();
    for readings in ["second.csv", "FIRST.csv", "site.toml"] {
        let text = TEST.replace("first.csv", readings);
        let expected = BundleError::NoReadings {
            test: test.clone(),
            readings: readings.to_owned(),
        };
        assert_eq!(refused_with([stored(&test, text.as_bytes())]), expected);
    }
    let entry = "left over.csv".to_owned();
    let left_over = stored(&entry, READINGS.as_bytes());
    assert_eq!(refused_with([left_over]), BundleError::Unnamed { entry });
    // Two tests may share the readings.
    let mut entries = sound();
    entries.push(stored("second.toml", TEST.as_bytes()));
    let bundle = read_bundle(&zip(&entries)).unwrap();
    let written = write_bundle(&bundle).unwrap();
    assert_eq!(read_bundle(&written), Ok(bundle));
}

#[test]
fn texts_are_refused_at_their_place() {
    let told = |text: &[u8]| {
        let error = refused_with([stored("x.toml", text)]);
        error.problems("pad.zip")[0].to_string()
    };
    let newer = told(b"format = 2\nwaves = 3\n");
    assert!(
        newer.starts_with("pad.zip/x.toml:1:10: format 2 is newer"),
        "{newer}"
    );
    assert!(newer.contains("hint:"), "{newer}");
    let open = told(b"format = 1\nclosed = [\n");
    assert!(open.starts_with("pad.zip/x.toml:"), "{open}");
    let binary = told(b"\x89PNG\0\0");
    assert!(binary.contains("no text"), "{binary}");
    let latin = told(b"format = 1\n# \xE9t\xE9\n");
    assert!(latin.starts_with("pad.zip/x.toml:2:3:"), "{latin}");
    let path = told(b"format = 1\nreadings = \"../first.csv\"\n");
    assert!(path.contains("bare name"), "{path}");
}

#[test]
fn other_faults_of_a_text_travel_along() {
    let unknown = "format = 1\nwaves = 3\n";
    let mut entries = sound();
    entries.push(stored("x.toml", unknown.as_bytes()));
    let bundle = read_bundle(&zip(&entries)).unwrap();
    assert_eq!(bundle.tests[1].test.text, unknown);
}

#[test]
fn a_change_goes_with_its_site_and_is_no_test() {
    let change = "format = 1\nname = \"A clean filter\"\nfilter = \"clean\"\n";
    let pump = "format = 1\nname = \"Another pump\"\ncapital = \"900 USD\"\nlife = \"8 year\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n";
    let mut entries = sound();
    entries.push(stored("clean.toml", change.as_bytes()));
    entries.push(stored("another.toml", pump.as_bytes()));
    let bundle = read_bundle(&zip(&entries)).unwrap();
    let names: Vec<&str> = bundle
        .changes
        .iter()
        .map(|file| file.name.as_str())
        .collect();
    assert_eq!(names, ["another.toml", "clean.toml"]);
    assert_eq!(bundle.changes[1].text, change);
    let again = read_bundle(&write_bundle(&bundle).unwrap());
    assert_eq!(again, Ok(bundle));
}

/// A bundle of the sound texts, changed.
fn unwritable(change: impl FnOnce(&mut Bundle)) -> BundleError {
    let mut bundle = read_bundle(&zip(&sound())).unwrap();
    change(&mut bundle);
    write_bundle(&bundle).unwrap_err()
}

#[test]
fn what_could_not_be_read_again_is_not_written() {
    let rename = |name: &str| unwritable(|bundle| bundle.tests[0].test.name = name.to_owned());
    let error = rename("tests/first.toml");
    assert!(matches!(error, BundleError::Name { .. }), "{error}");
    let error = rename("site.toml");
    assert!(matches!(error, BundleError::Namesakes { .. }), "{error}");
    let error = unwritable(|bundle| bundle.tests[0].readings = None);
    assert!(matches!(error, BundleError::NoReadings { .. }), "{error}");
    let error = unwritable(|bundle| bundle.tests[0].test.text = INLINE.to_owned());
    assert!(matches!(error, BundleError::Unnamed { .. }), "{error}");
    let error = unwritable(|bundle| bundle.site.name = "pad.toml".to_owned());
    assert!(matches!(error, BundleError::NoSite { .. }), "{error}");
    let error = unwritable(|bundle| bundle.site.text.push('\0'));
    assert!(matches!(error, BundleError::Texts(_)), "{error}");
    // Other readings of the same name.
    let error = unwritable(|bundle| {
        bundle.tests.push(TestFiles {
            test: source("second.toml", TEST),
            readings: Some(source("first.csv", "speed [rpm]\n")),
        });
    });
    assert!(matches!(error, BundleError::Namesakes { .. }), "{error}");
}
