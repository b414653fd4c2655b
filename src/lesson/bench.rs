//! Where sections are made: requests to the makers, and what a pupil has already been given.

use super::forms::Forms;
use super::given_away::{OnPaper, Read, asked};
use super::measures::{form, left_to_do};
use super::sheet_rules::RING;
use super::{Fault, Findings};
use crate::exercise::makers::story::read_scenes;
use crate::exercise::makers::{self, Met, Request, Setting, Spot};
use crate::exercise::patterns::Task;
use crate::exercise::{Item, Kind, Profile, Working, notes_seconds};
use crate::method::RouteKind;
use crate::plan::{OwnSums, Plan};
use crate::report::Report;
use crate::seed::Seed;
use std::collections::BTreeSet;
use std::mem::discriminant;
use std::sync::Arc;

/// Who makes items; the lessons' tests put another in the place of ours.
pub trait Makers {
    /// Whether there is a maker of this name.
    fn known(&self, maker: &str) -> bool;
    /// Makes a set of items for pupils who have met these products.
    fn make(
        &self,
        maker: &str,
        request: &Request,
        setting: &Setting,
        met: &Met,
    ) -> Result<Vec<Item>, String>;
}

/// The makers of our ladder.
pub struct Ours;

impl Makers for Ours {
    fn known(&self, maker: &str) -> bool {
        makers::known(maker)
    }
    fn make(
        &self,
        maker: &str,
        request: &Request,
        setting: &Setting,
        met: &Met,
    ) -> Result<Vec<Item>, String> {
        makers::make_after(maker, request, setting, met)
    }
}

/// What a section wants of one skill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Want {
    /// The skill.
    pub skill: String,
    /// Its part, or for warm-ups its n-th return.
    pub part: u32,
    /// Where the items stand.
    pub spot: Spot,
    /// The occasion, as the makers deal their numbers out: `A` a lesson of the skill, `C2` the
    /// second catch-up, `R1` the first revision, `m3` the third return among another's practice.
    pub occasion: String,
    /// How practised the pupils are.
    pub profile: Profile,
    /// The most seconds in all.
    pub seconds: u32,
    /// The fewest items, whatever the seconds.
    pub least: usize,
    /// The most items.
    pub most: usize,
}

impl Want {
    /// What the makers are asked for.
    fn request<'a>(&'a self, name: &'a str, own: &'a [(u64, u64)]) -> Request<'a> {
        let Want { skill, part, spot, occasion: _, profile, seconds, least, most } = self;
        Request {
            skill,
            part: *part,
            spot: *spot,
            name,
            profile: *profile,
            seconds: *seconds,
            least: *least,
            most: *most,
            own,
        }
    }
}

/// An item and what it was made for, so that it can be exchanged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Made {
    /// The item.
    pub item: Item,
    /// What it was made for.
    pub want: Want,
}

/// The seconds of all items.
pub fn seconds(made: &[Made]) -> u32 {
    made.iter().map(|m| m.item.seconds).sum()
}

/// Makes items for one lesson.
pub struct Bench<'a> {
    makers: &'a dyn Makers,
    plan: &'a Plan,
    setting: Setting,
    /// What the lessons before have asked.
    met: &'a Met,
    /// What every pupil gets, and what the pupils of the level being made get.
    shared: OnPaper,
    level: OnPaper,
    /// What the exit check asks for.
    on_slip: BTreeSet<u64>,
    /// The forms of question in the warm-up, which stands above every level's practice.
    warm_up: Forms,
    version: &'a str,
    /// What could not be made, a sentence each.
    pub missing: Vec<String>,
}

