//! The engine with plain bytes in and out.
