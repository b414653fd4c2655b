//! Calendar files as programs write them, whole and broken.

use super::{decode, read};
use crate::calendar::Closing;
use crate::report::{Report, Source};
use chrono::NaiveDate;
use insta::assert_snapshot;
use proptest::prelude::*;

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

fn calendar(events: &[&str]) -> String {
    let event = |lines: &&str| format!("BEGIN:VEVENT\n{}\nEND:VEVENT\n", lines.replace(' ', "\n"));
    let events: String = events.iter().map(event).collect();
    format!("BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:test\n{events}END:VCALENDAR\n")
}

fn show(closing: &Closing) -> String {
    let days = if closing.from == closing.to {
        closing.from.to_string()
    } else {
        format!("{}..{}", closing.from, closing.to)
    };
    match (closing.after, closing.before) {
        (Some(after), Some(before)) => format!("{days} {after}-{before}"),
        _ => days,
    }
}

fn read_in(text: &str, zone: Option<chrono_tz::Tz>) -> (String, String) {
    let mut report = Report::new();
    let term = (day("2027-01-11"), day("2027-04-30"));
    let found = read(&Source::shared("a.ics", text), zone, term, &mut report);
    assert!(found.iter().all(|c| c.from_calendar));
    (found.iter().map(show).collect::<Vec<_>>().join(", "), report.to_text())
}

/// What these events close; they give no cause for a word.
fn closed(events: &[&str]) -> String {
    let (closed, said) = read_in(&calendar(events), None);
    assert_eq!(said, "");
    closed
}
fn closed_in(zone: chrono_tz::Tz, events: &[&str]) -> String {
    let (closed, said) = read_in(&calendar(events), Some(zone));
    assert_eq!(said, "");
    closed
}
fn said(text: &str) -> String {
    let (closed, said) = read_in(text, None);
    assert_eq!(closed, "", "a file with a mistake closes nothing");
    said
}

#[test]
fn an_event_of_days_closes_whole_days_and_only_those_of_the_term() {
    assert_eq!(closed(&["DTSTART;VALUE=DATE:20270215"]), "2027-02-15");
    assert_eq!(closed(&["DTSTART:20270215"]), "2027-02-15", "a date without saying so");
    let week = "DTSTART;VALUE=DATE:20270215 DTEND;VALUE=DATE:20270220";
    assert_eq!(closed(&[week]), "2027-02-15..2027-02-19");
    assert_eq!(closed(&["DTSTART:20270215 DURATION:P1W"]), "2027-02-15..2027-02-21");
    assert_eq!(closed(&["DTSTART:20270215 DTEND:20270215"]), "2027-02-15", "an end on its own day");
    assert_eq!(closed(&["DTSTART:20261221 DTEND:20270113"]), "2027-01-11..2027-01-12");
    assert_eq!(closed(&["DTSTART:20260215", "DTSTART:20270515"]), "");
}

#[test]
fn a_timed_event_closes_its_minutes() {
    let timed = |end: &str| closed(&[&format!("DTSTART:20270215T090000 {end}")]);
    assert_eq!(timed("DTEND:20270215T103000"), "2027-02-15 09:00-10:30");
    assert_eq!(timed("DURATION:PT1H30M"), "2027-02-15 09:00-10:30");
    assert_eq!(timed("DTEND:20270215T103001"), "2027-02-15 09:00-10:31");
    assert_eq!(timed("DTEND:20270216T000000"), "2027-02-15 09:00-24:00");
    assert_eq!(
        timed("DTEND:20270218T101500"),
        "2027-02-15 09:00-24:00, 2027-02-16..2027-02-17 00:00-24:00, 2027-02-18 00:00-10:15"
    );
}

#[test]
fn transparent_events_close_and_cancelled_ones_do_not() {
    assert_eq!(closed(&["DTSTART:20270215 TRANSP:TRANSPARENT"]), "2027-02-15");
    assert_eq!(closed(&["DTSTART:20270215 STATUS:CANCELLED"]), "");
    assert_eq!(closed(&["DTSTART:20270215 STATUS:TENTATIVE"]), "2027-02-15");
    let withdrawn = calendar(&["DTSTART:20270215"]).replace("VERSION:2.0", "METHOD:CANCEL");
    assert_eq!(read_in(&withdrawn, None), (String::new(), String::new()));
}