impl<'a> Bench<'a> {
    /// An empty bench for the plan's class.
    pub fn new(
        plan: &'a Plan,
        version: &'a str,
        makers: &'a dyn Makers,
        met: &'a Met,
    ) -> Bench<'a> {
        let setting = setting(plan);
        let (shared, level, on_slip, warm_up, missing) = Default::default();
        Bench { makers, plan, setting, met, shared, level, on_slip, warm_up, version, missing }
    }

    /// What marking has found: in begun sums of a skill that needs work the step at which its
    /// commonest pattern begins is left to the pupil first.
    pub fn shows(&mut self, findings: &Findings) {
        for (skill, finding) in findings.skills.iter().filter(|(_, f)| f.needs_work()) {
            let pattern = finding.patterns.first().map(|p| (skill.clone(), p.name.clone()));
            self.setting.shown.extend(pattern);
        }
    }

    /// Whether there is a maker for the skill.
    pub fn can_make(&self, id: &str) -> bool {
        self.plan.ladder.skills.get(id).is_some_and(|skill| self.makers.known(&skill.maker))
    }

    /// The plan of the class.
    pub fn plan(&self) -> &'a Plan {
        self.plan
    }

    /// From here on items go to the pupils of another level, who have not seen those of the last.
    pub fn next_level(&mut self) {
        self.level = OnPaper::default();
    }

    /// What was made and is not shown after all is free again: all pupils have these items only.
    pub fn only<'m>(&mut self, made: impl IntoIterator<Item = &'m Made>) {
        self.shared = made.into_iter().map(|m| &m.item).collect();
    }

    /// Says once that something is missing.
    pub fn miss(&mut self, sentence: String) {
        if !self.missing.contains(&sentence) {
            self.missing.push(sentence);
        }
    }

    /// Makes what is wanted; what a pupil already has is left out and made up for from other
    /// sets. A skill without a maker gives nothing and is noted as missing.
    pub fn make(&mut self, want: &Want) -> Result<Vec<Made>, Fault> {
        self.make_as(want, "")
    }

    /// A second set for the same purpose.
    pub fn make_more(&mut self, want: &Want) -> Result<Vec<Made>, Fault> {
        self.make_as(want, " more")
    }

    fn make_as(&mut self, want: &Want, again: &str) -> Result<Vec<Made>, Fault> {
        if want.most == 0 {
            return Ok(Vec::new());
        }
        let Some(maker) = self.maker_of(&want.skill) else { return Ok(Vec::new()) };
        let first = self.ask(&maker, want, again)?;
        let wished = first.len();
        let stories = first.iter().any(|item| item.kind == Kind::Story);
        let mut made = self.keep_new(first, want, (want.seconds, wished), false);
        for try_again in [" instead", " otherwise", " at last"] {
            let spent = seconds(&made);
            if made.len() >= wished || spent >= want.seconds.max(1) {
                break;
            }
            let left = wished - made.len();
            let least = want.least.saturating_sub(made.len());
            let seconds = want.seconds - spent;
            // Further on in its course a story skill tells other scenes.
            let most = if stories { left + MORE_STORIES } else { left };
            let rest = Want { seconds, least: least.max(most - left), most, ..want.clone() };
            let others = self.ask(&maker, &rest, &format!("{again}{try_again}"))?;
            // Rather a scene again than no story.
            let again = try_again == " at last";
            made.extend(self.keep_new(others, want, (seconds, left), again));
        }
        Ok(made)
    }

    /// Items of these pairs, one each, as far as pupils do not have them and the seconds go.
    pub fn make_of(&mut self, want: &Want, pairs: &[(u64, u64)]) -> Result<Vec<Made>, Fault> {
        let Some(maker) = self.maker_of(&want.skill) else { return Ok(Vec::new()) };
        if pairs.is_empty() {
            return Ok(Vec::new());
        }
        let name = format!("{} of pairs {}", want.occasion, self.version);
        let request = Request { most: pairs.len(), ..want.request(&name, pairs) };
        let fault = |what: String| Fault { item: String::new(), what };
        let items = self.makers.make(&maker, &request, &self.setting, self.met).map_err(fault)?;
        Ok(self.keep_new(items, want, (want.seconds, pairs.len()), true))
    }

    /// Items like those wanted, to look at: nobody gets them.
    pub fn look(&self, want: &Want) -> Result<Vec<Made>, Fault> {
        self.look_again(want, "")
    }

    /// The same; `again` names another set.
    pub fn look_again(&self, want: &Want, again: &str) -> Result<Vec<Made>, Fault> {
        let Some(skill) = self.plan.ladder.skills.get(&want.skill) else { return Ok(Vec::new()) };
        let items = self.ask(&skill.maker, want, again)?;
        Ok(items.into_iter().map(|item| Made { item, want: want.clone() }).collect())
    }

    /// Notes the warm-up.
    pub fn warms_up_with(&mut self, made: &[Made]) {
        self.warm_up = made.iter().collect();
    }

    /// The forms of question in the warm-up.
    pub fn warm_up(&self) -> &Forms {
        &self.warm_up
    }

    /// The class's seed.
    pub fn seed(&self) -> &Seed {
        &self.setting.seed
    }

    /// Whether nobody in the lesson has this product yet, either way round.
    pub fn is_new_product(&self, a: u64, b: u64) -> bool {
        !self.shared.has_product(a, b) && !self.level.has_product(a, b)
    }

    /// Whether a pupil of the spot has worked this product out on paper in a lesson before.
    pub fn worked_before(&self, a: u64, b: u64, spot: Spot) -> bool {
        self.met.on_paper(a, b, spot)
    }

    /// Whether an exit check before has asked this.
    pub fn was_checked(&self, item: &Item) -> bool {
        let asked = self.met.checked(&item.skill);
        Task::of(item).is_some_and(|task| asked.contains(&task))
    }

    /// How long the first item of such a set takes; 0 where none can be made.
    pub fn first_seconds(&self, want: &Want) -> u32 {
        let Some(skill) = self.plan.ladder.skills.get(&want.skill) else { return 0 };
        let items = self.ask(&skill.maker, want, "").unwrap_or_default();
        items.first().map_or(0, |item| item.seconds)
    }

    fn maker_of(&mut self, id: &str) -> Option<String> {
        let skill = self.plan.ladder.skills.get(id);
        let maker = skill.map_or(id, |skill| &skill.maker).to_owned();
        if self.makers.known(&maker) {
            return Some(maker);
        }
        let title = skill.map_or(id, |skill| &skill.title);
        self.miss(format!("No exercises can be made for “{title}” yet: prepare your own."));
        None
    }

    /// Asks a maker; `again` (without digits, which belong to the occasion) names another try.
    fn ask(&self, maker: &str, want: &Want, again: &str) -> Result<Vec<Item>, Fault> {
        self.ask_after(self.met, maker, want, again)
    }

    /// The same for pupils who have met these products.
    fn ask_after(
        &self,
        met: &Met,
        maker: &str,
        want: &Want,
        again: &str,
    ) -> Result<Vec<Item>, Fault> {
        let name = format!("{}{again} {}", want.occasion, self.version);
        let own = if again.is_empty() { self.own_sums(want) } else { Vec::new() };
        let request = want.request(&name, &own);
        let fault = |what: String| Fault { item: String::new(), what };
        self.makers.make(maker, &request, &self.setting, met).map_err(fault)
    }

    /// The teacher's own sums for this set; version B has other numbers.
    pub fn own_sums(&self, want: &Want) -> Vec<(u64, u64)> {
        if want.occasion != LESSON || self.version != "A" {
            return Vec::new();
        }
        let fits = |own: &&OwnSums| {
            own.skill == want.skill && own.part.is_none_or(|part| u32::from(part) == want.part)
        };
        let pairs = |own: &OwnSums| match want.spot {
            Spot::Example => own.example.clone(),
            Spot::Support | Spot::Core | Spot::Stretch => own.practice.clone(),
            Spot::ExitCheck => own.exit_check.clone(),
            _ => Vec::new(),
        };
        self.plan.own.iter().filter(fits).flat_map(pairs).collect()
    }

    /// Keeps what no pupil of the section has yet, and notes it.
    fn keep_new(
        &mut self,
        items: Vec<Item>,
        want: &Want,
        (seconds, most): (u32, usize),
        scenes_again: bool,
    ) -> Vec<Made> {
        let mut kept = Vec::new();
        let mut spent = 0;
        for item in items {
            let over = spent + item.seconds > seconds && kept.len() >= want.least;
            let told = || self.shared.tells_again(&item) || self.level.tells_again(&item);
            if over || kept.len() >= most || !scenes_again && told() {
                continue;
            }
            let read = Read::of(&item);
            let new = self.shared.allows_read(&read) && self.level.allows_read(&read);
            if new && self.is_new_on_slip(&item, want.spot) {
                spent += item.seconds;
                self.note_read(&item, want.spot, read);
                kept.push(Made { item, want: want.clone() });
            }
        }
        kept
    }

    /// Whether a pupil of the section would meet this product for the first time in the lesson, and
    /// nothing there gives its answer away.
    pub fn is_new(&self, item: &Item) -> bool {
        let read = Read::of(item);
        self.shared.allows_read(&read) && self.level.allows_read(&read)
    }

    /// No two sums of an exit check have the same answer: one could be copied from the other.
    fn is_new_on_slip(&self, item: &Item, spot: Spot) -> bool {
        spot != Spot::ExitCheck
            || asked(item).is_none_or(|answer| answer < 10 || !self.on_slip.contains(&answer))
    }

    /// Notes that pupils have it now.
    pub fn note(&mut self, item: &Item, spot: Spot) {
        self.note_read(item, spot, Read::of(item));
    }

    fn note_read(&mut self, item: &Item, spot: Spot, read: Read) {
        let one_level = matches!(spot, Spot::Support | Spot::Core | Spot::Stretch);
        let paper = if one_level { &mut self.level } else { &mut self.shared };
        paper.note_read(item, read);
        if spot == Spot::ExitCheck {
            self.on_slip.extend(asked(item));
        }
    }

    /// Notes that pupils have had it, whatever level they are on.
    pub fn note_for_all(&mut self, item: &Item) {
        self.shared.note(item);
    }

    /// The item most like this one, the `index`-th of its check, that its pupils have not had:
    /// the same sort of question, likely to bring out the same mistakes, taking about so many seconds. On slips stories are
    /// answered without notes.
    pub fn twin(
        &self,
        made: &Made,
        (index, takes, on_slips): (usize, u32, bool),
        taken: &OnPaper,
    ) -> Result<Option<Item>, Fault> {
        let Some(skill) = self.plan.ladder.skills.get(&made.want.skill) else { return Ok(None) };
        let want = &made.want;
        let again = format!(" like {}", in_letters(&index.to_string()));
        let old = &made.item;
        let wanted = patterns_of(old);
        // A mistake that would not show weighs as much as two hundredths of the time.
        let unlike = |item: &Item| {
            let missed = wanted.difference(&patterns_of(item)).count();
            let lost = u32::try_from(missed).unwrap_or(u32::MAX).saturating_mul(old.seconds) / 50;
            (sort_of(item) != sort_of(old), item.seconds.abs_diff(takes) + lost)
        };
        let mut best: Option<Item> = None;
        // Short lists have little left for a second check: then what others would get, and at last all
        // there is.
        let few = [want.spot, Spot::Homework, Spot::WarmUp, Spot::Core].map(|spot| (spot, TWINS));
        for (spot, most) in few.into_iter().chain([(Spot::Homework, ALL_TWINS)]) {
            for more in ["", " more", " still more"] {
                let seconds = old.seconds * u32::try_from(most * 4).unwrap_or(u32::MAX);
                let want = Want { spot, seconds, least: most / 2, most, ..want.clone() };
                let mut others = self.ask(&skill.maker, &want, &format!("{again}{more}"))?;
                if on_slips {
                    let pace = self.plan.class.pace;
                    others.iter_mut().for_each(|item| without_notes(item, want.profile, pace));
                }
                let new = |item: &Item| {
                    taken.allows(item)
                        && item.kind == old.kind
                        && discriminant(&item.space) == discriminant(&old.space)
                        && left_to_do(item) == left_to_do(old)
                };
                best = best.into_iter().chain(others.into_iter().filter(new)).min_by_key(unlike);
            }
            let near = |item: &Item| item.seconds.abs_diff(old.seconds) * 10 <= old.seconds;
            let alike = |item: &Item| sort_of(item) == sort_of(old) && near(item);
            // Elsewhere a story has more to be written beside it.
            if best.as_ref().is_some_and(|item| item.kind == Kind::Story || alike(item)) {
                break;
            }
        }
        Ok(best)
    }

    /// Another item of the same purpose in the place of this one, the `times`-th exchange: none of
    /// these that its pupils have. None where the makers have no other.
    pub fn exchange(
        &self,
        made: &Made,
        id: &str,
        times: u32,
        theirs: &[&Made],
    ) -> Result<Option<Item>, Fault> {
        let Some(skill) = self.plan.ladder.skills.get(&made.want.skill) else { return Ok(None) };
        let mut met = self.met.clone();
        theirs.iter().for_each(|m| met.note(&m.item, m.want.spot));
        let taken: OnPaper = theirs.iter().map(|m| &m.item).collect();
        let again = format!(" for {} {}", in_letters(id), in_letters(&times.to_string()));
        let serves = |item: &Item| !taken.holds(item) && aim(item) == aim(&made.item);
        let mut given_away = None;
        // More of the skill's share is opened where the lesson's own is used up.
        let tries =
            [("", 1), (" more", 1), (" still more", 12), (" once more", 24), (" at last", 40)];
        for (more, least) in tries {
            let (most, seconds) = (least.max(12), made.item.seconds.max(20) * 40);
            let want = Want { seconds, least, most, ..made.want.clone() };
            let others = self.ask_after(&met, &skill.maker, &want, &format!("{again}{more}"))?;
            for other in others.into_iter().filter(serves) {
                if taken.allows(&other) {
                    return Ok(Some(other));
                }
                given_away.get_or_insert(other);
            }
        }
        // Rather one that another could give away than none.
        Ok(given_away)
    }
}

