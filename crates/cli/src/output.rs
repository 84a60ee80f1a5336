//! What is printed where: answers to standard output, complaints to standard error, colour only on a terminal.

use crate::failure::Failure;
use anstream::AutoStream;
use document::content::Block;
use document::terminal::{Layout, Paint, text};
use document::units::Printing;
use records::Language;
use std::io::{ErrorKind, Write};
use std::process::ExitCode;

/// The width that is laid out for where there is no terminal.
const USUAL_WIDTH: usize = 100;
/// Lines longer than this tire the eye, however wide the terminal.
const MOST_WIDTH: usize = 110;

/// Prints blocks as text.
pub(crate) fn blocks(blocks: &[Block], printing: Printing) -> Result<ExitCode, Failure> {
    let layout = Layout {
        width: width(),
        paint: Paint::Colour,
        printing,
    };
    // The stream drops the colour where there is no terminal, or NO_COLOR is set.
    print(&text(blocks, layout))
}

/// Prints text to standard output; a reader that has gone away is no failure.
pub(crate) fn print(text: &str) -> Result<ExitCode, Failure> {
    let mut out = AutoStream::auto(std::io::stdout().lock());
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::Output("the output".to_owned(), error))
        }
        _ => Ok(ExitCode::SUCCESS),
    }
}

/// Prints to standard error what is worth knowing beside the answer.
pub(crate) fn note(text: &str) {
    // With nobody to read it there is nobody to tell.
    let _ = writeln!(std::io::stderr().lock(), "{text}");
}

/// Prints a failure to standard error.
pub(crate) fn complain(failure: &Failure, language: Language) {
    let mut err = std::io::stderr().lock();
    // With nobody to read it there is nobody to tell.
    let _ = writeln!(err, "{}", failure.says(language));
}

fn width() -> usize {
    let columns = std::env::var("COLUMNS")
        .ok()
        .and_then(|columns| columns.parse().ok());
    let terminal = || terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
    columns
        .or_else(terminal)
        .unwrap_or(USUAL_WIDTH)
        .min(MOST_WIDTH)
}
