//! Dates, times, durations and zones as iCalendar writes them (RFC 5545 section 3.3).

use super::component::Component;
use super::lines::ContentLine;
use super::recur;
use chrono::{Duration, NaiveDate, NaiveDateTime, NaiveTime, Offset, TimeZone};
use std::collections::BTreeMap;

/// What a time is relative to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Zone {
    /// Wherever the reader is.
    Floating,
    Utc,
    /// A `TZID`.
    Named(String),
}

/// A date, or a date with a time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum When {
    Day(NaiveDate),
    Time { at: NaiveDateTime, zone: Zone },
}

impl When {
    /// The local date and time, midnight for a date.
    pub fn local(&self) -> NaiveDateTime {
        match self {
            When::Day(day) => day.and_time(NaiveTime::MIN),
            When::Time { at, .. } => *at,
        }
    }
    pub fn is_day(&self) -> bool {
        matches!(self, When::Day(_))
    }
    pub fn zone(&self) -> &Zone {
        match self {
            When::Day(_) => &Zone::Floating,
            When::Time { zone, .. } => zone,
        }
    }
}

/// One value of a property such as `DTSTART`: `20270111`, `20270111T090000`, `20270111T090000Z`.
pub fn when(line: &ContentLine, text: &str) -> Option<When> {
    let text = text.trim();
    let zone = line.param("TZID").map(|id| Zone::Named(id.trim_start_matches('/').to_owned()));
    let (text, utc) = match text.strip_suffix(['Z', 'z']) {
        Some(text) => (text, true),
        None => (text, false),
    };
    let Some((day, time)) = text.split_once(['T', 't']) else {
        return date(text).filter(|_| !utc).map(When::Day);
    };
    let zone = if utc { Zone::Utc } else { zone.unwrap_or(Zone::Floating) };
    Some(When::Time { at: date(day)?.and_time(time_of_day(time)?), zone })
}

fn number(text: &str) -> Option<u32> {
    text.bytes().all(|b| b.is_ascii_digit()).then(|| text.parse().ok()).flatten()
}

fn date(text: &str) -> Option<NaiveDate> {
    let (year, rest) = text.split_at_checked(4)?;
    let (month, day) = rest.split_at_checked(2)?;
    let year = i32::try_from(number(year)?).ok()?;
    NaiveDate::from_ymd_opt(year, number(month)?, number(day).filter(|_| day.len() == 2)?)
}

fn time_of_day(text: &str) -> Option<NaiveTime> {
    let (hour, rest) = text.split_at_checked(2)?;
    let (minute, second) = rest.split_at_checked(2)?;
    let second = number(second).filter(|_| second.len() == 2)?.min(59); // 60 is a leap second
    NaiveTime::from_hms_opt(number(hour)?, number(minute)?, second)
}

/// A duration: `P1D`, `PT1H30M`, `P2W`, with a sign or without.
pub fn duration(text: &str) -> Option<Duration> {
    let text = text.trim().to_ascii_uppercase();
    let (negative, text) = match text.strip_prefix('-') {
        Some(text) => (true, text.to_owned()),
        None => (false, text.trim_start_matches('+').to_owned()),
    };
    let mut rest = text.strip_prefix('P').filter(|rest| !rest.is_empty())?;
    let mut seconds: i64 = 0;
    let mut in_time = false;
    while !rest.is_empty() {
        if let (Some(after), false) = (rest.strip_prefix('T'), in_time) {
            in_time = true;
            rest = after;
            if rest.is_empty() {
                return None;
            }
        }
        let end = rest.find(|c: char| !c.is_ascii_digit())?;
        let (count, unit) = (rest[..end].parse::<i64>().ok()?, rest[end..].chars().next()?);
        let of_unit = match (unit, in_time) {
            ('W', false) => 7 * 86_400,
            ('D', false) => 86_400,
            ('H', true) => 3600,
            ('M', true) => 60,
            ('S', true) => 1,
            _ => return None,
        };
        seconds = seconds.checked_add(count.checked_mul(of_unit)?)?;
        rest = &rest[end + 1..];
    }
    Duration::try_seconds(if negative { -seconds } else { seconds })
}

/// The zones a file's times name: of the IANA database, or as the file itself defines them.
pub struct Zones {
    defined: BTreeMap<String, Vec<Onset>>,
}

/// From this local time on clocks are so many seconds ahead of UTC.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Onset {
    at: NaiveDateTime,
    before: i32,
    ahead: i32,
}

