//! The profile on the page: the file of the command, checked as the command checks it; and the policy under which a report is
//! shown.

use app::letterhead::{Field, KeptProfile, imported};
use document::html::style_digest;
use document::report::Paper;

fn png(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec();
    bytes.extend(width.to_be_bytes());
    bytes.extend(height.to_be_bytes());
    bytes
}

#[test]
fn a_field_is_written_shown_and_taken_out() {
    let kept = KeptProfile::default();
    let with = kept.with(Field::Business, " Clearwater & Sons ").unwrap();
    assert_eq!(with.text, "format = 1\nbusiness = \"Clearwater & Sons\"\n");
    assert_eq!(with.shown(Field::Business), "Clearwater & Sons");
    let with = with
        .with(Field::Contact, "1 Example Road\n\n 555-0100 \n")
        .unwrap();
    assert_eq!(with.shown(Field::Contact), "1 Example Road\n555-0100");
    let with = with.with(Field::Language, "es").unwrap();
    assert_eq!(with.shown(Field::Language), "es");
    let without = with
        .with(Field::Business, "")
        .and_then(|kept| kept.with(Field::Contact, " "))
        .and_then(|kept| kept.with(Field::Language, ""))
        .unwrap();
    assert_eq!(without, kept);
}

#[test]
fn a_comment_of_the_file_stays() {
    let text = "# ours\nformat = 1 # the first\nbusiness = \"A\"\n";
    let kept = imported(&[("mine.toml".to_owned(), text.as_bytes().to_vec())]).unwrap();
    let kept = kept.with(Field::Technician, "R. Doe").unwrap();
    assert!(
        kept.text.contains("# ours") && kept.text.contains("# the first"),
        "{}",
        kept.text
    );
}

#[test]
fn what_the_command_refuses_is_not_kept() {
    let kept = KeptProfile::default();
    let refused = |field, said: &str| kept.with(field, said).unwrap_err()[0].to_string();
    for (field, said, part) in [
        (Field::Business, "a\u{202e}b", "business"),
        (Field::Business, &"x".repeat(81), "business"),
        (Field::Contact, "1\n2\n3\n4\n5\n6\n7", "it has 7 lines"),
        (Field::Language, "tlh", "language"),
    ] {
        let said = refused(field, said);
        assert!(said.contains(part), "{said}");
    }
    for (name, bytes, part) in [
        ("a.gif", b"GIF89a".to_vec(), "neither PNG nor JPEG"),
        ("a.png", png(4000, 4000), "4000 by 4000 pixels"),
        ("a.png", vec![0; 2_000_001], "larger than 2 MB"),
    ] {
        let said = kept.with_logo(name, bytes).unwrap_err()[0].to_string();
        assert!(said.contains(part), "{said}");
    }
}

#[test]
fn a_logo_has_a_name_that_a_file_may_have_and_goes_again() {
    let kept = KeptProfile::default();
    let with = kept.with_logo("../Our márk (1).jpeg", png(30, 10)).unwrap();
    let (name, logo) = with.logo().unwrap();
    assert_eq!(name, "Our-m-rk-1.png");
    assert_eq!(logo.bytes, png(30, 10));
    assert_eq!(with.without_logo().unwrap(), kept);
}

#[test]
fn a_profile_comes_with_its_logo_or_says_what_it_lacks() {
    let file = |name: &str, bytes: &[u8]| (name.to_owned(), bytes.to_vec());
    let text = b"format = 1\nlogo = \"mark.png\"\n".as_slice();
    let whole = [file("mark.png", &png(30, 10)), file("mine.toml", text)];
    assert_eq!(imported(&whole).unwrap().logo().unwrap().0, "mark.png");
    let said = imported(&whole[1..]).unwrap_err()[0].to_string();
    assert!(said.contains("names the logo mark.png"), "{said}");
    let said = imported(&whole[..1]).unwrap_err()[0].to_string();
    assert!(
        said.contains("profile.toml: is not among the files"),
        "{said}"
    );
}

/// A report that is shown within the page is bound by the page's policy too: that must know its style by the digest.
#[test]
fn the_policy_of_the_page_lets_the_style_of_a_report_be_and_no_other() {
    let index = include_str!("../static/index.html");
    let policy = index.split("Content-Security-Policy\" content=\"").nth(1);
    let policy = policy.and_then(|rest| rest.split('"').next()).unwrap();
    let styles = policy
        .split(';')
        .find(|part| part.trim().starts_with("style-src"));
    let expected = format!(
        "style-src 'self' {} {}",
        style_digest(Paper::Letter),
        style_digest(Paper::A4)
    );
    assert_eq!(
        styles.map(str::trim),
        Some(expected.as_str()),
        "write this in index.html and in the policy of the server"
    );
}
