//! Reports of every site below a folder: on all cores, and past a site that is wrong, which is named.

use super::super::year::Progress;
use super::kind::Kind;
use super::{handed, reported};
use crate::arguments::{ReportArguments, Written};
use crate::failure::Failure;
use crate::{files, output};
use document::report::{Letterhead, Paper, composed};
use operation::Gathered;
use records::{Language, SITE_FILE, Source, is_test_file, read_pad};
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// How deep folders are looked into.
const DEEPEST: usize = 8;
/// The exit code of a batch of which some sites failed.
const SOME_FAILED: u8 = 4;

/// A site on the disk.
struct Found {
    /// The file of the site.
    site: PathBuf,
    /// What its report is called: the folders that lead to it.
    name: String,
}

/// How each report is made.
struct Batch<'a> {
    arguments: &'a ReportArguments,
    letterhead: Letterhead,
    kind: Kind,
    into: &'a Path,
}

/// Runs the batch.
pub(super) fn run(arguments: &ReportArguments, folder: &Path) -> Result<ExitCode, Failure> {
    let Some(into) = &arguments.output else {
        return Err(Failure::call(
            "--all writes into a folder, and none is named",
            "name it: -o reports",
        ));
    };
    let batch = Batch {
        arguments,
        letterhead: handed(arguments)?,
        kind: arguments.written_as.unwrap_or(Written::Html).into(),
        into,
    };
    let mut sites = Vec::new();
    find(folder, &mut Vec::new(), &mut sites)?;
    if sites.is_empty() {
        return Err(Failure::call(
            format!("{}: no folder in it holds a {SITE_FILE}", folder.display()),
            "name the folder that your sites stand in",
        ));
    }
    std::fs::create_dir_all(into)
        .map_err(|error| Failure::Output(into.display().to_string(), error))?;
    let results = batch.run(&sites);
    let language = arguments.print.language.map(Into::into);
    Ok(told(&sites, &results, into, language.unwrap_or_default()))
}

/// Says which reports were written and which sites have none.
fn told(
    sites: &[Found],
    results: &[Result<(), Failure>],
    into: &Path,
    language: Language,
) -> ExitCode {
    let mut written = 0;
    for (found, result) in sites.iter().zip(results) {
        match result {
            Ok(()) => written += 1,
            Err(failure) => {
                output::note(&format!("{}: no report.", found.name));
                output::complain(failure, language);
            }
        }
    }
    output::note(&format!(
        "Wrote {written} of {} reports to {}.",
        sites.len(),
        into.display()
    ));
    if written == sites.len() {
        ExitCode::SUCCESS
    } else {
        ExitCode::from(SOME_FAILED)
    }
}

/// Looks for sites in a folder and those in it, in the order of their names; links are not followed.
fn find(folder: &Path, above: &mut Vec<String>, sites: &mut Vec<Found>) -> Result<(), Failure> {
    let site = folder.join(SITE_FILE);
    if site.is_file() {
        let name = if above.is_empty() {
            "site".to_owned()
        } else {
            above.join("-")
        };
        sites.push(Found { site, name });
    }
    if above.len() >= DEEPEST {
        return Ok(());
    }
    for (name, path) in entries(folder)? {
        if path.symlink_metadata().is_ok_and(|kind| kind.is_dir()) {
            above.push(name);
            find(&path, above, sites)?;
            above.pop();
        }
    }
    Ok(())
}

/// Lists what stands in a folder by name.
fn entries(folder: &Path) -> Result<Vec<(String, PathBuf)>, Failure> {
    let listed = std::fs::read_dir(folder).map_err(|error| {
        Failure::call(
            format!("{} cannot be read: {error}", folder.display()),
            "name a folder",
        )
    })?;
    let mut entries: Vec<(String, PathBuf)> = listed
        .flatten()
        .map(|entry| {
            (
                entry.file_name().to_string_lossy().into_owned(),
                entry.path(),
            )
        })
        .collect();
    entries.sort();
    Ok(entries)
}

impl Batch<'_> {
    /// Writes all reports, each core taking the next site.
    fn run(&self, sites: &[Found]) -> Vec<Result<(), Failure>> {
        let progress = Progress::new("reports written");
        let next = AtomicUsize::new(0);
        let done = Mutex::new(Vec::new());
        let work = || {
            loop {
                let number = next.fetch_add(1, Ordering::Relaxed);
                let Some(found) = sites.get(number) else {
                    return;
                };
                let result = self.one(found);
                if let Ok(mut done) = done.lock() {
                    done.push((number, result));
                    progress.show(done.len(), sites.len());
                }
            }
        };
        let threads = std::thread::available_parallelism().unwrap_or(NonZeroUsize::MIN);
        std::thread::scope(|scope| {
            for _ in 0..threads.get().min(sites.len()) {
                scope.spawn(work);
            }
        });
        progress.end();
        let mut done = done.into_inner().unwrap_or_default();
        done.sort_by_key(|(number, _)| *number);
        done.into_iter().map(|(_, result)| result).collect()
    }

    /// Writes the report of one site.
    fn one(&self, found: &Found) -> Result<(), Failure> {
        let tests = tests_beside(&found.site)?;
        let (source, files) = files::pad(&found.site, &tests)?;
        let (site, mut tests) = read_pad(&source, &files).map_err(Failure::Input)?;
        // The report is about the last test in time; those without a date come first, by name.
        tests.sort_by_key(|test| test.head.date.map(|date| date.to_string()));
        let printing = reported(self.arguments, &self.letterhead, &site);
        let gathered = Gathered {
            site: &site,
            tests: &tests,
            changes: &[],
            year: self.letterhead.date.year,
        };
        let worked = operation::worked(&gathered).map_err(|no_year| {
            super::super::schedule::refused(
                &source,
                document::alternatives::no_year(&no_year, printing),
            )
        })?;
        let report = composed(&gathered, &worked, printing, self.letterhead.clone());
        let paper = self
            .arguments
            .paper
            .map_or_else(|| Paper::usual(printing), Into::into);
        let path = self
            .into
            .join(format!("{}.{}", found.name, self.kind.ending()));
        files::write_new_file(&path, &self.kind.rendered(&report, paper)?)
    }
}

/// Lists the test files beside a site file; other files of its folder, such as a profile, are passed over.
fn tests_beside(site: &Path) -> Result<Vec<PathBuf>, Failure> {
    let folder = site.parent().unwrap_or(Path::new(""));
    let mut tests = Vec::new();
    for (name, path) in entries(folder)? {
        let is_toml = path.extension().is_some_and(|ending| ending == "toml");
        if !is_toml || name == SITE_FILE || !path.is_file() {
            continue;
        }
        let source: Source =
            files::source(&path).map_err(|problem| Failure::Input(vec![problem]))?;
        if is_test_file(&source) {
            tests.push(path);
        }
    }
    if tests.is_empty() {
        return Err(Failure::call(
            format!("{}: there is no test file in it", folder.display()),
            "a report is about a test: put its file beside the site file",
        ));
    }
    Ok(tests)
}
