//! One call of the WebDriver protocol: JSON there, JSON back, over a connection of its own.

use serde_json::Value;
use std::io::{self, BufRead, BufReader, Write};
use std::net::{Ipv4Addr, TcpStream};
use std::time::Duration;

/// Longer than any command takes on a busy machine.
const PATIENCE: Duration = Duration::from_secs(90);

/// What the driver refused: its kind, and what it said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Refusal {
    pub(crate) kind: String,
    pub(crate) message: String,
}

/// Calls the driver and gives the `value` of its answer.
pub(crate) fn call(port: u16, method: &str, path: &str, body: &Value) -> Result<Value, Refusal> {
    let (status, body) = exchange(port, method, path, &body.to_string())
        .unwrap_or_else(|error| panic!("the driver does not answer {method} {path}: {error}"));
    let mut answer: Value = serde_json::from_slice(&body).unwrap_or_else(|error| {
        panic!("the driver answers {method} {path} with {status}: {error}")
    });
    let value = answer["value"].take();
    if status.split(' ').nth(1) == Some("200") {
        return Ok(value);
    }
    let text = |key: &str| value[key].as_str().unwrap_or_default().to_owned();
    Err(Refusal {
        kind: text("error"),
        message: text("message"),
    })
}

/// Sends a request, and gives the first line and the body of the answer.
fn exchange(port: u16, method: &str, path: &str, body: &str) -> io::Result<(String, Vec<u8>)> {
    let mut stream = TcpStream::connect((Ipv4Addr::LOCALHOST, port))?;
    stream.set_read_timeout(Some(PATIENCE))?;
    let length = body.len();
    // In one piece: the driver waits with its answer for what comes in a second one.
    let request = format!(
        "{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n\
         Content-Type: application/json\r\nContent-Length: {length}\r\n\r\n{body}"
    );
    stream.write_all(request.as_bytes())?;
    read(BufReader::new(stream))
}

/// Reads an answer as long as it says it is: the driver keeps the connection open behind it.
fn read(mut answer: impl BufRead) -> io::Result<(String, Vec<u8>)> {
    let mut status = String::new();
    answer.read_line(&mut status)?;
    let mut length = 0;
    let mut line = String::new();
    while answer.read_line(&mut line)? > 0 && line.trim() != "" {
        if let Some((name, value)) = line.split_once(':')
            && name.eq_ignore_ascii_case("content-length")
        {
            length = value.trim().parse().map_err(io::Error::other)?;
        }
        line.clear();
    }
    let mut body = vec![0; length];
    answer.read_exact(&mut body)?;
    Ok((status, body))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_ends_where_it_says() {
        let sent = "HTTP/1.1 200 OK\r\nContent-Type: x\r\ncontent-length: 2\r\n\r\n{}more";
        let (status, body) = read(sent.as_bytes()).unwrap();
        assert_eq!(
            (status.trim(), body.as_slice()),
            ("HTTP/1.1 200 OK", &b"{}"[..])
        );
    }
}
