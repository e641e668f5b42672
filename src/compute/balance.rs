//! The check of an equilibrium: every ion with its charge, and every component added up again.

use super::take;
use crate::number::unit::{
    MICROSIEMENS_PER_CENTIMETRE, MILLIMOLE_PER_LITRE, MOLAR_CONDUCTIVITY, NONE,
};
use crate::number::{Name, Origin, Pen, Sheet};
use crate::science::dosing::{ChargeLeft, Conductivity, ConductivityOf};
use crate::science::electrolyte;
use crate::science::speciation::{Equilibrium, Solution};
use crate::science::species::{COMPONENTS, Component, Constants, NAMES};

/// One ion, or one uncharged species.
#[derive(Debug, Clone, PartialEq)]
pub struct Ion {
    /// Its name.
    pub name: String,
    /// Its charge.
    pub charge: i32,
    /// Amount (mmol/L).
    pub amount: f64,
}

/// What a solution consists of.
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    /// Everything of which there is more than a trace, most first.
    pub ions: Vec<Ion>,
    /// Positive and negative charges (mmol/L).
    pub charges: [f64; 2],
    /// Component, put in and found again free and bound (mmol/L).
    pub sums: Vec<(&'static str, f64, f64)>,
    /// Activity coefficient of an ion of charge 1.
    pub gamma: f64,
}

/// Less than this is left out of the list, not of the sums (mmol/L).
const TRACE: f64 = 1e-3;

/// Puts the answer of the search back into the balances.
pub(super) fn work(
    sheet: &Sheet,
    c: &Constants<'_>,
    solution: &Solution,
    e: &Equilibrium,
) -> Balance {
    let components = (0..COMPONENTS).map(|i| (NAMES[i].to_string(), c.table.charge[i], e.free[i]));
    let pairs = c.table.species.iter().zip(&e.species);
    let pairs = pairs.map(|(s, m)| (s.name.clone(), s.charge, *m));
    let water = [("H".into(), 1, e.water[0]), ("OH".into(), -1, e.water[1])];
    let all = components.chain(pairs).chain(water);
    let mut ions: Vec<Ion> =
        all.map(|(name, charge, m)| Ion { name, charge, amount: 1000.0 * m }).collect();
    let of_sign = |sign: i32| {
        let own = ions.iter().filter(|i| i.charge.signum() == sign);
        own.map(|i| f64::from(i.charge.abs()) * i.amount).sum::<f64>()
    };
    let charges = [of_sign(1), of_sign(-1)];
    show(sheet, charges);
    ions.retain(|i| i.amount > TRACE);
    ions.sort_by(|a, b| b.amount.total_cmp(&a.amount));
    let sums = (0..COMPONENTS).filter(|i| solution.totals[*i] > 0.0).map(|i| {
        let component = COMPONENT[i];
        (NAMES[i], 1000.0 * solution.totals[i], 1000.0 * e.total(c, component))
    });
    Balance { sums: sums.collect(), ions, charges, gamma: e.gamma }
}

fn show(sheet: &Sheet, charges: [f64; 2]) {
    let unit = MILLIMOLE_PER_LITRE;
    // Shown as a chemist would write them down, to a tenth of a micromole.
    let shown = |value: f64| (value * 1e4).round() / 1e4;
    let sum = |symbol, what, value| take(sheet, symbol, what, shown(value), unit, Origin::Found);
    let plus = sum("q_plus", "positive charges of all ions", charges[0]);
    let minus = sum("q_minus", "negative charges of all ions", charges[1]);
    let name = Name::new("charge-left", "q", "Charge left over, just mixed");
    sheet.work(&name, ChargeLeft { plus, minus });
}

/// The components in their order.
const COMPONENT: [Component; COMPONENTS] = [
    Component::Carbonate,
    Component::Phosphate,
    Component::Sulfate,
    Component::Ammonium,
    Component::Citrate,
    Component::Acetate,
    Component::Calcium,
    Component::Magnesium,
    Component::Potassium,
    Component::Sodium,
    Component::Chloride,
    Component::Nitrate,
];

/// Ions of which there is less are left out of the printed sum (mol/L).
const LEAST: f64 = 1e-6;

/// Shows what the conductivity of the mix adds up from.
pub(super) fn show_conductivity(sheet: &Sheet, c: &Constants<'_>, e: &Equilibrium) {
    let names = NAMES;
    let free = names.into_iter().zip(c.table.conductivity.iter().zip(&e.free));
    let pairs = c.table.species.iter().zip(&e.species);
    let pairs = pairs.map(|(s, m)| (s.name.as_str(), (&s.conductivity, m)));
    for (name, (lambda, amount)) in free.chain(pairs) {
        if *amount < LEAST || *lambda == 0.0 {
            continue;
        }
        let from = Origin::Data("crc-vanysek", "25 °C");
        let what = "limiting molar conductivity";
        let lambda = take(sheet, "λ", what, *lambda, MOLAR_CONDUCTIVITY, from);
        let what = "amount free, found by halving";
        let amount = take(sheet, "c", what, 1000.0 * amount, MILLIMOLE_PER_LITRE, Origin::Found);
        let id = Name::new("conductivity-of", "κ", "What an ion contributes").of(name);
        sheet.work(&id, ConductivityOf { lambda, c: amount });
    }
    let (whole, part) = electrolyte::conductivity_parts(c, e);
    let what = "sum over all ions, the traces too";
    let sum =
        take(sheet, "κ_sum", what, 1000.0 * whole, MICROSIEMENS_PER_CENTIMETRE, Origin::Found);
    let what = "10^(−0.46 √I ÷ (1 + √I)) at this ionic strength";
    let f = take(sheet, "f", what, part, NONE, Origin::Found);
    let name = Name::new("conductivity", "κ_25", "Conductivity at 25 °C, just mixed");
    sheet.work(&name, Conductivity { sum, f });
}
