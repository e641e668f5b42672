//! Thirst against the outside: reference evaporation of a thousand days by an independent library,
//! and measured water use beside the bands of the crop table.

use binleaf::library::Library;
use binleaf::number::Formula;
use binleaf::science::air;
use binleaf::science::evaporation::Day;

/// Cells of a line of comma-separated values, quotes taken off.
fn cells(line: &str) -> Vec<String> {
    let (mut all, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => all.push(std::mem::take(&mut cell)),
            _ => cell.push(c),
        }
    }
    all.push(cell);
    all
}

/// FAO-56 Penman-Monteith of 1000 made-up days, worked by the library pyet 1.5.0
/// (`tests/reference/et0_days.py` writes the file again).
#[test]
fn reference_evaporation_agrees_with_an_independent_library() {
    let text = include_str!("reference/et0_days.csv");
    let mut worst = 0.0_f64;
    let mut days = 0;
    for line in text.lines().skip(1) {
        let n: Vec<f64> = cells(line).iter().map(|c| c.parse().unwrap()).collect();
        let [t_min, t_max, rh_min, rh_max, wind, sun, latitude, altitude, day, et_0] = n[..] else {
            panic!("{line}");
        };
        let rh = [rh_max / 100.0, rh_min / 100.0];
        let e_a = air::actual_from_extremes([t_max, t_min], rh);
        let weather = Day { latitude, altitude, day, t_max, t_min, e_a, wind, sun, ground: 0.0 };
        worst = worst.max((weather.reference().value() - et_0).abs());
        days += 1;
    }
    assert_eq!(days, 1000);
    assert!(worst < 0.01, "{worst} mm/d");
}

/// `tests/reference/water_use.csv`: measured litres a plant, beside the band of the crop table, the
/// only way these rows have the numbers for (none of them gives air, light and days together). The
/// count is stated; the dim jar and one tank of tomatoes stay outside. Tomato is no independent check:
/// its band was set from these same trials, rounded.
#[test]
fn measured_water_use_falls_mostly_inside_the_bands() {
    let library = Library::embedded();
    let text = include_str!("reference/water_use.csv");
    let (mut inside, mut all, mut report) = (0, 0, Vec::new());
    for line in text.lines().skip(1) {
        let row = cells(line);
        let Ok(litres) = row[5].parse::<f64>() else { continue };
        let crop = match row[1].split([' ', ',']).next().unwrap() {
            "lettuce" => "lettuce",
            "tomato" => "cherry tomato",
            "coriander" => "cilantro",
            // Mint is a window of ten days, not a season.
            _ => continue,
        };
        let water = &library.crop(crop).unwrap().water;
        let within = (water.low..=water.high).contains(&litres);
        report.push(format!(
            "{:6} {crop:14} measured {litres:6.2} L, table {:.1} to {:.1}: {}",
            row[0],
            water.low,
            water.high,
            if within { "inside" } else { "outside" }
        ));
        all += 1;
        inside += usize::from(within);
    }
    assert_eq!((inside, all), (8, 10), "{report:#?}");
}
