//! The typeface: which characters it has, how wide text is, where lines break.
//!
//! Widths are summed in whole font units and turned into millimetres once, so that every machine
//! breaks lines alike.

use std::sync::LazyLock;
use ttf_parser::Face as Parsed;

/// Millimetres in a point.
pub const PT: f32 = 25.4 / 72.0;

/// A face of the family.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// What is read.
    Regular,
    /// Titles, headings, item numbers, answers.
    Bold,
    /// No new lesson, on the term page.
    Italic,
    /// Bold figures that stand under regular ones: set at the regular's widths.
    Figures,
}

/// The files, as they are embedded.
const FILES: [&[u8]; 3] = [
    include_bytes!("../../fonts/RungwiseText-Regular.ttf"),
    include_bytes!("../../fonts/RungwiseText-Bold.ttf"),
    include_bytes!("../../fonts/RungwiseText-Italic.ttf"),
];

static PARSED: LazyLock<[Parsed<'static>; 3]> =
    LazyLock::new(|| FILES.map(|file| Parsed::parse(file, 0).expect("our own font is sound")));

/// A character's glyph and how far it moves the pen, in font units.
#[derive(Debug, Clone, Copy, Default)]
struct Glyph {
    /// 0 where the font lacks the character.
    number: u16,
    advance: u16,
}

/// Each file's glyphs by character: every width asks for them, and the font's own tables are slow.
static GLYPHS: LazyLock<[Vec<Glyph>; 3]> = LazyLock::new(|| Cut::ALL.map(glyphs_of));

fn glyphs_of(cut: Cut) -> Vec<Glyph> {
    let face = cut.parsed();
    let mut glyphs = Vec::new();
    let subtables = face.tables().cmap.into_iter().flat_map(|cmap| cmap.subtables);
    for subtable in subtables.filter(ttf_parser::cmap::Subtable::is_unicode) {
        subtable.codepoints(|code| {
            let Some(number) = char::from_u32(code).and_then(|c| face.glyph_index(c)) else {
                return;
            };
            let Ok(place) = usize::try_from(code) else { return };
            if glyphs.len() <= place {
                glyphs.resize(place + 1, Glyph::default());
            }
            let advance = face.glyph_hor_advance(number).unwrap_or(0);
            glyphs[place] = Glyph { number: number.0, advance };
        });
    }
    glyphs
}

/// A font file of the family: what is printed with a face comes from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cut {
    /// RungwiseText-Regular.
    Regular,
    /// RungwiseText-Bold.
    Bold,
    /// RungwiseText-Italic.
    Italic,
}

impl Cut {
    /// All of them, in the order of a PDF's font resources.
    pub const ALL: [Cut; 3] = [Cut::Regular, Cut::Bold, Cut::Italic];

    fn index(self) -> usize {
        match self {
            Cut::Regular => 0,
            Cut::Bold => 1,
            Cut::Italic => 2,
        }
    }
    /// The font file.
    pub fn file(self) -> &'static [u8] {
        FILES[self.index()]
    }
    /// The font's PostScript name.
    pub fn name(self) -> &'static str {
        ["RungwiseText-Regular", "RungwiseText-Bold", "RungwiseText-Italic"][self.index()]
    }
    /// The parsed font.
    pub fn parsed(self) -> &'static Parsed<'static> {
        &PARSED[self.index()]
    }
    fn at(self, c: char) -> Glyph {
        GLYPHS[self.index()].get(c as usize).copied().unwrap_or_default()
    }
    /// The number of a character's glyph, where the font has one.
    pub fn glyph(self, c: char) -> Option<u16> {
        Some(self.at(c).number).filter(|&number| number != 0)
    }
    fn advance(self, c: char) -> u32 {
        let glyph = self.at(c);
        if glyph.number == 0 {
            // What is printed for a character that is lacking: an empty box.
            return u32::from(self.parsed().glyph_hor_advance(ttf_parser::GlyphId(0)).unwrap_or(0));
        }
        u32::from(glyph.advance)
    }
}

impl Face {
    /// The font file it is printed from.
    pub fn cut(self) -> Cut {
        match self {
            Face::Regular => Cut::Regular,
            Face::Bold | Face::Figures => Cut::Bold,
            Face::Italic => Cut::Italic,
        }
    }
    /// How far a character moves the pen, in font units.
    fn advance(self, c: char) -> u32 {
        match self {
            Face::Figures => Cut::Regular.advance(c),
            face => face.cut().advance(c),
        }
    }
}

/// The width of a text at a size in points, millimetres.
pub fn width(text: &str, face: Face, size: u8) -> f32 {
    millimetres(units(text, face), face, size)
}

