//! The README's pictures show what is printed today: pdftoppm draws the same pages again.
//!
//! The pictures are of the lesson that begins long-four-by-three in the demo's first class, in
//! sixteen shades. `tests/pictures/make` makes them anew. While pages are being worked on, a stale
//! picture is only said; with `CI` set, as in `.ci/run`, it is a failure.

#[path = "../pages/kingfisher.rs"]
#[allow(dead_code)] // the benches use more of it
mod kingfisher;

use super::pdf::installed;
use kingfisher::Term;
use rungwise::lesson::{Level, Pack};
use rungwise::paper::sheet::Mark;
use rungwise::paper::{print, sheets};
use std::io::{BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::LazyLock;

/// A picture's name, the file it shows a page of, and the code that page has at its foot.
const PICTURES: [(&str, &str, &str); 5] = [
    ("teacher", "teacher.pdf", "TP"),
    ("worked", "teacher.pdf", "WE"),
    ("pupil", "pupil-K.pdf", "K"),
    ("key", "key.pdf", "KEY"),
    ("slips", "slips.pdf", "X"),
];
const DOTS_PER_INCH: &str = "100";

/// Squares of so many dots are compared by their means, so that a line which another version of
/// the program draws a hair's breadth aside does not matter and a changed figure does.
const SQUARE: usize = 5;
/// By so many of 255 shades a square may differ.
const TOLERANCE: u32 = 16;

/// A picture: its width, and a shade a dot, 0 for black to 255 for white.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    width: usize,
    dots: Vec<u8>,
}

impl Picture {
    /// Reads what pdftoppm writes: `P5 width height 255` and the dots.
    fn of_pgm(bytes: &[u8]) -> Picture {
        let mut at = 0;
        let mut header = Vec::new();
        while header.len() < 4 {
            let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).expect("a header");
            header.push(String::from_utf8_lossy(&bytes[at..end]).into_owned());
            at = end + 1;
        }
        assert_eq!((header[0].as_str(), header[3].as_str()), ("P5", "255"));
        let [width, height] = [1, 2].map(|n| header[n].parse::<usize>().expect("a number"));
        let dots = bytes[at..].to_vec();
        assert_eq!(dots.len(), width * height);
        Picture { width, dots }
    }

    fn read(path: &Path) -> Picture {
        let again = "tests/pictures/make makes it";
        let file = std::fs::File::open(path);
        let file = file.unwrap_or_else(|error| panic!("{}: {error}; {again}", path.display()));
        let mut decoder = png::Decoder::new(BufReader::new(file));
        decoder.set_transformations(png::Transformations::EXPAND);
        let mut reader = decoder.read_info().expect("a PNG");
        assert_eq!(reader.output_color_type(), (png::ColorType::Grayscale, png::BitDepth::Eight));
        let mut dots = vec![0; reader.output_buffer_size().expect("a small picture")];
        reader.next_frame(&mut dots).expect("the dots");
        Picture { width: usize::try_from(reader.info().width).expect("a width"), dots }
    }

    /// Writes it in sixteen shades.
    fn write(&self, path: &Path) {
        let size = |n: usize| u32::try_from(n).expect("a small picture");
        let mut file = Vec::new();
        let (wide, high) = (size(self.width), size(self.dots.len() / self.width));
        let mut encoder = png::Encoder::new(&mut file, wide, high);
        encoder.set_color(png::ColorType::Grayscale);
        encoder.set_depth(png::BitDepth::Four);
        encoder.set_compression(png::Compression::High);
        encoder.set_filter(png::Filter::NoFilter);
        let shade = |dot: Option<&u8>| dot.map_or(0, |&dot| (dot.saturating_add(8) / 17).min(15));
        let pair = |pair: &[u8]| shade(pair.first()) << 4 | shade(pair.get(1));
        let rows = self.dots.chunks(self.width);
        let packed: Vec<u8> = rows.flat_map(|row| row.chunks(2).map(pair)).collect();
        let mut writer = encoder.write_header().expect("a header");
        writer.write_image_data(&packed).expect("the dots");
        writer.finish().expect("an end");
        std::fs::write(path, file).expect("a file");
    }

    /// The mean shade of each square, row by row.
    fn squares(&self) -> Vec<u32> {
        let mut means = Vec::new();
        for rows in self.dots.chunks(self.width * SQUARE) {
            for left in (0..self.width).step_by(SQUARE) {
                let right = (left + SQUARE).min(self.width);
                let dots = rows.chunks(self.width).flat_map(|row| &row[left..right]);
                let (sum, count) = dots.fold((0, 0), |(s, n), &d| (s + u32::from(d), n + 1));
                means.push(sum / count);
            }
        }
        means
    }

    /// The greatest difference between two squares of the same place; none for other sizes.
    fn difference(&self, other: &Picture) -> Option<u32> {
        let alike = (self.width, self.dots.len()) == (other.width, other.dots.len());
        let (ours, theirs) = (self.squares(), other.squares());
        ours.iter().zip(theirs).map(|(a, b)| a.abs_diff(b)).max().filter(|_| alike)
    }
}

