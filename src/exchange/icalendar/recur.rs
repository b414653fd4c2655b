//! Recurrence rules (RFC 5545 section 3.3.10), expanded by the rrule library.
//!
//! Rules speak of local times; they are expanded in local time, written as if it were UTC, and
//! each instance is taken to its zone afterwards. So no hour is lost where clocks change.

use chrono::{DateTime, NaiveDateTime, NaiveTime, TimeZone, Utc};
use rrule::{RRule, RRuleSet, Tz, Unvalidated};

/// No series of a school calendar has more instances.
pub const MOST_INSTANCES: u16 = 50_000;

/// Why a rule gives no dates.
pub enum Fault {
    /// What is wrong with it, in the library's words.
    Wrong(String),
    /// More instances than any school calendar has.
    Endless,
}

/// The starts a rule gives from a first start up to `until`, both included.
pub fn expand(
    rule: &str,
    start: NaiveDateTime,
    until: NaiveDateTime,
) -> Result<Vec<NaiveDateTime>, Fault> {
    let parts = || rule.split(';').filter_map(|part| part.split_once('='));
    if parts().any(|(key, value)| key.eq_ignore_ascii_case("INTERVAL") && value.trim() == "0") {
        return Err(Fault::Wrong("an interval of 0 never comes round".to_owned()));
    }
    let wrong = |e: rrule::RRuleError| Fault::Wrong(e.to_string());
    let read: RRule<Unvalidated> = rule.trim().to_ascii_uppercase().parse().map_err(wrong)?;
    let start = as_utc(start);
    let rule = read.validate(start).map_err(wrong)?;
    let found = RRuleSet::new(start).rrule(rule).before(as_utc(until)).all(MOST_INSTANCES);
    if found.limited {
        return Err(Fault::Endless);
    }
    Ok(found.dates.iter().map(DateTime::naive_utc).collect())
}

fn as_utc(at: NaiveDateTime) -> DateTime<Tz> {
    Utc.from_utc_datetime(&at).with_timezone(&Tz::UTC)
}

/// The rule with its `UNTIL` as a local time: one in UTC is taken to the series' zone, a date
/// holds to the end of that day.
pub fn until_in_local(
    rule: &str,
    to_local: impl Fn(NaiveDateTime) -> Option<NaiveDateTime>,
) -> String {
    let local = |value: &str| -> Option<NaiveDateTime> {
        let upper = value.trim().to_ascii_uppercase();
        let utc = upper.ends_with('Z');
        let text = upper.trim_end_matches('Z');
        if let Ok(at) = NaiveDateTime::parse_from_str(text, "%Y%m%dT%H%M%S") {
            return if utc { to_local(at).or(Some(at)) } else { Some(at) };
        }
        let day = chrono::NaiveDate::parse_from_str(text, "%Y%m%d").ok()?;
        day.and_time(NaiveTime::MIN).checked_add_signed(chrono::Duration::seconds(86_399))
    };
    let part = |part: &str| match part.split_once('=') {
        Some((key, value)) if key.trim().eq_ignore_ascii_case("UNTIL") => match local(value) {
            Some(at) => format!("UNTIL={}Z", at.format("%Y%m%dT%H%M%S")),
            None => part.to_owned(),
        },
        _ => part.to_owned(),
    };
    let parts: Vec<String> = rule.split(';').filter(|p| !p.trim().is_empty()).map(part).collect();
    parts.join(";")
}
