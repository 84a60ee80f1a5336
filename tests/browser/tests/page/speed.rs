//! How long a keystroke takes until its verdict stands at the field, and until the figures are drawn anew.
//!
//! The times are printed; what is asserted is loose, because a machine that does other work too is slow at any time.

use crate::steps::{go, open_demo};
use browser::{Browser, Screen, Served, page};
use serde_json::{Value, json};

/// Types a digit more or less into a reading, again and again, and times each: the verdict when the task of the
/// keystroke and what it promised are over, the figures when they are in the document and laid out.
const TYPED: &str = "
  const field = document.querySelector('#reading-0');
  const figures = document.querySelector('.figures');
  const next = () => new Promise((done) => {
    const seen = new MutationObserver(() => { seen.disconnect(); done(true); });
    seen.observe(figures, { childList: true, subtree: true });
    setTimeout(() => { seen.disconnect(); done(false); }, 1000);
  });
  const rest = () => new Promise((done) => setTimeout(() => requestAnimationFrame(() => setTimeout(done, 0)), 20));
  const texts = ['9', '90', '90.', '90.7'];
  const verdicts = [], drawn = [];
  for (let key = 0; key < 50; key += 1) {
    await rest();
    const seen = next();
    const start = performance.now();
    field.value = texts[key % texts.length];
    field.dispatchEvent(new Event('input', { bubbles: true }));
    await Promise.resolve();
    await Promise.resolve();
    const told = performance.now();
    if (await seen) {
      document.body.getBoundingClientRect();
      drawn.push(performance.now() - start);
    }
    verdicts.push(told - start);
  }
  return [verdicts, drawn];
";

/// What 200 keystrokes took, in milliseconds, the quickest first.
struct Timed {
    verdict: Vec<f64>,
    figures: Vec<f64>,
}

fn timed(slower: u32) -> Timed {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, "#test/demo-2026-06-02", "#reading-0");
    browser.wait_until("document.querySelector('.figure svg')", "the figures");
    browser.command("Emulation.setCPUThrottlingRate", &json!({ "rate": slower }));
    let mut found = Timed {
        verdict: Vec::new(),
        figures: Vec::new(),
    };
    for _ in 0..4 {
        let times = browser.run_async(TYPED);
        found.verdict.extend(numbers(&times[0]));
        found.figures.extend(numbers(&times[1]));
    }
    found.verdict.sort_by(f64::total_cmp);
    found.figures.sort_by(f64::total_cmp);
    println!("processor {slower} times slower, milliseconds:");
    tell("verdict", &found.verdict);
    tell("figures", &found.figures);
    assert!(found.figures.len() > 100, "{} figures", found.figures.len());
    found
}

fn numbers(times: &Value) -> impl Iterator<Item = f64> {
    times
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Value::as_f64)
}

fn tell(what: &str, times: &[f64]) {
    let (median, high) = (median(times), times[times.len() * 95 / 100]);
    println!(
        "  {what}: median {median:.1}, 95 % below {high:.1}, of {}",
        times.len()
    );
}

/// The middle one.
fn median(times: &[f64]) -> f64 {
    times[times.len() / 2]
}

#[test]
fn a_keystroke_is_judged_and_drawn_before_the_next() {
    assert!(median(&timed(1).figures) < 100.0);
}

#[test]
fn a_slow_phone_keeps_up_with_a_thumb() {
    assert!(median(&timed(4).figures) < 250.0);
}

/// How much the page may grow over a thousand edits, in bytes: undo keeps two hundred of them.
const MOST_GROWN: f64 = 4e6;

#[test]
fn a_thousand_edits_leave_the_memory_as_it_was() {
    let served = Served::start(page());
    let browser = Browser::start(Screen::PHONE);
    browser.open(served.address());
    open_demo(&browser);
    go(&browser, "#test/demo-2026-06-02", "#reading-0");
    let edit = |times: u32| {
        browser.run_async(&format!(
            "for (let edit = 0; edit < {times}; edit += 1) {{\
               const field = document.querySelector(`#reading-${{edit % 3}}`);\
               field.value = `${{50 + edit % 37}}`;\
               field.dispatchEvent(new Event('input', {{ bubbles: true }}));\
               field.dispatchEvent(new Event('change', {{ bubbles: true }}));\
               await new Promise((done) => setTimeout(done, 0));\
             }}"
        ));
    };
    let used = || {
        browser.command("HeapProfiler.collectGarbage", &json!({}));
        let found = browser.run_async(
            "const page = await import(document.querySelector('link[rel=modulepreload]').href);\
             return [performance.memory.usedJSHeapSize, (await page.default()).memory.buffer.byteLength];",
        );
        numbers(&found).collect::<Vec<f64>>()
    };
    for _ in 0..15 {
        edit(20);
    }
    let before = used();
    for _ in 0..50 {
        edit(20);
    }
    let after = used();
    println!(
        "bytes of script and of the engine, before and after 1000 edits: {before:?} {after:?}"
    );
    for (before, after) in before.iter().zip(&after) {
        assert!(after - before < MOST_GROWN, "{before} {after}");
    }
}
