//! Catch-ups and revisions: lessons that teach nothing new.

use super::after_marks::in_need;
use super::again;
use super::bench::{Bench, LESSON, Made, Want, seconds};
use super::compose::{Composing, Draft};
use super::findings::SkillFinding;
use super::forms::Forms;
use super::group::BEGUN;
use super::half::on_a_slip;
use super::memory::{CATCH_UP, Nature, REVISION, secure_skills};
use super::mending::{self, Mend, in_key};
use super::minutes::{COLLECT, Minutes, exit_seconds};
use super::mixing::interleave;
use super::practice::{self, Share, Source};
use super::teach::{
    EXAMPLE_SECONDS, FACTS, check_of, check_on, draft, homework, homework_of, older, on_slips,
    warm_up,
};
use super::{Fault, SectionName};
use crate::exercise::Profile;
use crate::exercise::makers::Spot;

/// How many more skills a catch-up may draw on where its own have too few items.
const OTHERS: usize = 5;
/// How many items an exit check over several skills has at most: so many quick ones fill a slip.
const EXIT_ITEMS: usize = 8;
/// The skills that an exit check over several takes.
const EXIT_SKILLS: usize = 6;
/// From so many skills on a check asks mixed forms of question; fewer are what it is about.
const SEVERAL: usize = 4;
/// The fewest minutes of an exit check, handing out and collecting included.
const EXIT_LEAST: u16 = 3;

/// A catch-up: where answers were marked, the skills that need work and their commonest error
/// patterns; else those longest without practice.
pub fn catch_up(composing: &Composing, bench: &mut Bench) -> Result<Vec<Draft>, Fault> {
    let weak = weak_skills(composing);
    if !weak.is_empty() {
        let sources = sources(composing, &weak, CATCH_UP + OTHERS, 'C');
        let first = &sources[..sources.len().min(CATCH_UP)];
        return taught_again(composing, bench, first, &sources, None);
    }
    let skills = least_secure(composing, bench);
    let sources = sources(composing, &skills, CATCH_UP + OTHERS, 'C');
    let first: Vec<Source> = sources.iter().take(CATCH_UP).cloned().collect();
    let minutes = Minutes::of(composing.lesson.minutes);
    let guided = minutes.together;
    let mut drafts = vec![warm_up(composing, bench, minutes.warm_up)?];
    let tries = usize::from(guided / 3).clamp(2, 6);
    let made = one_each(bench, &sources, Spot::Guided, u32::from(guided) * 60, tries, &[])?;
    drafts.push(draft(SectionName::Guided, guided, made));
    let (minutes, check) = exit_check(composing, bench, &first, minutes)?;
    drafts.extend(practice::mixed(bench, minutes.practice, &sources, first.len(), None, &[])?);
    drafts.push(draft(SectionName::ExitCheck, minutes.exit_check, check));
    Ok(drafts)
}

/// A lesson added to teach its skill once more, for what marks showed of it.
pub fn teach_again(composing: &Composing, bench: &mut Bench) -> Result<Vec<Draft>, Fault> {
    let Some(skill) = composing.lesson.skill.clone() else { return Ok(Vec::new()) };
    let part = composing.lesson.part.unwrap_or(1);
    let own = Source { skill: skill.clone(), part, occasion: LESSON.to_owned(), fresh: false };
    let mut first = vec![own];
    for other in again::skills(composing).into_iter().filter(|other| *other != skill) {
        let part = composing.parts_before(&other);
        let occasion = format!("C{}", composing.lesson.number);
        first.push(Source { skill: other, part, occasion, fresh: false });
    }
    let taken = |source: &Source| first.iter().any(|own| own.skill == source.skill);
    let older: Vec<Source> = older(composing).filter(|source| !taken(source)).collect();
    let sources: Vec<Source> = first.iter().cloned().chain(older).collect();
    taught_again(composing, bench, &first, &sources, Some((&skill, part)))
}

