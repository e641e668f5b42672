//! What the table wants every week.

use jiff::civil::Date;

use super::bin::unknown_crop;
use super::table::Table;
use crate::library::{Crop, Harvest, Library};

/// A wish for so many heads a week.
#[derive(Debug, Clone, PartialEq)]
pub struct Supply {
    /// Of which crop.
    pub crop: Crop,
    /// Heads a week.
    pub heads: f64,
    /// Weeks of the calendar.
    pub weeks: u32,
    /// First sowing.
    pub from: Date,
}

pub(super) fn read(root: &Table<'_>, own: &[Crop], sown: Option<Date>) -> Option<Supply> {
    let table = root.table("supply")?;
    let library = Library::embedded();
    let name = table.need_text("crop", "\"lettuce\"");
    if !table.has("heads-a-week") {
        table.missing("heads-a-week", "6");
    }
    let heads = table.number("heads-a-week", 0.25, 500.0);
    let weeks = table.count("weeks", 60).map_or(26, |w| w.value);
    let from = table.date("from").map(|d| d.value).or(sown);
    table.close();
    let name = name?;
    let mine = own.iter().find(|c| c.name.to_lowercase() == name.value.to_lowercase());
    let Some(crop) = mine.or_else(|| library.crop(&name.value)) else {
        unknown_crop(&table, library, &name.value, &name.place);
        return None;
    };
    if crop.harvest != Harvest::Once {
        let message = format!("{} is picked again and again", crop.name);
        let help = "a supply by the week is worked for what is cut whole, such as lettuce; leave the \
                    table out, and let the harvest weeks of the bins speak";
        table.error("picked-again", &name.place, message, help);
        return None;
    }
    Some(Supply { crop: crop.clone(), heads: heads?.value, weeks, from: from? })
}
