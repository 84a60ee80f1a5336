//! The table of units. A factor is written as the arithmetic of its definition, so that it can be checked by eye.
//!
//! Sources: "SP 811" is A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units,
//! NIST Special Publication 811 (2008), appendix B.8; "SI brochure" is BIPM, The International System of
//! Units, 9th edition (2019).

use super::{Dimension, Unit};

const INCH_M: f64 = 0.0254;
const FOOT_M: f64 = 0.3048;
const US_GALLON_M3: f64 = 231.0 * INCH_M * INCH_M * INCH_M;
const IMPERIAL_GALLON_M3: f64 = 4.54609e-3;
const LITRE_M3: f64 = 1e-3;
const MINUTE_S: f64 = 60.0;
const HOUR_S: f64 = 3600.0;
/// The pound-force: 0.453 592 37 kg times standard gravity, exact.
const POUND_FORCE_N: f64 = 4.4482216152605;
/// The pound, exact.
const POUND_KG: f64 = 0.45359237;
/// Water of 1000 kg/m³ under standard gravity of 9.806 65 m/s²: the conventional head of water.
const WATER_PA_PER_M: f64 = 9806.65;

const INCH: &str = "exact: 1 in = 0.0254 m (SP 811)";
const GALLON: &str = "exact: 1 gal = 231 in3 (SP 811)";
const SI: &str = "exact (SI brochure)";
const HEAD: &str = "conventional water of 1000 kg/m3 under 9.80665 m/s2 (SP 811)";

const fn unit(
    dimension: Dimension,
    name: &'static str,
    spellings: &'static [&'static str],
    factor: f64,
    source: &'static str,
) -> Unit {
    Unit {
        name,
        spellings,
        dimension,
        factor,
        offset: 0.0,
        source,
    }
}

const ANY_CURRENCY: &str = "any currency code of ISO 4217; no conversion";
/// A twelfth of a year of 365 days, d: what tariffs mean by a month where they turn it into days.
const MONTH_D: f64 = YEAR_D / 12.0;
/// A year of such tariffs, d.
const YEAR_D: f64 = 365.0;

/// Prices and charges: their currency is any code of ISO 4217 and stands in the text.
pub(super) static MONEY: [Unit; 6] = [
    unit(Dimension::Price, "USD/kWh", &[], 1.0, ANY_CURRENCY),
    unit(
        Dimension::Charge,
        "USD/month",
        &[],
        1.0 / MONTH_D,
        ANY_CURRENCY,
    ),
    unit(Dimension::Charge, "USD/day", &[], 1.0, ANY_CURRENCY),
    unit(
        Dimension::Charge,
        "USD/year",
        &[],
        1.0 / YEAR_D,
        ANY_CURRENCY,
    ),
    unit(Dimension::DemandCharge, "USD/kW", &[], 1.0, ANY_CURRENCY),
    unit(Dimension::Money, "USD", &[], 1.0, ANY_CURRENCY),
];

use Dimension::{
    Area, CarbonIntensity, Concentration, Current, Energy, Flow, Length, Power, Pressure, Ratio,
    Speed, Temperature, Time, Velocity, Voltage, Volume,
};

