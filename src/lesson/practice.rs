//! Practice on three levels that fill the same minutes.

use super::bench::{Bench, Made, Want, seconds};
use super::compose::Draft;
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
}

/// Items of a procedure met for the first time that come in one block; after about three right
/// in a row more of the same add little (Rohrer & Taylor 2006).
const BLOCK: usize = 4;
/// The most items of one skill in one set.
const MOST: usize = 24;
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
            profile: self.profile,
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
    /// Older skills, one after the other, until the set is full; the first `surely` always.
    fn add_older(
        &mut self,
        groups: &mut Vec<Vec<Made>>,
        older: &[Source],
        surely: usize,
    ) -> Result<(), Fault> {
        for (index, source) in older.iter().enumerate() {
            if index >= surely && self.is_full(groups) {
                break;
            }
            let left = self.left(groups);
            let share = if index + 1 < surely { left / 2 } else { left };
            let least = usize::from(index < surely);
            let made = self.bench.make(&self.want(source, share, least, MOST / 2))?;
            groups.push(made);
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
        let usual = set.profile;
        if part <= 2 {
            set.profile = Profile::Learning;
        }
        let share = if part == 1 || older.is_empty() { 100 } else { 60 };
        let want = set.want(own, set.total * share / 100, 2, MOST);
        let mut groups = vec![set.bench.make(&want)?];
        let mine = set.profile;
        set.profile = usual;
        let surely = if part == 1 { 0 } else { super::memory::SURELY_MIXED };
        set.add_older(&mut groups, older, surely)?;
        set.profile = mine;
        set.add_own(&mut groups, own)?;
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
            let want = set.want(source, share * times, least, MOST / 2);
            let mut made = set.bench.make(&want)?;
            if let Some(prefer) = prefer {
                made.sort_by_key(|m| !prefer(m));
                keep_within(&mut made, share, least);
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
