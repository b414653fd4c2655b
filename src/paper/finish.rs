//! From the library's PDF to the one that is handed out.
//!
//! The library leaves stub fonts, layers, dates and an identifier that differs from run to run. Here
//! a new document is built that keeps nothing of it but each page's contents: with fonts cut down
//! to the characters used, text that can be searched, a title, an author, a language, an outline,
//! and the same bytes for the same sheet, whoever makes it and when.

use super::draw::Drawn;
use super::font::{Cut, PT};
use super::sheet::Sheet;
use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::xref::XrefType;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary, text_string};
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::io::Write as _;
use subsetter::GlyphRemapper;

/// How hard contents are packed: beyond it a file takes twice as long and is 2 % smaller.
const LEVEL: u32 = 5;
/// The same for fonts, whose outlines hardly pack.
const FONT_LEVEL: u32 = 2;

/// Finishes a drawn sheet.
///
/// # Errors
/// A fault of ours or of a library: the text says which.
pub fn finish(drawn: &Drawn, sheet: &Sheet) -> Result<Vec<u8>, String> {
    let written = Document::load_mem(&drawn.pdf).map_err(|e| e.to_string())?;
    let mut document = Document::with_version("1.7");
    document.reference_table.cross_reference_type = XrefType::CrossReferenceTable;
    let mut fonts = Dictionary::new();
    for (&cut, characters) in &drawn.used {
        let font = add_font(&mut document, cut, characters)?;
        fonts.set(resource(cut), font);
    }
    let resources = document.add_object(dictionary! { "Font" => fonts });
    let tree = document.new_object_id();
    let mut pages = Vec::new();
    for ((_, page), texts) in written.get_pages().into_iter().zip(&drawn.texts) {
        let contents = tidy(&written.get_page_content(page), texts)?;
        let contents = add_stream(&mut document, Dictionary::new(), &contents, LEVEL)?;
        pages.push(document.add_object(dictionary! {
            "Type" => "Page",
            "Parent" => tree,
            "MediaBox" => media_box(sheet),
            "Resources" => resources,
            "Contents" => contents,
        }));
    }
    let kids: Vec<Object> = pages.iter().map(|&id| id.into()).collect();
    let count = i64::try_from(kids.len()).map_err(|e| e.to_string())?;
    document
        .objects
        .insert(tree, dictionary! { "Type" => "Pages", "Kids" => kids, "Count" => count }.into());
    close(&mut document, sheet, tree, &pages);
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).map_err(|e| e.to_string())?;
    Ok(bytes)
}

fn media_box(sheet: &Sheet) -> Vec<Object> {
    vec![0.into(), 0.into(), thousandths(sheet.size.0 / PT), thousandths(sheet.size.1 / PT)]
}

/// The catalog, the outline and the document's properties.
fn close(document: &mut Document, sheet: &Sheet, tree: ObjectId, pages: &[ObjectId]) {
    let mut catalog = dictionary! {
        "Type" => "Catalog",
        "Pages" => tree,
        "Lang" => text_string("en"),
        "ViewerPreferences" => dictionary! {
            "PrintScaling" => "None",
            "DisplayDocTitle" => true,
        },
    };
    if let Some(outline) = add_outline(document, sheet, pages) {
        catalog.set("Outlines", outline);
    }
    let catalog = document.add_object(catalog);
    let info = document.add_object(dictionary! {
        "Title" => text_string(&sheet.title),
        "Author" => text_string(&sheet.author),
        "Creator" => text_string("Rungwise"),
    });
    document.trailer.set("Root", catalog);
    document.trailer.set("Info", info);
}

