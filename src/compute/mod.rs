//! Which formulas, on which parts of the plan, in which order: [`compute`] turns a plan into
//! [`Results`] and the working behind them.

use crate::finding::{Finding, Findings, Severity};
use crate::library::Library;
use crate::number::{Datum, Origin, Pen, Sheet, Step, Traced, Unit};
use crate::plan::{Bin, Plan};

pub mod acidity;
mod advice;
mod ahead;
mod aim;
pub mod balance;
mod caution;
pub mod chemistry;
pub mod cleaning;
pub mod climate;
pub mod concentrate;
pub mod correction;
pub mod dates;
pub mod dose;
pub mod drift;
pub mod ensemble;
mod feed;
pub mod fill;
mod forecast;
pub mod gauge;
mod ingredients;
pub mod jar;
pub mod lid;
pub mod mixing;
pub mod pails;
pub mod quantity;
mod reagent;
pub mod recipe;
pub mod review;
pub mod season;
mod stretch;
pub mod supply;
pub mod thirst;
mod total;
mod walk;
pub mod weather;

pub use acidity::Acidity;
pub use chemistry::Chemistry;
pub use cleaning::Cleaning;
pub use climate::Climate;
pub use dates::Dates;
pub use dose::Dose;
pub use drift::Drift;
pub use ensemble::Odds;
pub use fill::Fill;
pub use jar::Jar;
pub use mixing::Mixing;
pub use quantity::Quantity;
pub use season::Season;
pub use supply::Supply;
pub use thirst::Thirst;

/// From low to high, with what to plan for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Low end.
    pub low: f64,
    /// To plan for.
    pub expected: f64,
    /// High end.
    pub high: f64,
}

/// Everything about one bin.
#[derive(Debug, Clone, PartialEq)]
pub struct BinResults {
    /// Its lines and litres.
    pub fill: Fill,
    /// Its days.
    pub dates: Dates,
    /// What a plant of each of its crops drinks.
    pub thirst: Vec<Thirst>,
    /// Its water through the season.
    pub season: Season,
    /// How often it runs dry.
    pub odds: Odds,
    /// What is left in its solution, where the feeds are known.
    pub drift: Option<Drift>,
}

/// Everything computed from a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Results {
    /// Bins, in the plan's order.
    pub bins: Vec<BinResults>,
    /// Mixing of each solution, in the plan's order.
    pub mixing: Vec<Mixing>,
    /// pH of each solution, in the plan's order.
    pub acidity: Vec<Acidity>,
    /// Chemistry of each solution, where water and feed are known.
    pub chemistry: Vec<Option<Chemistry>>,
    /// What jar and water report tell together, for each solution, where both are there.
    pub jars: Vec<Option<Jar>>,
    /// The dose that counts, for each solution, where something gives one.
    pub doses: Vec<Option<Dose>>,
    /// Air and light around the bins.
    pub climate: Climate,
    /// A steady supply, if the plan wants one.
    pub supply: Option<Supply>,
    /// Cleaning of each bin, in the plan's order.
    pub cleaning: Cleaning,
    /// All the solution (L).
    pub total: f64,
    /// Every calculation, in the order it was worked.
    pub steps: Vec<Step>,
    /// Every computed quantity.
    pub quantities: Vec<Quantity>,
}

/// Works a plan.
#[must_use]
pub fn compute(plan: &Plan, library: &'static Library, findings: &Findings) -> Results {
    let sheet = Sheet::new();
    let desk = Desk { sheet: &sheet, plan, library, findings };
    let fill = |bin: &Bin| {
        sheet.about(&bin_scope(&bin.name));
        fill::work(&sheet, bin, library)
    };
    let fills: Vec<fill::Worked<'_>> = plan.bins.iter().map(fill).collect();
    let Batches { mixing, acidity, chemistry, jars, doses } = batches(&desk, &fills);
    let around = thirst::around(&desk);
    let taken = |mix: usize| drift::uptake(&desk, mix, around, &mixing[mix].elements);
    let taken: Vec<_> = (0..plan.mixes.len()).map(taken).collect();
    let draws = draws(plan);
    let season = |(bin, fill): (usize, &fill::Worked<'_>)| {
        let mix = plan.bins[bin].mix;
        of_bin(&desk, (around, &draws), (bin, fill), (&mixing[mix].elements, &taken[mix]))
    };
    let bins: Vec<BinResults> = fills.iter().enumerate().map(season).collect();
    let climate = climate::work(&desk, around, &bins);
    let supply = supply::work(&desk);
    advice::on_bins(&desk, climate.dli, &bins);
    let cleaning = cleaning::work(&sheet, plan, &fills, library);
    let total = fills.iter().map(|f| f.plain.start_volume).sum();
    drop(fills);
    let (steps, quantities) = (sheet.into_steps(), Vec::new());
    let results = Results {
        bins,
        mixing,
        acidity,
        chemistry,
        jars,
        doses,
        climate,
        supply,
        cleaning,
        total,
        steps,
        quantities,
    };
    Results { quantities: quantity::all(plan, &results), ..results }
}

