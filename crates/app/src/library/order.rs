//! The order of lists, and what a search finds.

use super::{Head, Library, Moment, SiteRecord};

/// Lists the sites that are not deleted, the one first that was worked at last: on its own text or on a test of it.
pub fn by_last_change(library: &Library) -> Vec<&SiteRecord> {
    let heads = library.heads();
    let mut sites: Vec<(&SiteRecord, Moment)> = library
        .sites
        .iter()
        .filter(|site| site.deleted.is_none())
        .map(|site| (site, last_change(&heads, site)))
        .collect();
    numerics::order::sort_by(&mut sites, |(a, of_a), (b, of_b)| {
        of_b.cmp(of_a)
            .then_with(|| a.name.cmp(&b.name))
            .then_with(|| a.id.cmp(&b.id))
    });
    sites.into_iter().map(|(site, _)| site).collect()
}

fn last_change(heads: &[Head<'_>], site: &SiteRecord) -> Moment {
    let of_site = heads.iter().filter(|test| *test.site_id == site.id);
    of_site
        .map(|test| test.changed)
        .fold(site.changed, Moment::max)
}

/// How far a clock may lie behind what is kept before it is said to be wrong: a day, for time zones and travel.
const BEHIND_MS: u64 = 24 * 60 * 60 * 1000;

/// The moment of the last change, where the clock stands long before it: then the clock is wrong now, or was then.
pub fn beyond_the_clock(library: &Library, now: Moment) -> Option<Moment> {
    let sites = library.sites.iter().map(|site| site.changed);
    let tests = library.heads().into_iter().map(|test| test.changed);
    let last = sites.chain(tests).max()?;
    (last.0 > now.0.saturating_add(BEHIND_MS)).then_some(last)
}

/// Lists the sites, as [`by_last_change`] does, whose name or the name of a test of which has every word of a search.
/// Capitals and the marks on letters do not count.
pub fn found<'l>(library: &'l Library, search: &str) -> Vec<&'l SiteRecord> {
    let words: Vec<String> = search.split_whitespace().map(folded).collect();
    let heads = library.heads();
    let has_all = |site: &&SiteRecord| {
        let tests = heads.iter();
        let tests = tests.filter(|test| *test.site_id == site.id && test.deleted.is_none());
        let names = tests.map(|test| test.name);
        let all: Vec<String> = std::iter::once(site.name.as_str())
            .chain(names)
            .map(folded)
            .collect();
        words
            .iter()
            .all(|word| all.iter().any(|name| name.contains(word)))
    };
    by_last_change(library)
        .into_iter()
        .filter(has_all)
        .collect()
}

/// A text without capitals and without the marks on the letters of western languages.
pub(super) fn folded(text: &str) -> String {
    let plain = |c: char| match c {
        'á' | 'à' | 'â' | 'ä' | 'ã' | 'å' => 'a',
        'é' | 'è' | 'ê' | 'ë' => 'e',
        'í' | 'ì' | 'î' | 'ï' => 'i',
        'ó' | 'ò' | 'ô' | 'ö' | 'õ' | 'ø' => 'o',
        'ú' | 'ù' | 'û' | 'ü' => 'u',
        'ñ' => 'n',
        'ç' => 'c',
        other => other,
    };
    text.to_lowercase().chars().map(plain).collect()
}
