//! What there is to say about feeds and air.

use std::collections::BTreeSet;

use jiff::civil::{Date, Weekday};

use super::mixing::FeedDose;
use super::{BinResults, Dates, Desk, Fill, Season, dates, weather};
use crate::finding::{Finding, Findings, Severity};
use crate::library::Crop;
use crate::number::figures;
use crate::number::figures::System;
use crate::plan::{Bin, Checks, Dose, Feed, LabelRate, Mix, Part, short_name};

/// Says where a solution's feeds do not suit still water.
pub(super) fn on_feeds(desk: &Desk<'_>, batch: &Mix, doses: &[FeedDose]) {
    for (part, dose) in batch.parts.iter().zip(doses) {
        on_dose(desk, batch, part, dose.rate);
    }
    on_nitrogen(desk, batch, doses);
    on_water(desk, batch);
    let brings = |part: &Part| share(&desk.plan.feeds[part.feed], &["Ca", "CaO"]) > 0.0;
    let enough = desk.library.limits.water_calcium.value;
    let hard = desk.plan.water.calcium.is_some_and(|c| c >= enough);
    if !hard && !batch.parts.iter().any(brings) {
        let message = format!("nothing in \"{}\" brings calcium", batch.name);
        let help = "a hydroponic feed has calcium or comes with calcium nitrate as a second part; \
                    garden-soil fertiliser has not, and leaf edges burn; hard water may bring it: \
                    write [water] calcium";
        desk.caution("no-calcium", &batch.place, message, help);
    }
}

fn on_dose(desk: &Desk<'_>, batch: &Mix, part: &Part, rate: f64) {
    let feed = &desk.plan.feeds[part.feed];
    let weigh = match &feed.rate {
        LabelRate::Liquid { density: None, .. } => {
            Some("weigh 100 mL of it, divide the grams by 100, and write density = \"1.15 g/mL\"")
        }
        LabelRate::Spoons { teaspoon: None, .. } => {
            Some("weigh ten level spoons of it, divide by ten, and write teaspoon = \"5.2 g\"")
        }
        LabelRate::Liquid { .. } | LabelRate::Spoons { .. } | LabelRate::Mass { .. } => None,
    };
    if let Some(weigh) = weigh {
        let message = format!("what \"{}\" adds is not known, for its weight is not", feed.name);
        let help = format!(
            "{weigh}; until then there are no milligrams, no conductivity and no dose by the water report"
        );
        desk.caution("no-weight", &batch.place, message, &help);
    }
    if let (Dose::OfLabelLow(f), low) = (part.dose, desk.library.limits.label_factor_low.value)
        && f < low
    {
        let f = figures::plain(f, 2);
        let message = format!("\"{}\" gets only {f} of the lowest label rate", feed.name);
        let help = "plants may starve; just under 1 is common practice";
        desk.caution("very-weak", &batch.place, message, help);
    }
    if feed.salt.is_none() && rate > feed.rate.ends().1 {
        let message = format!("\"{}\" is dosed above its label", feed.name);
        let help = "the label is the limit; a still bin only gets stronger";
        desk.caution("above-label", &batch.place, message, help);
    }
}

/// Ammonium and urea as a share of the nitrogen that feeds bring (0 to 1).
pub(super) fn ammonium_share(desk: &Desk<'_>, doses: &[FeedDose]) -> f64 {
    let (mut ammonium, mut all) = (0.0, 0.0);
    for dose in doses {
        let feed = &desk.plan.feeds[dose.feed];
        ammonium += dose.rate * share(feed, &["N-ammonium", "N-urea"]);
        all += dose.rate * share(feed, &["N", "N-nitrate", "N-ammonium", "N-urea"]);
    }
    if all > 0.0 { ammonium / all } else { 0.0 }
}

/// Sodium that the water brings already.
fn on_water(desk: &Desk<'_>, batch: &Mix) {
    let limit = desk.library.limits.sodium_caution.value;
    if let Some(mg) = desk.plan.water.sodium.filter(|mg| *mg > limit) {
        let mg = figures::plain(mg, 3);
        let message = format!("the water brings {mg} mg/L of sodium");
        let help = "it stays while the plants drink and only adds up: mix with rainwater, and change \
                    the solution rather than topping up";
        desk.caution("much-sodium", &batch.place, message, help);
    }
}