/// Examples, trying together and a sheet for each group for what marks showed of the first of these
/// skills, the more of a skill the more pupils need it; the others come in where there is room. `teaches` is the skill of a lesson of its own,
/// which keeps its exit check and its homework.
fn taught_again(
    composing: &Composing,
    bench: &mut Bench,
    first: &[Source],
    sources: &[Source],
    teaches: Option<(&str, u32)>,
) -> Result<Vec<Draft>, Fault> {
    let minutes = Minutes::of(composing.lesson.minutes);
    let examples = minutes.together / 2;
    let guided = minutes.together - examples;
    let mut drafts = vec![warm_up(composing, bench, minutes.warm_up)?];
    let mut pairs = Vec::new();
    for source in first {
        pairs.push(again::pairs_to_mend(composing, bench, source)?);
    }
    let weights = needed(composing, first);
    let count = usize::from(examples.div_ceil(4)).clamp(1, 2);
    let shown = by_need(&weights, count);
    let mut made = examples_for(composing, bench, first, &shown)?;
    let more = (Spot::Example, u32::from(examples) * 60, shown.as_slice());
    top_up(bench, first, &mut pairs, more, &mut made)?;
    drafts.push(draft(SectionName::Examples, examples, made));
    let tried = if teaches.is_some() { first } else { sources };
    let made = tried_together(bench, (first, tried), &weights, &mut pairs, guided)?;
    drafts.push(draft(SectionName::Guided, guided, made));
    let (minutes, check, homework) = match teaches {
        Some((skill, part)) => (
            minutes,
            check_of(composing, bench, (skill, part), minutes.exit_check)?,
            homework(composing, bench, skill, part)?,
        ),
        None => {
            let (minutes, check) = match first {
                // One skill is asked as often as in a lesson of its own.
                [only] => (minutes, check_on(composing, bench, only, minutes.exit_check)?),
                several => exit_check(composing, bench, several, minutes)?,
            };
            (minutes, check, None)
        }
    };
    // The support sheet is for those who show a pattern: it holds sums in which it would show.
    let of_source = |s: &Source| commonest(composing, &s.skill);
    let patterns = first.iter().filter_map(of_source).map(str::to_owned).collect();
    let whole = |s: &Source| of_source(s).is_some_and(mending::in_printed_zeros);
    let begun = first.iter().map(|s| if whole(s) { 0 } else { BEGUN }).collect();
    let mend = Mend { patterns, pairs, alone: false, begun, weights };
    let groups = again::sheets(composing, bench, sources)?;
    let practice = minutes.practice;
    drafts.extend(practice::mixed(bench, practice, sources, first.len(), Some(&mend), &groups)?);
    drafts.push(draft(SectionName::ExitCheck, minutes.exit_check, check));
    drafts.extend(homework);
    Ok(drafts)
}

/// What is tried together in so many minutes of the first skills, by how many need them, and of what
/// else there is.
fn tried_together(
    bench: &mut Bench,
    (first, tried): (&[Source], &[Source]),
    weights: &[u32],
    pairs: &mut [Vec<(u64, u64)>],
    guided: u16,
) -> Result<Vec<Made>, Fault> {
    let tries = usize::from(guided / 3).clamp(2, 6);
    let total = u32::from(guided) * 60;
    let shares = counted(&turns(weights, tries), first.len());
    // What has sums on which its mistakes would show gets its further ones of these.
    let without = |(share, pairs): (&usize, &Vec<_>)| if pairs.is_empty() { *share } else { 1 };
    let alone: Vec<usize> = match first {
        [_] => Vec::new(),
        _ => shares.iter().zip(pairs.iter()).map(without).collect(),
    };
    let mut made = one_each(bench, tried, Spot::Guided, total, tries, &alone)?;
    top_up(bench, first, pairs, (Spot::Guided, total, &shares), &mut made)?;
    Ok(made)
}