fn add_outline(document: &mut Document, sheet: &Sheet, pages: &[ObjectId]) -> Option<ObjectId> {
    let entries: Vec<(&str, ObjectId)> = sheet
        .outline
        .iter()
        .filter_map(|(name, page)| Some((name.as_str(), *pages.get(*page)?)))
        .collect();
    let ids: Vec<ObjectId> = entries.iter().map(|_| document.new_object_id()).collect();
    let (first, last) = (*ids.first()?, *ids.last()?);
    let count = i64::try_from(ids.len()).ok()?;
    let root = document.add_object(dictionary! {
        "Type" => "Outlines", "First" => first, "Last" => last, "Count" => count,
    });
    for (index, (name, page)) in entries.into_iter().enumerate() {
        let top = vec![page.into(), "XYZ".into(), Object::Null, Object::Null, Object::Null];
        let mut entry = dictionary! {
            "Title" => text_string(name), "Parent" => root, "Dest" => top,
        };
        if let Some(before) = index.checked_sub(1) {
            entry.set("Prev", ids[before]);
        }
        if let Some(&next) = ids.get(index + 1) {
            entry.set("Next", next);
        }
        document.objects.insert(ids[index], entry.into());
    }
    Some(root)
}

/// The name the library gave a font in the page's contents.
fn resource(cut: Cut) -> &'static str {
    match cut {
        Cut::Regular => "F0",
        Cut::Bold => "F1",
        Cut::Italic => "F2",
    }
}

/// A page's contents without layers and settings that change nothing, places to a thousandth of a
/// point, and each text whole where the library printed its first character. The library writes an
/// operation a line.
fn tidy(contents: &[u8], texts: &[(Cut, String)]) -> Result<Vec<u8>, String> {
    let mut out = Vec::with_capacity(2 * contents.len());
    let mut texts = texts.iter();
    for line in contents.split(|&byte| byte == b'\n') {
        let operator = line.rsplit(|&byte| byte == b' ').next().unwrap_or_default();
        match operator {
            b"" | b"BDC" | b"EMC" | b"TL" => continue,
            b"TJ" => {
                let (cut, text) = texts.next().ok_or("a text more than was printed")?;
                whole(line, *cut, text, &mut out)?;
            }
            _ => {
                for (index, word) in line.split(|&byte| byte == b' ').enumerate() {
                    if index > 0 {
                        out.push(b' ');
                    }
                    rounded(word, &mut out);
                }
            }
        }
        out.push(b'\n');
    }
    match texts.next() {
        Some((_, text)) => Err(format!("the library did not print {text:?}")),
        None => Ok(out),
    }
}

/// The whole text in place of its first character, which must be the one that was printed.
fn whole(line: &[u8], cut: Cut, text: &str, out: &mut Vec<u8>) -> Result<(), String> {
    const HEX: &[u8; 16] = b"0123456789ABCDEF";
    let begin = out.len();
    out.push(b'<');
    for c in text.chars() {
        let glyph = cut.glyph(c).ok_or_else(|| format!("{} lacks {c:?}", cut.name()))?;
        let nibbles = [glyph >> 12, glyph >> 8, glyph >> 4, glyph];
        out.extend(nibbles.map(|nibble| HEX[usize::from(nibble & 15)]));
    }
    // `[<0024>] TJ`, or with a move of nothing before the character.
    let printed = line.iter().position(|&byte| byte == b'<').map(|at| &line[at..]);
    if printed
        .is_none_or(|p| p.len() < 6 || !p[1..5].eq_ignore_ascii_case(&out[begin + 1..begin + 5]))
    {
        return Err(format!("the library printed another text than {text:?}"));
    }
    out.extend_from_slice(b"> Tj");
    Ok(())
}

/// A number with at most three decimals, half a thousandth away from nought; any other word as it
/// is.
fn rounded(word: &[u8], out: &mut Vec<u8>) {
    let point = word.iter().position(|&byte| byte == b'.');
    let digits = word.strip_prefix(b"-").unwrap_or(word);
    let decimal = digits.iter().all(|b| b.is_ascii_digit() || *b == b'.');
    let Some(point) = point.filter(|_| decimal && digits.len() <= 18) else {
        out.extend_from_slice(word);
        return;
    };
    let value = |digits: &[u8]| digits.iter().fold(0_u64, |n, d| 10 * n + u64::from(d - b'0'));
    let whole = value(&digits[..point - (word.len() - digits.len())]);
    let after = &word[point + 1..];
    let mut thousandths = whole * 1000;
    for (digit, unit) in after.iter().zip([100, 10, 1]) {
        thousandths += u64::from(digit - b'0') * unit;
    }
    thousandths += u64::from(after.get(3).is_some_and(|digit| *digit >= b'5'));
    if thousandths > 0 && word.first() == Some(&b'-') {
        out.push(b'-');
    }
    out.extend_from_slice((thousandths / 1000).to_string().as_bytes());
    let mut rest = thousandths % 1000;
    if rest > 0 {
        out.push(b'.');
    }
    for unit in [100, 10, 1] {
        if rest > 0 {
            out.push(b"0123456789"[usize::try_from(rest / unit).unwrap_or(0)]);
            rest %= unit;
        }
    }
}

