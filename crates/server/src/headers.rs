//! What a browser may do with what it gets: run our own files and nothing else, and keep what cannot change.

use axum::http::header::{
    CACHE_CONTROL, CONTENT_SECURITY_POLICY, HeaderMap, HeaderName, HeaderValue, REFERRER_POLICY,
    X_CONTENT_TYPE_OPTIONS,
};

/// The policy of the page. `index.html` says the same, but for the frames, which only a header can refuse.
pub const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' \
    'sha256-EwGmBu903VLrTQbIng75rzf6i6tm4kSTWHT9bYdHSgU=' 'sha256-/+Q/6wED36jBttdnoce2TB3gUVD/eaoqTLogdkae+8g='; \
    img-src 'self' data:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'none'; \
    base-uri 'none'; frame-ancestors 'none'";

/// For a file whose name changes with its content.
pub const KEPT: &str = "public, max-age=31536000, immutable";
/// For a file that keeps its name: asked for again each time.
pub const ASKED_AGAIN: &str = "no-cache";
/// For an answer.
const NOT_KEPT: &str = "no-store";

/// How many digits of a hash are in a name; `page` of the scripts puts them there.
const HASH_DIGITS: usize = 16;

/// Adds what every response carries.
pub fn add(headers: &mut HeaderMap) {
    let fixed = [
        (CONTENT_SECURITY_POLICY, POLICY),
        (X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (REFERRER_POLICY, "no-referrer"),
        (
            HeaderName::from_static("cross-origin-opener-policy"),
            "same-origin",
        ),
        (
            HeaderName::from_static("cross-origin-resource-policy"),
            "same-origin",
        ),
        (
            HeaderName::from_static("permissions-policy"),
            "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()",
        ),
    ];
    for (name, value) in fixed {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers
        .entry(CACHE_CONTROL)
        .or_insert(HeaderValue::from_static(NOT_KEPT));
}

/// Says how long a file of the page is kept.
pub fn keeping(name: &str) -> &'static str {
    let hash = name.rsplit('.').nth(1).unwrap_or_default();
    let is_hash = hash.len() == HASH_DIGITS && hash.bytes().all(|byte| byte.is_ascii_hexdigit());
    if is_hash { KEPT } else { ASKED_AGAIN }
}

/// Says what a file is, by the end of its name.
pub fn kind(name: &str) -> &'static str {
    match name.rsplit('.').next() {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("webmanifest") => "application/manifest+json",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_hashed_name_is_kept_for_good() {
        assert_eq!(keeping("app.0123456789abcdef.js"), KEPT);
        for name in [
            "index.html",
            "service-worker.js",
            "app.0123.js",
            "0123456789abcdef",
        ] {
            assert_eq!(keeping(name), ASKED_AGAIN, "{name}");
        }
    }

    #[test]
    fn the_page_says_the_policy_too() {
        let (said, _) = POLICY.rsplit_once("; frame-ancestors").unwrap();
        let index = include_str!("../../app/static/index.html");
        assert!(index.contains(&format!("content=\"{said}\"")));
    }
}
