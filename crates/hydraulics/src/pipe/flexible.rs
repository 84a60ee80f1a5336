//! Flexible PVC pipe, the ribbed-wall kind that pool trade uses on short runs; it is glued into fittings of iron pipe size.
//!
//! Common practice, no source: it has the outside diameters of iron pipe sizes, and makers state bores close to
//! those of Schedule 40, which are taken here. No standard of its dimensions is known to us; where the bore is
//! printed on the pipe, it is to be stated.

use super::astm_d1785::SCHEDULE_40;
use super::size::Row;

/// The sizes up to 4 in, as Schedule 40.
pub(super) const IRON_PIPE_SIZE: &[Row] = SCHEDULE_40.split_at(9).0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_ends_at_four_inches() {
        let sizes: Vec<&str> = IRON_PIPE_SIZE.iter().map(|row| row.nominal).collect();
        assert_eq!((sizes.len(), sizes.last()), (9, Some(&"4 in")));
    }
}
