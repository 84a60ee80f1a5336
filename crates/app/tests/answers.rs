//! The answer of the page: the numbers of the command, figures for both sizes, and where a number comes from.

use app::answer::answer;
use app::demo;
use app::origin::Origin;
use charts::Size;
use document::content::Block;
use fieldtest::Question;

#[test]
fn figures_come_in_both_sizes_and_carry_no_style() {
    let figures = answer(&demo::pad(), None, records::Language::English)
        .unwrap()
        .figures(&["flow", "power", "energy", "head"]);
    assert!(
        figures
            .iter()
            .any(|figure| figure.name == "2026-05-16-flow")
    );
    for figure in &figures {
        for size in Size::ALL {
            let svg = figure.svg(size).unwrap();
            assert!(svg.starts_with(charts::OPENING), "{}", figure.name);
            assert!(!svg.contains("style"), "{}", figure.name);
        }
        assert!(!figure.description.is_empty());
    }
}

#[test]
fn a_number_tells_where_it_comes_from() {
    let answered = answer(&demo::pad(), None, records::Language::English).unwrap();
    let law = |speed_rpm| Origin::Law {
        test: 1,
        question: Question::Flow(speed_rpm),
    };
    let from = answered.where_from(&law(2000.0)).unwrap();
    assert!(
        matches!(&from.blocks[0], Block::Title(title) if title.starts_with("Flow at 2000 rpm"))
    );
    assert!(from.method.formula.contains("N₀"));
    assert!(from.readings.iter().all(|read| read.column == "flow A"));
    // The last test has a slip of the decimal point in line 9.
    let line_9 = from.readings.iter().find(|read| read.row == 9).unwrap();
    assert!(!line_9.used);
    assert_eq!(from.readings.len(), 11);
    assert!(answered.where_from(&law(9000.0)).is_none());
}
