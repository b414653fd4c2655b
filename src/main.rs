//! The binary: arguments in, exit status out.

fn main() -> std::process::ExitCode {
    rungwise::command::main()
}