/// What a class's items must suit.
pub fn setting(plan: &Plan) -> Setting {
    // They were read without a mistake when the plan was loaded.
    let own = plan.stories.iter().flat_map(|file| read_scenes(file, &mut Report::new()));
    let scenes = Arc::new(own.collect());
    let new = Setting::new(Seed::of(&plan.class.key), plan.style.clone(), plan.class.pace);
    Setting { scenes, ..new }
}

/// A story on a slip is answered without notes of what is known and needed.
pub fn without_notes(item: &mut Item, profile: Profile, pace: u32) {
    item.seconds = item.seconds.saturating_sub(notes_seconds(item, profile, pace)).max(1);
}

/// How many stories more are looked at where a scene was told already.
const MORE_STORIES: usize = 5;

/// How many items a twin is chosen from at a time.
const TWINS: usize = 12;
/// The same where none of them is alike.
const ALL_TWINS: usize = 100;

/// What sort of question an item is: the word it begins with, the length of its numbers, and for a
/// story the signs of its sum.
fn sort_of(item: &Item) -> (Option<&str>, Vec<usize>, String) {
    // A story begins with somebody's name.
    let asks = |w: &&str| w.chars().all(char::is_alphabetic) && item.kind != Kind::Story;
    let expression = item.expression.as_deref().unwrap_or_default();
    let signs = expression.replace(|c: char| c.is_ascii_digit(), "");
    let lengths = match item.kind {
        Kind::Story => Vec::new(),
        _ => expression.split('*').map(str::len).collect(),
    };
    (item.prompt.split_whitespace().next().filter(asks), lengths, signs)
}

