//! Every screen in every size and colour: nothing sticks out, and nobody is kept out.

use browser::{Browser, Scheme, Screen, Served, page};

#[test]
fn every_screen_is_for_everybody() {
    let served = Served::start(page());
    for screen in [Screen::PHONE, Screen::DESK] {
        let browser = Browser::start(screen);
        browser.open(served.address());
        browser.wait_until("document.querySelector('.answers')", "the answer");
        for scheme in [Scheme::Light, Scheme::Dark] {
            browser.like(scheme);
            for name in ["Demo", "About"] {
                browser.press("nav button", name);
                let current =
                    format!("document.querySelector('[aria-current]').innerText === {name:?}");
                browser.wait_until(&current, "the screen");
                browser.picture(&format!("{}-{}", name.to_lowercase(), scheme.word()));
                assert_eq!(
                    browser.violations(),
                    [],
                    "{name}, {}, {scheme:?}",
                    screen.name
                );
                let sticks_out = "document.scrollingElement.scrollWidth > innerWidth";
                assert!(
                    !browser.holds(sticks_out),
                    "{name}, {}: wider than the screen",
                    screen.name
                );
            }
        }
    }
}
