//! From a calendar file to closings of the term.

use super::component::{Component, calendars};
use super::event::{Event, instances, read as read_event};
use super::lines::unfold;
use super::recur::MOST_INSTANCES;
use super::time::{When, Zone, Zones, utc_of};
use crate::calendar::{Clock, Closing};
use crate::report::{Message, Report, Source};
use chrono::{Duration, NaiveDate, NaiveDateTime, NaiveTime, TimeZone, Timelike};
use chrono_tz::Tz;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The closings that a calendar's events make in a term (both days included), in order of time:
/// all-day events close whole days, timed events the minutes they cover. Times of other zones
/// are converted to `zone`, and taken as they stand where there is none. A file with a mistake
/// closes nothing, and the report says why.
pub fn read(
    source: &Arc<Source>,
    zone: Option<Tz>,
    term: (NaiveDate, NaiveDate),
    report: &mut Report,
) -> Vec<Closing> {
    let mut found = Report::new();
    let roots = calendars(&unfold(source), &mut found);
    if roots.is_empty() && !found.has_mistakes() {
        let message = Message::mistake(format!("`{}` is empty", source.name));
        found.say(message.hint("export the calendar again as an iCalendar file (.ics)"));
    }
    let mut reader = Reader { zone, term, report: found, closings: Vec::new(), met: 0 };
    for calendar in &roots {
        reader.calendar(calendar);
    }
    let events = |c: &Component| c.components.iter().any(|c| c.name == "VEVENT");
    if !reader.report.has_mistakes() && !roots.iter().any(events) {
        let message = Message::warning(format!("`{}` holds no events", source.name));
        reader.report.say(message.hint("export the calendar with its events, or take it away"));
    }
    let Reader { report: found, mut closings, .. } = reader;
    let usable = !found.has_mistakes();
    report.append(found);
    if !usable {
        return Vec::new();
    }
    closings.sort_by(|a, b| (a.from, a.after, &a.because).cmp(&(b.from, b.after, &b.because)));
    closings
}

struct Reader {
    zone: Option<Tz>,
    term: (NaiveDate, NaiveDate),
    report: Report,
    closings: Vec<Closing>,
    met: usize,
}

impl Reader {
    fn calendar(&mut self, calendar: &Component) {
        let method = calendar.get("METHOD").map(|line| line.value.as_str()).unwrap_or_default();
        let all_cancelled = method.eq_ignore_ascii_case("CANCEL");
        // two days more: a time of another zone may fall into the term from there
        let until = self.term.1.and_time(NaiveTime::MIN) + Duration::days(3);
        let zones = Zones::of(calendar, until);
        let components = calendar.components.iter().filter(|c| c.name == "VEVENT");
        let events: Vec<Event> =
            components.filter_map(|c| read_event(c, all_cancelled, &mut self.report)).collect();
        let (overridden, latest) = (overridden(&events), latest(&events));
        for event in events.iter().filter(|e| !e.cancelled && is_latest(e, &latest)) {
            if event.instead_of.is_some() {
                self.instance(event, &zones, event.start.local(), event.length);
                continue;
            }
            let overrides = event.uid.as_ref().and_then(|uid| overridden.get(uid.as_str()));
            let overrides = overrides.map(Vec::as_slice).unwrap_or_default();
            let starts = instances(event, overrides, &zones, until, &mut self.report);
            self.met += starts.len();
            if self.met > usize::from(MOST_INSTANCES) {
                let message =
                    Message::mistake("the calendar holds too many events").at(&event.place);
                let message = message.label(format!("more than {MOST_INSTANCES} up to this one"));
                self.report.say(message.hint("export only the dates of this school year"));
                return;
            }
            for (start, length) in starts {
                self.instance(event, &zones, start, length);
            }
        }
    }

    /// Closes what one instance covers of the term.
    fn instance(&mut self, event: &Event, zones: &Zones, start: NaiveDateTime, length: Duration) {
        // what lasts beyond all calendars lasts beyond the term
        let beyond = (self.term.1 + Duration::days(7)).and_time(NaiveTime::MIN).max(start);
        let end = start.checked_add_signed(length).unwrap_or(beyond);
        let because = event.summary.as_str();
        if event.start.is_day() {
            let (from, to) = (start.date(), (end - Duration::days(1)).date());
            self.close(from, to, None, because);
            return;
        }
        if length.is_zero() {
            let message = Message::warning("this event has no end and so closes nothing");
            let message = message.at(&event.place);
            let near = self.term.0 <= start.date() && start.date() <= self.term.1;
            let said =
                self.report.messages().iter().any(|m| m.place.as_ref() == Some(&event.place));
            if near && !said {
                let hint = "give it an end in the calendar, or make it an all-day event";
                self.report.say(message.hint(hint));
            }
            return;
        }
        let (Some(start), Some(end)) =
            (self.here(event, zones, start), self.here(event, zones, end))
        else {
            return;
        };
        self.close_time(start, end, because);
    }

