//! What a class practises on a plan, and the mistakes that are likely.

use super::accept;
use crate::number::figures::System;
use crate::number::{Expression, Step, figures};

/// What a class practises, and the calculations it practises it on.
pub(super) struct Topic {
    /// Its key in `[class]` of a plan.
    pub(super) key: &'static str,
    pub(super) title: &'static str,
    /// Each goal with the calculations that practise it.
    goals: &'static [(&'static str, &'static [&'static str])],
}

impl Topic {
    /// Whether a calculation belongs to it, by its card.
    pub(super) fn has(&self, card: &str) -> bool {
        self.goals.iter().any(|(_, cards)| cards.contains(&card))
    }

    /// What these calculations practise.
    pub(super) fn goals(&self, steps: &[&Step]) -> String {
        let met = |cards: &[&str]| steps.iter().any(|s| cards.contains(&s.card.id));
        let goals = self.goals.iter().filter(|(_, cards)| met(cards));
        goals.map(|(says, _)| *says).collect::<Vec<_>>().join(", ")
    }
}

pub(super) const TOPICS: [Topic; 5] = [
    Topic {
        key: "volume",
        title: "How much a bin holds",
        goals: &[
            ("lengths that add up", &["pot-bottom", "start-line", "ceiling"]),
            (
                "areas and proportion",
                &["box-area", "tapered-box-area", "diameter-at", "round-area"],
            ),
            ("volumes", &["straight-volume", "tapered-volume", "measured-volume"]),
            ("how fast a level falls", &["level-per-litre"]),
        ],
    },
    Topic {
        key: "mixing",
        title: "What to stir in",
        goals: &[
            (
                "rates and proportion",
                &[
                    "chosen-spoons",
                    "chosen-mass",
                    "chosen-volume",
                    "spoon-rate",
                    "liquid-mass",
                    "feed-mass",
                    "feed-volume",
                    "spoons",
                ],
            ),
            ("from a label to the element", &["element-share", "element-added", "element-sum"]),
            ("full pails and what is left over", &["pails", "part-pail"]),
            ("how strong a solution is", &["bottle-content", "share-dissolved"]),
        ],
    },
    Topic {
        key: "acidity",
        title: "Bringing pH into range",
        goals: &[
            ("reading a curve", &["trial-reading"]),
            ("scaling a trial", &["scaled-dose"]),
            ("dosing in parts", &["first-part"]),
            (
                "amount of substance",
                &["bottle-strength", "dose-volume", "dose-mass", "added-by-dose"],
            ),
            ("putting right what is too much or too little", &["swap", "feed-more"]),
        ],
    },
    Topic {
        key: "water",
        title: "Will the water last?",
        goals: &[
            ("estimating", &["crop-water", "loss", "plants-carried", "filling-needed"]),
            ("growth that is not linear", &["share-drunk", "share-with-cover"]),
            ("shares", &["share-of"]),
            ("balances", &["between", "uptake-rate", "drifted"]),
            ("planning in turn", &["sowing-interval", "bins-in-turn"]),
        ],
    },
    Topic {
        key: "air",
        title: "Air and light",
        goals: &[
            ("exponential curves", &["saturation-pressure", "vapour-deficit", "light-caught"]),
            ("rates", &["daily-light", "lamp-energy", "mass-water"]),
            ("a model built step by step", &["canopy-use", "canopy-water", "month-water"]),
        ],
    },
];

/// What helps with a calculation that has all of these pieces in its printed formula or numbers.
const HINTS: [(&[&str], &str); 6] = [
    (&[" m²"], "A square metre times a millimetre is a litre."),
    (&[" g/L", " mg/g"], "g/L times mg/g is mg/L."),
    (&[" mg/g", " g/mL", " g/mol"], "mg/g times g/mL over g/mol is mmol/mL."),
    (&[" mmol/L", " g/mol"], "mmol/L times g/mol is mg/L."),
    (
        &["exp("],
        "exp(x), also written e to the power of x, is a key of the calculator; e is about 2.718.",
    ),
    (&["ln("], "ln, the natural logarithm, is a key of the calculator."),
];

/// What helps with these calculations.
pub(super) fn hints(steps: &[&Step]) -> Vec<&'static str> {
    let has = |step: &Step, piece: &str| {
        let ends = |text: &str| text.split(piece).skip(1).any(|rest| !rest.starts_with('/'));
        ends(&step.formula) || ends(&step.numbers)
    };
    let met = |pieces: &[&str]| steps.iter().any(|s| pieces.iter().all(|piece| has(s, piece)));
    let hints = HINTS.iter().filter(|(pieces, _)| met(pieces));
    hints.map(|(_, says)| *says).collect()
}

