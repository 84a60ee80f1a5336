//! What is likely to be tried out next: the places beside those where the sliders stand. The worker works them out while nobody
//! waits, so that the verdict is there when a slider moves.

use super::{Choice, FilterState, Sliders};

/// Lists the choices that differ in the place of one slider, the nearest places first.
pub fn neighbours(choice: &Choice, can: &Sliders) -> Vec<Choice> {
    if choice.kept.is_some() {
        return Vec::new();
    }
    let place = choice
        .bore
        .as_ref()
        .and_then(|bore| can.sizes.iter().position(|size| size == bore));
    let place = place.unwrap_or(can.size_today);
    let bores = can.sizes.iter().enumerate().map(|(at, size)| {
        let bore = (at != can.size_today).then(|| size.clone());
        let choice = Choice {
            bore,
            ..choice.clone()
        };
        (at.abs_diff(place), choice)
    });
    let state = FilterState::ALL
        .iter()
        .position(|state| *state == choice.filter);
    let state = state.unwrap_or_default();
    let filters = FilterState::ALL.iter().enumerate().map(|(at, filter)| {
        let choice = Choice {
            filter: *filter,
            ..choice.clone()
        };
        (at.abs_diff(state), choice)
    });
    let filters = filters.filter(|_| can.has_filter);
    let mut all: Vec<(usize, Choice)> = bores.chain(filters).collect();
    numerics::order::sort_by_key(&mut all, |(far, _)| *far);
    let all = all.into_iter().filter(|(far, _)| *far > 0);
    all.map(|(_, choice)| choice).collect()
}
