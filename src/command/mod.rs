//! One file a command: typed arguments in, a plain request to the library, words and JSON out.

/// Runs the command line.
pub fn main() -> std::process::ExitCode {
    std::process::ExitCode::SUCCESS
}
