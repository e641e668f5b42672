//! How many digits the inputs of a step are printed with.

use std::collections::BTreeMap;

use super::{Arg, Op, Sheet};
use crate::number::expression::Symbol;
use crate::number::figures::{self, DIGITS};
use crate::number::step::{Given, Step};

/// An `f64` has no more digits than this, so the search for enough of them ends.
pub(super) const MOST: usize = 17;

/// Calculations of one kind get as many digits as the one that takes most, but no more than this.
const MOST_EVEN: usize = 5;

impl Sheet {
    /// The result a reader gets from the printed numbers.
    fn pocket(&self, arg: Arg) -> f64 {
        let i = match arg {
            Arg::Bare(v) => return v,
            Arg::At(i) => i,
        };
        let node = self.nodes.borrow()[i as usize];
        match node.op {
            Op::Leaf(_) => figures::rounded(node.value, self.digits_of(node.value)),
            Op::One(op, a) => op.apply(self.pocket(a)),
            Op::Two(op, a, b) => op.apply(self.pocket(a), self.pocket(b)),
        }
    }

    /// The inputs of an expression in order, each with its number.
    fn inputs(&self, arg: Arg, into: &mut Vec<(u32, f64)>) {
        let Arg::At(i) = arg else { return };
        let node = self.nodes.borrow()[i as usize];
        match node.op {
            Op::Leaf(l) => into.push((l, node.value)),
            Op::One(_, a) => self.inputs(a, into),
            Op::Two(_, a, b) => {
                self.inputs(a, into);
                self.inputs(b, into);
            }
        }
    }

    /// An input as printed.
    fn as_printed(&self, leaf: u32, value: f64) -> Given {
        let leaf = self.leaves.borrow()[leaf as usize].clone();
        let shown = figures::with_unit(value, self.digits_of(value), leaf.unit);
        Given { symbol: leaf.symbol, what: leaf.what, shown, from: leaf.from }
    }

    /// The inputs of a step as printed, equal ones once. One symbol never stands for two numbers of a
    /// step: several inputs of one symbol are numbered, and an input with the symbol of the result is
    /// what was before.
    pub(super) fn put_in(&self, arg: Arg, result: &str) -> Vec<Given> {
        let mut inputs = Vec::new();
        self.inputs(arg, &mut inputs);
        let inputs: Vec<(u32, Given)> =
            inputs.into_iter().map(|(leaf, value)| (leaf, self.as_printed(leaf, value))).collect();
        let givens = once(inputs.iter().map(|(_, given)| given.clone()));
        let mut called = self.called.borrow_mut();
        called.clear();
        for (leaf, own) in &inputs {
            let mut same = givens.iter().filter(|g| g.symbol == own.symbol);
            let base = Symbol::of(&own.symbol).base;
            let name = match (same.clone().count(), same.position(|g| g == own)) {
                (2.., Some(at)) => format!("{base}_{}", at + 1),
                _ if own.symbol == result => format!("{base}_before"),
                _ => continue,
            };
            if givens.iter().all(|g| g.symbol != name) {
                called.insert(*leaf, name);
            }
        }
        once(inputs.into_iter().map(|(leaf, given)| match called.get(&leaf) {
            Some(name) => Given { symbol: name.clone(), ..given },
            None => given,
        }))
    }

    /// Gives the inputs as many digits as it takes for the printed numbers to give the printed
    /// result, and returns what they give.
    pub(super) fn settle_digits(&self, arg: Arg, value: f64) -> f64 {
        let wanted = figures::result(value);
        let mut digits = DIGITS;
        loop {
            self.digits.set(digits);
            let pocket = self.pocket(arg);
            if digits == MOST || figures::result(pocket) == wanted {
                return pocket;
            }
            digits += 1;
        }
    }

