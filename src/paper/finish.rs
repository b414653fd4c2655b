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
    for (_, page) in written.get_pages() {
        let contents = written.get_page_content(page);
        let contents = add_stream(&mut document, Dictionary::new(), &tidy(&contents))?;
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

/// A page's contents without layers and settings that change nothing, texts in one piece, places
/// to a thousandth of a point. The library writes an operation a line.
fn tidy(contents: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(contents.len());
    for line in contents.split(|&byte| byte == b'\n') {
        let operator = line.rsplit(|&byte| byte == b' ').next().unwrap_or_default();
        match operator {
            b"" | b"BDC" | b"EMC" | b"TL" => continue,
            b"TJ" if joined(line, &mut out) => {}
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
    out
}

/// The library moves the pen by nothing before each character: one string says the same. False,
/// and nothing written, where it does move the pen.
fn joined(line: &[u8], out: &mut Vec<u8>) -> bool {
    let begin = out.len();
    out.push(b'<');
    let mut inside = false;
    for &byte in line.strip_suffix(b" TJ").unwrap_or(line) {
        match byte {
            b'<' => inside = true,
            b'>' => inside = false,
            b'0'..=b'9' | b'A'..=b'F' | b'a'..=b'f' if inside => out.push(byte),
            b'[' | b']' | b' ' | b'0' if !inside => {}
            _ => {
                out.truncate(begin);
                return false;
            }
        }
    }
    out.extend_from_slice(b"> Tj");
    true
}

/// A number with at most three decimals; any other word as it is.
fn rounded(word: &[u8], out: &mut Vec<u8>) {
    let decimal = word.contains(&b'.') && word.iter().all(|b| b"-.0123456789".contains(b));
    let number = std::str::from_utf8(word).ok().and_then(|w| w.parse::<f64>().ok());
    let Some(number) = number.filter(|n| decimal && n.abs() < 1.0e6) else {
        out.extend_from_slice(word);
        return;
    };
    let mut text = format!("{number:.3}");
    text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    out.extend_from_slice(if text == "-0" { b"0" } else { text.as_bytes() });
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
    let file = add_stream(document, dictionary! { "Length1" => length }, &file)?;
    let name = format!("{}+{}", tag(&glyphs), cut.name());
    let descriptor = descriptor(cut, &name, file);
    let descriptor = document.add_object(descriptor);
    let map = add_stream(document, Dictionary::new(), &cid_to_gid(&numbers, &remapper))?;
    let unicode = add_stream(document, Dictionary::new(), to_unicode(&glyphs).as_bytes())?;
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
) -> Result<ObjectId, String> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(LEVEL));
    let packed =
        encoder.write_all(data).and_then(|()| encoder.finish()).map_err(|e| e.to_string())?;
    dictionary.set("Filter", "FlateDecode");
    Ok(document.add_object(Stream::new(dictionary, packed)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn contents_are_tidied_line_by_line() {
        let written = b"/OC /MC0 BDC\nq\nBT\n4.5475287 TL\n59.527565 799.3702 Td\n0 g\n/F1 8 Tf\n\
                        [<0024><004D>0 <0042>] TJ\nET\n0.9000001 w\n59.527565 -0.0001 m\n535.7481 792 l\n\
                        S\nQ\nEMC\n";
        let tidied = String::from_utf8(tidy(written)).expect("text");
        let expected = "q\nBT\n59.528 799.37 Td\n0 g\n/F1 8 Tf\n<0024004D0042> Tj\nET\n0.9 w\n\
                        59.528 0 m\n535.748 792 l\nS\nQ\n";
        assert_eq!(tidied, expected);
        // Where the pen is moved it goes on being moved.
        assert_eq!(tidy(b"[<0024>-120<004D>] TJ"), b"[<0024>-120<004D>] TJ\n");
    }
}
