//! The days of a bin: roots, set-out, checks, harvest. Windows, not promises.

use jiff::ToSpan;
use jiff::civil::Date;

use crate::library::{Crop, Harvest};
use crate::plan::{Bin, Checks};

/// The days of a bin.
#[derive(Debug, Clone, PartialEq)]
pub struct Dates {
    /// Sowing, or setting of cuttings.
    pub sown: Date,
    /// When roots may show below the cube: from, to.
    pub roots: [Date; 2],
    /// When the first roots may show, of the crop that roots first; the slowest decides.
    pub first_roots: Date,
    /// Set-out to plan with; the sign at the root decides.
    pub set_out: Date,
    /// First harvest: from, to.
    pub harvest: [Date; 2],
    /// Last day of picking.
    pub end: Date,
    /// Days from set-out to the end.
    pub days: u32,
    /// Days on which the bin is looked at, the set-out first.
    pub checks: Vec<Date>,
}

/// Works out the days of a bin that is looked at so often.
#[must_use]
pub fn dates(bin: &Bin, checks: &Checks) -> Dates {
    let most =
        |days: fn(&Crop) -> f64| bin.plants.iter().map(|p| days(&p.crop)).fold(0.0, f64::max);
    let least = |days: fn(&Crop) -> f64| {
        bin.plants.iter().map(|p| days(&p.crop)).fold(f64::INFINITY, f64::min)
    };
    // Plants of one bin move together, so the slowest to root decides.
    let (early, late) = (most(|c| c.sow_to_set_out.low), most(|c| c.sow_to_set_out.high));
    let roots = [after(bin.sown, early), after(bin.sown, late)];
    let set_out = bin.set_out.unwrap_or_else(|| after(bin.sown, f64::midpoint(early, late)));
    let first_roots = after(bin.sown, least(|c| c.sow_to_set_out.low)).min(roots[0]);
    let harvest = [
        after(set_out, least(|c| c.set_out_to_harvest.low)),
        after(set_out, most(|c| c.set_out_to_harvest.high)),
    ];
    let length = most(season_days);
    let end = after(set_out, length);
    let days = whole(length);
    Dates {
        sown: bin.sown,
        roots,
        first_roots,
        set_out,
        harvest,
        end,
        days,
        checks: check_days(set_out, end, checks),
    }
}

/// Days a crop stands in the bin at the longest.
#[must_use]
pub fn season_days(crop: &Crop) -> f64 {
    (crop.set_out_to_harvest.high + crop.pick_for.high).max(1.0)
}

/// Share of its days at which the leaves of a crop cover their ground: at the end for what is cut
/// whole, unless the crop says otherwise; at the first harvest for what is picked again.
#[must_use]
pub fn full_cover(crop: &Crop) -> f64 {
    let first = f64::midpoint(crop.set_out_to_harvest.low, crop.set_out_to_harvest.high);
    match (&crop.full_cover, crop.harvest) {
        (Some(at), _) => at.value.clamp(0.05, 1.0),
        (None, Harvest::Once) => 1.0,
        (None, Harvest::Repeated) => (first / season_days(crop)).clamp(0.05, 1.0),
    }
}

/// The same weekdays every week, from set-out to the end.
fn check_days(set_out: Date, end: Date, checks: &Checks) -> Vec<Date> {
    let week: &[i32] = match checks {
        Checks::AWeek(1) => &[0],
        Checks::AWeek(3) => &[0, 2, 4],
        Checks::AWeek(7) => &[0, 1, 2, 3, 4, 5, 6],
        Checks::AWeek(_) => &[0, 3],
        Checks::On(weekdays) => {
            // Each bin begins with its set-out, whatever day that is.
            let days = (0..).map_while(|d: i32| set_out.checked_add(d.days()).ok());
            let days = days.take_while(|day| *day <= end);
            return days.filter(|d| *d == set_out || weekdays.contains(&d.weekday())).collect();
        }
    };
    let days = (0..).flat_map(|w| week.iter().map(move |d| 7 * w + d));
    let days = days.map_while(|d| set_out.checked_add(d.days()).ok());
    days.take_while(|day| *day <= end).collect()
}

fn whole(days: f64) -> u32 {
    let days = days.round().clamp(0.0, 4000.0);
    // Clamped to a small whole number, so nothing is lost.
    (0..=4000).find(|n| f64::from(*n) >= days).unwrap_or(4000)
}

/// The day `days` later, or the last day of the calendar.
#[must_use]
pub fn after(day: Date, days: f64) -> Date {
    day.saturating_add(i64::from(whole(days)).days())
}

/// A day as findings tell it: "7 Mar 2027".
#[must_use]
pub fn told(day: Date) -> String {
    day.strftime("%-d %b %Y").to_string()
}
