//! The components of an iCalendar file (RFC 5545 section 3.6): `BEGIN` to `END`, nested.

use super::lines::{ContentLine, Line};
use crate::report::{Message, Place, Report};

/// A component with its properties and the components in it.
#[derive(Debug)]
pub struct Component {
    pub name: String,
    pub properties: Vec<ContentLine>,
    pub components: Vec<Component>,
    pub place: Place,
}

/// Components whose properties are read; of others only the bounds are.
const READ: [&str; 5] = ["VCALENDAR", "VEVENT", "VTIMEZONE", "STANDARD", "DAYLIGHT"];
/// More mistakes of one file help nobody.
const MOST_MISTAKES: usize = 10;

impl Component {
    fn new(name: String, place: Place) -> Component {
        Component { name, properties: Vec::new(), components: Vec::new(), place }
    }
    /// The first property of a name.
    pub fn get(&self, name: &str) -> Option<&ContentLine> {
        self.properties.iter().find(|p| p.name == name)
    }
    /// All properties of a name.
    pub fn all<'a>(&'a self, name: &str) -> impl Iterator<Item = &'a ContentLine> {
        self.properties.iter().filter(move |p| p.name == name)
    }
}

/// The calendars of a file; a file that is none, or breaks off, is a mistake.
pub fn calendars(lines: &[Line], report: &mut Report) -> Vec<Component> {
    let mut roots = Vec::new();
    let mut open: Vec<Component> = Vec::new();
    let mut found = Report::new();
    for line in lines {
        if found.messages().len() >= MOST_MISTAKES {
            break;
        }
        let (name, value) = line.text.split_once(':').unwrap_or((&line.text, ""));
        let component = || value.trim().to_ascii_uppercase();
        let outside = open.is_empty();
        if name.eq_ignore_ascii_case("BEGIN") && !(outside && component() != "VCALENDAR") {
            open.push(Component::new(component(), line.place.clone()));
        } else if outside {
            found.say(no_calendar(&line.place));
            break;
        } else if name.eq_ignore_ascii_case("END") {
            match close(&mut open, &component(), line) {
                Ok(root) => roots.extend(root),
                Err(message) => {
                    found.say(message);
                    open.clear();
                    break;
                }
            }
        } else if let Some(inner) = open.last_mut()
            && READ.contains(&inner.name.as_str())
        {
            inner.properties.extend(ContentLine::of(line, &mut found));
        }
    }
    if let (Some(inner), Some(last), false) = (open.last(), lines.last(), found.has_mistakes()) {
        let begins = inner.place.line();
        let text = format!("the file breaks off inside {} of line {begins}", inner.name);
        let message = Message::mistake(text).at(&last.place);
        let message = message.label(format!("expected `END:{}` after this line", inner.name));
        found.say(message.hint("the file was not saved whole: export the calendar again"));
    }
    report.append(found);
    roots
}

fn no_calendar(place: &Place) -> Message {
    Message::mistake("this is no iCalendar file")
        .at(place)
        .label("expected `BEGIN:VCALENDAR`")
        .hint("export the calendar as an iCalendar file (.ics)")
}

/// Closes the innermost component; gives it back if it was the outermost.
fn close(open: &mut Vec<Component>, name: &str, line: &Line) -> Result<Option<Component>, Message> {
    let Some(inner) = open.pop_if(|inner| inner.name == name) else {
        let expected = open.last().map_or("VCALENDAR", |inner| inner.name.as_str());
        let message = Message::mistake(format!("`END:{name}` closes nothing that is open"));
        let message = message.at(&line.place).label(format!("expected `END:{expected}`"));
        return Err(message.hint("a part of the file is missing: export the calendar again"));
    };
    match open.last_mut() {
        None => Ok(Some(inner)),
        Some(outer) => {
            outer.components.push(inner);
            Ok(None)
        }
    }
}
