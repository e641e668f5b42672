//! The pages there are, and the blocks that pages may call.

/// The pages, in the order of the booklet; a page of a kind that repeats stands once.
pub const PAGES: [(&str, &str); 22] = [
    ("glance", include_str!("../../templates/pages/glance.md")),
    ("gather", include_str!("../../templates/pages/gather.md")),
    ("safety", include_str!("../../templates/pages/safety.md")),
    ("mixing", include_str!("../../templates/pages/mixing.md")),
    ("acidity", include_str!("../../templates/pages/acidity.md")),
    ("sowing", include_str!("../../templates/pages/sowing.md")),
    ("supply", include_str!("../../templates/pages/supply.md")),
    ("setting-out", include_str!("../../templates/pages/setting-out.md")),
    ("bin", include_str!("../../templates/pages/bin.md")),
    ("topping-up", include_str!("../../templates/pages/topping-up.md")),
    ("climate", include_str!("../../templates/pages/climate.md")),
    ("trouble", include_str!("../../templates/pages/trouble.md")),
    ("harvest", include_str!("../../templates/pages/harvest.md")),
    ("cleaning", include_str!("../../templates/pages/cleaning.md")),
    ("used-solution", include_str!("../../templates/pages/used-solution.md")),
    ("learned", include_str!("../../templates/pages/learned.md")),
    ("notes", include_str!("../../templates/pages/notes.md")),
    ("working", include_str!("../../templates/pages/working.md")),
    ("chemistry", include_str!("../../templates/pages/chemistry.md")),
    ("glossary", include_str!("../../templates/pages/glossary.md")),
    ("sources", include_str!("../../templates/pages/sources.md")),
    ("plan", include_str!("../../templates/pages/plan.md")),
];

/// For what a page is made again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Repeats {
    /// It stands once.
    Once,
    /// Once for each bin.
    Bin,
    /// Once for each solution that some bin is filled with.
    Mix,
}

/// For what a page of ours is made again.
pub(super) fn repeats(id: &str) -> Repeats {
    match id {
        "mixing" | "acidity" | "chemistry" => Repeats::Mix,
        "bin" => Repeats::Bin,
        _ => Repeats::Once,
    }
}

/// Pages that nobody may leave out, the block that a page in their place must call, and why.
pub(super) const SAFETY: [(&str, &str, &str); 4] = [
    ("glance", "findings", "it prints the cautions of the plan"),
    ("safety", "hazards_table", "it tells how not to be hurt, and what to do if someone is"),
    ("mixing", "label_table", "it gives the doses with their order and their limits"),
    ("acidity", "acid_cautions", "it gives the doses of acids and bases with their limits"),
];

/// Pages that are no part of the booklet.
pub(super) const SHEETS: [(&str, &str); 11] = [
    ("shelf-card", include_str!("../../templates/pages/shelf-card.md")),
    ("shelf-label", include_str!("../../templates/pages/shelf-label.md")),
    ("shelf-labels", include_str!("../../templates/pages/shelf-labels.md")),
    ("shelf-lid", include_str!("../../templates/pages/shelf-lid.md")),
    ("review", include_str!("../../templates/pages/review.md")),
    ("shelf", include_str!("../../templates/pages/shelf.md")),
    ("shelf-strip", include_str!("../../templates/pages/shelf-strip.md")),
    ("worksheet", include_str!("../../templates/pages/worksheet.md")),
    ("ph-unit", include_str!("../../templates/pages/ph-unit.md")),
    ("readings", include_str!("../../templates/pages/readings.md")),
    ("plotting", include_str!("../../templates/pages/plotting.md")),
];

/// Every block a template may call; which of them a page has, [`super::compose()`] decides.
pub(super) const CALLS: [&str; 75] = [
    "acid_cautions",
    "acidity_numbers",
    "ahead_table",
    "assumptions",
    "bins_table",
    "bleach_table",
    "bottles_table",
    "calendar_table",
    "card_dates",
    "card_lines",
    "card_log",
    "card_topups",
    "changeout_table",
    "check_table",
    "climate_table",
    "correction_table",
    "curve",
    "dates_table",
    "dilution_table",
    "dose_table",
    "drift_table",
    "elements_table",
    "exercises",
    "fan",
    "findings",
    "gather_table",
    "harvest_form",
    "harvest_table",
    "hazards_table",
    "household_table",
    "ions_table",
    "jar_note",
    "jar_trial_form",
    "label_table",
    "labels",
    "last_time_note",
    "lid_drawing",
    "lines_table",
    "log_findings",
    "log_table",
    "lookup_table",
    "notes",
    "number_line",
    "paste",
    "plan_text",
    "plot",
    "ratios",
    "readings_form",
    "readings_table",
    "saturation_table",
    "season_chart",
    "section",
    "strips",
    "strips_table",
    "sums_table",
    "reading_table",
    "report_dose_table",
    "report_lookup_table",
    "setting_out_table",
    "sources_table",
    "sowing_table",
    "portions_table",
    "bottle_note",
    "drift_note",
    "scale_note",
    "report_note",
    "supply_bars",
    "supply_summary",
    "supply_table",
    "topup_overview",
    "topup_table",
    "trial_table",
    "ways_table",
    "working",
    "crop_notes",
];
