//! Does it fit: pots in the lid, pots in the bin, water under the rim, crowns above the water.

use super::Bin;
use super::table::Table;
use crate::finding::{Finding, Severity};
use crate::library::Library;
use crate::number::figures::{self, System};
use crate::science::vessel::Vessel;

/// Least room between the reserve line and the top-up ceiling (mm).
const ROOM: f64 = 5.0;

/// Rows along and across that hold `count` pots with the widest room for each.
pub(super) fn rows(vessel: &Vessel, count: u32) -> [u32; 2] {
    let Vessel::Box { rim: [length, width], .. } = vessel else { return [count.max(1), 1] };
    let room = |along: u32| {
        let across = count.div_ceil(along);
        (length / f64::from(along)).min(width / f64::from(across))
    };
    // The first of equals: fewer rows along the bin.
    let mut best = 1;
    for along in 2..=count {
        if room(along) > room(best) {
            best = along;
        }
    }
    [best, count.div_ceil(best)]
}

/// Room each pot has, centre to centre (mm); `None` if the lid's shape is not known.
pub(super) fn pitch(bin: &Bin) -> Option<f64> {
    let count = bin.pots();
    match &bin.vessel {
        Vessel::Box { rim: [length, width], .. } => {
            let [along, across] = bin.rows.map(f64::from);
            Some(1000.0 * (length / along).min(width / across))
        }
        Vessel::Round { rim, .. } if count == 1 => Some(1000.0 * rim),
        Vessel::Round { rim, .. } => {
            // On a ring as wide as the lid allows, neighbours are a chord apart.
            let ring = 1000.0 * rim - bin.pot.rim;
            Some(ring * libm::sin(std::f64::consts::PI / f64::from(count)))
        }
        Vessel::Measured(_) => None,
    }
}

/// Height of the pots' floor above the bin's floor (mm).
fn pot_bottom(bin: &Bin) -> f64 {
    bin.vessel.depth() - bin.lid_drop - (bin.pot.depth - bin.lid_thickness)
}

pub(super) fn check(table: &Table<'_>, bin: &Bin, library: &Library) {
    rim(table, bin);
    holes(table, bin);
    heights(table, bin, library);
    cube(table, bin);
    immersion(table, bin, library);
    spacing(table, bin, library);
}

fn mm(v: f64) -> String {
    format!("{} mm", figures::decimals(v, 0))
}

/// A bin that is narrower at its rim is rare, and two sizes are soon swapped.
fn rim(table: &Table<'_>, bin: &Bin) {
    let sides = match &bin.vessel {
        Vessel::Box { floor, rim, .. } => vec![(floor[0], rim[0]), (floor[1], rim[1])],
        Vessel::Round { floor, rim, .. } => vec![(*floor, *rim)],
        Vessel::Measured(_) => Vec::new(),
    };
    let Some((floor, rim)) = sides.into_iter().find(|(floor, rim)| rim < floor) else { return };
    let message = format!(
        "\"{}\" is narrower at its rim, {}, than at its floor, {}",
        bin.name,
        mm(1000.0 * rim),
        mm(1000.0 * floor)
    );
    let help =
        "most bins widen upwards; if `floor` and `rim` were swapped, all lines of it are wrong";
    let finding = Finding::new(Severity::Note, "narrow-rim", message, help);
    table.findings.add(finding.at(bin.place.clone(), "this bin"));
}

fn holes(table: &Table<'_>, bin: &Bin) {
    let [along, across] = bin.rows;
    if along * across < bin.pots() {
        let message = format!("{along} × {across} holes are fewer than the {} plants", bin.pots());
        table.error("holes-do-not-fit", &bin.place, message, "make more rows, or plant fewer");
        return;
    }
    let Some(pitch) = pitch(bin) else { return };
    if pitch < bin.pot.rim {
        let message = format!(
            "the pots do not fit the lid of \"{}\": each has {} and its rim needs {}",
            bin.name,
            mm(pitch),
            mm(bin.pot.rim)
        );
        let help = "use fewer plants, smaller pots or a larger bin";
        table.error("holes-do-not-fit", &bin.place, message, help);
    }
}

