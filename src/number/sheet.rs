//! The worked sheet: every formula that is worked on it leaves a [`Step`] that can be printed.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

mod digits;

use super::expression::{Expression, Symbol};
use super::figures::{self, DIGITS};
use super::formula::{Card, Datum, Formula, Name, Origin, Pen};
use super::step::{From, Step};
use super::traced::{One, Traced, Two};
use super::unit::{Dimension, Unit};

/// One side of an operation.
#[derive(Debug, Clone, Copy)]
pub(super) enum Arg {
    Bare(f64),
    At(u32),
}

#[derive(Debug, Clone, Copy)]
pub(super) enum Op {
    Leaf(u32),
    One(One, Arg),
    Two(Two, Arg, Arg),
}

#[derive(Debug, Clone, Copy)]
struct Node {
    op: Op,
    value: f64,
    dimension: Dimension,
}

#[derive(Debug, Clone)]
struct Leaf {
    symbol: String,
    what: String,
    unit: Unit,
    from: From,
}

/// A worked sheet.
#[derive(Debug, Default)]
pub struct Sheet {
    nodes: RefCell<Vec<Node>>,
    leaves: RefCell<Vec<Leaf>>,
    steps: RefCell<Vec<Step>>,
    faults: RefCell<Vec<String>>,
    scope: RefCell<String>,
    part: Cell<&'static str>,
    digits: Cell<usize>,
    /// Numbers (as bits) that have more at the moment.
    finer: RefCell<BTreeMap<u64, usize>>,
    /// What each step worked, and the digits its inputs have.
    worked: RefCell<Vec<(Arg, usize)>>,
    /// Inputs that are called otherwise in the step of the moment.
    called: RefCell<BTreeMap<u32, String>>,
}

impl Sheet {
    /// An empty sheet.
    #[must_use]
    pub fn new() -> Self {
        Self { digits: Cell::new(DIGITS), ..Self::default() }
    }

    /// Says what the following steps are about: the grow, a batch or a bin, by name.
    pub fn about(&self, scope: &str) {
        scope.clone_into(&mut self.scope.borrow_mut());
    }

    /// Says which part of the working the following steps belong to.
    pub fn part(&self, title: &'static str) {
        self.part.set(title);
    }

    /// The steps so far.
    #[must_use]
    pub fn into_steps(self) -> Vec<Step> {
        self.even_out();
        self.steps.into_inner()
    }

    pub(super) fn push(&self, op: Op, value: f64, dimension: Dimension) -> u32 {
        let mut nodes = self.nodes.borrow_mut();
        nodes.push(Node { op, value, dimension });
        index(nodes.len() - 1)
    }

    pub(super) fn fault(&self, fault: String) {
        self.faults.borrow_mut().push(fault);
    }

    pub(super) fn node(&self, arg: Arg) -> (f64, Dimension) {
        match arg {
            Arg::Bare(v) => (v, Dimension::NONE),
            Arg::At(i) => {
                let node = &self.nodes.borrow()[i as usize];
                (node.value, node.dimension)
            }
        }
    }

    /// The expression in symbols.
    pub(super) fn text(&self, arg: Arg) -> String {
        self.expression(arg).text(false)
    }

