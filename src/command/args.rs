//! The command line as clap reads it; no clap type goes further inside.

use crate::calendar::Clock;
use chrono::NaiveDate;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Plans a term of multiplication lessons and prints each day's lesson pack.
#[derive(Debug, Parser)]
#[command(name = "rungwise", version, about, disable_help_subcommand = true)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// Take this day as today
    #[arg(long, global = true, value_name = "DATE", value_parser = date)]
    pub today: Option<NaiveDate>,
    /// How facts are printed
    #[arg(long, global = true, value_enum, default_value_t = Format::Text)]
    pub format: Format,
}

/// How facts are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For people
    Text,
    /// For programs
    Json,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write two invented classes, plan their terms and make all their packs
    Demo(Demo),
    /// Begin a class's folder with a plan.toml
    New(New),
    /// Look through plan.toml and what lies beside it
    Check(ClassDir),
    /// Put the lessons of the term on its periods
    Plan(Plan),
    /// Show what a changed day or plan does to the schedule, and carry it through
    Reschedule(Reschedule),
    /// Take back the last change
    Undo(ClassDir),
    /// Remove a pupil's marks everywhere
    Forget(Forget),
    /// Make lesson packs
    Pack(Pack),
    /// Read the answers to an exit check or test
    Mark(Mark),
    /// What has been met so far
    Report(Report),
    /// Why a lesson is where it is
    Why(Why),
    /// Write the schedule for other programs
    Export(Export),
    /// List the skills of a ladder
    Skills(Skills),
    /// Work out one product in every way
    Sum(Sum),
}

/// A class's folder.
#[derive(Debug, Args)]
pub struct ClassDir {
    /// The class's folder
    pub dir: PathBuf,
}

/// `demo`
#[derive(Debug, Args)]
pub struct Demo {
    /// An empty or new folder
    #[arg(default_value = "rungwise-demo")]
    pub dir: PathBuf,
}

/// `new`
#[derive(Debug, Args)]
pub struct New {
    /// The class's folder, to be made
    pub dir: PathBuf,
    /// The class's name
    #[arg(long)]
    pub name: Option<String>,
    /// The school's name
    #[arg(long)]
    pub school: Option<String>,
    /// The term's first day
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub starts: Option<NaiveDate>,
    /// The term's last day
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub ends: Option<NaiveDate>,
    /// How many pupils
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=60))]
    pub pupils: Option<u32>,
    /// A maths lesson of the week, such as `monday=09:10-09:50`; once for each
    #[arg(long, value_name = "DAY=TIME")]
    pub lesson: Vec<String>,
}

/// `plan`
#[derive(Debug, Args)]
pub struct Plan {
    /// The class's folder
    pub dir: PathBuf,
    /// Start over
    #[arg(long)]
    pub afresh: bool,
    /// Start over although lessons are past or printed
    #[arg(long, requires = "afresh")]
    pub even_so: bool,
    /// Write the term on a page, with the outcomes met when
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
}

/// `reschedule`
#[derive(Debug, Args)]
pub struct Reschedule {
    /// The class's folder
    pub dir: PathBuf,
    /// Days that are closed
    #[arg(long, value_name = "DATE[..DATE]", value_parser = days)]
    pub close: Vec<(NaiveDate, NaiveDate)>,
    /// A day that is open after all
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub open: Vec<NaiveDate>,
    /// A lesson that was not held
    #[arg(long, value_name = "DATE[@HH:MM]", value_parser = moment)]
    pub lost: Vec<(NaiveDate, Option<Clock>)>,
    /// A skill that takes one lesson more
    #[arg(long, value_name = "SKILL")]
    pub more: Vec<String>,
    /// Carry it through
    #[arg(long)]
    pub accept: bool,
}

/// `forget`
#[derive(Debug, Args)]
pub struct Forget {
    /// The class's folder
    pub dir: PathBuf,
    /// The pupil, as in the marks
    #[arg(long)]
    pub pupil: String,
}

/// `pack`
#[derive(Debug, Args)]
pub struct Pack {
    /// The class's folder
    pub dir: PathBuf,
    /// The lessons of this day
    #[arg(long, value_name = "DATE", value_parser = date, group = "which")]
    pub day: Option<NaiveDate>,
    /// The lessons of this day's week, and for the copier one file for each number of copies
    #[arg(long, value_name = "DATE", value_parser = date, group = "which")]
    pub week: Option<NaiveDate>,
    /// The lesson of this number
    #[arg(long, value_name = "N", group = "which")]
    pub lesson: Option<u32>,
    /// All lessons
    #[arg(long, group = "which")]
    pub all: bool,
    /// Write there, and record nothing
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Make it to look at; it does not count as printed
    #[arg(long)]
    pub draft: bool,
    /// Make a printed pack anew
    #[arg(long, requires = "lesson")]
    pub afresh: bool,
    /// The version: other numbers, equally hard
    #[arg(long, value_parser = ["A", "B"], default_value = "A")]
    pub version: String,
    /// Another item of the same purpose in place of this one, such as L07-K3
    #[arg(long, value_name = "ITEM", conflicts_with_all = ["which", "out", "afresh"])]
    pub swap: Option<String>,
    /// The sheet of a group of pupils, by the number `mark` gave it; `absent` for those who were
    /// absent, `all` for all of these
    #[arg(long, value_name = "G", conflicts_with_all = ["day", "week", "all", "swap", "afresh", "draft"])]
    pub group: Option<String>,
}

