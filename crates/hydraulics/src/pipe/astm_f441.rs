//! ASTM F441: CPVC pipe of Schedules 40 and 80, in iron pipe sizes.
//!
//! Its dimensions are those of PVC pipe after ASTM D1785, size by size: as printed in the Python package
//! fluids 1.3.1 (`fluids.piping`, lists F441IPS). The file exists so that a reader finds the standard by its name.

pub(super) use super::astm_d1785::{SCHEDULE_40, SCHEDULE_80};
