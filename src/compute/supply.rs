//! A steady supply from bins in turn: how many, how often to sow, and the calendar.

use jiff::civil::Date;

use super::fill::data;
use super::{Desk, GROW, dates, take};
use crate::number::unit::{DAY, NONE};
use crate::number::{Name, Origin, Pen};
use crate::plan::Bin;
use crate::science::supply::{BinsInTurn, SowingInterval};

/// One sowing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sowing {
    /// The day.
    pub sow: Date,
    /// Into the bin.
    pub set_out: Date,
    /// Cut.
    pub harvest: Date,
    /// Which of the bins in turn, from 1.
    pub bin: u32,
}

/// A steady supply.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// Plants in a bin.
    pub plants: u32,
    /// Bins in turn.
    pub bins: u32,
    /// Days from sowing to sowing.
    pub interval: f64,
    /// Seedlings in the tray at one time, at most.
    pub tray: u32,
    /// The calendar.
    pub sowings: Vec<Sowing>,
}

/// Works the supply, if the plan wants one.
pub(super) fn work(desk: &Desk<'_>) -> Option<Supply> {
    let wish = desk.plan.supply.as_ref()?;
    let sheet = desk.sheet;
    sheet.about(GROW);
    sheet.part("Sowing in turn");
    // A bin of the plan that grows nothing else; otherwise six to a bin.
    let only = |b: &&Bin| b.plants.len() == 1 && b.plants[0].crop.name == wish.crop.name;
    let plants = desk.plan.bins.iter().find(only).map_or(6, Bin::pots);
    let crop = &wish.crop;
    let middle = |span: &crate::library::Span| f64::midpoint(span.low, span.high).round();
    let (tray, stands) = (middle(&crop.sow_to_set_out), middle(&crop.set_out_to_harvest));
    let turnaround = &desk.library.limits.turnaround;
    let week = take(sheet, "w", "days in a week", 7.0, DAY, Origin::Data("plain-arithmetic", ""));
    let n = take(sheet, "n", "plants in a bin", f64::from(plants), NONE, Origin::Plan);
    let heads = take(sheet, "h", "heads a week", wish.heads, NONE, Origin::Plan);
    let name = Name::new("sowing-interval", "t", "Days from sowing to sowing");
    let interval = sheet.work(&name, SowingInterval { week, plants: n, heads });
    let what = "set-out to harvest, and to make the bin ready again";
    let taken = take(sheet, "d", what, stands + turnaround.value, DAY, data(turnaround));
    let name = Name::new("bins-in-turn", "n_bin", "Bins in turn");
    let bins = sheet.work(&name, BinsInTurn { taken, interval }).number();
    let bins = (1..=1000).find(|n| f64::from(*n) >= bins - 1e-9).unwrap_or(1000);
    let interval = interval.number();
    let at_once = (1..=10_000).find(|n| f64::from(*n) >= tray / interval - 1e-9).unwrap_or(1);
    let days = 7.0 * f64::from(wish.weeks);
    let sowing = |i: u32| {
        let sow = dates::after(wish.from, (f64::from(i) * interval).round());
        let set_out = dates::after(sow, tray);
        let harvest = dates::after(set_out, stands);
        Sowing { sow, set_out, harvest, bin: i % bins + 1 }
    };
    let sowings = (0..200).take_while(|i| f64::from(*i) * interval < days).map(sowing).collect();
    Some(Supply { plants, bins, interval, tray: plants * at_once, sowings })
}