/// What is counted: calculations whose result has no unit, and what it is a number of.
const COUNTED: [(&str, &str); 3] =
    [("pails", "pails"), ("plants-carried", "plants"), ("bins-in-turn", "bins")];

/// The unit of a result, or what is counted; empty for a share and for pH.
pub(super) fn unit(step: &Step) -> &'static str {
    let counted = COUNTED.iter().find(|(card, _)| *card == step.card.id);
    counted.map_or(step.card.unit.text, |(_, what)| what)
}

/// Whether there is nothing to work out: nothing times something, a number over itself, a share of
/// all.
pub(super) fn trivial(step: &Step) -> bool {
    let number = |e: &Expression| {
        let (Expression::Bare { number } | Expression::Given { number, .. }) = e else {
            return None;
        };
        Some(number.clone())
    };
    let is = |e: &Expression, text: &str| number(e).is_some_and(|n| n == text);
    let dull = if let Expression::Ratio { over, under } = &step.expression {
        number(over).is_some() && number(over) == number(under)
    } else if let Expression::Product { factors } = &step.expression {
        matches!(&factors[..], [a, b] if is(a, "1") || is(b, "1"))
    } else if let Expression::Sum { terms } = &step.expression {
        matches!(&terms[..], [a, b] if is(&a.of, "0") || is(&b.of, "0"))
    } else {
        false
    };
    dull || ["0", "1"].contains(&step.result.as_str()) || step.result.starts_with("0 ")
}

/// A likely mistake and what it makes of the answer.
pub(super) struct Slip {
    card: &'static str,
    effect: Effect,
    pub(super) says: &'static str,
}

enum Effect {
    /// The result times this.
    Times(f64),
    /// The same, where a class also meets gallons.
    TimesInGallons(f64),
    /// Without the factor of this symbol.
    Without(&'static str),
    /// Upside down.
    Inverse,
    /// The first number divided by the ratio it is to be multiplied by.
    Turned,
    /// The second number taken away instead of added.
    Minus,
}

pub(super) const SLIPS: [Slip; 11] = [
    Slip {
        card: "round-area",
        effect: Effect::Times(4.0),
        says: "forgot to divide by 4, as if the diameter were the radius",
    },
    Slip {
        card: "element-added",
        effect: Effect::Without("f"),
        says: "took the oxide on the label for the element",
    },
    Slip {
        card: "element-added",
        effect: Effect::Times(0.1),
        says: "put in per cent instead of mg/g",
    },
    Slip { card: "spoons", effect: Effect::Inverse, says: "divided the wrong way round" },
    Slip {
        card: "spoon-rate",
        effect: Effect::Times(3.785),
        says: "forgot to divide by the litres of a gallon",
    },
    Slip {
        card: "feed-mass",
        effect: Effect::TimesInGallons(0.2642),
        says: "put in gallons where litres belong",
    },
    Slip {
        card: "level-per-litre",
        effect: Effect::Inverse,
        says: "turned it upside down: litres for a millimetre",
    },
    Slip {
        card: "start-line",
        effect: Effect::Minus,
        says: "took the immersion away instead of adding it",
    },
    Slip {
        card: "crop-water",
        effect: Effect::Without("n"),
        says: "forgot how many plants there are",
    },
    Slip { card: "scaled-dose", effect: Effect::Turned, says: "divided the wrong way round" },
    Slip {
        card: "daily-light",
        effect: Effect::Without("c"),
        says: "left out the factor that turns micromoles a second into moles an hour",
    },
];

impl Slip {
    /// What the mistake makes of a step, as printed; `None` if it is another step, changes nothing,
    /// or is not likely where a plan has these units.
    pub(super) fn of(&self, step: &Step, system: System) -> Option<String> {
        if step.card.id != self.card {
            return None;
        }
        let number = |symbol: &str| {
            let own = step.givens.iter().find(|g| g.symbol == symbol)?;
            let value = figures::read(own.shown.split(' ').next()?);
            (value.is_finite() && value != 0.0).then_some(value)
        };
        let nth = |i: usize| number(&step.givens.get(i)?.symbol);
        let wrong = match self.effect {
            Effect::Times(f) => step.pocket * f,
            Effect::TimesInGallons(f) if system == System::Us => step.pocket * f,
            Effect::TimesInGallons(_) => return None,
            Effect::Without(symbol) => step.pocket / number(symbol)?,
            Effect::Inverse => 1.0 / step.pocket,
            Effect::Turned => nth(0)? * nth(0)? / step.pocket,
            Effect::Minus => step.pocket - 2.0 * nth(1)?,
        };
        (wrong.is_finite() && !accept::within(wrong, step)).then(|| figures::plain(wrong, 4))
    }
}
