//! Free components, ion pairs and activities of a solution at a given pH.
//!
//! The mass balances are swept in turn by cations and anions: a pair is always of one of each, so
//! each sweep solves all of one sign exactly, and what is left shrinks to about a tenth.

use super::speciation::{Equilibrium, Solution};
use super::species::{COMPONENTS, Component, Constants};

const CARBONATE: usize = Component::Carbonate as usize;

/// The Davies equation stops here (mol/L).
const STRONGEST: f64 = 1.0;

/// The largest `spread`: of two components of charge 3.
const WIDEST: usize = 18;

/// A species whose components a solution has.
struct Possible {
    /// Where it stands in the table.
    at: usize,
    /// Its components by charge; `COMPONENTS`, where a 1 stands, for one it does without.
    cation: usize,
    anion: usize,
    protons: i32,
    charge: f64,
    /// Formation constant.
    k: f64,
    /// Squares of the charges of what it is made from, less its own: the power of the activity
    /// coefficient by which its amount differs from the product of activities.
    spread: usize,
}

/// What each step of a search leaves for the next to begin from.
pub(super) struct Search<'a> {
    c: &'a Constants<'a>,
    possible: Vec<Possible>,
    /// Each species per product of its components' activities, and per product of their amounts.
    at_ph: Vec<f64>,
    per: Vec<f64>,
    /// Free components (mol/L), and a 1.
    free: [f64; COMPONENTS + 1],
    /// Which of the species is carbon dioxide.
    gas: Option<usize>,
    strength: f64,
    gamma: f64,
    water: [f64; 2],
}

impl<'a> Search<'a> {
    /// A search among solutions that hold no more components than `solution`.
    pub(super) fn new(c: &'a Constants<'a>, solution: &Solution) -> Self {
        let has = |i: usize| solution.totals[i] > 0.0 || (i == CARBONATE && solution.air.is_some());
        let square = |i: usize| c.table.charge[i] * c.table.charge[i];
        let species = c.table.species.iter().zip(&c.k).enumerate();
        let held = species.filter(|(_, (s, _))| has(s.first) && s.second.is_none_or(has));
        let possible = held.map(|(at, (s, k))| {
            let other = s.second.unwrap_or(COMPONENTS);
            let positive = c.table.charge[s.first] > 0;
            let (cation, anion) = if positive { (s.first, other) } else { (other, s.first) };
            let spread = square(s.first) + s.second.map_or(0, square) - s.charge * s.charge;
            Possible {
                at,
                cation,
                anion,
                protons: s.protons,
                charge: f64::from(s.charge),
                k: *k,
                spread: usize::try_from(spread).unwrap_or(0),
            }
        });
        let possible: Vec<Possible> = possible.collect();
        let gas = |p: &Possible| p.anion == CARBONATE && p.cation == COMPONENTS && p.protons == 2;
        let mut free = [1.0; COMPONENTS + 1];
        free[..COMPONENTS].copy_from_slice(&solution.totals);
        // Ionic strength if nothing paired.
        let whole: f64 = (0..COMPONENTS).map(|i| solution.totals[i] * f64::from(square(i))).sum();
        Self {
            c,
            at_ph: vec![0.0; possible.len()],
            per: vec![0.0; possible.len()],
            gas: possible.iter().position(gas),
            possible,
            free,
            strength: (0.3 * whole).clamp(1e-6, STRONGEST),
            gamma: 1.0,
            water: [0.0; 2],
        }
    }

    /// Brings free components and activities to balance at a pH; returns the sum of all charges,
    /// which may be off by about a share `rough` of itself: its sign is sure.
    pub(super) fn settle(&mut self, solution: &Solution, ph: f64, rough: f64) -> f64 {
        let proton = libm::exp10(-ph);
        for (at_ph, p) in self.at_ph.iter_mut().zip(&self.possible) {
            *at_ph = p.k * protons(proton, p.protons);
        }
        for _ in 0..200 {
            self.gamma = coefficient(self.c.davies, self.strength);
            let mut powers = [1.0; WIDEST + 1];
            for i in 1..powers.len() {
                powers[i] = powers[i - 1] * self.gamma;
            }
            for ((per, at_ph), p) in self.per.iter_mut().zip(&self.at_ph).zip(&self.possible) {
                *per = at_ph * powers[p.spread];
            }
            self.water = [proton / self.gamma, self.c.water / proton / self.gamma];
            let moved = self.sweep(solution);
            let (charge, strength) = self.charges();
            let strength = strength.min(STRONGEST);
            let changed = (strength - self.strength).abs();
            self.strength = strength;
            let enough = rough * charge.abs();
            if moved < (enough / strength).max(1e-11) && changed < enough.max(1e-12) {
                return charge;
            }
        }
        self.charges().0
    }

