//! Every rule of the guard, each by a request that keeps all the others.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops where its own request is wrong"
)]

use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, Method, Request, Response, StatusCode, header};
use axum::routing::{get, post};
use server::guard::{MOST_BODY_BYTES, Own};
use server::headers::{ASKED_AGAIN, KEPT};
use server::page::{INDEX, Page};
use server::report::PATH;
use server::router::{guarded, router};
use std::sync::Arc;
use tower::ServiceExt;

const PORT: u16 = 7665;
const HOST: &str = "127.0.0.1:7665";
const ORIGIN: &str = "http://127.0.0.1:7665";
const HASHED: &str = "app.0123456789abcdef.js";

/// A request, and what its headers say beside the usual.
struct Call {
    method: Method,
    path: &'static str,
    headers: Vec<(&'static str, String)>,
    body: &'static str,
}

impl Call {
    fn get(path: &'static str) -> Self {
        Self {
            method: Method::GET,
            path,
            headers: vec![("host", HOST.to_owned())],
            body: "{}",
        }
    }

    /// A request of our page that gives JSON to an answer.
    fn post() -> Self {
        let mut call = Self::get("/api/echo");
        call.method = Method::POST;
        let json = [
            ("content-type", "application/json"),
            ("content-length", "2"),
            ("origin", ORIGIN),
        ];
        json.into_iter()
            .fold(call, |call, (name, value)| call.with(name, value))
    }

    /// Says something else in a header.
    fn with(mut self, name: &'static str, value: impl Into<String>) -> Self {
        self.headers.retain(|(other, _)| *other != name);
        self.headers.push((name, value.into()));
        self
    }

    fn without(mut self, name: &str) -> Self {
        self.headers.retain(|(other, _)| *other != name);
        self
    }

    fn response(self) -> Response<Body> {
        self.response_of(routes())
    }

    fn response_of(self, routes: Router) -> Response<Body> {
        let mut request = Request::builder().method(self.method).uri(self.path);
        for (name, value) in self.headers {
            request = request.header(name, value);
        }
        let request = request.body(Body::from(self.body)).unwrap();
        let runtime = tokio::runtime::Builder::new_current_thread()
            .build()
            .unwrap();
        runtime.block_on(routes.oneshot(request)).unwrap()
    }

