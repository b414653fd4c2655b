//! From a sheet to the library's PDF: the one place where text is printed and lines are drawn.
//!
//! The library embeds whole fonts, once for every slot of a family. It gets a font with nothing
//! but an empty box instead, beside the true widths; [`super::finish`] puts the true fonts in, cut
//! down to the characters noted here.

use super::font::{Cut, Face, NBSP, PT, width};
use super::sheet::{Mark, Sheet};
use genpdf::fonts::{FontCache, FontData, FontFamily};
use genpdf::render::{Area, Renderer};
use genpdf::style::{Color, LineStyle, Style};
use genpdf::{Mm, Position, Size};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, LazyLock};

/// What the library wrote, and what it used.
pub struct Drawn {
    /// A PDF without usable fonts.
    pub pdf: Vec<u8>,
    /// The characters printed from each font.
    pub used: BTreeMap<Cut, BTreeSet<char>>,
    /// Each page's texts in the order printed. The library printed the first character of each
    /// and so settled its place, font and size; the finished page says the whole.
    pub texts: Vec<Vec<(Cut, String)>>,
}

/// The family, parsed once a process: true widths, stub outlines.
static FAMILY: LazyLock<FontFamily<FontData>> = LazyLock::new(|| {
    let stub = |cut: Cut| {
        let full = FontData::new(cut.file().to_vec(), None).expect("our own font is sound");
        let nothing = subsetter::subset(cut.file(), 0, &subsetter::GlyphRemapper::new())
            .expect("our own font can be cut down");
        FontData::clone_with_data(&full, Arc::new(nothing), None)
    };
    let bold = stub(Cut::Bold);
    FontFamily {
        regular: stub(Cut::Regular),
        italic: stub(Cut::Italic),
        bold_italic: bold.clone(),
        bold,
    }
});

/// Black, as one ink: never a mixture of colours.
const BLACK: Color = Color::Greyscale(0);

/// Draws a sheet.
///
/// # Errors
/// The library failed, or a text stands where it cannot be printed: faults of ours.
pub fn draw(sheet: &Sheet) -> Result<Drawn, String> {
    let size = Size::new(sheet.size.0, sheet.size.1);
    let mut renderer = Renderer::new(size, "").map_err(|e| e.to_string())?;
    let mut fonts = FontCache::new(FAMILY.clone());
    fonts.load_pdf_fonts(&renderer).map_err(|e| e.to_string())?;
    let mut used = BTreeMap::new();
    let mut texts = Vec::new();
    for (index, page) in sheet.pages.iter().enumerate() {
        if index > 0 {
            renderer.add_page(size);
        }
        let area = renderer.last_page().last_layer().area();
        let mut pen = Pen { area, fonts: &fonts, used: &mut used, texts: Vec::new() };
        for mark in &page.marks {
            let (left, top, right, foot) = mark.bounds();
            if left < 0.0 || top < 0.0 || right > sheet.size.0 || foot > sheet.size.1 {
                return Err(format!("page {} has {mark:?} beyond its edge", index + 1));
            }
            pen.mark(mark)?;
        }
        texts.push(pen.texts);
    }
    let mut pdf = Vec::new();
    renderer.write(&mut pdf).map_err(|e| e.to_string())?;
    Ok(Drawn { pdf, used, texts })
}

struct Pen<'a> {
    area: Area<'a>,
    fonts: &'a FontCache,
    used: &'a mut BTreeMap<Cut, BTreeSet<char>>,
    texts: Vec<(Cut, String)>,
}

impl Pen<'_> {
    fn mark(&mut self, mark: &Mark) -> Result<(), String> {
        match mark {
            Mark::Line { points, thick } => {
                let style = LineStyle::new().with_thickness(Mm::from(thick * PT)).with_color(BLACK);
                self.area.draw_line(points.iter().map(|p| Position::new(p.0, p.1)), style);
                Ok(())
            }
            Mark::Text { x, y, size, face: Face::Figures, text } => {
                let mut x = *x;
                for c in text.chars() {
                    let figure = c.to_string();
                    self.text(x, *y, *size, Face::Figures, &figure)?;
                    x += width(&figure, Face::Figures, *size);
                }
                Ok(())
            }
            Mark::Text { x, y, size, face, text } => self.text(*x, *y, *size, *face, text),
        }
    }

    /// Prints one text. The library takes the top of the line for y, and pulls the first
    /// character's left bearing out of x.
    fn text(&mut self, x: f32, y: f32, size: u8, face: Face, text: &str) -> Result<(), String> {
        // An unbreakable space has done its work; as a plain one it can be searched for.
        let text = text.replace(NBSP, " ");
        let cut = face.cut();
        let mut style = Style::new().with_font_size(size).with_color(BLACK);
        match cut {
            Cut::Regular => {}
            Cut::Bold => style.set_bold(),
            Cut::Italic => style.set_italic(),
        }
        let Some(first) = text.chars().next() else { return Ok(()) };
        if let [missing, ..] = super::font::glyphs_missing(&text)[..] {
            return Err(format!("the font lacks {missing:?} in {text:?}"));
        }
        self.used.entry(cut).or_default().extend(text.chars());
        let ascent = style.font(self.fonts).ascent(size);
        let bearing = style.char_left_side_bearing(self.fonts, first);
        let at = Position::new(Mm::from(x) + bearing, Mm::from(y) - ascent);
        // The library works through every character of a text for each of several ends of its own:
        // one is enough for it to place the text.
        match self.area.print_str(self.fonts, at, style, &text[..first.len_utf8()]) {
            Ok(true) => {
                self.texts.push((cut, text));
                Ok(())
            }
            Ok(false) => Err(format!("{text:?} stands too low on its page")),
            Err(error) => Err(error.to_string()),
        }
    }
}
