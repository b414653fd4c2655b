//! Lessons as events of a calendar (RFC 5545, with RFC 7986 for names and identifiers).

use super::time::utc_of;
use crate::calendar::Clock;
use crate::plan::Class;
use crate::schedule::{Lesson, Schedule};
use ::icalendar::{Calendar, Component, Event, Property};
use chrono::{NaiveDateTime, NaiveTime};
use uuid::Uuid;

/// The schedule as a calendar with an event for each lesson. Times are floating, or in UTC where
/// the class has a zone. A lesson keeps its identifier whatever its date; it names no person,
/// class or machine (RFC 7986 section 5.3). `stamp` is the time of writing in UTC.
pub fn write(
    schedule: &Schedule,
    class: &Class,
    title: impl Fn(&Lesson) -> String,
    stamp: NaiveDateTime,
) -> String {
    let mut calendar = Calendar::empty();
    calendar.append_property(Property::new("VERSION", "2.0"));
    calendar.append_property(Property::new("PRODID", "-//Rungwise//lessons//EN"));
    // the library escapes the text of properties it knows, and `NAME` (RFC 7986) is not one
    calendar.append_property(Property::new("NAME", escape(&class.name)));
    calendar.append_property(Property::new("X-WR-CALNAME", class.name.as_str()));
    for lesson in &schedule.lessons {
        calendar.push(event(lesson, class, &title(lesson), stamp));
    }
    calendar.to_string()
}

fn event(lesson: &Lesson, class: &Class, title: &str, stamp: NaiveDateTime) -> Event {
    let ends = lesson.starts.plus(lesson.minutes);
    let time = |clock: Clock| local_or_utc(lesson, clock, class);
    let mut event = Event::new();
    event.uid(&identifier(class, lesson.number).to_string());
    event.summary(title);
    event.append_property(Property::new("DTSTAMP", stamp.format("%Y%m%dT%H%M%SZ").to_string()));
    event.append_property(Property::new("DTSTART", time(lesson.starts)));
    event.append_property(Property::new("DTEND", time(ends)));
    event.done()
}

/// A text as RFC 5545 section 3.3.11 writes it; a colon stands as it is.
fn escape(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        match letter {
            '\\' | ';' | ',' => out.extend(['\\', letter]),
            '\n' => out.push_str("\\n"),
            '\r' => {}
            _ => out.push(letter),
        }
    }
    out
}

/// A name-based UUID (version 5, RFC 9562): the same lesson of the same class, the same one.
fn identifier(class: &Class, number: u32) -> Uuid {
    let ours = Uuid::new_v5(&Uuid::NAMESPACE_OID, b"rungwise lesson");
    Uuid::new_v5(&ours, format!("{}/{number}", class.key).as_bytes())
}

fn local_or_utc(lesson: &Lesson, clock: Clock, class: &Class) -> String {
    let minutes = i64::from(clock.minutes());
    let local = lesson.date.and_time(NaiveTime::MIN) + chrono::Duration::minutes(minutes);
    match class.zone {
        None => local.format("%Y%m%dT%H%M%S").to_string(),
        Some(zone) => utc_of(zone, local).format("%Y%m%dT%H%M%SZ").to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::test_schedule;
    use crate::report::{Report, Source};
    use insta::assert_snapshot;

    fn stamp() -> NaiveDateTime {
        "2026-11-25T10:00:00".parse().expect("a time")
    }
    fn title(lesson: &Lesson) -> String {
        format!(
            "Lesson {}: fair, square; and \"so\": on\nto \\ the Größe of 3 × 4 × 5 × 6 × 7 × 8 × 9",
            lesson.number
        )
    }

    #[test]
    fn a_calendar_of_lessons_is_what_the_standard_asks_for() {
        let (schedule, class) = test_schedule();
        let text = write(&schedule, &class, title, stamp());
        assert_snapshot!(text.replace("\r\n", "\n"), @r#"
        BEGIN:VCALENDAR
        VERSION:2.0
        PRODID:-//Rungwise//lessons//EN
        NAME:Class 5\, "Kingfisher"
        X-WR-CALNAME:Class 5\, "Kingfisher"
        BEGIN:VEVENT
        DTEND:20270111T095000
        DTSTAMP:20261125T100000Z
        DTSTART:20270111T091000
        SUMMARY:Lesson 1: fair\, square\; and "so": on\nto \\ the Größe of 3 × 4
          × 5 × 6 × 7 × 8 × 9
        UID:ca9cc0bc-2c91-5697-b522-ab9d82781bfd
        END:VEVENT
        BEGIN:VEVENT
        DTEND:20270112T095000
        DTSTAMP:20261125T100000Z
        DTSTART:20270112T091000
        SUMMARY:Lesson 7: fair\, square\; and "so": on\nto \\ the Größe of 3 × 4
          × 5 × 6 × 7 × 8 × 9
        UID:967ba2a6-9f69-533c-9772-acda35786867
        END:VEVENT
        BEGIN:VEVENT
        DTEND:20270113T095000
        DTSTAMP:20261125T100000Z
        DTSTART:20270113T091000
        SUMMARY:Lesson 2: fair\, square\; and "so": on\nto \\ the Größe of 3 × 4
          × 5 × 6 × 7 × 8 × 9
        UID:c5d75e10-7cd8-5b2a-9ca9-ccdc5bf10277
        END:VEVENT
        END:VCALENDAR
        "#);
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
        assert!(text.ends_with("END:VCALENDAR\r\n"));
        assert!(text.split("\r\n").all(|line| line.len() <= 75), "{text}");
        assert_eq!(text, write(&schedule, &class, title, stamp()), "the same bytes again");
    }

    #[test]
    fn what_is_written_is_read_again() {
        let (schedule, class) = test_schedule();
        let source = Source::shared("a.ics", write(&schedule, &class, title, stamp()));
        let days = (schedule.lessons[0].date, schedule.lessons[2].date);
        let mut report = Report::new();
        let read = super::super::read(&source, None, days, &mut report);
        assert_eq!(report.to_text(), "");
        let lessons: Vec<_> = schedule
            .lessons
            .iter()
            .map(|l| (l.date, Some(l.starts), Some(l.starts.plus(l.minutes)), title(l)))
            .collect();
        let found: Vec<_> =
            read.into_iter().map(|c| (c.from, c.after, c.before, c.because)).collect();
        assert_eq!(found, lessons);
    }

    #[test]
    fn a_moved_lesson_keeps_its_identifier_and_times_of_a_zone_are_in_utc() {
        let (mut schedule, mut class) = test_schedule();
        let uids = |text: &str| -> Vec<String> {
            text.lines().filter(|l| l.starts_with("UID:")).map(str::to_owned).collect()
        };
        let before = write(&schedule, &class, title, stamp());
        schedule.lessons[0].date = schedule.lessons[1].date;
        class.zone = Some(chrono_tz::Asia::Kolkata);
        let after = write(&schedule, &class, title, stamp());
        assert_eq!(uids(&before), uids(&after));
        let mut each = uids(&after);
        each.sort();
        each.dedup();
        assert_eq!(each.len(), schedule.lessons.len());
        assert!(after.contains("DTSTART:20270112T034000Z"), "{after}");
    }
}