fn place(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/pictures/{name}.png"))
}

/// The page of a pack's file that bears this code, as pdftoppm draws it.
fn drawn(pack: &Pack, file: &str, code: &str) -> Picture {
    let full = format!("L{:02}-{code}", pack.lesson);
    let bears = |mark: &Mark| matches!(mark, Mark::Text { text, .. } if *text == full);
    let pages = &sheets(pack)[file].pages;
    let page = pages.iter().position(|page| page.marks.iter().any(bears));
    let page = page.unwrap_or_else(|| panic!("{file} has no page {full}")) + 1;
    drawn_page(&print(pack).expect("it prints")[file], page)
}

/// A page of a file, counted from 1, as pdftoppm draws it.
pub fn drawn_page(pdf: &[u8], page: usize) -> Picture {
    let page = page.to_string();
    let mut child = Command::new("pdftoppm")
        .args(["-gray", "-r", DOTS_PER_INCH, "-f", &page, "-l", &page, "-singlefile", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("pdftoppm starts");
    child.stdin.take().expect("a way in").write_all(pdf).expect("it reads");
    let output = child.wait_with_output().expect("pdftoppm ends");
    assert!(output.status.success(), "page {page}");
    Picture::of_pgm(&output.stdout)
}

/// The demo's first class.
pub fn term() -> &'static Term {
    static TERM: LazyLock<Term> = LazyLock::new(Term::planned);
    &TERM
}

fn pack() -> Pack {
    term().first_of("long-four-by-three")
}

#[test]
fn the_pictures_show_what_is_printed_today() {
    if !installed("pdftoppm") {
        return;
    }
    let pack = pack();
    let pages = PICTURES.map(|(name, file, code)| (name, drawn(&pack, file, code)));
    agree(&pages);
}

/// Holds pages against their pictures, or writes these anew where that is asked for.
pub fn agree(pages: &[(&str, Picture)]) {
    let update = std::env::var_os("UPDATE_PICTURES").is_some();
    let mut stale = Vec::new();
    for (name, today) in pages {
        if update {
            today.write(&place(name));
        }
        let difference = Picture::read(&place(name)).difference(today);
        if difference.is_none_or(|d| d > TOLERANCE) {
            stale.push(*name);
        }
    }
    let message = format!("{stale:?}: pages have changed; tests/pictures/make draws them anew");
    if !stale.is_empty() {
        eprintln!("{message}");
    }
    assert!(stale.is_empty() || std::env::var_os("CI").is_none(), "{message}");
    assert!(!update, "the pictures were written: look at them before they are committed");
}

/// The first sum on the core sheet, as it is printed.
fn practice_sum(pack: &mut Pack) -> &mut String {
    let core = pack.sections.iter_mut().find(|s| s.level == Some(Level::Core));
    &mut core.expect("a core sheet").items[0].prompt
}

#[test]
fn one_other_figure_in_a_sum_is_noticed() {
    if !installed("pdftoppm") {
        return;
    }
    let pack = pack();
    let before = drawn(&pack, "pupil-K.pdf", "K");
    assert_eq!(before.difference(&drawn(&pack, "pupil-K.pdf", "K")), Some(0));
    let mut kept = practice_sum(&mut pack.clone()).clone();
    let last = kept.pop().expect("a figure");
    for other in ('0'..='9').filter(|&figure| figure != last) {
        let mut changed = pack.clone();
        *practice_sum(&mut changed) = format!("{kept}{other}");
        let difference = before.difference(&drawn(&changed, "pupil-K.pdf", "K"));
        assert!(difference.is_some_and(|d| d > TOLERANCE), "{other} for {last}: {difference:?}");
    }
}

#[test]
fn the_readme_shows_pictures_that_are_there() {
    let readme = include_str!("../../README.md");
    let shown: Vec<&str> = readme
        .split("](tests/pictures/")
        .skip(1)
        .filter_map(|rest| rest.split_once(".png)").map(|(name, _)| name))
        .collect();
    assert!(!shown.is_empty());
    for name in shown {
        assert!(PICTURES.iter().any(|(known, ..)| *known == name), "{name} is not made");
        assert!(place(name).is_file(), "{name}.png is missing: tests/pictures/make makes it");
    }
}
