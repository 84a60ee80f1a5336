//! How the pool is run and what its energy costs, as the site file states it.

use crate::Quantity;
use serde::Serialize;

/// How the pool is run and what it costs.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Operation {
    /// The program that was found.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub as_found: Vec<ProgramBlock>,
    /// How often a day the volume passes the filter.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turnover: Option<Turnover>,
    /// The chance with which the turnover is to be met; absent, by the best estimate, which is an even chance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turnover_chance: Option<Quantity>,
    /// What money is worth a year later, as a share: for weighing a cost today against savings to come.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub discount_rate: Option<Quantity>,
    /// What energy costs through the day.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tariff: Vec<TariffBlock>,
    /// The seasons of the tariff.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub seasons: Vec<Season>,
    /// Days that the tariff takes for holidays.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub holidays: Vec<CalendarDay>,
    /// What is paid whatever is used, in the currency per day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fixed_charge: Option<Quantity>,
    /// What is paid a month for the highest power, in the currency per kW.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub demand_charge: Option<Quantity>,
    /// What a kilowatt-hour costs on top of the tariff, by how much a month uses.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tiers: Vec<Tier>,
    /// What everything but the pump uses in a month, J: it fills the tiers first.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub other_use: Option<Quantity>,
    /// Carbon dioxide of the energy.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub co2: Option<CarbonDioxide>,
    /// What must be done each day.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tasks: Vec<Task>,
    /// Hours with a highest speed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub quiet: Vec<QuietBlock>,
    /// Most starts in a day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_starts: Option<u32>,
    /// Most distinct speeds that the controller holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_speeds: Option<u32>,
    /// Most changes of speed, starts and stops counted, that the controller holds in a day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_changes: Option<u32>,
    /// Least time from a start to the next stop, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub min_run: Option<Quantity>,
    /// Longest time from a stop to the next start, s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub max_pause: Option<Quantity>,
    /// The speeds that may be set, rpm; absent, every step between the pump's lowest and highest.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub speeds: Vec<Quantity>,
    /// The step between speeds that may be set, rpm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed_step: Option<Quantity>,
}

impl Operation {
    /// The currency of its sums, as typed, where any is stated.
    pub fn currency(&self) -> Option<&str> {
        let prices = self.tariff.iter().map(|block| &block.price);
        let charges = self.fixed_charge.iter().chain(&self.demand_charge);
        let tiers = self.tiers.iter().map(|tier| &tier.add);
        let mut sums = prices.chain(charges).chain(tiers);
        sums.find_map(Quantity::currency)
    }
}

/// A time of day in minutes after midnight, 0 to 1440.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ClockTime {
    /// Minutes after midnight.
    pub minutes: u32,
}

/// A day of a year, or of every year.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct CalendarDay {
    /// The year; `None` for every year.
    pub year: Option<u16>,
    /// The month, 1 to 12.
    pub month: u8,
    /// The day of the month, from 1.
    pub day: u8,
}

/// A block of a pump program.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ProgramBlock {
    /// Start.
    pub from: ClockTime,
    /// End, exclusive.
    pub to: ClockTime,
    /// Speed, rpm.
    pub speed: Quantity,
}

/// A block of a tariff.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TariffBlock {
    /// Start.
    pub from: ClockTime,
    /// End, exclusive.
    pub to: ClockTime,
    /// Price per kWh; below 0 where using energy is paid for.
    pub price: Quantity,
    /// The season; absent, all the year.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub season: Option<String>,
    /// The kinds of day; empty, all.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub days: Vec<DayKind>,
}

/// A season of a tariff; it may pass New Year.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Season {
    /// Its name.
    pub name: String,
    /// Its first day, of every year.
    pub first_day: CalendarDay,
    /// Its last day, which belongs to it.
    pub last_day: CalendarDay,
}

/// A kind of day, as tariffs tell them apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum DayKind {
    /// Monday to Friday.
    Weekdays,
    /// Saturday and Sunday.
    Weekends,
    /// The days listed as such; where no block names them, they count by their weekday.
    Holidays,
}

/// A tier of a month's use.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Tier {
    /// Up to how much a month, J; absent, without end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub up_to: Option<Quantity>,
    /// What a kilowatt-hour of it costs on top of the tariff.
    pub add: Quantity,
}

/// Carbon dioxide of the energy, with its year and its source.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CarbonDioxide {
    /// kg per kWh.
    pub intensity: Quantity,
    /// The year that the number is of.
    pub year: u32,
    /// Who states it.
    pub source: String,
}

/// Hours with a highest speed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct QuietBlock {
    /// Start.
    pub from: ClockTime,
    /// End, exclusive.
    pub to: ClockTime,
    /// Highest speed, rpm.
    pub max_speed: Quantity,
}

/// Turnovers a day, as typed: `1 per day`.
#[derive(Clone, Debug, PartialEq)]
pub struct Turnover {
    /// The text as typed.
    pub text: String,
    /// How many a day.
    pub per_day: f64,
}

/// Something that must be done each day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Task {
    /// Its name.
    pub name: String,
    /// What kind of work it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<TaskKind>,
    /// Least flow, m³/s.
    pub min_flow: Quantity,
    /// For how many hours a day.
    pub hours: f64,
    /// Between which times of the day; absent, at any.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub between: Option<[ClockTime; 2]>,
    /// Its hours must lie side by side.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub in_one_go: bool,
    /// The lines that are shut for it, as in a test.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub closed: Vec<String>,
}

/// Kinds of work that a task does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum TaskKind {
    /// The surface runs over the skimmers.
    Skimming,
    /// The filter has its flow.
    Filtration,
    /// The heater has its flow.
    Heating,
    /// The solar loop is filled.
    Solar,
    /// The chlorine cell or the feeder has its flow.
    Chlorination,
    /// A cleaner runs.
    Cleaning,
    /// A spillover or a fall runs.
    #[serde(rename = "water fall")]
    WaterFall,
    /// A spa is filled and run.
    Spa,
    /// Water moves so that no pipe freezes.
    #[serde(rename = "freeze guard")]
    FreezeGuard,
}
