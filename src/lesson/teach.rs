//! Lessons that teach part k of a skill.

use super::after_marks::{Shown, just_shown};
use super::bench::{Bench, LESSON, Made, Want, without_notes};
use super::compose::{Composing, Draft};
use super::consolidate::{commonest, examples_showing};
use super::forms::Forms;
use super::half::{PARTS, parts};
use super::memory::SURELY_MIXED;
use super::mending::{self, Back};
use super::minutes::{HOMEWORK, Minutes, exit_seconds};
use super::practice::{self, Source};
use super::{Fault, SectionName};
use crate::exercise::makers::Spot;
use crate::exercise::{Kind, Profile, Space};

/// The most seconds of work in a worked example, and what talking about it adds (common practice,
/// no source).
pub const EXAMPLE_SECONDS: u32 = 240;
const TALK_SECONDS: u32 = 45;
/// The share of homework's time that its items fill, percent: children work at their own pace.
const HOMEWORK_SHARE: u32 = 85;

/// All sections of a teach lesson.
pub fn sections(composing: &Composing, bench: &mut Bench) -> Result<Vec<Draft>, Fault> {
    let lesson = composing.lesson;
    let Some(id) = lesson.skill.as_deref() else { return Ok(Vec::new()) };
    let part = lesson.part.unwrap_or(1);
    let minutes = Minutes::of(lesson.minutes);
    // First parts show more, later ones let pupils do more.
    let examples = if part == 1 { minutes.together * 5 / 8 } else { minutes.together / 2 };
    let profile = if part <= 2 { Profile::Learning } else { Profile::Typical };
    let own = |spot: Spot, profile: Profile, seconds: u32, least: usize, most: usize| Want {
        skill: id.to_owned(),
        part,
        spot,
        occasion: LESSON.to_owned(),
        profile,
        seconds,
        least,
        most,
    };
    let mut drafts = vec![warm_up(composing, bench, minutes.warm_up)?];
    // In later parts the step that went wrong, where marking has found one.
    let wrong = commonest(composing, id).filter(|_| part > 1);
    let want = own(Spot::Example, profile, 3 * EXAMPLE_SECONDS, 3, 3);
    let mut made = examples_showing(bench, want, wrong)?;
    keep_shown(&mut made, examples);
    drafts.push(draft(SectionName::Examples, examples, made));
    bench.only(drafts.iter().flat_map(|d| &d.made));
    let guided = minutes.together - examples;
    let tries = usize::from(guided / 2).clamp(1, 4);
    let made = bench.make(&own(Spot::Guided, profile, u32::from(guided) * 60, 1, tries))?;
    drafts.push(draft(SectionName::Guided, guided, made));
    let check = check_of(composing, bench, (id, part), minutes.exit_check)?;
    let homework = homework(composing, bench, id, part)?;
    let sources = practice_sources(composing, id, part);
    drafts.extend(practice::levels(bench, minutes.practice, part, &sources)?);
    drafts.push(draft(SectionName::ExitCheck, minutes.exit_check, check));
    drafts.extend(homework);
    Ok(drafts)
}

/// The exit check of a lesson that teaches this part of a skill.
pub fn check_of(
    composing: &Composing,
    bench: &mut Bench,
    (skill, part): (&str, u32),
    minutes: u16,
) -> Result<Vec<Made>, Fault> {
    let occasion = LESSON.to_owned();
    let source = Source { skill: skill.to_owned(), part, occasion, fresh: false };
    check_on(composing, bench, &source, minutes)
}

/// The same of a skill in a lesson that takes it up again.
pub fn check_on(
    composing: &Composing,
    bench: &mut Bench,
    source: &Source,
    minutes: u16,
) -> Result<Vec<Made>, Fault> {
    let want = Want {
        skill: source.skill.clone(),
        part: source.part,
        spot: Spot::ExitCheck,
        occasion: source.occasion.clone(),
        profile: if source.part <= 2 { Profile::Learning } else { Profile::Typical },
        seconds: exit_seconds(minutes),
        least: 3,
        most: 5,
    };
    let mut check = on_slips(bench.make(&want)?, composing.occasion.plan.class.pace);
    leave_out_late(&mut check, minutes);
    Ok(check)
}

