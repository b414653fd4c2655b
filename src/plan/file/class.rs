//! `[class]`.

use super::read::check_beside;
use crate::report::{Message, Report, Spot, Table, nearest};
use chrono_tz::Tz;
use std::ops::RangeInclusive;

/// How many pupils a class may have.
pub const PUPILS: RangeInclusive<u32> = 1..=60;
/// How many it has where the plan does not say (common practice, no source).
const USUAL_PUPILS: u32 = 30;
/// The class's pace in hundredths.
pub const PACE: RangeInclusive<u32> = 50..=300;
const USUAL_PACE: u32 = 100;

/// How many pupils, or the file that lists them.
#[derive(Debug, Clone)]
pub enum Pupils {
    Count(u32),
    File(Spot<String>),
}

/// `[class]` as written.
#[derive(Debug, Clone)]
pub struct ClassPart {
    pub name: String,
    pub school: String,
    pub key: Option<String>,
    pub pupils: Pupils,
    pub pace: u32,
    /// Where the pace stands, if it does.
    pub pace_place: Option<crate::report::Place>,
    pub zone: Option<Tz>,
}

pub fn read(root: &Table, report: &mut Report) -> ClassPart {
    let mut class = ClassPart {
        name: String::new(),
        school: String::new(),
        key: None,
        pupils: Pupils::Count(USUAL_PUPILS),
        pace: USUAL_PACE,
        pace_place: None,
        zone: None,
    };
    if !root.has("class") {
        root.missing("class", "[class]` with `name = \"Class 5\"", report);
    }
    let Some(table) = root.table("class", report) else { return class };
    if !table.has("name") {
        table.missing("name", "name = \"Class 5\"", report);
    }
    if let Some(name) = table.text("name", report) {
        check_filled("class.name", &name, report);
        check_one_line("class.name", &name, report);
        class.name = name.value;
    }
    if let Some(school) = table.text("school", report) {
        check_one_line("class.school", &school, report);
        class.school = school.value;
    }
    class.key = table.text("key", report).map(|s| s.value);
    if let Some(pupils) = read_pupils(&table, report) {
        class.pupils = pupils;
    }
    if let Some(pace) = table.hundredths("pace", PACE, report) {
        class.pace = pace.value;
        class.pace_place = Some(pace.place);
    }
    class.zone = table.text("zone", report).and_then(|zone| read_zone(&zone, report));
    table.finish(report);
    class
}

/// A head of a page is one line.
fn check_one_line(path: &str, text: &Spot<String>, report: &mut Report) {
    if text.value.chars().any(char::is_control) {
        let message = Message::mistake(format!("`{path}` has a line break")).at(&text.place);
        report.say(message.hint("write it on one line"));
    }
}

fn check_filled(path: &str, text: &Spot<String>, report: &mut Report) {
    if text.value.trim().is_empty() {
        let message = Message::mistake(format!("`{path}` is empty")).at(&text.place);
        report.say(message.hint("write the name that stands on the pupils' paper"));
    }
}

fn read_pupils(table: &Table, report: &mut Report) -> Option<Pupils> {
    let file = table.has("pupils").then(|| table.text("pupils", &mut Report::new())).flatten();
    let Some(file) = file else {
        return table.whole("pupils", PUPILS, report).map(|n| Pupils::Count(n.value));
    };
    check_beside(&file, report);
    if !file.value.ends_with(".csv") {
        let message = Message::mistake(format!("`class.pupils`: `{}` is no CSV file", file.value))
            .at(&file.place)
            .label("expected a number from 1 to 60, or a file name ending in `.csv`");
        report.say(match file.value.trim().parse::<u32>() {
            Ok(n) => message.hint(format!("write the number without quotes: {n}")),
            Err(_) => message.hint("write `pupils = 30`, or `pupils = \"pupils.csv\"`"),
        });
        return None;
    }
    Some(Pupils::File(file))
}

fn read_zone(zone: &Spot<String>, report: &mut Report) -> Option<Tz> {
    let found = zone.value.parse::<Tz>().ok();
    if found.is_none() {
        let names = || chrono_tz::TZ_VARIANTS.iter().map(|z| z.name());
        let message = Message::mistake(format!("`class.zone`: no zone is named `{}`", zone.value))
            .at(&zone.place)
            .label("expected a name of the IANA time zone database");
        let of_city = names().find(|name| {
            name.rsplit('/').next().is_some_and(|city| city.eq_ignore_ascii_case(&zone.value))
        });
        let hint = match nearest(&zone.value, names()).or(of_city) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "write continent and city, such as `Europe/London`".to_owned(),
        };
        report.say(message.hint(hint));
    }
    found
}