fn heights(table: &Table<'_>, bin: &Bin, library: &Library) {
    let (bottom, depth) = (pot_bottom(bin), bin.vessel.depth());
    // Between reserve and ceiling there must be room, or no top-up is possible.
    let limits = &library.limits;
    if bottom < limits.top_up_gap.value + limits.reserve_depth.value + ROOM {
        let message = format!(
            "the pots reach {} below the lid, but \"{}\" is only {} deep inside",
            mm(bin.pot.depth - bin.lid_thickness),
            bin.name,
            mm(depth - bin.lid_drop)
        );
        let help = "roots need room below the pot, more than 50 mm (2 in): use a deeper bin or \
                    shallower pots";
        table.error("pot-too-deep", &bin.place, message, help);
        return;
    }
    let start = bottom + bin.immersion;
    let brim = depth - bin.lid_drop.max(0.0);
    if start >= brim {
        let message = format!(
            "the start line of \"{}\" would stand {} high, but the water can only stand {}",
            bin.name,
            mm(start),
            mm(brim)
        );
        let help = "use a deeper pot or less immersion; check `lid-drop` and `lid-thickness`";
        table.error("start-above-rim", &bin.place, message, help);
    }
}

/// A cube stands inside its pot, at most a little above the rim.
fn cube(table: &Table<'_>, bin: &Bin) {
    let Some(cube) = bin.cube else { return };
    if cube.side > bin.pot.rim || cube.lift >= bin.pot.depth {
        let message = format!(
            "a cube of {}, {} above the floor, does not stand in a pot {} wide and {} deep",
            mm(cube.side),
            mm(cube.lift),
            mm(bin.pot.rim),
            mm(bin.pot.depth)
        );
        let help = "measure the cube, or take a wider pot";
        table.error("cube-too-big", &bin.place, message, help);
    }
}

fn immersion(table: &Table<'_>, bin: &Bin, library: &Library) {
    let crown = bin.cube.map_or(bin.pot.depth, |cube| cube.side + cube.lift);
    if bin.immersion >= crown {
        let message = format!(
            "the crowns in \"{}\" would stand in the solution: {} of it, crowns at {}",
            bin.name,
            mm(bin.immersion),
            mm(crown)
        );
        let help = "only the lower half inch or so of the pot is wet at first; lower `immersion`";
        table.error("crown-under-water", &bin.place, message, help);
        return;
    }
    let limits = &library.limits;
    let (least, most) = (limits.immersion_min.value, limits.immersion_max.value);
    if !(least..=most).contains(&bin.immersion) {
        let message = format!(
            "\"{}\" starts with {} of the pot in the solution; {} to {} is known to work",
            bin.name,
            mm(bin.immersion),
            mm(least),
            mm(most)
        );
        let help = "half an inch too low leaves the cube dry, half an inch too high drowns it";
        caution(table, bin, "immersion-unusual", message, help);
    }
}

/// A length in both systems: a caution is also printed.
fn both(mm: f64) -> String {
    figures::length(mm, System::Metric)
}

fn spacing(table: &Table<'_>, bin: &Bin, library: &Library) {
    let Some(pitch) = pitch(bin).filter(|_| bin.pots() > 1) else { return };
    let wanted = bin.plants.iter().map(|p| p.crop.spacing.low * 10.0).fold(0.0, f64::max);
    if pitch < library.limits.crowded_share.value * wanted {
        let message = format!(
            "the plants in \"{}\" stand {} apart; {} is usual",
            bin.name,
            both(pitch),
            both(wanted)
        );
        let help = "crowded plants stay small and shade each other; harvest young or plant fewer";
        caution(table, bin, "crowded", message, help);
    }
}

fn caution(table: &Table<'_>, bin: &Bin, code: &'static str, message: String, help: &str) {
    let finding = Finding::new(Severity::Caution, code, message, help);
    table.findings.add(finding.at(bin.place.clone(), "this bin"));
}
