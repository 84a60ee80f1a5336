//! The library: lists, copies, what is deleted and brought back, and files from outside and to it.

#![expect(clippy::unwrap_used, reason = "what tests share fails by panicking")]

use app::demo;
use app::engine::Pad;
use app::library::{
    Id, ImportError, Imported, Library, Moment, Revision, SiteRecord, TestRecord, by_last_change,
    deleted, duplicate_site, duplicate_test, export_name, exported, found, free_name, import,
    pad_of, restored,
};
use proptest::prelude::*;

/// Ids that count up from a number.
fn ids(mut next: u32) -> impl FnMut() -> Id {
    move || {
        next += 1;
        Id(format!("id-{next}"))
    }
}

fn bundle() -> Vec<u8> {
    let Pad { site, tests } = demo::pad();
    records::write_bundle(&records::Bundle {
        site,
        tests,
        changes: Vec::new(),
    })
    .unwrap()
}

fn taken(library: &Library, name: &str, bytes: &[u8], open: Option<&Id>, at: u64) -> Imported {
    let mut ids = ids(u32::try_from(at).unwrap());
    import(library, (name, bytes), open, &mut ids, Moment(at)).unwrap()
}

fn with(mut library: Library, imported: Imported) -> Library {
    library.sites.extend(imported.site);
    library.tests.extend(imported.tests);
    library.changes.extend(imported.changes);
    library
}

fn library() -> Library {
    with(
        Library::default(),
        taken(&Library::default(), "larkspur.zip", &bundle(), None, 1000),
    )
}

#[test]
fn a_bundle_comes_in_and_goes_out_the_same() {
    let library = library();
    let site = &library.sites[0];
    assert_eq!(site.name, "Larkspur Lane");
    assert_eq!((site.created, site.revision), (Moment(1000), Revision(0)));
    let tests = library.tests_of(&site.id);
    assert_eq!(exported(site, &tests, &[]).unwrap(), bundle());
    assert_eq!(export_name(site), "Larkspur-Lane.zip");
    let pad = pad_of(site, &tests);
    assert!(app::answer::answer(&pad, None, records::Language::English).is_ok());
}

#[test]
fn a_bundle_that_is_here_already_brings_only_what_is_new() {
    let library = library();
    let again = taken(&library, "larkspur.zip", &bundle(), None, 2000);
    assert_eq!((again.site, again.tests.len()), (None, 0));
    assert_eq!(again.known, ["2026-05-16", "2026-06-02"]);
    assert_eq!(again.site_id, library.sites[0].id);
}

#[test]
fn a_test_of_a_name_that_is_taken_gets_a_number_and_says_so() {
    let library = library();
    let mut pad = demo::pad();
    pad.tests.truncate(1);
    let readings = pad.tests[0].readings.as_mut().unwrap();
    readings.text = readings.text.replace("11.4", "11.5");
    let bytes = records::write_bundle(&records::Bundle {
        site: pad.site,
        tests: pad.tests,
        changes: Vec::new(),
    });
    let imported = taken(&library, "other.zip", &bytes.unwrap(), None, 2000);
    assert_eq!(imported.renamed[0].to, "2026-05-16-2");
    let test = &imported.tests[0];
    assert!(test.head_text.contains("readings = \"2026-05-16-2.csv\""));
    assert!(test.head_text.starts_with("# The first visit"));
    let all = with(library, imported);
    let site = &all.sites[0];
    // What goes out can come in again: no two files have one name.
    assert!(exported(site, &all.tests_of(&site.id), &[]).is_ok());
}

