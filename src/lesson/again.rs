//! Teaching again: a lesson that takes up what a check showed, and which pupils get which sheet.
//!
//! Each group has a support sheet of its own, on which its mistake would show and is mended; who had
//! all of it right gets the stretch sheet, everybody else the core sheet.

use super::bench::{Bench, Want};
use super::compose::Composing;
use super::consolidate;
use super::findings::{Findings, MOST_GROUPS, PatternFinding, SkillFinding, Tested, sorted_by};
use super::group::BEGUN;
use super::house::in_house_words;
use super::memory::CATCH_UP;
use super::mending::{self, ForSheet, Mend};
use super::practice::Source;
use super::{Fault, Level, Meaning, SheetFor, meaning, sheet_letter};
use crate::exercise::Profile;
use crate::exercise::makers::{self, Spot};
use crate::exercise::patterns::{Pattern, Task, both_show, pattern, stand_together};
use crate::method::{HouseStyle, Written};
use crate::plan::LessonKind;
use crate::words::{count, join};
use std::collections::{BTreeMap, BTreeSet};

/// Pupils who get a sheet of their own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Helped {
    /// The skill they need again.
    pub skill: String,
    /// What they share; the pupils are those of no larger group.
    pub finding: PatternFinding,
}

/// The skills that a lesson takes up because marks say so, the first the one most pupils need;
/// none where it is held for something else.
pub fn skills(composing: &Composing) -> Vec<String> {
    match composing.lesson.kind {
        LessonKind::CatchUp if !composing.follows_test => consolidate::marked_skills(composing),
        LessonKind::Teach => {
            let findings = composing.occasion.findings;
            let own = composing.lesson.skill.iter().filter(|skill| {
                findings.again.contains(&composing.lesson.number)
                    && findings.skills.get(*skill).is_some_and(SkillFinding::can_be_taught_again)
            });
            let mut skills: Vec<String> = own.cloned().collect();
            // Where the catch-up that was given up was the last, its other work is done here.
            if !skills.is_empty() && !catch_up_follows(composing) {
                let others = consolidate::marked_skills(composing).into_iter();
                skills
                    .extend(others.filter(|skill| composing.lesson.skill.as_ref() != Some(skill)));
                skills.truncate(CATCH_UP);
            }
            skills
        }
        _ => Vec::new(),
    }
}

/// Whether a catch-up comes after this lesson and before the test.
fn catch_up_follows(composing: &Composing) -> bool {
    let after = &composing.occasion.lessons[composing.place + 1..];
    let before_test = after.iter().take_while(|l| l.kind != LessonKind::UnitTest);
    before_test.into_iter().any(|l| l.kind == LessonKind::CatchUp)
}

/// As many groups as a teacher can take, largest first; nobody is in two. Who stands in a group of a
/// newer check of these skills is in none of an older one, and no two have one number.
pub fn groups(findings: &Findings, skills: &[String]) -> Vec<Helped> {
    let mut waiting: Vec<Helped> = skills
        .iter()
        .filter_map(|skill| Some((skill, findings.skills.get(skill)?)))
        .flat_map(|(skill, found)| {
            let helped = |p: &PatternFinding| Helped { skill: skill.clone(), finding: p.clone() };
            found.patterns.iter().map(helped)
        })
        .collect();
    newest_only(findings, &mut waiting);
    let mut groups: Vec<Helped> = Vec::new();
    while groups.len() < MOST_GROUPS {
        waiting.retain(|helped| helped.finding.size() > 0);
        // `max_by_key` takes the last of equals: what was found first comes first.
        let at = (0..waiting.len()).rev().max_by_key(|&at| waiting[at].finding.size());
        let Some(at) = at else { break };
        let next = waiting.remove(at);
        for other in waiting.iter_mut().filter(|o| !o.finding.pupils.is_empty()) {
            other.finding.pupils.retain(|pupil| !next.finding.pupils.contains(pupil));
        }
        groups.push(next);
    }
    number_through(&mut groups);
    groups
}

