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

/// A bin is mixed pail by pail: its full pails and its part pail hold what the bin holds, and get the
/// feed that the bin gets.
#[test]
fn pails_of_a_bin_are_the_whole_bin() {
    let mut checked = 0;
    for (name, text) in good_plans() {
        let (plan, results) = run::work(text, &name).done.unwrap();
        for (mix, mixing) in plan.mixes.iter().zip(&results.mixing) {
            for (place, (bin, pails)) in mixing.bins.iter().zip(&mixing.pails).enumerate() {
                let Some(part) = pails.place else { continue };
                let whole = results.bins[*bin].fill.start_volume;
                let full = f64::from(pails.full);
                assert!((full * mix.pail + pails.part - whole).abs() < 1e-9, "{name}");
                assert!(pails.part < mix.pail, "{name}");
                for dose in &mixing.feeds {
                    let at = |i: usize| {
                        let amount = dose.amounts.get(i)?;
                        amount.grams.or(amount.millilitres)
                    };
                    let own = [0, part, mixing.first_bin() + place].map(at);
                    let [Some(pail), Some(part), Some(bin)] = own else { continue };
                    assert!((full * pail + part - bin).abs() < 1e-6 * bin, "{name}");
                    checked += 1;
                }
            }
        }
    }
    assert!(checked > 6, "{checked}");
}

/// What is mixed on several days is not counted into pails together, and the log names each bin's own.
#[test]
fn the_log_of_mixing_has_a_row_for_each_pail() {
    let of = |plan: &str| {
        let (name, text) = good_plans().into_iter().find(|(name, _)| name == plan).unwrap();
        let booklet = run::work(text, &name).booklet().unwrap().unwrap();
        markdown::write(&booklet, "d/")
    };
    let garden = of("garden-pails.toml");
    assert!(garden.contains("| Chard trough: full pail 4 |"));
    assert!(garden.contains("| Chard trough: part pail |"));
    assert!(!garden.contains("Chard trough: full pail 5"));
    assert!(!garden.contains("If all is mixed on one day"));
    let jars = of("classroom-jars.toml");
    assert!(jars.contains("If all is mixed on one day"));
    assert!(!jars.contains("its part pail"));
    // Its feeds are liquids.
    assert!(!jars.contains("Spoons") && !jars.contains("| Scale |"));
}
