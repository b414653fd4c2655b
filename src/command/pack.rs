//! `pack`: makes the packs of some lessons, prints them and says what to copy.

use super::args::{Format, Pack as Request};
use super::class::Class;
use super::output::{Failure, data, json, note, short_date};
use super::week::{Week, monday_of};
use crate::exercise::Item;
use crate::folder::{Access, Change, Event, lesson_code, pack_dir, save_all};
use crate::lesson::{
    Findings, Met, Occasion, Pack, SectionName, check, compose_after, note_met, warm_up_after,
};
use crate::paper;
use crate::report::{Message, Place, Report, Source};
use crate::schedule::Lesson;
use crate::words::join;
use chrono::{Days, NaiveDate};
use indexmap::IndexMap;
use std::fmt::Write;
use std::path::Path;

/// The files of one pack by name, `pack.json` last.
pub type Files = IndexMap<String, Vec<u8>>;

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    if let Some(group) = &request.group {
        return super::group::run(request, group, format, today);
    }
    if let Some(item) = &request.swap {
        return swap(request, &item.to_uppercase(), format, today);
    }
    let writes = format == Format::Text && request.out.is_none();
    let class =
        Class::open(&request.dir, if writes { Access::Change } else { Access::Look }, today)?;
    class.notice_a_changed_plan();
    let wanted = choose(&class, request)?;
    let mut term = InTurn::of(&class)?;
    let mut packs = Vec::new();
    for (number, version) in wanted {
        packs.push(pack_of(&mut term, number, version, request)?);
    }
    if format == Format::Json {
        return json(&packs);
    }
    refuse_missing_glyphs(&class)?;
    let printed = print_all(&packs)?;
    let week = request.week.map(|day| Week::of(&packs, day, &request.version)).transpose()?;
    let files = files_of(&packs, printed, week.as_ref());
    let place = request.out.clone().unwrap_or_else(|| class.folder.path("packs"));
    match &request.out {
        Some(out) => write_to(out, &files)?,
        None => write_and_record(&class, &packs, files, request)?,
    }
    if let Some(week) = &week {
        week.clear_others(&place)?;
    }
    for pack in &packs {
        for missing in &pack.missing {
            note(&format!("lesson {}: {missing}", pack.lesson));
        }
    }
    data(&(copying_list(&packs, &place) + &week.map_or(String::new(), |week| week.list())));
    say_who(&packs);
    Ok(())
}

/// Says who gets which sheet where a lesson teaches again what marks showed.
fn say_who(packs: &[Pack]) {
    for pack in packs {
        for sheet in pack.teacher.sheets.iter().filter(|sheet| !sheet.pupils.is_empty()) {
            let slips =
                (!sheet.sort_by.is_empty()).then(|| format!("the slips with {}", sheet.sort_by));
            let who: Vec<String> =
                std::iter::once(join(&sheet.pupils, "and")).chain(slips).collect();
            let (what, who) = (&sheet.shows, who.join("; "));
            note(&format!("lesson {}, sheet {}: {what}: {who}", pack.lesson, sheet.sheet));
        }
    }
}

/// The numbers of the lessons asked for.
fn choose<'a>(class: &Class, request: &'a Request) -> Result<Vec<(u32, &'a str)>, Failure> {
    let version = request.version.as_str();
    if let Some(number) = request.lesson {
        // What was printed can be printed again even when its lesson was dropped since.
        if !class.state.printed(number, version) {
            class.lesson(number)?;
        }
        return Ok(vec![(number, version)]);
    }
    let lessons = &class.schedule()?.lessons;
    let on = |from: NaiveDate, to: NaiveDate| -> Vec<u32> {
        lessons.iter().filter(|l| l.date >= from && l.date <= to).map(|l| l.number).collect()
    };
    let numbers = if let Some(day) = request.day {
        some(on(day, day), &format!("there is no lesson on {}", short_date(day)))?
    } else if let Some(day) = request.week {
        let monday = monday_of(day);
        let what = format!("there is no lesson in the week of {}", short_date(monday));
        some(on(monday, monday + Days::new(6)), &what)?
    } else if request.all {
        lessons.iter().map(|l| l.number).collect()
    } else {
        let next =
            |l: &&Lesson| l.date >= class.state.today && !class.state.printed(l.number, version);
        let next = lessons.iter().find(next).map(|l| l.number);
        some(next.into_iter().collect(), "every lesson from today on is printed")?
    };
    Ok(numbers.into_iter().map(|n| (n, version)).collect())
}

