//! Setting out, topping up, cleaning, the end of the grow.

use super::super::Grow;
use super::super::block::{Block, Column, Table, Voice, plain};
use super::glance::crops;
use super::{by_bin, cells, one, paragraph, short_day, short_window, words};
use crate::compute::BinResults;
use crate::compute::season::Event;
use crate::library::crop::Start;
use crate::number::figures::{self, System, dropper, mixed, volume};
use crate::number::unit::LITRES_PER_US_GALLON;

pub(in super::super) fn setting_out_table(grow: &Grow<'_>) -> Vec<Block> {
    let rows = grow.plan.bins.iter().zip(&grow.results.bins).map(|(bin, r)| {
        cells([
            bin.name.clone(),
            crops(bin),
            short_window([r.dates.first_roots, r.dates.roots[1]]),
            short_day(r.dates.set_out),
            String::new(),
        ])
    });
    let slowest = grow.results.bins.iter().any(|r| r.dates.first_roots < r.dates.roots[0]);
    let columns = words([
        ("Bin", 4),
        ("Plants", 6),
        ("Roots may show", 6),
        ("Set out about", 5),
        ("Done on", 4),
    ]);
    let caption = if slowest {
        "Roots decide, not the day; of several crops in a bin, the slowest."
    } else {
        "Roots decide, not the day."
    };
    let table = Table::to_fill(caption, columns, rows.collect());
    one(Table { row_height: 7.5, ..table })
}

/// What a crop is started from.
pub(super) fn started(start: Start) -> &'static str {
    match start {
        Start::Seed => "seed",
        Start::Cutting => "cuttings",
        Start::Runner => "runners or plugs",
    }
}

pub(in super::super) fn sowing_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut rows = Vec::new();
    for (bin, r) in grow.plan.bins.iter().zip(&grow.results.bins) {
        for planting in &bin.plants {
            let crop = &planting.crop;
            let start = started(crop.start);
            let [low, high] =
                [crop.germination.low, crop.germination.high].map(|d| figures::decimals(d, 0));
            rows.push(cells([
                short_day(r.dates.sown),
                format!("{} {}", planting.count, crop.name),
                start.into(),
                format!("{low} to {high} days"),
                bin.name.clone(),
                String::new(),
            ]));
        }
    }
    let mut columns = words([("Day", 9), ("What", 13), ("From", 8)]);
    columns.extend(words([("Up, or rooted, in", 8), ("For", 10), ("Came up on", 8)]));
    one(Table { row_height: 7.5, ..Table::to_fill("", columns, rows) })
}

/// Cautions of the crops in the plan, each once.
pub(in super::super) fn crop_notes(grow: &Grow<'_>) -> Vec<Block> {
    let mut items: Vec<Vec<Block>> = Vec::new();
    for planting in grow.plan.bins.iter().flat_map(|b| &b.plants) {
        for caution in &planting.crop.cautions {
            let item = vec![paragraph(format!("{}: {caution}", planting.crop.name))];
            if !items.contains(&item) {
                items.push(item);
            }
        }
    }
    if items.is_empty() { Vec::new() } else { vec![Block::List { ordered: false, items }] }
}

/// Plants that one filling carries, beside those there are.
fn carried([low, expected, high]: [u32; 3], there: u32) -> String {
    if low == high {
        format!("{expected} of {there}")
    } else {
        format!("{expected} ({high} to {low}) of {there}")
    }
}

pub(in super::super) fn topup_overview(grow: &Grow<'_>) -> Vec<Block> {
    let system = grow.plan.system;
    let bins = grow.plan.bins.iter().zip(&grow.results.bins).enumerate();
    let rows = bins.map(|(i, (bin, r))| {
        let need = r.season.need;
        let count = r.season.events().filter(|(_, e)| matches!(e, Event::TopUp(_))).count();
        let row = cells([
            figures::short_length(r.fill.ceiling, system),
            figures::short_volume(r.fill.usable, system),
            figures::volume_band(need.expected, need.low, need.high, system),
            carried(r.season.carries, bin.pots()),
            r.season.dry[1].map_or("lasts".into(), short_day),
            count.to_string(),
        ]);
        (i, row)
    });
    let rows = by_bin(grow, rows);
    let mut columns = words([("Bin", 4)]);
    columns.push(Column::numbers("Ceiling", 3));
    columns.push(Column::numbers("Holds, start to reserve", 4));
    columns.push(Column::words("Needs in all (low to high)", 7));
    columns.push(Column::words("Plants one filling carries", 4));
    columns.push(Column::words("At reserve about", 4));
    columns.push(Column::numbers("Top-ups", 2));
    let caption = "Water of every bin. Needs are estimates, low to high, until your log says \
                   better.";
    one(Table::printed(caption, columns, rows))
}

