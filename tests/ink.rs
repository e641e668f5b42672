//! Ink on printed sheets: none where printers leave the edge blank, and every letter dark enough
//! against what it stands on.

use std::collections::BTreeSet;

use binleaf::booklet::Booklet;
use binleaf::cli::Class;
use binleaf::run;
use hayro::vello_cpu::kurbo::Rect;

use crate::good_plans;
use crate::print::{Dots, bytes, dot, sheets};

/// What printers leave blank at each edge (mm).
const EDGE: f64 = 6.0;
/// Least contrast of text: WCAG 2.2, success criterion 1.4.6 (level AAA), 7 to 1.
const CONTRAST: f64 = 7.0;

/// Everything that can be printed of a plan: booklet, shelf paper, pupils' sheets, key.
fn papers(text: String, name: &str, large: bool) -> Vec<(&'static str, Booklet)> {
    let mut worked = run::work(text, name);
    worked.done.as_mut().unwrap().0.large = large;
    let class = Class::default();
    let sheet = |key| worked.worksheet(key, &class).unwrap().unwrap();
    vec![
        ("booklet", worked.booklet().unwrap().unwrap()),
        ("shelf paper", worked.shelf().unwrap().unwrap()),
        ("pupils' sheets", sheet(false)),
        ("key", sheet(true)),
    ]
}

/// The first page of each kind.
fn kinds(booklet: &Booklet) -> Booklet {
    let mut seen = BTreeSet::new();
    let pages = booklet.pages.iter().filter(|page| seen.insert(page.id.clone()));
    Booklet { pages: pages.cloned().collect(), ..booklet.clone() }
}

#[test]
fn nothing_stands_in_the_margin() {
    let (dpi, mut seen) = (60.0, 0);
    for (name, text) in good_plans() {
        for (what, booklet) in papers(text, &name, name.starts_with("shelf")) {
            for (i, sheet) in sheets(&bytes(&booklet), dpi, |_| true).iter().enumerate() {
                let edge = dot(EDGE * f64::from(dpi) / 25.4);
                let (right, foot) = (sheet.wide - edge, sheet.high - edge);
                for y in 0..sheet.high {
                    let ends = y < edge || y >= foot;
                    let [first, last] = if ends { [right, right] } else { [edge, right] };
                    let mut outer = (0..first).chain(last..sheet.wide);
                    let ink = outer.find(|x| sheet.light(*x, y) < 250);
                    assert!(ink.is_none(), "{name}, {what}, sheet {}: {ink:?}, {y}", i + 1);
                }
                seen += 1;
            }
        }
    }
    assert!(seen > 300, "{seen} sheets");
}

/// Relative luminance of a grey, after WCAG 2.2 (sRGB).
fn luminance(light: u8) -> f64 {
    let c = f64::from(light) / 255.0;
    if c <= 0.04045 { c / 12.92 } else { libm::pow((c + 0.055) / 1.055, 2.4) }
}

/// Contrast of two greys, after WCAG 2.2: 1 to 21.
fn contrast(a: u8, b: u8) -> f64 {
    (luminance(a.max(b)) + 0.05) / (luminance(a.min(b)) + 0.05)
}

#[test]
fn contrast_is_reckoned_as_published() {
    // The understanding document of the criterion: black on white 21 : 1; #767676 on white 4.54 : 1.
    assert!((contrast(0, 255) - 21.0).abs() < 1e-9);
    assert!((contrast(0x76, 255) - 4.54).abs() < 0.005);
}

/// Contrast of a letter: its darkest dot against the usual dot around it.
fn of_letter(sheet: &Dots, around: &Rect) -> f64 {
    let [left, top, right, foot] =
        [around.x0, around.y0, around.x1, around.y1].map(|v| dot(v.floor()));
    let inside = (top..=foot).flat_map(|y| (left..=right).map(move |x| (x, y)));
    let ink = inside.map(|(x, y)| sheet.light(x, y)).min().unwrap();
    let rows = (left - 2..=right + 2).flat_map(|x| [(x, top - 2), (x, foot + 2)]);
    let sides = (top - 2..=foot + 2).flat_map(|y| [(left - 2, y), (right + 2, y)]);
    let mut frame: Vec<u8> = rows.chain(sides).map(|(x, y)| sheet.light(x, y)).collect();
    frame.sort_unstable();
    contrast(ink, frame[frame.len() / 2])
}

#[test]
fn every_letter_stands_out() {
    let mut seen = 0;
    // Looks do not go by the plan but by its paper; one of these has the smallest.
    let plans = ["classroom-jars.toml", "garden-pails.toml", "shelf-totes.toml"];
    for (name, text) in good_plans().into_iter().filter(|(n, _)| plans.contains(&n.as_str())) {
        for (what, booklet) in papers(text, &name, false) {
            for (i, sheet) in sheets(&bytes(&kinds(&booklet)), 300.0, |_| true).iter().enumerate() {
                for around in &sheet.letters {
                    let found = of_letter(sheet, around);
                    let on = format!("{name}, {what}, sheet {}, 300 dpi", i + 1);
                    assert!(found >= CONTRAST, "{on}: {around:?} has {found:.1} to 1");
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 100_000, "{seen} letters");
}
