//! Bad input gets a clear answer and nothing is lost: place, expectation, remedy, status, and a
//! folder as it was.

use super::class::{ABC, BEFORE, Class, SMALL, run};

/// A plan changed by one replacement is refused with all these words, and the folder unchanged.
fn refused(from: &str, to: &str, words: &[&str]) {
    let class = Class::small();
    assert!(SMALL.contains(from), "the plan holds no `{from}`");
    class.write("plan.toml", SMALL.replacen(from, to, 1));
    let before = class.contents();
    for command in ["check", "plan"] {
        let run = class.on(BEFORE, command, &[]).ends(1);
        for word in words {
            assert!(run.err.contains(word), "`{word}` is not in\n{}", run.err);
        }
        assert!(run.out.is_empty(), "{}", run.out);
    }
    assert_eq!(class.contents(), before);
}

#[test]
fn a_typo_in_a_key() {
    refused(
        "revision = 1",
        "revison = 1",
        &["plan.toml:23", "unknown key `unit.revison`", "`revision`"],
    );
}

#[test]
fn a_typo_in_a_skill() {
    let class = Class::with(super::class::SHORT);
    class.write("plan.toml", super::class::SHORT.replace("story-one-step", "story-one-stp"));
    class
        .on(BEFORE, "plan", &[])
        .ends(1)
        .says("story-one-stp")
        .says("did you mean `story-one-step`?");
}

#[test]
fn a_typo_in_a_weekday() {
    refused("wednesday =", "wendesday =", &["plan.toml:12", "wendesday", "`wednesday`"]);
    refused("monday =", "mondy =", &["plan.toml:10", "mondy", "`monday`"]);
}

#[test]
fn a_day_that_does_not_exist() {
    refused("starts = 2027-02-08", "starts = 2027-02-30", &["plan.toml:6", "02-30"]);
}

#[test]
fn a_term_that_ends_before_it_starts() {
    refused("ends = 2027-02-25", "ends = 2027-01-25", &["plan.toml:7", "before"]);
}

#[test]
fn timetable_entries_that_overlap() {
    refused(
        "monday = [\"09:00-09:40\"]",
        "monday = [\"09:00-09:40\", \"09:30-10:10\"]",
        &["plan.toml:10", "overlap"],
    );
}

#[test]
fn all_mistakes_of_a_file_at_once() {
    let class = Class::small();
    let plan = SMALL
        .replace("revision = 1", "revison = 1")
        .replace("wednesday", "wendesday")
        .replace("teach = [\"b\", \"c\"]", "teach = [\"b\", \"q\"]");
    class.write("plan.toml", plan);
    class.on(BEFORE, "check", &[]).ends(1).says("revison").says("wendesday").says("`q`");
}

#[test]
fn a_ladder_with_a_cycle_is_refused_with_its_path() {
    let class = Class::small();
    let cyclic = ABC.replace("id = \"a\"", "id = \"a\"\nneeds = [\"c\"]");
    class.write("abc.toml", cyclic);
    class.on(BEFORE, "plan", &[]).ends(1).says("abc.toml").says("`a`").says("`c`");
}

#[test]
fn a_ladder_that_names_an_unknown_skill_is_refused_with_the_nearest() {
    let class = Class::small();
    class.write("abc.toml", ABC.replacen("needs = [\"a\"]", "needs = [\"d\"]", 1));
    class.on(BEFORE, "plan", &[]).ends(1).says("abc.toml").says("`d`");
}

#[test]
fn a_ladder_that_is_not_there() {
    let class = Class::small();
    class.write("plan.toml", SMALL.replace("abc.toml", "abd.toml"));
    class.on(BEFORE, "plan", &[]).ends(1).says("abd.toml").says("plan.toml:21");
}

/// A calendar file with these bytes is refused with its name; the folder is unchanged.
fn calendar_refused(bytes: &[u8]) {
    let class = Class::small();
    class.write("plan.toml", format!("{SMALL}\n[[calendar]]\nfile = \"days.ics\"\n"));
    class.write("days.ics", bytes);
    let before = class.contents();
    class.on(BEFORE, "plan", &[]).ends(1).says("days.ics");
    assert_eq!(class.contents(), before);
}

#[test]
fn a_broken_truncated_binary_or_huge_calendar_file() {
    calendar_refused(b"this is no calendar\n");
    calendar_refused(b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nBEGIN:VEVENT\r\nDTSTART;VALUE=DATE:2027");
    calendar_refused(&[0, 159, 146, 150, 0, 255, 254]);
    calendar_refused(b"BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20270230\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n");
    let huge: Vec<u8> =
        b"X-PADDING:0123456789\r\n".iter().copied().cycle().take(34 << 20).collect();
    calendar_refused(&huge);
}

#[test]
fn a_calendar_file_that_is_not_there() {
    let class = Class::small();
    class.write("plan.toml", format!("{SMALL}\n[[calendar]]\nfile = \"days.ics\"\n"));
    class.on(BEFORE, "plan", &[]).ends(1).says("days.ics").says("plan.toml");
}

#[test]
fn a_schedule_file_edited_into_nonsense() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let good = class.read("schedule.toml");
    for (from, to, words) in [
        ("number = 2,", "number = 1,", "two lessons have the number 1"),
        ("date = 2027-02-09", "date = 2027-02-29", "schedule.toml"),
        ("kind = \"teach\"", "kind = \"teech\"", "teach"),
        ("[cost]", "[cots]", "cots"),
        ("lessons = [", "lessons = ", "schedule.toml"),
    ] {
        assert!(good.contains(from), "{from}");
        class.write("schedule.toml", good.replacen(from, to, 1));
        let before = class.contents();
        class.on(BEFORE, "plan", &[]).ends(1).says("schedule.toml").says(words);
        class.on(BEFORE, "reschedule", &["--close", "2027-02-23", "--accept"]).ends(1);
        assert_eq!(class.contents(), before);
    }
}

