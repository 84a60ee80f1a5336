//! How long twelve changes of a pad take, each planned over a year: under a tariff of seasons and kinds of day, and with a charge
//! for the highest draw and a turnover that is wanted with a chance.

#![expect(clippy::unwrap_used, reason = "a benchmark fails by panicking")]

use criterion::{Criterion, criterion_group, criterion_main};
use operation::{AskedComparison, AskedYear, Effort, compare};
use records::{Change, Site, Source, Test, TestFiles, read_change, read_pad};
use std::fs;
use std::hint::black_box;
use std::path::Path;

/// Two seasons, weekdays and weekends: four distinct days.
const TARIFF: &str = "seasons = [ { name = \"summer\", first_day = \"1 Jun\", last_day = \"30 Sep\" }, \
    { name = \"winter\", first_day = \"1 Oct\", last_day = \"31 May\" } ]\n\
    tariff = [\n\
      { from = \"00:00\", to = \"16:00\", price = \"0.24 USD/kWh\", season = \"summer\", days = [\"weekdays\"] },\n\
      { from = \"16:00\", to = \"21:00\", price = \"0.52 USD/kWh\", season = \"summer\", days = [\"weekdays\"] },\n\
      { from = \"21:00\", to = \"24:00\", price = \"0.24 USD/kWh\", season = \"summer\", days = [\"weekdays\"] },\n\
      { from = \"00:00\", to = \"16:00\", price = \"0.22 USD/kWh\", season = \"winter\", days = [\"weekdays\"] },\n\
      { from = \"16:00\", to = \"21:00\", price = \"0.38 USD/kWh\", season = \"winter\", days = [\"weekdays\"] },\n\
      { from = \"21:00\", to = \"24:00\", price = \"0.22 USD/kWh\", season = \"winter\", days = [\"weekdays\"] },\n\
      { price = \"0.23 USD/kWh\", season = \"summer\", days = [\"weekends\"] },\n\
      { price = \"0.20 USD/kWh\", season = \"winter\", days = [\"weekends\"] },\n\
    ]\n";
/// What makes a year dear to plan.
const DEAR: &str = "demand_charge = \"12 USD/kW\"\nturnover_chance = \"90 %\"\n";

/// The example with another tariff, and more below `[operation]`.
fn pad(more: &str) -> (Site, Vec<Test>, Vec<Change>) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/larkspur-lane");
    let source = |name: &str| Source {
        name: name.to_owned(),
        text: fs::read_to_string(folder.join(name)).unwrap(),
    };
    let mut site = source("site.toml");
    let from = site.text.find("tariff = [").unwrap();
    let to = site.text.find("tasks = [").unwrap();
    site.text
        .replace_range(from..to, &format!("{more}{TARIFF}"));
    let files = [TestFiles {
        test: source("2026-05-16.toml"),
        readings: Some(source("2026-05-16.csv")),
    }];
    let (site, tests) = read_pad(&site, &files).unwrap();
    let changes = (0..12).map(|number| {
        let (line, part) = (1 + number % 2, 1);
        let text = format!(
            "format = 1\nname = \"change {number}\"\ncapital = \"900 USD\"\nlife = \"20 years\"\n[[part]]\nline = \"return {line}\"\n\
             part = {part}\nis = {{ pipe = \"2 in\", spec = \"PVC Sch 40\", length = \"{} ft\" }}\n",
            30 + 4 * number
        );
        let source = Source {
            name: "change.toml".to_owned(),
            text,
        };
        read_change(&source, &site).unwrap()
    });
    let changes = changes.collect();
    (site, tests, changes)
}

fn years(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("year");
    group.sample_size(10);
    let asked = AskedComparison {
        year: AskedYear {
            year: 2026,
            least: None,
            slot_minutes: 30,
            effort: Effort::a_second(),
            clock_changes: Vec::new(),
        },
        against: None,
    };
    for (name, more) in [
        ("twelve changes", ""),
        ("twelve changes, a charge for the draw and a chance", DEAR),
    ] {
        let (site, tests, changes) = pad(more);
        let analysis = fieldtest::analyze(&site, &tests);
        group.bench_function(name, |bencher| {
            bencher.iter(|| {
                let changes = black_box(&changes);
                compare(&site, &tests, &analysis, changes, &asked, |_, _| {}).unwrap()
            });
        });
    }
    group.finish();
}

criterion_group!(benches, years);
criterion_main!(benches);