fn thousandths(number: f32) -> Object {
    Object::Real((number * 1000.0).round() / 1000.0)
}

/// A font cut down to these characters. Contents go on naming glyphs by their number in the whole
/// font; a map leads from there to the glyphs that are left.
fn add_font(
    document: &mut Document,
    cut: Cut,
    characters: &BTreeSet<char>,
) -> Result<ObjectId, String> {
    let mut glyphs: BTreeMap<u16, char> = BTreeMap::new();
    for &c in characters {
        let glyph = cut.glyph(c).ok_or_else(|| format!("{} lacks {c:?}", cut.name()))?;
        glyphs.entry(glyph).or_insert(c);
    }
    let numbers: Vec<u16> = glyphs.keys().copied().collect();
    let remapper = GlyphRemapper::new_from_glyphs_sorted(&numbers);
    let file = subsetter::subset(cut.file(), 0, &remapper).map_err(|e| e.to_string())?;
    let length = i64::try_from(file.len()).map_err(|e| e.to_string())?;
    let file = add_stream(document, dictionary! { "Length1" => length }, &file, FONT_LEVEL)?;
    let name = format!("{}+{}", tag(&glyphs), cut.name());
    let descriptor = descriptor(cut, &name, file);
    let descriptor = document.add_object(descriptor);
    let map = add_stream(document, Dictionary::new(), &cid_to_gid(&numbers, &remapper), LEVEL)?;
    let unicode = add_stream(document, Dictionary::new(), to_unicode(&glyphs).as_bytes(), LEVEL)?;
    let descendant = document.add_object(dictionary! {
        "Type" => "Font",
        "Subtype" => "CIDFontType2",
        "BaseFont" => name.as_str(),
        "CIDSystemInfo" => dictionary! {
            "Registry" => Object::string_literal("Adobe"),
            "Ordering" => Object::string_literal("Identity"),
            "Supplement" => 0,
        },
        "FontDescriptor" => descriptor,
        "DW" => 1000,
        "W" => widths(cut, &numbers),
        "CIDToGIDMap" => map,
    });
    Ok(document.add_object(dictionary! {
        "Type" => "Font",
        "Subtype" => "Type0",
        "BaseFont" => name.as_str(),
        "Encoding" => "Identity-H",
        "DescendantFonts" => vec![descendant.into()],
        "ToUnicode" => unicode,
    }))
}

/// Six capitals that differ between different sets of glyphs (ISO 32000-1, 9.6.4).
fn tag(glyphs: &BTreeMap<u16, char>) -> String {
    let mut hash = Sha256::new();
    for glyph in glyphs.keys() {
        hash.update(glyph.to_be_bytes());
    }
    hash.finalize().iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect()
}

fn descriptor(cut: Cut, name: &str, file: ObjectId) -> Dictionary {
    let face = cut.parsed();
    let scaled = |units: i16| em_thousandths(cut, f32::from(units));
    let bounds = face.global_bounding_box();
    dictionary! {
        "Type" => "FontDescriptor",
        "FontName" => name,
        "Flags" => 32 + if cut == Cut::Italic { 64 } else { 0 },
        "FontBBox" => vec![
            scaled(bounds.x_min), scaled(bounds.y_min), scaled(bounds.x_max), scaled(bounds.y_max),
        ],
        "ItalicAngle" => face.italic_angle().unwrap_or(0.0),
        "Ascent" => scaled(face.ascender()),
        "Descent" => scaled(face.descender()),
        "CapHeight" => scaled(face.capital_height().unwrap_or(0)),
        "StemV" => if cut == Cut::Bold { 130 } else { 80 },
        "FontFile2" => file,
    }
}

