//! Public holidays of four countries: a term over the new year, through week 53 of 2026, planned
//! round them, exported, and read back.

use super::class::Class;
use chrono::{Datelike, Days, NaiveDate, Weekday};
use rungwise::calendar::{Clock, IsoWeek};
use rungwise::exchange::icalendar::{decode, read};
use rungwise::report::Report;
use serde_json::Value;
use std::collections::BTreeSet;

const STARTS: &str = "2026-12-07";
const ENDS: &str = "2027-02-26";
const TODAY: &str = "2026-11-30";

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

fn holidays(file: &str) -> String {
    let path = format!("{}/tests/data/calendars/{file}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("a calendar")
}

/// The days a calendar of all-day events lists, taken straight from its lines.
fn listed(text: &str) -> BTreeSet<NaiveDate> {
    let dates = |name: &str| -> Vec<NaiveDate> {
        let lines = text.lines().filter_map(|line| line.strip_prefix(name));
        lines.map(|d| NaiveDate::parse_from_str(d.trim(), "%Y%m%d").expect("a date")).collect()
    };
    let (starts, ends) = (dates("DTSTART;VALUE=DATE:"), dates("DTEND;VALUE=DATE:"));
    assert_eq!(starts.len(), ends.len());
    assert_eq!(starts.len(), text.matches("BEGIN:VEVENT").count());
    let days = |(from, end): (NaiveDate, NaiveDate)| from.iter_days().take_while(move |d| *d < end);
    starts.into_iter().zip(ends).flat_map(days).collect()
}

fn plan(zone: &str, week: &[Weekday], calendar: &str) -> String {
    const NAMES: [&str; 7] =
        ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
    let name = |d: &Weekday| NAMES[d.num_days_from_monday() as usize];
    let lessons: String =
        week.iter().map(|d| format!("{} = [\"09:10-09:50\"]\n", name(d))).collect();
    format!(
        "[class]\nname = \"Class 5 Heron\"\n{zone}\n[term]\nstarts = {STARTS}\nends = {ENDS}\n\n\
         [timetable]\n{lessons}\n[[calendar]]\nfile = \"{calendar}\"\n\n[unit]\n\
         ladder = \"multiplication\"\nsecure = [\"facts-to-ten-by-ten\"]\n\
         teach = [\"long-two-by-two\", \"story-one-step\"]\n"
    )
}

/// When a lesson is: its day, its beginning and its end.
type Times = (NaiveDate, Clock, Clock);

fn times(lesson: &Value) -> Times {
    let text = |key: &str| lesson[key].as_str().expect("a text");
    let starts: Clock = text("starts").parse().expect("a time");
    let minutes = lesson["minutes"].as_u64().and_then(|m| u16::try_from(m).ok());
    (day(text("date")), starts, starts.plus(minutes.expect("minutes")))
}

/// The times our own reader closes when it is given an exported calendar.
fn read_back(text: &str, zone: Option<chrono_tz::Tz>) -> Vec<Times> {
    let mut report = Report::new();
    let source = decode("lessons.ics", text.as_bytes(), &mut report).expect("text");
    let closings = read(&source, zone, (day(STARTS), day(ENDS)), &mut report);
    assert_eq!(report.to_text(), "");
    let whole = |c: rungwise::calendar::Closing| {
        assert_eq!(c.from, c.to);
        (c.from, c.after.expect("a beginning"), c.before.expect("an end"))
    };
    closings.into_iter().map(whole).collect()
}

fn planned_round(file: &str, zone: Option<chrono_tz::Tz>, week: &[Weekday], least: usize) {
    let text = holidays(file);
    let line = zone.map(|z| format!("zone = \"{z}\"\n")).unwrap_or_default();
    let class = Class::with(&plan(&line, week, file));
    class.write(file, &text);
    let made = class.on(TODAY, "plan", &["--format", "json"]).ends(0);
    assert!(!made.err.contains(file), "{}", made.err);
    let lessons: Vec<Times> =
        made.json()["lessons"].as_array().expect("lessons").iter().map(times).collect();

    let listed = listed(&text);
    let term = day(STARTS)..=day(ENDS);
    let hit = listed.iter().filter(|d| term.contains(d) && week.contains(&d.weekday())).count();
    assert!(hit >= least, "{file}: only {hit} holidays of the term fall on a day with a lesson");
    for (date, ..) in &lessons {
        assert!(!listed.contains(date), "{file}: a lesson on the holiday {date}");
        assert!(week.contains(&date.weekday()), "{file}: a lesson on {date}");
    }
    // Every other day with a period is used: spare periods are catch-ups.
    let open = term.start().iter_days().take_while(|d| term.contains(d));
    let open = open.filter(|d| week.contains(&d.weekday()) && !listed.contains(d));
    assert_eq!(lessons.iter().map(|t| t.0).collect::<Vec<_>>(), open.collect::<Vec<_>>());
    let in_53 = lessons.iter().filter(|t| IsoWeek::of(t.0).to_string() == "2026-W53").count();
    let days_of_53 = (0..7).map(|n| day("2026-12-28") + Days::new(n));
    let expected = days_of_53.filter(|d| week.contains(&d.weekday()) && !listed.contains(d));
    assert_eq!(in_53, expected.count());
    assert!(in_53 >= 3, "{file}: {in_53} lessons in week 53");

    let exported = class.on(TODAY, "export", &["ics"]).ends(0);
    assert_eq!(read_back(&exported.out, zone), lessons, "{file}");
}

const SCHOOL_WEEK: [Weekday; 5] =
    [Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu, Weekday::Fri];

#[test]
fn a_term_in_england_keeps_the_bank_holidays() {
    planned_round("england.ics", Some(chrono_tz::Europe::London), &SCHOOL_WEEK, 3);
}

#[test]
fn a_term_of_six_day_weeks_in_maharashtra_keeps_the_holidays() {
    let mut week = SCHOOL_WEEK.to_vec();
    week.push(Weekday::Sat);
    planned_round("india-maharashtra.ics", Some(chrono_tz::Asia::Kolkata), &week, 3);
}

#[test]
fn a_term_in_kenya_without_a_time_zone_keeps_the_holidays() {
    planned_round("kenya.ics", None, &SCHOOL_WEEK, 2);
}

#[test]
fn a_week_from_sunday_to_thursday_keeps_the_holidays_of_california() {
    let week = [Weekday::Sun, Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu];
    planned_round("us-california.ics", Some(chrono_tz::America::Los_Angeles), &week, 2);
}