/// Ammonium and urea, as a share of the nitrogen.
fn on_nitrogen(desk: &Desk<'_>, batch: &Mix, doses: &[FeedDose]) {
    let share = ammonium_share(desk, doses);
    let percent = figures::plain(100.0 * share, 2);
    let message = format!("{percent} % of the nitrogen in \"{}\" is ammonium or urea", batch.name);
    let limits = &desk.library.limits;
    if share > limits.soil_feed_share.value {
        let help = "this is a soil fertiliser: without soil life it turns the bin sour and harms \
                    the roots; use a feed whose nitrogen is mostly nitrate";
        desk.caution("soil-feed", &batch.place, message, help);
    } else if share > limits.ammonium_share.value {
        let help = "pH may fall as the plants feed; check it twice a week";
        desk.caution("much-ammonium", &batch.place, message, help);
    }
}

fn share(feed: &Feed, forms: &[&str]) -> f64 {
    feed.contents.iter().filter(|c| forms.contains(&c.0.as_str())).map(|c| c.1).sum()
}

/// What air and light do to the crops of a bin, where a crop would suffer; and how often one has to look.
pub(super) fn on_bins(desk: &Desk<'_>, dli: Option<f64>, bins: &[BinResults]) {
    for (bin, results) in desk.plan.bins.iter().zip(bins) {
        on_nights(desk, bin, &results.dates);
        if let Some(air) = desk.plan.climate.air {
            on_air(desk, bin, air);
        }
        if let Some(dli) = dli {
            on_light(desk, bin, dli);
        }
    }
    on_visits(desk, bins);
}

/// So many checks a week fall on more days of it where bins that stand side by side begin on different ones.
fn on_visits(desk: &Desk<'_>, bins: &[BinResults]) {
    let Checks::AWeek(often) = desk.plan.checks else { return };
    let days = |bin: &BinResults| -> BTreeSet<i8> {
        bin.dates.checks.iter().map(|day| day.weekday().to_monday_zero_offset()).collect()
    };
    let beside = |a: &Dates, b: &Dates| a.set_out <= b.end && b.set_out <= a.end;
    for (bin, own) in desk.plan.bins.iter().zip(bins) {
        let others = bins.iter().filter(|other| beside(&own.dates, &other.dates));
        let visits = others.flat_map(days).collect::<BTreeSet<i8>>().len();
        if visits > usize::from(often) {
            let (checks, week) = if often == 1 { ("check", "falls") } else { ("checks", "fall") };
            let message = format!(
                "{often} {checks} a week {week} on {visits} days of it, for bins are set out on different ones"
            );
            let names =
                days(own).into_iter().filter_map(|d| Weekday::from_monday_zero_offset(d).ok());
            let names: Vec<String> = names.map(|d| format!("\"{}\"", short_name(d))).collect();
            let help =
                format!("name the same days for all bins: check-days = [{}]", names.join(", "));
            return desk.note("more-visits", &bin.place, [&message, &help]);
        }
    }
}

/// The coldest nights outdoors, in the months from set-out to the end.
fn on_nights(desk: &Desk<'_>, bin: &Bin, dates: &Dates) {
    let (climate, limits) = (&desk.plan.climate, &desk.library.limits);
    let index = |day: Date| i32::from(day.year()) * 12 + i32::from(day.month()) - 1;
    let season: Vec<i32> =
        (index(dates.set_out)..=index(dates.end)).map(|m| m.rem_euclid(12) + 1).collect();
    let months = climate.months.iter().filter(|m| season.contains(&i32::from(m.of)));
    let tender = |crop: &Crop| crop.air.low >= limits.tender_from.value;
    let night = |crop: &Crop| if tender(crop) { &limits.tender_night } else { &limits.hardy_night };
    let bears = |crop: &Crop| night(crop).value;
    let crops = bin.plants.iter().map(|p| (bears(&p.crop), &p.crop.name));
    let Some((least, crop)) = crops.max_by(|a, b| a.0.total_cmp(&b.0)) else { return };
    if let Some(month) = months.min_by(|a, b| a.coolest.total_cmp(&b.coolest))
        && !climate.indoors
        && month.coolest < least
    {
        let (coolest, least) = (figures::decimals(month.coolest, 0), figures::decimals(least, 0));
        let name = weather::MONTHS[usize::from(month.of) - 1];
        let message = format!(
            "nights of {coolest} °C are usual around \"{}\" in {name}; {crop} bears {least} °C",
            bin.called
        );
        let help = "set it out later, cover it in cold nights (a filled bin is not carried), or \
                    choose a crop for the cold; these are means, single nights are colder (limits: \
                    common practice, no source)";
        desk.caution("cold-nights", &bin.place, message, help);
    }
}