/// What still reads as a schedule but breaks a rule or names a wrong cost is told.
#[test]
fn a_schedule_file_edited_into_another_schedule() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let good = class.read("schedule.toml");
    for (from, to, words) in [
        ("skill = \"a\", part = 1", "skill = \"c\", part = 1", "no longer holds together"),
        ("skill = \"b\", part = 1", "skill = \"z\", part = 1", "holds no skill of the unit"),
        ("total = 1015", "total = 15", "it costs 1015"),
    ] {
        assert!(good.contains(from), "{from}\n{good}");
        class.write("schedule.toml", good.replacen(from, to, 1));
        class.on(BEFORE, "plan", &[]).ends(0).says(words).says("reschedule");
    }
    class.write("schedule.toml", good);
    assert!(!class.on(BEFORE, "plan", &[]).ends(0).err.contains("edited"));
}

#[test]
fn a_second_run_at_the_same_time() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let lock = std::fs::File::open(class.dir().join(".rungwise/lock")).expect("the lock");
    lock.lock().expect("it is free");
    class.on(BEFORE, "pack", &["--lesson", "1"]).ends(1).says("another run is at work");
    lock.unlock().expect("it was held");
    class.on(BEFORE, "plan", &[]).ends(0);
}

/// Root may write anywhere, so that the folder is one that no one can write to is shown otherwise:
/// a file stands where the tool's own folder should.
#[test]
fn a_folder_that_cannot_be_written_to() {
    let class = Class::small();
    class.write(".rungwise", "in the way");
    let before = class.contents();
    class.on(BEFORE, "plan", &["--afresh"]).ends(1).says("cannot write");
    class.on(BEFORE, "check", &[]).ends(0);
    assert_eq!(class.contents(), before);
}

#[test]
fn a_folder_that_is_none() {
    run(&["plan", "no-such-folder"]).ends(1).says("there is no folder");
    let class = Class::small();
    let empty = class.beside("empty");
    std::fs::create_dir(&empty).expect("it is made");
    run(&["plan", &empty.display().to_string()]).ends(1).says("holds no plan.toml");
}

#[test]
fn a_letter_the_font_lacks_is_refused_by_name_before_anything_is_printed() {
    let class = Class::small();
    class.write("plan.toml", SMALL.replace("Class A", "Class 海"));
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "pack", &["--lesson", "1"]).ends(1).says("海").says("U+6D77");
    assert!(!class.holds("packs"));
    class.on(BEFORE, "check", &[]).ends(1).says("海");
}

#[test]
fn a_plan_that_is_not_text() {
    let class = Class::small();
    class.write("plan.toml", [0xff, 0xfe, 0x00]);
    class.on(BEFORE, "check", &[]).ends(1).says("not UTF-8");
}

#[test]
fn sums_that_are_none() {
    for text in ["12x", "x", "12", "1234567x12", "12x1234567", "1.5x3", "-3x4", "axb", ""] {
        let run = run(&["sum", text]).ends(2);
        assert!(run.out.is_empty() && run.err.contains("such as"), "{text}: {}", run.err);
    }
    run(&["sum", "47x36", "--answer", "many"]).ends(2);
}

#[test]
fn own_sums_that_are_not_for_their_skill_are_named() {
    let class = Class::with(&format!(
        "{}\n[[own]]\nskill = \"long-two-by-two\"\npart = 1\npractice = [\"58 x 74\", \"3456 x 234\"]\n\
         [[own]]\nskill = \"long-two-by-two\"\npart = 2\nexit-check = [\"74 x 58\"]\n",
        super::class::SHORT
    ));
    class
        .on(BEFORE, "check", &[])
        .ends(0)
        .says("own sum 3,456 × 234 for `long-two-by-two`: the skill works with 2 × 2 digits")
        .says("own sum 74 × 58 stands more than once");
}

#[test]
fn methods_that_the_unit_does_not_teach_so_are_named() {
    let remarks = |methods: &str| {
        let style = format!("[style]\nmethod = {methods}\n");
        let class = Class::with(&format!("{}\n{style}", super::class::SHORT));
        class.on(BEFORE, "check", &[]).ends(0).err
    };
    let says = |methods: &str, words: &str| {
        let err = remarks(methods);
        assert!(err.contains(words), "{methods}: {err}");
    };
    says("[\"long\"]", "the unit teaches the method `grid`, which `style.method` does not name");
    says("[\"grid\", \"long\", \"lattice\"]", "names `lattice`, and the unit does not teach it");
    says("[\"long\", \"grid\"]", "teaches `grid-two-by-two` before `long-two-by-two`");
    let silent = remarks("[\"grid\", \"long\"]");
    assert!(!silent.contains("method"), "{silent}");
}