fn some(numbers: Vec<u32>, otherwise: &str) -> Result<Vec<u32>, Failure> {
    if numbers.is_empty() {
        let hint = "`--lesson N` takes a lesson by its number, `--day DATE` by its day";
        return Err(Message::mistake(otherwise).hint(hint).into());
    }
    Ok(numbers)
}

/// The pack of a lesson: as it was printed, whatever has changed since; otherwise made now.
fn pack_of(
    term: &mut InTurn<'_>,
    number: u32,
    version: &str,
    request: &Request,
) -> Result<Pack, Failure> {
    let class = term.class;
    if class.state.printed(number, version)
        && !request.afresh
        && let Some(pack) = read_pack(class, number, version)?
    {
        return Ok(pack);
    }
    if class.state.printed(number, version) && class.lesson(number).is_err() {
        let text = format!("lesson {number} was dropped, so it cannot be made anew");
        let hint = format!("`rungwise pack DIR --lesson {number}` prints it as it was printed");
        return Err(Message::mistake(text).hint(hint).into());
    }
    term.made(number, version, request.draft)
}

/// A pack made now.
pub fn made(class: &Class, number: u32, version: &str, draft: bool) -> Result<Pack, Failure> {
    InTurn::of(class)?.made(number, version, draft)
}

/// Packs of a term made one after the other: each knows what those before it ask, as printed or
/// as they would be made now.
pub struct InTurn<'a> {
    class: &'a Class,
    findings: Findings,
    met: Met,
    /// How many lessons of the term `met` knows.
    known: usize,
    /// The pack made last, with its lesson's place.
    last: Option<(usize, Pack)>,
}

impl<'a> InTurn<'a> {
    /// The term of a class from its beginning.
    pub fn of(class: &'a Class) -> Result<InTurn<'a>, Failure> {
        let findings = super::mark::findings(class)?;
        Ok(InTurn { class, findings, met: Met::default(), known: 0, last: None })
    }

    /// The pack of a lesson, made now.
    pub fn made(&mut self, number: u32, version: &str, draft: bool) -> Result<Pack, Failure> {
        let place = self.up_to(number)?;
        let pack = self.compose(number, version, draft)?;
        self.last = (version == "A").then(|| (place, pack.clone()));
        Ok(pack)
    }

    /// The items of the warm-up that the pack of a lesson would have if it were made now.
    pub fn warm_up(&mut self, number: u32) -> Result<Vec<Item>, Failure> {
        self.up_to(number)?;
        let swaps = self.class.state.swaps();
        let own = format!("{}-", lesson_code(number, "A"));
        if swaps.keys().any(|item| item.starts_with(&own)) {
            let pack = self.compose(number, "A", true)?;
            return Ok(pack.named(SectionName::WarmUp).flat_map(|s| s.items.clone()).collect());
        }
        let occasion = self.occasion(number, "A", true, &swaps)?;
        warm_up_after(&occasion, &self.met).map_err(|fault| Failure::Ours(fault.to_string()))
    }

    /// Learns what the lessons before this one ask; its place.
    fn up_to(&mut self, number: u32) -> Result<usize, Failure> {
        self.class.lesson(number)?;
        let lessons = &self.class.schedule()?.lessons;
        let place = lessons.iter().position(|l| l.number == number).unwrap_or(0);
        if place < self.known {
            (self.met, self.known) = (Met::default(), 0);
        }
        while self.known < place {
            let before = lessons[self.known].number;
            let pack = match self.last.take().filter(|(place, _)| *place == self.known) {
                Some((_, pack)) => pack,
                None => self.before(before)?,
            };
            note_met(&mut self.met, &pack);
            self.known += 1;
        }
        Ok(place)
    }

    /// An earlier lesson's pack as it was printed, otherwise as it would be made.
    fn before(&self, number: u32) -> Result<Pack, Failure> {
        let printed = self.class.state.printed(number, "A");
        let pack = printed.then(|| read_pack(self.class, number, "A").ok().flatten()).flatten();
        pack.map_or_else(|| self.compose(number, "A", true), Ok)
    }

    fn compose(&self, number: u32, version: &str, draft: bool) -> Result<Pack, Failure> {
        let swaps = self.class.state.swaps();
        let occasion = self.occasion(number, version, draft, &swaps)?;
        compose_after(&occasion, &self.met).map_err(|fault| Failure::Ours(fault.to_string()))
    }

    fn occasion<'o>(
        &'o self,
        number: u32,
        version: &'o str,
        draft: bool,
        swaps: &'o IndexMap<String, u32>,
    ) -> Result<Occasion<'o>, Failure> {
        Ok(Occasion {
            plan: &self.class.plan,
            lessons: &self.class.schedule()?.lessons,
            calendar: &self.class.calendar,
            number,
            version,
            draft,
            findings: &self.findings,
            swaps,
        })
    }
}

