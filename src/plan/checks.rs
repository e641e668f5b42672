//! When the bins are looked at: so often a week, or on days of the week.

use jiff::civil::Weekday;

use super::table::{Placed, Table};
use crate::finding::meant;

/// When bins are looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Checks {
    /// So many times a week, 1, 2, 3 or 7, the set-out first.
    AWeek(u8),
    /// On these days of the week.
    On(Vec<Weekday>),
}

/// Days of the week by their names.
const WEEK: [(&str, Weekday); 7] = [
    ("mon", Weekday::Monday),
    ("tue", Weekday::Tuesday),
    ("wed", Weekday::Wednesday),
    ("thu", Weekday::Thursday),
    ("fri", Weekday::Friday),
    ("sat", Weekday::Saturday),
    ("sun", Weekday::Sunday),
];

/// A day of the week as a plan names it.
pub(crate) fn short_name(day: Weekday) -> &'static str {
    WEEK.into_iter().find(|(_, known)| *known == day).map_or("", |(name, _)| name)
}

pub(super) fn read(root: &Table<'_>) -> Checks {
    let days = root.texts("check-days", 7, "[\"mon\", \"thu\"]");
    if root.has("check-days")
        && let Some(often) = root.count("checks-a-week", 7)
    {
        let message = "say either `check-days` or `checks-a-week`".to_string();
        root.error("counted-twice", &often.place, message, "the days tell how often, too");
    }
    let mut on: Vec<Weekday> = days.iter().filter_map(|day| weekday(root, day)).collect();
    if on.is_empty() {
        return Checks::AWeek(a_week(root));
    }
    on.sort_by_key(|day| day.to_monday_zero_offset());
    on.dedup();
    Checks::On(on)
}

/// A day by the first three letters of its name.
fn weekday(root: &Table<'_>, day: &Placed<String>) -> Option<Weekday> {
    let text = day.value.to_lowercase();
    let found = WEEK.iter().find(|(name, _)| text.get(..3) == Some(*name));
    if found.is_none() {
        let names = WEEK.map(|(name, _)| name);
        let guess = meant(&text, names);
        let guess = guess.map_or(String::new(), |g| format!("did you mean \"{g}\"? "));
        let message = format!("\"{}\" is no day of the week", day.value);
        let help = format!("{guess}it may be {}", names.join(", "));
        root.error("unknown-word", &day.place, message, &help);
    }
    found.map(|(_, day)| *day)
}

fn a_week(root: &Table<'_>) -> u8 {
    let Some(found) = root.count("checks-a-week", 7) else { return 2 };
    match found.value {
        1 => 1,
        2 => 2,
        3 => 3,
        7 => 7,
        n => {
            let message = format!("{n} checks a week do not fall on fixed weekdays");
            let help = "write 1, 2, 3 or 7; or name the days: check-days = [\"mon\", \"thu\"]";
            root.error("unknown-word", &found.place, message, help);
            2
        }
    }
}
