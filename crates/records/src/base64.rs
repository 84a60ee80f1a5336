//! Bytes as text in base 64 (RFC 4648, section 4): how a picture travels in a page or in JSON.

const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
/// What fills the last group up.
const FILL: u8 = b'=';

/// Writes bytes in base 64.
pub fn written(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for group in bytes.chunks(3) {
        let mut bits = 0_u32;
        for index in 0..3 {
            bits = bits << 8 | u32::from(group.get(index).copied().unwrap_or(0));
        }
        for index in 0..4 {
            if index > group.len() {
                out.push(char::from(FILL));
            } else {
                let digit = bits >> (18 - 6 * index) & 63;
                out.push(char::from(DIGITS[digit as usize]));
            }
        }
    }
    out
}

/// Reads bytes from base 64; `None` where the text is none, or is not filled up.
pub fn read(text: &str) -> Option<Vec<u8>> {
    let digits = text.as_bytes();
    if !digits.len().is_multiple_of(4) {
        return None;
    }
    let fill = digits
        .iter()
        .rev()
        .take_while(|digit| **digit == FILL)
        .count();
    let digits = digits.get(..digits.len() - fill.min(3))?;
    let mut out = Vec::with_capacity(digits.len() / 4 * 3 + 2);
    for group in digits.chunks(4) {
        let mut bits = 0_u32;
        for digit in group {
            let value = DIGITS.iter().position(|other| other == digit)?;
            bits = bits << 6 | u32::try_from(value).ok()?;
        }
        // A group of n digits holds n - 1 bytes, at its upper end.
        bits <<= 6 * (4 - group.len());
        let [_, bytes @ ..] = bits.to_be_bytes();
        out.extend(bytes.get(..group.len() - 1)?);
    }
    (fill < 3).then_some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_test_vectors_of_rfc_4648_hold_both_ways() {
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(written(bytes.as_bytes()), text);
            assert_eq!(read(text).as_deref(), Some(bytes.as_bytes()), "{text}");
        }
    }

    #[test]
    fn what_is_no_base_64_is_none() {
        for text in [
            "Zg", "Zg=", "====", "Z===", "Zg==Zg==", "Zm9-", "Zm 9", "ñaaa",
        ] {
            assert_eq!(read(text), None, "{text}");
        }
    }
}