    /// Gives the inputs of all steps of one kind equally many digits, where the printed result stays
    /// true: they stand in one column, and a number that is met twice looks the same. Where that would be too
    /// many, only a number that is met twice.
    pub(super) fn even_out(&self) {
        let mut steps = self.steps.borrow_mut();
        let worked = self.worked.borrow();
        let kind = |step: &Step| (step.id, step.card.id, step.formula.clone());
        let mut most: BTreeMap<_, usize> = BTreeMap::new();
        let mut most_of: BTreeMap<_, usize> = BTreeMap::new();
        let values = |arg: Arg| {
            let mut inputs = Vec::new();
            self.inputs(arg, &mut inputs);
            inputs.into_iter().map(|(_, value)| value.to_bits())
        };
        for (step, (arg, digits)) in steps.iter().zip(worked.iter()) {
            let most = most.entry(kind(step)).or_default();
            *most = (*most).max(*digits);
            for value in values(*arg) {
                let most = most_of.entry((kind(step), value)).or_default();
                *most = (*most).max(*digits);
            }
        }
        for (step, (arg, digits)) in steps.iter_mut().zip(worked.iter()) {
            let kind = kind(step);
            let even = most[&kind] <= MOST_EVEN;
            let of = |value: u64| (value, most_of[&(kind.clone(), value)]);
            let finer = values(*arg).map(of).filter(|(_, most)| !even && most > digits);
            let finer: BTreeMap<u64, usize> = finer.collect();
            // Beside these the others may need more, too.
            let most = most[&kind];
            let least = if even { most } else { *digits };
            if least == *digits && finer.is_empty() {
                continue;
            }
            *self.finer.borrow_mut() = finer;
            let _ = (least..=most).any(|digits| {
                self.digits.set(digits);
                self.set_again(step, *arg)
            });
        }
        self.finer.borrow_mut().clear();
    }

    /// Sets a step with the digits of the moment, if they give the printed result, too.
    fn set_again(&self, step: &mut Step, arg: Arg) -> bool {
        let pocket = self.pocket(arg);
        if figures::result(pocket) != figures::result(step.value) {
            return false;
        }
        let givens = self.put_in(arg, &step.symbol);
        let expression = self.expression(arg);
        // More digits may part what looked equal; then it would be another formula.
        if expression.text(false) == step.formula {
            step.numbers = expression.text(true);
            (step.givens, step.expression, step.pocket) = (givens, expression, pocket);
        }
        true
    }

    /// How many digits a number is printed with.
    pub(super) fn digits_of(&self, value: f64) -> usize {
        let finer = self.finer.borrow().get(&value.to_bits()).copied();
        finer.unwrap_or_else(|| self.digits.get())
    }
}

/// Equal ones once.
fn once(givens: impl Iterator<Item = Given>) -> Vec<Given> {
    let mut all = Vec::new();
    for given in givens {
        if !all.contains(&given) {
            all.push(given);
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::super::Sheet;
    use crate::number::{Card, Datum, Formula, Name, Number, Origin, Pen, Step, unit};

    struct Volume<N> {
        area: N,
        height: N,
    }
    impl<N: Number> Formula<N> for Volume<N> {
        const CARD: Card = Card { id: "volume", says: "", unit: unit::LITRE, source: "", at: "" };
        fn value(self) -> N {
            self.area * self.height
        }
    }

    fn steps(pairs: &[[f64; 2]]) -> Vec<Step> {
        let sheet = Sheet::new();
        for [area, height] in pairs {
            let given = |symbol, value, unit| {
                sheet.given(&Datum { symbol, what: "", value, unit, origin: Origin::Plan })
            };
            let area = given("A", *area, unit::SQUARE_METRE);
            let formula = Volume { area, height: given("h", *height, unit::MILLIMETRE) };
            sheet.work(&Name::new("volume", "V", ""), formula);
        }
        sheet.into_steps()
    }

    /// 0.109652 × 499.721 is 54.80; with five digits it would be 54.79. 0.1097 × 100 would do for 10.97.
    #[test]
    fn where_one_takes_many_only_what_is_met_twice_is_even() {
        let all = steps(&[[0.109652, 499.721], [0.109652, 100.0], [0.21344, 100.0]]);
        let shown: Vec<&str> = all.iter().map(|step| step.numbers.as_str()).collect();
        let even = ["0.109652 m² × 499.721 mm", "0.109652 m² × 100 mm", "0.2134 m² × 100 mm"];
        assert_eq!(shown, even);
    }

    /// 0.2134 × 100 is 21.34 as 0.21344 × 100 is; 0.2134 × 150 is 32.01, but 0.21344 × 150 is 32.02.
    #[test]
    fn a_number_met_twice_looks_the_same() {
        let alone = steps(&[[0.21344, 100.0]]);
        assert_eq!(alone[0].numbers, "0.2134 m² × 100 mm");
        let both = steps(&[[0.21344, 100.0], [0.21344, 150.0]]);
        assert_eq!(both[0].numbers, "0.21344 m² × 100 mm");
        assert_eq!(both[1].numbers, "0.21344 m² × 150 mm");
        assert_eq!(both[0].result, alone[0].result);
    }
}