    /// What was worked before under this name, about what is being worked now.
    #[must_use]
    pub fn before(&self, name: &Name<'_>) -> Option<Traced<'_>> {
        let steps = self.steps.borrow();
        let scope = self.scope.borrow();
        let same = |s: &Step| s.id == name.id && s.item == name.item && s.scope == *scope;
        let at = steps.iter().position(same)?;
        let (value, unit) = (steps[at].value, steps[at].card.unit);
        Some(self.outcome(name, unit, at, value))
    }

    fn outcome(&self, name: &Name<'_>, unit: Unit, at: usize, value: f64) -> Traced<'_> {
        let (symbol, what) = (name.symbol.into(), name.what.into());
        self.leaf(Leaf { symbol, what, unit, from: From::Step(at) }, value)
    }

    fn leaf(&self, leaf: Leaf, value: f64) -> Traced<'_> {
        let dimension = leaf.unit.dimension;
        let mut leaves = self.leaves.borrow_mut();
        leaves.push(leaf);
        Traced::At(self, self.push(Op::Leaf(index(leaves.len() - 1)), value, dimension))
    }

    /// The expression as a tree, its numbers in the digits of the moment.
    fn expression(&self, arg: Arg) -> Expression {
        let i = match arg {
            Arg::Bare(v) => return Expression::Bare { number: figures::plain(v, digits::MOST) },
            Arg::At(i) => i,
        };
        let node = self.nodes.borrow()[i as usize];
        let inner = |a| Box::new(self.expression(a));
        match node.op {
            Op::Leaf(l) => {
                let leaf = &self.leaves.borrow()[l as usize];
                let number = figures::plain(node.value, self.digits_of(node.value));
                let called = self.called.borrow();
                let symbol = Symbol::of(called.get(&l).unwrap_or(&leaf.symbol));
                Expression::Given { symbol, number, unit: leaf.unit.text.into() }
            }
            Op::One(One::Neg, a) => Expression::Negative { of: inner(a) },
            Op::One(One::Exp, a) => Expression::Exponential { of: inner(a) },
            Op::One(One::Ln, a) => Expression::Logarithm { of: inner(a) },
            Op::One(One::Sqrt, a) => Expression::Root { of: inner(a) },
            Op::Two(op, a, b) => match op {
                Two::Add => self.expression(a).plus(false, self.expression(b)),
                Two::Sub => self.expression(a).plus(true, self.expression(b)),
                Two::Mul => self.expression(a).times(self.expression(b)),
                Two::Div => Expression::Ratio { over: inner(a), under: inner(b) },
                Two::Max => Expression::Choice { larger: true, of: [inner(a), inner(b)] },
                Two::Min => Expression::Choice { larger: false, of: [inner(a), inner(b)] },
            },
        }
    }

    fn step(&self, name: &Name<'_>, card: Card, arg: Arg) -> Step {
        let (value, dimension) = self.node(arg);
        if !dimension.same(card.unit.dimension) {
            self.fault(format!("{}: the result is not in {}", card.id, card.unit.text));
        }
        if !value.is_finite() {
            self.fault(format!("{}: the result is no number", card.id));
        }
        let pocket = self.settle_digits(arg, value);
        let givens = self.put_in(arg, name.symbol);
        let expression = self.expression(arg);
        Step {
            scope: self.scope.borrow().clone(),
            part: self.part.get(),
            id: name.id,
            item: name.item.into(),
            what: name.what,
            card,
            symbol: name.symbol.into(),
            formula: expression.text(false),
            numbers: expression.text(true),
            expression,
            result: figures::join(&figures::result(value), card.unit.text),
            value,
            pocket,
            givens,
            faults: std::mem::take(&mut self.faults.borrow_mut()),
        }
    }
}

impl<'s> Pen for &'s Sheet {
    type N = Traced<'s>;

    fn given(self, datum: &Datum<'_>) -> Traced<'s> {
        let from = match datum.origin {
            Origin::Plan => From::Plan,
            Origin::Label => From::Label,
            Origin::Found => From::Found,
            Origin::Data(source, at) => From::Data(source.into(), at.into()),
        };
        let (symbol, what) = (datum.symbol.into(), datum.what.into());
        self.leaf(Leaf { symbol, what, unit: datum.unit, from }, datum.value)
    }

    fn work<F: Formula<Traced<'s>>>(self, name: &Name<'_>, formula: F) -> Traced<'s> {
        let arg = formula.value().arg();
        let step = self.step(name, F::CARD, arg);
        let (value, unit) = (step.value, step.card.unit);
        self.worked.borrow_mut().push((arg, self.digits.get()));
        let at = self.steps.borrow().len();
        self.steps.borrow_mut().push(step);
        self.outcome(name, unit, at, value)
    }
}

fn index(i: usize) -> u32 {
    u32::try_from(i).expect("a sheet holds fewer than four thousand million nodes")
}
