//! What the page may do: use the style and the script that it holds, known by their digests, and nothing else.

use records::base64;
use sha2::{Digest, Sha256};

/// Writes by which digest a policy knows a text.
pub(super) fn digest(text: &str) -> String {
    format!(
        "'sha256-{}'",
        base64::written(&Sha256::digest(text.as_bytes()))
    )
}

/// Writes the policy for a style and a script (W3C, Content Security Policy Level 3, 6.7.3.3).
pub(super) fn policy(style: &str, script: &str) -> String {
    format!(
        "default-src 'none'; style-src {}; script-src {}; img-src data:; base-uri 'none'; form-action 'none'",
        digest(style),
        digest(script)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

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
