//! Sheets printed and measured as with a ruler: an independent renderer (hayro) turns a PDF into
//! dots, so nothing here is skipped for want of a program.

use binleaf::booklet::Booklet;
use binleaf::run;
use binleaf::write::{pdf, typst};
use hayro::hayro_interpret::font::Glyph;
use hayro::hayro_interpret::{
    BlendMode, ClipPath, Context, Device, GlyphDrawMode, Image, InterpreterCache,
    InterpreterSettings, Paint, PathDrawMode, SoftMask, TransformExt, interpret_page,
};
use hayro::hayro_syntax::Pdf;
use hayro::hayro_syntax::page::Page;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::vello_cpu::kurbo::{Affine, BezPath, Rect, Shape};
use hayro::{RenderCache, RenderSettings, render};

/// Dots to a millimetre, of 1/600 in.
pub(crate) const DOTS: f64 = 600.0 / 25.4;

/// A booklet on paper.
pub(crate) fn bytes(booklet: &Booklet) -> Vec<u8> {
    pdf::render(&typst::write(booklet), &run::LOOK).unwrap_or_else(|e| panic!("{e:?}"))
}

/// A printed sheet.
pub(crate) struct Dots {
    /// Dots along and down.
    pub(crate) wide: usize,
    pub(crate) high: usize,
    /// Red, green, blue and alpha of each dot, row by row from above.
    all: Vec<u8>,
    /// Boxes around its letters (dots).
    pub(crate) letters: Vec<Rect>,
}

impl Dots {
    /// How light a dot is, from 0 to 255. Nothing in a booklet has a colour.
    pub(crate) fn light(&self, x: usize, y: usize) -> u8 {
        let at = 4 * (y * self.wide + x);
        let [red, green, blue] = [0, 1, 2].map(|i| self.all[at + i]);
        assert!(red == green && green == blue, "a colour, at {x}, {y}");
        red
    }

    pub(crate) fn dark(&self, x: usize, y: usize) -> bool {
        self.light(x, y) < 128
    }

    /// Middles of the dark runs of a row (dots).
    pub(crate) fn row(&self, y: usize) -> Vec<f64> {
        middles((0..self.wide).map(|x| self.dark(x, y)))
    }

    /// Middles of the dark runs of a column between two heights (dots from the sheet's top).
    pub(crate) fn column(&self, x: usize, [from, to]: [usize; 2]) -> Vec<f64> {
        let all = middles((from..to.min(self.high)).map(|y| self.dark(x, y)));
        all.into_iter().map(|y| y + number(from)).collect()
    }
}

/// Sheets of a PDF in so many dots to the inch; `wanted` tells by their number, from 0, which.
pub(crate) fn sheets(bytes: &[u8], dpi: f32, wanted: impl Fn(usize) -> bool) -> Vec<Dots> {
    let pdf = Pdf::new(bytes.to_vec()).unwrap_or_else(|e| panic!("{e:?}"));
    let cache = RenderCache::new();
    let by = dpi / 72.0;
    let at = RenderSettings { x_scale: by, y_scale: by, bg_color: WHITE, ..Default::default() };
    let mut printed = Vec::new();
    for (_, page) in pdf.pages().iter().enumerate().filter(|(i, _)| wanted(*i)) {
        let dots = render(page, &cache, &InterpreterSettings::default(), &at);
        let (wide, high) = (usize::from(dots.width()), usize::from(dots.height()));
        let letters = boxes(page, f64::from(by));
        printed.push(Dots { wide, high, all: dots.data_as_u8_slice().to_vec(), letters });
    }
    printed
}

/// Where the letters of a sheet stand: boxes around their outlines (dots from its left top corner).
#[derive(Default)]
struct Boxes(Vec<Rect>);

impl<'a> Device<'a> for Boxes {
    fn draw_glyph(
        &mut self,
        glyph: &Glyph<'a>,
        page: Affine,
        place: Affine,
        _: &Paint<'a>,
        _: &GlyphDrawMode,
    ) {
        let Glyph::Outline(letter) = glyph else { panic!("a letter without an outline") };
        let mut outline = letter.outline();
        outline.apply_affine(page * place);
        let around = outline.bounding_box();
        // Spaces have none.
        self.0.extend((around.area() > 0.0).then_some(around));
    }
    fn draw_path(&mut self, _: &BezPath, _: Affine, _: &Paint<'a>, _: &PathDrawMode) {}
    fn draw_image(&mut self, _: Image<'a, '_>, _: Affine) {}
    fn set_soft_mask(&mut self, _: Option<SoftMask<'a>>) {}
    fn set_blend_mode(&mut self, _: BlendMode) {}
    fn push_clip_path(&mut self, _: &ClipPath) {}
    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}
    fn pop_clip_path(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}

fn boxes(page: &Page<'_>, by: f64) -> Vec<Rect> {
    let (cache, mut found) = (InterpreterCache::new(), Boxes::default());
    let (wide, high) = page.render_dimensions();
    let sheet = Rect::new(0.0, 0.0, f64::from(wide) * by, f64::from(high) * by);
    let at = Affine::scale(by) * page.initial_transform(true).to_kurbo();
    let settings = InterpreterSettings::default();
    interpret_page(page, &mut Context::new(at, sheet, &cache, page.xref(), settings), &mut found);
    found.0
}

/// Middles of the dark runs (dots).
pub(crate) fn middles(dark: impl Iterator<Item = bool>) -> Vec<f64> {
    let mut runs = Vec::new();
    let mut from = None;
    for (i, dark) in dark.chain([false]).enumerate() {
        match (dark, from) {
            (true, None) => from = Some(number(i)),
            (false, Some(start)) => {
                runs.push((start + number(i) - 1.0) / 2.0);
                from = None;
            }
            _ => {}
        }
    }
    runs
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "dots of a picture")]
pub(crate) fn dot(v: f64) -> usize {
    v.round() as usize
}

pub(crate) fn number(dots: usize) -> f64 {
    f64::from(u32::try_from(dots).unwrap())
}
