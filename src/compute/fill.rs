//! Lines and litres of a bin: start line, ceiling, reserve line.

use super::take;
use crate::library::{Fact, Library};
use crate::number::unit::{METRE, MILLIMETRE, NONE};
use crate::number::{Name, Origin, Pen, Sheet, Traced};
use crate::plan::Bin;
use crate::science::shape::{DiameterAt, FrustumVolume, LevelPerLitre};
use crate::science::vessel::{Line, LineNames, pi};
use crate::science::water::{
    Between, Ceiling, Displaced, PotBottom, ReserveLine, ShareOf, StartLine,
};

/// Lines (mm above the floor) and litres of a bin.
#[derive(Debug, Clone, PartialEq)]
pub struct Fill {
    /// Floor of the pots (mm).
    pub pot_bottom: f64,
    /// First filling (mm).
    pub start: f64,
    /// Highest top-up (mm).
    pub ceiling: f64,
    /// Lowest level to plan for (mm).
    pub reserve: f64,
    /// Solution to the start line (L).
    pub start_volume: f64,
    /// Solution to the ceiling (L).
    pub ceiling_volume: f64,
    /// Solution to the reserve line (L).
    pub reserve_volume: f64,
    /// Between start and reserve line (L).
    pub usable: f64,
    /// Fall of the level per litre at the start, ceiling and reserve line (mm/L).
    pub per_litre: [f64; 3],
    /// Inside depth (mm).
    pub depth: f64,
    /// Underside of the lid (mm).
    pub lid: f64,
}

impl Fill {
    /// Halfway between ceiling and reserve line: a bin that would not last is topped up from here (mm).
    #[must_use]
    pub fn halfway(&self) -> f64 {
        f64::midpoint(self.ceiling, self.reserve)
    }
}

/// A fill with the numbers later steps go on from.
#[derive(Debug, Clone)]
pub struct Worked<'s> {
    /// In plain numbers.
    pub plain: Fill,
    /// Solution to the start line.
    pub start_volume: Traced<'s>,
    /// Between start and reserve line.
    pub usable: Traced<'s>,
}

pub(super) fn data(fact: &Fact) -> Origin<'_> {
    Origin::Data(&fact.source, &fact.at)
}

/// Works the lines of a bin.
pub fn work<'s>(sheet: &'s Sheet, bin: &Bin, library: &Library) -> Worked<'s> {
    sheet.part("Lines and litres of the bins");
    let pot_bottom = pot_bottom(sheet, bin, library);
    let immersion = immersion(sheet, bin, library);
    let name = Name::new("start-line", "h_start", "Start line above the floor");
    let start = sheet.work(&name, StartLine { pot_bottom, immersion });
    let gap = &library.limits.top_up_gap;
    let gap = take(sheet, "g", "air kept under the pot", gap.value, MILLIMETRE, data(gap));
    let name = Name::new("ceiling", "h_top", "Top-up ceiling above the floor");
    let ceiling = sheet.work(&name, Ceiling { pot_bottom, gap });
    let floor = bin.vessel.work_floor(sheet);
    let at_start = line(sheet, bin, floor, start, &START);
    let displaced = displaced(sheet, bin, library);
    let name = Name::new("start-volume", "V_start", "Solution to the start line");
    let start_volume = match displaced {
        Some(below) => sheet.work(&name, Between { above: at_start.volume, below }),
        None => at_start.volume,
    };
    let at_ceiling = line(sheet, bin, floor, ceiling, &CEILING);
    let reserve = reserve(sheet, bin, library, floor, start_volume);
    let at_reserve = line(sheet, bin, floor, reserve, &RESERVE);
    let name = Name::new("usable-volume", "V_use", "Litres between start and reserve line");
    let usable = sheet.work(&name, Between { above: start_volume, below: at_reserve.volume });
    let lines = [(&at_start, &START), (&at_ceiling, &CEILING), (&at_reserve, &RESERVE)];
    let per_litre = lines.map(|(line, names)| per_litre(sheet, line, names));
    let depth = bin.vessel.depth();
    let plain = Fill {
        pot_bottom: pot_bottom.number(),
        start: start.number(),
        ceiling: ceiling.number(),
        reserve: reserve.number(),
        start_volume: start_volume.number(),
        ceiling_volume: at_ceiling.volume.number(),
        reserve_volume: at_reserve.volume.number(),
        usable: usable.number(),
        per_litre,
        depth,
        lid: depth - bin.lid_drop,
    };
    Worked { plain, start_volume, usable }
}

