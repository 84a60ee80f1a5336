//! Files as sources: read whole, up to the size that is taken, and named as the person named them.

use crate::failure::Failure;
use records::{MAX_FILE_BYTES, Problem, Source, TestFiles, Told, readings_file, told};
use std::fs::File;
use std::io::{Read, Write};
use std::path::Path;

/// Reads a file as a source.
pub(crate) fn source(path: &Path) -> Result<Source, Problem> {
    let bytes = bytes_up_to(path, MAX_FILE_BYTES)?;
    Source::from_bytes(&path.display().to_string(), &bytes)
}

/// Reads a file up to a size and one byte more, by which a larger one is known.
pub(crate) fn bytes_up_to(path: &Path, most: usize) -> Result<Vec<u8>, Problem> {
    let name = path.display().to_string();
    let unreadable = |error: &std::io::Error| Problem {
        file: name.clone(),
        line: 0,
        column: 0,
        message: told!("cannot be read: {why}", why = plain(error)),
        hint: None,
    };
    let file = File::open(path).map_err(|error| unreadable(&error))?;
    if file.metadata().is_ok_and(|metadata| metadata.is_dir()) {
        return Err(Problem {
            hint: Some(told!("name the file in it, such as site.toml")),
            ..unreadable(&std::io::Error::from(std::io::ErrorKind::IsADirectory))
        });
    }
    let most = u64::try_from(most).unwrap_or(u64::MAX);
    let mut bytes = Vec::new();
    file.take(most + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| unreadable(&error))?;
    Ok(bytes)
}

/// Says in plain words why a file cannot be read.
fn plain(error: &std::io::Error) -> Told {
    match error.kind() {
        std::io::ErrorKind::NotFound => told!("there is no such file"),
        std::io::ErrorKind::PermissionDenied => told!("it may not be read by you"),
        std::io::ErrorKind::IsADirectory => told!("it is a folder"),
        _ => Told::written(error.to_string()),
    }
}

/// Reads a site file and test files, each test with the file of readings beside it.
pub(crate) fn pad(
    site: &Path,
    tests: &[impl AsRef<Path>],
) -> Result<(Source, Vec<TestFiles>), Failure> {
    let mut problems = Vec::new();
    let site = source(site).map_err(|problem| problems.push(problem)).ok();
    let mut read = Vec::new();
    for path in tests {
        match test(path.as_ref()) {
            Ok(files) => read.push(files),
            Err(found) => problems.extend(found),
        }
    }
    match site {
        Some(site) if problems.is_empty() => Ok((site, read)),
        _ => Err(Failure::Input(problems)),
    }
}

fn test(path: &Path) -> Result<TestFiles, Vec<Problem>> {
    if path
        .extension()
        .is_some_and(|extension| extension.eq_ignore_ascii_case("csv"))
    {
        return Err(vec![Problem {
            file: path.display().to_string(),
            line: 0,
            column: 0,
            message: told!("is a file of readings; expected the test file that names it"),
            hint: Some(told!(
                "name the test file, such as 2026-05-16.toml, in which readings = this file"
            )),
        }]);
    }
    let test = source(path).map_err(|problem| vec![problem])?;
    let readings = match readings_file(&test)? {
        None => None,
        Some(name) => {
            let beside = path.parent().unwrap_or(Path::new("")).join(name);
            Some(source(&beside).map_err(|problem| vec![problem])?)
        }
    };
    Ok(TestFiles { test, readings })
}

/// Writes new files into a folder; where one of them stands already, nothing is written at all.
pub(crate) fn write_new(folder: &Path, files: &[(&str, &str)]) -> Result<(), Failure> {
    for (name, _) in files {
        refuse_existing(&folder.join(name))?;
    }
    std::fs::create_dir_all(folder).map_err(unwritable(folder))?;
    files
        .iter()
        .try_for_each(|(name, text)| write_new_file(&folder.join(name), text.as_bytes()))
}

/// Writes a new file; one that stands already is left as it is, and half a file is not left behind.
pub(crate) fn write_new_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    refuse_existing(path)?;
    let cannot = unwritable(path);
    let mut file = File::create_new(path).map_err(&cannot)?;
    file.write_all(bytes).map_err(|error| {
        // Where it cannot be taken away either, the first failure is the one to tell.
        let _ = std::fs::remove_file(path);
        cannot(error)
    })
}

fn refuse_existing(path: &Path) -> Result<(), Failure> {
    // A link that leads nowhere stands there too.
    if path.symlink_metadata().is_err() {
        return Ok(());
    }
    Err(Failure::call(
        format!("{} stands already; nothing was written", path.display()),
        "choose another place, or move the old files away",
    ))
}

/// Writes files into a folder, replacing those of an earlier call; where one stands that does not begin with `opening`,
/// and so is none of ours, nothing is written at all.
pub(crate) fn write_ours(
    folder: &Path,
    files: &[(String, String)],
    opening: &str,
) -> Result<(), Failure> {
    for (name, _) in files {
        let path = folder.join(name);
        if path.exists() && !begins_with(&path, opening) {
            return Err(Failure::call(
                format!(
                    "{} stands already and is none of our figures; nothing was written",
                    path.display()
                ),
                "choose another folder, or move the file away",
            ));
        }
    }
    std::fs::create_dir_all(folder).map_err(unwritable(folder))?;
    for (name, text) in files {
        let path = folder.join(name);
        std::fs::write(&path, text).map_err(unwritable(&path))?;
    }
    Ok(())
}

/// Whether a file can be read and begins with a text.
fn begins_with(path: &Path, opening: &str) -> bool {
    let mut start = vec![0; opening.len()];
    let read = File::open(path).and_then(|mut file| file.read_exact(&mut start));
    read.is_ok() && start == opening.as_bytes()
}

/// Says of a place that it cannot be written.
fn unwritable(path: &Path) -> impl Fn(std::io::Error) -> Failure + use<> {
    let place = path.display().to_string();
    move |error| Failure::Output(place.clone(), error)
}