/// Another item of the same purpose, remembered for whenever the pack is made. As JSON the pack is
/// only shown.
fn swap(request: &Request, item: &str, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let shows = format == Format::Json;
    let access = if shows { Access::Look } else { Access::Change };
    let mut class = Class::open(&request.dir, access, today)?;
    let (number, version) = lesson_of(item)?;
    if class.state.printed(number, version) {
        let text = format!("lesson {number} is printed, so its items stay as they are");
        return Err(Message::mistake(text).hint("`--afresh` with `--lesson` makes it anew").into());
    }
    let old = find_item(&made(&class, number, version, true)?, item)?;
    let event = Event::Swapped { lesson: number, item: item.to_owned() };
    class.state.suppose(std::slice::from_ref(&event));
    let pack = made(&class, number, version, true)?;
    let new = find_item(&pack, item)?;
    if old == new {
        let text = format!("there is no other item of the same purpose for `{item}`");
        return Err(Message::mistake(text)
            .hint("`[[own]]` in plan.toml takes sums of your own")
            .into());
    }
    if shows {
        return json(&[pack]);
    }
    let mut change = Change::by("pack --swap");
    change.events.push(event);
    if class.folder.path(&format!("{}/pack.json", pack_dir(number, version))).is_file() {
        let dir = pack_dir(number, version);
        let files = print_one(&pack)?.into_iter();
        change.prints = files.map(|(name, bytes)| (format!("{dir}/{name}"), bytes)).collect();
    }
    let journal = crate::folder::State::journal(&class.folder)?;
    change.make(&class.folder, &journal, today)?;
    data(&format!("{item} was {}\n{item} is  {}", in_a_line(&old), in_a_line(&new)));
    Ok(())
}

/// The lesson and version an item id names: `L07-K3`, `L07B-X1`.
fn lesson_of(item: &str) -> Result<(u32, &'static str), Failure> {
    let code = item.strip_prefix('L').and_then(|rest| rest.split_once('-')).map(|(code, _)| code);
    let (digits, version) = match code.map(|c| (c, c.strip_suffix('B'))) {
        Some((_, Some(digits))) => (digits, "B"),
        Some((digits, None)) => (digits, "A"),
        None => ("", "A"),
    };
    let number = digits.parse().map_err(|_| {
        Failure::Usage(format!("`{item}` is no item; an item is named as `L07-K3`"))
    })?;
    Ok((number, version))
}

fn find_item(pack: &Pack, id: &str) -> Result<Item, Failure> {
    let items = || pack.sections.iter().flat_map(|s| &s.items);
    items().find(|i| i.id == id).cloned().ok_or_else(|| {
        let message = Message::mistake(format!("lesson {} has no item `{id}`", pack.lesson));
        message.meant(id, items().map(|i| i.id.as_str())).into()
    })
}

/// An item in a line: its question, and its numbers where the question does not say them.
fn in_a_line(item: &Item) -> String {
    let told = item.prompt.contains(|c: char| c.is_ascii_digit());
    let answer = if told { String::new() } else { format!(" ({})", item.answer) };
    format!("{}{answer}", item.prompt)
}

/// The pack a lesson's folder holds.
pub fn read_pack(class: &Class, number: u32, version: &str) -> Result<Option<Pack>, Failure> {
    let name = format!("{}/pack.json", pack_dir(number, version));
    let Some(text) = class.folder.text(&name)? else { return Ok(None) };
    let hint = format!("`rungwise pack DIR --lesson {number} --afresh` makes it anew");
    let pack: Pack = serde_json::from_str(&text).map_err(|error| {
        let source = Source::shared(&name, text);
        let place = Place::of_line(&source, error.line());
        let message = Message::mistake(format!("{name} cannot be read: {error}")).at(&place);
        Failure::from(message.hint(&hint))
    })?;
    // It may have been edited since: no wrong key is printed or marked against.
    check(&pack).map_err(|fault| {
        let message = Message::mistake(format!("{name} is no longer sound: {fault}"));
        Failure::from(message.hint(&hint))
    })?;
    Ok(Some(pack))
}

