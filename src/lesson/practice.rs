//! Practice on three levels that fill the same minutes.

use super::bench::{Bench, Made, Want, seconds};
use super::compose::Draft;
use super::memory::SURELY_MIXED;
use super::minutes::practice_seconds;
use super::mixing::interleave;
use super::{Fault, Level, SectionName};
use crate::exercise::Profile;
use crate::exercise::makers::Spot;

/// A skill that practice draws on.
#[derive(Debug, Clone)]
pub struct Source {
    /// The skill.
    pub skill: String,
    /// The part to practise.
    pub part: u32,
    /// The occasion, as [`Want::occasion`].
    pub occasion: String,
    /// Whether it is still being learnt, on whatever level: one of a skill's first two parts.
    pub fresh: bool,
}

/// Items of a procedure met for the first time that come in one block; after about three right
/// in a row more of the same add little (Rohrer & Taylor 2006).
const BLOCK: usize = 4;
/// The most items of the lesson's own skill, of an older one beside it, and of all: twenty rows of
/// three short ones.
const MOST: usize = 30;
const OLDER: usize = 8;
const ALL: usize = 60;
/// Items shorter than this are so quick that longer ones are looked for to fill the minutes.
const QUICK: u32 = 25;
/// Percent of the seconds that a set must reach, where there are items enough.
const FULL: u32 = 85;

/// Percent below which a sheet says that it is short.
const SPARSE: u32 = 60;

/// The three levels in the order of their sheets.
pub const LEVELS: [(Level, Spot, Profile); 3] = [
    (Level::Support, Spot::Support, Profile::Learning),
    (Level::Core, Spot::Core, Profile::Typical),
    (Level::Stretch, Spot::Stretch, Profile::Fluent),
];

/// One level being made.
struct Set<'b, 'a> {
    bench: &'b mut Bench<'a>,
    spot: Spot,
    profile: Profile,
    total: u32,
}

impl Set<'_, '_> {
    fn want(&self, source: &Source, seconds: u32, least: usize, most: usize) -> Want {
        Want {
            skill: source.skill.clone(),
            part: source.part,
            spot: self.spot,
            occasion: source.occasion.clone(),
            profile: if source.fresh { Profile::Learning } else { self.profile },
            seconds,
            least,
            most,
        }
    }
    fn left(&self, groups: &[Vec<Made>]) -> u32 {
        self.total.saturating_sub(groups.iter().map(|g| seconds(g)).sum())
    }
    fn is_full(&self, groups: &[Vec<Made>]) -> bool {
        self.left(groups) * 100 <= self.total * (100 - FULL)
    }
    /// The older skills that surely belong in, each about half as often as the lesson's own.
    fn add_older(&mut self, groups: &mut Vec<Vec<Made>>, older: &[Source]) -> Result<(), Fault> {
        // One older skill alone is all there is to mix in: half as many as the lesson's own.
        let own = groups[0].len();
        let most = if older.len() == 1 { own.div_ceil(2).max(3) } else { own.clamp(3, OLDER) };
        for (index, source) in older.iter().enumerate() {
            let waiting = u32::try_from(older.len() - index).unwrap_or(1);
            let seconds = self.left(groups) / waiting;
            groups.push(self.bench.make(&self.want(source, seconds, 1, most))?);
        }
        Ok(())
    }
    /// Other skills, until the set is full; where the own items are quick, those with the longest
    /// items first.
    fn fill_up(&mut self, groups: &mut Vec<Vec<Made>>, others: &[Source]) -> Result<(), Fault> {
        let mut others = others.to_vec();
        let own = &groups[0];
        if own.is_empty() || seconds(own) / u32::try_from(own.len()).unwrap_or(1) < QUICK {
            let length = |s: &Source| self.bench.first_seconds(&self.want(s, 600, 1, 1));
            others.sort_by_cached_key(|s| std::cmp::Reverse(length(s)));
        }
        for source in &others {
            if self.is_full(groups) {
                break;
            }
            let room = ALL.saturating_sub(groups.iter().map(Vec::len).sum());
            let want = self.want(source, self.left(groups), 0, OLDER.min(room));
            groups.push(self.bench.make(&want)?);
        }
        Ok(())
    }
    /// More of the skill itself where older ones did not fill the set.
    fn add_own(&mut self, groups: &mut [Vec<Made>], own: &Source) -> Result<(), Fault> {
        if self.is_full(groups) || groups[0].len() >= MOST {
            return Ok(());
        }
        let want = self.want(own, self.left(groups), 0, MOST - groups[0].len());
        let more = self.bench.make_more(&want)?;
        groups[0].extend(more);
        Ok(())
    }
}