/// Where fewer could be made to show or to try together, sums of these pairs, which are then used
/// up: of each skill up to its share, then of the first, as many in all as the shares add up to, in
/// so many seconds.
fn top_up(
    bench: &mut Bench,
    sources: &[Source],
    pairs: &mut [Vec<(u64, u64)>],
    (spot, total, shares): (Spot, u32, &[usize]),
    made: &mut Vec<Made>,
) -> Result<(), Fault> {
    let most: usize = shares.iter().sum();
    let all = vec![most; sources.len()];
    for shares in [shares, &all] {
        for ((source, pairs), share) in sources.iter().zip(pairs.iter_mut()).zip(shares) {
            let left = total.saturating_sub(seconds(made));
            let own = made.iter().filter(|m| m.item.skill == source.skill).count();
            let count = share.saturating_sub(own).min(most.saturating_sub(made.len()));
            let own: Vec<(u64, u64)> = pairs.drain(..count.min(pairs.len())).collect();
            let want = Want {
                skill: source.skill.clone(),
                part: source.part,
                spot,
                occasion: source.occasion.clone(),
                profile: Profile::Typical,
                seconds: left,
                least: 0,
                most: own.len(),
            };
            made.extend(bench.make_of(&want, &own)?);
        }
    }
    Ok(())
}

/// Mixed revision over the unit.
pub fn revision(composing: &Composing, bench: &mut Bench) -> Result<Vec<Draft>, Fault> {
    let sources = sources(composing, &composing.brought.oldest, REVISION, 'R');
    let minutes = Minutes::of(composing.lesson.minutes);
    let mut drafts = vec![warm_up(composing, bench, minutes.warm_up)?];
    // The guided part goes through what is hardest: what was taught last.
    let last: Vec<Source> = sources.iter().rev().cloned().collect();
    let tries = usize::from(minutes.together / 3).clamp(2, 6);
    let total = u32::from(minutes.together) * 60;
    let made = one_each(bench, &last, Spot::Guided, total, tries, &[])?;
    drafts.push(draft(SectionName::Guided, minutes.together, made));
    let (minutes, check) = exit_check(composing, bench, &sources, minutes)?;
    let homework = homework_of(bench, &sources, &[])?;
    drafts.extend(practice::in_shares(bench, minutes.practice, &as_tested(composing, &sources))?);
    drafts.push(draft(SectionName::ExitCheck, minutes.exit_check, check));
    drafts.extend(homework);
    Ok(drafts)
}

/// The skills of a revision by what their items are like, each nature with the share of the time
/// that the test gives it: by the minutes it was taught and how long its items take.
fn as_tested(composing: &Composing, sources: &[Source]) -> Vec<Share> {
    let plan = composing.occasion.plan;
    let nature = |id: &str| plan.ladder.skills.get(id).map(|s| Nature::of(&s.maker));
    let of = |nature_of: Nature| {
        let before = composing.occasion.lessons[..composing.place].iter();
        let theirs = before.filter(|l| l.skill.as_deref().and_then(nature) == Some(nature_of));
        let taught: u32 = theirs.map(|l| u32::from(l.minutes)).sum();
        let sources = sources.iter().filter(|s| nature(&s.skill) == Some(nature_of));
        Share { weight: taught * nature_of.seconds(), sources: sources.cloned().collect() }
    };
    let shares = [Nature::Written, Nature::Story, Nature::Quick].map(of);
    shares.into_iter().filter(|share| !share.sources.is_empty()).collect()
}