/// `mark`
#[derive(Debug, Args)]
pub struct Mark {
    /// The class's folder
    pub dir: PathBuf,
    /// The lesson
    #[arg(long, value_name = "N", required_unless_present = "reset_weights")]
    pub lesson: Option<u32>,
    /// The answers; without a file they are typed at the terminal
    #[arg(conflicts_with_all = ["blank", "typed", "pupil"])]
    pub file: Option<PathBuf>,
    /// Print an empty table of answers to fill in
    #[arg(long)]
    pub blank: bool,
    /// Take the answers from standard input as though they were typed at the terminal
    #[arg(long, conflicts_with_all = ["blank", "pupil"])]
    pub typed: bool,
    /// One pupil, whose answer to one item is set or mended; the rest stays
    #[arg(long, value_name = "P", requires_all = ["item", "answer"], conflicts_with = "blank")]
    pub pupil: Option<String>,
    /// That item, such as X2
    #[arg(long, value_name = "ITEM", requires = "pupil")]
    pub item: Option<String>,
    /// The answer: "ok" for right, "" for not answered
    #[arg(long, value_name = "ANSWER", requires = "pupil", allow_hyphen_values = true)]
    pub answer: Option<String>,
    /// Take nothing from what the class showed before, in this run
    #[arg(long)]
    pub afresh: bool,
    /// From now on let what the class showed so far change no pattern's weight; `undo` takes it back
    #[arg(long, conflicts_with_all = ["lesson", "file", "blank", "typed", "pupil", "afresh"])]
    pub reset_weights: bool,
    /// The version
    #[arg(long, value_parser = ["A", "B"], default_value = "A")]
    pub version: String,
}

/// `report`
#[derive(Debug, Args)]
pub struct Report {
    /// The class's folder
    pub dir: PathBuf,
    /// Which report
    #[arg(value_enum)]
    pub which: WhichReport,
    /// Print progress as comma-separated values
    #[arg(long, conflicts_with = "pdf")]
    pub csv: bool,
    /// Write it as a page: coverage, progress or scheme
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
}

/// The reports there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum WhichReport {
    /// Which outcomes the lessons meet
    Coverage,
    /// What each pupil has met, practised and shown
    Progress,
    /// What each exit check can and cannot tell
    Checks,
    /// The term for the head: weeks by skills with the outcomes they serve
    Scheme,
}

/// `why`
#[derive(Debug, Args)]
pub struct Why {
    /// The class's folder
    pub dir: PathBuf,
    /// The lesson; without it, what became of each wish of the plan
    #[arg(long, value_name = "N")]
    pub lesson: Option<u32>,
    /// A skill, taught or not
    #[arg(long, value_name = "ID", conflicts_with = "lesson")]
    pub skill: Option<String>,
}

/// `export`
#[derive(Debug, Args)]
pub struct Export {
    /// The class's folder
    pub dir: PathBuf,
    /// The format
    #[arg(value_enum)]
    pub what: ExportFormat,
}

/// The formats there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ExportFormat {
    /// iCalendar
    Ics,
    /// Comma-separated values
    Csv,
}

/// `skills`
#[derive(Debug, Args)]
pub struct Skills {
    /// The name of a ladder of ours, or a ladder file
    #[arg(default_value = "multiplication")]
    pub ladder: String,
    /// Print the graph in the DOT language
    #[arg(long)]
    pub graph: bool,
}

/// `sum`
#[derive(Debug, Args)]
pub struct Sum {
    /// Two whole numbers of up to six digits, such as 4736x208
    #[arg(value_name = "AxB", allow_hyphen_values = true)]
    pub product: String,
    /// An answer to explain
    #[arg(long, value_name = "N")]
    pub answer: Option<String>,
}

fn date(text: &str) -> Result<NaiveDate, String> {
    NaiveDate::parse_from_str(text, "%Y-%m-%d")
        .map_err(|_| format!("`{text}` is no date; write it as 2027-03-08"))
}

fn days(text: &str) -> Result<(NaiveDate, NaiveDate), String> {
    let (from, to) = text.split_once("..").unwrap_or((text, text));
    let (from, to) = (date(from)?, date(to)?);
    if from <= to { Ok((from, to)) } else { Err(format!("{to} comes before {from}")) }
}

fn moment(text: &str) -> Result<(NaiveDate, Option<Clock>), String> {
    match text.split_once('@') {
        Some((day, time)) => Ok((date(day)?, Some(time.parse()?))),
        None => Ok((date(text)?, None)),
    }
}