/// What an item is for: its kind and the space it is answered on, what is begun, the way it is
/// worked, what its numbers show, and the form of its question.
pub fn aim(item: &Item) -> impl PartialEq + use<'_> {
    let (word, lengths, signs) = sort_of(item);
    let (route, shows) = match (&item.kind, &item.working) {
        (Kind::Mental, Working::Route(route)) => (Some(route.name), ""),
        (Kind::Written | Kind::Row, _) => (None, in_rows(&item.purpose)),
        _ => (None, ""),
    };
    let lengths = match (item.kind, route) {
        (Kind::Missing, _) => Vec::new(),
        // Where places only shift, the zeros are what a sum is for.
        (_, Some(RouteKind::Shift)) => zeros(item),
        _ => lengths,
    };
    let asks = (word, lengths, signs, form(item), item.prompt.contains('='));
    (item.kind, discriminant(&item.space), left_to_do(item), route, shows, asks)
}

/// What a sum shows in its rows: whether the adding carries too is by the way.
fn in_rows(purpose: &str) -> &str {
    const ROWS: [(&str, &str); 3] = [
        ("a carry or two", "few carries"),
        ("few carries", "few carries"),
        ("carries in every row", "carries in every row"),
    ];
    let found = ROWS.iter().find(|(begins, _)| purpose.starts_with(begins));
    found.map_or(purpose, |(_, rows)| rows)
}

