//! The service worker's list of what it keeps, and the version that the list makes.

use crate::error::Error;
use crate::files::Files;
use crate::names;

const WORKER: &str = "service-worker.js";
const INDEX: &str = "index.html";
const VERSION_MARK: &str = "\"VERSION\"";
const FILES_MARK: &str = "[\"FILES\"]";

/// Fills the list and the version into the service worker.
pub(crate) fn filled(mut files: Files) -> Result<Files, Error> {
    let Some(worker) = files.remove(WORKER) else {
        return Err(Error::NoSuchFile {
            name: "the folder".to_owned(),
            wanted: WORKER.to_owned(),
        });
    };
    let worker = String::from_utf8_lossy(&worker).into_owned();
    // The page is asked for as the folder itself.
    let kept = files
        .keys()
        .map(|name| if name == INDEX { "./" } else { name });
    let list: Vec<String> = kept.map(|name| format!("  \"{name}\",\n")).collect();
    let everything: Vec<u8> = files
        .iter()
        .flat_map(|(name, bytes)| [name.as_bytes(), bytes].concat())
        .collect();
    let version = names::hexadecimal(&[everything.as_slice(), worker.as_bytes()].concat());
    let worker = replaced(&worker, VERSION_MARK, &format!("\"{version}\""))?;
    let worker = replaced(&worker, FILES_MARK, &format!("[\n{}]", list.concat()))?;
    files.insert(WORKER.to_owned(), worker.into_bytes());
    Ok(files)
}

fn replaced(text: &str, mark: &'static str, by: &str) -> Result<String, Error> {
    if text.matches(mark).count() == 1 {
        Ok(text.replace(mark, by))
    } else {
        Err(Error::Mark { name: WORKER, mark })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn worker(index: &str, text: &str) -> Result<String, Error> {
        let files = Files::from([
            (INDEX.to_owned(), index.as_bytes().to_owned()),
            (WORKER.to_owned(), text.as_bytes().to_owned()),
            ("a.1.js".to_owned(), Vec::new()),
        ]);
        let filled = filled(files)?;
        Ok(String::from_utf8(filled[WORKER].clone()).unwrap())
    }

    #[test]
    fn the_worker_lists_all_but_itself_and_changes_with_any_of_it() {
        let one = worker("1", "\"VERSION\" [\"FILES\"]").unwrap();
        assert!(one.ends_with("[\n  \"a.1.js\",\n  \"./\",\n]"), "{one}");
        assert_ne!(one, worker("2", "\"VERSION\" [\"FILES\"]").unwrap());
    }

    #[test]
    fn a_mark_that_is_not_there_is_named() {
        assert!(worker("1", "[\"FILES\"]").is_err());
        assert!(worker("1", "\"VERSION\" \"VERSION\" [\"FILES\"]").is_err());
    }
}