#[test]
fn a_series_has_its_dates_but_for_those_taken_out_moved_or_cancelled() {
    let series = "UID:1 DTSTART:20270301 RRULE:FREQ=WEEKLY;COUNT=5";
    assert_eq!(closed(&[series]), "2027-03-01, 2027-03-08, 2027-03-15, 2027-03-22, 2027-03-29");
    let fewer = format!("{series} EXDATE:20270308,20270315 EXDATE;VALUE=DATE:20270322");
    assert_eq!(closed(&[&fewer]), "2027-03-01, 2027-03-29");
    let more = "DTSTART:20270301 RDATE;VALUE=DATE:20270304,20270305";
    assert_eq!(closed(&[more]), "2027-03-01, 2027-03-04, 2027-03-05");
    let moved = "UID:1 RECURRENCE-ID;VALUE=DATE:20270308 DTSTART:20270310";
    assert_eq!(
        closed(&[moved, series]),
        "2027-03-01, 2027-03-10, 2027-03-15, 2027-03-22, 2027-03-29"
    );
    let cancelled = "UID:1 RECURRENCE-ID:20270308 DTSTART:20270308 STATUS:CANCELLED";
    assert_eq!(closed(&[series, cancelled]), "2027-03-01, 2027-03-15, 2027-03-22, 2027-03-29");
    let of_another = "UID:2 RECURRENCE-ID:20270308 DTSTART:20270310 STATUS:CANCELLED";
    assert_eq!(closed(&[series, of_another]).matches("2027").count(), 5);
}

#[test]
fn a_timed_series_loses_the_instance_of_its_zone() {
    let zone = "TZID=Europe/London";
    let series =
        format!("UID:1 DTSTART;{zone}:20270322T090000 DURATION:PT1H RRULE:FREQ=WEEKLY;COUNT=3");
    let all = "2027-03-22 09:00-10:00, 2027-03-29 09:00-10:00, 2027-04-05 09:00-10:00";
    assert_eq!(closed(&[&series]), all, "clocks change on 28 March");
    assert_eq!(closed_in(chrono_tz::Europe::London, &[&series]), all);
    for except in [
        "EXDATE:20270329T080000Z",
        "EXDATE;TZID=Europe/Paris:20270329T100000",
        "EXDATE;VALUE=DATE:20270329",
        "EXDATE;TZID=Europe/London:20270329T090000",
    ] {
        let fewer = format!("{series} {except}");
        assert_eq!(closed(&[&fewer]), "2027-03-22 09:00-10:00, 2027-04-05 09:00-10:00", "{except}");
    }
    let moved = "UID:1 RECURRENCE-ID:20270329T080000Z DTSTART:20270330T130000 DURATION:PT30M";
    assert_eq!(
        closed(&[&series, moved]),
        "2027-03-22 09:00-10:00, 2027-03-30 13:00-13:30, 2027-04-05 09:00-10:00"
    );
}

#[test]
fn a_period_of_dates_has_its_own_length() {
    let event = "DTSTART:20270301T090000 DURATION:PT1H \
                 RDATE;VALUE=PERIOD:20270302T100000/PT2H,20270303T100000/20270303T103000";
    assert_eq!(
        closed(&[event]),
        "2027-03-01 09:00-10:00, 2027-03-02 10:00-12:00, 2027-03-03 10:00-10:30"
    );
}

#[test]
fn times_of_other_zones_are_converted_where_the_class_has_one() {
    let utc = "DTSTART:20270215T090000Z DURATION:PT1H";
    let delhi = "DTSTART;TZID=Asia/Kolkata:20270215T013000 DURATION:PT1H";
    let floating = "DTSTART:20270215T090000 DURATION:PT1H";
    assert_eq!(closed(&[utc]), "2027-02-15 09:00-10:00");
    assert_eq!(closed(&[delhi]), "2027-02-15 01:30-02:30");
    assert_eq!(closed_in(chrono_tz::Asia::Kolkata, &[utc]), "2027-02-15 14:30-15:30");
    assert_eq!(
        closed_in(chrono_tz::Europe::London, &[delhi]),
        "2027-02-14 20:00-21:00",
        "half past one in India is the evening before in England"
    );
    assert_eq!(closed_in(chrono_tz::Asia::Kolkata, &[floating]), "2027-02-15 09:00-10:00");
    let days = "DTSTART;VALUE=DATE:20270215";
    assert_eq!(closed_in(chrono_tz::Pacific::Auckland, &[days]), "2027-02-15");
}

