//! Makes the folder that a browser needs, from the WebAssembly of `app` and the files beside it.
//!
//! It is a program of its own because it is long to build: `cargo xtask` starts it for `app` and stays quick for
//! everything else. Usage: `page MODULE.wasm STATIC-FOLDER OUT-FOLDER MOST-SENT-BYTES`.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a script entry talks to the person who started it"
)]

mod compress;
mod error;
mod files;
mod glue;
mod icon;
mod names;
mod precache;

use std::path::Path;
use std::process::ExitCode;

use crate::error::Error;
use crate::files::Files;

/// The rules that colour the figures in the page; `charts` draws both.
const FIGURES: &str = "figures.css";
const USAGE: &str = "usage: page MODULE.wasm STATIC-FOLDER OUT-FOLDER MOST-SENT-BYTES";

/// Where what is read and written, and the most that a first visit may fetch.
struct Order<'a> {
    module: &'a Path,
    folder: &'a Path,
    out: &'a Path,
    most_sent_bytes: usize,
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let Some(order) = order(&arguments) else {
        eprintln!("{USAGE}");
        return ExitCode::from(2);
    };
    match make(&order) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("page: {error}");
            ExitCode::FAILURE
        }
    }
}

fn order(arguments: &[String]) -> Option<Order<'_>> {
    let [module, folder, out, most] = arguments else {
        return None;
    };
    Some(Order {
        module: Path::new(module),
        folder: Path::new(folder),
        out: Path::new(out),
        most_sent_bytes: most.parse().ok()?,
    })
}

fn make(order: &Order) -> Result<(), Error> {
    let written = files::read(order.folder)?;
    let mut files = glue::files(order.module)?;
    files.extend(icon::files()?);
    files.insert(FIGURES.to_owned(), charts::stylesheet().into_bytes());
    files.extend(written.clone());
    names::known(&written, &files)?;
    let files = precache::filled(names::hashed(files)?)?;
    let sent = compress::siblings(&files)?;
    files::write(order.out, files.iter().chain(&sent.siblings))?;
    report(&files, &sent);
    if sent.bytes > order.most_sent_bytes {
        return Err(Error::TooLarge {
            bytes: sent.bytes,
            most: order.most_sent_bytes,
        });
    }
    Ok(())
}

/// Prints what a first visit fetches.
fn report(files: &Files, sent: &compress::Sent) {
    let kilobytes = |bytes: usize| bytes.div_ceil(1000);
    let raw: usize = files.values().map(Vec::len).sum();
    println!(
        "{} files, {} kB; {} kB as sent with brotli",
        files.len(),
        kilobytes(raw),
        kilobytes(sent.bytes)
    );
}