pub(in super::super) fn changeout_table(grow: &Grow<'_>) -> Vec<Block> {
    let mut rows = Vec::new();
    for (i, r) in grow.results.bins.iter().enumerate() {
        let days: Vec<String> = r
            .season
            .events()
            .filter(|(_, e)| matches!(e, Event::ChangeOut(_)))
            .map(|(check, _)| short_day(check.day))
            .collect();
        let days = if days.is_empty() { no_change(r) } else { days.join(", ") };
        let mut row = vec![format!("{} d", r.dates.days), days];
        row.extend(extremes(r));
        rows.push((i, row.into_iter().map(plain).collect()));
    }
    let rows = by_bin(grow, rows);
    let mut columns = words([("Bin", 4), ("Set-out to end", 3), ("Changes planned", 6)]);
    for head in ["EC, highest", "N, lowest", "K, lowest", "Sodium, highest, mg/L"] {
        columns.push(Column::numbers(head, 3));
    }
    let caption = "The facts that decide, as expected up to the last check day. EC, nitrogen and \
                   potassium are strengths, against the fresh solution: half the litres at the \
                   first strength are 100 % here, though half of what was put in is gone. Read the \
                   roots before the table.";
    one(Table::printed(caption, columns, rows))
}

/// Why no change is planned.
fn no_change(r: &BinResults) -> String {
    let Some(drift) = &r.drift else { return "none planned".into() };
    let mut spent = r.season.checks.iter().zip(&drift.spent).filter(|(_, spent)| **spent);
    let Some((check, _)) = spent.next() else {
        return "none: never strong and hungry at once".into();
    };
    let day = short_day(check.day);
    match check.day.until(r.dates.end).map_or(0, |s| s.get_days()) {
        ..=0 => "none: strong and hungry only on the last day".into(),
        1 => format!("none: strong and hungry from {day}, a day before the end"),
        n => format!("none: strong and hungry from {day}, {n} days before the end"),
    }
}

/// How far a bin's solution drifts: conductivity, nitrogen, potassium, sodium.
fn extremes(r: &BinResults) -> [String; 4] {
    let Some(drift) = &r.drift else { return std::array::from_fn(|_| "not known".into()) };
    let percent = |part: f64| format!("{} %", figures::decimals(100.0 * part, 0));
    let most = |all: &[f64]| all.iter().copied().fold(0.0, f64::max);
    let of = |symbol: &str| drift.elements.iter().find(|e| e.symbol == symbol && e.start > 0.0);
    let least = |symbol: &str| {
        of(symbol).map_or("not known".into(), |e| {
            percent(e.days.iter().copied().fold(e.start, f64::min) / e.start)
        })
    };
    let sodium = of("Na").map_or("not known".into(), |e| figures::decimals(most(&e.days), 0));
    [percent(most(&drift.conductivity)), least("N"), least("K"), sodium]
}

pub(in super::super) fn bleach_table(grow: &Grow<'_>) -> Vec<Block> {
    let rows = grow.results.bins.iter().zip(&grow.results.cleaning.bins);
    let rows = rows.enumerate().map(|(i, (r, ml))| {
        (i, cells([volume(r.fill.start_volume, grow.plan.system), dropper(*ml)]))
    });
    let rows = by_bin(grow, rows);
    let columns =
        vec![Column::words("Bin", 4), Column::numbers("Water", 4), Column::numbers("Bleach", 3)];
    one(Table::printed(
        "What filling to the start line would take; a bin that you cannot lift full is wiped instead.",
        columns,
        rows,
    ))
}

/// The grower's own notes, letter for letter, a paragraph for each of theirs.
pub(in super::super) fn notes(grow: &Grow<'_>) -> Vec<Block> {
    let paragraphs = grow.plan.notes.split("\n\n").map(str::trim).filter(|p| !p.is_empty());
    paragraphs.map(|p| paragraph(p.split_whitespace().collect::<Vec<_>>().join(" "))).collect()
}

/// What must be said about kitchen and kit acids wherever they are dosed.
pub(in super::super) fn acid_cautions() -> Vec<Block> {
    let text = "Goggles and gloves on. Adults dose. Acid or base goes into water, never water \
                into acid or base. One bottle at a time; never pour two together; never near \
                bleach. On skin or in eyes: rinse at once with running water, at least 15 minutes; \
                the rest is under \"Before you mix\". The label and local rules win.";
    vec![Block::Alert { voice: Voice::Warning, blocks: vec![paragraph(text)] }]
}

/// Values of the cleaning page: product, volume, per, strength, wait.
pub(in super::super) fn bleach(grow: &Grow<'_>) -> [(&'static str, String); 5] {
    let (plan, limits) = (grow.plan, &grow.library.limits);
    let (size, per) = match plan.system {
        System::Us => (LITRES_PER_US_GALLON, volume(LITRES_PER_US_GALLON, System::Us)),
        System::Metric => (1.0, volume(1.0, System::Metric)),
    };
    let ml = grow.results.cleaning.per_litre * size;
    let amount = match plan.system {
        System::Us => {
            let spoon = LITRES_PER_US_GALLON * 1000.0 / 768.0;
            format!("{} ({} tsp)", dropper(ml), mixed(ml / spoon, 4))
        }
        System::Metric => dropper(ml),
    };
    let strength = figures::plain(plan.bleach.strength, 3);
    let assumed = if plan.bleach.stated { "" } else { " (assumed; read your bottle)" };
    let product = format!("household bleach, {strength} % sodium hypochlorite{assumed}");
    let target = figures::plain(limits.bleach_target.value, 4);
    [
        ("product", product),
        ("volume", amount),
        ("per", per),
        ("strength", format!("about {target} mg/L available chlorine")),
        ("wait", format!("{} minutes", figures::plain(limits.bleach_wait.value, 3))),
    ]
}
