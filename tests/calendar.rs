//! The season as a picture: signs stand on their days.

use binleaf::booklet::block::Block;
use binleaf::booklet::drawing::{Drawing, Mark};
use binleaf::compute::season::Event;
use binleaf::run;
use jiff::civil::{Date, date};

use crate::good_plans;

/// Days since a Monday, by the count of days of the proleptic calendar (Fliegel and Van Flandern, Comm. ACM
/// 11, 1968, p. 657; cited from memory), which gives a Julian day number; day 0 of it was a Monday.
fn julian(day: Date) -> i64 {
    let [y, m, d] = [day.year().into(), day.month().into(), day.day().into()].map(|v: i64| v);
    let a = (m - 14) / 12;
    d - 32075 + 1461 * (y + 4800 + a) / 4 + 367 * (m - 2 - 12 * a) / 12
        - 3 * ((y + 4900 + a) / 100) / 4
}

fn float(n: i64) -> f64 {
    f64::from(i32::try_from(n).unwrap())
}

/// Middle of the corners of closed outlines of so many corners.
fn middles(drawing: &Drawing, corners: usize) -> Vec<f64> {
    let middle = |mark: &Mark| {
        let Mark::Area { points, .. } = mark else { return None };
        let xs = points.iter().map(|p| p[0]);
        let (low, high) = (xs.clone().fold(f64::MAX, f64::min), xs.fold(f64::MIN, f64::max));
        // A lozenge has four corners, too, of which two stand on its middle.
        let lozenge = points.len() == 4 && (points[0][1] - points[2][1]).abs() < 1e-9;
        let is = if corners == 3 { points.len() == 3 } else { lozenge };
        is.then_some(f64::midpoint(low, high))
    };
    drawing.marks.iter().filter_map(middle).collect()
}

#[test]
fn julian_days_are_days() {
    assert_eq!(julian(date(2000, 1, 1)), 2_451_545);
    assert_eq!(julian(date(2027, 3, 1)) - julian(date(2027, 2, 28)), 1);
}

#[test]
fn signs_of_every_plan_stand_on_their_days() {
    let mut seen = [0; 2];
    for (name, text) in good_plans() {
        let worked = run::work(text, &name);
        let booklet = worked.booklet().unwrap().unwrap();
        let glance = booklet.pages.iter().find(|p| p.id == "glance").unwrap();
        let figures = glance.blocks.iter();
        let charts: Vec<&Drawing> = figures
            .filter_map(|b| if let Block::Figure(d) = b { Some(d) } else { None })
            .filter(|d| d.name.starts_with("season"))
            .collect();
        assert!(!charts.is_empty(), "{name}");
        let bins = &worked.done.as_ref().unwrap().1.bins;
        let first = bins.iter().map(|b| b.dates.sown).min().unwrap();
        let last = bins.iter().map(|b| b.dates.end).max().unwrap();
        for chart in &charts {
            let Some(Mark::Line { from, to, .. }) = chart.marks.first() else { panic!("{name}") };
            let size = (to[0] - from[0]) / float(julian(last) - julian(first));
            let at = |day: Date| from[0] + size * float(julian(day) - julian(first));
            let Some(Mark::Comb { lines, .. }) = chart.marks.get(1) else { panic!("{name}") };
            for line in lines {
                let on = (line[0][0] - from[0]) / size;
                assert!((on - on.round()).abs() < 1e-6, "{name}: a line between two days");
                let day = julian(first) + (0..4000).find(|d| float(*d) >= on.round()).unwrap();
                assert_eq!(day % 7, 0, "{name}: a line on no Monday");
            }
            for (kind, corners) in [3, 4].into_iter().enumerate() {
                let days = bins.iter().flat_map(|b| {
                    let is = move |e: &Event| matches!(e, Event::TopUp(_)) == (corners == 3);
                    b.season.events().filter(move |(_, e)| is(e)).map(|(check, _)| check.day)
                });
                let days: Vec<f64> = days.map(at).collect();
                let mut signs = middles(chart, corners);
                // The last one stands in the words beside the signs.
                let _ = signs.pop();
                for x in &signs {
                    assert!(days.iter().any(|d| (d - x).abs() < 1e-6), "{name}: a sign on no day");
                }
                if charts.len() == 1 {
                    for day in &days {
                        let shown = signs.iter().any(|x| (day - x).abs() < 1e-6);
                        assert!(shown, "{name}: a day without a sign");
                    }
                }
                seen[kind] += signs.len();
            }
            for mark in &chart.marks {
                if let Mark::Words { at, .. } = mark {
                    assert!(at[0] < chart.width && at[1] < chart.height, "{name}: words outside");
                }
            }
        }
    }
    assert!(seen[0] > 20 && seen[1] > 8, "{seen:?}");
}
