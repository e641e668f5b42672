//! A calculation as it is printed.

use super::expression::Expression;
use super::formula::Card;

/// Where a number in a step comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum From {
    /// The grower's plan.
    Plan,
    /// The label of the product, as the plan repeats it.
    Label,
    /// Found by trial and checked in this step.
    Found,
    /// Reference data: source key and place.
    Data(String, String),
    /// The result of an earlier step, by its index.
    Step(usize),
}

/// A number that was put into a step.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// Symbol, `base` or `base_sub`.
    pub symbol: String,
    /// What it is, in words.
    pub what: String,
    /// The number with its unit, as printed.
    pub shown: String,
    /// Where it comes from.
    pub from: From,
}

/// One calculation, as it is printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What the calculation is about: the grow, a batch or a bin, by name.
    pub scope: String,
    /// Title of the part of the working it belongs to; may be empty.
    pub part: &'static str,
    /// Quantity id, kebab-case.
    pub id: &'static str,
    /// Which of several in this scope, or empty.
    pub item: String,
    /// What the quantity is.
    pub what: &'static str,
    /// The formula's card.
    pub card: Card,
    /// Symbol of the result.
    pub symbol: String,
    /// The formula as a tree, with symbols and numbers.
    pub expression: Expression,
    /// The formula in symbols.
    pub formula: String,
    /// The formula with the numbers put in.
    pub numbers: String,
    /// The result as printed, with its unit.
    pub result: String,
    /// The result (`card.unit`).
    pub value: f64,
    /// What a pocket calculator makes of the printed numbers (`card.unit`).
    pub pocket: f64,
    /// The numbers put in, in order of first use.
    pub givens: Vec<Given>,
    /// Unlike units added, a result that is not in the card's unit, a result that is no number.
    pub faults: Vec<String>,
}
