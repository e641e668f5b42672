//! Published problems, said as plans: the booklet prints the published answer, to its digits.

use binleaf::number::Step;
use binleaf::run;
use serde::Deserialize;

use crate::{files, sums};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Problems {
    problem: Vec<Problem>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Problem {
    plan: String,
    source: String,
    answers: Vec<Answer>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Answer {
    quantity: String,
    of: String,
    published: String,
    r#in: String,
}

impl Answer {
    /// The step that prints it.
    fn step<'a>(&self, steps: &'a [Step]) -> &'a Step {
        let own = |s: &&Step| match self.quantity.as_str() {
            // The last sum, or the only line of the label that has the element.
            "element-total" => {
                let of = |next: &str| s.item.starts_with(&format!("{}{next}", self.of));
                ["element-sum", "element-from"].contains(&s.id) && (of(" from") || of(","))
            }
            id => s.id == id && s.item.starts_with(&self.of),
        };
        let found = steps.iter().filter(own);
        let sum = found.clone().rfind(|s| s.id == "element-sum");
        sum.or(found.clone().next_back())
            .unwrap_or_else(|| panic!("{} of {}", self.quantity, self.of))
    }
}

#[test]
fn published_answers_are_printed() {
    let problems: Problems = toml::from_str(include_str!("reference/problems.toml")).unwrap();
    let plans = files("tests/plans/problems", "toml");
    assert_eq!(plans.len(), problems.problem.len(), "a plan without answers");
    let engine = sums::engine();
    for problem in problems.problem {
        assert!(!problem.source.is_empty());
        let (_, text) =
            plans.iter().find(|(p, _)| p.file_stem().unwrap() == problem.plan.as_str()).unwrap();
        let plan = run::work(text.clone(), &problem.plan);
        let booklet = sums::grower(&plan);
        sums::check(&engine, &booklet, None).unwrap();
        let (_, results) = plan.done.as_ref().unwrap();
        for answer in &problem.answers {
            let step = answer.step(&results.steps);
            // As it stands on paper, not as it was worked.
            assert!(booklet.contains(&step.result), "{} is not printed", step.result);
            let (number, unit) = step.result.split_once(' ').unwrap();
            let number: f64 = number.parse().unwrap();
            let ounce = 28.349523125;
            let printed = match (unit, answer.r#in.as_str()) {
                ("g", "oz") => number / ounce,
                (printed, wanted) if printed == wanted => number,
                other => panic!("{other:?}"),
            };
            let places = answer.published.split_once('.').map_or(0, |(_, d)| d.len());
            assert_eq!(
                format!("{printed:.places$}"),
                answer.published,
                "{}: {} of {} is printed as {}",
                problem.plan,
                answer.quantity,
                answer.of,
                step.result
            );
        }
    }
}
