//! Air and light around the bins, against what the crops like.

use super::thirst::Around;
use super::{BinResults, Desk, take};
use crate::number::unit::{DAY, HOUR_PER_DAY, KILOWATT};
use crate::number::{Name, Origin, Pen, Traced};
use crate::plan::Light;
use crate::science::light::LampEnergy;
use crate::science::{air, oxygen};

/// What is known of air and light.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Climate {
    /// Vapour pressure deficit by day (kPa).
    pub deficit: Option<f64>,
    /// Daily light integral (mol/m²/d).
    pub dli: Option<f64>,
    /// Oxygen that solution as warm as the air holds (mg/L).
    pub oxygen: Option<f64>,
    /// Electricity of the lamp from the first set-out to the last harvest (kWh).
    pub energy: Option<f64>,
    /// What that costs, in the keeper's money.
    pub cost: Option<f64>,
}

/// Works air and light.
pub(super) fn work(desk: &Desk<'_>, around: Around<'_>, bins: &[BinResults]) -> Climate {
    let climate = &desk.plan.climate;
    let pressure = air::pressure(climate.altitude);
    let energy = energy(desk, bins);
    let price = climate.lamp.and_then(|lamp| lamp.price);
    Climate {
        deficit: around.deficit.map(Traced::number),
        dli: around.dli.map(Traced::number),
        oxygen: climate
            .air
            .filter(|t| (0.0..=40.0).contains(t))
            .map(|t| oxygen::saturation_at(t, pressure)),
        energy,
        cost: energy.zip(price).map(|(kwh, price)| kwh * price),
    }
}

fn energy(desk: &Desk<'_>, bins: &[BinResults]) -> Option<f64> {
    let climate = &desk.plan.climate;
    let (Some(lamp), Some(Light::Lamp { hours, .. })) = (climate.lamp, climate.light) else {
        return None;
    };
    let from = bins.iter().map(|b| b.dates.set_out).min()?;
    let to = bins.iter().map(|b| b.dates.end).max()?;
    let days = super::season::days_between(from, to);
    let sheet = desk.sheet;
    sheet.about(super::GROW);
    let p = take(sheet, "P", "power from the wall", lamp.power / 1000.0, KILOWATT, Origin::Plan);
    let h = take(sheet, "h", "hours of light", hours, HOUR_PER_DAY, Origin::Plan);
    let d = take(sheet, "d", "days from first set-out to last harvest", days, DAY, Origin::Found);
    let name = Name::new("lamp-energy", "W", "Electricity of the lamp");
    Some(sheet.work(&name, LampEnergy { p, h, d }).number())
}