/// Draws for the longest season of the plan.
fn draws(plan: &Plan) -> ensemble::Draws {
    let longest = plan.bins.iter().map(|b| dates::dates(b, &plan.checks).days).max();
    ensemble::Draws::new(longest.and_then(|d| usize::try_from(d).ok()).unwrap_or(0))
}

/// Everything about the solutions, in the plan's order.
struct Batches {
    mixing: Vec<Mixing>,
    acidity: Vec<Acidity>,
    chemistry: Vec<Option<Chemistry>>,
    jars: Vec<Option<Jar>>,
    doses: Vec<Option<Dose>>,
}

fn batches<'s>(desk: &Desk<'s>, fills: &[fill::Worked<'s>]) -> Batches {
    let mixes = 0..desk.plan.mixes.len();
    let mixed = |mix: usize| mixing::work(desk, mix, fills, recipe::find(desk, mix).as_ref());
    desk.sheet.part("What is stirred in");
    let mixing: Vec<Mixing> = mixes.clone().map(mixed).collect();
    total::of_grow(desk, fills);
    desk.sheet.part("pH and conductivity");
    let acidity: Vec<Acidity> = mixes.clone().map(|mix| acidity::work(desk, mix, fills)).collect();
    let of_jar = |mix: usize| jar::work(desk, mix, fills, &mixing[mix], &acidity[mix]);
    let jars: Vec<Option<Jar>> = mixes.clone().map(of_jar).collect();
    let of_mix =
        |mix: usize| chemistry::work(desk, mix, fills, (&mixing[mix], &acidity[mix], &jars[mix]));
    let chemistry: Vec<Option<Chemistry>> = mixes.clone().map(of_mix).collect();
    let dose = |mix: usize| {
        let tells = (&acidity[mix], jars[mix].as_ref(), chemistry[mix].as_ref());
        dose::work(desk.plan, &desk.library.limits, tells)
    };
    let doses = mixes.map(dose).collect();
    Batches { mixing, acidity, chemistry, jars, doses }
}

/// Days, thirst and season of one bin.
fn of_bin<'s>(
    desk: &Desk<'s>,
    (around, draws): (thirst::Around<'s>, &ensemble::Draws),
    (index, fill): (usize, &fill::Worked<'s>),
    (elements, taken): (&[mixing::Added], &[(String, Traced<'s>)]),
) -> BinResults {
    let bin = &desk.plan.bins[index];
    let dates = dates::dates(bin, &desk.plan.checks);
    let thirst = thirst::work(desk, around, bin, &dates);
    let with = (desk.library, desk.findings, desk.plan.system);
    let renew =
        |checks: &[season::Check]| drift::spent(fill.plain.start_volume, elements, taken, checks);
    let season = season::work(desk.sheet, bin, fill, &dates, &thirst, renew, with);
    let thirst: Vec<Thirst> = thirst.into_iter().map(|t| t.plain).collect();
    let litres: Vec<f64> = thirst.iter().map(|t| t.litres.expected).collect();
    let drunk = |day| season::drunk(bin, &litres, day);
    let volume = |h| fill::liquid(bin, desk.library, h);
    let course = ensemble::Course::new(&fill.plain, &season, dates.days, drunk, volume);
    let odds = course.odds(draws);
    let drift = drift::work(desk, index, (&fill.plain, &season), elements, taken);
    BinResults { fill: fill.plain.clone(), dates, season, thirst, odds, drift }
}

/// Scope of the grow as a whole.
pub const GROW: &str = "grow";

/// Scope of a bin.
#[must_use]
pub fn bin_scope(name: &str) -> String {
    format!("bin/{name}")
}

/// Scope of a batch of solution.
#[must_use]
pub fn batch_scope(name: &str) -> String {
    format!("batch/{name}")
}

/// What every part of the computing works with.
#[derive(Clone, Copy)]
pub(crate) struct Desk<'s> {
    sheet: &'s Sheet,
    plan: &'s Plan,
    library: &'s Library,
    findings: &'s Findings,
}

impl Desk<'_> {
    /// Says something for the terminal only.
    fn note(&self, code: &'static str, place: &std::ops::Range<usize>, [what, help]: [&str; 2]) {
        let finding = Finding::new(Severity::Note, code, what, help);
        self.findings.add(finding.at(place.clone(), "here"));
    }

    /// Says something that the booklet prints.
    fn caution(
        &self,
        code: &'static str,
        place: &std::ops::Range<usize>,
        message: String,
        help: &str,
    ) {
        let finding = Finding::new(Severity::Caution, code, message, help);
        self.findings.add(finding.at(place.clone(), "here"));
    }
}

fn take<'s>(
    sheet: &'s Sheet,
    symbol: &str,
    what: &str,
    value: f64,
    unit: Unit,
    origin: Origin<'_>,
) -> Traced<'s> {
    sheet.given(&Datum { symbol, what, value, unit, origin })
}