fn per_litre(sheet: &Sheet, line: &Line<Traced<'_>>, names: &LineNames) -> f64 {
    let name = Name::new("level-per-litre", "m", "Fall of the level per litre").of(names.item);
    sheet.work(&name, LevelPerLitre { area: line.area }).number()
}

/// Depth of the pots in the solution on the first day.
fn immersion<'s>(sheet: &'s Sheet, bin: &Bin, library: &Library) -> Traced<'s> {
    let usual = &library.limits.immersion_default;
    let from = chosen(bin.immersion, usual.value, data(usual));
    take(sheet, "i", "depth of pot in the solution at first", bin.immersion, MILLIMETRE, from)
}

const START: LineNames = LineNames { item: "start line", volume: "V_0", area: "A" };
const CEILING: LineNames = LineNames { item: "ceiling", volume: "V_top", area: "A" };
const RESERVE: LineNames = LineNames { item: "reserve line", volume: "V_res", area: "A" };

/// The floor's area, if the shape has one.
type Floor<'s> = Option<Traced<'s>>;

fn line<'s>(
    sheet: &'s Sheet,
    bin: &Bin,
    floor: Floor<'s>,
    h: Traced<'s>,
    names: &LineNames,
) -> Line<Traced<'s>> {
    bin.vessel.work_line(sheet, floor, h, h.number(), names)
}

/// Where a number comes from that is as usual unless the plan says otherwise.
fn chosen(value: f64, usual: f64, from: Origin<'_>) -> Origin<'_> {
    if value.to_bits() == usual.to_bits() { from } else { Origin::Plan }
}

/// A pot's measures are the grower's own, or typical of its size.
fn pot_origin(bin: &Bin) -> Origin<'static> {
    if bin.pot.measured {
        Origin::Plan
    } else {
        Origin::Data("common-practice", "typical of its size; measure your own")
    }
}

fn pot_bottom<'s>(sheet: &'s Sheet, bin: &Bin, library: &Library) -> Traced<'s> {
    let mm = |symbol, what, value, from| take(sheet, symbol, what, value, MILLIMETRE, from);
    let (drop, usual) = (bin.lid_drop, &library.limits.lid_thickness);
    let on_rim = Origin::Data("common-practice", "on the rim, where the plan is silent");
    let formula = PotBottom {
        depth: mm("H", "depth, floor to rim", bin.vessel.depth(), Origin::Plan),
        lid_drop: mm("s", "lid's underside below the rim", drop, chosen(drop, 0.0, on_rim)),
        pot: mm("p", "depth of the pot under its lip", bin.pot.depth, pot_origin(bin)),
        lid: mm(
            "t",
            "thickness of the lid",
            bin.lid_thickness,
            chosen(bin.lid_thickness, usual.value, data(usual)),
        ),
    };
    sheet.work(&Name::new("pot-bottom", "h_pot", "Pot's floor above the bin's floor"), formula)
}

/// How much of a cube is wet.
const LESS_GAP: Origin<'static> =
    Origin::Data("plain-arithmetic", "depth in the solution less the gap under the cube");