#[test]
fn single_files_find_their_place_or_say_what_they_lack() {
    let library = library();
    let site = &library.sites[0].id;
    let csv = b"speed [rpm],flow [gpm]\n600,11\n".as_slice();
    let imported = taken(&library, "C:\\x\\My test.CSV", csv, Some(site), 2000);
    let test = &imported.tests[0];
    assert_eq!(test.name, "My-test");
    let own = app::draft::TestDraft::from_files(&test.files()).unwrap();
    assert_eq!(own.to_files(), test.files());
    let all = with(library.clone(), imported.clone());
    assert!(exported(&all.sites[0], &all.tests_of(site), &[]).is_ok());
    let mut new = ids(0);
    let mut error = |name: &str, bytes: &[u8], open| {
        import(&library, (name, bytes), open, &mut new, Moment(1)).unwrap_err()
    };
    assert!(matches!(
        error("a.csv", csv, None),
        ImportError::NoSite { .. }
    ));
    assert!(matches!(
        error("a.csv", b"x", Some(site)),
        ImportError::Texts(_)
    ));
    assert!(matches!(
        error("a.txt", csv, Some(site)),
        ImportError::Ending { .. }
    ));
    assert!(matches!(error("a.zip", csv, None), ImportError::Bundle(_)));
    let test = b"format = 1\nreadings = \"a.csv\"\n".as_slice();
    assert!(matches!(
        error("a.toml", test, Some(site)),
        ImportError::NoReadings { .. }
    ));
    let steps = b"format = 1\n[[step]]\nspeed = \"600 rpm\"\n".as_slice();
    let imported = taken(&library, "a.toml", steps, Some(site), 2000);
    assert_eq!(imported.tests[0].readings, None);
    let bare = b"format = 1\nname = \"B\"\n[pump]\nspeed = { max = \"3000 rpm\" }\n".as_slice();
    let imported = taken(&library, "any.toml", bare, None, 2000);
    assert_eq!(imported.site.unwrap().name, "B");
}

#[test]
fn lists_show_what_was_worked_at_last_and_searches_find_by_any_word() {
    let mut library = library();
    let copy = duplicate_site(&library, &library.sites[0], Id("copy".into()), Moment(1500));
    assert_eq!(copy.name, "Larkspur Lane-2");
    assert!(copy.text.contains("name = \"Larkspur Lane-2\"") && copy.text.starts_with("# An"));
    library.sites.push(copy);
    let names = |sites: Vec<&SiteRecord>| -> Vec<String> {
        sites.iter().map(|site| site.name.clone()).collect()
    };
    let both = ["Larkspur Lane-2", "Larkspur Lane"];
    assert_eq!(names(by_last_change(&library)), both);
    library.tests[0].changed = Moment(1600);
    assert_eq!(
        names(by_last_change(&library)),
        ["Larkspur Lane", "Larkspur Lane-2"]
    );
    assert_eq!(names(found(&library, "lane LÁRK")).len(), 2);
    assert_eq!(names(found(&library, "lark 2026-06")), ["Larkspur Lane"]);
    assert_eq!(names(found(&library, "nothing")), Vec::<String>::new());
}

#[test]
fn a_deleted_site_comes_back_with_the_tests_that_went_with_it() {
    let mut library = library();
    let site = library.sites[0].id.clone();
    library.tests[0].deleted = Some(Moment(1));
    let gone = deleted(&library, &site, Moment(2));
    assert_eq!(gone.tests.len(), 1);
    let write = |library: &mut Library, records: app::library::Deleted| {
        if let Some(site) = records.site {
            library.sites.retain(|other| other.id != site.id);
            library.sites.push(site);
        }
        for test in records.tests {
            library.tests.retain(|other| other.id != test.id);
            library.tests.push(test);
        }
    };
    write(&mut library, gone);
    assert!(by_last_change(&library).is_empty() && library.tests_of(&site).is_empty());
    let back = restored(&library, &site);
    write(&mut library, back);
    assert_eq!(by_last_change(&library).len(), 1);
    assert_eq!(library.tests_of(&site).len(), 1);
}

#[test]
fn a_copied_test_has_a_name_and_a_file_of_its_own() {
    let library = library();
    let test: &TestRecord = &library.tests[0];
    let copy = duplicate_test(&library, test, Id("copy".into()), Moment(9));
    assert_eq!(copy.name, "2026-05-16-2");
    assert_eq!(copy.files().readings.unwrap().name, "2026-05-16-2.csv");
    assert!(records::read_test(&copy.files().test, copy.files().readings.as_ref()).is_ok());
}

#[test]
fn a_record_follows_its_texts() {
    let site = SiteRecord::new(Id("a".into()), demo::pad().site.text, Moment(1));
    assert_eq!(site.name, "Larkspur Lane");
    let broken = site.with_text("name = ".to_owned(), Moment(2));
    assert_eq!(
        (broken.name.as_str(), broken.changed),
        ("Larkspur Lane", Moment(2))
    );
    let test = &library().tests[0];
    let draft = test.draft().unwrap();
    assert_eq!(test.with_draft(&draft, test.changed), *test);
    let new = TestRecord::new(Id("b".into()), site.id, &draft, Moment(3));
    assert_eq!((new.files(), new.open), (test.files(), true));
}

