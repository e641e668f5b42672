//! What a class practises on a plan, and the mistakes that are likely.

use crate::number::{Step, figures};

/// What a class practises, and the calculations it practises it on.
pub(super) struct Topic {
    /// Its key in `[class]` of a plan.
    pub(super) key: &'static str,
    pub(super) title: &'static str,
    pub(super) goal: &'static str,
    pub(super) cards: &'static [&'static str],
}

pub(super) const TOPICS: [Topic; 5] = [
    Topic {
        key: "volume",
        title: "How much a bin holds",
        goal: "area, volume, changing units, reading a formula",
        cards: &[
            "pot-bottom",
            "start-line",
            "ceiling",
            "box-area",
            "tapered-box-area",
            "diameter-at",
            "round-area",
            "straight-volume",
            "tapered-volume",
            "measured-volume",
            "level-per-litre",
        ],
    },
    Topic {
        key: "mixing",
        title: "What to stir in",
        goal: "rates and proportion, percentages, from a label to the element",
        cards: &[
            "chosen-spoons",
            "chosen-mass",
            "chosen-volume",
            "spoon-rate",
            "feed-mass",
            "feed-volume",
            "spoons",
            "element-share",
            "element-added",
            "element-sum",
            "pails",
            "bottle-content",
            "share-dissolved",
        ],
    },
    Topic {
        key: "acidity",
        title: "Bringing pH into range",
        goal: "scaling a trial, amount of substance, dosing in parts",
        cards: &[
            "trial-reading",
            "scaled-dose",
            "first-part",
            "bottle-strength",
            "dose-volume",
            "dose-mass",
            "added-by-dose",
            "swap",
            "feed-more",
        ],
    },
    Topic {
        key: "water",
        title: "Will the water last?",
        goal: "estimating with a band, growth that is not linear, balances",
        cards: &[
            "crop-water",
            "loss",
            "share-drunk",
            "share-with-cover",
            "share-of",
            "between",
            "plants-carried",
            "filling-needed",
            "uptake-rate",
            "drifted",
            "sowing-interval",
            "bins-in-turn",
        ],
    },
    Topic {
        key: "air",
        title: "Air and light",
        goal: "exponential curves, rates, what a model leaves out",
        cards: &[
            "saturation-pressure",
            "vapour-deficit",
            "daily-light",
            "lamp-energy",
            "mass-water",
            "light-caught",
            "canopy-use",
            "canopy-water",
            "month-water",
        ],
    },
];

/// A likely mistake and what it makes of the answer.
pub(super) struct Slip {
    card: &'static str,
    effect: Effect,
    says: &'static str,
}

enum Effect {
    /// The result times this.
    Times(f64),
    /// Without the factor of this symbol.
    Without(&'static str),
    /// Upside down.
    Inverse,
    /// The second number taken away instead of added.
    Minus,
}

pub(super) const SLIPS: [Slip; 11] = [
    Slip {
        card: "round-area",
        effect: Effect::Times(4.0),
        says: "took the diameter for the radius",
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
    Slip {
        card: "spoons",
        effect: Effect::Times(4.929),
        says: "wrote millilitres instead of teaspoons",
    },
    Slip {
        card: "spoon-rate",
        effect: Effect::Times(3.785),
        says: "forgot the litres of a gallon",
    },
    Slip { card: "feed-mass", effect: Effect::Times(0.2642), says: "took the litres for gallons" },
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
    Slip { card: "scaled-dose", effect: Effect::Inverse, says: "divided the wrong way round" },
    Slip {
        card: "daily-light",
        effect: Effect::Times(1.0 / 3.6),
        says: "forgot that an hour has 3600 seconds",
    },
];

impl Slip {
    /// What the mistake makes of a step, in words; `None` if it is another step or changes nothing.
    pub(super) fn of(&self, step: &Step) -> Option<String> {
        if step.card.id != self.card {
            return None;
        }
        let number = |symbol: &str| {
            let own = step.givens.iter().find(|g| g.symbol == symbol)?;
            let value = figures::read(own.shown.split(' ').next()?);
            (value.is_finite() && value != 0.0).then_some(value)
        };
        let wrong = match self.effect {
            Effect::Times(f) => step.value * f,
            Effect::Without(symbol) => step.value / number(symbol)?,
            Effect::Inverse => 1.0 / step.value,
            Effect::Minus => step.value - 2.0 * number(&step.givens.get(1)?.symbol)?,
        };
        let same = (wrong / step.value - 1.0).abs() < 0.02;
        let shown = figures::plain(wrong, 3);
        (!same && wrong.is_finite()).then(|| format!("{shown}: {}", self.says))
    }
}