/// Every unit but the price; within a dimension in the order in which messages list them.
#[rustfmt::skip]
pub(super) static UNITS: &[Unit] = &[
    unit(Flow, "gpm", &["gal/min", "US gpm", "US gal/min", "gallon/min", "gallons/min", "gallons per minute"], US_GALLON_M3 / MINUTE_S, GALLON),
    unit(Flow, "L/min", &["lpm", "litre/min", "liter/min", "litres/min", "liters/min"], LITRE_M3 / MINUTE_S, SI),
    unit(Flow, "L/s", &["lps", "L/sec", "litre/s", "liter/s"], LITRE_M3, SI),
    unit(Flow, "m3/h", &["m3/hr", "cu m/h", "m3h-1"], 1.0 / HOUR_S, SI),
    unit(Flow, "m3/s", &["m3/sec", "cu m/s", "m3s-1"], 1.0, SI),

    unit(Length, "in", &["inch", "inches", "\"", "″", "''"], INCH_M, INCH),
    unit(Length, "ft", &["foot", "feet", "'", "′"], FOOT_M, "exact: 1 ft = 0.3048 m (SP 811)"),
    unit(Length, "mm", &["millimetre", "millimetres", "millimeter", "millimeters"], 1e-3, SI),
    unit(Length, "cm", &["centimetre", "centimetres", "centimeter", "centimeters"], 1e-2, SI),
    unit(Length, "m", &["metre", "metres", "meter", "meters"], 1.0, SI),

    unit(Area, "ft2", &["sq ft", "sqft", "sq. ft", "square foot", "square feet"], FOOT_M * FOOT_M, "exact: 1 ft = 0.3048 m (SP 811)"),
    unit(Area, "in2", &["sq in", "sqin", "sq. in", "square inch", "square inches"], INCH_M * INCH_M, INCH),
    unit(Area, "m2", &["sq m", "sqm", "square metre", "square metres", "square meter", "square meters"], 1.0, SI),
    unit(Area, "cm2", &["sq cm"], 1e-4, SI),

    unit(Volume, "gal", &["gals", "gallon", "gallons", "US gal", "US gallon", "US gallons"], US_GALLON_M3, GALLON),
    unit(Volume, "imp gal", &["imperial gallon", "imperial gallons", "UK gal", "imp. gal"], IMPERIAL_GALLON_M3, "exact: 4.54609 L (SP 811)"),
    unit(Volume, "L", &["litre", "litres", "liter", "liters"], LITRE_M3, SI),
    unit(Volume, "m3", &["cu m", "cubic metre", "cubic metres", "cubic meter", "cubic meters"], 1.0, SI),
    unit(Volume, "ft3", &["cu ft", "cuft", "cubic foot", "cubic feet"], FOOT_M * FOOT_M * FOOT_M, "exact: 1 ft = 0.3048 m (SP 811)"),

    unit(Pressure, "psi", &["psig", "lbf/in2", "lb/in2"], POUND_FORCE_N / (INCH_M * INCH_M), "exact: 1 lbf = 0.45359237 kg x 9.80665 m/s2 (SP 811)"),
    unit(Pressure, "kPa", &["kilopascal", "kilopascals"], 1e3, SI),
    unit(Pressure, "bar", &["bars"], 1e5, "exact: 100 kPa (SP 811)"),
    unit(Pressure, "mbar", &["millibar", "millibars", "hPa"], 1e2, "exact: 100 Pa (SP 811)"),
    unit(Pressure, "Pa", &["pascal", "pascals"], 1.0, SI),
    unit(Pressure, "inHg", &["in Hg", "in. Hg", "inch Hg", "inches Hg", "\"Hg", "″Hg", "inches of mercury"], 3386.389, "rounded: conventional mercury of 13595.1 kg/m3 at 0 degC under 9.80665 m/s2 (SP 811)"),
    unit(Pressure, "ft water", &["ft", "foot", "feet", "ftH2O", "ft H2O", "feet of water", "ft of water"], FOOT_M * WATER_PA_PER_M, HEAD),
    unit(Pressure, "m water", &["m", "metre", "metres", "meter", "meters", "mH2O", "m H2O", "m of water", "metres of water", "meters of water"], WATER_PA_PER_M, HEAD),

    Unit { name: "degF", spellings: &["°F", "F", "deg F", "° F", "fahrenheit"], dimension: Temperature, factor: 5.0 / 9.0, offset: 459.67 * 5.0 / 9.0, source: "exact: K = (degF + 459.67) / 1.8 (SP 811)" },
    Unit { name: "degC", spellings: &["°C", "C", "deg C", "° C", "celsius"], dimension: Temperature, factor: 1.0, offset: 273.15, source: "exact: K = degC + 273.15 (SP 811)" },
    unit(Temperature, "K", &["kelvin"], 1.0, SI),

    unit(Speed, "rpm", &["r/min", "rev/min", "1/min", "min-1"], 1.0, "kept as typed: no conversion"),

    unit(Velocity, "ft/s", &["fps", "ft/sec", "feet/s", "feet per second"], FOOT_M, "exact: 1 ft = 0.3048 m (SP 811)"),
    unit(Velocity, "m/s", &["m/sec", "metre/s", "metres per second", "meters per second"], 1.0, SI),

    unit(Power, "W", &["watt", "watts"], 1.0, SI),
    unit(Power, "kW", &["kilowatt", "kilowatts"], 1e3, SI),

    unit(Current, "A", &["amp", "amps", "ampere", "amperes"], 1.0, SI),

    unit(Voltage, "V", &["volt", "volts"], 1.0, SI),

    unit(Energy, "Wh", &["watt hour", "watt hours"], HOUR_S, "exact: 3600 J (SP 811)"),
    unit(Energy, "kWh", &["kilowatt hour", "kilowatt hours"], 1e3 * HOUR_S, "exact: 3.6e6 J (SP 811)"),
    unit(Energy, "J", &["joule", "joules"], 1.0, SI),

    unit(Concentration, "g/L", &["gram/litre", "grams/litre", "gram/liter", "grams/liter", "kg/m3"], 1.0, SI),
    unit(Concentration, "ppm", &["mg/L"], 1e-3, "taken as 1 mg in 1 L of water, as the trade does"),

    unit(CarbonIntensity, "kg/kWh", &["kg CO2/kWh"], 1.0, SI),
    unit(CarbonIntensity, "g/kWh", &["g CO2/kWh"], 1e-3, SI),
    unit(CarbonIntensity, "lb/kWh", &["lb CO2/kWh"], POUND_KG, "exact: 0.45359237 kg (SP 811)"),
    unit(CarbonIntensity, "lb/MWh", &["lb CO2/MWh"], 1e-3 * POUND_KG, "exact: 0.45359237 kg (SP 811)"),

    unit(Time, "s", &["sec", "secs", "second", "seconds"], 1.0, SI),
    unit(Time, "min", &["mins", "minute", "minutes"], MINUTE_S, SI),
    unit(Time, "h", &["hr", "hrs", "hour", "hours"], HOUR_S, SI),
    unit(Time, "years", &["year", "yr", "yrs", "a"], YEAR_D * 24.0 * HOUR_S, "taken as 365 days"),

    unit(Ratio, "%", &["percent", "per cent", "pct"], 1e-2, "exact: one hundredth"),
];