/// What pots and cubes take up below the start line.
fn displaced<'s>(sheet: &'s Sheet, bin: &Bin, library: &Library) -> Option<Traced<'s>> {
    if bin.pots() == 0 {
        return None;
    }
    let plan = |symbol, what, value, unit| take(sheet, symbol, what, value, unit, Origin::Plan);
    let solids = &library.solids;
    let pot = |symbol, what, value, unit| take(sheet, symbol, what, value, unit, pot_origin(bin));
    let d0 = pot("d_0", "outside of the pot at its floor", bin.pot.bottom / 1000.0, METRE);
    // What goes through the hole is as wide as the hole, or nearly; the lip lies on the lid
    // (common practice, no source).
    let d1 = pot("d_1", "outside of the pot under its lip", bin.pot.hole / 1000.0, METRE);
    let depth = pot("p", "depth of the pot under its lip", bin.pot.depth, MILLIMETRE);
    let i = immersion(sheet, bin, library);
    let name = Name::new("pot-diameter", "d_w", "Outside of the pot at the start line");
    let d = sheet.work(&name, DiameterAt { d0, d1, h: i, depth });
    let name = Name::new("pot-outline", "V_pot", "Outline of one pot below the start line");
    let pot = sheet.work(&name, FrustumVolume { pi: pi(sheet), i, d0, d });
    let (share, cube_share) = (&solids.pot_solid_share, &solids.cube_solid_share);
    let side = bin.cube.map_or(0.0, |c| c.side / 1000.0);
    let wet = bin.cube.map_or(0.0, |c| (bin.immersion - c.lift).max(0.0));
    let formula = Displaced {
        n: plan("n", "pots", f64::from(bin.pots()), NONE),
        pot_share: take(sheet, "s_p", "solid share of a pot", share.value, NONE, data(share)),
        pot,
        cube_share: take(
            sheet,
            "s_c",
            "solid share of a wet cube",
            cube_share.value,
            NONE,
            data(cube_share),
        ),
        side: plan("c", "side of a cube", side, METRE),
        wet: take(sheet, "w", "height of the cube below the line", wet, MILLIMETRE, LESS_GAP),
    };
    Some(sheet.work(&Name::new("displaced", "V_pots", "What pots and cubes take up"), formula))
}

fn reserve<'s>(
    sheet: &'s Sheet,
    bin: &Bin,
    library: &Library,
    floor: Floor<'s>,
    start_volume: Traced<'s>,
) -> Traced<'s> {
    let limits = &library.limits;
    let share = &limits.reserve_share;
    let share = take(sheet, "f", "share kept in reserve", share.value, NONE, data(share));
    let name = Name::new("reserve-share", "V_f", "Reserve share of the first filling");
    let wanted = sheet.work(&name, ShareOf { share, v: start_volume }).number();
    let height = bin.vessel.height_where(wanted, |h| bin.vessel.volume(h));
    let what = "height that holds the reserve share, found by halving";
    let share_height = take(sheet, "h_f", what, height, MILLIMETRE, Origin::Found);
    // The height was searched for; the working shows that it holds what it should.
    line(sheet, bin, floor, share_height, &SHARE);
    let least = &limits.reserve_depth;
    let what = "least depth left to the roots";
    let least = take(sheet, "h_min", what, least.value, MILLIMETRE, data(least));
    let name = Name::new("reserve-line", "h_res", "Reserve line above the floor");
    sheet.work(&name, ReserveLine { least, share_height })
}

const SHARE: LineNames =
    LineNames { item: "height of the reserve share", volume: "V_f", area: "A" };

/// Solution below a height, less what pots and cubes take up (L).
#[must_use]
pub fn liquid(bin: &Bin, library: &Library, h: f64) -> f64 {
    use crate::number::Formula;
    let bottom = bin.vessel.depth() - bin.lid_drop - (bin.pot.depth - bin.lid_thickness);
    let i = (h - bottom).max(0.0);
    let (d0, d1) = (bin.pot.bottom / 1000.0, bin.pot.hole / 1000.0);
    let d = DiameterAt { d0, d1, h: i, depth: bin.pot.depth }.value();
    let pot = FrustumVolume { pi: std::f64::consts::PI, i, d0, d }.value();
    let displaced = Displaced {
        n: f64::from(bin.pots()),
        pot_share: library.solids.pot_solid_share.value,
        pot,
        cube_share: library.solids.cube_solid_share.value,
        side: bin.cube.map_or(0.0, |c| c.side / 1000.0),
        wet: bin.cube.map_or(0.0, |c| (i - c.lift).max(0.0)),
    };
    bin.vessel.volume(h) - displaced.value()
}