/// An exit check over several skills: one item of each in turn while there is time, and then more
/// of them. Minutes that it does not need go to practice.
fn exit_check(
    composing: &Composing,
    bench: &mut Bench,
    sources: &[Source],
    minutes: Minutes,
) -> Result<(Minutes, Vec<Made>), Fault> {
    let sources = &sources[..sources.len().min(EXIT_SKILLS)];
    let total = exit_seconds(minutes.exit_check);
    let few = sources.len() < SEVERAL;
    let each = EXIT_ITEMS.div_ceil(sources.len().max(1));
    let turns = turns(&needed(composing, sources), each * sources.len());
    let mut waiting = Vec::new();
    for (index, source) in sources.iter().enumerate() {
        let made = bench.make(&Want {
            skill: source.skill.clone(),
            part: source.part,
            spot: Spot::ExitCheck,
            occasion: source.occasion.clone(),
            profile: Profile::Typical,
            seconds: total,
            least: 1,
            most: turns.iter().filter(|turn| **turn == index).count(),
        })?;
        waiting.push(on_slips(made, composing.occasion.plan.class.pace).into_iter().peekable());
    }
    let mut check: Vec<Made> = Vec::new();
    for turn in turns {
        let left = total.saturating_sub(seconds(&check));
        if check.len() < EXIT_ITEMS {
            // Of several skills none is asked alike again and again.
            let forms: Forms = check.iter().collect();
            let fits = |m: &Made| {
                m.item.seconds <= left
                    && on_a_slip(&check, m, bench.plan())
                    && (few || forms.suits_next(&m.item))
            };
            let next = waiting[turn].next_if(fits);
            check.extend(next);
        }
    }
    asked_more(composing, bench, sources, total, &mut check)?;
    let needed = u16::try_from(seconds(&check).div_ceil(60)).unwrap_or(0) + COLLECT;
    let exit = needed.clamp(EXIT_LEAST, minutes.exit_check.max(EXIT_LEAST));
    let practice = minutes.practice + minutes.exit_check.saturating_sub(exit);
    Ok((Minutes { practice, exit_check: exit, ..minutes }, check))
}

/// Where few skills have been taught, they are asked more.
fn asked_more(
    composing: &Composing,
    bench: &mut Bench,
    sources: &[Source],
    total: u32,
    check: &mut Vec<Made>,
) -> Result<(), Fault> {
    let few = sources.len() < SEVERAL;
    for source in sources {
        let (left, room) = (total.saturating_sub(seconds(check)), EXIT_ITEMS - check.len());
        let want = Want {
            skill: source.skill.clone(),
            part: source.part,
            spot: Spot::ExitCheck,
            occasion: source.occasion.clone(),
            profile: Profile::Typical,
            seconds: left,
            least: 0,
            most: room,
        };
        let more = on_slips(bench.make_more(&want)?, composing.occasion.plan.class.pace);
        for made in more {
            let in_time = seconds(check) + made.item.seconds <= total;
            let mixed = few || check.iter().collect::<Forms>().suits_next(&made.item);
            if in_time && mixed && on_a_slip(check, &made, bench.plan()) {
                check.push(made);
            }
        }
    }
    Ok(())
}

/// How many pupils need each of these skills, as marks show it; alike where nothing is marked.
fn needed(composing: &Composing, sources: &[Source]) -> Vec<u32> {
    let skills: Vec<&String> = sources.iter().map(|source| &source.skill).collect();
    let findings = composing.occasion.findings;
    let weak = |skill: &&String| findings.skills.get(*skill).is_some_and(SkillFinding::needs_work);
    if skills.iter().all(weak) { in_need(findings, &skills) } else { vec![1; skills.len()] }
}

/// Whose turn it is, so many times: each has one, then whoever has had least for how many need it.
fn turns(weights: &[u32], count: usize) -> Vec<usize> {
    let mut had = vec![0_u32; weights.len()];
    (0..count).map_while(|_| next_turn(weights, &mut had, true)).collect()
}

/// How often each has a turn where nobody need have one: a skill that fewer than half as many need
/// as another has none before that has two.
fn by_need(weights: &[u32], count: usize) -> Vec<usize> {
    let mut had = vec![0_u32; weights.len()];
    let turns: Vec<usize> = (0..count).map_while(|_| next_turn(weights, &mut had, false)).collect();
    counted(&turns, weights.len())
}

/// How often each of so many has a turn.
fn counted(turns: &[usize], of: usize) -> Vec<usize> {
    (0..of).map(|own| turns.iter().filter(|&&turn| turn == own).count()).collect()
}

