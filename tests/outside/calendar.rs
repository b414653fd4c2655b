//! Calendars as the standards publish them: recurrence, weeks, public holidays.

use chrono::{Datelike, NaiveDate};
use rungwise::calendar::{Closing, IsoWeek, Slot, Term, Timetable, lay_out};
use rungwise::exchange::icalendar::{decode, read};
use rungwise::report::{Report, Source};

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

fn closings(text: &str, from: &str, to: &str) -> Vec<Closing> {
    let mut report = Report::new();
    let found = read(&Source::shared("a.ics", text), None, (day(from), day(to)), &mut report);
    assert_eq!(report.to_text(), "");
    found
}

/// The days closed by an event that recurs: `start` is the rest of its `DTSTART`.
fn recurring(start: &str, lines: &str, from: &str, to: &str) -> Vec<String> {
    let lines = lines.replace(' ', "\r\n");
    let text = format!(
        "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:test\r\nBEGIN:VEVENT\r\nUID:1\r\n\
         DTSTAMP:19970101T000000Z\r\nDTSTART{start}\r\n{lines}\r\nEND:VEVENT\r\n\
         END:VCALENDAR\r\n"
    );
    closings(&text, from, to).iter().map(|c| c.from.to_string()).collect()
}

/// Dates as the RFC prints them: `1997: Sep 2 4, Oct 2`.
fn dates(text: &str) -> Vec<String> {
    const MONTHS: &str = "JanFebMarAprMayJunJulAugSepOctNovDec";
    let mut found = Vec::new();
    for year in text.split("; ") {
        let (year, rest) = year.split_once(": ").expect("a year");
        for month in rest.split(", ") {
            let (name, days) = month.split_once(' ').expect("a month");
            let number = MONTHS.find(name).expect("a month's name") / 3 + 1;
            for of_month in days.split(' ') {
                let of_month: u32 = of_month.parse().expect("a day");
                found.push(format!("{year}-{number:02}-{of_month:02}"));
            }
        }
    }
    found
}

