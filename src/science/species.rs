//! The table of aqueous species, and its constants at a temperature.

/// What solutions are made of, besides protons.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[repr(usize)]
pub enum Component {
    /// CO₃²⁻ and all inorganic carbon.
    Carbonate,
    /// PO₄³⁻
    Phosphate,
    /// SO₄²⁻
    Sulfate,
    /// NH₄⁺
    Ammonium,
    /// Citrate³⁻
    Citrate,
    /// Acetate⁻
    Acetate,
    /// Ca²⁺
    Calcium,
    /// Mg²⁺
    Magnesium,
    /// K⁺
    Potassium,
    /// Na⁺
    Sodium,
    /// Cl⁻
    Chloride,
    /// NO₃⁻
    Nitrate,
}

/// How many components there are.
pub const COMPONENTS: usize = 12;

/// Their names in `data/species.toml`, in order.
pub const NAMES: [&str; COMPONENTS] =
    ["CO3", "PO4", "SO4", "NH4", "Cit", "Ace", "Ca", "Mg", "K", "Na", "Cl", "NO3"];

/// An amount of every component (mol/L, or mol in a mol).
pub type Amounts = [f64; COMPONENTS];

/// Temperatures at which constants are tabulated (°C).
pub const TABULATED: [f64; 5] = [10.0, 15.0, 20.0, 25.0, 30.0];

/// A species formed from one or two components and protons.
#[derive(Debug, Clone, PartialEq)]
pub struct Species {
    /// Its name.
    pub name: String,
    /// Its charge.
    pub charge: i32,
    /// First component, by index.
    pub first: usize,
    /// Second component, by index, if it is a pair.
    pub second: Option<usize>,
    /// Protons taken up.
    pub protons: i32,
    /// log₁₀ of its formation constant at the tabulated temperatures.
    pub log_k: [f64; 5],
    /// Limiting molar conductivity at 25 °C (S·cm²/mol), 0 if it carries no current.
    pub conductivity: f64,
}

/// The table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Charge of each component.
    pub charge: [i32; COMPONENTS],
    /// Limiting molar conductivity of each at 25 °C (S·cm²/mol).
    pub conductivity: Amounts,
    /// All species.
    pub species: Vec<Species>,
    /// log₁₀ of the ion product of water.
    pub water: [f64; 5],
    /// log₁₀ of Henry's constant of carbon dioxide (mol/L/atm).
    pub henry: [f64; 5],
}

/// The constants of a table at one temperature.
#[derive(Debug, Clone)]
pub struct Constants<'t> {
    /// The table.
    pub table: &'t Table,
    /// Formation constant of each species.
    pub k: Vec<f64>,
    /// Ion product of water.
    pub water: f64,
    /// Henry's constant of carbon dioxide (mol/L/atm).
    pub henry: f64,
    /// Debye–Hückel constant A of the Davies equation.
    pub davies: f64,
}

impl Table {
    /// The constants at a temperature of `celsius`, 5 to 35 °C.
    #[must_use]
    pub fn at(&self, celsius: f64) -> Constants<'_> {
        let ten_to = |log: &[f64; 5]| libm::exp10(between(log, celsius));
        Constants {
            table: self,
            k: self.species.iter().map(|s| ten_to(&s.log_k)).collect(),
            water: ten_to(&self.water),
            henry: ten_to(&self.henry),
            davies: davies(celsius),
        }
    }
}

/// A tabulated constant between its temperatures: the polynomial through all five.
fn between(log: &[f64; 5], celsius: f64) -> f64 {
    let t = celsius.clamp(5.0, 35.0);
    let weight = |i: usize| -> f64 {
        (0..5)
            .filter(|j| *j != i)
            .map(|j| (t - TABULATED[j]) / (TABULATED[i] - TABULATED[j]))
            .product()
    };
    (0..5).map(|i| log[i] * weight(i)).sum()
}

/// A of the Davies equation: 1.8246·10⁶ (ε T)^(−3/2), with the dielectric constant ε of water by
/// Malmberg & Maryott 1956 (J. Res. NBS 56:1; coefficients from memory; A = 0.512 at 25 °C).
fn davies(celsius: f64) -> f64 {
    let t = celsius;
    let epsilon = 87.74 + t * (-0.40008 + t * (9.398e-4 + t * -1.41e-6));
    1.8246e6 / libm::pow(epsilon * (t + 273.15), 1.5)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_davies_constant_has_its_handbook_values() {
        for (t, a) in [(10.0, 0.499), (20.0, 0.507), (25.0, 0.512), (30.0, 0.516)] {
            assert!((davies(t) - a).abs() < 0.004, "{} at {t}", davies(t));
        }
    }

    #[test]
    fn tabulated_values_are_met_exactly() {
        let log = [1.0, 4.0, 2.0, 8.0, 5.0];
        for (t, v) in TABULATED.iter().zip(log) {
            assert!((between(&log, *t) - v).abs() < 1e-12);
        }
    }
}