#[test]
fn a_time_that_clocks_skip_is_read_as_before_the_change() {
    // On 28 March 2027 London's clocks go from 01:00 to 02:00.
    let event = "DTSTART;TZID=Europe/London:20270328T013000 DURATION:PT3H";
    assert_eq!(closed_in(chrono_tz::Asia::Kolkata, &[event]), "2027-03-28 07:00-09:00");
}

/// A zone that no database knows, with the rules of London (from memory).
const OWN_ZONE: &str = "BEGIN:VTIMEZONE
TZID:School Time
BEGIN:STANDARD
DTSTART:16010101T020000
TZOFFSETFROM:+0100
TZOFFSETTO:+0000
RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:16010101T010000
TZOFFSETFROM:+0000
TZOFFSETTO:+0100
RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=3
END:DAYLIGHT
END:VTIMEZONE
";

#[test]
fn a_zone_may_be_defined_in_the_file() {
    let events = ["20270322T090000", "20270405T090000"]
        .map(|at| format!("DTSTART;TZID=School Time:{at} DURATION:PT1H").replace(' ', "_"));
    let events: Vec<&str> = events.iter().map(String::as_str).collect();
    let text = calendar(&events).replace("School_Time", "School Time").replace('_', "\n");
    let text = text.replace("PRODID:test\n", &format!("PRODID:test\n{OWN_ZONE}"));
    let (closed, said) = read_in(&text, Some(chrono_tz::Asia::Kolkata));
    assert_eq!(said, "");
    assert_eq!(closed, "2027-03-22 14:30-15:30, 2027-04-05 13:30-14:30");
    let without = text.replace(OWN_ZONE, "");
    assert_eq!(read_in(&without, None).1, "", "not needed where times stand as they are");
    let (closed, said) = read_in(&without, Some(chrono_tz::Asia::Kolkata));
    assert_eq!(closed, "");
    assert_snapshot!(said, @r#"
    mistake: the time zone `School Time` is not known
     --> a.ics:4:1
      |
    4 | BEGIN:VEVENT
      | ^^^^^^^^^^^^ expected a name of the IANA time zone database in this event
      |
      = hint: choose a city's zone in the calendar, or take `class.zone` out of the plan to take times as they stand
    "#);
}

#[test]
fn names_in_small_letters_marks_and_line_ends_do_not_matter() {
    let text = calendar(&["DTSTART;VALUE=DATE:20270215 SUMMARY:Fair"]);
    let small = text.to_lowercase();
    for text in [text.replace('\n', "\r\n"), text.replace('\n', "\r"), small, text + "\n\n"] {
        assert_eq!(read_in(&text, None), ("2027-02-15".to_owned(), String::new()), "{text}");
    }
}

#[test]
fn other_components_and_alarms_are_passed_over() {
    let alarm = "BEGIN:VALARM\nTRIGGER:-PT15M\nno property at all\nEND:VALARM";
    let text = calendar(&["DTSTART:20270215"]).replace("DTSTART", &format!("{alarm}\nDTSTART"));
    let text = text.replace("BEGIN:VEVENT", "BEGIN:VTODO\nDUE:x\nEND:VTODO\nBEGIN:VEVENT");
    assert_eq!(read_in(&text, None), ("2027-02-15".to_owned(), String::new()));
}

#[test]
fn a_later_revision_beats_an_earlier_one() {
    let events = ["UID:1 DTSTART:20270215", "UID:1 SEQUENCE:2 DTSTART:20270216"];
    assert_eq!(closed(&events), "2027-02-16");
    assert_eq!(closed(&["DTSTART:20270215", "DTSTART:20270216"]), "2027-02-15, 2027-02-16");
}

#[test]
fn a_summary_is_the_reason() {
    let text = calendar(&["DTSTART:20270215 SUMMARY:x"])
        .replace("SUMMARY:x", "SUMMARY:Fair\\, with\n  cakes");
    let term = (day("2027-01-11"), day("2027-04-30"));
    let found = read(&Source::shared("a.ics", text), None, term, &mut Report::new());
    assert_eq!(found[0].because, "Fair, with cakes");
}

#[test]
fn what_is_no_calendar_is_refused() {
    assert_snapshot!(said(""), @r#"
    mistake: `a.ics` is empty
     |
     = hint: export the calendar again as an iCalendar file (.ics)
    "#);
    assert_snapshot!(said("<!DOCTYPE html>\n<html>\n"), @r#"
    mistake: this is no iCalendar file
     --> a.ics:1:1
      |
    1 | <!DOCTYPE html>
      | ^^^^^^^^^^^^^^^ expected `BEGIN:VCALENDAR`
      |
      = hint: export the calendar as an iCalendar file (.ics)
    "#);
    assert_snapshot!(said("BEGIN:VCARD\nEND:VCARD\n"), @r#"
    mistake: this is no iCalendar file
     --> a.ics:1:1
      |
    1 | BEGIN:VCARD
      | ^^^^^^^^^^^ expected `BEGIN:VCALENDAR`
      |
      = hint: export the calendar as an iCalendar file (.ics)
    "#);
}

#[test]
fn a_file_that_breaks_off_is_refused() {
    let whole = calendar(&["DTSTART:20270215", "DTSTART:20270222"]);
    let cut = |at: &str| whole.split_inclusive(at).next().unwrap_or_default().to_owned();
    assert_snapshot!(said(&cut("DTSTART:20270215\n")), @r#"
    mistake: the file breaks off inside VEVENT of line 4
     --> a.ics:5:1
      |
    5 | DTSTART:20270215
      | ^^^^^^^^^^^^^^^^ expected `END:VEVENT` after this line
      |
      = hint: the file was not saved whole: export the calendar again
    "#);
    assert_snapshot!(said(&cut("END:VEVENT\n")), @r#"
    mistake: the file breaks off inside VCALENDAR of line 1
     --> a.ics:6:1
      |
    6 | END:VEVENT
      | ^^^^^^^^^^ expected `END:VCALENDAR` after this line
      |
      = hint: the file was not saved whole: export the calendar again
    "#);
    assert_snapshot!(said(&whole.replacen("END:VEVENT\n", "", 1)), @r#"
    mistake: `END:VCALENDAR` closes nothing that is open
     --> a.ics:9:1
      |
    9 | END:VCALENDAR
      | ^^^^^^^^^^^^^ expected `END:VEVENT`
      |
      = hint: a part of the file is missing: export the calendar again
    "#);
    for end in 1..whole.trim_end().len() {
        let (closed, said) = read_in(&whole[..end], None);
        assert!(closed.is_empty() && said.contains("mistake"), "{end}: {said}");
    }
}

#[test]
fn every_broken_line_has_its_place() {
    let events = [
        "DTSTART:2027-02-15",
        "DTSTART:20270230",
        "SUMMARY:nothing",
        "DTSTART:20270215 DTEND:20270210",
        "DTSTART:20270215T090000 DURATION:1H",
        "DTSTART:20270215 RRULE:FREQ=WEEKLY;BYDAY=XX",
        "DTSTART:20270215 RRULE:FREQ=DAILY;INTERVAL=0",
        "DTSTART:20270215 EXDATE:20270299",
    ];
    assert_snapshot!(said(&calendar(&events)), @r#"
    mistake: `2027-02-15` is no date or time
     --> a.ics:5:1
      |
    5 | DTSTART:2027-02-15
      | ^^^^^^^^^^^^^^^^^^ expected a date such as 20270215 or 20270215T090000
      |
      = hint: set the date in the calendar and export it again
    mistake: `20270230` is no date or time
     --> a.ics:8:1
      |
    8 | DTSTART:20270230
      | ^^^^^^^^^^^^^^^^ expected a date such as 20270215 or 20270215T090000
      |
      = hint: set the date in the calendar and export it again
    mistake: this event does not say when it begins
      --> a.ics:10:1
       |
    10 | BEGIN:VEVENT
       | ^^^^^^^^^^^^ expected `DTSTART` in this event
       |
       = hint: give the event a date in the calendar and export it again
    mistake: this event ends before it begins
      --> a.ics:15:1
       |
    15 | DTEND:20270210
       | ^^^^^^^^^^^^^^ expected a later end
       |
       = hint: mend the event in the calendar and export it again
    mistake: `1H` is no duration
      --> a.ics:19:1
       |
    19 | DURATION:1H
       | ^^^^^^^^^^^ expected a length such as P1D or PT1H30M
       |
       = hint: mend the event in the calendar and export it again
    mistake: `20270299` is no date or time
      --> a.ics:31:1
       |
    31 | EXDATE:20270299
       | ^^^^^^^^^^^^^^^ expected a date such as 20270215 or 20270215T090000
       |
       = hint: set the date in the calendar and export it again
    mistake: this recurrence rule cannot be read: RRule parsing error: `XX` is not a valid weekday. Valid values are `MO`, `TU`, `WE`, `TH`, `FR`, `SA` and `SU`
      --> a.ics:23:1
       |
    23 | RRULE:FREQ=WEEKLY;BYDAY=XX
       | ^^^^^^^^^^^^^^^^^^^^^^^^^^ expected a rule such as FREQ=WEEKLY;BYDAY=MO
       |
       = hint: set anew in the calendar how the event recurs, and export it again
    mistake: this recurrence rule cannot be read: an interval of 0 never comes round
      --> a.ics:27:1
       |
    27 | RRULE:FREQ=DAILY;INTERVAL=0
       | ^^^^^^^^^^^^^^^^^^^^^^^^^^^ expected a rule such as FREQ=WEEKLY;BYDAY=MO
       |
       = hint: set anew in the calendar how the event recurs, and export it again
    "#);
    assert_snapshot!(said(&calendar(&["DTSTART:20270215 nonsense"])), @r#"
    mistake: this line is no iCalendar property
     --> a.ics:6:1
      |
    6 | nonsense
      | ^^^^^^^^ expected a name, a colon and a value
      |
      = hint: export the calendar again; do not edit it by hand
    "#);
    assert_snapshot!(said(&calendar(&["DTSTART:20270215 EXRULE:FREQ=DAILY"])), @r#"
    mistake: `EXRULE` is not read
     --> a.ics:6:1
      |
    6 | EXRULE:FREQ=DAILY
      | ^^^^^^^^^^^^^^^^^ expected single dates, in `EXDATE`
      |
      = hint: name the closed days as `[[closure]]` in the plan instead
    "#);
    let all_later = "UID:1 RECURRENCE-ID;RANGE=THISANDFUTURE:20270308 DTSTART:20270310";
    assert_snapshot!(said(&calendar(&[all_later])), @r#"
    mistake: a change of all later instances is not read
     --> a.ics:6:1
      |
    6 | RECURRENCE-ID;RANGE=THISANDFUTURE:20270308
      | ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ expected one instance
      |
      = hint: end the series and begin a new one in the calendar
    "#);
}

#[test]
fn an_event_without_an_end_is_pointed_out() {
    let text = calendar(&["DTSTART:20270215T090000", "DTSTART:20290215T090000"]);
    assert_snapshot!(read_in(&text, None).1, @r#"
    warning: this event has no end and so closes nothing
     --> a.ics:4:1
      |
    4 | BEGIN:VEVENT
      | ^^^^^^^^^^^^
      |
      = hint: give it an end in the calendar, or make it an all-day event
    "#);
    assert_snapshot!(read_in(&calendar(&[]), None).1, @r#"
    warning: `a.ics` holds no events
     |
     = hint: export the calendar with its events, or take it away
    "#);
}

#[test]
fn a_calendar_without_end_is_refused() {
    let seconds = "DTSTART:20270111T090000 DURATION:PT1M RRULE:FREQ=SECONDLY";
    assert_snapshot!(said(&calendar(&[seconds])), @r#"
    mistake: this event recurs more often than any school calendar
     --> a.ics:7:1
      |
    7 | RRULE:FREQ=SECONDLY
      | ^^^^^^^^^^^^^^^^^^^ expected fewer than 50000 instances
      |
      = hint: let it recur daily or more seldom, and end within the year
    "#);
    let daily = ["DTSTART:19000101 RRULE:FREQ=DAILY"; 2];
    let text = calendar(&daily);
    assert_snapshot!(said(&text), @r#"
    mistake: the calendar holds too many events
     --> a.ics:8:1
      |
    8 | BEGIN:VEVENT
      | ^^^^^^^^^^^^ more than 50000 up to this one
      |
      = hint: export only the dates of this school year
    "#);
}

#[test]
fn a_file_that_is_too_big_or_no_text_is_refused() {
    let refused = |bytes: &[u8]| {
        let mut report = Report::new();
        assert!(decode("a.ics", bytes, &mut report).is_none());
        report.to_text()
    };
    assert_snapshot!(refused(&vec![b'a'; 10 * 1024 * 1024 + 1]), @r#"
    mistake: `a.ics` is too big: 11 MB, expected at most 10 MB
     |
     = hint: export only the dates of this school year
    "#);
    assert_snapshot!(refused(b"PK\x03\x04\x00\x00\xFF"), @r#"
    mistake: `a.ics` is no text in UTF-8, as calendars are
     |
     = hint: export the calendar again as an iCalendar file (.ics)
    "#);
    assert_snapshot!(refused(b"\xFF\xFEB\x00E\x00"), @r#"
    mistake: `a.ics` is no text in UTF-8, as calendars are
     |
     = hint: export the calendar again as an iCalendar file (.ics)
    "#);
}

#[test]
fn a_long_line_does_not_fill_the_screen() {
    let said = said(&format!("{}\n", "x".repeat(100_000)));
    assert!(said.len() < 2000, "{}", said.len());
}

#[test]
fn an_event_that_outlasts_all_calendars_closes_the_rest_of_the_term() {
    assert_eq!(closed(&["DTSTART:20270215 DURATION:P99999999999D"]), "2027-02-15..2027-04-30");
    let timed = closed(&["DTSTART:20270429T120000 DURATION:P99999999999D"]);
    assert_eq!(timed, "2027-04-29 12:00-24:00, 2027-04-30 00:00-24:00");
}

proptest! {
    #[test]
    fn no_calendar_however_odd_stops_the_reader(
        picks in proptest::collection::vec((0_usize..12, 0_usize..16), 0..12),
        zone: bool,
    ) {
        const NAMES: [&str; 12] = [
            "DTSTART", "DTEND", "DURATION", "RRULE", "RDATE", "EXDATE", "RECURRENCE-ID",
            "DTSTART;TZID=Europe/London", "EXDATE;TZID=No/Where", "UID", "BEGIN", "END",
        ];
        const VALUES: [&str; 16] = [
            "20270215", "00000101", "99991231T235960Z", "20270328T013000", "P", "-P1W", "PT0S",
            "P99999999999D", "FREQ=YEARLY;BYWEEKNO=53", "FREQ=MONTHLY;BYSETPOS=-1;BYDAY=MO",
            "FREQ=DAILY;COUNT=0", "FREQ=HOURLY;UNTIL=20270216T000000Z", "20270215/P1D,", "",
            "VEVENT", "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30",
        ];
        let lines: Vec<String> =
            picks.iter().map(|&(n, v)| format!("{}:{}", NAMES[n], VALUES[v])).collect();
        let text = calendar(&["DTSTART:20270215"]).replace("DTSTART:20270215", &lines.join("\n"));
        let (closed, said) = read_in(&text, zone.then_some(chrono_tz::Asia::Kolkata));
        prop_assert!(closed.is_empty() || !said.contains("mistake"));
    }

    #[test]
    fn no_text_stops_the_reader(text in "\\PC{0,200}", bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        read_in(&text, None);
        read_in(&format!("BEGIN:VCALENDAR\n{text}"), None);
        if let Some(source) = decode("a.ics", &bytes, &mut Report::new()) {
            read_in(&source.text, None);
        }
    }
}
