//! Sorting by one routine, whatever is sorted.
//!
//! The sort of the standard library is compiled anew for every kind of item, at five kilobytes each, and half a hundred kinds were a
//! twelfth of the page that comes over a weak signal. Here places are sorted instead of items, so there is one routine; the items then
//! move once. Where millions of numbers are sorted, the standard library's is called as it is.

use std::cmp::Ordering;

/// Sorts items as a comparison says; those that compare equal keep their order.
///
/// # Example
/// ```
/// let mut bores_m = [0.05, 0.02, 0.03];
/// numerics::order::sort_by(&mut bores_m, f64::total_cmp);
/// assert_eq!(bores_m, [0.02, 0.03, 0.05]);
/// ```
pub fn sort_by<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let mut places = sorted_places(items.len(), &|a, b| compare(&items[a], &items[b]));
    for start in 0..places.len() {
        let mut to = start;
        loop {
            let from = std::mem::replace(&mut places[to], to);
            if from == start {
                break;
            }
            items.swap(to, from);
            to = from;
        }
    }
}

/// Sorts items by a key of each; those of one key keep their order.
pub fn sort_by_key<T, K: Ord>(items: &mut [T], key: impl Fn(&T) -> K) {
    sort_by(items, |a, b| key(a).cmp(&key(b)));
}

/// Sorts numbers from low to high, with those that are no number at the ends.
pub fn sort_values(values: &mut [f64]) {
    values.sort_unstable_by(f64::total_cmp);
}

/// Lists the places of so many items in their order.
fn sorted_places(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut places: Vec<usize> = (0..count).collect();
    places.sort_by(|a, b| compare(*a, *b));
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn items_are_sorted_as_the_standard_library_sorts_them() {
        let draws = crate::random::Draws::new(7);
        for count in 0..200_usize {
            let items: Vec<(u64, usize)> = (0..count)
                .map(|place| (draws.at(place as u64).bits() % 16, place))
                .collect();
            let (mut ours, mut theirs) = (items.clone(), items);
            sort_by_key(&mut ours, |(key, _)| *key);
            theirs.sort_by_key(|(key, _)| *key);
            assert_eq!(ours, theirs, "{count} items");
        }
    }
}
