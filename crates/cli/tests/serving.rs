//! `serve`: what it says, when it refuses, and how it ends.

#![expect(clippy::unwrap_used, reason = "a helper of tests fails by panicking")]

mod support;

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use support::{ends, examples, headwright};

/// A folder with the least of a page.
fn page() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("index.html"), "<!doctype html>").unwrap();
    folder
}

/// The command while it serves, and the port that it says.
fn serving(page: &tempfile::TempDir) -> (Child, u16) {
    let mut child = headwright(&examples())
        .args(["serve", "--port", "0", "--page"])
        .arg(page.path())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut line = String::new();
    BufReader::new(child.stdout.take().unwrap())
        .read_line(&mut line)
        .unwrap();
    let port = line.trim().trim_end_matches('/').rsplit(':').next();
    (child, port.unwrap().parse().unwrap())
}

#[test]
fn a_busy_port_is_named_with_what_to_do() {
    let taken = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let page = page();
    let folder = page.path().to_str().unwrap();
    let (out, err) = ends(
        &examples(),
        &["serve", "--port", &port, "--page", folder],
        2,
    );
    assert_eq!(out, "");
    assert!(
        err.contains(&format!("port {port} is in use by another program")),
        "{err}"
    );
    assert!(err.contains("hint:") && err.contains("--port"), "{err}");
}

#[test]
fn a_folder_without_a_page_is_named() {
    let empty = tempfile::tempdir().unwrap();
    let folder = empty.path().to_str().unwrap();
    let (_, err) = ends(&examples(), &["serve", "--port", "0", "--page", folder], 2);
    assert!(
        err.contains("it has no index.html") && err.contains("cargo xtask app"),
        "{err}"
    );
    let (_, err) = ends(&examples(), &["serve", "--page", "no-such-folder"], 2);
    assert!(err.contains("no-such-folder"), "{err}");
}

#[cfg(unix)]
#[test]
fn it_answers_until_it_is_interrupted_and_ends_quietly() {
    let page = page();
    let (mut child, port) = serving(&page);
    let mut stream = TcpStream::connect((Ipv4Addr::LOCALHOST, port)).unwrap();
    write!(
        stream,
        "GET / HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n"
    )
    .unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    assert!(
        answer.starts_with("HTTP/1.1 200") && answer.ends_with("<!doctype html>"),
        "{answer}"
    );

    let id = child.id().to_string();
    let told = Command::new("kill").args(["-INT", &id]).status().unwrap();
    assert!(told.success());
    assert_eq!(child.wait().unwrap().code(), Some(0));
    let mut err = String::new();
    child.stderr.unwrap().read_to_string(&mut err).unwrap();
    assert_eq!(err, "");
}
