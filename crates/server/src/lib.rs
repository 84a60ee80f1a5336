//! Serves the page to browsers of the same machine.
//!
//! [`page`] has the files, [`guard`] decides who is answered, [`headers`] what a browser may do with the answer, [`report`]
//! has a report set by whoever serves the page, and [`listen`] holds the door. Nothing here computes, and nothing here knows a pool.

pub mod guard;
pub mod headers;
pub mod listen;
pub mod page;
pub mod report;
pub mod router;