    fn status(self) -> StatusCode {
        self.response().status()
    }
}

/// The page and an answer that gives back its question, behind the guard.
fn routes() -> Router {
    let page = Page::default()
        .with(INDEX, b"<!doctype html>".to_vec())
        .with(HASHED, Vec::new());
    let answers = Router::new()
        .route("/api/echo", post(|body: String| async { body }))
        .route("/api/read", get(|| async { "{}" }));
    guarded(Own::at(PORT), answers).fallback_service(router(
        Own::at(PORT),
        page,
        Some(Arc::new(set)),
    ))
}

fn said(headers: &HeaderMap, name: impl header::AsHeaderName) -> &str {
    headers
        .get(name)
        .map_or("", |value| value.to_str().unwrap())
}

#[test]
fn our_own_page_is_answered() {
    assert_eq!(Call::get("/").status(), StatusCode::OK);
    assert_eq!(Call::get("/index.html").status(), StatusCode::OK);
    assert_eq!(Call::get("/api/read").status(), StatusCode::OK);
    assert_eq!(Call::post().status(), StatusCode::OK);
    assert_eq!(Call::get("/elsewhere").status(), StatusCode::NOT_FOUND);
}

#[test]
fn another_host_is_misdirected() {
    for host in [
        "rebound.example",
        "127.0.0.1",
        "127.0.0.1:80",
        "127.0.0.1:7665.example",
        "",
    ] {
        assert_eq!(
            Call::get("/").with("host", host).status(),
            StatusCode::MISDIRECTED_REQUEST,
            "{host}"
        );
        assert_eq!(
            Call::post().with("host", host).status(),
            StatusCode::MISDIRECTED_REQUEST,
            "{host}"
        );
    }
    assert_eq!(
        Call::get("/").without("host").status(),
        StatusCode::MISDIRECTED_REQUEST
    );
}

#[test]
fn two_hosts_are_misdirected() {
    let mut twice = Call::get("/");
    twice.headers.push(("host", "rebound.example".to_owned()));
    assert_eq!(twice.status(), StatusCode::MISDIRECTED_REQUEST);
    let in_first_line = Call::get("http://rebound.example/");
    assert_eq!(in_first_line.status(), StatusCode::MISDIRECTED_REQUEST);
}

#[test]
fn other_names_of_this_machine_are_sent_on() {
    for host in ["localhost:7665", "[::1]:7665"] {
        let response = Call::get("/a?b").with("host", host).response();
        assert_eq!(response.status(), StatusCode::TEMPORARY_REDIRECT);
        assert_eq!(
            said(response.headers(), header::LOCATION),
            "http://127.0.0.1:7665/a?b"
        );
    }
}

#[test]
fn what_is_asked_by_another_name_is_not_sent_on() {
    let post = Call::post().with("host", "localhost:7665");
    assert_eq!(post.status(), StatusCode::MISDIRECTED_REQUEST);
    let read = Call::get("/api/read").with("host", "localhost:7665");
    assert_eq!(read.status(), StatusCode::MISDIRECTED_REQUEST);
}

#[test]
fn a_page_of_another_origin_may_ask_nothing() {
    for origin in [
        "https://elsewhere.example",
        "http://127.0.0.1:8080",
        "http://localhost:7665",
        "null",
    ] {
        assert_eq!(
            Call::post().with("origin", origin).status(),
            StatusCode::FORBIDDEN,
            "{origin}"
        );
        let read = Call::get("/api/read").with("origin", origin);
        assert_eq!(read.status(), StatusCode::FORBIDDEN, "{origin}");
    }
}

#[test]
fn a_request_of_another_site_may_ask_nothing() {
    for site in ["cross-site", "same-site"] {
        assert_eq!(
            Call::post().with("sec-fetch-site", site).status(),
            StatusCode::FORBIDDEN,
            "{site}"
        );
        let read = Call::get("/api/read").with("sec-fetch-site", site);
        assert_eq!(read.status(), StatusCode::FORBIDDEN, "{site}");
    }
    for site in ["same-origin", "none"] {
        assert_eq!(
            Call::post().with("sec-fetch-site", site).status(),
            StatusCode::OK,
            "{site}"
        );
    }
}

#[test]
fn a_link_of_another_site_opens_the_page() {
    let call = Call::get("/")
        .with("sec-fetch-site", "cross-site")
        .with("origin", "https://elsewhere.example");
    assert_eq!(call.status(), StatusCode::OK);
}

#[test]
fn only_json_is_taken() {
    for kind in [
        "text/plain",
        "application/x-www-form-urlencoded",
        "multipart/form-data",
        "application/jsonp",
    ] {
        let call = Call::post().with("content-type", kind);
        assert_eq!(call.status(), StatusCode::UNSUPPORTED_MEDIA_TYPE, "{kind}");
    }
    assert_eq!(
        Call::post().without("content-type").status(),
        StatusCode::UNSUPPORTED_MEDIA_TYPE
    );
    let with_letters = Call::post().with("content-type", "application/json; charset=utf-8");
    assert_eq!(with_letters.status(), StatusCode::OK);
}

#[test]
fn a_body_is_at_most_two_megabytes_and_says_so() {
    let most = Call::post().with("content-length", MOST_BODY_BYTES.to_string());
    assert_eq!(most.status(), StatusCode::OK);
    let more = Call::post().with("content-length", (MOST_BODY_BYTES + 1).to_string());
    assert_eq!(more.status(), StatusCode::PAYLOAD_TOO_LARGE);
    assert_eq!(
        Call::post().without("content-length").status(),
        StatusCode::LENGTH_REQUIRED
    );
}

#[test]
fn a_file_is_only_looked_at() {
    let mut call = Call::post();
    call.path = "/";
    assert_eq!(call.status(), StatusCode::METHOD_NOT_ALLOWED);
}

#[test]
fn no_other_origin_is_let_in_by_a_header() {
    let mut ask = Call::post().with("origin", "https://elsewhere.example");
    ask.method = Method::OPTIONS;
    for response in [
        Call::get("/").response(),
        Call::post().response(),
        ask.response(),
    ] {
        let mut names = response.headers().keys();
        assert!(!names.any(|name| name.as_str().starts_with("access-control-")));
    }
}

#[test]
fn every_response_binds_the_browser_even_a_refusal() {
    for call in [
        Call::get("/"),
        Call::post(),
        Call::get("/").with("host", "rebound.example"),
        Call::get("/none"),
    ] {
        let response = call.response();
        let headers = response.headers();
        let policy = said(headers, header::CONTENT_SECURITY_POLICY);
        assert!(policy.starts_with("default-src 'none';"), "{policy}");
        assert!(policy.contains("frame-ancestors 'none'") && !policy.contains("unsafe-inline"));
        assert_eq!(said(headers, header::X_CONTENT_TYPE_OPTIONS), "nosniff");
        assert_eq!(said(headers, header::REFERRER_POLICY), "no-referrer");
        assert_eq!(said(headers, "cross-origin-opener-policy"), "same-origin");
        assert_eq!(said(headers, "cross-origin-resource-policy"), "same-origin");
        assert!(said(headers, "permissions-policy").contains("geolocation=()"));
    }
}

#[test]
fn what_cannot_change_is_kept_and_all_else_is_not() {
    let kept = |path| said(Call::get(path).response().headers(), header::CACHE_CONTROL).to_owned();
    assert_eq!(kept("/app.0123456789abcdef.js"), KEPT);
    assert_eq!(kept("/"), ASKED_AGAIN);
    assert_eq!(kept("/none"), "no-store");
    assert_eq!(kept("/api/read"), "no-store");
}

#[test]
fn the_head_alone_is_given_where_it_is_asked_for() {
    let mut call = Call::get("/");
    call.method = Method::HEAD;
    let response = call.response();
    assert_eq!(response.status(), StatusCode::OK);
    assert_eq!(said(response.headers(), header::CONTENT_LENGTH), "15");
}

/// An order of our page at the route that sets reports.
fn order() -> Call {
    Call {
        path: PATH,
        ..Call::post()
    }
}

/// Sets what is an order; says in words what is none.
fn set(order: &[u8]) -> Result<Vec<u8>, String> {
    if order == b"{}" {
        Ok(b"%PDF-".to_vec())
    } else {
        Err("that is no order".to_owned())
    }
}

fn whole(response: Response<Body>) -> Vec<u8> {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .build()
        .unwrap();
    let body = axum::body::to_bytes(response.into_body(), usize::MAX);
    runtime.block_on(body).unwrap().to_vec()
}

#[test]
fn an_order_is_set_as_a_pdf_that_nobody_keeps() {
    let response = order().response();
    assert_eq!(response.status(), StatusCode::OK);
    assert_eq!(
        said(response.headers(), header::CONTENT_TYPE),
        "application/pdf"
    );
    assert_eq!(said(response.headers(), header::CACHE_CONTROL), "no-store");
    assert_eq!(whole(response), b"%PDF-");
    let can = Call::get(PATH).response();
    assert_eq!(
        said(can.headers(), header::CONTENT_TYPE),
        "application/json"
    );
    assert_eq!(whole(can), b"{\"format\":1,\"pdf\":true}\n");
}

#[test]
fn what_cannot_be_set_is_told_in_words() {
    let mut wrong = order().with("content-length", "4");
    wrong.body = "none";
    let response = wrong.response();
    assert_eq!(response.status(), StatusCode::UNPROCESSABLE_ENTITY);
    assert_eq!(whole(response), b"that is no order");
}

#[test]
fn whoever_may_ask_nothing_may_order_nothing_either() {
    let no_host = StatusCode::MISDIRECTED_REQUEST;
    for (header, value, status) in [
        ("host", "rebound.example", no_host),
        ("host", "localhost:7665", no_host),
        ("origin", "https://elsewhere.example", StatusCode::FORBIDDEN),
        ("origin", "null", StatusCode::FORBIDDEN),
        ("sec-fetch-site", "cross-site", StatusCode::FORBIDDEN),
        ("sec-fetch-site", "same-site", StatusCode::FORBIDDEN),
        (
            "content-type",
            "text/plain",
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
        ),
        (
            "content-type",
            "multipart/form-data",
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
        ),
        ("content-length", "2000001", StatusCode::PAYLOAD_TOO_LARGE),
    ] {
        let refused = order().with(header, value).response();
        assert_eq!(refused.status(), status, "{header}: {value}");
        let policy = said(refused.headers(), header::CONTENT_SECURITY_POLICY);
        assert!(policy.starts_with("default-src 'none';"), "{policy}");
    }
    for header in ["host", "content-type", "content-length"] {
        assert_ne!(order().without(header).status(), StatusCode::OK, "{header}");
    }
    for (header, value) in [
        ("host", "rebound.example"),
        ("origin", "https://elsewhere.example"),
        ("sec-fetch-site", "cross-site"),
    ] {
        let look = Call::get(PATH).with(header, value);
        assert_ne!(look.status(), StatusCode::OK, "{header}: {value}");
    }
}

#[test]
fn a_body_that_is_longer_than_it_says_is_cut_off() {
    let mut long = order();
    long.body = Box::leak("x".repeat(2_000_001).into_boxed_str());
    assert_eq!(long.status(), StatusCode::PAYLOAD_TOO_LARGE);
}

#[test]
fn only_an_order_is_taken_there() {
    for method in [Method::PUT, Method::DELETE, Method::PATCH] {
        let mut call = order();
        call.method = method.clone();
        assert_eq!(call.status(), StatusCode::METHOD_NOT_ALLOWED, "{method}");
    }
}

#[test]
fn a_server_without_a_typesetter_says_so() {
    let routes = || router(Own::at(PORT), Page::default(), None);
    let can = Call::get(PATH).response_of(routes());
    assert_eq!(whole(can), b"{\"format\":1,\"pdf\":false}\n");
    let response = order().response_of(routes());
    assert_eq!(response.status(), StatusCode::NOT_IMPLEMENTED);
    assert_eq!(whole(response), b"this server makes no PDF");
}