/// Source: RFC 5545 section 3.8.5.3, the examples of recurrence rules.
#[test]
fn recurrence_rules_give_the_dates_the_standard_prints() {
    let vectors = [
        ("19970902", "FREQ=DAILY;COUNT=10", "1997: Sep 2 3 4 5 6 7 8 9 10 11"),
        ("19970902", "FREQ=DAILY;INTERVAL=10;COUNT=5", "1997: Sep 2 12 22, Oct 2 12"),
        (
            "19970902",
            "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH",
            "1997: Sep 2 4 9 11 16 18 23 25 30, Oct 2",
        ),
        (
            "19970902",
            "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
            "1997: Sep 2 4 16 18 30, Oct 2 14 16",
        ),
        (
            "19970901",
            "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR",
            "1997: Sep 1 3 5 15 17 19 29, Oct 1 3 13 15 17 27 29 31, Nov 10 12 14 24 26 28, \
             Dec 8 10 12 22",
        ),
        ("19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "1997: Aug 5 10 19 24"),
        ("19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU", "1997: Aug 5 17 19 31"),
        (
            "19970905",
            "FREQ=MONTHLY;COUNT=10;BYDAY=1FR",
            "1997: Sep 5, Oct 3, Nov 7, Dec 5; 1998: Jan 2, Feb 6, Mar 6, Apr 3, May 1, Jun 5",
        ),
        (
            "19970512",
            "FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO",
            "1997: May 12; 1998: May 11; 1999: May 17",
        ),
    ];
    for (start, rule, expected) in vectors {
        let timed = format!(";TZID=America/New_York:{start}T090000");
        let lines = format!("DURATION:PT1H RRULE:{rule}");
        let found = recurring(&timed, &lines, "1997-01-01", "1999-12-31");
        assert_eq!(found, dates(expected), "{rule}");
        if !rule.contains("UNTIL") {
            let days = format!(";VALUE=DATE:{start}");
            let found = recurring(&days, &format!("RRULE:{rule}"), "1997-01-01", "1999-12-31");
            assert_eq!(found, dates(expected), "{rule} of days");
        }
    }
}

/// Source: computed with two independent recurrence libraries.
#[test]
fn a_term_of_three_lessons_a_week_has_forty_two_of_them() {
    let lines = "RRULE:FREQ=WEEKLY;BYDAY=MO,WE,FR;UNTIL=20261218 \
                 EXDATE;VALUE=DATE:20261026,20261028,20261030";
    let found = recurring(";VALUE=DATE:20260907", lines, "2026-01-01", "2027-12-31");
    assert_eq!((found.len(), found.last().map(String::as_str)), (42, Some("2026-12-18")));
}

/// Source: RFC 5545 section 3.6.1, the festival of 28 June to 8 July 2007, both included.
#[test]
fn an_end_date_is_not_included() {
    let text = "BEGIN:VCALENDAR\nBEGIN:VEVENT\nDTSTART;VALUE=DATE:20070628\n\
                DTEND;VALUE=DATE:20070709\nSUMMARY:Festival\nEND:VEVENT\nEND:VCALENDAR\n";
    let found = closings(text, "2007-01-01", "2007-12-31");
    assert_eq!((found[0].from, found[0].to), (day("2007-06-28"), day("2007-07-08")));
}

/// Source: examples of ISO 8601 week dates in common reference pages, worked out again with
/// another calendar library.
#[test]
fn dates_lie_in_the_weeks_the_standard_gives_them() {
    let weeks = [
        ("1977-01-01", "1976-W53"),
        ("1977-12-31", "1977-W52"),
        ("1978-01-01", "1977-W52"),
        ("1978-01-02", "1978-W01"),
        ("2006-12-31", "2006-W52"),
        ("2019-12-30", "2020-W01"),
        ("1996-12-30", "1997-W01"),
        ("1997-01-05", "1997-W01"),
        ("2012-12-31", "2013-W01"),
        ("2013-12-30", "2014-W01"),
        ("2014-12-29", "2015-W01"),
        ("2026-12-31", "2026-W53"),
        ("2027-01-03", "2026-W53"),
        ("2027-01-04", "2027-W01"),
        ("2021-01-03", "2020-W53"),
        ("2024-12-30", "2025-W01"),
    ];
    for (date, week) in weeks {
        assert_eq!(IsoWeek::of(day(date)).to_string(), week, "{date}");
    }
}

/// Source: RFC 5545 section 3.3.10 says which years have a week 53; ISO 8601 counts 71 of them
/// and 20,871 weeks in 400 years.
#[test]
fn four_hundred_years_have_their_weeks_and_no_more() {
    let has_53 = |year: i32| IsoWeek { year, week: 53 }.monday().is_some();
    let years: Vec<i32> = (2000..2400).filter(|&y| has_53(y)).collect();
    assert_eq!(years.len(), 71);
    assert_eq!(years[..5], [2004, 2009, 2015, 2020, 2026]);
    assert_eq!(400 * 52 + 71, 20_871);
    for year in 2000..2400 {
        let first = NaiveDate::from_ymd_opt(year, 1, 1).expect("a date");
        let weekday = first.weekday().num_days_from_monday();
        let expected = weekday == 3 || (first.leap_year() && weekday == 2);
        assert_eq!(has_53(year), expected, "{year}");
    }
}

fn data(name: &str) -> String {
    let path = format!("{}/tests/data/calendars/{name}", env!("CARGO_MANIFEST_DIR"));
    let bytes = std::fs::read(path).expect("a calendar");
    decode(name, &bytes, &mut Report::new()).expect("text").text.clone()
}

fn term(starts: &str, ends: &str, school_days: &[usize]) -> Term {
    let school_days = std::array::from_fn(|d| school_days.contains(&d));
    Term { starts: day(starts), ends: day(ends), school_days }
}

/// A lesson each weekday.
fn daily(weekdays: std::ops::Range<u8>) -> Timetable {
    let slot =
        Slot { from: "09:10".parse().expect("a time"), to: "09:50".parse().expect("a time") };
    Timetable { slots: weekdays.map(|d| (d, vec![slot])).collect() }
}

/// Source: computed with the `holidays` library 0.109, GB-ENG.
#[test]
fn england_has_the_bank_holidays_it_has() {
    let found = closings(&data("england.ics"), "2026-01-01", "2027-12-31");
    let dates: Vec<String> = found.iter().map(|c| c.from.to_string()).collect();
    let expected = [
        "2026-01-01",
        "2026-04-03",
        "2026-04-06",
        "2026-05-04",
        "2026-05-25",
        "2026-08-31",
        "2026-12-25",
        "2026-12-28",
        "2027-01-01",
        "2027-03-26",
        "2027-03-29",
        "2027-05-03",
        "2027-05-31",
        "2027-08-30",
        "2027-12-27",
        "2027-12-28",
    ];
    let missing: Vec<&&str> =
        expected.iter().filter(|d| !dates.contains(&(**d).to_owned())).collect();
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn each_countrys_holidays_close_days_of_a_school_year() {
    let calendars = [
        ("england.ics", 8),
        ("india-maharashtra.ics", 10),
        ("kenya.ics", 7),
        ("us-california.ics", 10),
    ];
    for (name, least) in calendars {
        let year = term("2026-08-31", "2027-07-16", &[0, 1, 2, 3, 4]);
        let closings = closings(&data(name), "2026-08-31", "2027-07-16");
        let open = lay_out(&year, &daily(0..5), &[], &[], &[]);
        let held = lay_out(&year, &daily(0..5), &closings, &[], &[]);
        let lost = open.periods.len() - held.periods.len();
        assert!((least..30).contains(&lost), "{name}: {lost} days");
        assert!(held.closed.iter().all(|(_, because)| !because.is_empty()));
        let closed: Vec<NaiveDate> = held.closed.iter().map(|(date, _)| *date).collect();
        for closing in &closings {
            let school_day = closing.from.weekday().num_days_from_monday() < 5;
            assert!(!school_day || closed.contains(&closing.from), "{name}: {}", closing.from);
        }
    }
}

/// The school year 2026/27 runs through a week 53 and a new year.
#[test]
fn a_term_across_week_fifty_three_keeps_its_lessons() {
    let winter = term("2026-12-14", "2027-01-15", &[0, 1, 2, 3, 4]);
    let closings = closings(&data("england.ics"), "2026-12-14", "2027-01-15");
    let calendar = lay_out(&winter, &daily(0..5), &closings, &[], &[]);
    let in_week = |week: &str| {
        calendar.periods.iter().filter(|p| IsoWeek::of(p.date).to_string() == week).count()
    };
    assert_eq!(
        ["2026-W51", "2026-W52", "2026-W53", "2027-W01", "2027-W02"].map(in_week),
        [5, 4, 3, 5, 5]
    );
}
