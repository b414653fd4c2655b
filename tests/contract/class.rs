//! A class in a temporary folder, and the binary run on it.

use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What a run of the binary came to.
#[derive(Debug)]
pub struct Run {
    /// The exit status.
    pub status: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

impl Run {
    /// Standard output as JSON.
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.out)
            .unwrap_or_else(|e| panic!("{e}\n{}\n{}", self.out, self.err))
    }
    /// The run, which must have ended with this status.
    pub fn ends(self, status: i32) -> Run {
        assert_eq!(self.status, status, "\n--- out\n{}\n--- err\n{}", self.out, self.err);
        self
    }
    /// The run, whose standard error must hold this.
    pub fn says(self, text: &str) -> Run {
        assert!(self.err.contains(text), "`{text}` is not in\n{}", self.err);
        self
    }
}

/// Runs the binary with these arguments.
pub fn run(args: &[&str]) -> Run {
    let out = Command::new(env!("CARGO_BIN_EXE_rungwise"))
        .args(args)
        .stdin(std::process::Stdio::null())
        .output()
        .expect("the binary starts");
    Run {
        status: out.status.code().expect("it was not killed"),
        out: String::from_utf8(out.stdout).expect("text"),
        err: String::from_utf8(out.stderr).expect("text"),
    }
}

/// Runs the binary with these arguments and lines typed into it.
pub fn run_with(args: &[&str], typed: &str) -> Run {
    use std::io::Write;
    let mut child = Command::new(env!("CARGO_BIN_EXE_rungwise"))
        .args(args)
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("the binary starts");
    let mut input = child.stdin.take().expect("a pipe");
    input.write_all(typed.as_bytes()).expect("it reads");
    drop(input);
    let out = child.wait_with_output().expect("it ends");
    Run {
        status: out.status.code().expect("it was not killed"),
        out: String::from_utf8(out.stdout).expect("text"),
        err: String::from_utf8(out.stderr).expect("text"),
    }
}

/// A class's folder that goes when the test ends.
pub struct Class {
    home: tempfile::TempDir,
}

/// The day before the term of most plans here.
pub const BEFORE: &str = "2027-01-04";

/// A short real plan: five weeks of our ladder.
pub const SHORT: &str = r#"
[class]
name = "Class 5 Heron"
school = "Millbrook School"
pupils = 12

[term]
starts = 2027-01-11
ends = 2027-02-19

[timetable]
monday = ["09:10-09:50"]
tuesday = ["09:10-09:50"]
wednesday = ["11:00-12:20"]
thursday = ["09:10-09:50"]
friday = ["09:10-09:40"]

[unit]
ladder = "multiplication"
secure = ["facts-to-ten-by-ten"]
teach = ["long-two-by-two", "story-one-step"]
"#;

/// The instance whose optimum is known by hand to be 1015.
pub const SMALL: &str = r#"
[class]
name = "Class A"

[term]
starts = 2027-02-08
ends = 2027-02-25

[timetable]
monday = ["09:00-09:40"]
tuesday = ["09:00-09:40"]
wednesday = ["09:00-09:40"]
thursday = ["09:00-09:40"]
friday = ["09:00-09:30"]

[[closure]]
from = 2027-02-15
to = 2027-02-19

[unit]
ladder = "abc.toml"
teach = ["b", "c"]
revision = 1
"#;

/// The ladder of [`SMALL`].
pub const ABC: &str = r#"
[ladder]
name = "abc"

[[skill]]
id = "a"
lessons = { least = 2, preferred = 2, most = 3 }

[[skill]]
id = "b"
needs = ["a"]
lessons = { least = 1, preferred = 2, most = 3 }
weight = 4

[[skill]]
id = "c"
needs = ["a"]
lessons = { least = 1, preferred = 3, most = 3 }
weight = 2
"#;

impl Class {
    /// A class with this plan.
    pub fn with(plan: &str) -> Class {
        let class = Class { home: tempfile::tempdir().expect("a temporary folder") };
        class.write("plan.toml", plan);
        class
    }
    /// The class of [`SMALL`] and [`ABC`].
    pub fn small() -> Class {
        let class = Class::with(SMALL);
        class.write("abc.toml", ABC);
        class
    }
    /// Its folder.
    pub fn dir(&self) -> PathBuf {
        self.home.path().join("class")
    }
    /// Its folder as an argument.
    pub fn arg(&self) -> String {
        self.dir().display().to_string()
    }
    /// A path beside its folder.
    pub fn beside(&self, name: &str) -> PathBuf {
        self.home.path().join(name)
    }
    /// Writes a file in it.
    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.dir().join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("it is made");
        fs::write(path, text).expect("it is written");
    }
    /// The text of a file in it.
    pub fn read(&self, name: &str) -> String {
        let path = self.dir().join(name);
        fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
    }
    /// Whether it holds a file.
    pub fn holds(&self, name: &str) -> bool {
        self.dir().join(name).exists()
    }
    /// Runs `rungwise COMMAND DIR REST… --today DAY`.
    pub fn on(&self, today: &str, command: &str, rest: &[&str]) -> Run {
        let dir = self.arg();
        let mut args = vec![command, &dir];
        args.extend(rest);
        args.extend(["--today", today]);
        run(&args)
    }
    /// The same, printing JSON, which must end well.
    pub fn json(&self, today: &str, command: &str, rest: &[&str]) -> Value {
        let mut rest = rest.to_vec();
        rest.extend(["--format", "json"]);
        self.on(today, command, &rest).ends(0).json()
    }
    /// Every file in it but the lock, with its bytes, in order: to show that nothing changed.
    pub fn contents(&self) -> Vec<(String, Vec<u8>)> {
        let mut found = Vec::new();
        walk(&self.dir(), &self.dir(), &mut found);
        found.sort();
        found
    }
}

fn walk(root: &Path, dir: &Path, found: &mut Vec<(String, Vec<u8>)>) {
    for entry in fs::read_dir(dir).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path.strip_prefix(root).expect("inside").display().to_string();
        if path.is_dir() {
            walk(root, &path, found);
        } else if name != ".rungwise/lock" {
            found.push((name, fs::read(&path).expect("a file")));
        }
    }
}
