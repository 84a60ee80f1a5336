//! The names by which a WebAssembly host calls the engine: bytes in, bytes out, no generated glue.
//!
//! The host asks for room ([`parity_request`]), writes the request there, has it answered ([`parity_answer`]) and
//! reads the answer where it lies ([`parity_answer_at`]). Everything is in two buffers of this module, so nothing
//! here follows a pointer: only the host does, within the module's own memory.

#![expect(
    unsafe_code,
    reason = "a function that is called by name from outside keeps its name, which no compiler can check for clashes"
)]

use std::sync::{Mutex, MutexGuard, PoisonError};

static REQUEST: Mutex<Vec<u8>> = Mutex::new(Vec::new());
static ANSWER: Mutex<Vec<u8>> = Mutex::new(Vec::new());

/// Makes room for a request of this many bytes and says where.
#[unsafe(no_mangle)]
pub extern "C" fn parity_request(length: usize) -> *mut u8 {
    let mut request = locked(&REQUEST);
    request.clear();
    request.resize(length, 0);
    request.as_mut_ptr()
}

/// Answers the request and says how many bytes the answer has.
#[unsafe(no_mangle)]
pub extern "C" fn parity_answer() -> usize {
    let request = locked(&REQUEST);
    let mut answer = locked(&ANSWER);
    *answer = crate::answer(&String::from_utf8_lossy(&request)).into_bytes();
    answer.len()
}

/// Says where the answer lies, until the next one.
#[unsafe(no_mangle)]
pub extern "C" fn parity_answer_at() -> *const u8 {
    locked(&ANSWER).as_ptr()
}

/// The buffers hold bytes and no invariant, so one that a panic left behind is as good as any.
fn locked(buffer: &Mutex<Vec<u8>>) -> MutexGuard<'_, Vec<u8>> {
    buffer.lock().unwrap_or_else(PoisonError::into_inner)
}
