//! What stands on the pad and at the pool: filter, appliances with a rated drop, check valve, solar loop, suction covers.
//!
//! An appliance is known by what its maker prints. Nothing here invents a drop that is not stated.

mod check_valve;
mod cover;
mod filter;
mod granular_bed;
mod rated_drop;
mod solar;

pub use check_valve::{CheckValve, check_valve_pressure_pa};
pub use cover::{highest_flow_with_one_blocked_m3s, share_with_one_blocked};
pub use filter::{FilterLaw, FilterMedia, filter_law, filter_loading, filter_pressure_pa};
pub use granular_bed::{GranularBed, granular_bed_pressure_pa};
pub use rated_drop::{RatedDrops, rated_pressure_pa};
pub use solar::{pressure_at_top_pa, speed_to_fill_rpm};
