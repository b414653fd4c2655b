//! Events (RFC 5545 section 3.6.1): when they begin, how long they last, how they recur.

use super::component::Component;
use super::lines::ContentLine;
use super::recur::{self, Fault, MOST_INSTANCES};
use super::time::{When, Zones, duration, when};
use crate::report::{Message, Place, Report};
use chrono::{Duration, NaiveDateTime, NaiveTime};
use std::collections::BTreeMap;

/// An event as its component gives it.
#[derive(Debug)]
pub struct Event {
    pub uid: Option<String>,
    pub summary: String,
    pub start: When,
    pub length: Duration,
    /// Which instance of its series this one takes the place of.
    pub instead_of: Option<When>,
    pub rules: Vec<ContentLine>,
    pub extra: Vec<(When, Option<Duration>)>,
    pub except: Vec<When>,
    pub cancelled: bool,
    pub sequence: i64,
    pub place: Place,
}

/// Reads an event; `None` after a mistake.
pub fn read(component: &Component, all_cancelled: bool, report: &mut Report) -> Option<Event> {
    let text = |name: &str| component.get(name).map(|line| line.value.trim().to_owned());
    let mut found = Report::new();
    check_supported(component, &mut found);
    let status = text("STATUS").unwrap_or_default();
    let cancelled = all_cancelled || status.eq_ignore_ascii_case("CANCELLED");
    let mut one = |name: &str| component.get(name).and_then(|line| one_when(line, &mut found));
    let instead_of = one("RECURRENCE-ID");
    let start = one("DTSTART");
    if start.is_none() && component.get("DTSTART").is_none() && !cancelled {
        let message = Message::mistake("this event does not say when it begins");
        let message = message.at(&component.place).label("expected `DTSTART` in this event");
        found.say(message.hint("give the event a date in the calendar and export it again"));
    }
    let start = start.or_else(|| instead_of.clone().filter(|_| cancelled));
    let length = start.as_ref().map(|start| length(component, start, &mut found));
    let mut extra = Vec::new();
    for line in component.all("RDATE") {
        extra.extend(dates(line, &mut found));
    }
    let mut except = Vec::new();
    for line in component.all("EXDATE") {
        except.extend(dates(line, &mut found).into_iter().map(|(when, _)| when));
    }
    let rules = component.all("RRULE").cloned().collect();
    let usable = !found.has_mistakes();
    report.append(found);
    Some(Event {
        uid: text("UID").filter(|uid| !uid.is_empty()),
        summary: text("SUMMARY").unwrap_or_default(),
        start: start.filter(|_| usable)?,
        length: length?,
        instead_of,
        rules,
        extra,
        except,
        cancelled,
        sequence: text("SEQUENCE").and_then(|n| n.parse().ok()).unwrap_or(0),
        place: component.place.clone(),
    })
}

/// What is not understood is refused, so that a day is never silently open or closed.
fn check_supported(component: &Component, report: &mut Report) {
    for line in component.all("EXRULE") {
        let message = line.wrong("`EXRULE` is not read", "single dates, in `EXDATE`");
        report.say(message.hint("name the closed days as `[[closure]]` in the plan instead"));
    }
    let range = component.get("RECURRENCE-ID").filter(|line| line.param("RANGE").is_some());
    if let Some(line) = range {
        let message = line.wrong("a change of all later instances is not read", "one instance");
        report.say(message.hint("end the series and begin a new one in the calendar"));
    }
}

fn no_date(line: &ContentLine) -> Message {
    let text = format!("`{}` is no date or time", line.value);
    let message = line.wrong(text, "a date such as 20270215 or 20270215T090000");
    message.hint("set the date in the calendar and export it again")
}

fn one_when(line: &ContentLine, report: &mut Report) -> Option<When> {
    let read = when(line, &line.value);
    if read.is_none() {
        report.say(no_date(line));
    }
    read
}

