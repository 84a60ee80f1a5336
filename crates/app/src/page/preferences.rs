//! How the page looks and speaks: language, units, colours, and whether a range is shown beforehand. Every choice works at once.

use super::browser;
use super::keeper::{Keeper, keeper};
use super::letterhead::Letterhead;
use super::ui::titled;
use super::words::settings as words;
use app::library::{Settings, ThemeChoice, Units};
use leptos::prelude::*;
use records::Language;

/// Where the colours are remembered for `boot.js`, which paints the page before the program runs.
const THEME_KEY: &str = "headwright-theme";

fn theme_word(theme: Option<ThemeChoice>) -> Option<&'static str> {
    theme.map(|theme| match theme {
        ThemeChoice::Light => "light",
        ThemeChoice::Dark => "dark",
        ThemeChoice::Sun => "sun",
    })
}

/// Paints the page as the settings say, whenever they change once they are loaded.
pub(super) fn follow(keeper: Keeper) {
    let theme = Memo::new(move |_| keeper.settings.with(|settings| settings.theme));
    Effect::new(move |_| {
        let word = theme_word(theme.get());
        if keeper.opened.get() == super::keeper::Opened::Opening {
            return;
        }
        browser::root_attribute("data-theme", word);
        browser::remember(THEME_KEY, word.unwrap_or_default());
    });
}

/// Where the language is remembered for `boot.js`, for the sentences that stand there without the program.
const LANGUAGE_KEY: &str = "headwright-language";

/// The language of the page: the one that was chosen, else the nearest to the one that the browser states.
pub(super) fn spoken(keeper: Keeper) -> Memo<Language> {
    let language = Memo::new(move |_| {
        let chosen = keeper.settings.with(|settings| settings.language.clone());
        let tag = chosen
            .or_else(|| browser::remembered(LANGUAGE_KEY))
            .unwrap_or_else(browser::reads);
        Language::nearest(&tag)
    });
    Effect::new(move |_| {
        let tag = language.get().tag();
        browser::root_attribute("lang", Some(tag));
        browser::root_attribute("dir", Some(direction(language.get_untracked())));
        if keeper.settings.with(|settings| settings.language.is_some()) {
            browser::remember(LANGUAGE_KEY, tag);
        }
    });
    language
}

/// The way in which a language is written.
fn direction(language: Language) -> &'static str {
    match language {
        Language::English | Language::Spanish | Language::SpanishOfTheUs => "ltr",
    }
}

/// The languages by their own names, each with how it writes numbers; who reads none of the others finds their own.
const LANGUAGES: [(Language, &str); 3] = [
    (Language::English, "English (1,234.5)"),
    (Language::Spanish, "español (1 234,5)"),
    (Language::SpanishOfTheUs, "español (1,234.5)"),
];

/// The choice of the language, which can be found without reading the one that is set.
#[component]
pub(super) fn Languages() -> impl IntoView {
    let keeper = keeper();
    let choice = |(language, name): (Language, &'static str)| {
        let tag = language.tag();
        let choose = move |_| {
            change(keeper, |settings| settings.language = Some(tag.to_owned()));
        };
        view! {
            <label class="choice" lang=tag>
                <input
                    type="radio" name="language" id=format!("language-{tag}")
                    prop:checked=super::words::language() == language on:change=choose
                />
                {name}
            </label>
        }
    };
    view! {
        <fieldset>
            <legend>{words::LANGUAGE}</legend>
            <div class="choices">{LANGUAGES.map(choice).collect_view()}</div>
        </fieldset>
    }
}

/// The screen.
#[component]
pub(super) fn Preferences() -> impl IntoView {
    titled(|| words::TITLE.to_string());
    let keeper = keeper();
    let settings = keeper.settings;
    let units = [
        (words::UNITS_SITE, None),
        (words::UNITS_US, Some(Units::Us)),
        (words::UNITS_SI, Some(Units::Si)),
    ];
    let themes = [
        (words::THEME_SYSTEM, None),
        (words::THEME_LIGHT, Some(ThemeChoice::Light)),
        (words::THEME_DARK, Some(ThemeChoice::Dark)),
        (words::THEME_SUN, Some(ThemeChoice::Sun)),
    ];
    view! {
        <h1>{words::TITLE}</h1>
        <Languages/>
        <fieldset>
            <legend>{words::THEME}</legend>
            <div class="choices">
                {themes.map(|(word, theme)| view! {
                    <Choice
                        group="theme" word
                        is_chosen=Signal::derive(move || settings.with(|settings| settings.theme == theme))
                        choose=Callback::new(move |()| change(keeper, |settings| settings.theme = theme))
                    />
                }).collect_view()}
            </div>
        </fieldset>
        <fieldset>
            <legend>{words::UNITS}</legend>
            <p class="fine">{words::UNITS_MORE}</p>
            <div class="choices">
                {units.map(|(word, units)| view! {
                    <Choice
                        group="units" word
                        is_chosen=Signal::derive(move || settings.with(|settings| settings.units == units))
                        choose=Callback::new(move |()| change(keeper, |settings| settings.units = units))
                    />
                }).collect_view()}
            </div>
        </fieldset>
        <fieldset>
            <legend>{super::words::test::TITLE}</legend>
            <label class="choice">
                <input
                    type="checkbox" aria-describedby="band-more"
                    prop:checked=move || settings.with(|settings| settings.show_band_first)
                    on:change=move |event| {
                        let shown = event_target_checked(&event);
                        change(keeper, |settings| settings.show_band_first = shown);
                    }
                />
                {words::BAND}
            </label>
            <p class="fine" id="band-more">{words::BAND_MORE}</p>
        </fieldset>
        <Letterhead/>
        <p class="fine">{words::KEPT}</p>
    }
}

fn change(keeper: Keeper, how: impl FnOnce(&mut Settings)) {
    let mut settings = keeper.settings.get_untracked();
    how(&mut settings);
    keeper.put_settings(settings);
}

#[component]
fn Choice(
    group: &'static str,
    #[prop(into)] word: String,
    is_chosen: Signal<bool>,
    choose: Callback<()>,
) -> impl IntoView {
    view! {
        <label class="choice">
            <input type="radio" name=group prop:checked=is_chosen on:change=move |_| choose.run(())/>
            {word}
        </label>
    }
}