/// Practice of a teach lesson: the first source is the lesson's skill, the others older ones. In a
/// first part its own items stand in one block first and older ones only fill what is left; later
/// at least a third are older.
pub fn levels(
    bench: &mut Bench,
    minutes: u16,
    part: u32,
    sources: &[Source],
) -> Result<Vec<Draft>, Fault> {
    let Some((own, older)) = sources.split_first() else { return Ok(Vec::new()) };
    each_level(bench, minutes, |mut set| {
        let share = if part == 1 || older.is_empty() { 100 } else { 60 };
        let want = set.want(own, set.total * share / 100, 2, MOST);
        let mut groups = vec![set.bench.make(&want)?];
        let surely = if part == 1 { 0 } else { SURELY_MIXED.min(older.len()) };
        set.add_older(&mut groups, &older[..surely])?;
        set.add_own(&mut groups, own)?;
        set.fill_up(&mut groups, &older[surely..])?;
        if part == 1 {
            let block = BLOCK.min(groups[0].len());
            let rest = groups[0].split_off(block);
            let block = std::mem::replace(&mut groups[0], rest);
            return Ok(block.into_iter().chain(interleave(groups)).collect());
        }
        keep_a_third_older(&mut groups);
        Ok(interleave(groups))
    })
}

/// Takes the last of the lesson's own items away while fewer than a third are older ones.
fn keep_a_third_older(groups: &mut [Vec<Made>]) {
    let older: usize = groups.iter().skip(1).map(Vec::len).sum();
    if older > 0 {
        groups[0].truncate(2 * older);
    }
}

/// Practice over several skills, equal shares of the time, no two alike in a row; skills later in
/// the list come in where those before leave room. With `prefer` the support sheet looks at twice
/// as many items and takes the preferred ones first.
pub fn mixed(
    bench: &mut Bench,
    minutes: u16,
    sources: &[Source],
    surely: usize,
    prefer: Option<&dyn Fn(&Made) -> bool>,
) -> Result<Vec<Draft>, Fault> {
    let surely = surely.min(sources.len());
    let most = OLDER.max(ALL / sources.len().max(1));
    each_level(bench, minutes, |set| {
        let prefer = prefer.filter(|_| set.spot == Spot::Support);
        let mut groups: Vec<Vec<Made>> = Vec::new();
        let total = set.total;
        for (index, source) in sources.iter().enumerate() {
            if index >= surely && set.is_full(&groups) {
                break;
            }
            let left = set.left(&groups);
            let waiting = u32::try_from(surely.saturating_sub(index).max(1)).unwrap_or(1);
            let least = usize::from(index < surely && left * 8 > total);
            let share = left / waiting;
            let times = if prefer.is_some() { 2 } else { 1 };
            let want =
                set.want(source, share * times, least, most * if prefer.is_some() { 2 } else { 1 });
            let mut made = set.bench.make(&want)?;
            if let Some(prefer) = prefer {
                made.sort_by_key(|m| !prefer(m));
                keep_within(&mut made, share, least);
                made.truncate(most);
            }
            groups.push(made);
        }
        Ok(interleave(groups))
    })
}

/// Keeps items from the front while they fit the seconds, and at least so many.
fn keep_within(made: &mut Vec<Made>, seconds: u32, least: usize) {
    let mut spent = 0;
    let mut kept = 0;
    made.retain(|m| {
        let keeps = kept < least || spent + m.item.seconds <= seconds;
        if keeps {
            kept += 1;
            spent += m.item.seconds;
        }
        keeps
    });
}

fn each_level(
    bench: &mut Bench,
    minutes: u16,
    mut make: impl FnMut(Set) -> Result<Vec<Made>, Fault>,
) -> Result<Vec<Draft>, Fault> {
    let mut drafts = Vec::new();
    for (level, spot, profile) in LEVELS {
        bench.next_level();
        let total = practice_seconds(minutes);
        let made = make(Set { bench: &mut *bench, spot, profile, total })?;
        if seconds(&made) * 100 < total * SPARSE {
            let (filled, of) = (seconds(&made).div_ceil(60), total / 60);
            let sheet = format!("{spot:?}").to_lowercase();
            bench.miss(format!(
                "The {sheet} sheet fills only {filled} of {of} minutes: have more sums ready."
            ));
        }
        drafts.push(Draft { name: SectionName::Practice, level: Some(level), minutes, made });
    }
    Ok(drafts)
}
