//! What a marking has recorded, what it left out, and which marks it replaces.

use super::class::Class;
use super::mark::MOST_OF_A_KIND;
use super::output::{Failure, note};
use crate::folder::{lesson_code, marks_file};
use crate::lesson::Pack;
use crate::marking::Answers;
use crate::report::{Message, Report};
use crate::words::{count, grouped, join};
use serde::Serialize;

/// What stands in the class's folder after a marking.
#[derive(Debug, Serialize)]
pub struct Recorded {
    /// The file that holds the marks.
    file: String,
    /// How many pupils have a row in it; 0 where slips were counted in piles.
    pupils: usize,
    /// How many answers it holds.
    answers: usize,
    /// What of the teacher's file could not be used: "line 4", "column `L07-X9`"; the first of them,
    /// where there are very many, and "4,980 more".
    left_out: Vec<String>,
    /// How many such places there are.
    left_out_count: usize,
    /// How many answers the marks held before, which these replace.
    replaced: usize,
    /// Pupils who had answers before and have none now.
    gone: Vec<String>,
}

/// The first of many, and how many more there are.
fn first_of(mut all: Vec<String>, most: usize) -> Vec<String> {
    if all.len() > most + 1 {
        let rest = all.split_off(most).len();
        all.push(format!("{} more", grouped(rest)));
    }
    all
}

/// How many answers these are.
fn answers_in(answers: &Answers) -> usize {
    let single = answers.pupils.values().flatten().filter(|(_, given)| given.is_some()).count();
    let piles = answers.piles.iter().map(|pile| usize::try_from(pile.count).unwrap_or(0));
    single + piles.sum::<usize>()
}

/// Whether a pupil has answered anything.
fn has_answers(answers: &Answers, pupil: &str) -> bool {
    answers.pupils.get(pupil).is_some_and(|row| row.values().any(Option::is_some))
}

impl Recorded {
    /// What recording these answers comes to, these having been marked before.
    pub fn of(
        pack: &Pack,
        answers: &Answers,
        left_out: Vec<String>,
        earlier: Option<&Answers>,
    ) -> Recorded {
        let gone = |before: &Answers| -> Vec<String> {
            let had = before.pupils.keys().filter(|pupil| has_answers(before, pupil));
            had.filter(|pupil| !has_answers(answers, pupil)).cloned().collect()
        };
        Recorded {
            file: marks_file(pack.lesson, &pack.version),
            pupils: answers.pupils.len(),
            answers: answers_in(answers),
            left_out_count: left_out.len(),
            left_out: first_of(left_out, MOST_OF_A_KIND),
            replaced: earlier.filter(|e| *e != answers).map_or(0, answers_in),
            gone: earlier.map(gone).unwrap_or_default(),
        }
    }

    /// Refuses to record a file in which nobody has an answer where that would take marks away, and
    /// one that names nobody at all.
    pub fn refuse_nothing(
        &self,
        class: &Class,
        pack: &Pack,
        answers: &Answers,
        earlier: Option<&Answers>,
    ) -> Result<(), Failure> {
        let names_nobody = answers.pupils.is_empty() && answers.piles.is_empty();
        let takes_away = earlier.is_some_and(|marks| answers_in(marks) > 0);
        if self.answers > 0 || !(names_nobody || takes_away) {
            return Ok(());
        }
        nothing(class, pack, earlier);
        Err(Failure::Said)
    }

    /// Says what was recorded, where something was left out or replaced.
    pub fn tell(&self, class: &Class) {
        let Recorded { file, pupils, answers, left_out, replaced, gone, .. } = self;
        let held = match pupils {
            0 => count(*answers, "answer"),
            some => format!("{} of {}", count(*answers, "answer"), count(*some, "pupil")),
        };
        if !left_out.is_empty() {
            note(&format!(
                "recorded in {file}: {held}; not recorded: {}. Mend the file and mark it again: \
                 that replaces what is recorded now",
                join(left_out, "and")
            ));
        }
        if *replaced > 0 {
            let dir = class.folder.dir().display();
            let lost = match gone.as_slice() {
                [] => String::new(),
                some => {
                    let some = first_of(some.to_vec(), MOST_OF_A_KIND);
                    format!(" (no answers any more: {})", join(&some, "and"))
                }
            };
            let stand = if *answers == 1 { "stands" } else { "stand" };
            note(&format!(
                "{held} {stand} in {file} in the place of {}{lost}; `rungwise undo {dir}` brings the \
                 earlier marks back",
                count(*replaced, "answer")
            ));
        }
    }
}

/// Says that nothing of a file could be used, and what becomes of the marks there are.
pub fn unreadable(pack: &Pack, earlier: Option<&Answers>) {
    let text = format!("nothing of it was recorded{}", stays(pack, earlier));
    note(Report::of(Message::mistake(text)).to_text().trim_end());
}

/// Says that nothing was recorded as nobody has an answer, and what becomes of the marks there are.
fn nothing(class: &Class, pack: &Pack, earlier: Option<&Answers>) {
    let dir = class.folder.dir().display();
    let version = if pack.version == "B" { " --version B" } else { "" };
    let lesson = pack.lesson;
    let blank = format!(
        "`rungwise mark {dir} --lesson {lesson}{version} --blank` writes a table to fill in"
    );
    let stays = stays(pack, earlier);
    let text = format!("nothing was recorded: nobody has an answer here{stays}");
    note(Report::of(Message::mistake(text).hint(blank)).to_text().trim_end());
}

fn stays(pack: &Pack, earlier: Option<&Answers>) -> String {
    match earlier.map_or(0, answers_in) {
        0 => String::new(),
        held => {
            let code = lesson_code(pack.lesson, &pack.version);
            let held = count(held, "answer");
            format!(", so the earlier marks of {code} ({held}) stay as they are")
        }
    }
}