/// Keeps as many worked examples as there is time to show, at least one.
fn keep_shown(made: &mut Vec<Made>, minutes: u16) {
    let mut left = u32::from(minutes) * 60;
    let mut first = true;
    made.retain(|m| {
        let takes = m.item.seconds + TALK_SECONDS;
        let fits = first || left >= takes;
        left = left.saturating_sub(takes);
        first = false;
        fits
    });
}

/// Takes the last items of an exit check away while they do not fit its minutes; a written method
/// keeps its three sums or rows all the same.
fn leave_out_late(check: &mut Vec<Made>, minutes: u16) {
    let short = |m: &Made| !matches!(m.item.kind, Kind::Written | Kind::Row);
    while check.len() > 1
        && super::bench::seconds(check) > u32::from(minutes) * 60
        && check.last().is_some_and(short)
    {
        check.pop();
    }
}

/// Stories on slips are answered without notes of what is known and needed.
pub fn on_slips(mut made: Vec<Made>, pace: u32) -> Vec<Made> {
    for m in &mut made {
        without_notes(&mut m.item, m.want.profile, pace);
    }
    made
}

/// A section without a level.
pub fn draft(name: SectionName, minutes: u16, made: Vec<Made>) -> Draft {
    Draft { name, level: None, minutes, made }
}

/// The warm-up: the skills that are due, each by its n-th return.
pub fn warm_up(composing: &Composing, bench: &mut Bench, minutes: u16) -> Result<Draft, Fault> {
    let mut made = Vec::new();
    for back in &composing.brought.warm_up {
        let want = Want {
            skill: back.skill.clone(),
            part: back.nth,
            spot: Spot::WarmUp,
            occasion: LESSON.to_owned(),
            profile: Profile::Typical,
            // Half of the minutes are for doing, half for going over the answers.
            seconds: u32::from(minutes) * 30,
            least: 1,
            most: back.items,
        };
        let mut items = bench.make(&want)?;
        bring_back(composing, bench, (&want, &just_shown(composing, back)), &mut items)?;
        made.push(items);
    }
    if made.iter().all(Vec::is_empty) {
        let count = super::memory::warm_up_items(minutes);
        made.push(bench.make(&Want {
            skill: FACTS.to_owned(),
            part: composing.lesson.number,
            spot: Spot::WarmUp,
            occasion: LESSON.to_owned(),
            profile: Profile::Typical,
            seconds: u32::from(minutes) * 30,
            least: 3,
            most: count,
        })?);
    }
    let made = super::mixing::interleave(made);
    bench.warms_up_with(&made);
    Ok(draft(SectionName::WarmUp, minutes, made))
}

/// Longer than so many seconds no item of a warm-up takes.
const SHORT: u32 = 45;