/// Who has had least for how many need it; with `each` first who has had none.
fn next_turn(weights: &[u32], had: &mut [u32], each: bool) -> Option<usize> {
    // Of two as far behind the first; `max_by` takes the last of equals.
    let behind = |&one: &usize, &other: &usize| {
        let none = |at: usize| each && had[at] == 0;
        let left = u64::from(weights[one]) * u64::from(had[other] + 1);
        let first = none(one).cmp(&none(other));
        first.then(left.cmp(&(u64::from(weights[other]) * u64::from(had[one] + 1))))
    };
    let next = (0..weights.len()).rev().max_by(behind)?;
    had[next] += 1;
    Some(next)
}

/// The skills that a catch-up takes up because marks say so.
pub fn marked_skills(composing: &Composing) -> Vec<String> {
    weak_skills(composing).into_iter().take(CATCH_UP).collect()
}

/// What a catch-up works on: the skills that marking says need work, else the least secure; empty
/// before anything is taught.
pub fn skills_of(composing: &Composing) -> Vec<String> {
    let weak = weak_skills(composing);
    let skills = if weak.is_empty() { composing.brought.oldest.clone() } else { weak };
    skills.into_iter().take(CATCH_UP).collect()
}

/// What a catch-up without marks works on: skills taught, longest without practice first; before
/// anything is taught, what is known.
fn least_secure(composing: &Composing, bench: &Bench) -> Vec<String> {
    let oldest = &composing.brought.oldest;
    if !oldest.is_empty() {
        return oldest.clone();
    }
    let known = secure_skills(composing.occasion.plan).into_iter().rev();
    let known: Vec<String> = known.filter(|id| bench.can_make(id)).map(str::to_owned).collect();
    if known.is_empty() { vec![FACTS.to_owned()] } else { known }
}

/// The skills taught before this lesson that marking says need work, most pupils first.
fn weak_skills(composing: &Composing) -> Vec<String> {
    let findings = composing.occasion.findings;
    let taught = &composing.brought.oldest;
    let mut weak: Vec<(&String, &SkillFinding)> = findings
        .skills
        .iter()
        .filter(|(id, finding)| finding.needs_work() && taught.contains(id))
        .collect();
    weak.sort_by_key(|(_, f)| std::cmp::Reverse(f.answered - f.right.min(f.answered)));
    weak.into_iter().map(|(id, _)| id.clone()).collect()
}

fn sources(composing: &Composing, skills: &[String], most: usize, kind: char) -> Vec<Source> {
    let occasion = format!("{kind}{}", composing.ordinal());
    skills
        .iter()
        .take(most)
        .map(|skill| Source {
            skill: skill.clone(),
            part: composing.parts_before(skill),
            occasion: occasion.clone(),
            fresh: false,
        })
        .collect()
}

/// So many items fill a guided part of a catch-up at least, where they fit.
const FEWEST: usize = 3;

