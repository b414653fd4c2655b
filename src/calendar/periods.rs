//! The periods that follow from a term, a timetable and what is closed.

use super::{Calendar, Clock, Closing, Period, Slot, Term, Timetable};
use chrono::{Datelike, NaiveDate};
use std::collections::{BTreeMap, BTreeSet};

/// Shorter periods hold no lesson.
pub const LEAST_MINUTES: u16 = 20;
/// So many days without school between two periods make a break.
const BREAK_DAYS: usize = 4;

/// Lays the timetable out over the term. `openings` are days that stay open whatever a calendar
/// file says; `lost` are single periods that leave the calendar (a lesson that was not held).
pub fn lay_out(
    term: &Term,
    timetable: &Timetable,
    closings: &[Closing],
    openings: &[NaiveDate],
    lost: &[(NaiveDate, Clock)],
) -> Calendar {
    let openings: BTreeSet<NaiveDate> = openings.iter().copied().collect();
    let in_force = InForce { closings, openings };
    let unit_length = timetable.unit_length();
    let mut calendar =
        Calendar { periods: vec![], unit_length, school_days: vec![], closed: vec![] };
    for date in term.days().filter(|&day| term.is_school_weekday(day)) {
        if let Some(because) = in_force.closes_day(date) {
            calendar.closed.push((date, because));
            continue;
        }
        calendar.school_days.push(date);
        let slots = timetable.on(date.weekday()).iter();
        for slot in slots.flat_map(|&slot| lessons_of(slot, unit_length)) {
            let held = !in_force.closes_slot(date, slot) && !lost.contains(&(date, slot.from));
            if held && slot.minutes() >= LEAST_MINUTES {
                let (starts, minutes) = (slot.from, slot.minutes());
                calendar.periods.push(Period { date, starts, minutes, break_before: false });
            }
        }
    }
    mark_breaks(&mut calendar);
    calendar
}

/// A double (`5m >= 9L`) is two periods of half its minutes, rounded down.
fn lessons_of(slot: Slot, unit_length: u16) -> Vec<Slot> {
    let minutes = slot.minutes();
    if 5 * u32::from(minutes) < 9 * u32::from(unit_length) {
        return vec![slot];
    }
    let middle = slot.from.plus(minutes / 2);
    let end = middle.plus(minutes / 2);
    vec![Slot { from: slot.from, to: middle }, Slot { from: middle, to: end }]
}

/// Notes before which periods lies a break.
fn mark_breaks(calendar: &mut Calendar) {
    let place: BTreeMap<NaiveDate, usize> =
        calendar.school_days.iter().enumerate().map(|(place, &day)| (day, place)).collect();
    let school_days_between = |a: NaiveDate, b: NaiveDate| place[&b].saturating_sub(place[&a] + 1);
    for index in 1..calendar.periods.len() {
        let (before, here) = (calendar.periods[index - 1].date, calendar.periods[index].date);
        let days_between = usize::try_from((here - before).num_days() - 1).unwrap_or(0);
        let without_school = days_between.saturating_sub(school_days_between(before, here));
        calendar.periods[index].break_before = without_school >= BREAK_DAYS;
    }
}

/// The closings, but for what the openings take back.
struct InForce<'a> {
    closings: &'a [Closing],
    openings: BTreeSet<NaiveDate>,
}

