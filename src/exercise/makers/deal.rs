//! Which products a set may use, so that no pupil meets one twice in a term.
//!
//! Every unordered pair of factors has a *point* on a line, given by the class's seed and the two
//! numbers alone. Every set owns a *stretch* of that line, cut out step by step: first for the
//! skill, then for the occasion (a lesson, a catch-up, a revision), the part, the spot and the
//! version. Stretches of different sets never overlap, so sets cannot share a product, and no set
//! needs to know what another drew: each stream stays its own. The levels of practice are
//! different spots, so a pupil who changes level meets new numbers too.
//!
//! Pairs are told apart by *class*: the digits of the longer and of the shorter factor. Each class
//! is shared out among the skills whose sums are of that size.
//!
//! A set that finds too little in its own stretch (few pairs have two digits each) takes more
//! from its share of its skill's *reserve*. Where even its least number is not reached, the whole
//! reserve is open to it, and two sets could meet by chance. Warm-ups
//! may take any pair of their skill: within a lesson no pupil meets it twice, within a term it may
//! come back.

use super::{Request, Spot};
use crate::seed::{Seed, Stream};

/// A stretch of the line, from a point on, so long.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stretch {
    from: u64,
    length: u64,
}

/// The line ends here; small enough that shares never overflow.
pub(super) const LINE: u64 = 1 << 48;

impl Stretch {
    /// The whole line.
    pub(super) const WHOLE: Stretch = Stretch { from: 0, length: LINE };

    /// The part with this index when the stretch is shared out by weights.
    pub(super) fn share(self, index: usize, weights: &[u64]) -> Stretch {
        let all: u64 = weights.iter().sum::<u64>().max(1);
        let before: u64 = weights.iter().take(index).sum();
        let own = weights.get(index).copied().unwrap_or(0);
        let at = |w: u64| u128::from(self.length) * u128::from(w) / u128::from(all);
        let point = |w| u64::try_from(at(w)).unwrap_or(self.length);
        Stretch { from: self.from + point(before), length: point(before + own) - point(before) }
    }

    /// The n-th of endlessly many parts (from 0), each half as long as the one before.
    fn halving(self, n: u32) -> Stretch {
        let rest = self.length.checked_shr(n).unwrap_or(0);
        Stretch { from: self.from + self.length - rest, length: rest - rest / 2 }
    }

    /// The n-th part (from 0): equal ones first, then smaller and smaller ones.
    fn nth(self, n: u32, equal: u32) -> Stretch {
        let weights = vec![1; equal as usize + 1];
        if n < equal {
            self.share(n as usize, &weights)
        } else {
            self.share(equal as usize, &weights).halving(n - equal)
        }
    }

    /// Its first point.
    pub(super) fn from(self) -> u64 {
        self.from
    }

    /// The point after its last.
    pub(super) fn end(self) -> u64 {
        self.from + self.length
    }

    /// Whether the point lies on it.
    pub(super) fn holds(self, point: u64) -> bool {
        point >= self.from && point - self.from < self.length
    }
}

/// The points of a class's pairs.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line(u64);

impl Line {
    /// The line of this class's seed; `kind` keeps rows and whole products apart.
    pub(super) fn of(seed: &Seed, kind: &str) -> Line {
        Line(seed.child("products").child(kind).below(u64::MAX))
    }

    /// What the order of a large class hangs on.
    pub(super) fn key(self) -> u64 {
        self.0
    }

    /// Where a pair lies, whichever way round it stands.
    pub(super) fn point(self, a: u64, b: u64) -> u64 {
        let (more, less) = (a.max(b), a.min(b));
        let mixed = mix(mix(self.0 ^ more).wrapping_add(less));
        mixed >> 16
    }
}

/// The point of the `rank`-th of so many pairs spread evenly over the line.
pub(super) fn at_rank(rank: usize, of: usize) -> u64 {
    let (rank, of) = (u64::try_from(rank).unwrap_or(0), u64::try_from(of).unwrap_or(1).max(1));
    LINE / of * rank
}