/// How many zeros each factor ends in.
fn zeros(item: &Item) -> Vec<usize> {
    let factors = item.expression.as_deref().unwrap_or_default().split('*');
    factors.map(|n| n.len() - n.trim_end_matches('0').len()).collect()
}

fn patterns_of(item: &Item) -> BTreeSet<String> {
    item.likely.iter().flat_map(|l| l.patterns.clone()).collect()
}

/// The occasion of a lesson's own sets.
pub const LESSON: &str = "A";

/// Digits as letters, a for 0.
fn in_letters(text: &str) -> String {
    let letter = |c: char| match c.to_digit(10) {
        Some(digit) => char::from(b'a' + u8::try_from(digit).unwrap_or(0)),
        None => c,
    };
    text.chars().map(letter).collect()
}

/// What makes two items the same to a pupil: the same product either way round, else the same
/// expression, else the same question.
pub fn sameness(item: &Item) -> String {
    let Some(expression) = &item.expression else {
        return item.prompt.trim_end_matches(RING).trim_end().to_owned();
    };
    let factors: Vec<u64> = expression.split('*').filter_map(|f| f.trim().parse().ok()).collect();
    match factors[..] {
        [a, b] if expression.matches('*').count() == 1 => format!("{}*{}", a.min(b), a.max(b)),
        _ => expression.clone(),
    }
}