/// Still solution is as warm as the air around it.
fn on_air(desk: &Desk<'_>, bin: &Bin, air: f64) {
    let ceilings = bin.plants.iter().map(|p| (p.crop.solution_ceiling.value, &p.crop.name));
    if let Some((ceiling, crop)) = ceilings.min_by(|a, b| a.0.total_cmp(&b.0))
        && air > ceiling
    {
        let (air, ceiling) = (figures::decimals(air, 0), figures::decimals(ceiling, 0));
        let message = format!(
            "the air around \"{}\" is {air} °C; {crop} wants its solution below {ceiling} °C",
            bin.called
        );
        let help = "warm still water holds little oxygen and roots rot: shade and insulate \
                    the bin, grow it in a cooler month, or choose another crop";
        desk.caution("warm-air", &bin.place, message, help);
    }
    let floors = bin.plants.iter().map(|p| (p.crop.air.low, &p.crop.name));
    if let Some((floor, crop)) = floors.max_by(|a, b| a.0.total_cmp(&b.0))
        && air < floor - desk.library.limits.air_slack.value
    {
        let (air, floor) = (figures::decimals(air, 0), figures::decimals(floor, 0));
        let message = format!(
            "the air around \"{}\" is {air} °C; {crop} likes {floor} °C and more",
            bin.called
        );
        let help = "it grows slowly, stands longer than planned and takes feed badly: a warmer place, \
                    a later month, or a crop for the cold; the dates of the booklet do not know it";
        desk.caution("cold-air", &bin.place, message, help);
    }
}

fn on_light(desk: &Desk<'_>, bin: &Bin, dli: f64) {
    let share = desk.library.limits.light_share.value;
    let floors = bin.plants.iter().map(|p| (p.crop.light.low, &p.crop.name));
    if let Some((floor, crop)) = floors.max_by(|a, b| a.0.total_cmp(&b.0))
        && dli < share * floor
    {
        let (dli, floor) = (figures::decimals(dli, 1), figures::decimals(floor, 0));
        let message = format!(
            "\"{}\" gets {dli} mol/m² of light a day; {crop} likes {floor} and more",
            bin.called
        );
        let help = "plants stretch and stay small, and take longer than planned: more hours, the lamp \
                    nearer or stronger, or a crop for little light";
        desk.caution("little-light", &bin.place, message, help);
    }
}

/// Says when a bin runs dry, and that it drinks more than it holds.
pub(super) fn on_season(
    bin: &Bin,
    fill: &Fill,
    dates: &Dates,
    season: &Season,
    (findings, system): (&Findings, System),
) {
    let caution = |code, message: String, help: &str| {
        let finding = Finding::new(Severity::Caution, code, message, help);
        findings.add(finding.at(bin.place.clone(), "this bin"));
    };
    let (called, end) = (&bin.called, dates::told(dates.end));
    let volume = |litres| figures::volume(litres, system);
    let [early, expected, _] = season.dry.map(|day| day.map(dates::told));
    if let Some(day) = expected {
        let message = format!(
            "\"{called}\" will be down to the reserve about {day}, before the last harvest on {end}"
        );
        let help = format!(
            "it needs about {} and holds {} above the reserve; the booklet plans top-ups and says \
             how high; to do without, {}a larger bin with a filling of about {}",
            volume(season.need.expected),
            volume(fill.usable),
            instead(season.carries[1]),
            volume(season.filling),
        );
        caution("runs-dry", message, &help);
    } else if let Some(day) = early {
        let message =
            format!("\"{called}\" may be down to the reserve by {day} in a hot or bright season");
        let help = "keep the checks; if it falls early top up, no higher than its page in the booklet says";
        caution("may-run-dry", message, help);
    }
    if let Some(day) = season.short {
        let day = dates::told(day);
        let message =
            format!("from {day} \"{called}\" drinks more between two checks than it holds");
        let help = "look at it more often (`checks-a-week`), or use a larger bin or fewer plants";
        caution("bin-too-small", message, help);
    }
}

/// So many plants would need no top-up.
fn instead(carries: u32) -> String {
    match carries {
        0 => String::new(),
        1 => "one plant, or ".into(),
        n => format!("{n} plants, or "),
    }
}
