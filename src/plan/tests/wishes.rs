//! What is said of wishes for the unit, of costs and of styles that are wrong or odd.

use super::{LADDER, LEAST, beside, plan_with, read, said, said_with};
use crate::curriculum::Lessons;
use insta::assert_snapshot;

#[test]
fn lessons_of_a_skill_are_pulled_to_fit_what_is_given() {
    // The ladder says 2, 3, 4.
    let lessons = |given: &str| {
        let plan = plan_with(&format!("[unit.lessons]\nlong-two-by-two = {{ {given} }}"));
        let Lessons { least, preferred, most } = plan.unit.lessons["long-two-by-two"];
        [least, preferred, most]
    };
    assert_eq!(lessons(""), [2, 3, 4]);
    assert_eq!(lessons("preferred = 5"), [2, 5, 5]);
    assert_eq!(lessons("preferred = 1"), [1, 1, 4]);
    assert_eq!(lessons("least = 5"), [5, 5, 5]);
    assert_eq!(lessons("most = 1"), [1, 1, 1]);
    assert_eq!(lessons("least = 3, most = 9"), [3, 3, 9]);
    assert_eq!(lessons("most = 2"), [2, 2, 2]);
    assert_snapshot!(said_with("[unit.lessons]\nlong-two-by-two = { least = 4, most = 3 }\nrouding = { preferred = 0 }\nrounding = 3"), @r#"
    mistake: `unit.lessons.rouding.preferred` is out of range: expected a whole number from 1 to 9
      --> plan.toml:18:25
       |
    18 | rouding = { preferred = 0 }
       |                         ^ a whole number from 1 to 9
    mistake: `unit.lessons.rounding`: expected a table, `[unit.lessons.rounding]`, found a whole number
      --> plan.toml:19:12
       |
    19 | rounding = 3
       |            ^ expected a table, `[unit.lessons.rounding]`
    mistake: the ladder `small` has no skill `rouding`
      --> plan.toml:18:1
       |
    18 | rouding = { preferred = 0 }
       | ^^^^^^^ expected the id of a skill
       |
       = hint: did you mean `rounding`?
    mistake: lessons of `long-two-by-two` out of order: least 4, preferred 4, most 3
      --> plan.toml:17:19
       |
    17 | long-two-by-two = { least = 4, most = 3 }
       |                   ^^^^^^^^^^^^^^^^^^^^^^^ expected least <= preferred <= most
       |
       = hint: numbers that are not given are pulled to fit those that are
    "#);
}

#[test]
fn fixed_lessons_are_checked_but_not_against_the_calendar() {
    let fixed = |entry: &str| said("[unit]", &format!("[unit]\nfixed = [{entry}]"));
    assert_eq!(fixed("{ date = 2030-01-01, kind = \"unit-test\" }"), "");
    assert_eq!(fixed("{ date = 2027-01-11, starts = \"09:10\", kind = \"teach\" }"), "");
    assert_snapshot!(fixed("{ date = 2027-01-11, kind = \"revision\", skill = \"rounding\" }"), @r#"
    mistake: a fixed lesson names a skill but does not teach
      --> plan.toml:13:58
       |
    13 | fixed = [{ date = 2027-01-11, kind = "revision", skill = "rounding" }]
       |                                                          ^^^^^^^^^^ expected with kind = "teach" only
       |
       = hint: take `skill` away, or write `kind = "teach"`
    "#);
    assert_snapshot!(fixed("{ day = 2027-01-11, kind = \"catchup\", skill = \"roundin\" }"), @r#"
    mistake: `unit.fixed.date` is missing
      --> plan.toml:13:10
       |
    13 | fixed = [{ day = 2027-01-11, kind = "catchup", skill = "roundin" }]
       |          ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
       |
       = hint: add `date = 2027-02-26`
    mistake: `unit.fixed.kind`: unknown value `catchup`
      --> plan.toml:13:37
       |
    13 | fixed = [{ day = 2027-01-11, kind = "catchup", skill = "roundin" }]
       |                                     ^^^^^^^^^ expected `teach`, `catch-up`, `revision` or `unit-test`
       |
       = hint: did you mean `catch-up`?
    mistake: unknown key `unit.fixed.day`
      --> plan.toml:13:12
       |
    13 | fixed = [{ day = 2027-01-11, kind = "catchup", skill = "roundin" }]
       |            ^^^
       |
       = hint: keys known here: `date`, `starts`, `kind` and `skill`
    "#);
}

#[test]
fn costs_lie_between_nothing_and_a_million() {
    let lines = "[costs]\nshort = -1\nextra = 1000001\nmoved = 99999999999999999999\nbunched = 1.5\nlong-run = 1_000_000\nlongrun = 3";
    assert_snapshot!(said_with(lines), @r#"
    mistake: `costs.short` is out of range: expected a whole number from 0 to 1000000
      --> plan.toml:17:9
       |
    17 | short = -1
       |         ^^ a whole number from 0 to 1000000
    mistake: `costs.extra` is out of range: expected a whole number from 0 to 1000000
      --> plan.toml:18:9
       |
    18 | extra = 1000001
       |         ^^^^^^^ a whole number from 0 to 1000000
    mistake: `costs.bunched`: expected a whole number from 0 to 1000000, found a decimal number
      --> plan.toml:20:11
       |
    20 | bunched = 1.5
       |           ^^^ expected a whole number from 0 to 1000000
    mistake: `costs.moved` is out of range: expected a whole number from 0 to 1000000
      --> plan.toml:19:9
       |
    19 | moved = 99999999999999999999
       |         ^^^^^^^^^^^^^^^^^^^^ a whole number from 0 to 1000000
    mistake: unknown key `costs.longrun`
      --> plan.toml:22:1
       |
    22 | longrun = 3
       | ^^^^^^^
       |
       = hint: did you mean `long-run`?
    "#);
}

#[test]
fn style_words_and_frameworks_are_those_known() {
    let lines = "[style]\ngrouping = \"indain\"\nmethod = [\"long\", \"long\", \"gird\"]\nframework = [\"ccsm\"]\ncarry = 1";
    assert_snapshot!(said_with(lines), @r#"
    mistake: `style.grouping`: unknown value `indain`
      --> plan.toml:17:12
       |
    17 | grouping = "indain"
       |            ^^^^^^^^ expected `thousands`, `indian` or `spaced`
       |
       = hint: did you mean `indian`?
    mistake: `style.method`: unknown value `gird`
      --> plan.toml:18:27
       |
    18 | method = ["long", "long", "gird"]
       |                           ^^^^^^ expected `long`, `grid` or `lattice`
       |
       = hint: did you mean `grid`?
    mistake: `style.method` names a method twice
      --> plan.toml:18:19
       |
    18 | method = ["long", "long", "gird"]
       |                   ^^^^^^
       |
       = hint: take one of the two away
    mistake: `style.carry`: expected text in quotes, found a whole number
      --> plan.toml:20:9
       |
    20 | carry = 1
       |         ^ expected text in quotes
    mistake: `style.framework`: no framework is named `ccsm`
      --> plan.toml:19:14
       |
    19 | framework = ["ccsm"]
       |              ^^^^^^ expected `ccssm` or `england-2013`
       |
       = hint: did you mean `ccssm`?
    "#);
    assert_eq!(
        plan_with("[style]\nframework = \"england-2013\"").frameworks[0].name,
        "england-2013"
    );
    assert!(plan_with("[style]\nframework = []").frameworks.is_empty());
}

#[test]
fn own_sums_and_resources_are_checked() {
    let lines = r#"
[[own]]
skill = "rounding"
part = 4
example = ["3406 x 207", "3406 + 207", "1234567 x 2"]

[[own]]
skill = "roudning"

[[resource]]
skill = "rounding"
"#;
    assert_snapshot!(said_with(lines), @r#"
    mistake: `own.example`: `3406 + 207` is no product
      --> plan.toml:20:26
       |
    20 | example = ["3406 x 207", "3406 + 207", "1234567 x 2"]
       |                          ^^^^^^^^^^^^ expected two whole numbers of at most six digits
       |
       = hint: write it as "3406 x 207"
    mistake: `own.example`: `1234567 x 2` is no product
      --> plan.toml:20:40
       |
    20 | example = ["3406 x 207", "3406 + 207", "1234567 x 2"]
       |                                        ^^^^^^^^^^^^^ expected two whole numbers of at most six digits
       |
       = hint: write it as "3406 x 207"
    mistake: `own` holds no sums
      --> plan.toml:22:1
       |
    22 | [[own]]
       | ^^^^^^^
       |
       = hint: add `example = ["3406 x 207"]`, `practice` or `exit-check`
    mistake: `resource.text` is missing
      --> plan.toml:25:1
       |
    25 | [[resource]]
       | ^^^^^^^^^^^^
       |
       = hint: add `text = "Number book, page 48"`
    mistake: the ladder `small` has no skill `roudning`
      --> plan.toml:23:9
       |
    23 | skill = "roudning"
       |         ^^^^^^^^^^ expected the id of a skill
       |
       = hint: did you mean `rounding`?
    warning: `rounding` has at most 3 lessons: no part 4
      --> plan.toml:19:8
       |
    19 | part = 4
       |        ^
       |
       = hint: these sums are never printed; change `part`, or take it away
    "#);
}

#[test]
fn an_unknown_ladder_is_refused_with_the_nearest() {
    assert_snapshot!(said("\"small.toml\"", "\"multiplicaton\""), @r#"
    mistake: no ladder of ours is named `multiplicaton`
      --> plan.toml:13:10
       |
    13 | ladder = "multiplicaton"
       |          ^^^^^^^^^^^^^^^ expected `multiplication`, or a file name ending in `.toml`
       |
       = hint: did you mean `multiplication`?
    "#);
    assert_snapshot!(said("\"small.toml\"", "\"fractions\""), @r#"
    mistake: no ladder of ours is named `fractions`
      --> plan.toml:13:10
       |
    13 | ladder = "fractions"
       |          ^^^^^^^^^^^ expected `multiplication`, or a file name ending in `.toml`
       |
       = hint: for a ladder file beside the plan write `fractions.toml`
    "#);
    assert_snapshot!(said("\"small.toml\"", "\"/etc/ladder.toml\""), @r#"
    mistake: `/etc/ladder.toml` does not lie beside the plan
      --> plan.toml:13:10
       |
    13 | ladder = "/etc/ladder.toml"
       |          ^^^^^^^^^^^^^^^^^^ expected the name of a file in the class's folder
       |
       = hint: copy the file into the class's folder and write its name only
    "#);
}

#[test]
fn what_is_known_and_wished_is_pointed_out() {
    assert_snapshot!(said("[unit]", "[unit]\nsecure = [\"long-two-by-two\"]"), @r#"
    warning: `long-two-by-two` is in `teach` and in `secure`
      --> plan.toml:15:10
       |
    15 | teach = ["long-two-by-two"]
       |          ^^^^^^^^^^^^^^^^^
       |
       = hint: it is not taught; take `long-two-by-two` out of `secure` to teach it
    "#);
    let text = LEAST.replace("[\"long-two-by-two\"]", "[\"times-ten\", \"long-two-by-two\"]");
    let text = text.replace("[unit]", "[unit]\nsecure = [\"rounding\"]");
    assert_snapshot!(read(&text, &beside(LADDER)).1, @r#"
    warning: `times-ten` is known with `rounding`, which needs it
      --> plan.toml:15:10
       |
    15 | teach = ["times-ten", "long-two-by-two"]
       |          ^^^^^^^^^^^
       |
       = hint: it is not taught; take `rounding` out of `secure` to teach it
    "#);
}

#[test]
fn a_slow_pace_says_which_skills_want_more_lessons() {
    let pace = |pace: &str| said("[term]", &format!("pace = {pace}\n[term]"));
    assert_eq!(pace("1.1"), "");
    assert_eq!(pace("0.5"), "");
    assert_snapshot!(pace("1.25"), @r#"
    warning: this pace calls for more lessons of 2 skills than the ladder gives
     --> plan.toml:5:8
      |
    5 | pace = 1.25
      |        ^^^^
      |
      = hint: add to `[unit.lessons]`: rounding = { preferred = 3 }, long-two-by-two = { preferred = 4 }
    "#);
    let settled = LEAST.replace("[term]", "pace = 1.2\n[term]")
        + "[unit.lessons]\nlong-two-by-two = { preferred = 4 }\n";
    assert_eq!(read(&settled, &beside(LADDER)).1, "");
}