/// A name with a letter the font lacks is refused before anything is printed.
fn refuse_missing_glyphs(class: &Class) -> Result<(), Failure> {
    let mut report = Report::new();
    for message in super::check::missing_glyphs(class) {
        report.say(message);
    }
    if report.has_mistakes() { Err(report.into()) } else { Ok(()) }
}

/// Prints packs on all processors; the files are the same however many there are.
pub fn print_all(packs: &[Pack]) -> Result<Vec<Files>, Failure> {
    let threads =
        std::thread::available_parallelism().map_or(1, usize::from).min(packs.len().max(1));
    // Each takes every so-manieth pack: later lessons have more on them than early ones.
    let results: Vec<Vec<Result<Files, Failure>>> = std::thread::scope(|scope| {
        let share = |first| packs.iter().skip(first).step_by(threads);
        let hands: Vec<_> = (0..threads)
            .map(|first| scope.spawn(move || share(first).map(print_one).collect()))
            .collect();
        let lost = || vec![Err(Failure::Ours("printing stopped in the middle".to_owned()))];
        hands.into_iter().map(|hand| hand.join().unwrap_or_else(|_| lost())).collect()
    });
    let mut shares: Vec<_> = results.into_iter().map(Vec::into_iter).collect();
    let in_order = (0..packs.len()).map_while(|place| shares[place % threads].next());
    in_order.collect()
}

/// The files of one pack by name, `pack.json` last.
pub fn print_one(pack: &Pack) -> Result<Files, Failure> {
    let mut files = paper::print(pack).map_err(|refusal| refused(&refusal))?;
    let mut text = serde_json::to_string_pretty(pack)
        .map_err(|error| Failure::Ours(format!("a pack cannot be written as JSON: {error}")))?;
    text.push('\n');
    files.insert("pack.json".to_owned(), text.into_bytes());
    Ok(files)
}

/// What is said of a sheet that cannot be printed.
pub fn refused(refusal: &paper::Refusal) -> Failure {
    match refusal {
        paper::Refusal::Glyphs { .. } => {
            let hint = "write it with letters the font has; nothing was printed";
            Message::mistake(refusal.to_string()).hint(hint).into()
        }
        fault => Failure::Ours(fault.to_string()),
    }
}

/// What is written, by its place beside the packs: the lessons' folders, then the week's.
pub fn files_of(packs: &[Pack], printed: Vec<Files>, week: Option<&Week>) -> Files {
    let mut all = Files::new();
    for (pack, files) in packs.iter().zip(printed) {
        let dir = lesson_code(pack.lesson, &pack.version);
        all.extend(files.into_iter().map(|(name, bytes)| (format!("{dir}/{name}"), bytes)));
    }
    if let Some(Week { dir, files, .. }) = week {
        all.extend(files.iter().map(|(name, bytes)| (format!("{dir}/{name}"), bytes.clone())));
    }
    all
}

/// Writes files below a folder: all of them or none.
pub fn write_to(place: &Path, files: &Files) -> Result<(), Failure> {
    let files = files.iter().map(|(name, bytes)| (place.join(name), bytes.as_slice()));
    Ok(save_all(&files.collect::<Vec<_>>())?)
}

fn write_and_record(
    class: &Class,
    packs: &[Pack],
    files: Files,
    request: &Request,
) -> Result<(), Failure> {
    let mut change = Change::by("pack");
    for pack in packs {
        let again = class.state.printed(pack.lesson, &pack.version);
        if !request.draft && !again {
            change.events.push(Event::Printed {
                lesson: pack.lesson,
                version: pack.version.clone(),
                date: pack.date,
                starts: pack.heading.starts,
            });
        }
    }
    if change.events.is_empty() {
        // A draft, or the same again: nothing that `undo` could take back.
        return write_to(&class.folder.path("packs"), &files);
    }
    let below = |(name, bytes)| (format!("packs/{name}"), bytes);
    change.prints = files.into_iter().map(below).collect();
    Ok(change.make(&class.folder, &class.state.journal, class.state.today)?)
}

/// Which file to copy how many times.
fn copying_list(packs: &[Pack], place: &Path) -> String {
    let mut out = format!("Written to {}. Copy:\n", place.display());
    for pack in packs {
        let code = lesson_code(pack.lesson, &pack.version);
        let draft = if pack.draft { ", a draft" } else { "" };
        writeln!(out, "{code}  {}  {}{draft}", short_date(pack.date), pack.heading.title).ok();
        for copies in paper::true_copies(pack) {
            let file = format!("{code}/{}", copies.file);
            writeln!(out, "  {:>4} ×  {file:<20}  {}", copies.count, copies.what).ok();
        }
    }
    out
}
