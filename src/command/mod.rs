//! One file a command: typed arguments in, a plain request to the library, words and JSON out.
//!
//! Data goes to standard output, everything else to standard error. Exit status: 0 done, 1 the
//! user's files or wishes need attention, 2 wrong usage, 3 a fault of ours.

mod answers;
mod args;
mod changes;
mod check;
mod checks;
mod class;
mod demo;
mod export;
mod forget;
mod group;
mod mark;
mod methods;
mod new;
mod next_step;
mod one_more;
mod output;
mod own_sums;
mod pack;
mod plan;
mod print;
mod progress;
mod recorded;
mod report;
mod reschedule;
mod scheme;
mod skills;
mod sum;
mod undo;
mod week;
mod weights;
mod why;

use args::{Arguments, Command};
use clap::Parser;
use output::Failure;
use std::process::ExitCode;

/// Runs the command line.
pub fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            // clap prints help and version to standard output, faults of usage to standard error.
            error.print().ok();
            return ExitCode::from(if error.use_stderr() { 2 } else { 0 });
        }
    };
    match std::panic::catch_unwind(|| run(arguments)) {
        Ok(Ok(())) => ExitCode::SUCCESS,
        Ok(Err(failure)) => failure.tell(),
        Err(_) => Failure::Ours("it stopped in the middle of its work".to_owned()).tell(),
    }
}

fn run(arguments: Arguments) -> Result<(), Failure> {
    let format = arguments.format;
    let today = arguments.today.unwrap_or_else(crate::folder::today);
    match arguments.command {
        Command::Demo(request) => demo::run(&request, today),
        Command::New(request) => new::run(&request, today),
        Command::Check(request) => check::run(&request, format, today),
        Command::Plan(request) => plan::run(&request, format, today),
        Command::Reschedule(request) => reschedule::run(&request, format, today),
        Command::Undo(request) => undo::run(&request, today),
        Command::Forget(request) => forget::run(&request, today),
        Command::Pack(request) => pack::run(&request, format, today),
        Command::Mark(request) => mark::run(&request, format, today),
        Command::Report(request) => report::run(&request, format, today),
        Command::Why(request) => why::run(&request, format, today),
        Command::Export(request) => export::run(&request, today),
        Command::Skills(request) => skills::run(&request, format),
        Command::Sum(request) => sum::run(&request, format),
    }
}
