//! `pack --group`: a one-page sheet with its key for each group that marking found, and for who was
//! absent.
//!
//! The files hold no pupil's name: who is in a group is said on the screen and in JSON only, so
//! that `forget` need not look into paper.

use super::args::{Format, Pack as Request};
use super::class::Class;
use super::mark::{kept_answers, marked};
use super::output::{Failure, data, json, note};
use super::pack::{Files, InTurn, read_pack, refused, write_to};
use crate::folder::{Access, lesson_code, pack_dir};
use crate::lesson::{BEGUN, ForGroup, GroupSheet, Pack, group_code, group_sheet, meaning, met_in};
use crate::marking::{Answers, Group, MOST_GROUPS, Marking, is_test, marked_items};
use crate::paper;
use crate::report::Message;
use crate::words::join;
use chrono::NaiveDate;
use indexmap::IndexSet;
use serde::Serialize;
use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;

/// A group with its sheet.
#[derive(Debug, Serialize)]
struct Told {
    #[serde(flatten)]
    sheet: GroupSheet,
    /// Who is in it; nobody is known where slips were counted in piles.
    labels: Vec<String>,
    #[serde(skip)]
    who: String,
}

/// A group that was asked for.
struct Wanted {
    group: String,
    pattern: Option<String>,
    also: Option<String>,
    one_of: Vec<String>,
    perhaps: bool,
    skills: Vec<String>,
    labels: Vec<String>,
    /// Who is in it, as the list says it.
    who: String,
    sort_by: Vec<(String, Vec<String>)>,
    size: usize,
}

/// Runs the command for this group.
pub fn run(
    request: &Request,
    group: &str,
    format: Format,
    today: NaiveDate,
) -> Result<(), Failure> {
    let writes = format == Format::Text && request.out.is_none();
    let class =
        Class::open(&request.dir, if writes { Access::Change } else { Access::Look }, today)?;
    let pack = marked_pack(&class, request)?;
    let Some(answers) = kept_answers(&class, &pack)? else {
        return Err(not_marked(&class, pack.lesson, &pack.version));
    };
    if answers == Answers::default() {
        return Err(no_answers(&class, &pack));
    }
    let marking = marked(&class, &pack, &answers, false)?;
    let met = met_in_term(&class, &pack)?;
    let mut all = Vec::new();
    for wanted in wanted(&pack, &marking, group)? {
        all.push(made(&class, &pack, &met, wanted)?);
    }
    if format == Format::Json {
        return json(&all);
    }
    let code = lesson_code(pack.lesson, &pack.version);
    let place = match &request.out {
        Some(out) => out.join(&code),
        None => class.folder.path(&pack_dir(pack.lesson, &pack.version)),
    };
    let mut list = format!("Written to {}. Copy:\n", place.display());
    let mut files = Files::new();
    for told in &all {
        let sheet = &told.sheet;
        let name = format!("group-{}", sheet.group);
        let [page, key] = paper::group(sheet).map_err(|refusal| refused(&refusal))?;
        let mut text = serde_json::to_string_pretty(sheet)
            .map_err(|e| Failure::Ours(format!("a sheet cannot be written as JSON: {e}")))?;
        text.push('\n');
        files.insert(format!("{name}.pdf"), page);
        files.insert(format!("{name}-key.pdf"), key);
        files.insert(format!("{name}.json"), text.into_bytes());
        writeln!(list, "{code}-{}  {}: {}", group_code(&sheet.group), about(sheet), told.who).ok();
        writeln!(list, "  {:>4} ×  {name}.pdf", sheet.pupils).ok();
        writeln!(list, "  {:>4} ×  {name}-key.pdf", 1).ok();
    }
    if !all.is_empty() {
        write_to(&place, &files)?;
        data(&list);
    }
    if absent_from_test(&pack, &marking) && matches!(group, "all" | "absent") {
        say_who_writes_the_second_version(&class, &pack, &marking);
    }
    if group == "all" {
        say_who_waits(&class, &pack, &marking);
    }
    Ok(())
}

/// What a sheet is about, as the list says it.
fn about(sheet: &GroupSheet) -> String {
    let shows = |name: &str| {
        let known = meaning(name)?;
        Some(if sheet.also.is_some() { known.beside_another().shows } else { known.shows })
    };
    match sheet.pattern.as_deref().and_then(shows) {
        Some(_) if !sheet.one_of.is_empty() => {
            let all: Vec<String> = sheet.one_of.iter().filter_map(|name| shows(name)).collect();
            format!("one of: {}", all.join("; or "))
        }
        Some(what) if sheet.perhaps => format!("perhaps {what} (the first sum decides)"),
        Some(what) => match sheet.also.as_deref().and_then(shows) {
            Some(also) => format!("{what}, and beside it {also}"),
            None => what,
        },
        None => "for who was absent".to_owned(),
    }
}

