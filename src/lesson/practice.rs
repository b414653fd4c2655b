//! Practice on three levels that fill the same minutes.

use super::bench::{Bench, Made, Want};
use super::compose::Draft;
use super::forms::{Forms, mix};
use super::measures::{READ_SECONDS, form, hardness, left_to_do, rising, takes};
use super::memory::SURELY_MIXED;
use super::mending::{ForSheet, Mend};
use super::minutes::practice_seconds;
use super::mixing::interleave;
use super::{Fault, Level, SectionName};
use crate::exercise::makers::Spot;
use crate::exercise::{Item, Profile};

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

/// The most items of one form of question on a stretch sheet, where there are others.
const OF_A_FORM: usize = 2;
/// How often items of an older skill come in once more where a mixed set is not full.
const ROUNDS: usize = 3;

/// One level being made.
struct Set<'b, 'a> {
    bench: &'b mut Bench<'a>,
    spot: Spot,
    profile: Profile,
    total: u32,
    /// The core sheet, for the support sheet to be measured by; empty before it is made.
    core: &'b [Made],
    /// The most items of the sheet.
    most: usize,
    /// Which of the support sheets it is, from 0.
    sheet: usize,
    /// The forms of question that the sheet has.
    forms: Forms,
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
    fn room(&self, groups: &[Vec<Made>]) -> usize {
        self.most.saturating_sub(groups.iter().map(Vec::len).sum())
    }
    fn is_full(&self, groups: &[Vec<Made>]) -> bool {
        self.left(groups) * 100 <= self.total * (100 - FULL)
    }
    /// Items for the set, few of one form; on a support sheet none of a skill that are harder than
    /// those of the core sheet.
    fn make(&mut self, want: &Want, more: bool) -> Result<Vec<Made>, Fault> {
        let wide = match self.spot {
            Spot::Stretch => {
                Want { seconds: want.seconds * 2, most: want.most * 2, ..want.clone() }
            }
            _ => want.clone(),
        };
        let mut made = if more { self.bench.make_more(&wide)? } else { self.bench.make(&wide)? };
        self.keep_few_of_a_form(&mut made, want.least);
        keep_within(&mut made, want.seconds, want.least);
        if self.spot == Spot::Stretch {
            made.truncate(want.most);
        }
        if self.spot == Spot::Support {
            self.choose_easier(&mut made, want)?;
            self.keep_few_of_a_form(&mut made, want.least);
        }
        made.iter().for_each(|m| self.forms.note(&m.item));
        Ok(made)
    }
    /// Leaves out what would be one too many of its form; so many stay whatever their form.
    fn keep_few_of_a_form(&self, made: &mut Vec<Made>, least: usize) {
        let mut forms = self.forms.clone();
        let mut kept = 0;
        made.retain(|m| {
            let keeps = kept < least || self.allows(&forms, &m.item);
            if keeps {
                forms.note(&m.item);
                kept += 1;
            }
            keeps
        });
    }
    /// Whether the sheet may have one more of the item's form; a stretch sheet has few.
    fn allows(&self, forms: &Forms, item: &Item) -> bool {
        let few = self.spot == Spot::Stretch && form(item).is_some();
        forms.allows(item) && (!few || forms.fewer_than(item, OF_A_FORM))
    }
    /// On the support sheet: where sums are harder on average than those of the core sheet, more are
    /// looked at and the easier taken, what is most begun first.
    fn choose_easier(&mut self, made: &mut Vec<Made>, want: &Want) -> Result<(), Fault> {
        let harder = |set: &Self, made: &[Made]| {
            let core = mean_hardness(set.core.iter().filter(|m| m.item.skill == want.skill));
            core.is_some_and(|core| mean_hardness(made.iter()).is_some_and(|mean| mean > core))
        };
        if !harder(self, made) {
            return Ok(());
        }
        let (own, most) = (self.bench.own_sums(want).len(), want.most.max(6));
        let wide =
            Want { seconds: want.seconds * 2, least: want.least.max(4), most, ..want.clone() };
        made.extend(self.bench.make_more(&wide)?);
        let own = own.min(made.len());
        made[own..].sort_by_key(|m| left_to_do(&m.item));
        self.ease(made, want);
        keep_within(made, want.seconds, want.least);
        made.truncate(want.most);
        self.ease(made, want);
        Ok(())
    }
    /// Takes the hardest sums away while those of the skill are harder on average than on the core
    /// sheet; the teacher's own and the fewest wanted stay.
    fn ease(&self, made: &mut Vec<Made>, want: &Want) {
        let own = self.bench.own_sums(want).len();
        let least = own.max(want.least);
        let core = self.core.iter().filter(|m| m.item.skill == want.skill);
        let Some(most) = mean_hardness(core) else { return };
        while made.len() > least && mean_hardness(made.iter()).is_some_and(|mean| mean > most) {
            let hardest = (own..made.len()).max_by_key(|&i| hardness(&made[i].item));
            let Some(hardest) = hardest else { return };
            made.remove(hardest);
        }
    }
    /// The older skills that surely belong in, each about half as often as the lesson's own.
    fn add_older(&mut self, groups: &mut Vec<Vec<Made>>, older: &[Source]) -> Result<(), Fault> {
        // One older skill alone is all there is to mix in: half as many as the lesson's own.
        let own = groups[0].len();
        let most = if older.len() == 1 { own.div_ceil(2).max(3) } else { own.clamp(3, OLDER) };
        for (index, source) in older.iter().enumerate() {
            let waiting = u32::try_from(older.len() - index).unwrap_or(1);
            let seconds = self.left(groups) / waiting;
            let most = most.min(self.room(groups));
            let mut made = self.make(&self.want(source, seconds, 1, most), false)?;
            keep_within(&mut made, self.left(groups), usize::from(index == 0));
            groups.push(made);
        }
        Ok(())
    }
    /// Other skills, until the set is full; where the own items are quick, or only few more may
    /// come, those with the longest items first.
    fn fill_up(&mut self, groups: &mut Vec<Vec<Made>>, others: &[Source]) -> Result<(), Fault> {
        let mut others = others.to_vec();
        let own = &groups[0];
        let quick = own.is_empty() || seconds(own) / count(own.len()).max(1) < QUICK;
        if quick || self.left(groups) / count(self.room(groups)).max(1) >= QUICK {
            let length = |s: &Source| self.bench.first_seconds(&self.want(s, 600, 1, 1));
            others.sort_by_cached_key(|s| std::cmp::Reverse(length(s)));
        }
        for source in &others {
            let room = self.room(groups);
            if self.is_full(groups) || room == 0 {
                break;
            }
            let want = self.want(source, self.left(groups), 0, OLDER.min(room));
            groups.push(self.make(&want, false)?);
        }
        Ok(())
    }
    /// More of the skill itself where older ones did not fill the set, at most `most` in all.
    fn add_own(
        &mut self,
        groups: &mut [Vec<Made>],
        own: &Source,
        most: usize,
    ) -> Result<(), Fault> {
        let most = most.saturating_sub(groups[0].len()).min(self.room(groups));
        if self.is_full(groups) || most == 0 {
            return Ok(());
        }
        let want = self.want(own, self.left(groups), 0, most);
        let more = self.make(&want, true)?;
        groups[0].extend(more);
        Ok(())
    }
    /// More from what other places of the lesson may draw on, and of whatever form, where all the
    /// skills together have too little of their own.
    fn borrow(&mut self, groups: &mut Vec<Vec<Made>>, sources: &[Source]) -> Result<(), Fault> {
        for spot in [self.spot, Spot::Core, Spot::Homework, Spot::Support, Spot::WarmUp] {
            for source in sources {
                let room = self.room(groups);
                if self.is_full(groups) || room == 0 {
                    return Ok(());
                }
                // Of short lists what other lessons have is taken as well.
                let left = self.left(groups);
                let want = self.want(source, left, 0, room);
                let quick = self.bench.first_seconds(&want) <= READ_SECONDS;
                let surely = usize::try_from(left / READ_SECONDS).unwrap_or(0);
                let want = Want { least: if quick { surely.min(room) } else { 0 }, ..want };
                let made = self.make(&Want { spot, ..want }, spot == self.spot)?;
                let own = groups
                    .iter_mut()
                    .find(|g| g.first().is_some_and(|first| first.item.skill == source.skill));
                match own {
                    Some(own) => own.extend(made),
                    None => groups.push(made),
                }
            }
        }
        Ok(())
    }
    /// Where the support sheet has as many items as it may have and is not full, the shortest give
    /// place to questions on the skill of the core sheet's sort that are no harder.
    fn lengthen(&mut self, groups: &mut [Vec<Made>], own: &Source) -> Result<(), Fault> {
        if self.spot != Spot::Support || self.is_full(groups) || groups.is_empty() {
            return Ok(());
        }
        let most = mean_hardness(self.core.iter().filter(|m| m.item.skill == own.skill));
        let want = self.want(own, self.total, 0, MOST);
        let mut longer = self.bench.make_more(&Want { spot: Spot::Core, ..want })?;
        longer.retain(|m| hardness(&m.item).is_none_or(|h| most.is_none_or(|most| h <= most)));
        longer.sort_by_key(|m| m.item.seconds);
        let stays = groups[0].len().div_ceil(4);
        while let Some(made) = longer.pop() {
            let time = takes(&made.item);
            if self.is_full(groups) {
                break;
            } else if !self.forms.allows(&made.item) {
                continue;
            } else if self.room(groups) > 0 && time <= self.left(groups) {
                groups[0].push(made);
            } else if let Some((group, at)) = shortest(groups, stays)
                && takes(&groups[group][at].item) * 3 / 2 < time
                && time <= self.left(groups) + takes(&groups[group][at].item)
            {
                groups[group].remove(at);
                groups[0].push(made);
            }
        }
        Ok(())
    }
}