/// The dates of `RDATE` or `EXDATE`, with the length of each where it is a period.
fn dates(line: &ContentLine, report: &mut Report) -> Vec<(When, Option<Duration>)> {
    let one = |text: &str| match text.split_once('/') {
        None => Some((when(line, text)?, None)),
        Some((start, end)) => {
            let start = when(line, start)?;
            let length = match when(line, end) {
                Some(end) => end.local() - start.local(),
                None => duration(end)?,
            };
            Some((start, Some(length)))
        }
    };
    let mut read = Vec::new();
    for text in line.value.split(',').filter(|t| !t.trim().is_empty()) {
        match one(text) {
            Some(date) => read.push(date),
            None => {
                report.say(no_date(line));
                break;
            }
        }
    }
    read
}

/// How long an event lasts: whole days for one of days, nothing for a time without an end.
fn length(component: &Component, start: &When, report: &mut Report) -> Duration {
    let day = Duration::days(1);
    let none = if start.is_day() { day } else { Duration::zero() };
    let (given, line) = match (component.get("DTEND"), component.get("DURATION")) {
        (Some(line), _) => (one_when(line, report).map(|end| end.local() - start.local()), line),
        (None, Some(line)) => {
            let read = duration(&line.value);
            if read.is_none() {
                let text = format!("`{}` is no duration", line.value);
                let message = line.wrong(text, "a length such as P1D or PT1H30M");
                report.say(message.hint("mend the event in the calendar and export it again"));
            }
            (read, line)
        }
        (None, None) => return none,
    };
    let Some(given) = given else { return none };
    if given < Duration::zero() {
        let message = line.wrong("this event ends before it begins", "a later end");
        report.say(message.hint("mend the event in the calendar and export it again"));
    }
    if start.is_day() {
        // days are closed whole: a part of a day counts as a day, an end on the first day as one
        let days = (given.num_seconds() + 86_399).div_euclid(86_400).max(1);
        return Duration::try_days(days).unwrap_or(day);
    }
    given
}

/// The starts of all instances up to `until` in the event's own zone, each with its length.
pub fn instances(
    event: &Event,
    overrides: &[&Event],
    zones: &Zones,
    until: NaiveDateTime,
    report: &mut Report,
) -> BTreeMap<NaiveDateTime, Duration> {
    let zone = event.start.zone();
    let start = event.start.local();
    let mut found = BTreeMap::from([(start, event.length)]);
    for line in &event.rules {
        let to_local = |utc| zones.local_of_utc(utc, zone);
        let rule = recur::until_in_local(&line.value, to_local);
        match recur::expand(&rule, start, until) {
            Ok(starts) => found.extend(starts.into_iter().map(|at| (at, event.length))),
            Err(fault) => report.say(rule_fault(line, fault)),
        }
    }
    for (when, length) in &event.extra {
        found.insert(zones.local_in(when, zone), length.unwrap_or(event.length));
    }
    let replaced = overrides.iter().filter_map(|o| o.instead_of.as_ref());
    for when in event.except.iter().chain(replaced) {
        let at = zones.local_in(when, zone);
        if when.is_day() {
            let next = at + Duration::days(1);
            found.retain(|&start, _| start < at || next <= start);
        } else if event.start.is_day() {
            found.remove(&at.date().and_time(NaiveTime::MIN));
        } else {
            found.remove(&at);
        }
    }
    found
}

fn rule_fault(line: &ContentLine, fault: Fault) -> Message {
    match fault {
        Fault::Wrong(why) => {
            let why = why.trim().trim_end_matches('.');
            let text = format!("this recurrence rule cannot be read: {why}");
            let message = line.wrong(text, "a rule such as FREQ=WEEKLY;BYDAY=MO");
            message.hint("set anew in the calendar how the event recurs, and export it again")
        }
        Fault::Endless => {
            let text = "this event recurs more often than any school calendar";
            let message = line.wrong(text, &format!("fewer than {MOST_INSTANCES} instances"));
            message.hint("let it recur daily or more seldom, and end within the year")
        }
    }
}
