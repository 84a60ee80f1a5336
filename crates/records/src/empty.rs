//! Tables of which nothing was stated, and which are therefore not written.

use crate::{Condition, Limits, Operation, Place, Water};

macro_rules! empty_where_default {
    ($($table:ty),+) => {$(
        impl $table {
            /// Nothing was stated.
            pub fn is_empty(&self) -> bool {
                *self == Self::default()
            }
        }
    )+};
}

empty_where_default!(Water, Place, Limits, Operation, Condition);
