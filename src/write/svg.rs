//! A drawing → SVG, for the Markdown booklet. Black on white, so that it copies.

use crate::booklet::block::Align;
use crate::booklet::drawing::{Drawing, Mark};
use crate::number::figures::machine;

/// The drawing as an SVG file, one unit a millimetre.
#[must_use]
pub fn write(drawing: &Drawing) -> String {
    let (w, h) = (machine(drawing.width), machine(drawing.height));
    let marks: String = drawing.marks.iter().map(mark).collect();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" \
         viewBox=\"0 0 {w} {h}\" role=\"img\">\n<title>{}</title>\n\
         <rect width=\"{w}\" height=\"{h}\" fill=\"#fff\"/>\n{marks}</svg>\n",
        letters(&drawing.alt)
    )
}

fn mark(mark: &Mark) -> String {
    match mark {
        Mark::Line { from, to, weight, dashed } => path(&[*from, *to], *weight, *dashed),
        Mark::Path { points, weight, dashed } => path(points, *weight, *dashed),
        Mark::Area { points, grey, weight } => area(points, *grey, *weight),
        Mark::Words { at, align, size, text } => {
            let anchor = match align {
                Align::Left => "start",
                Align::Centre => "middle",
                Align::Right => "end",
            };
            words(at, anchor, *size, text, "")
        }
        Mark::Comb { lines, weight } => {
            let each = |[from, to]: &[[f64; 2]; 2]| format!("M{} L{}", point(from), point(to));
            let path: Vec<String> = lines.iter().map(each).collect();
            format!(
                "<path d=\"{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{}\"/>\n",
                path.join(" "),
                machine(*weight)
            )
        }
        Mark::Turned { at, size, text } => {
            let turn = format!(" transform=\"rotate(-90 {})\"", point(at));
            words(at, "middle", *size, text, &turn)
        }
    }
}

fn path(points: &[[f64; 2]], weight: f64, dashed: bool) -> String {
    let dash = if dashed { " stroke-dasharray=\"2 1.2\"" } else { "" };
    let points: Vec<String> = points.iter().map(point).collect();
    format!(
        "<path d=\"M{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{}\"{dash}/>\n",
        points.join(" L"),
        machine(weight)
    )
}

fn words(at: &[f64; 2], anchor: &str, size: f64, text: &str, turn: &str) -> String {
    format!(
        "<text x=\"{}\" y=\"{}\" font-family=\"serif\" font-size=\"{}\" \
         text-anchor=\"{anchor}\" dominant-baseline=\"central\"{turn}>{}</text>\n",
        machine(at[0]),
        machine(at[1]),
        // A serif's capitals are about seven tenths of its size.
        machine((100.0 * size / 0.7).round() / 100.0),
        letters(text)
    )
}

fn area(points: &[[f64; 2]], grey: Option<f64>, weight: f64) -> String {
    let path: Vec<String> = points.iter().map(point).collect();
    let fill = grey.map_or("none".to_string(), |g| {
        let level = machine((g * 255.0).round());
        format!("rgb({level},{level},{level})")
    });
    let stroke = if weight > 0.0 { "#000" } else { "none" };
    format!(
        "<path d=\"M{} Z\" fill=\"{fill}\" stroke=\"{stroke}\" stroke-width=\"{}\"/>\n",
        path.join(" L"),
        machine(weight)
    )
}

fn point(at: &[f64; 2]) -> String {
    format!("{} {}", machine(at[0]), machine(at[1]))
}

fn letters(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