/// A mixing step whose every input bit moves every output bit (the finisher of SplitMix64,
/// Steele, Lea and Flood 2014; constants from memory).
pub(super) fn mix(n: u64) -> u64 {
    let n = n.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let n = (n ^ (n >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let n = (n ^ (n >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    n ^ (n >> 31)
}

/// How much of a skill's stretch lessons, catch-ups, revisions, practice mixed into other skills'
/// lessons, other sets, the reserve and the products of which single rows are asked get.
const OCCASIONS: [u64; 7] = [17, 4, 3, 7, 1, 9, 2];
const OTHER: usize = 4;
const RESERVE: usize = 5;
const ROWS: usize = 6;

/// What a set's name says: the kind of occasion, its number and its version.
///
/// Names that begin with A or B, and none, are a lesson's sets; those that begin with C, R or M
/// belong to catch-ups, revisions and mixed practice, any digits in them are their number; a
/// capital B at the end is version B.
fn occasion(name: &str) -> (usize, u32, u32) {
    let version = u32::from(name.ends_with('B'));
    let kind = match name.chars().next().map(|c| c.to_ascii_lowercase()) {
        None | Some('a' | 'b') => 0,
        Some('c') => 1,
        Some('r') => 2,
        Some('m') => 3,
        _ => OTHER,
    };
    let number: String = name.chars().filter(char::is_ascii_digit).take(4).collect();
    (kind, number.parse().unwrap_or(0), version)
}

const SUPPORT: usize = 3;
const STRETCH: usize = 5;

fn spot_index(spot: Spot) -> usize {
    match spot {
        Spot::WarmUp => 0,
        Spot::Example => 1,
        Spot::Guided => 2,
        Spot::Support => SUPPORT,
        Spot::Core => 4,
        Spot::Stretch => STRETCH,
        Spot::ExitCheck => 6,
        Spot::Homework => 7,
        Spot::Test => 8,
    }
}

/// How much each spot gets, by how many sums stand there.
const SPOTS: [u64; 9] = [1, 3, 3, 8, 8, 4, 9, 5, 3];
/// The spots whose first sums have no carries, each with as many.
const BARE: [u64; 9] = [0, 1, 1, 1, 1, 0, 0, 0, 0];
/// The same outside lessons: nobody is shown examples there, and checks are short.
const ELSEWHERE: [u64; 9] = [1, 1, 2, 8, 8, 3, 6, 4, 1];
/// How much of the reserve lessons, catch-ups, revisions, mixed practice and other sets get.
const RESERVED: [u64; 5] = [4, 3, 2, 6, 1];
/// What the first parts of a skill get, and all later ones together: few skills have four.
const PARTS: [u64; 5] = [6, 6, 5, 3, 1];
/// What versions A and B get.
const VERSIONS: [u64; 2] = [4, 1];

/// The same for a set's spot: a second exit check is more likely than other second sets.
fn versions(spot: Spot) -> [u64; 2] {
    if spot == Spot::ExitCheck { [2, 1] } else { VERSIONS }
}

/// Catch-ups and revisions with equal shares.
const NUMBERS: u32 = 7;

/// The stretch a set owns inside its skill's stretch. Rows stand in exit checks only, so that
/// they are not shared out by `spot`.
pub(super) fn own_stretch(skill: Stretch, request: &Request, by_spot: bool) -> Stretch {
    let (kind, _, version) = occasion(request.name);
    let stretch = one_of_its_kind(skill.share(kind, &OCCASIONS), request);
    spot_of(stretch, request, by_spot).share(version as usize, &versions(request.spot))
}

/// What this part, catch-up, revision or return gets of what its kind of occasion has.
fn one_of_its_kind(stretch: Stretch, request: &Request) -> Stretch {
    match occasion(request.name) {
        (0, ..) => part_of(stretch, request),
        (_, number, _) => stretch.nth(number, NUMBERS),
    }
}

/// What a spot gets of a stretch.
fn spot_of(stretch: Stretch, request: &Request, by_spot: bool) -> Stretch {
    let weights = if is_lesson(request) { &SPOTS } else { &ELSEWHERE };
    if by_spot { stretch.share(spot_index(request.spot), weights) } else { stretch }
}

/// Whether a set belongs to a lesson that teaches its skill.
pub(super) fn is_lesson(request: &Request) -> bool {
    occasion(request.name).0 == 0
}

/// The place of an occasion among all that a short list must serve.
fn turn(request: &Request) -> u64 {
    let (kind, number, version) = occasion(request.name);
    let nth = if kind == 0 { request.part.saturating_sub(1) } else { number };
    u64::try_from(kind).unwrap_or(0) * 5 + u64::from(nth) + 17 * u64::from(version)
}

/// So many thousandths of the way on from one occasion to the next: steps of the golden section
/// fall evenly, however many there are.
const STEP: u64 = 618;

/// Where a set begins in a short list of this length that it shares with others; a second try
/// begins elsewhere.
pub(super) fn begins(request: &Request, length: usize) -> usize {
    let level = spot_index(request.spot).clamp(SUPPORT, STRETCH) - SUPPORT;
    let again = ["more", "instead", "otherwise", "at last", " for "];
    let again = again.iter().position(|word| request.name.contains(word)).map_or(0, |at| at + 1);
    let turn = turn(request) * 3 + u64::try_from(level + again * 5).unwrap_or(0);
    let length = u64::try_from(length).unwrap_or(1).max(1);
    usize::try_from(turn * length * STEP / 1000 % length).unwrap_or(0)
}

/// Where a point of a short list lies on this occasion: the line is moved on from one to the next,
/// so that the stretches of the spots pass over all of it.
pub(super) fn moved(point: u64, request: &Request) -> u64 {
    (point + turn(request) * (LINE / 1000 * STEP)) % LINE
}

/// What a part gets of a stretch; a catch-up, a revision or a return has one part only.
fn part_of(stretch: Stretch, request: &Request) -> Stretch {
    let part = request.part.saturating_sub(1);
    let named = PARTS.len() - 1;
    let index = usize::try_from(part).unwrap_or(named).min(named);
    let stretch = stretch.share(index, &PARTS);
    let later = part.checked_sub(u32::try_from(named).unwrap_or(0));
    later.map_or(stretch, |n| stretch.halving(n))
}

/// The stretch of the first part where all pairs without any carry go: they are few, and only
/// the first lesson of a method needs them.
pub(super) fn bare_stretch(skill: Stretch, request: &Request) -> Option<Stretch> {
    let (kind, _, version) = occasion(request.name);
    let first = kind == 0 && request.part == 1;
    first.then(|| {
        skill
            .share(spot_index(request.spot), &BARE)
            .share(version as usize, &versions(request.spot))
    })
}

/// The skill's reserve: first what this set alone has of it, then all of it, at last all that the
/// skill has.
pub(super) fn reserves(skill: Stretch, request: &Request, by_spot: bool) -> [Stretch; 3] {
    let whole = skill.share(RESERVE, &OCCASIONS);
    let (kind, _, version) = occasion(request.name);
    let first = one_of_its_kind(whole.share(kind, &RESERVED), request);
    let first = spot_of(first, request, by_spot).share(version as usize, &versions(request.spot));
    [first, whole, skill]
}

/// The stretch of a set in a list too short to be dealt out for a term: sets of one lesson do not
/// meet, those of different lessons may. The levels have stretches of their own or share one; where
/// they have their own, so have the exit checks of versions A and B.
pub(super) fn lesson_stretch(request: &Request, levels_apart: bool) -> Stretch {
    let mut weights = SPOTS;
    let mut index = spot_index(request.spot);
    if !levels_apart && (SUPPORT..=STRETCH).contains(&index) {
        index = SUPPORT;
        weights[SUPPORT] = 16;
    }
    if !levels_apart {
        weights[SUPPORT + 1..=STRETCH].fill(0);
    }
    let stretch = Stretch::WHOLE.share(index, &weights);
    if levels_apart && request.spot == Spot::ExitCheck {
        let (_, _, version) = occasion(request.name);
        return stretch.share(version as usize, &[1, 1]);
    }
    stretch
}

/// Where a set begins in what it shares with the other sets of its skill.
pub(super) fn beginning(request: &Request) -> usize {
    let part = usize::try_from(request.part).unwrap_or(0);
    let (kind, number, version) = occasion(request.name);
    let other = version as usize * 5 + kind * 37 + usize::try_from(number).unwrap_or(0) * 11;
    (part * SPOTS.len() + spot_index(request.spot) + other) * 3
}

/// The place of a set among those that begin without carries: of so many skills the one at this
/// place, each with four spots.
pub(super) fn bare_slot(request: &Request, (at, of): (usize, usize)) -> usize {
    let first = match request.spot {
        Spot::Support => 0,
        Spot::Example => 1,
        Spot::Core => 2,
        _ => 3,
    };
    let version = occasion(request.name).2 as usize;
    (version * 4 + first) * of + at
}

/// The skill's products of which only single rows are asked: nobody multiplies them out.
pub(super) fn rows_share(skill: Stretch) -> Stretch {
    skill.share(ROWS, &OCCASIONS)
}

/// The stream of a set: the order in which it takes what it owns.
pub(super) fn stream(request: &Request, seed: &Seed, what: &str) -> Stream {
    seed.child(&format!("{}/{}", request.skill, request.part))
        .child(&format!("{:?}/{}", request.spot, request.name))
        .child(what)
        .stream()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::Profile;

    const ALL: [Spot; 9] = [
        Spot::WarmUp,
        Spot::Example,
        Spot::Guided,
        Spot::Support,
        Spot::Core,
        Spot::Stretch,
        Spot::ExitCheck,
        Spot::Homework,
        Spot::Test,
    ];

    fn request(part: u32, spot: Spot, name: &str) -> Request<'_> {
        let profile = Profile::Typical;
        Request { skill: "s", part, spot, name, profile, seconds: 0, least: 0, most: 0, own: &[] }
    }

    #[test]
    fn no_two_sets_own_the_same_stretch_of_the_line() {
        let mut stretches = Vec::new();
        for name in
            ["A", "B", "C1", "C1B", "C2", "C9", "catch-up 3", "R1", "R2/B", "m1 A", "m12 B", "test"]
        {
            // Only a lesson is one of several parts.
            let parts = if occasion(name).0 == 0 { 1..=9 } else { 1..=1 };
            for part in parts {
                for spot in ALL {
                    let own = own_stretch(Stretch::WHOLE, &request(part, spot, name), true);
                    assert!(own.length > 0, "{name} {part} {spot:?}");
                    stretches.push(own);
                }
            }
        }
        stretches.push(reserves(Stretch::WHOLE, &request(1, Spot::Core, "A"), true)[1]);
        stretches.push(rows_share(Stretch::WHOLE));
        stretches.sort_by_key(|s| s.from);
        for pair in stretches.windows(2) {
            assert!(pair[0].from + pair[0].length <= pair[1].from, "{pair:?}");
        }
        let last = stretches.last().expect("there are stretches");
        assert!(last.from + last.length <= LINE);
    }

    #[test]
    fn a_pair_has_one_point_whichever_way_round_it_stands() {
        let line = Line::of(&Seed::of("key"), "2x2");
        assert_eq!(line.point(47, 36), line.point(36, 47));
        assert_ne!(line.point(47, 36), line.point(47, 63));
        assert_ne!(line.point(47, 36), Line::of(&Seed::of("other"), "2x2").point(47, 36));
    }

    #[test]
    fn points_are_spread_evenly() {
        let line = Line::of(&Seed::of("key"), "3x2");
        let mut tenths = [0_u32; 10];
        for a in 100..1000 {
            for b in 10..100 {
                let tenth = line.point(a, b) * 10 / LINE;
                tenths[usize::try_from(tenth).expect("a tenth")] += 1;
            }
        }
        assert!(tenths.iter().all(|n| (7_800..8_400).contains(n)), "{tenths:?}");
    }
}