/// The group and place of the shortest item that may go: so many of the skill stay that are made for
/// this sheet, and older ones make up a third.
fn shortest(groups: &[Vec<Made>], stays: usize) -> Option<(usize, usize)> {
    let own = groups[0].iter().filter(|m| m.want.spot == Spot::Support).count() > stays;
    let older = own_with(groups) >= groups[0].len() + 3;
    let all = groups.iter().enumerate().flat_map(|(g, made)| (0..made.len()).map(move |i| (g, i)));
    let may_go = |&(group, at): &(usize, usize)| if group == 0 { own && at > 0 } else { older };
    all.filter(may_go).min_by_key(|&(group, at)| takes(&groups[group][at].item))
}

fn seconds(made: &[Made]) -> u32 {
    made.iter().map(|m| takes(&m.item)).sum()
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// Up to two steps in the head are hard for nobody: × 1,000 is not taken away for × 10.
const EASY: u32 = 200;

/// The mean of those that are sums.
fn mean_hardness<'m>(made: impl Iterator<Item = &'m Made>) -> Option<u32> {
    let each: Vec<u32> = made.filter_map(|m| hardness(&m.item)).map(|h| h.max(EASY)).collect();
    each.iter().sum::<u32>().checked_div(count(each.len()))
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
    each_level(bench, minutes, 1, Some(&own.skill), |mut set| {
        let share = if part == 1 || older.is_empty() { 100 } else { 60 };
        let want = set.want(own, set.total * share / 100, 2, MOST.min(set.most));
        let mut groups = vec![set.make(&want, false)?];
        // In a short lesson two long ones would leave no room for older skills.
        while part > 1 && groups[0].len() > 1 && seconds(&groups[0]) * 4 > set.total * 3 {
            groups[0].pop();
        }
        let surely = if part == 1 { 0 } else { SURELY_MIXED.min(older.len()) };
        set.add_older(&mut groups, &older[..surely])?;
        let most = |groups: &[Vec<Made>]| if part == 1 { MOST } else { own_with(groups) };
        let room = most(&groups);
        set.add_own(&mut groups, own, room)?;
        set.fill_up(&mut groups, &older[surely..])?;
        set.lengthen(&mut groups, own)?;
        if part > 1 {
            // What is too much beside few older ones waits until more of these have come.
            let spare = keep_a_third_older(&mut groups);
            set.borrow(&mut groups, older)?;
            for made in spare {
                if groups[0].len() < own_with(&groups) && takes(&made.item) <= set.left(&groups) {
                    groups[0].push(made);
                }
            }
            let room = own_with(&groups);
            set.add_own(&mut groups, own, room)?;
        }
        if part == 1 || older.is_empty() {
            set.borrow(&mut groups, sources)?;
        }
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

/// How many of the lesson's own items there may be so that a third are older ones.
fn own_with(groups: &[Vec<Made>]) -> usize {
    2 * groups.iter().skip(1).map(Vec::len).sum::<usize>()
}

/// Takes the last of the lesson's own items away while fewer than a third are older ones; these are
/// returned.
fn keep_a_third_older(groups: &mut [Vec<Made>]) -> Vec<Made> {
    let most = own_with(groups);
    if most == 0 || most >= groups[0].len() {
        return Vec::new();
    }
    groups[0].split_off(most)
}

/// Practice over several skills, equal shares of the time, no two alike in a row; skills later in
/// the list come in where those before leave room, and all once more where the set is not full.
/// With `mend` the support sheet looks at twice as many items and takes the preferred ones first, and
/// sums of the given pairs stand on it and on the core sheet before any others. Each of the groups
/// has a support sheet of its own.
pub fn mixed(
    bench: &mut Bench,
    minutes: u16,
    sources: &[Source],
    surely: usize,
    mend: Option<&Mend>,
    groups: &[ForSheet],
) -> Result<Vec<Draft>, Fault> {
    let most = OLDER.max(ALL / sources.len().max(1));
    let each = |mut set: Set| {
        let own = groups.get(set.sheet).filter(|_| set.spot == Spot::Support);
        let (sources, surely, mend) = match own {
            Some(own) => (own.sources.as_slice(), 1, Some(&own.mend)),
            None => (sources, surely, mend),
        };
        let surely = surely.min(sources.len());
        let prefer = mend.filter(|_| set.spot == Spot::Support);
        let mut groups: Vec<Vec<Made>> = Vec::new();
        let total = set.total;
        for (index, source) in sources.iter().enumerate() {
            let room = set.room(&groups);
            if index >= surely && set.is_full(&groups) || room == 0 {
                break;
            }
            let left = set.left(&groups);
            let waiting = count(surely.saturating_sub(index).max(1));
            let least = usize::from(index < surely && left * 8 > total);
            let own = mend.and_then(|mend| mend.part(left, index, surely));
            let share = own.unwrap_or(left / waiting);
            let most = most.min(room.div_ceil(surely.saturating_sub(index).max(1)));
            let mut mending = match mend {
                Some(mend) => mend.sums(set.bench, index, &set.want(source, share, 0, ALL))?,
                None => Vec::new(),
            };
            let share = share.saturating_sub(seconds(&mending));
            let (least, most) =
                (least.saturating_sub(mending.len()), most.saturating_sub(mending.len()));
            let times = if prefer.is_some() { 2 } else { 1 };
            let want = set.want(source, share * count(times), least, most * times);
            let mut made = set.make(&want, false)?;
            if let Some(prefer) = prefer {
                made.sort_by_key(|m| !prefer.prefers(m));
                keep_within(&mut made, share, least);
                made.truncate(most);
            }
            mending.extend(made);
            groups.push(mending);
        }
        once_more(&mut set, &mut groups, sources)?;
        if let (Some(own), 1) = (sources.first(), sources.len()) {
            set.lengthen(&mut groups, own)?;
        }
        set.borrow(&mut groups, sources)?;
        Ok(interleave(groups))
    };
    let own = sources.first().filter(|_| mend.is_some()).map(|own| own.skill.as_str());
    each_level(bench, minutes, groups.len().max(1), own, each)
}

/// More of each skill in turn while the set is not full.
fn once_more(set: &mut Set, groups: &mut [Vec<Made>], sources: &[Source]) -> Result<(), Fault> {
    for (index, source) in sources.iter().enumerate().take(groups.len()) {
        let room = set.room(groups);
        if set.is_full(groups) || room == 0 {
            break;
        }
        let want = set.want(source, set.left(groups), 0, OLDER.min(room));
        let more = set.make(&want, true)?;
        groups[index].extend(more);
    }
    Ok(())
}

/// Skills whose items are of one nature, and which share of a sheet's time they get.
#[derive(Debug, Clone)]
pub struct Share {
    /// The weight of their time among that of all.
    pub weight: u32,
    /// The skills.
    pub sources: Vec<Source>,
}

/// Practice in which each nature of item takes its share of the time, its skills in turn, no two
/// alike in a row.
pub fn in_shares(bench: &mut Bench, minutes: u16, shares: &[Share]) -> Result<Vec<Draft>, Fault> {
    let all = shares.iter().map(|s| s.weight).sum::<u32>().max(1);
    let sources: Vec<Source> = shares.iter().flat_map(|s| s.sources.clone()).collect();
    each_level(bench, minutes, 1, None, |mut set| {
        let mut groups: Vec<Vec<Made>> = Vec::new();
        for share in shares {
            let all_of_it = set.total * share.weight / all;
            let mut left = all_of_it;
            for (index, source) in share.sources.iter().enumerate() {
                let waiting = count(share.sources.len() - index);
                let (room, free) = (set.room(&groups), set.left(&groups));
                // One at least while more than half of the share is left.
                let least = usize::from(left * 2 > all_of_it && room > 0);
                let want = set.want(source, left / waiting, least, 3.min(room));
                let mut made = set.make(&want, false)?;
                keep_within(&mut made, free, 0);
                left = left.saturating_sub(seconds(&made));
                groups.push(made);
            }
        }
        for _ in 0..ROUNDS {
            for (index, source) in sources.iter().enumerate() {
                let room = set.room(&groups);
                // What takes long had its share.
                let long = groups[index].iter().any(|m| m.item.seconds * 6 > set.total);
                if set.is_full(&groups) || room == 0 || long || groups[index].len() > ROUNDS {
                    continue;
                }
                let want = set.want(source, set.left(&groups), 0, 1);
                let more = set.make(&want, true)?;
                groups[index].extend(more);
            }
        }
        Ok(interleave(groups))
    })
}

/// Keeps items from the front while they fit the seconds, and at least so many.
fn keep_within(made: &mut Vec<Made>, seconds: u32, least: usize) {
    let mut spent = 0;
    let mut kept = 0;
    made.retain(|m| {
        let keeps = kept < least || spent + takes(&m.item) <= seconds;
        if keeps {
            kept += 1;
            spent += takes(&m.item);
        }
        keeps
    });
}

/// Takes items away while a set takes longer than it may, as little as that can be; the fewest
/// that a skill must have can be too long for a short lesson.
fn keep_to(made: &mut Vec<Made>, total: u32) {
    while made.len() > 1 && seconds(made) > total {
        let over = seconds(made) - total;
        let time = |i: &usize| takes(&made[*i].item);
        let enough = (1..made.len()).filter(|i| time(i) >= over).min_by_key(time);
        let Some(out) = enough.or_else(|| (1..made.len()).max_by_key(time)) else { return };
        made.remove(out);
    }
}

/// The sheets in the order of [`LEVELS`], so many of them support sheets. Core is made first: the support sheet has at most a third
/// more items, for quick ones would otherwise be many.
fn each_level(
    bench: &mut Bench,
    minutes: u16,
    support: usize,
    own: Option<&str>,
    mut make: impl FnMut(Set) -> Result<Vec<Made>, Fault>,
) -> Result<Vec<Draft>, Fault> {
    let mut drafts = Vec::new();
    let mut core: Vec<Made> = Vec::new();
    let sheets = (0..support).map(|sheet| (sheet, LEVELS[0]));
    let sheets = [(0, LEVELS[1])].into_iter().chain(sheets).chain([(0, LEVELS[2])]);
    for (sheet, (level, spot, profile)) in sheets {
        bench.next_level();
        let total = practice_seconds(minutes);
        let capped = level == Level::Support && !core.is_empty();
        let most = if capped { (core.len() * 4 / 3).max(BLOCK) } else { ALL };
        let forms = Forms::of(bench.warm_up(), own);
        let bench = &mut *bench;
        let above = forms.clone();
        let set = Set { bench, spot, profile, total, core: &core, most, sheet, forms };
        let mut made = make(set)?;
        keep_to(&mut made, total);
        mix(bench, &mut made, &above, (spot, total))?;
        rising(&mut made, bench);
        if seconds(&made) * 100 < total * SPARSE {
            let (filled, of) = (seconds(&made).div_ceil(60), total / 60);
            let name = format!("{spot:?}").to_lowercase();
            bench.miss(format!(
                "The {name} sheet fills only {filled} of {of} minutes: have more sums ready."
            ));
        }
        if level == Level::Core {
            core.clone_from(&made);
        }
        drafts.push(Draft { name: SectionName::Practice, level: Some(level), minutes, made });
    }
    // Core stands after the support sheets.
    drafts[..=support].rotate_left(1);
    Ok(drafts)
}