    /// The mass balances: of the anions among the cations as they are, then of the cations among
    /// the anions; returns the largest relative change.
    fn sweep(&mut self, solution: &Solution) -> f64 {
        let mut bound = [0.0; COMPONENTS + 1];
        for (per, p) in self.per.iter().zip(&self.possible) {
            bound[p.anion] += per * self.free[p.cation];
        }
        let moved = self.share(solution, &bound, -1);
        let mut bound = [0.0; COMPONENTS + 1];
        for (per, p) in self.per.iter().zip(&self.possible) {
            bound[p.cation] += per * self.free[p.anion];
        }
        moved.max(self.share(solution, &bound, 1))
    }

    /// Free components of one sign, from what is bound to each mole of them.
    fn share(&mut self, solution: &Solution, bound: &[f64], sign: i32) -> f64 {
        // In the open the pressure fixes the carbon dioxide, and with it the carbonate.
        let held = solution.air.zip(self.gas).map(|(p, gas)| self.c.henry * p / self.per[gas]);
        let mut moved = 0.0_f64;
        for i in (0..COMPONENTS).filter(|i| self.c.table.charge[*i] * sign > 0) {
            let next = match held {
                Some(carbonate) if i == CARBONATE => carbonate,
                _ => solution.totals[i].max(0.0) / (1.0 + bound[i]),
            };
            if next > 0.0 {
                moved = moved.max((self.free[i] / next - 1.0).abs());
            }
            self.free[i] = next;
        }
        moved
    }

    /// The species there can be, with their amounts (mol/L).
    fn amounts(&self) -> impl Iterator<Item = (&Possible, f64)> {
        let amount = |p: &Possible, per: f64| per * self.free[p.cation] * self.free[p.anion];
        self.possible.iter().zip(&self.per).map(move |(p, per)| (p, amount(p, *per)))
    }

    /// Sum of all charges, and ionic strength (mol/L).
    fn charges(&self) -> (f64, f64) {
        let [proton, hydroxide] = self.water;
        let ions = (0..COMPONENTS).map(|i| (self.free[i], f64::from(self.c.table.charge[i])));
        let pairs = self.amounts().map(|(p, amount)| (amount, p.charge));
        let begin = (proton - hydroxide, proton + hydroxide);
        let (sum, squares) = ions.chain(pairs).fold(begin, |(sum, squares), (amount, charge)| {
            (sum + amount * charge, squares + amount * charge * charge)
        });
        (sum, 0.5 * squares)
    }

    pub(super) fn equilibrium(self, ph: f64, charge: f64) -> Equilibrium {
        let mut species = vec![0.0; self.c.k.len()];
        for (p, amount) in self.amounts() {
            species[p.at] = amount;
        }
        let free = std::array::from_fn(|i| self.free[i]);
        let Self { strength, gamma, water, .. } = self;
        Equilibrium { ph, free, species, strength, gamma, water, charge }
    }
}

/// Davies: log γ = −A z² (√I/(1 + √I) − 0.3 I), for z = 1.
fn coefficient(a: f64, strength: f64) -> f64 {
    let root = libm::sqrt(strength);
    libm::exp10(-a * (root / (1.0 + root) - 0.3 * strength))
}

/// A small whole power.
pub(super) fn power(base: f64, exponent: i32) -> f64 {
    (0..exponent).fold(1.0, |product, _| product * base)
}

/// A power of the proton's activity, also a negative one.
fn protons(activity: f64, n: i32) -> f64 {
    if n < 0 { 1.0 / power(activity, -n) } else { power(activity, n) }
}