/// Whether some were absent from a test: they write its second version, for which no other sheet
/// stands.
fn absent_from_test(pack: &Pack, marking: &Marking) -> bool {
    is_test(pack) && marking.absent_count() > 0
}

fn say_who_writes_the_second_version(class: &Class, pack: &Pack, marking: &Marking) {
    let (dir, lesson) = (class.folder.dir().display(), pack.lesson);
    note(&format!(
        "who was absent ({}) writes version B of the test: `rungwise pack {dir} --lesson {lesson} \
         --version B` prints it, `rungwise mark {dir} --lesson {lesson} --version B FILE.csv` marks it, and \
         both versions count together",
        marking.absent_in_words()
    ));
}

/// Says which groups wait, and how to have a sheet for one of them.
fn say_who_waits(class: &Class, pack: &Pack, marking: &Marking) {
    let Some(first) = marking.waiting.first() else { return };
    let numbers: Vec<String> = marking.waiting.iter().map(|g| g.number.to_string()).collect();
    let (dir, lesson) = (class.folder.dir().display(), pack.lesson);
    let version = if pack.version == "B" { " --version B" } else { "" };
    let which = match numbers.as_slice() {
        [one] => format!("group {one} waits"),
        many => format!("groups {} wait", join(many, "and")),
    };
    note(&format!(
        "{which}: more than {MOST_GROUPS} are too many at once; `rungwise pack {dir} --lesson \
         {lesson}{version} --group {}` makes the sheet of such a group",
        first.number
    ));
}

/// The pack that was marked: of the lesson named, else of the last one marked.
fn marked_pack(class: &Class, request: &Request) -> Result<Pack, Failure> {
    let version = request.version.as_str();
    let number = match request.lesson {
        Some(number) => number,
        None => {
            let lessons = class.state.lessons();
            let last = lessons.iter().rev().find(|l| class.state.marked(l.number));
            let Some(last) = last else {
                let text = "no exit check has been marked yet, so there are no groups";
                let dir = class.folder.dir().display();
                let hint = format!("`rungwise mark {dir} --lesson N FILE.csv` finds them");
                return Err(Message::mistake(text).hint(hint).into());
            };
            last.number
        }
    };
    match read_pack(class, number, version)? {
        Some(pack) => Ok(pack),
        None => {
            class.lesson(number)?;
            Err(not_marked(class, number, version))
        }
    }
}

/// Where the marks hold nobody any more: taken away by hand, or all forgotten.
fn no_answers(class: &Class, pack: &Pack) -> Failure {
    let code = lesson_code(pack.lesson, &pack.version);
    let version = if pack.version == "B" { " --version B" } else { "" };
    let (dir, lesson) = (class.folder.dir().display(), pack.lesson);
    Message::mistake(format!("the marks of {code} hold no answers any more, so it has no groups"))
        .hint(format!("`rungwise mark {dir} --lesson {lesson}{version} FILE.csv` marks it again"))
        .into()
}

fn not_marked(class: &Class, number: u32, version: &str) -> Failure {
    let code = lesson_code(number, version);
    let version = if version == "B" { " --version B" } else { "" };
    let dir = class.folder.dir().display();
    Message::mistake(format!("{code} has not been marked, so it has no groups"))
        .hint(format!("`rungwise mark {dir} --lesson {number}{version} FILE.csv` marks it"))
        .into()
}

/// What pupils meet in the packs of the term, those still to be made among them, and on the sheets
/// of other lessons' groups. Nothing hangs on this lesson's own sheets: they come out the same
/// again.
fn met_in_term(class: &Class, marked: &Pack) -> Result<BTreeSet<String>, Failure> {
    let mut term = InTurn::of(class)?;
    let mut met = BTreeSet::new();
    for lesson in class.state.lessons() {
        let pack = match read_pack(class, lesson.number, "A")? {
            Some(pack) => pack,
            None => term.made(lesson.number, "A", true)?,
        };
        met.append(&mut met_in([&pack]));
        if let Some(second) = read_pack(class, lesson.number, "B")? {
            met.append(&mut met_in([&second]));
        }
        for version in ["A", "B"].iter().filter(|_| lesson.number != marked.lesson) {
            for name in sheets_in(&class.folder.path(&pack_dir(lesson.number, version))) {
                let name = format!("{}/{name}", pack_dir(lesson.number, version));
                let Some(text) = class.folder.text(&name)? else { continue };
                // A sheet that was edited into nonsense hides nothing from anybody.
                if let Ok(sheet) = serde_json::from_str::<GroupSheet>(&text) {
                    met.append(&mut met_in([&sheet.pack]));
                }
            }
        }
    }
    Ok(met)
}