fn em_thousandths(cut: Cut, units: f32) -> Object {
    thousandths(units * 1000.0 / f32::from(cut.parsed().units_per_em()))
}

/// Widths glyph by glyph, not rounded.
fn widths(cut: Cut, glyphs: &[u16]) -> Vec<Object> {
    let width = |glyph: u16| {
        let advance = cut.parsed().glyph_hor_advance(ttf_parser::GlyphId(glyph)).unwrap_or(0);
        em_thousandths(cut, f32::from(advance))
    };
    glyphs.iter().flat_map(|&g| [i64::from(g).into(), vec![width(g)].into()]).collect()
}

fn cid_to_gid(glyphs: &[u16], remapper: &GlyphRemapper) -> Vec<u8> {
    let last = glyphs.last().copied().unwrap_or(0);
    (0..=last).flat_map(|glyph| remapper.get(glyph).unwrap_or(0).to_be_bytes()).collect()
}

fn to_unicode(glyphs: &BTreeMap<u16, char>) -> String {
    let mut map = String::from(
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo << /Registry \
         (Adobe) /Ordering (UCS) /Supplement 0 >> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 \
         def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n",
    );
    let all: Vec<_> = glyphs.iter().collect();
    // At most a hundred entries a block (Adobe Technical Note 5014).
    for block in all.chunks(100) {
        let _ = writeln!(map, "{} beginbfchar", block.len());
        for (glyph, c) in block {
            let mut units = [0; 2];
            let code: String =
                c.encode_utf16(&mut units).iter().map(|u| format!("{u:04X}")).collect();
            let _ = writeln!(map, "<{glyph:04X}> <{code}>");
        }
        map.push_str("endbfchar\n");
    }
    map.push_str("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
    map
}

fn add_stream(
    document: &mut Document,
    mut dictionary: Dictionary,
    data: &[u8],
    level: u32,
) -> Result<ObjectId, String> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(level));
    let packed =
        encoder.write_all(data).and_then(|()| encoder.finish()).map_err(|e| e.to_string())?;
    dictionary.set("Filter", "FlateDecode");
    Ok(document.add_object(Stream::new(dictionary, packed)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn contents_are_tidied_and_texts_made_whole() {
        let written = b"/OC /MC0 BDC\nq\nBT\n4.5475287 TL\n59.527565 799.3702 Td\n0 g\n/F1 8 Tf\n\
                        [<0024>] TJ\nET\n0.9000001 w\n59.527565 -0.0001 m\n535.7481 792 l\nS\nQ\n\
                        EMC\n";
        let texts = [(Cut::Regular, "Class".to_owned())];
        let tidied = String::from_utf8(tidy(written, &texts).expect("it is tidied"));
        let expected = "q\nBT\n59.528 799.37 Td\n0 g\n/F1 8 Tf\n<0024004D004200540054> Tj\nET\n\
                        0.9 w\n59.528 0 m\n535.748 792 l\nS\nQ\n";
        assert_eq!(tidied.as_deref(), Ok(expected));
        // The two must say the same: neither more, nor fewer, nor others.
        let glass = [(Cut::Regular, "Glass".to_owned())];
        for texts in [&[][..], &glass, &[texts[0].clone(), texts[0].clone()]] {
            assert!(tidy(written, texts).is_err(), "{texts:?}");
        }
    }

    #[test]
    fn numbers_are_rounded_to_thousandths() {
        for (word, expected) in [
            ("59.527565", "59.528"),
            ("0.9996", "1"),
            ("-12.3456", "-12.346"),
            ("-0.0004", "0"),
            ("799.0404", "799.04"),
            ("5", "5"),
            ("7.", "7"),
            ("/F0", "/F0"),
            ("1.5e3", "1.5e3"),
        ] {
            let mut out = Vec::new();
            rounded(word.as_bytes(), &mut out);
            assert_eq!(String::from_utf8_lossy(&out), expected, "{word}");
        }
    }
}
