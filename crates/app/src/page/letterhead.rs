//! Whose reports are handed over: the fields of the profile, its logo, and the file that the command reads. What is wrong is
//! told and not kept.

use super::browser;
use super::importing::chosen_files;
use super::keeper::keeper;
use super::report::OneOf;
use super::words::report as words;
use super::words::result::problem as told;
use app::letterhead::{Field, KeptProfile, PROFILE_FILE, imported};
use leptos::ev;
use leptos::prelude::*;
use records::{MAX_LOGO_BYTES, Problem};

/// What an edit makes of the profile.
type Edited = Result<KeptProfile, Vec<Problem>>;

/// The form.
#[component]
pub(super) fn Letterhead() -> impl IntoView {
    let keeper = keeper();
    let profile = Memo::new(move |_| {
        let profile = keeper.settings.with(|settings| settings.profile.clone());
        profile.unwrap_or_default()
    });
    let problem = RwSignal::new(None::<String>);
    let keep = Callback::new(move |edited: Edited| match edited {
        Ok(new) => {
            problem.set(None);
            let mut settings = keeper.settings.get_untracked();
            settings.profile = Some(new);
            keeper.put_settings(settings);
        }
        Err(problems) => problem.set(problems.first().map(told)),
    });
    let language = RwSignal::new(profile.with_untracked(|kept| kept.shown(Field::Language)));
    Effect::new(move |before: Option<()>| {
        let tag = language.get();
        if before.is_some() {
            keep.run(profile.with_untracked(|kept| kept.with(Field::Language, &tag)));
        }
    });
    let take = move |event: ev::Event| {
        chosen_files(&event, None, move |files| keep.run(imported(&files)));
    };
    let give = move |_| {
        let kept = profile.get_untracked();
        browser::download(PROFILE_FILE, kept.text.as_bytes(), "text/plain");
        if let Some((name, logo)) = kept.logo() {
            browser::download(&name, &logo.bytes, logo.kind.media_type());
        }
    };
    view! {
        <fieldset>
            <legend>{words::BUSINESS}</legend>
            <p class="fine">{words::BUSINESS_MORE}</p>
            <TextField of=Field::Business profile keep/>
            <TextField of=Field::Licence profile keep/>
            <TextField of=Field::Technician profile keep/>
            <TextField of=Field::Contact profile keep/>
            <OneOf id="profile-language" label=words::REPORT_LANGUAGE of=words::profile_languages() chosen=language/>
            <LogoField profile keep/>
            {move || problem.get().map(|why| view! { <p class="problem" role="alert">{why}</p> })}
            <details>
                <summary>{words::PROFILE_FILE}</summary>
                <p class="fine" id="profile-file-more">{words::PROFILE_FILE_MORE}</p>
                <label for="profile-file">{words::PROFILE_TAKE}</label>
                <input
                    id="profile-file" type="file" multiple accept=".toml,.png,.jpg,.jpeg,.svg"
                    aria-describedby="profile-file-more" on:change=take
                />
                <div class="actions"><button type="button" on:click=give>{words::PROFILE_GIVE}</button></div>
            </details>
        </fieldset>
    }
}

/// A field of words.
#[component]
fn TextField(of: Field, profile: Memo<KeptProfile>, keep: Callback<Edited>) -> impl IntoView {
    let id = format!("profile-{}", of.key());
    let shown = move || profile.with(|kept| kept.shown(of));
    let typed = move |event: ev::Event| {
        let said = event_target_value(&event);
        keep.run(profile.with_untracked(|kept| kept.with(of, &said)));
    };
    let field = if of == Field::Contact {
        view! { <textarea id=id.clone() class="prose" rows="3" prop:value=shown on:change=typed></textarea> }
            .into_any()
    } else {
        view! { <input id=id.clone() type="text" autocomplete="off" maxlength="80" prop:value=shown on:change=typed/> }
            .into_any()
    };
    view! { <div class="field"><label for=id>{words::field(of)}</label>{field}</div> }
}

/// The logo: shown where there is one, and changed by choosing a picture.
#[component]
fn LogoField(profile: Memo<KeptProfile>, keep: Callback<Edited>) -> impl IntoView {
    let choose = move |event: ev::Event| {
        chosen_files(&event, Some(MAX_LOGO_BYTES), move |files| {
            let Some((name, bytes)) = files.into_iter().next() else {
                return;
            };
            keep.run(profile.with_untracked(|kept| kept.with_logo(&name, bytes)));
        });
    };
    let away = move |_| keep.run(profile.with_untracked(KeptProfile::without_logo));
    let picture = move || {
        let kept = profile.get();
        let (name, logo) = kept.logo()?;
        let address = format!(
            "data:{};base64,{}",
            logo.kind.media_type(),
            kept.logo.unwrap_or_default()
        );
        Some(view! {
            <p class="logo"><img src=address alt=words::LOGO/> {name}</p>
            <div class="actions"><button type="button" on:click=away>{words::LOGO_AWAY}</button></div>
        })
    };
    view! {
        <div class="field">
            <label for="profile-logo">{words::LOGO}</label>
            <p class="fine" id="logo-more">{words::LOGO_MORE}</p>
            <input
                id="profile-logo" type="file" accept="image/png,image/jpeg"
                aria-describedby="logo-more" on:change=choose
            />
            {picture}
        </div>
    }
}