/// The files of group sheets in a pack's directory, in order; none where there is none.
fn sheets_in(dir: &Path) -> Vec<String> {
    let Ok(files) = std::fs::read_dir(dir) else { return Vec::new() };
    let names = files.filter_map(|file| file.ok()?.file_name().into_string().ok());
    let is_sheet = |name: &String| name.starts_with("group-") && name.ends_with(".json");
    let mut sheets: Vec<String> = names.filter(is_sheet).collect();
    sheets.sort();
    sheets
}

/// Which groups are meant.
fn wanted(pack: &Pack, marking: &Marking, group: &str) -> Result<Vec<Wanted>, Failure> {
    let absent = marking.absent.clone();
    let of_group = |g: &Group| Wanted {
        group: g.number.to_string(),
        pattern: Some(g.pattern.clone()),
        also: g.also.clone(),
        one_of: g.one_of.clone(),
        perhaps: g.is_perhaps(),
        skills: g.skills.clone(),
        labels: g.pupils.clone(),
        who: g.who(&pack.heading.style),
        sort_by: g.sort_by.clone(),
        size: g.size(),
    };
    let mut all: Vec<Wanted> = marking.groups.iter().map(of_group).collect();
    if marking.absent_count() > 0 && !is_test(pack) {
        let mut skills: Vec<String> = pack.skill.iter().cloned().collect();
        if skills.is_empty() {
            let of_check: IndexSet<String> =
                marked_items(pack).iter().map(|item| item.skill.clone()).collect();
            skills.extend(of_check);
        }
        let (group, size) = ("absent".to_owned(), marking.absent_count());
        let who = marking.absent_in_words();
        let (one_of, sort_by) = (Vec::new(), Vec::new());
        let (pattern, also, perhaps, labels) = (None, None, false, absent);
        all.push(Wanted {
            group,
            pattern,
            also,
            one_of,
            perhaps,
            skills,
            labels,
            who,
            sort_by,
            size,
        });
    }
    let for_test = absent_from_test(pack, marking);
    if for_test && (group == "absent" || (group == "all" && all.is_empty())) {
        return Ok(Vec::new());
    }
    if group == "all" && !all.is_empty() {
        return Ok(all);
    }
    // Groups that wait are made when they are asked for by number.
    all.extend(marking.waiting.iter().map(of_group));
    let known: Vec<String> = all.iter().map(|w| w.group.clone()).collect();
    let found: Vec<Wanted> = all.into_iter().filter(|w| w.group == group).collect();
    if found.is_empty() {
        let code = lesson_code(pack.lesson, &pack.version);
        let message = Message::mistake(format!("{code} has no group `{group}`"));
        let hint = if known.is_empty() {
            match marking.pupils.is_empty() {
                true => "slips were counted, and too few are alike".to_owned(),
                false => "no pattern is shared, and nobody was absent".to_owned(),
            }
        } else {
            format!("expected {} or `all`", crate::words::or(&known))
        };
        return Err(message.hint(hint).into());
    }
    Ok(found)
}

/// The sheet, as many sums as go on one page.
fn made(
    class: &Class,
    pack: &Pack,
    met: &BTreeSet<String>,
    wanted: Wanted,
) -> Result<Told, Failure> {
    let Wanted { group, pattern, also, one_of, perhaps, skills, labels, who, sort_by, size } =
        wanted;
    let wish = ForGroup {
        plan: &class.plan,
        marked: pack,
        group: &group,
        pattern: pattern.as_deref(),
        also: also.as_deref(),
        one_of: &one_of,
        perhaps,
        skills: &skills,
        pupils: size,
        sort_by: &sort_by,
        met,
        begun: BEGUN,
    };
    let sheet = group_sheet(&wish).map_err(|fault| Failure::Ours(fault.to_string()))?;
    let sheet = paper::on_one_page(&sheet);
    if sheet.practice().is_empty() {
        let title = skills.first().map_or("", |skill| class.title(skill));
        note(&format!("no sums can be made for “{title}” yet: prepare your own for group {group}"));
    }
    Ok(Told { sheet, labels, who })
}
