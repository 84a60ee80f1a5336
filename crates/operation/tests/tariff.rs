//! The arithmetic of tariffs, against sums by hand.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use operation::tariff::{AtPrice, DayPrices, Draw, days_of_year, monthly_additions, tiers_cost};
use operation::{Date, TariffDay};
use records::{ClockTime, DayKind, Operation, Source, read_site};

/// Sums of 1440 minutes: each adds a rounding of 1e-16.
const TOLERANCE: f64 = 1e-12;

fn operation(text: &str) -> Operation {
    let text = format!(
        "format = 1\nname = \"pad\"\n[pump]\nspeed = {{ max = \"3450 rpm\" }}\n[operation]\n{text}"
    );
    let source = Source {
        name: "site.toml".to_owned(),
        text,
    };
    read_site(&source).unwrap().operation
}

fn draw(from: &str, to: &str, power_w: f64) -> Draw {
    let clock = |text| ClockTime::parse(text).unwrap();
    Draw {
        from: clock(from),
        to: clock(to),
        power_w,
    }
}

fn prices(operation: &Operation) -> DayPrices {
    DayPrices::of(operation, &TariffDay::usual(operation)).unwrap()
}

#[track_caller]
fn assert_near(own: f64, by_hand: f64) {
    assert!(
        (own - by_hand).abs() <= TOLERANCE * by_hand.abs().max(1.0),
        "{own} for {by_hand}"
    );
}

const TWO_PRICES: &str = "tariff = [ { from = \"15:00\", to = \"19:00\", price = \"0.35 USD/kWh\" }, \
    { from = \"19:00\", to = \"15:00\", price = \"0.18 USD/kWh\" } ]\n\
    co2 = { intensity = \"0.390 kg/kWh\", year = 2022, source = \"EIA\" }\n";

/// STANDARDS T41: `validation/schedule/arithmetic`.
#[test]
fn a_program_over_midnight_costs_what_it_costs_by_hand() {
    let operation = operation(TWO_PRICES);
    let program = [
        draw("19:00", "13:00", 150.0),
        draw("13:00", "16:00", 1100.0),
    ];
    let parts = prices(&operation).parted(&program);
    let energy_kwh: f64 = parts.iter().map(|part| part.energy_kwh).sum();
    assert_near(energy_kwh, 6.0);
    assert_near(parts.iter().map(AtPrice::cost).sum(), 1.267);
    let intensity = operation.co2.as_ref().unwrap().intensity.si;
    assert_near(intensity * energy_kwh, 2.34);
    let gallons = 31.1 * 60.0 * 18.0 + 60.0 * 60.0 * 3.0;
    assert_near(gallons, 44_388.0);
    assert_near(gallons / 1000.0 / energy_kwh, 7.398);
}

/// STANDARDS T42: `validation/schedule/arithmetic`.
#[test]
fn an_end_is_exclusive_and_a_start_is_not() {
    let prices = prices(&operation(TWO_PRICES));
    let hours_at = |draws: &[Draw], price: f64| -> f64 {
        let parts = prices.parted(draws);
        let of = parts
            .iter()
            .filter(|part| (part.price_per_kwh - price).abs() < 1e-9);
        of.map(|part| part.hours).sum()
    };
    assert_near(hours_at(&[draw("12:00", "15:00", 1.0)], 0.35), 0.0);
    assert_near(hours_at(&[draw("15:00", "15:01", 1.0)], 0.35), 1.0 / 60.0);
    assert_near(hours_at(&[draw("15:00", "15:01", 1.0)], 0.18), 0.0);
    let whole_day = [draw("00:00", "24:00", 1.0)];
    assert_near(
        hours_at(&whole_day, 0.35) + hours_at(&whole_day, 0.18),
        24.0,
    );
}

/// By hand: 500 kWh of a month are 400 at 0.02 and 100 at 0.10, 18 in all; the pump's last 200 of them 100 at either.
#[test]
fn tiers_are_filled_from_below_and_the_pump_comes_on_top() {
    let operation = operation(
        "tiers = [ { up_to = \"400 kWh\", add = \"0.02 USD/kWh\" }, { add = \"0.10 USD/kWh\" } ]\n\
         other_use = \"300 kWh\"\nfixed_charge = \"12.50 USD/month\"\ndemand_charge = \"14 USD/kW\"\n",
    );
    assert_near(tiers_cost(&operation, 0.0), 0.0);
    assert_near(tiers_cost(&operation, 400.0), 8.0);
    assert_near(tiers_cost(&operation, 500.0), 18.0);
    let month = monthly_additions(&operation, 200.0, 1500.0);
    assert_near(month.tiers, 2.0 + 10.0);
    assert_near(month.demand, 21.0);
    assert_near(month.fixed, 12.5);
}

/// By hand: 2026 has 261 weekdays; from 1 October to 31 May are 243 days. 4 July 2026 is a Saturday, Thanksgiving a
/// Thursday.
#[test]
fn seasons_pass_new_year_and_holidays_are_told_apart() {
    let operation = operation(
        "tariff = [ { price = \"0.5 USD/kWh\", season = \"summer\", days = \"weekdays\" }, \
         { price = \"0.3 USD/kWh\", season = \"summer\", days = [\"weekends\", \"holidays\"] }, \
         { price = \"-0.1 USD/kWh\", season = \"winter\" } ]\n\
         seasons = [ { name = \"winter\", first_day = \"1 Oct\", last_day = \"31 May\" }, \
         { name = \"summer\", first_day = \"1 Jun\", last_day = \"30 Sep\" } ]\n\
         holidays = [\"4 Jul\", \"2026-11-26\"]\n",
    );
    let days = days_of_year(&operation, 2026);
    let count = |of: &dyn Fn(&TariffDay) -> bool| -> u32 {
        days.iter()
            .filter(|(day, _)| of(day))
            .map(|(_, count)| count)
            .sum()
    };
    assert_eq!(count(&|_| true), 365);
    assert_eq!(count(&|day| day.season.as_deref() == Some("winter")), 243);
    assert_eq!(count(&|day| day.kind == DayKind::Weekdays), 261 - 1);
    assert_eq!(count(&|day| day.kind == DayKind::Holidays), 2);
    let price = |month, day| {
        let date = Date {
            year: 2026,
            month,
            day,
        };
        DayPrices::of(&operation, &date.of_tariff(&operation))
            .unwrap()
            .at(720)
    };
    assert_near(price(7, 1), 0.5);
    assert_near(price(7, 4), 0.3);
    assert_near(price(9, 30), 0.5);
    assert_near(price(10, 1), -0.1);
    assert_near(price(1, 1), -0.1);
}