/// Takes pupils out of the groups of older checks who stand in one of a newer check.
fn newest_only(findings: &Findings, waiting: &mut [Helped]) {
    let checked = |helped: &Helped| findings.skills.get(&helped.skill).and_then(|f| f.checked_in);
    let mut newest: BTreeMap<String, Option<u32>> = BTreeMap::new();
    for helped in waiting.iter() {
        for pupil in &helped.finding.pupils {
            let known = newest.entry(pupil.clone()).or_default();
            *known = (*known).max(checked(helped));
        }
    }
    for helped in waiting {
        let own = checked(helped);
        helped.finding.pupils.retain(|pupil| newest.get(pupil).is_some_and(|last| *last == own));
    }
}

/// Where groups of two checks have one number, all are numbered in their order.
fn number_through(groups: &mut [Helped]) {
    let numbered = groups.iter().map(|helped| helped.finding.group).filter(|&number| number > 0);
    let numbers: Vec<u32> = numbered.collect();
    let different: BTreeSet<&u32> = numbers.iter().collect();
    if different.len() == numbers.len() {
        return;
    }
    for (number, helped) in (1..).zip(groups) {
        helped.finding.group = number;
    }
}

/// Who is helped in a lesson, and who else is known.
struct Known {
    groups: Vec<Helped>,
    /// Who had it right and is in no group, and how many they are.
    right: Vec<String>,
    right_count: usize,
    /// Who had something wrong and is in no group.
    wrong: Vec<String>,
    /// Whether slips of some were counted in piles, of whom nobody is known.
    by_slips: bool,
    /// What the stretch sheet is for.
    because: &'static str,
}

impl Known {
    /// Of what the lesson takes up: of the unit test, if it goes through that.
    fn of(composing: &Composing) -> Known {
        let found = composing.occasion.findings;
        if composing.follows_test {
            return Known::of_test(&found.tested);
        }
        let skills = skills(composing);
        let of = |skill: &String| found.skills.get(skill);
        let groups = groups(found, &skills);
        let right = all_right(found, &skills);
        let slips = skills.iter().filter_map(of).map(|f| f.right_slips).min().unwrap_or(0);
        let right_count = right.len().saturating_add(usize::try_from(slips).unwrap_or(usize::MAX));
        let grouped = in_groups(&groups);
        let wrong = skills.iter().filter_map(of).flat_map(|f| &f.wrong);
        let free = |pupil: &&String| !grouped.contains(*pupil) && !right.contains(*pupil);
        let wrong = wrong.filter(free).cloned().collect();
        let right = right.into_iter().collect();
        let of_slips =
            |f: &SkillFinding| f.right_slips > 0 || f.patterns.iter().any(|p| p.slips > 0);
        let by_slips = skills.iter().filter_map(of).any(of_slips);
        Known { groups, right, right_count, wrong, by_slips, because: "all of it was right" }
    }

    fn of_test(tested: &Tested) -> Known {
        let helped = |(skill, finding): &(String, PatternFinding)| Helped {
            skill: skill.clone(),
            finding: finding.clone(),
        };
        let groups: Vec<Helped> = tested.groups.iter().map(helped).collect();
        let grouped = in_groups(&groups);
        let free = |all: &[String]| -> Vec<String> {
            all.iter().filter(|pupil| !grouped.contains(*pupil)).cloned().collect()
        };
        let (right, wrong) = (free(&tested.passed), free(&tested.others));
        let because = "four fifths of the test and more were right";
        let by_slips = groups.iter().any(|group| group.finding.slips > 0);
        Known { right_count: right.len(), right, wrong, by_slips, because, groups }
    }
}

fn in_groups(groups: &[Helped]) -> BTreeSet<String> {
    groups.iter().flat_map(|g| &g.finding.pupils).cloned().collect()
}

