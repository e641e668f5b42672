//! Every good plan computes, and its Markdown booklet is as it was.

use binleaf::finding::Severity;
use binleaf::run;
use binleaf::write::markdown;

use crate::good_plans;

#[test]
fn every_good_plan_computes_without_errors() {
    for (name, text) in good_plans() {
        let worked = run::work(text, &name);
        let errors: Vec<_> =
            worked.findings.iter().filter(|f| f.severity == Severity::Error).collect();
        assert!(errors.is_empty(), "{name}: {errors:?}");
        assert!(!worked.failed());
    }
}

#[test]
fn the_odd_shapes_booklet_is_as_it_was() {
    let (name, text) =
        good_plans().into_iter().find(|(name, _)| name == "odd-shapes.toml").unwrap();
    let booklet = run::work(text, &name).booklet().unwrap().unwrap();
    insta::with_settings!({ prepend_module_to_snapshot => false, omit_expression => true }, {
        insta::assert_snapshot!("odd-shapes", markdown::write(&booklet, "odd-shapes-drawings/"));
    });
}

#[test]
fn a_plan_with_windows_line_ends_computes_the_same() {
    let (name, text) = good_plans().remove(0);
    let windows = text.replace('\n', "\r\n");
    let (unix, windows) = (run::work(text, &name), run::work(windows, &name));
    assert_eq!(unix.done.unwrap().1.quantities, windows.done.unwrap().1.quantities);
}
