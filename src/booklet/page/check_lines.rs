//! Upright lines of a forecast, one for each day on which the level is looked at, and their dates.

use jiff::ToSpan;
use jiff::civil::Date;

/// Marks along the bottom.
pub(super) struct Marked {
    /// Upright lines and their dates.
    pub(super) ticks: Vec<(f64, String)>,
    /// Short marks.
    pub(super) feet: Vec<f64>,
    /// What they are.
    pub(super) across: &'static str,
}

/// Least space between two upright lines, and between two dates (mm).
const SPACES: [f64; 2] = [1.8, 12.8];

/// A line for every check day; where they would be a hatching, a line a week and a short mark for
/// every check day. Dates stand under nearly all lines, or else under the weekday of the first check.
pub(super) fn marked(from: Date, mut planned: Vec<f64>, most: f64, width: f64) -> Marked {
    planned.retain(|x| *x > 0.0 && *x <= most);
    planned.sort_by(f64::total_cmp);
    planned.dedup();
    let first = planned.first().copied().unwrap_or(0.0);
    let weekly = |x: &f64| (*x - first) % 7.0 == 0.0;
    let size = width / most;
    let crowded = (1..planned.len()).fold(SPACES[0], |all, _| all + SPACES[0]) > width;
    let (lines, feet): (Vec<f64>, Vec<f64>) =
        planned.into_iter().partition(|x| !crowded || weekly(x));
    // As many weeks from date to date as give them room.
    let weeks = (SPACES[1] / (7.0 * size)).ceil().max(1.0);
    let dated = |x: f64| {
        let week = (x - first) / 7.0;
        weekly(&x) && (x * size >= SPACES[1]) && (week - later(first, size)) % weeks == 0.0
    };
    // The last one too, rather than one that is too near before it.
    let last = lines.last().copied().filter(|x| *x >= most);
    let near = |x: f64| last.is_some_and(|last| x < last && (last - x) * size < SPACES[1]);
    let all = roomy_ones(&lines, last, SPACES[1] / size);
    let most_have_room = 4 * all.len() >= 3 * lines.len();
    let label = |x: f64| {
        let day = from.saturating_add(whole(x).days());
        let has_room = if most_have_room { all.contains(&x) } else { dated(x) && !near(x) };
        let shown = x == 0.0 || has_room || Some(x) == last;
        (x, if shown { day.strftime("%-d %b").to_string() } else { String::new() })
    };
    let across = if crowded {
        "Check days; a mark for each, a line every week"
    } else {
        "Check days; a line for each"
    };
    Marked { ticks: [0.0].into_iter().chain(lines).map(label).collect(), feet, across }
}

/// Lines whose dates have `room` (d) beside the one before, and before the last.
fn roomy_ones(lines: &[f64], last: Option<f64>, room: f64) -> Vec<f64> {
    let mut all: Vec<f64> = Vec::new();
    for &x in lines {
        let before = all.last().copied().unwrap_or(0.0);
        let ends = last.is_none_or(|last| x >= last || last - x >= room);
        if x - before >= room && ends {
            all.push(x);
        }
    }
    all
}

/// Weeks after the first check until there is room beside the date of the first day.
fn later(first: f64, size: f64) -> f64 {
    ((SPACES[1] / size - first) / 7.0).ceil().max(0.0)
}

/// A count of days, which is whole.
fn whole(days: f64) -> i64 {
    (0..4000_i32).find(|n| f64::from(*n) >= days).map_or(0, i64::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Dates of lines on so many days after 10 March 2027, on a field so wide (mm).
    fn dates(days: &[f64], width: f64) -> Vec<String> {
        let most = days[days.len() - 1];
        let from = Date::constant(2027, 3, 10);
        let ticks = marked(from, days.to_vec(), most, width).ticks;
        ticks.into_iter().map(|(_, date)| date).filter(|date| !date.is_empty()).collect()
    }

    #[test]
    fn every_line_that_has_room_has_its_date() {
        let twice_a_week = [1.0, 5.0, 8.0, 12.0, 15.0, 19.0, 22.0, 26.0];
        let all = ["10 Mar", "15 Mar", "18 Mar", "22 Mar", "25 Mar", "29 Mar", "1 Apr", "5 Apr"];
        assert_eq!(dates(&twice_a_week, 130.0), all);
    }

    #[test]
    fn where_few_have_room_dates_are_of_one_weekday() {
        let twice_a_week = [1.0, 5.0, 8.0, 12.0, 15.0, 19.0, 22.0, 26.0];
        assert_eq!(dates(&twice_a_week, 60.0), ["10 Mar", "18 Mar", "25 Mar", "5 Apr"]);
    }
}