/// How many copies of the support sheets, one for each group, of the core and of the stretch sheet;
/// `None` where no pupil's mistake is known.
pub fn copies(composing: &Composing, pupils: u32) -> Option<(Vec<u32>, [u32; 2])> {
    let Known { groups, right_count, .. } = Known::of(composing);
    let mut left = pupils;
    let mut support = Vec::new();
    for group in &groups {
        let size = u32::try_from(group.finding.size()).unwrap_or(left).min(left);
        left -= size;
        support.push(size);
    }
    let stretch = u32::try_from(right_count).unwrap_or(left).min(left);
    (!groups.is_empty()).then(|| (support, [left - stretch, stretch]))
}

/// Who had all of it right in every one of these skills.
fn all_right(found: &Findings, skills: &[String]) -> BTreeSet<String> {
    let right = skills
        .iter()
        .filter_map(|skill| found.skills.get(skill))
        .map(|f| f.all_right.iter().cloned().collect::<BTreeSet<String>>());
    right.reduce(|one, other| &one & &other).unwrap_or_default()
}

/// Which sheet is for whom, and how each group is taught; none where no pupil's mistake is known.
pub fn sheets_for(composing: &Composing) -> Vec<SheetFor> {
    let Some((support, [core, stretch])) = copies(composing, composing.occasion.plan.class.pupils)
    else {
        return Vec::new();
    };
    let known = Known::of(composing);
    let style = &composing.occasion.plan.style;
    let mut sheets: Vec<SheetFor> = (known.groups.iter().zip(support).enumerate())
        .map(|(nth, (helped, copies))| for_group(helped, nth, copies, style))
        .collect();
    let others = others(composing, &known);
    let more = |level: Level, shows: &str, pupils: Vec<String>, copies: u32| SheetFor {
        sheet: sheet_letter(level, 0).to_string(),
        skill: String::new(),
        pattern: None,
        shows: shows.to_owned(),
        teach: String::new(),
        pupils,
        sort_by: String::new(),
        copies,
    };
    if core > 0 {
        let what = match known.by_slips {
            true => "none of these mistakes, no answers, or a slip with another answer",
            false => "none of these mistakes, or no answers",
        };
        sheets.push(more(Level::Core, what, others, core));
    }
    if stretch > 0 {
        sheets.push(more(Level::Stretch, known.because, Vec::new(), stretch));
    }
    sheets
}

/// The sheet of a group, and how to teach it.
fn for_group(helped: &Helped, nth: usize, copies: u32, style: &HouseStyle) -> SheetFor {
    let Helped { finding, skill } = helped;
    let shows = |name: &String| meaning(name).map_or(name.replace('-', " "), |m| m.shows);
    let (mut what, mut teach) = match (finding.one_of.as_slice(), meaning(&finding.name)) {
        ([], Some(m)) if finding.also.is_some() => two_mistakes(finding, m),
        ([], Some(m)) => (m.shows, format!("{} Model: {}.", m.teach, m.model)),
        ([], None) => (shows(&finding.name), String::new()),
        (many, _) => {
            let all: Vec<String> = many.iter().map(shows).collect();
            let ask = "The sheet tells these apart: ask to see the working.";
            (format!("one of: {}", all.join("; or ")), ask.to_owned())
        }
    };
    if finding.perhaps {
        what = format!("perhaps {what}");
        let first = "The first sum decides: let it be done first, and ask to see the working.";
        teach = format!("{first} {teach}").trim_end().to_owned();
    }
    SheetFor {
        sheet: sheet_letter(Level::Support, nth).to_string(),
        skill: skill.clone(),
        pattern: Some(finding.name.clone()),
        shows: in_house_words(&what, style),
        teach: in_house_words(&teach, style),
        pupils: finding.pupils.clone(),
        sort_by: sorted_by(&finding.sort_by, style),
        copies,
    }
}