impl Zones {
    /// The zones that a calendar's `VTIMEZONE`s define, up to a date.
    pub fn of(calendar: &Component, until: NaiveDateTime) -> Zones {
        let zones = calendar.components.iter().filter(|c| c.name == "VTIMEZONE");
        let defined = zones.filter_map(|zone| {
            let id = zone.get("TZID")?.value.trim_start_matches('/').to_owned();
            let mut onsets: Vec<Onset> =
                zone.components.iter().filter_map(|c| onsets(c, until)).flatten().collect();
            onsets.sort();
            Some((id, onsets))
        });
        Zones { defined: defined.filter(|(_, onsets)| !onsets.is_empty()).collect() }
    }

    /// UTC at a local time of a zone; `None` where the zone is not known. A local time that
    /// does not exist, or exists twice, is read with the clock as it was before the change.
    pub fn to_utc(&self, at: NaiveDateTime, zone: &Zone) -> Option<NaiveDateTime> {
        match zone {
            Zone::Floating => None,
            Zone::Utc => Some(at),
            Zone::Named(id) => match named(id) {
                Some(zone) => Some(utc_of(zone, at)),
                None => self.onset(id, |o| o.at <= at).map(|ahead| at - seconds(ahead)),
            },
        }
    }
    /// The local time of a zone at a time of UTC; `None` where the zone is not known.
    pub fn local_of_utc(&self, utc: NaiveDateTime, zone: &Zone) -> Option<NaiveDateTime> {
        match zone {
            Zone::Floating => None,
            Zone::Utc => Some(utc),
            Zone::Named(id) => match named(id) {
                Some(zone) => Some(zone.from_utc_datetime(&utc).naive_local()),
                None => self
                    .onset(id, |o| o.at - seconds(o.before) <= utc)
                    .map(|ahead| utc + seconds(ahead)),
            },
        }
    }
    /// A value's local time in another zone; as it stands where either is not known.
    pub fn local_in(&self, value: &When, zone: &Zone) -> NaiveDateTime {
        let at = value.local();
        if value.is_day() || value.zone() == zone {
            return at;
        }
        let there = self.to_utc(at, value.zone()).and_then(|utc| self.local_of_utc(utc, zone));
        there.unwrap_or(at)
    }

    /// The offset in force after the last change that has come, or before the first.
    fn onset(&self, id: &str, has_come: impl Fn(&Onset) -> bool) -> Option<i32> {
        let onsets = self.defined.get(id)?;
        let last = onsets.iter().rev().find(|o| has_come(o));
        last.map(|o| o.ahead).or(onsets.first().map(|o| o.before))
    }
}

fn seconds(n: i32) -> Duration {
    Duration::seconds(i64::from(n))
}

fn named(id: &str) -> Option<chrono_tz::Tz> {
    id.parse().ok()
}

/// UTC at a local time of a zone; see [`Zones::to_utc`].
pub fn utc_of(zone: chrono_tz::Tz, at: NaiveDateTime) -> NaiveDateTime {
    match zone.from_local_datetime(&at).earliest() {
        Some(there) => there.naive_utc(),
        None => {
            let day_before = zone.from_utc_datetime(&(at - Duration::days(1)));
            at - seconds(day_before.offset().fix().local_minus_utc())
        }
    }
}

fn onsets(part: &Component, until: NaiveDateTime) -> Option<Vec<Onset>> {
    let offset = |name: &str| utc_offset(&part.get(name)?.value);
    let (before, ahead) = (offset("TZOFFSETFROM")?, offset("TZOFFSETTO")?);
    let start = part.get("DTSTART").and_then(|line| when(line, &line.value))?.local();
    let mut times = vec![start];
    for rule in part.all("RRULE") {
        let in_force = recur::until_in_local(&rule.value, |utc| Some(utc + seconds(before)));
        times.extend(recur::expand(&in_force, start, until).ok()?);
    }
    for line in part.all("RDATE") {
        times.extend(line.value.split(',').filter_map(|v| when(line, v)).map(|w| w.local()));
    }
    Some(times.into_iter().map(|at| Onset { at, before, ahead }).collect())
}

/// `+0100`, `-0430`, `+053000` in seconds.
fn utc_offset(text: &str) -> Option<i32> {
    let (sign, digits) = match text.trim().split_at_checked(1)? {
        ("+", digits) => (1, digits),
        ("-", digits) => (-1, digits),
        _ => return None,
    };
    let two = |at: usize| digits.get(at..at + 2).and_then(number);
    let seconds = if digits.len() == 6 { two(4)? } else { 0 };
    let whole = two(0)? * 3600 + two(2)? * 60 + seconds;
    i32::try_from(whole).ok().map(|whole| sign * whole)
}