    /// A time of the event in the class's zone, or as it stands.
    fn here(&mut self, event: &Event, zones: &Zones, at: NaiveDateTime) -> Option<NaiveDateTime> {
        let (Some(zone), When::Time { zone: from, .. }) = (self.zone, &event.start) else {
            return Some(at);
        };
        if *from == Zone::Floating {
            return Some(at);
        }
        let utc = match from {
            Zone::Named(id) if id == zone.name() => Some(utc_of(zone, at)),
            _ => zones.to_utc(at, from),
        };
        let there = utc.map(|utc| zone.from_utc_datetime(&utc).naive_local());
        if let (None, Zone::Named(id)) = (there, from) {
            let text = format!("the time zone `{id}` is not known");
            let said = self.report.messages().iter().any(|m| m.text == text);
            if !said {
                let message = Message::mistake(text).at(&event.place);
                let label = "expected a name of the IANA time zone database in this event";
                let hint = "choose a city's zone in the calendar, or take `class.zone` out of the \
                            plan to take times as they stand";
                self.report.say(message.label(label).hint(hint));
            }
        }
        there
    }

    fn close(&mut self, from: NaiveDate, to: NaiveDate, part: Option<(Clock, Clock)>, why: &str) {
        let (from, to) = (from.max(self.term.0), to.min(self.term.1));
        if from <= to {
            let (after, before) = (part.map(|p| p.0), part.map(|p| p.1));
            let because = why.to_owned();
            self.closings.push(Closing { from, to, after, before, because, from_calendar: true });
        }
    }

    /// Closes from a time to a later one, perhaps of another day; a minute begun is closed.
    fn close_time(&mut self, start: NaiveDateTime, end: NaiveDateTime, why: &str) {
        let minute = |at: NaiveDateTime| {
            u16::try_from(at.hour() * 60 + at.minute()).ok().and_then(Clock::after_midnight)
        };
        let begins = minute(start).unwrap_or(Clock::MIDNIGHT);
        let begun = u16::from(end.second() > 0);
        let ends = minute(end).unwrap_or(Clock::DAY_END).plus(begun);
        let (first, last) = (start.date(), end.date());
        if first == last {
            return self.close(first, last, Some((begins, ends)), why);
        }
        self.close(first, first, Some((begins, Clock::DAY_END)), why);
        if let (Some(from), Some(to)) = (first.succ_opt(), last.pred_opt()) {
            self.close(from, to, Some((Clock::MIDNIGHT, Clock::DAY_END)), why);
        }
        if ends > Clock::MIDNIGHT {
            self.close(last, last, Some((Clock::MIDNIGHT, ends)), why);
        }
    }
}

/// The instances of each series that events of their own take the place of.
fn overridden(events: &[Event]) -> BTreeMap<&str, Vec<&Event>> {
    let mut by_uid: BTreeMap<&str, Vec<&Event>> = BTreeMap::new();
    for event in events.iter().filter(|e| e.instead_of.is_some()) {
        if let Some(uid) = &event.uid {
            by_uid.entry(uid).or_default().push(event);
        }
    }
    by_uid
}

/// The highest revision (`SEQUENCE`) of each event, and of each instance with one of its own.
type Latest<'a> = BTreeMap<(&'a str, Option<NaiveDateTime>), i64>;

fn latest(events: &[Event]) -> Latest<'_> {
    let mut latest = Latest::new();
    for event in events {
        if let Some(key) = revised(event) {
            let sequence = latest.entry(key).or_insert(event.sequence);
            *sequence = event.sequence.max(*sequence);
        }
    }
    latest
}

fn revised(event: &Event) -> Option<(&str, Option<NaiveDateTime>)> {
    Some((event.uid.as_deref()?, event.instead_of.as_ref().map(When::local)))
}

/// Whether no later revision of the same event is there.
fn is_latest(event: &Event, latest: &Latest<'_>) -> bool {
    let highest = revised(event).and_then(|key| latest.get(&key));
    highest.is_none_or(|&highest| event.sequence >= highest)
}