/// What a group shows that makes two mistakes at once, and how each is taught.
fn two_mistakes(finding: &PatternFinding, one: Meaning) -> (String, String) {
    let taught = |m: &Meaning| format!("{} Model: {}.", m.teach, m.model);
    let one = one.beside_another();
    match finding.also.as_deref().and_then(meaning).map(Meaning::beside_another) {
        Some(also) => (
            format!("{}, and beside it {}", one.shows, also.shows),
            format!("{} Beside it, {}: {}", taught(&one), also.shows, taught(&also)),
        ),
        None => (one.shows.clone(), taught(&one)),
    }
}

/// Who is in no group and had something wrong or gave no answers, as far as anybody is known.
fn others(composing: &Composing, known: &Known) -> Vec<String> {
    // Who was not there has the plan's label, as the others have where the marks are by pupils.
    let names = &composing.occasion.plan.class.pupil_names;
    let grouped = in_groups(&known.groups);
    let named =
        !known.by_slips && known.right.iter().chain(&grouped).any(|pupil| names.contains(pupil));
    let mut others: Vec<String> = Vec::new();
    for pupil in known.wrong.iter().chain(names.iter().filter(|_| named)) {
        let taken = grouped.contains(pupil) || known.right.contains(pupil);
        if !taken && !others.contains(pupil) {
            others.push(pupil.clone());
        }
    }
    others.sort_by_key(|pupil| names.iter().position(|name| name == pupil).unwrap_or(usize::MAX));
    others
}

impl SheetFor {
    /// "Sheet Q, 14 copies: the later rows lack their zeros: pupils 1 to 14. Write beside each row what
    /// it is times. Model: an area grid."
    pub fn sentence(&self) -> String {
        let copies = count(usize::try_from(self.copies).unwrap_or(0), "copy");
        let slips = match self.sort_by.as_str() {
            "" => None,
            answers => Some(format!("the slips with {answers}")),
        };
        let pupils = match self.pupils.as_slice() {
            [] if slips.is_none() && self.pattern.is_some() => {
                Some("sort the slips by answer".to_owned())
            }
            [] => None,
            [one] => Some(format!("pupil {one}")),
            some => Some(format!("pupils {}", in_ranges(some))),
        };
        let whom: Vec<String> = pupils.into_iter().chain(slips).collect();
        let whom = match whom.as_slice() {
            [] => String::new(),
            some => format!(": {}", some.join("; ")),
        };
        let (sheet, shows, teach) = (&self.sheet, &self.shows, &self.teach);
        format!("Sheet {sheet}, {copies}: {shows}{whom}. {teach}").trim_end().to_owned()
    }
}

/// "1 to 14, 17 and 20": numbers that follow each other as a range.
fn in_ranges(labels: &[String]) -> String {
    let number = |label: &String| label.parse::<u32>().ok();
    let mut parts: Vec<(String, String, u32)> = Vec::new();
    for label in labels {
        match (parts.last_mut(), number(label)) {
            (Some((_, end, length)), Some(n))
                if number(end).and_then(|e| e.checked_add(1)) == Some(n) =>
            {
                (*end, *length) = (label.clone(), *length + 1);
            }
            _ => parts.push((label.clone(), label.clone(), 1)),
        }
    }
    let told = parts.into_iter().flat_map(|(first, last, length)| match length {
        1 => vec![first],
        2 => vec![first, last],
        _ => vec![format!("{first} to {last}")],
    });
    join(&told.collect::<Vec<_>>(), "and")
}

/// Pairs for a lesson's sheets: more than two sheets and the trying together can hold.
const PAIRS: usize = 40;
/// At most so many of a skill's commonest patterns are mended at once.
const MENDED: usize = 2;