impl InForce<'_> {
    fn on(&self, date: NaiveDate) -> impl Iterator<Item = &Closing> {
        let open = self.openings.contains(&date);
        self.closings
            .iter()
            .filter(move |c| c.from <= date && date <= c.to && !(open && c.from_calendar))
    }
    /// Why the whole day is closed, if it is: the first closing that gives a reason.
    fn closes_day(&self, date: NaiveDate) -> Option<String> {
        let mut reasons = self.on(date).filter(|c| c.whole_days()).map(|c| c.because.as_str());
        let first = reasons.next()?;
        let given = if first.is_empty() { reasons.find(|r| !r.is_empty()) } else { Some(first) };
        Some(given.unwrap_or_default().to_owned())
    }
    fn closes_slot(&self, date: NaiveDate, slot: Slot) -> bool {
        self.on(date).any(|c| {
            let from = c.after.unwrap_or(Clock::MIDNIGHT);
            let to = c.before.unwrap_or(Clock::DAY_END);
            from < to && from < slot.to && slot.from < to
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calendar::slot;
    use proptest::prelude::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().expect("a date")
    }
    fn term(starts: &str, ends: &str, school_days: &[u8]) -> Term {
        let school_days = std::array::from_fn(|d| school_days.iter().any(|&s| usize::from(s) == d));
        Term { starts: day(starts), ends: day(ends), school_days }
    }
    fn timetable(entries: &[(u8, &str)]) -> Timetable {
        let mut slots: BTreeMap<u8, Vec<Slot>> = BTreeMap::new();
        for &(weekday, text) in entries {
            slots.entry(weekday).or_default().push(slot(text));
        }
        Timetable { slots }
    }
    fn whole(from: &str, to: &str, because: &str) -> Closing {
        Closing::days(day(from), day(to), because)
    }
    fn shown(calendar: &Calendar) -> Vec<String> {
        let show = |p: &Period| {
            let break_before = if p.break_before { " |" } else { "" };
            format!("{} {} {}{break_before}", p.date, p.starts, p.minutes)
        };
        calendar.periods.iter().map(show).collect()
    }

    #[test]
    fn a_short_term_with_a_week_off_has_a_break_before_the_sixth_period() {
        let timetable = timetable(&[
            (0, "09:00-09:40"),
            (1, "09:00-09:40"),
            (2, "09:00-09:40"),
            (3, "09:00-09:40"),
            (4, "09:00-09:30"),
        ]);
        let term = term("2027-02-08", "2027-02-25", &[0, 1, 2, 3, 4]);
        let off = whole("2027-02-15", "2027-02-19", "half-term");
        let calendar = lay_out(&term, &timetable, &[off], &[], &[]);
        assert_eq!(calendar.unit_length, 40);
        assert_eq!(calendar.periods.len(), 9);
        let breaks: Vec<bool> = calendar.periods.iter().map(|p| p.break_before).collect();
        assert_eq!(breaks.iter().position(|&b| b), Some(5));
        assert_eq!(breaks.iter().filter(|&&b| b).count(), 1);
        assert_eq!(calendar.closed.len(), 5);
        assert_eq!(calendar.closed[0], (day("2027-02-15"), "half-term".to_owned()));
    }

    #[test]
    fn the_unit_length_is_the_lower_median_and_a_long_entry_is_a_double() {
        let timetable = timetable(&[(0, "09:00-09:40"), (2, "09:00-10:20")]);
        let term = term("2027-01-11", "2027-01-27", &[0, 1, 2, 3, 4]);
        let calendar = lay_out(&term, &timetable, &[], &[], &[]);
        assert_eq!((calendar.unit_length, calendar.periods.len()), (40, 9));
        assert_eq!(
            shown(&calendar)[..3],
            ["2027-01-11 09:00 40", "2027-01-13 09:00 40", "2027-01-13 09:40 40"]
        );
    }

    #[test]
    fn a_double_is_at_least_nine_fifths_of_the_unit_length_and_halves_round_down() {
        let whole = lessons_of(slot("09:00-10:11"), 40);
        assert_eq!(whole, [slot("09:00-10:11")], "71 minutes are under 72");
        let exact = lessons_of(slot("09:00-10:12"), 40);
        assert_eq!(exact, [slot("09:00-09:36"), slot("09:36-10:12")]);
        let odd = lessons_of(slot("09:00-10:21"), 40);
        assert_eq!(odd, [slot("09:00-09:40"), slot("09:40-10:20")], "the odd minute is dropped");
    }

    #[test]
    fn a_part_day_closure_takes_one_half_of_a_double_and_keeps_the_school_day() {
        let timetable = timetable(&[(0, "09:00-09:40"), (2, "09:00-10:20")]);
        let term = term("2027-01-13", "2027-01-13", &[0, 1, 2, 3, 4]);
        let part = |after: &str, before: &str| Closing {
            after: after.parse().ok(),
            before: before.parse().ok(),
            ..whole("2027-01-13", "2027-01-13", "assembly")
        };
        let left = |closing| shown(&lay_out(&term, &timetable, &[closing], &[], &[]));
        assert_eq!(left(part("", "09:01")), ["2027-01-13 09:40 40"]);
        assert_eq!(left(part("09:40", "")), ["2027-01-13 09:00 40"]);
        assert_eq!(left(part("", "09:40")), ["2027-01-13 09:40 40"], "touching is outside");
        assert_eq!(left(part("09:39", "09:41")), Vec::<String>::new());
        assert_eq!(left(part("12:00", "13:00")).len(), 2);
        let emptied = lay_out(&term, &timetable, &[part("00:00", "24:00")], &[], &[]);
        assert_eq!(emptied.school_days, [day("2027-01-13")]);
        assert!(emptied.periods.is_empty() && emptied.closed.is_empty());
    }

    #[test]
    fn periods_under_twenty_minutes_are_not_listed() {
        let timetable = timetable(&[(0, "09:00-09:19"), (1, "09:00-09:20"), (2, "09:00-09:38")]);
        let term = term("2027-01-11", "2027-01-15", &[0, 1, 2, 3, 4]);
        let calendar = lay_out(&term, &timetable, &[], &[], &[]);
        assert_eq!(calendar.unit_length, 20);
        assert_eq!(shown(&calendar), ["2027-01-12 09:00 20"], "38 minutes are two of 19");
    }

    #[test]
    fn a_week_may_run_from_sunday_to_thursday() {
        let timetable = timetable(&[(6, "08:00-08:40"), (3, "08:00-08:40")]);
        let term = term("2027-01-10", "2027-01-24", &[6, 0, 1, 2, 3]);
        let calendar = lay_out(&term, &timetable, &[], &[], &[]);
        let dates: Vec<String> = calendar.periods.iter().map(|p| p.date.to_string()).collect();
        assert_eq!(dates, ["2027-01-10", "2027-01-14", "2027-01-17", "2027-01-21", "2027-01-24"]);
        assert!(calendar.periods.iter().all(|p| !p.break_before));
        let thursday_off = whole("2027-01-13", "2027-01-14", "");
        let calendar = lay_out(&term, &timetable, &[thursday_off], &[], &[]);
        assert!(calendar.periods[1].break_before, "Wednesday to Saturday are four days");
    }

    #[test]
    fn days_without_school_need_not_adjoin_to_make_a_break() {
        let timetable = timetable(&[(0, "09:00-09:40")]);
        let term = term("2027-01-11", "2027-01-18", &[0, 1, 2, 3, 4]);
        let two = [whole("2027-01-12", "2027-01-12", ""), whole("2027-01-14", "2027-01-14", "")];
        assert!(lay_out(&term, &timetable, &two, &[], &[]).periods[1].break_before);
        assert!(!lay_out(&term, &timetable, &two[..1], &[], &[]).periods[1].break_before);
    }

    #[test]
    fn an_opening_beats_a_calendar_but_not_the_plan_itself() {
        let timetable = timetable(&[(0, "09:00-09:40")]);
        let term = term("2027-01-11", "2027-01-11", &[0]);
        let mine = whole("2027-01-11", "2027-01-11", "snow");
        let theirs = Closing { from_calendar: true, ..mine.clone() };
        let periods = |closing: &Closing| {
            lay_out(&term, &timetable, std::slice::from_ref(closing), &[term.starts], &[])
        };
        assert_eq!(periods(&theirs).periods.len(), 1);
        assert_eq!(periods(&mine).periods.len(), 0);
    }

    #[test]
    fn a_lost_lesson_takes_its_period_only() {
        let timetable = timetable(&[(2, "09:00-10:20"), (3, "09:00-09:40")]);
        let term = term("2027-01-13", "2027-01-14", &[2, 3]);
        let lost = [(day("2027-01-13"), "09:40".parse().expect("a time"))];
        let calendar = lay_out(&term, &timetable, &[], &[], &lost);
        assert_eq!(shown(&calendar), ["2027-01-13 09:00 40", "2027-01-14 09:00 40"]);
    }

    #[test]
    fn the_first_reason_given_is_the_reason() {
        let timetable = timetable(&[(0, "09:00-09:40")]);
        let term = term("2027-01-11", "2027-01-11", &[0]);
        let both = [whole("2027-01-11", "2027-01-11", ""), whole("2027-01-01", "2027-02-01", "x")];
        let calendar = lay_out(&term, &timetable, &both, &[], &[]);
        assert_eq!(calendar.closed, [(term.starts, "x".to_owned())]);
    }

    /// Breaks by their definition, day by day.
    fn is_break(calendar: &Calendar, a: NaiveDate, b: NaiveDate) -> bool {
        let between = a.iter_days().skip(1).take_while(|&d| d < b);
        between.filter(|d| !calendar.school_days.contains(d)).count() >= 4
    }

    prop_compose! {
        fn any_closing()(
            from in 0_i64..80, days in 0_i64..6, from_calendar: bool,
            after in proptest::option::of(0_u16..1440), length in 1_u16..300, whole: bool,
        ) -> Closing {
            let from = day("2027-01-11") + chrono::Duration::days(from);
            let after = after.filter(|_| !whole).and_then(Clock::after_midnight);
            Closing {
                from,
                to: from + chrono::Duration::days(days),
                after,
                before: after.map(|a| a.plus(length)),
                because: String::new(),
                from_calendar,
            }
        }
    }
    prop_compose! {
        fn any_timetable()(
            entries in proptest::collection::vec((0_u8..7, 480_u16..900, 15_u16..120), 1..8),
        ) -> Timetable {
            let mut table = Timetable::default();
            for (weekday, from, length) in entries {
                let from = Clock::after_midnight(from).expect("within the day");
                let new = Slot { from, to: from.plus(length) };
                let of_day = table.slots.entry(weekday).or_default();
                if of_day.iter().all(|s| s.to <= new.from || new.to <= s.from) {
                    of_day.push(new);
                    of_day.sort();
                }
            }
            table
        }
    }

    proptest! {
        #[test]
        fn periods_are_in_order_on_school_days_outside_closings_and_breaks_are_as_defined(
            closings in proptest::collection::vec(any_closing(), 0..8),
            timetable in any_timetable(),
            school_days: [bool; 7],
            openings in proptest::collection::vec(0_i64..80, 0..4),
        ) {
            let term = Term { starts: day("2027-01-11"), ends: day("2027-04-02"), school_days };
            let openings: Vec<NaiveDate> =
                openings.iter().map(|&d| term.starts + chrono::Duration::days(d)).collect();
            let calendar = lay_out(&term, &timetable, &closings, &openings, &[]);
            for p in &calendar.periods {
                prop_assert!(calendar.school_days.contains(&p.date) && p.minutes >= 20);
                prop_assert!(term.starts <= p.date && p.date <= term.ends);
                let ends = p.starts.plus(p.minutes);
                for c in closings.iter().filter(|c| c.from <= p.date && p.date <= c.to) {
                    if c.from_calendar && openings.contains(&p.date) { continue; }
                    prop_assert!(!c.whole_days());
                    let (from, to) = (c.after.expect("part"), c.before.expect("part"));
                    prop_assert!(ends <= from || to <= p.starts);
                }
            }
            for pair in calendar.periods.windows(2) {
                let [a, b] = pair else { continue };
                prop_assert!((a.date, a.starts.plus(a.minutes)) <= (b.date, b.starts));
                prop_assert_eq!(b.break_before, is_break(&calendar, a.date, b.date));
            }
            let weekdays = term.days().filter(|&d| term.is_school_weekday(d)).count();
            prop_assert_eq!(calendar.school_days.len() + calendar.closed.len(), weekdays);
        }

        #[test]
        fn opening_a_day_never_removes_a_period_and_closing_never_adds_one(
            closings in proptest::collection::vec(any_closing(), 1..8),
            timetable in any_timetable(),
            opened in 0_i64..80,
        ) {
            let term = Term {
                starts: day("2027-01-11"), ends: day("2027-04-02"), school_days: [true; 7],
            };
            let keys = |closings: &[Closing], openings: &[NaiveDate]| -> BTreeSet<_> {
                let calendar = lay_out(&term, &timetable, closings, openings, &[]);
                calendar.periods.iter().map(|p| (p.date, p.starts, p.minutes)).collect()
            };
            let date = term.starts + chrono::Duration::days(opened);
            let before = keys(&closings, &[]);
            prop_assert!(before.is_subset(&keys(&closings, &[date])));
            prop_assert!(before.is_subset(&keys(&closings[1..], &[])));
        }
    }
}
