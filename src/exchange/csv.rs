//! Comma-separated values (RFC 4180): the schedule out, pupils in.

use crate::report::{Message, Place, Report, Source};
use crate::schedule::{Lesson, Schedule};
use csv::{Position, ReaderBuilder, StringRecord, Terminator, Trim, WriterBuilder};
use indexmap::IndexMap;
use std::sync::Arc;

const COLUMN: &str = "pupil";
const HEADER: [&str; 10] =
    ["lesson", "date", "starts", "ends", "minutes", "kind", "skill", "title", "part", "of"];

/// The schedule, a line a lesson under a line of names, lines ended by CRLF.
pub fn write_schedule(schedule: &Schedule, title: impl Fn(&Lesson) -> String) -> String {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    let mut write = |fields: Vec<String>| writer.write_record(&fields).is_ok();
    let mut whole = write(HEADER.map(str::to_owned).to_vec());
    for lesson in &schedule.lessons {
        whole &= write(record(lesson, title(lesson)));
    }
    let bytes = writer.into_inner().unwrap_or_default();
    let text = String::from_utf8(bytes).unwrap_or_default();
    assert!(whole, "writing into memory cannot fail");
    text
}

fn record(lesson: &Lesson, title: String) -> Vec<String> {
    let number = |n: Option<u32>| n.map(|n| n.to_string()).unwrap_or_default();
    let kind = match lesson.kind {
        crate::plan::LessonKind::Teach => "teach",
        crate::plan::LessonKind::CatchUp => "catch-up",
        crate::plan::LessonKind::Revision => "revision",
        crate::plan::LessonKind::UnitTest => "unit-test",
    };
    vec![
        lesson.number.to_string(),
        lesson.date.to_string(),
        lesson.starts.to_string(),
        lesson.starts.plus(lesson.minutes).to_string(),
        lesson.minutes.to_string(),
        kind.to_owned(),
        lesson.skill.clone().unwrap_or_default(),
        title,
        number(lesson.part),
        number(lesson.of),
    ]
}

/// The labels of the pupils: the column `pupil` of a file with commas, semicolons or tabs. Each
/// must be there once; lines without one are passed over. `None` after a mistake.
pub fn read_pupils(source: &Arc<Source>, report: &mut Report) -> Option<Vec<String>> {
    let lines = records(source, report)?;
    let mut lines = lines.iter();
    let Some((header, place)) = lines.next() else {
        report.say(no_column(&source.name, &Place::of_line(source, 1)));
        return None;
    };
    let Some(column) = header.iter().position(|name| name.eq_ignore_ascii_case(COLUMN)) else {
        report.say(no_column(&source.name, place));
        return None;
    };
    let mut found = Report::new();
    let mut pupils: IndexMap<String, usize> = IndexMap::new();
    for (record, place) in lines {
        let label = record.get(column).unwrap_or_default();
        if label.is_empty() {
            continue;
        }
        if let Some(first) = pupils.get(label) {
            let message = Message::mistake(format!("two pupils are called `{label}`")).at(place);
            let message = message.label(format!("the first stands on line {first}"));
            found.say(message.hint("add a letter or a number to one of them"));
        } else {
            pupils.insert(label.to_owned(), place.line());
        }
    }
    let usable = !found.has_mistakes();
    report.append(found);
    usable.then(|| pupils.into_keys().collect())
}

fn no_column(name: &str, place: &Place) -> Message {
    Message::mistake(format!("`{name}` has no column `{COLUMN}`"))
        .at(place)
        .label(format!("expected the names of the columns, one of them `{COLUMN}`"))
        .hint(format!("write `{COLUMN}` as the first line and one pupil on each line below"))
}

/// All lines with their places; `None` where one cannot be read.
fn records(source: &Arc<Source>, report: &mut Report) -> Option<Vec<(StringRecord, Place)>> {
    let text = source.text.trim_start_matches('\u{FEFF}');
    let mut reader = ReaderBuilder::new()
        .delimiter(delimiter(text))
        .has_headers(false)
        .flexible(true)
        .trim(Trim::All)
        .from_reader(text.as_bytes());
    let place = |position: Option<&Position>| {
        let line = position.map_or(1, Position::line);
        Place::of_line(source, usize::try_from(line).unwrap_or(1))
    };
    let mut all = Vec::new();
    for record in reader.records() {
        match record {
            Ok(record) => {
                let place = place(record.position());
                all.push((record, place));
            }
            Err(fault) => {
                let message = Message::mistake("this is no line of a CSV file");
                let message = message.at(&place(fault.position()));
                report.say(message.hint("save the file anew as CSV in UTF-8"));
                return None;
            }
        }
    }
    Some(all)
}

