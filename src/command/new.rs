//! `new`: begins a class's folder, asking its few questions when a person sits at the terminal.

use super::args::New as Request;
use super::output::{Failure, note};
use crate::calendar::Clock;
use crate::folder::{fresh_key, is_empty_dir, save};
use crate::report::Message;
use chrono::{Days, NaiveDate};
use std::fmt::Write as _;
use std::io::{BufRead, IsTerminal, Write as _};

const DAYS: [&str; 7] =
    ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];

/// What the questions ask for.
struct Answers {
    name: String,
    school: String,
    starts: NaiveDate,
    ends: NaiveDate,
    pupils: u32,
    lessons: Vec<(usize, String)>,
}

/// Runs the command.
pub fn run(request: &Request, today: NaiveDate) -> Result<(), Failure> {
    if !is_empty_dir(&request.dir)? {
        let text = format!("`{}` is not empty", request.dir.display());
        return Err(Message::mistake(text).hint("name a folder that is not there yet").into());
    }
    let answers =
        if std::io::stdin().is_terminal() { ask(request, today)? } else { given(request)? };
    let text = plan_text(&answers);
    save(&request.dir.join("plan.toml"), text.as_bytes())?;
    let dir = request.dir.display();
    note(&format!("wrote {dir}/plan.toml; look it over, then `rungwise plan {dir}`"));
    Ok(())
}

/// From the flags alone.
fn given(request: &Request) -> Result<Answers, Failure> {
    let need =
        |what: &str| Failure::Usage(format!("`--{what}` is needed where nobody can be asked"));
    let lessons: Result<Vec<_>, Failure> = request.lesson.iter().map(|l| lesson(l)).collect();
    let lessons = lessons?;
    let answers = Answers {
        name: request.name.clone().ok_or_else(|| need("name"))?,
        school: request.school.clone().unwrap_or_default(),
        starts: request.starts.ok_or_else(|| need("starts"))?,
        ends: request.ends.ok_or_else(|| need("ends"))?,
        pupils: request.pupils.unwrap_or(30),
        lessons: if lessons.is_empty() { usual_week() } else { lessons },
    };
    in_order(answers)
}

/// From the flags, and by asking for the rest.
fn ask(request: &Request, today: NaiveDate) -> Result<Answers, Failure> {
    let date = |text: &str| NaiveDate::parse_from_str(text, "%Y-%m-%d").ok();
    let lessons: Result<Vec<_>, Failure> = request.lesson.iter().map(|l| lesson(l)).collect();
    let lessons = lessons?;
    let answers = Answers {
        name: match &request.name {
            Some(name) => name.clone(),
            None => question("The class's name", "Class 5", |t| Some(t.to_owned()))?,
        },
        school: match &request.school {
            Some(school) => school.clone(),
            None => question("The school's name", "", |t| Some(t.to_owned()))?,
        },
        starts: match request.starts {
            Some(day) => day,
            None => question("The term's first day", &today.to_string(), date)?,
        },
        ends: match request.ends {
            Some(day) => day,
            None => question("The term's last day", &(today + Days::new(81)).to_string(), date)?,
        },
        pupils: match request.pupils {
            Some(n) => n,
            None => question("How many pupils", "30", |t| {
                t.parse().ok().filter(|n| (1..=60).contains(n))
            })?,
        },
        lessons: if lessons.is_empty() { usual_week() } else { lessons },
    };
    in_order(answers)
}

fn in_order(answers: Answers) -> Result<Answers, Failure> {
    if answers.starts > answers.ends {
        let text =
            format!("the term ends on {} before it starts on {}", answers.ends, answers.starts);
        return Err(Failure::Usage(text));
    }
    Ok(answers)
}

fn question<T>(what: &str, usual: &str, read: impl Fn(&str) -> Option<T>) -> Result<T, Failure> {
    loop {
        write!(std::io::stderr(), "{what} [{usual}]: ").ok();
        std::io::stderr().flush().ok();
        let mut line = String::new();
        let got = std::io::stdin().lock().read_line(&mut line).unwrap_or(0);
        if got == 0 {
            return Err(Failure::Usage(
                "the answers ended too early; nothing was written".to_owned(),
            ));
        }
        let text = line.trim();
        match read(if text.is_empty() { usual } else { text }) {
            Some(value) => return Ok(value),
            None => note(&format!("`{text}` does not fit; an answer such as `{usual}` does")),
        }
    }
}

/// Forty minutes each morning: common practice, no source; the teacher changes it in the file.
fn usual_week() -> Vec<(usize, String)> {
    (0..5).map(|day| (day, "09:10-09:50".to_owned())).collect()
}

fn lesson(text: &str) -> Result<(usize, String), Failure> {
    let wrong =
        || Failure::Usage(format!("`--lesson {text}`: expected such as `monday=09:10-09:50`"));
    let (day, time) = text.split_once('=').ok_or_else(wrong)?;
    let day = DAYS.iter().position(|d| *d == day).ok_or_else(wrong)?;
    let (from, to) = time.split_once('-').ok_or_else(wrong)?;
    let (from, to): (Clock, Clock) = from.parse().ok().zip(to.parse().ok()).ok_or_else(wrong)?;
    if from < to { Ok((day, time.to_owned())) } else { Err(wrong()) }
}

fn plan_text(answers: &Answers) -> String {
    let quoted = |text: &str| toml::Value::String(text.to_owned()).to_string();
    let mut out = format!(
        "# The plan of one class for one term. Change what you like; `rungwise check` looks it over.\n\
         [class]\nname = {}\nschool = {}\nkey = {}  # all sums hang on it: leave it as it is\n\
         pupils = {}\npace = 1.0  # 1.2: takes a fifth longer than typical\n\n\
         [term]\nstarts = {}\nends = {}\n\n[timetable]\n",
        quoted(&answers.name),
        quoted(&answers.school),
        quoted(&fresh_key(&answers.name)),
        answers.pupils,
        answers.starts,
        answers.ends,
    );
    for (index, day) in DAYS.iter().enumerate() {
        let times: Vec<String> =
            answers.lessons.iter().filter(|(d, _)| *d == index).map(|(_, t)| quoted(t)).collect();
        if !times.is_empty() {
            writeln!(out, "{day} = [{}]", times.join(", ")).ok();
        }
    }
    out.push_str(
        "\n# Days without lessons, one block each:\n# [[closure]]\n# from = 2027-02-15\n# to = 2027-02-19\n\
         # because = \"half-term\"\n\n[unit]\nladder = \"multiplication\"\n\
         secure = [\"facts-to-ten-by-ten\"]\n\
         teach = [\"long-two-by-two\", \"story-one-step\"]  # what they need comes along\n\
         # test = 2027-03-24  # absent: the last period; \"none\": no test\n\n\
         [style]\ngrouping = \"thousands\"  # or \"indian\", \"spaced\"\npaper = \"a4\"  # or \"letter\"\n",
    );
    out
}
