//! A changed schedule as a teacher reads it: before and after in date order, what is at risk, what
//! must be printed again.

use super::class::Class;
use super::output::short_date;
use super::print;
use crate::calendar::Clock;
use crate::plan::Plan;
use crate::schedule::{Comparison, Lesson, Risk, Schedule, Thinner};
use crate::words::{count, join};
use chrono::NaiveDate;
use std::fmt::Write;

/// What there is to show of a changed schedule.
pub struct Changes<'a> {
    /// The class, its old schedule in force.
    pub class: &'a Class,
    /// The plan the new schedule follows.
    pub plan: &'a Plan,
    /// The new schedule.
    pub new: &'a Schedule,
    /// What moves, goes and comes.
    pub comparison: &'a Comparison,
    /// What that puts at risk.
    pub risk: &'a Risk,
}

/// One line of the list.
struct Row {
    /// Where it stands in the list: the new place, or the old one of what is no more.
    place: (NaiveDate, Clock),
    number: u32,
    before: String,
    after: String,
    what: String,
    changed: bool,
}

impl Changes<'_> {
    /// All of it.
    pub fn to_text(&self) -> String {
        let mut out = print::headline(&self.plan.class.name, self.new) + "\n\n";
        self.list(&mut out);
        self.at_risk(&mut out);
        self.print_again(&mut out);
        out
    }

    fn title(&self, lesson: &Lesson) -> String {
        let ladder = &self.plan.ladder.skills;
        let title = |skill: &str| match ladder.get(skill) {
            Some(skill) => skill.title.clone(),
            None => self.class.title(skill).to_owned(),
        };
        print::lesson_title(lesson, title)
    }

    fn rows(&self) -> Vec<Row> {
        let old = self.class.state.lessons();
        let at = |lesson: &Lesson| (lesson.date, lesson.starts);
        let mut rows: Vec<Row> = Vec::new();
        for lesson in &self.new.lessons {
            let before = old.iter().find(|l| l.number == lesson.number);
            let stays = before.is_some_and(|b| at(b) == at(lesson));
            rows.push(Row {
                place: at(lesson),
                number: lesson.number,
                before: before.map_or("–".to_owned(), moment),
                after: if stays { "same".to_owned() } else { moment(lesson) },
                what: self.title(lesson),
                changed: !stays,
            });
        }
        let gone = |l: &&Lesson| self.comparison.dropped.contains(&l.number);
        for lesson in old.iter().filter(gone) {
            rows.push(Row {
                place: at(lesson),
                number: lesson.number,
                before: moment(lesson),
                after: "dropped".to_owned(),
                what: self.title(lesson),
                changed: true,
            });
        }
        rows.sort_by_key(|row| (row.place, row.number));
        rows
    }

    /// The lessons from the first that changes to the last, in date order, changes marked.
    fn list(&self, out: &mut String) {
        let rows = self.rows();
        let first = rows.iter().position(|r| r.changed);
        let last = rows.iter().rposition(|r| r.changed);
        let (Some(first), Some(last)) = (first, last) else {
            out.push_str("No lesson moves.\n");
            return;
        };
        writeln!(out, "      {:<17}  {:<17}  (* changes)", "before", "after").ok();
        for row in &rows[first..=last] {
            let mark = if row.changed { '*' } else { ' ' };
            let Row { number, before, after, what, .. } = row;
            writeln!(out, "{mark}{number:>3}  {before:<17}  {after:<17}  {what}").ok();
        }
        let stay = count(self.comparison.unchanged, "lesson");
        let verb = if self.comparison.unchanged == 1 {
            "stays where it is"
        } else {
            "stay where they are"
        };
        writeln!(out, "{stay} {verb}.").ok();
    }

    fn at_risk(&self, out: &mut String) {
        let (before, after) = (self.risk.margin_before, self.risk.margin_after);
        out.push_str("\nAt risk\n");
        for thinner in &self.risk.thinner {
            writeln!(out, "  {}", self.thinner(thinner)).ok();
        }
        let lost = self.codes(&self.risk.outcomes_lost);
        if !lost.is_empty() {
            writeln!(out, "  No lesson serves {} any more.", join(&lost, "and")).ok();
        }
        if self.risk.thinner.is_empty() {
            out.push_str("  No skill loses a lesson.\n");
        }
        let was = |before: usize, after: usize| {
            if before == after { String::new() } else { format!(" (before: {before})") }
        };
        writeln!(
            out,
            "  Room before the test: {} to come{}, {} after the last new one{}.",
            count(after.catch_ups, "catch-up"),
            was(before.catch_ups, after.catch_ups),
            count(after.after_last_new, "lesson"),
            was(before.after_last_new, after.after_last_new)
        )
        .ok();
    }

    fn thinner(&self, thinner: &Thinner) -> String {
        let ladder = &self.plan.ladder.skills;
        let title = ladder.get(&thinner.skill).map_or(thinner.skill.as_str(), |s| &s.title);
        let now = match thinner.after {
            0 => "not taught any more".to_owned(),
            n => count(n, "lesson"),
        };
        let codes = self.codes(&thinner.outcomes);
        let serves = if codes.is_empty() {
            String::new()
        } else {
            format!("; serves {}", join(&codes, "and"))
        };
        format!("“{title}”: {now} (before: {}){serves}", thinner.before)
    }

    /// The outcomes of the frameworks the class reports to, as teachers write them.
    fn codes(&self, outcomes: &[String]) -> Vec<String> {
        let reported = |name: &str| self.plan.frameworks.iter().any(|f| f.name == name);
        let code = |outcome: &String| {
            let (framework, code) = outcome.split_once(':')?;
            reported(framework).then(|| format!("{code} ({framework})"))
        };
        outcomes.iter().filter_map(code).collect()
    }

    fn print_again(&self, out: &mut String) {
        let Risk { print_again, paper_unused, .. } = self.risk;
        if print_again.is_empty() && paper_unused.is_empty() {
            out.push_str("\nNothing must be printed again.\n");
            return;
        }
        out.push_str("\nPrinted already\n");
        let dir = self.class.folder.dir().display();
        for number in print_again {
            let old = self.class.state.lesson(*number).map(|l| short_date(l.date));
            let old = old.unwrap_or_default();
            writeln!(
                out,
                "  lesson {number}: its paper says {old}; `rungwise pack {dir} --lesson {number} \
                 --afresh` prints it again"
            )
            .ok();
        }
        for number in paper_unused {
            writeln!(out, "  lesson {number}: it is dropped, its paper is not used").ok();
        }
    }
}

fn moment(lesson: &Lesson) -> String {
    format!("{} {}", short_date(lesson.date), lesson.starts)
}
