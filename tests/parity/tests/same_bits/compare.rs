//! Two answers, byte for byte.

/// How much of each answer is shown around the first difference.
const SHOWN_BYTES: usize = 60;

/// Says where two answers first differ, if they do.
pub(crate) fn difference(name: &str, native: &str, wasm: &str) -> Option<String> {
    if native == wasm {
        return None;
    }
    let same = native
        .bytes()
        .zip(wasm.bytes())
        .take_while(|(a, b)| a == b)
        .count();
    let line = native
        .bytes()
        .take(same)
        .filter(|byte| *byte == b'\n')
        .count()
        + 1;
    let (native, wasm) = (around(native, same), around(wasm, same));
    Some(format!(
        "{name}: byte {same}, line {line}\n  native {native:?}\n  wasm   {wasm:?}"
    ))
}

fn around(text: &str, at: usize) -> String {
    let bytes = text.as_bytes();
    let shown = at.saturating_sub(SHOWN_BYTES / 2)..bytes.len().min(at + SHOWN_BYTES / 2);
    String::from_utf8_lossy(bytes.get(shown).unwrap_or_default()).into_owned()
}

#[test]
fn the_first_differing_byte_is_named() {
    assert_eq!(difference("a", "x\nyz", "x\nyz"), None);
    let last_digit = difference("a", "x\n1.50", "x\n1.51").unwrap();
    assert!(
        last_digit.starts_with("a: byte 5, line 2\n"),
        "{last_digit}"
    );
    assert!(
        difference("a", "x", "xy")
            .unwrap()
            .starts_with("a: byte 1, line 1")
    );
    assert!(difference("a", "", "x").is_some());
}
