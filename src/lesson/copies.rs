//! The copying list: which file, how many times.

use super::teach::is_long;
use super::{Copies, Level, Section, SectionName, sheet_letter};
use crate::exercise::Item;

/// How many of a hundred pupils take the support, the core and the stretch sheet, where nothing is
/// known of them (common practice, no source).
const SHARES: [u32; 3] = [25, 55, 20];

/// How many slips stand on a page: four where one holds a sum on squares or on a grid, else six.
pub fn slips_to_a_page(items: &[Item]) -> u32 {
    if items.iter().any(|item| is_long(&item.space)) { 4 } else { 6 }
}

/// How many of so many pupils take each level: by largest remainders, so that all have a sheet.
pub fn by_level(pupils: u32) -> [u32; 3] {
    let shares = super::blueprint::share_out(pupils, &SHARES, &[]);
    [shares[0], shares[1], shares[2]]
}

/// The copying list of a lesson with these sections: so many copies of the support sheets, each for
/// a group where there are several, and of the core and the stretch sheet.
pub fn copies(
    code: &str,
    sections: &[Section],
    pupils: u32,
    (support, [core, stretch]): (&[u32], [u32; 2]),
) -> Vec<Copies> {
    let mut group = 0;
    let entry = |letter: &str, file: &str, what: &str, count: u32| Copies {
        code: format!("{code}-{letter}"),
        file: file.to_owned(),
        what: what.to_owned(),
        count,
    };
    let mut list = Vec::new();
    for section in sections.iter().filter(|s| !s.items.is_empty()) {
        match (section.name, section.level) {
            (SectionName::Practice, Some(level)) => {
                let letter = sheet_letter(level, group).to_string();
                let (what, count) = match level {
                    Level::Support => ("support", support.get(group).copied().unwrap_or(0)),
                    Level::Core => ("core", core),
                    Level::Stretch => ("stretch", stretch),
                };
                let several = level == Level::Support && support.len() > 1;
                group += usize::from(level == Level::Support);
                let what = if several { format!("group {group}") } else { what.to_owned() };
                // Where marks say who needs which, there may be nobody for one of them.
                if count > 0 || pupils == 0 {
                    list.push(entry(&letter, &format!("pupil-{letter}.pdf"), &what, count));
                }
            }
            (SectionName::ExitCheck, _) => {
                let pages = pupils.div_ceil(slips_to_a_page(&section.items));
                list.push(entry("X", "slips.pdf", "exit slips, pages", pages));
            }
            (SectionName::Homework, _) => {
                list.push(entry("H", "homework.pdf", "homework, pages", pupils.div_ceil(2)));
            }
            (SectionName::Test, _) => list.push(entry("T", "test.pdf", "unit test", pupils)),
            _ => {}
        }
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pupil_has_a_sheet_and_32_share_as_8_18_and_6() {
        assert_eq!(by_level(32), [8, 18, 6]);
        for pupils in 1..=60 {
            assert_eq!(by_level(pupils).iter().sum::<u32>(), pupils);
        }
    }
}
