//! What a person keeps of a site beside its text: whether it is put away, which visit the others are held against, and when
//! to come back.

use super::{Id, Moment};
use serde::{Deserialize, Serialize};

/// What a person keeps of a site beside its text.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Care {
    /// When it was put away: it is kept, and out of the list.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub archived: Option<Moment>,
    /// The test that the others are held against; `None` for the earliest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub baseline: Option<Id>,
    /// The day on which the person means to be back, such as `2027-03-01`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub return_on: Option<String>,
    /// The day on which the filter will ask to be cleaned, as the visits last said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub filter_due: Option<String>,
}

impl Care {
    /// Whether there is nothing to keep.
    pub fn is_none(&self) -> bool {
        *self == Self::default()
    }
}

/// When to come back, and why.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Due {
    /// The person has set the day.
    Set {
        /// The day.
        day: String,
        /// Whether it has come.
        has_come: bool,
    },
    /// The filter asks for it.
    Filter {
        /// The day.
        day: String,
        /// Whether it has come.
        has_come: bool,
    },
}

impl Due {
    /// Whether the day has come.
    pub fn has_come(&self) -> bool {
        match self {
            Self::Set { has_come, .. } | Self::Filter { has_come, .. } => *has_come,
        }
    }
}

/// Says when to come back to a site: on the day that the person set, or where none is set, when the filter asks for it.
///
/// # Inputs
/// `today`, as `2026-11-28`.
pub fn due(care: &Care, today: &str) -> Option<Due> {
    let has_come = |day: &str| day <= today;
    if let Some(day) = care.return_on.clone().filter(|day| is_day(day)) {
        let has_come = has_come(&day);
        return Some(Due::Set { day, has_come });
    }
    let day = care.filter_due.clone().filter(|day| is_day(day))?;
    let has_come = has_come(&day);
    Some(Due::Filter { day, has_come })
}

/// Whether a text is a day of the calendar: days so written are in the order of time.
pub fn is_day(text: &str) -> bool {
    let mut parts = text.split('-');
    let mut number = |digits: usize| {
        let part = parts.next()?;
        let is_number = part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit());
        is_number.then(|| part.parse::<u32>().ok())?
    };
    let day = (number(4), number(2), number(2));
    let (Some(_), Some(1..=12), Some(1..=31)) = day else {
        return false;
    };
    parts.next().is_none()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn care(return_on: Option<&str>, filter_due: Option<&str>) -> Care {
        Care {
            return_on: return_on.map(str::to_owned),
            filter_due: filter_due.map(str::to_owned),
            ..Care::default()
        }
    }

    #[test]
    fn a_day_that_a_person_set_outweighs_what_the_filter_says() {
        let today = "2026-11-28";
        let set = due(&care(Some("2026-11-29"), Some("2026-10-01")), today);
        let day = "2026-11-29".to_owned();
        let has_come = false;
        assert_eq!(set, Some(Due::Set { day, has_come }));
        let by_filter = due(&care(None, Some("2026-11-28")), today).unwrap();
        assert!(matches!(by_filter, Due::Filter { .. }) && by_filter.has_come());
        assert_eq!(due(&care(Some("soon"), None), today), None);
        assert_eq!(due(&Care::default(), today), None);
    }

    #[test]
    fn days_are_written_one_way() {
        for (text, is) in [
            ("2026-11-28", true),
            ("2026-1-28", false),
            ("2026-13-01", false),
            ("2026-12-32", false),
            ("2026-12-01-01", false),
            ("", false),
        ] {
            assert_eq!(is_day(text), is, "{text}");
        }
    }

    #[test]
    fn what_is_not_kept_takes_no_room_and_older_records_have_none() {
        assert_eq!(serde_json::to_string(&Care::default()).unwrap(), "{}");
        let care: Care = serde_json::from_str("{}").unwrap();
        assert!(care.is_none());
    }
}