/// What parts the columns: what the first line holds most of, a comma if none.
fn delimiter(text: &str) -> u8 {
    let first = text.lines().next().unwrap_or_default();
    let count = |d: &u8| first.bytes().filter(|b| b == d).count();
    [b'\t', b';', b','].into_iter().max_by_key(count).unwrap_or(b',')
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::test_schedule;
    use insta::assert_snapshot;

    fn pupils(text: &str) -> Result<String, String> {
        let mut report = Report::new();
        let read = read_pupils(&Source::shared("pupils.csv", text), &mut report);
        read.map(|p| p.join("|")).ok_or_else(|| report.to_text())
    }

    #[test]
    fn pupils_are_read_however_the_file_was_saved() {
        for text in [
            "pupil\nK1\nK2\n",
            "pupil\r\nK1\r\n\r\nK2",
            "\u{FEFF}Pupil;level\nK1;core\nK2;stretch\n",
            "level\tpupil\ncore\tK1\ncore\tK2\n",
            "level,pupil\n\"a, b\", K1 \n,\"K2\"\nx,\n",
        ] {
            assert_eq!(pupils(text), Ok("K1|K2".to_owned()), "{text}");
        }
        assert_eq!(pupils("pupil\n\"O\"\"Neil\"\n"), Ok("O\"Neil".to_owned()));
        assert_eq!(pupils("pupil\n"), Ok(String::new()));
    }

    #[test]
    fn a_file_of_pupils_with_mistakes_is_refused() {
        assert_snapshot!(pupils("pupils\nK1\n").expect_err("a mistake"), @r#"
        mistake: `pupils.csv` has no column `pupil`
         --> pupils.csv:1:1
          |
        1 | pupils
          | ^^^^^^ expected the names of the columns, one of them `pupil`
          |
          = hint: write `pupil` as the first line and one pupil on each line below
        "#);
        assert_snapshot!(pupils("").expect_err("a mistake"), @r#"
        mistake: `pupils.csv` has no column `pupil`
         --> pupils.csv:1:1
          |
        1 |
          | ^ expected the names of the columns, one of them `pupil`
          |
          = hint: write `pupil` as the first line and one pupil on each line below
        "#);
        assert_snapshot!(pupils("pupil\nK1\n\nK2\nK1\n").expect_err("a mistake"), @r#"
        mistake: two pupils are called `K1`
         --> pupils.csv:5:1
          |
        5 | K1
          | ^^ the first stands on line 2
          |
          = hint: add a letter or a number to one of them
        "#);
    }

    #[test]
    fn the_schedule_is_written_as_the_standard_asks() {
        let (schedule, _) = test_schedule();
        let title = |l: &Lesson| format!("Lesson {}, \"so\"", l.number);
        let text = write_schedule(&schedule, title);
        assert_snapshot!(text.replace("\r\n", "\n"), @r#"
        lesson,date,starts,ends,minutes,kind,skill,title,part,of
        1,2027-01-11,09:10,09:50,40,teach,long-two-by-two,"Lesson 1, ""so""",1,2
        7,2027-01-12,09:10,09:50,40,catch-up,,"Lesson 7, ""so""",,
        2,2027-01-13,09:10,09:50,40,unit-test,,"Lesson 2, ""so""",,
        "#);
        assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
        let mut again = ReaderBuilder::new().from_reader(text.as_bytes());
        let titles: Vec<String> =
            again.records().map(|r| r.expect("a line")[7].to_owned()).collect();
        let expected: Vec<String> = schedule.lessons.iter().map(title).collect();
        assert_eq!(titles, expected);
    }

    /// Source: RFC 4180 section 2, the examples of quoted fields.
    #[test]
    fn the_published_examples_of_quoting_are_read() {
        assert_eq!(
            pupils("pupil,b,c\r\n\"aaa\",\"b \r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            Ok("aaa|zzz".to_owned())
        );
        assert_eq!(pupils("a,pupil,c\r\n\"aaa\",\"b\"\"bb\",\"ccc\""), Ok("b\"bb".to_owned()));
    }
}
