//! Every calculation of every plan: units balance, a pocket calculator agrees, every formula is
//! reached and every source exists.

use std::collections::BTreeSet;

use binleaf::library::Library;
use binleaf::number::{From, audit};
use binleaf::run;
use binleaf::science::index;

use crate::good_plans;

#[test]
fn every_step_is_sound() {
    let mut steps = 0;
    for (name, text) in good_plans() {
        let worked = run::work(text, &name);
        let (_, results) =
            worked.done.as_ref().unwrap_or_else(|| panic!("{name} does not compute"));
        for step in &results.steps {
            let faults = audit::faults(step);
            assert!(faults.is_empty(), "{name}, {} {}: {faults:?}\n{step:#?}", step.scope, step.id);
            steps += 1;
        }
    }
    assert!(steps > 400, "only {steps} steps were looked at");
}

#[test]
fn every_formula_is_reached_and_listed() {
    let mut reached = BTreeSet::new();
    for (name, text) in good_plans() {
        let worked = run::work(text, &name);
        let (_, results) = worked.done.unwrap();
        reached.extend(results.steps.iter().map(|s| s.card.id));
    }
    let listed: BTreeSet<&str> = index::ALL.iter().map(|c| c.id).collect();
    assert_eq!(listed.len(), index::ALL.len(), "two cards have the same id");
    assert_eq!(reached, listed);
}

#[test]
fn every_source_named_by_a_step_exists() {
    let library = Library::embedded();
    for (name, text) in good_plans() {
        let (_, results) = run::work(text, &name).done.unwrap();
        for step in &results.steps {
            assert!(library.sources.contains_key(step.card.source), "{}", step.card.source);
            for given in &step.givens {
                if let From::Data(key, _) = &given.from {
                    assert!(library.sources.contains_key(key), "{key} in {}", step.id);
                }
            }
        }
    }
}

#[test]
fn quantities_are_named_once_in_their_scope() {
    for (name, text) in good_plans() {
        let (_, results) = run::work(text, &name).done.unwrap();
        let mut seen = BTreeSet::new();
        for q in &results.quantities {
            let key = (q.id.clone(), q.scope.clone(), q.item.clone());
            assert!(seen.insert(key.clone()), "{name}: {key:?} twice");
            let kebab = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
            assert!(q.id.chars().all(kebab), "{}", q.id);
        }
    }
}