/// Pairs for written sums of a weak skill, as large as the lesson's own, on which its commonest
/// patterns would show; none where the skill is not written or marking found no pattern.
pub fn pairs_to_mend(
    composing: &Composing,
    bench: &mut Bench,
    source: &Source,
) -> Result<Vec<(u64, u64)>, Fault> {
    let finding = composing.occasion.findings.skills.get(&source.skill);
    let found = finding.into_iter().flat_map(|f| &f.patterns).take(MENDED);
    let patterns: Vec<&Pattern> = found.filter_map(|p| pattern(&p.name)).collect();
    pairs_for(bench, source, &patterns, &[], "")
}

/// The same for these patterns; those of `apart` are to be told apart by their answers.
fn pairs_for(
    bench: &mut Bench,
    source: &Source,
    patterns: &[&Pattern],
    apart: &[&Pattern],
    group: &str,
) -> Result<Vec<(u64, u64)>, Fault> {
    let like = bench.look(&Want {
        skill: source.skill.clone(),
        part: source.part,
        spot: Spot::Core,
        occasion: source.occasion.clone(),
        profile: Profile::Typical,
        seconds: 600,
        least: 3,
        most: 6,
    })?;
    let Some(size) = mending::size(&like).filter(|_| !patterns.is_empty()) else {
        return Ok(Vec::new());
    };
    let name = format!("mending {} {}{group}", source.skill, source.occasion);
    let mut stream = bench.seed().child(&name).stream();
    let fits = |a, b| {
        let before = |spot| bench.worked_before(a, b, spot);
        !before(Spot::Support)
            && !before(Spot::Core)
            && bench.is_new_product(a, b)
            && are_told(apart, a, b)
    };
    let (one, also) = match patterns {
        // Most of a group have both: first come sums on which both show in one answer.
        [one, also] if !group.is_empty() && stand_together(one, also) => (one, also),
        _ => return Ok(mending::pairs(&mut stream, size, patterns, PAIRS, fits)),
    };
    let method = makers::method_of(&maker_of(bench, &source.skill)).unwrap_or(Written::Long);
    let both = |a, b| !both_show(Task::Written(a, b), method, one, also).is_empty();
    let mut found =
        mending::pairs(&mut stream, size, patterns, PAIRS, |a, b| fits(a, b) && both(a, b));
    let more = mending::pairs(&mut stream, size, patterns, PAIRS, |a, b| fits(a, b) && !both(a, b));
    found.extend(more);
    found.truncate(PAIRS);
    Ok(found)
}

fn maker_of(bench: &Bench, skill: &str) -> String {
    bench.plan().ladder.skills.get(skill).map_or(skill, |s| s.maker.as_str()).to_owned()
}

/// Whether each of these patterns answers otherwise than the others and than the right way.
fn are_told(apart: &[&Pattern], a: u64, b: u64) -> bool {
    let task = Task::Written(a, b);
    let usual = |p: &&Pattern| task.answers(p).iter().find(|(_, turned)| !turned).map(|&(n, _)| n);
    let answers: BTreeSet<u64> = apart.iter().filter_map(usual).collect();
    answers.len() == apart.len()
}

