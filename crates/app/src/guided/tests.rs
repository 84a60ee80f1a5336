use super::*;
use records::{Source, read_site};

fn is_sound(text: &str) -> records::Site {
    let source = Source {
        name: "site.toml".to_owned(),
        text: text.to_owned(),
    };
    match read_site(&source) {
        Ok(site) => site,
        Err(problems) => panic!("{problems:?}\n{text}"),
    }
}

fn filled(units: UnitSystem) -> (String, Form) {
    let text = new_site_text(units);
    let mut form = form_of(&text, units).unwrap();
    form.name = "Quarry \"Road\"".to_owned();
    for (question, number) in [
        (Question::TopSpeed, "3200"),
        (Question::LowestSpeed, ""),
        (Question::Volume, "18500"),
        (Question::Elevation, "210"),
        (Question::FilterPressure, "50"),
        (Question::HeaterFlow, "35"),
    ] {
        form.set_number(question, number);
    }
    form.filter = Asked::Here("cartridge".to_owned());
    form.pipes = [
        Asked::Here(PipeAnswer::Catalogue {
            spec: "PVC Sch 40".to_owned(),
            size: "2 in".to_owned(),
        }),
        Asked::Here(PipeAnswer::Bore(Measure {
            number: "41".to_owned(),
            unit: "mm".to_owned(),
        })),
    ];
    form.meters[0] = Asked::Here(MeterAnswer {
        kind: "paddle".to_owned(),
        accuracy: String::new(),
    });
    form.meters[3] = Asked::Here(MeterAnswer {
        kind: "gauge".to_owned(),
        accuracy: "0.5 psi".to_owned(),
    });
    (text, form)
}

#[test]
fn a_new_site_holds_what_was_answered_and_the_words_of_the_template() {
    for units in [UnitSystem::Us, UnitSystem::Si] {
        let (text, form) = filled(units);
        let written = edited(&text, &form).unwrap();
        let site = is_sound(&written);
        assert_eq!(site.name, "Quarry \"Road\"");
        assert_eq!(site.pump.speed.max.text, "3200 rpm");
        assert_eq!(site.pump.speed.min, None);
        assert_eq!(site.meters.len(), 2);
        assert_eq!(site.lines.len(), 2);
        assert!(
            written.contains("\n[water]\nvolume = \"18500 "),
            "{written}"
        );
        assert!(written.contains("# temperature ="), "{written}");
        assert!(written.contains("# from the label"), "{written}");
        assert_eq!(form_of(&written, units).as_ref(), Some(&form));
    }
}

#[test]
fn nothing_known_is_a_sound_site_too() {
    for units in [UnitSystem::Us, UnitSystem::Si] {
        let text = new_site_text(units);
        let mut form = form_of(&text, units).unwrap();
        form.name = "A".to_owned();
        let site = is_sound(&edited(&text, &form).unwrap());
        assert!(site.lines.iter().all(|line| line.parts.is_empty()));
    }
}

#[test]
fn what_is_not_changed_keeps_its_bytes() {
    let text = crate::demo::pad().site.text;
    let form = form_of(&text, UnitSystem::Us).unwrap();
    assert_eq!(edited(&text, &form).unwrap(), text);
    assert_eq!(form.pipes[1], Asked::InTheText);
}

#[test]
fn one_change_is_one_line() {
    let text = crate::demo::pad().site.text;
    let mut form = form_of(&text, UnitSystem::Us).unwrap();
    form.set_number(Question::Volume, "19000");
    assert_eq!(
        edited(&text, &form).unwrap(),
        text.replace("18500 gal", "19000 gal")
    );
}

#[test]
fn what_was_added_can_be_taken_out() {
    let (text, form) = filled(UnitSystem::Us);
    let written = edited(&text, &form).unwrap();
    let mut emptied = form;
    for question in [
        Question::Volume,
        Question::FilterPressure,
        Question::HeaterFlow,
    ] {
        emptied.set_number(question, "");
    }
    emptied.filter = Asked::Here(String::new());
    emptied.pipes = [
        Asked::Here(PipeAnswer::NotKnown),
        Asked::Here(PipeAnswer::NotKnown),
    ];
    emptied.meters = MeterSlot::ALL.map(|_| Asked::Here(MeterAnswer::default()));
    let bare = edited(&written, &emptied).unwrap();
    let site = is_sound(&bare);
    assert!(site.meters.is_empty() && site.water.volume.is_none());
    assert!(
        site.lines.iter().all(|line| line.parts.is_empty()),
        "{bare}"
    );
}

#[test]
fn a_text_that_is_no_toml_has_no_form() {
    assert_eq!(form_of("name = ", UnitSystem::Us), None);
}
