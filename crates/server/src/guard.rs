//! Who is answered: a browser of this machine, showing a page of ours, and nobody whom another site has sent.
//!
//! A server on the loopback is reached by every page that the person has open. So a request must name us as its
//! host, which a name that was turned to this machine does not; and whatever is more than a look at a file must
//! come from a page of ours.

use axum::http::header::{CONTENT_LENGTH, CONTENT_TYPE, HOST, ORIGIN};
use axum::http::request::Parts;
use axum::http::{HeaderName, Method, StatusCode};

/// Below this path are answers; everything else is a file of the page.
pub const API: &str = "/api/";
/// The largest body that is taken, in bytes.
pub const MOST_BODY_BYTES: u64 = 2_000_000;

const SEC_FETCH_SITE: HeaderName = HeaderName::from_static("sec-fetch-site");
/// The address that we are reached at.
const ADDRESS: &str = "127.0.0.1";
/// Other names of it, from which a browser is sent on: what it keeps is kept by name.
const OTHER_NAMES: [&str; 2] = ["localhost", "[::1]"];
/// The port that is left out of an address.
const USUAL_PORT: u16 = 80;

/// By which name we are reached.
#[derive(Clone, Debug)]
pub struct Own {
    port: u16,
}

/// What is done with a request.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It is answered.
    Answer,
    /// It is sent on to this address.
    SendOn(String),
    /// It is refused: with this status, for this reason.
    Refuse(StatusCode, &'static str),
}

impl Own {
    /// Describes a server at this port.
    pub fn at(port: u16) -> Self {
        Self { port }
    }

    /// Returns the origin of our pages.
    pub fn origin(&self) -> String {
        format!("http://{}", self.host(ADDRESS))
    }

    fn host(&self, name: &str) -> String {
        match self.port {
            USUAL_PORT => name.to_owned(),
            port => format!("{name}:{port}"),
        }
    }

    /// Judges a request by its head.
    pub fn verdict(&self, request: &Parts) -> Verdict {
        let judged = self
            .check_host(request)
            .and_then(|()| self.check_sender(request))
            .and_then(|()| check_body(request));
        judged.err().unwrap_or(Verdict::Answer)
    }

    fn check_host(&self, request: &Parts) -> Result<(), Verdict> {
        let mut hosts = request.headers.get_all(HOST).iter();
        let (Some(host), None) = (hosts.next(), hosts.next()) else {
            return Err(misdirected());
        };
        let host = host.to_str().map_err(|_| misdirected())?;
        // A request may name its host twice, here and in its first line.
        let first_line = request.uri.authority().map_or(host, |named| named.as_str());
        if host != first_line {
            return Err(misdirected());
        }
        if host == self.host(ADDRESS) {
            return Ok(());
        }
        let is_ours = OTHER_NAMES.iter().any(|name| host == self.host(name));
        if !is_ours || !is_look_at_file(request) {
            return Err(misdirected());
        }
        let path = request
            .uri
            .path_and_query()
            .map_or("/", |path| path.as_str());
        Err(Verdict::SendOn(format!("{}{path}", self.origin())))
    }

    fn check_sender(&self, request: &Parts) -> Result<(), Verdict> {
        if is_look_at_file(request) {
            return Ok(());
        }
        let foreign = Verdict::Refuse(StatusCode::FORBIDDEN, "only a page of ours may ask this");
        let origin = request.headers.get(ORIGIN);
        let site = request.headers.get(SEC_FETCH_SITE);
        let is_own_origin = origin.is_none_or(|origin| *origin == *self.origin());
        // `none` is a person who typed the address.
        let is_own_site = site.is_none_or(|site| site == "same-origin" || site == "none");
        if is_own_origin && is_own_site {
            Ok(())
        } else {
            Err(foreign)
        }
    }
}

fn misdirected() -> Verdict {
    Verdict::Refuse(
        StatusCode::MISDIRECTED_REQUEST,
        "this is not the host that was asked for",
    )
}

fn is_read(request: &Parts) -> bool {
    request.method == Method::GET || request.method == Method::HEAD
}

fn is_look_at_file(request: &Parts) -> bool {
    is_read(request) && !request.uri.path().starts_with(API)
}

/// A body is JSON, and says beforehand how long it is.
fn check_body(request: &Parts) -> Result<(), Verdict> {
    if is_read(request) {
        return Ok(());
    }
    let header = |name| {
        request
            .headers
            .get(name)
            .and_then(|value| value.to_str().ok())
    };
    // A form of another site can send text, never JSON.
    let kind = header(CONTENT_TYPE).and_then(|kind| kind.split(';').next());
    if kind.is_none_or(|kind| !kind.trim().eq_ignore_ascii_case("application/json")) {
        return Err(Verdict::Refuse(
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
            "only JSON is taken",
        ));
    }
    match header(CONTENT_LENGTH).and_then(|length| length.parse::<u64>().ok()) {
        None => Err(Verdict::Refuse(
            StatusCode::LENGTH_REQUIRED,
            "a body must say how long it is",
        )),
        Some(length) if length > MOST_BODY_BYTES => Err(Verdict::Refuse(
            StatusCode::PAYLOAD_TOO_LARGE,
            "the body is larger than 2 MB",
        )),
        Some(_) => Ok(()),
    }
}
