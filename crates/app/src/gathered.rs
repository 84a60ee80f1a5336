//! The loose files of one site, chosen together, as the bundle that they would have made.

use records::{Bundle, SITE_FILE, Source, TestFiles, is_change_file, readings_file, write_bundle};

/// A file from outside: its name and its bytes.
pub type Loose = (String, Vec<u8>);

/// Gathers loose files into one bundle where exactly one of them is a site file and the others are its tests,
/// readings and changes; else gives them back as they are, to be taken one by one.
pub fn gathered(files: Vec<Loose>) -> Vec<Loose> {
    match bundle(&files) {
        Some(bytes) if files.len() > 1 => vec![("site.zip".to_owned(), bytes)],
        _ => files,
    }
}

fn bundle(files: &[Loose]) -> Option<Vec<u8>> {
    let sources = files
        .iter()
        .map(|(name, bytes)| Source::from_bytes(name, bytes).ok());
    let sources: Vec<Source> = sources.collect::<Option<_>>()?;
    let (heads, readings): (Vec<Source>, Vec<Source>) = sources
        .into_iter()
        .partition(|source| source.name.to_lowercase().ends_with(".toml"));
    let (changes, heads): (Vec<Source>, Vec<Source>) = heads.into_iter().partition(is_change_file);
    let (sites, tests): (Vec<Source>, Vec<Source>) = heads.into_iter().partition(is_site);
    let [site] = sites.as_slice() else {
        return None;
    };
    let tests = tests.into_iter().map(|test| {
        let named = readings_file(&test).ok()?;
        let found = |name: &String| readings.iter().find(|source| source.name == *name).cloned();
        let readings = named.as_ref().and_then(found);
        (named.is_some() == readings.is_some()).then_some(TestFiles { test, readings })
    });
    let tests: Vec<TestFiles> = tests.collect::<Option<_>>()?;
    let used = tests.iter().filter(|test| test.readings.is_some()).count();
    let bundle = Bundle {
        site: Source {
            name: SITE_FILE.to_owned(),
            text: site.text.clone(),
        },
        tests,
        changes,
    };
    (used == readings.len()).then(|| write_bundle(&bundle).ok())?
}

/// A site file describes a pump, which no test does.
fn is_site(source: &Source) -> bool {
    let parsed = source.text.parse::<toml_edit::DocumentMut>();
    parsed.is_ok_and(|file| file.contains_key("pump"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn loose() -> Vec<Loose> {
        let pad = crate::demo::pad();
        let tests = pad.tests.into_iter();
        let sources = tests.flat_map(|files| std::iter::once(files.test).chain(files.readings));
        std::iter::once(pad.site)
            .chain(sources)
            .map(|source| (source.name, source.text.into_bytes()))
            .collect()
    }

    #[test]
    fn the_files_of_a_pad_make_its_bundle() {
        let made = gathered(loose());
        let [(_, bytes)] = made.as_slice() else {
            panic!("{} files", made.len());
        };
        let bundle = records::read_bundle(bytes).unwrap();
        assert_eq!(bundle.tests, crate::demo::pad().tests);
    }

    #[test]
    fn files_that_are_no_one_site_stay_apart() {
        let mut without_site = loose();
        without_site.remove(0);
        let mut without_readings = loose();
        without_readings.pop();
        for files in [without_site, without_readings, loose()[..1].to_vec()] {
            assert_eq!(gathered(files.clone()), files);
        }
    }
}