/// One item of each skill in turn, until the seconds or `most` items are reached; at least as many
/// as there are skills up to 3, and [`FEWEST`] of short ones where there are fewer skills. Where
/// there are `shares`, each skill has so many instead, once all have one.
fn one_each(
    bench: &mut Bench,
    sources: &[Source],
    spot: Spot,
    total: u32,
    most: usize,
    shares: &[usize],
) -> Result<Vec<Made>, Fault> {
    let mut groups: Vec<Vec<Made>> = Vec::new();
    let mut left = total;
    let one = sources.len() >= 3 || !shares.is_empty();
    let each = if one { 1 } else { most.div_ceil(sources.len().max(1)) };
    let want = |source: &Source, seconds: u32, least: usize, most: usize| Want {
        skill: source.skill.clone(),
        part: source.part,
        spot,
        occasion: source.occasion.clone(),
        profile: Profile::Typical,
        seconds,
        least,
        most,
    };
    for source in sources {
        let count: usize = groups.iter().map(Vec::len).sum();
        if count >= most || (count >= 3 && left < total / 5) {
            break;
        }
        let share = left / u32::try_from(most - count).unwrap_or(1);
        let made = bench.make(&want(source, share, 1, each.min(most - count)))?;
        left = left.saturating_sub(seconds(&made));
        groups.push(made);
    }
    // A skill whose own numbers are few takes others, rather than that the class waits.
    for (nth, (group, source)) in groups.iter_mut().zip(sources).enumerate() {
        let fewest = || FEWEST.min(most).div_ceil(sources.len());
        let share = shares.get(nth).copied().unwrap_or_else(fewest);
        let wanted = share.saturating_sub(group.len());
        let share = left / u32::try_from(sources.len()).unwrap_or(1);
        let fits = bench.first_seconds(&want(source, left, 1, 1)) * 3 <= share;
        if wanted > 0 && fits {
            // What is there already may come up among them.
            let all = wanted + group.len();
            let mut more = bench.make_more(&want(source, share, all, all))?;
            more.truncate(wanted);
            left = left.saturating_sub(seconds(&more));
            group.extend(more);
        }
    }
    Ok(interleave(groups))
}

/// Worked examples, of each skill so many, in which its commonest error pattern would show.
fn examples_for(
    composing: &Composing,
    bench: &mut Bench,
    sources: &[Source],
    shares: &[usize],
) -> Result<Vec<Made>, Fault> {
    let mut examples = Vec::new();
    for (source, &each) in sources.iter().zip(shares).filter(|(_, each)| **each > 0) {
        let want = Want {
            skill: source.skill.clone(),
            part: source.part,
            spot: Spot::Example,
            occasion: source.occasion.clone(),
            profile: Profile::Learning,
            seconds: EXAMPLE_SECONDS * u32::try_from(each).unwrap_or(1),
            least: 1,
            most: each,
        };
        examples.extend(examples_showing(bench, want, commonest(composing, &source.skill))?);
    }
    Ok(examples)
}

/// As many examples as wanted; with a pattern, of three more those in which it would show.
pub fn examples_showing(
    bench: &mut Bench,
    want: Want,
    pattern: Option<&str>,
) -> Result<Vec<Made>, Fault> {
    let Some(pattern) = pattern else { return bench.make(&want) };
    let (count, more) = (want.most, want.most + 3);
    let mut made = bench.make(&Want { most: more, least: more, ..want })?;
    made.sort_by_key(|m| !in_key(m, pattern));
    made.truncate(count);
    Ok(made)
}

/// The commonest error pattern that marking found in a skill that needs work, or that the lesson
/// teaches again.
pub fn commonest<'a>(composing: &'a Composing, skill: &str) -> Option<&'a str> {
    let again = || again::skills(composing).iter().any(|own| own == skill);
    let finding = composing.occasion.findings.skills.get(skill);
    let finding = finding.filter(|f| f.needs_work() || again())?;
    finding.patterns.first().map(|p| p.name.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_go_round_or_by_how_many_need_a_skill() {
        assert_eq!(turns(&[1, 1, 1], 6), [0, 1, 2, 0, 1, 2]);
        assert_eq!(turns(&[12, 4], 6), [0, 1, 0, 0, 0, 0]);
        assert_eq!(turns(&[12, 7], 6), [0, 1, 0, 0, 1, 0]);
        assert_eq!(turns(&[3, 9, 1], 5), [1, 0, 2, 1, 1]);
        assert_eq!(turns(&[], 3), [] as [usize; 0]);
        assert_eq!(by_need(&[12, 4], 2), [2, 0]);
        assert_eq!(by_need(&[12, 7], 2), [1, 1]);
        assert_eq!(by_need(&[3, 9, 1], 1), [0, 1, 0]);
        assert_eq!(by_need(&[], 2), [] as [usize; 0]);
        assert_eq!(counted(&turns(&[12, 4, 2], 6), 3), [4, 1, 1], "each is tried, the first most");
    }
}