/// The width of a text in font units.
fn units(text: &str, face: Face) -> u32 {
    text.chars().map(|c| face.advance(c)).sum()
}

fn millimetres(units: u32, face: Face, size: u8) -> f32 {
    let em = f32::from(face.cut().parsed().units_per_em());
    units as f32 / em * f32::from(size) * PT
}

/// The characters of a text that some face lacks, each once, in the order of the text.
pub fn glyphs_missing(text: &str) -> Vec<char> {
    let mut missing = Vec::new();
    for c in text.chars() {
        let lacks = Cut::ALL.iter().any(|cut| cut.glyph(c).is_none());
        if lacks && !missing.contains(&c) {
            missing.push(c);
        }
    }
    missing
}

/// The space that never breaks.
pub const NBSP: char = '\u{A0}';

/// Words that stay with the number before them.
const UNITS: [&str; 35] = [
    "lakh",
    "lakhs",
    "crore",
    "crores",
    "million",
    "thousand",
    "hundred",
    "hundreds",
    "tens",
    "ones",
    "one",
    "twos",
    "threes",
    "fours",
    "fives",
    "sixes",
    "sevens",
    "eights",
    "nines",
    "digit",
    "digits",
    "minutes",
    "seconds",
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Puts unbreakable spaces where a line must not break: round × ÷ + − = ≈ and between a number
/// and its word.
pub fn glue(text: &str) -> String {
    let sign = |c: Option<char>| c.is_some_and(|c| "×÷+−=≈".contains(c));
    let chars: Vec<char> = text.chars().collect();
    let mut glued = String::with_capacity(text.len());
    for (index, &c) in chars.iter().enumerate() {
        let before = index.checked_sub(1).map(|i| chars[i]);
        let holds = c == ' '
            && (sign(before)
                || sign(chars.get(index + 1).copied())
                || before.is_some_and(|b| b.is_ascii_digit()) && begins_unit(&chars[index + 1..])
                || chars.get(index + 1).is_some_and(char::is_ascii_digit)
                    && ends_in(&chars[..index], "carry"));
        glued.push(if holds { NBSP } else { c });
    }
    glued
}

/// Whether the last word is this one.
fn ends_in(text: &[char], word: &str) -> bool {
    let start = text.len().checked_sub(word.len());
    let begins = |at: usize| at == 0 || !text[at - 1].is_alphabetic();
    start.is_some_and(|at| begins(at) && text[at..].iter().copied().eq(word.chars()))
}

fn begins_unit(rest: &[char]) -> bool {
    let word: String = rest.iter().take_while(|c| c.is_alphabetic()).collect();
    UNITS.contains(&word.as_str())
}

/// Breaks a text into lines no wider than `room` millimetres.
///
/// Lines break at spaces; a last line of one word takes another one down where that fits. Only
/// what is wider than a whole line breaks elsewhere: first at an unbreakable space, then anywhere.
pub fn wrap(text: &str, face: Face, size: u8, room: f32) -> Vec<String> {
    let text = glue(text);
    let fits = |s: &str| width(s, face, size) <= room;
    let space = units(" ", face);
    let mut lines: Vec<String> = Vec::new();
    let mut used = 0;
    for word in text.split(' ').filter(|w| !w.is_empty()).flat_map(|w| pieces(w, &fits)) {
        let wide = units(&word, face);
        let longer = used + space + wide;
        match lines.last_mut() {
            Some(line) if millimetres(longer, face, size) <= room => {
                line.push(' ');
                line.push_str(&word);
                used = longer;
            }
            _ => {
                lines.push(word);
                used = wide;
            }
        }
    }
    no_lonely_word(&mut lines, &fits);
    lines
}

/// How wide lines are at most where one follows another, in millimetres for each point of size: about 75
/// letters, so that the eye finds the next line.
const MEASURE: f32 = 12.6;

/// A text to read in lines: on one, where the room has it, else on lines of about 75 letters at most.
pub fn wrap_to_read(text: &str, face: Face, size: u8, room: f32) -> Vec<String> {
    let lines = wrap(text, face, size, room);
    let measure = MEASURE * f32::from(size);
    if lines.len() < 2 || room <= measure { lines } else { wrap(text, face, size, measure) }
}

/// A word, cut up if it is wider than a line.
fn pieces(word: &str, fits: &impl Fn(&str) -> bool) -> Vec<String> {
    if fits(word) {
        return vec![word.to_owned()];
    }
    if word.contains(NBSP) {
        return word.split(NBSP).flat_map(|w| pieces(w, fits)).collect();
    }
    let mut cut = vec![String::new()];
    for c in word.chars() {
        let last = cut.last_mut().expect("never empty");
        if last.is_empty() || fits(&format!("{last}{c}")) {
            last.push(c);
        } else {
            cut.push(c.to_string());
        }
    }
    cut
}

fn no_lonely_word(lines: &mut [String], fits: &impl Fn(&str) -> bool) {
    let [.., before, last] = lines else { return };
    // Of a line of two words, one would be left: unless that is a sum.
    let few = before.split(' ').count() < 3 && !before.contains(NBSP);
    if last.contains(' ') || !before.contains(' ') || few {
        return;
    }
    if let Some((rest, word)) = before.rsplit_once(' ') {
        let longer = format!("{word} {last}");
        if fits(&longer) {
            *before = rest.to_owned();
            *last = longer;
        }
    }
}

/// The text cut at a word's end so that it fits with "…", or the text itself.
pub fn shorten(text: &str, face: Face, size: u8, room: f32) -> String {
    if width(text, face, size) <= room {
        return text.to_owned();
    }
    let mut short = text.to_owned();
    while let Some((rest, _)) = short.rsplit_once(' ') {
        let cut = format!("{rest}…");
        if width(&cut, face, size) <= room {
            return cut;
        }
        short = rest.to_owned();
    }
    while short.pop().is_some() {
        let cut = format!("{short}…");
        if width(&cut, face, size) <= room {
            return cut;
        }
    }
    String::new()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_and_signs_are_as_wide_as_each_other() {
        // Measured in the original with fontTools: figures 0.586 em, Bold 0.605 em.
        for c in "0123456789×−+=÷".chars() {
            assert_eq!(Cut::Regular.advance(c), 1200, "{c}");
        }
        assert_eq!(Cut::Bold.advance('8'), 1240);
        assert_eq!(width("1,234", Face::Figures, 12), width("1,234", Face::Regular, 12));
        assert_eq!(Cut::Regular.advance(' '), Cut::Regular.advance(NBSP));
    }

    #[test]
    fn the_family_has_what_sheets_need_and_lacks_what_is_known_missing() {
        let needed = "Zoë Ķēniņš Ștefan ḥṛṣẹọ × ÷ − ≈ ≤ ≥ ₹ £ € ½ ✓ → … “” ‘’ – · \u{202F}\u{A0}";
        assert_eq!(glyphs_missing(needed), []);
        assert_eq!(glyphs_missing("☐ Мария ☐"), ['☐', 'М', 'а', 'р', 'и', 'я']);
        assert_eq!(glyphs_missing("two\nlines"), ['\n']);
    }

    #[test]
    fn the_table_of_glyphs_says_what_the_font_says() {
        for cut in Cut::ALL {
            for c in '\u{0}'..='\u{FFFF}' {
                let glyph = cut.parsed().glyph_index(c).filter(|g| g.0 != 0);
                assert_eq!(cut.glyph(c), glyph.map(|g| g.0), "{c:?}");
                let advance = cut.parsed().glyph_hor_advance(glyph.unwrap_or_default());
                assert_eq!(cut.advance(c), u32::from(advance.unwrap_or(0)), "{c:?}");
            }
        }
    }

    #[test]
    fn a_sum_never_breaks_and_a_number_keeps_its_word() {
        for room in 10..80 {
            for line in
                wrap("about 18 lakh: 6,283 × 347 = 21,80,201", Face::Regular, 8, room as f32)
            {
                assert!(!line.starts_with(['×', '=']) || room < 40, "{room}: {line}");
            }
        }
        let lines = wrap("Say what 6,283 × 347 is", Face::Regular, 12, 35.0);
        assert_eq!(lines, ["Say what", "6,283\u{A0}×\u{A0}347 is"]);
        assert_eq!(glue("8 lakh in 3 boxes"), "8\u{A0}lakh in 3 boxes");
    }

    #[test]
    fn nothing_is_wider_than_its_room() {
        let text = "Apfelbäumchenweg-Grundschule zu Krummhörn an der Nordseeküste";
        for room in [12.0, 20.0, 33.0, 168.0] {
            for line in wrap(text, Face::Bold, 16, room) {
                assert!(width(&line, Face::Bold, 16) <= room, "{line}");
            }
            assert!(width(&shorten(text, Face::Regular, 8, room), Face::Regular, 8) <= room);
        }
    }

    #[test]
    fn a_last_line_of_one_word_takes_another_down() {
        let lines = wrap("How many hooks does the yard send?", Face::Regular, 12, 60.0);
        assert!(lines.last().is_some_and(|l| l.contains(' ')), "{lines:?}");
    }
}
