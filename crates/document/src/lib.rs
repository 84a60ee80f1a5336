//! The words, the rounding and the content of every answer, for terminal and JSON.