/// The support sheet of each group: its own skill first, and sums on which its mistake would show.
pub fn sheets(
    composing: &Composing,
    bench: &mut Bench,
    sources: &[Source],
) -> Result<Vec<ForSheet>, Fault> {
    let mut sheets = Vec::new();
    for Helped { skill, finding } in Known::of(composing).groups {
        let (mut own, others): (Vec<Source>, Vec<Source>) =
            sources.iter().cloned().partition(|source| source.skill == skill);
        if own.is_empty() {
            let part = composing.parts_before(&skill);
            let occasion = sources.first().map_or_else(String::new, |s| s.occasion.clone());
            own.push(Source { skill: skill.clone(), part, occasion, fresh: false });
        }
        let apart: Vec<&Pattern> = finding.one_of.iter().filter_map(|n| pattern(n)).collect();
        let names: Vec<&str> = finding.two().map_or(vec![&finding.name], Vec::from);
        let patterns: Vec<&Pattern> = names.iter().filter_map(|name| pattern(name)).collect();
        let group = format!(" {}", finding.name);
        let pairs = vec![pairs_for(bench, &own[0], &patterns, &apart, &group)?];
        // Whether it is the mistake, a sum shows that is not begun; of two mistakes a begun sum
        // would have the one done already, and the zeros of its rows are printed.
        let mut all = names.iter().copied().chain(finding.one_of.iter().map(String::as_str));
        let whole = finding.perhaps || finding.also.is_some() || all.any(mending::in_printed_zeros);
        let begun = vec![if whole { 0 } else { BEGUN }];
        let patterns = names.into_iter().map(str::to_owned).collect();
        let weights = Vec::new();
        let mend = Mend { patterns, pairs, alone: true, begun, weights };
        sheets.push(ForSheet { sources: own.into_iter().chain(others).collect(), mend });
    }
    Ok(sheets)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn labels(numbers: impl IntoIterator<Item = u32>) -> Vec<String> {
        numbers.into_iter().map(|n| n.to_string()).collect()
    }

    fn found(name: &str, pupils: Vec<String>) -> PatternFinding {
        PatternFinding { name: name.to_owned(), pupils, ..PatternFinding::default() }
    }

    #[test]
    fn nobody_is_in_two_groups_and_there_are_at_most_three() {
        let patterns = vec![
            found("one", labels(1..=5)),
            found("two", labels(4..=8)),
            found("three", labels([9])),
            found("four", labels(10..=13)),
        ];
        let finding = SkillFinding { answered: 30, right: 9, patterns, ..SkillFinding::default() };
        let skills = ["a skill".to_owned()];
        let findings =
            Findings { skills: [(skills[0].clone(), finding)].into(), ..Findings::default() };
        let told: Vec<(String, Vec<String>)> = (groups(&findings, &skills).into_iter())
            .map(|helped| (helped.finding.name, helped.finding.pupils))
            .collect();
        assert_eq!(
            told,
            [
                ("one".to_owned(), labels(1..=5)),
                ("four".to_owned(), labels(10..=13)),
                ("two".to_owned(), labels(6..=8)),
            ]
        );
    }

    #[test]
    fn numbers_that_follow_each_other_are_a_range() {
        assert_eq!(in_ranges(&labels([1, 2, 3, 4, 7, 9, 10])), "1 to 4, 7, 9 and 10");
        assert_eq!(in_ranges(&["Ada".to_owned(), "Ben".to_owned()]), "Ada and Ben");
        assert_eq!(in_ranges(&labels([u32::MAX])), u32::MAX.to_string());
    }

    /// A pupil of an older check's group who stands in one of a newer check is in that alone, however
    /// few they are; two groups called the first are numbered through.
    #[test]
    fn a_pupil_stands_in_the_group_of_the_newest_check() {
        let found = |lesson: u32, pupils: &[u32]| SkillFinding {
            answered: 30,
            right: 10,
            checked_in: Some(lesson),
            patterns: vec![PatternFinding {
                name: "carry-not-added".to_owned(),
                pupils: pupils.iter().map(u32::to_string).collect(),
                group: 1,
                ..PatternFinding::default()
            }],
            ..SkillFinding::default()
        };
        let skills = ["long-two-by-two", "long-four-by-two"].map(str::to_owned);
        let all = skills.iter().cloned().zip([found(24, &[12, 15, 19]), found(44, &[15, 19])]);
        let findings = Findings { skills: all.collect(), ..Findings::default() };
        let told: Vec<(u32, Vec<String>)> = (groups(&findings, &skills).into_iter())
            .map(|helped| (helped.finding.group, helped.finding.pupils))
            .collect();
        let labels = |all: &[u32]| all.iter().map(u32::to_string).collect::<Vec<_>>();
        assert_eq!(told, [(1, labels(&[15, 19])), (2, labels(&[12]))]);
    }
}