/// Has each mistake come up in at least so many items, as long as there are short ones in which it
/// can: a sum in the head, a row, or a number times one digit. They stand first and in boxes. What
/// may be one of several mistakes comes up in a sum that tells them apart, if there is one.
fn bring_back(
    composing: &Composing,
    bench: &mut Bench,
    (want, shown): (&Want, &[Shown]),
    items: &mut Vec<Made>,
) -> Result<(), Fault> {
    if shown.is_empty() {
        return Ok(());
    }
    let own = items.len();
    let names: Vec<Vec<&str>> = shown.iter().map(|s| s.finding.names()).collect();
    let back = |m: &Made, names: &Vec<&str>| mending::back(&m.item, names);
    items.sort_by_key(|m| names.iter().all(|names| back(m, names) < Back::Apart));
    let there = |names| items.iter().filter(|m| back(m, names) >= Back::Apart).count();
    let mut lacking: Vec<usize> =
        names.iter().zip(shown).map(|(names, s)| s.items.saturating_sub(there(names))).collect();
    let mut more = Vec::new();
    let mut all = if lacking.iter().all(|&left| left == 0) {
        Vec::new()
    } else {
        short_ones(composing, bench, want)?
    };
    // Of two mistakes at once the second shows as well, where it can.
    let seconds: Vec<&str> = shown.iter().filter_map(|s| Some(s.finding.two()?[1])).collect();
    all.sort_by_key(|m| !seconds.iter().all(|name| mending::brings_back(&m.item, name)));
    // What a check has asked comes again only where nothing else brings the mistake back.
    let passes = [false, true].into_iter().flat_map(|asked| {
        [Back::Shown, Back::Apart, Back::Alike].into_iter().map(move |least| (asked, least))
    });
    for (asked, least) in passes {
        for made in &all {
            if !bench.is_new(&made.item) || (!asked && bench.was_checked(&made.item)) {
                continue;
            }
            let mut each = lacking.iter_mut().zip(&names);
            let lacks = each.find(|(left, names)| **left > 0 && back(made, names) >= least);
            if let Some((left, _)) = lacks {
                *left -= 1;
                bench.note(&made.item, Spot::WarmUp);
                more.push(made.clone());
            }
        }
    }
    let wanted: usize = shown.iter().map(|s| s.items).sum();
    let kept = own.max(wanted).saturating_sub(more.len());
    items.truncate(kept);
    items.splice(0..0, more);
    Ok(())
}

/// Short items of the skill as warm-ups, exit checks and core sheets have them, in boxes.
fn short_ones(composing: &Composing, bench: &Bench, want: &Want) -> Result<Vec<Made>, Fault> {
    let part = composing.parts_before(&want.skill);
    let mut all = Vec::new();
    // What the lesson's own check may ask comes last.
    for (spot, again) in [
        (Spot::WarmUp, false),
        (Spot::Core, false),
        (Spot::ExitCheck, true),
        (Spot::ExitCheck, false),
    ] {
        let part = if spot == Spot::WarmUp { want.part } else { part };
        let wide = Want { spot, part, seconds: 1200, least: 6, most: 16, ..want.clone() };
        all.extend(if again { bench.look_again(&wide, " back")? } else { bench.look(&wide)? });
    }
    all.retain(|made| {
        let short = match made.item.kind {
            Kind::Mental | Kind::Row | Kind::Estimate => true,
            Kind::Written => mending::is_short(&made.item),
            _ => false,
        };
        short && made.item.seconds <= SHORT && made.item.figure.is_none()
    });
    for made in &mut all {
        made.item.space = Space::Box;
        made.want = want.clone();
    }
    Ok(all)
}

/// What every pupil can warm up with when nothing else is there to come back.
pub const FACTS: &str = "facts-to-ten-by-ten";

/// The lesson's own skill, and from the second part on older ones beside it; in a first part they
/// only fill what is left.
fn practice_sources(composing: &Composing, id: &str, part: u32) -> Vec<Source> {
    let mut sources =
        vec![Source { skill: id.to_owned(), part, occasion: LESSON.to_owned(), fresh: part <= 2 }];
    sources.extend(older(composing));
    sources
}

/// Older skills, each by its n-th return among another's practice.
pub fn older(composing: &Composing) -> impl Iterator<Item = Source> {
    composing.brought.mixed.iter().map(|back| Source {
        skill: back.skill.clone(),
        part: composing.parts_before(&back.skill),
        occasion: format!("m{}", back.nth),
        fresh: false,
    })
}

/// Homework: only what has been taught before; none where nothing has.
pub fn homework(
    composing: &Composing,
    bench: &mut Bench,
    id: &str,
    part: u32,
) -> Result<Option<Draft>, Fault> {
    let mut sources: Vec<Source> = older(composing).take(SURELY_MIXED + SPARE).collect();
    let spare = sources.split_off(SURELY_MIXED.min(sources.len()));
    if part > 1 {
        sources.insert(
            0,
            Source { skill: id.to_owned(), part, occasion: LESSON.to_owned(), fresh: false },
        );
    }
    homework_of(bench, &sources, &spare)
}

/// So many older skills more may help to fill half a sheet.
const SPARE: usize = 4;

