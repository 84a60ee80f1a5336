//! What the page may do: use the style and the script that it holds, known by their digests, and nothing else.

use sha2::{Digest, Sha256};

/// Writes the policy for a style and a script (W3C, Content Security Policy Level 3, 6.7.3.3).
pub(super) fn policy(style: &str, script: &str) -> String {
    let digest = |text: &str| base64(&Sha256::digest(text.as_bytes()));
    format!(
        "default-src 'none'; style-src 'sha256-{}'; script-src 'sha256-{}'; img-src data:; base-uri 'none'; form-action 'none'",
        digest(style),
        digest(script)
    )
}

/// Writes bytes in base 64 (RFC 4648, section 4).
pub(super) fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let mut bits = 0_u32;
        for index in 0..3 {
            bits = bits << 8 | u32::from(group.get(index).copied().unwrap_or(0));
        }
        for index in 0..4 {
            if index > group.len() {
                out.push('=');
            } else {
                let digit = bits >> (18 - 6 * index) & 63;
                out.push(char::from(DIGITS[digit as usize]));
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_test_vectors_of_rfc_4648_hold() {
        for (bytes, written) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(bytes.as_bytes()), written);
        }
    }

    #[test]
    fn the_digest_is_that_of_fips_180() {
        // FIPS 180-4, example of "abc", as printed by NIST in hexadecimal: ba7816bf...f20015ad.
        let policy = policy("abc", "");
        assert!(
            policy.contains("style-src 'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0='"),
            "{policy}"
        );
    }
}