proptest! {
    #[test]
    fn a_free_name_is_free(wanted in any::<String>(), taken in prop::collection::vec("[a-c]{0,2}(-[2-4])?", 0..20)) {
        let name = free_name(&wanted, |name| taken.iter().any(|other| other == name));
        prop_assert!(!taken.contains(&name) && !name.trim().is_empty());
    }

    #[test]
    fn any_file_is_taken_or_refused(name in ".{0,8}(\\.(zip|toml|csv))?", bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        let library = library();
        let mut ids = ids(0);
        let open = library.sites[0].id.clone();
        let _ = import(&library, (&name, &bytes), Some(&open), &mut ids, Moment(1));
    }
}

const CLEAN: &str = "format = 1\nname = \"A clean filter\"\nfilter = \"clean\"\n";

fn kept_change(
    library: &Library,
    name: &str,
    at: u64,
) -> Result<app::library::ChangeRecord, String> {
    let id = Id(format!("change-{at}"));
    let kept =
        app::library::change_to_keep(library, &library.sites[0], (CLEAN, name), (id, Moment(at)));
    kept.map_err(|problems| problems[0].to_string())
}

#[test]
fn a_change_is_kept_under_a_name_of_its_own() {
    let mut library = library();
    let first = kept_change(&library, " Cleaned more often ", 1).unwrap();
    assert_eq!(
        (first.name.as_str(), first.title().as_str()),
        ("cleaned-more-often", "Cleaned more often")
    );
    library.changes.push(first);
    let same = kept_change(&library, "Cleaned more often", 2).unwrap_err();
    assert!(same.contains("another change is called"), "{same}");
    for name in ["", " ", "a\u{202e}b", "a\nb", &"x".repeat(81)] {
        let said = kept_change(&library, name, 3).unwrap_err();
        assert!(said.contains("name"), "{name:?}: {said}");
    }
    // A name that a test or the site has as a file is none for a change.
    for (name, file) in [
        ("2026-05-16", "2026-05-16-2"),
        ("Site", "site-2"),
        ("…", "change"),
    ] {
        let kept = kept_change(&library, name, 4).unwrap();
        assert_eq!(kept.name, file);
    }
    // One that is deleted is in nobody's way, and comes back as it was.
    library.changes[0].deleted = Some(Moment(9));
    assert!(library.changes_of(&library.sites[0].id).is_empty());
    assert!(kept_change(&library, "Cleaned more often", 5).is_ok());
}

#[test]
fn kept_changes_go_with_their_site_and_come_in_once() {
    let mut before = library();
    let change = kept_change(&before, "Cleaned more often", 1).unwrap();
    before.changes.push(change);
    let site = &before.sites[0];
    let changes = before.changes_of(&site.id);
    let bytes = exported(site, &before.tests_of(&site.id), &changes).unwrap();
    let bundle = records::read_bundle(&bytes).unwrap();
    assert_eq!(bundle.changes, [changes[0].source()]);
    // The command reads the same file.
    let parsed = records::read_site(&bundle.site).unwrap();
    assert!(records::read_change(&bundle.changes[0], &parsed).is_ok());
    let elsewhere = taken(&Library::default(), "a.zip", &bytes, None, 2000);
    assert_eq!(elsewhere.changes.len(), 1);
    assert_eq!(elsewhere.changes[0].text, changes[0].text);
    let again = taken(&before, "a.zip", &bytes, None, 3000);
    assert!(again.changes.is_empty() && again.site.is_none());
    let alone = taken(&library(), "c.toml", CLEAN.as_bytes(), Some(&site.id), 4000);
    assert_eq!(
        (alone.tests.len(), alone.changes[0].name.as_str()),
        (0, "a-clean-filter")
    );
    let mut ids = ids(1);
    let nowhere = import(
        &library(),
        ("c.toml", CLEAN.as_bytes()),
        None,
        &mut ids,
        Moment(1),
    );
    assert!(nowhere.is_err());
}