/// Half a sheet of homework being filled.
struct Half<'b, 'a> {
    bench: &'b mut Bench<'a>,
    /// How many parts of it are free, and how many seconds.
    room: usize,
    left: u32,
    /// What is on it, by source.
    groups: Vec<Vec<Made>>,
    /// The forms of question on it.
    forms: Forms,
}

impl Half<'_, '_> {
    fn want(&self, source: &Source, least: usize, most: usize) -> Want {
        Want {
            skill: source.skill.clone(),
            part: source.part,
            spot: Spot::Homework,
            occasion: source.occasion.clone(),
            profile: Profile::Typical,
            seconds: self.left * 2 / 3,
            least,
            most,
        }
    }
    fn keep_what_fits(&mut self, mut made: Vec<Made>) -> Vec<Made> {
        made.retain(|m| {
            let takes = parts(&m.item, self.bench.plan());
            let fits =
                self.room >= takes && self.left >= m.item.seconds && self.forms.suits_next(&m.item);
            if fits {
                self.forms.note(&m.item);
                self.room -= takes;
                self.left -= m.item.seconds;
            }
            fits
        });
        made
    }
    /// What is left free is filled with bare sums: three quick ones are little work.
    fn fill_up(&mut self, sources: &[Source], spare: &[Source]) -> Result<(), Fault> {
        // What is answered in words or by a letter is higher than a box.
        let words = self.groups.iter().flatten().filter(|m| m.item.space != Space::Box);
        let words = words.filter(|m| !is_long(&m.item.space)).count();
        self.room = self.room.saturating_sub(words);
        for (index, source) in sources.iter().chain(spare).enumerate() {
            if self.room == 0 {
                break;
            }
            let want = self.want(source, 0, self.room.min(2));
            let mut made = match index < sources.len() {
                true => self.bench.make_more(&want)?,
                false => self.bench.make(&want)?,
            };
            made.retain(|m| matches!(m.item.kind, Kind::Mental | Kind::Estimate));
            made.retain(|m| matches!(m.item.space, Space::Box | Space::Line));
            let made = self.keep_what_fits(made);
            match self.groups.get_mut(index) {
                Some(group) => group.extend(made),
                None => self.groups.push(made),
            }
        }
        Ok(())
    }
}

/// Half a sheet of these skills: three sums on squares (two large ones), six short ones, or a story
/// and a sum; where they leave room, bare sums of the spare ones as well.
pub fn homework_of(
    bench: &mut Bench,
    sources: &[Source],
    spare: &[Source],
) -> Result<Option<Draft>, Fault> {
    let total = u32::from(HOMEWORK) * 60 * HOMEWORK_SHARE / 100;
    let own = sources.first().filter(|s| s.occasion == LESSON).map(|s| s.skill.as_str());
    let forms = Forms::of(&Forms::default(), own);
    let mut half = Half { bench, room: PARTS, left: total, groups: Vec::new(), forms };
    for (index, source) in sources.iter().enumerate() {
        let most = if index == 0 { 3 } else { 2 };
        let made = half.bench.make(&half.want(source, 1, most))?;
        let made = half.keep_what_fits(made);
        half.groups.push(made);
    }
    half.fill_up(sources, spare)?;
    let mut made = super::mixing::interleave(half.groups);
    // What takes much space stands side by side.
    made.sort_by_key(|m| is_long(&m.item.space));
    if made.is_empty() {
        return Ok(None);
    }
    let spent: u32 = made.iter().map(|m| m.item.seconds).sum();
    let minutes = u16::try_from((spent * 100 / HOMEWORK_SHARE).div_ceil(60)).unwrap_or(HOMEWORK);
    Ok(Some(draft(SectionName::Homework, minutes.min(HOMEWORK), made)))
}

/// Whether an item is written on a block of squares, a grid, a lattice or story space.
pub fn is_long(space: &Space) -> bool {
    matches!(
        space,
        Space::Squares { .. } | Space::Grid { .. } | Space::Lattice { .. } | Space::Story { .. }
    )
}
