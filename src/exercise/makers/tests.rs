//! Every maker at every spot, in every class: kinds, expressions, spaces, seconds, numbers.

use super::*;
use crate::exercise::patterns::Task;
use crate::exercise::{Accept, Given, Kind, Space, Working, patterns};
use crate::method::Written;
use crate::number::Grouping;
use std::collections::BTreeMap;
use std::sync::LazyLock;

pub(super) const SPOTS: [Spot; 9] = [
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

fn setting(key: &str, grouping: Grouping) -> Setting {
    let style = HouseStyle { grouping, ..HouseStyle::default() };
    Setting::new(Seed::of(key), style, 100)
}

pub(super) fn request(skill: &str, part: u32, spot: Spot) -> Request<'_> {
    let (seconds, least, most) = match spot {
        Spot::WarmUp => (120, 1, 4),
        Spot::Example => (600, 1, 2),
        Spot::Guided => (240, 1, 3),
        Spot::Support | Spot::Core | Spot::Stretch => (720, 3, 6),
        Spot::ExitCheck => (360, 3, 5),
        Spot::Homework => (600, 3, 6),
        Spot::Test => (600, 2, 4),
    };
    let profile = if part <= 2 { Profile::Learning } else { Profile::Typical };
    Request { skill, part, spot, name: "A", profile, seconds, least, most, own: &[] }
}

/// Every set of every skill in this class.
fn sweep(setting: &Setting, mut each: impl FnMut(&Request, &[Item])) {
    for (request, items) in sets_of(setting) {
        each(&request, &items);
    }
}

/// What a class is given in a term, more or less.
type Sets = Vec<(Request<'static>, Vec<Item>)>;

fn sets_of(setting: &Setting) -> Sets {
    let mut sets = Vec::new();
    for name in names() {
        for part in 1..=3 {
            for spot in SPOTS {
                let request = request(name, part, spot);
                let items = make(name, &request, setting)
                    .unwrap_or_else(|fault| panic!("{name} {part} {spot:?}: {fault}"));
                sets.push((request, items));
            }
        }
    }
    sets
}

/// The sets of three classes, made once for all tests.
static CLASSES: LazyLock<[Sets; 3]> = LazyLock::new(|| classes().map(|c| sets_of(&c)));

fn each_set(sets: &Sets, mut each: impl FnMut(&Request, &[Item])) {
    for (request, items) in sets {
        each(request, items);
    }
}

/// The value of a sum of integers with `+ - * //` and brackets, read anew.
fn value(expression: &str) -> i128 {
    if let Some((before, rest)) = expression.split_once('(') {
        let (inner, after) = rest.split_once(')').expect("a bracket is closed");
        return value(&format!("{before}{}{after}", value(inner)));
    }
    let sum = expression.replace("//", "/");
    let mut total = 0;
    let mut sign = 1;
    let mut rest = sum.as_str();
    loop {
        let end = rest.find(['+', '-']).unwrap_or(rest.len());
        let mut term: Option<i128> = None;
        let mut operator = '*';
        for piece in rest[..end].split_inclusive(['*', '/']) {
            let number: i128 = piece.trim_end_matches(['*', '/']).parse().expect("a number");
            term = Some(match (term, operator) {
                (None, _) => number,
                (Some(t), '*') => t * number,
                (Some(t), _) => t / number,
            });
            operator = piece.chars().last().expect("not empty");
        }
        total += sign * term.expect("a term");
        match rest[end..].chars().next() {
            None => return total,
            Some(c) => sign = if c == '+' { 1 } else { -1 },
        }
        rest = &rest[end + 1..];
    }
}

fn classes() -> [Setting; 3] {
    [
        setting("7f3a-kingfisher", Grouping::Thousands),
        setting("class-5-b", Grouping::Indian),
        setting("another", Grouping::Spaced),
    ]
}

#[test]
fn every_item_keeps_the_contract_of_its_kind() {
    for sets in &*CLASSES {
        each_set(sets, |request, items| {
            let what = format!("{} {} {:?}", request.skill, request.part, request.spot);
            assert!(
                items.len() >= request.least && items.len() <= request.most,
                "{what}: {}",
                items.len()
            );
            for item in items {
                let what = format!("{what}: {item:?}");
                assert_eq!(item.skill, request.skill);
                assert!(item.seconds > 0 && !item.prompt.is_empty(), "{what}");
                assert!(
                    !item.prompt.replace("row ×", "").contains(" ×") && !item.prompt.contains("× "),
                    "{what}"
                );
                if let Some(expression) = &item.expression {
                    assert_eq!(value(expression).to_string(), item.answer, "{what}");
                }
                let product = |e: &str| {
                    e.split('*').count() == 2 && e.chars().all(|c| c == '*' || c.is_ascii_digit())
                };
                match item.kind {
                    Kind::Written | Kind::Row => {
                        assert!(product(item.expression.as_deref().expect("a product")), "{what}");
                    }
                    Kind::Estimate => {
                        let Some(Accept::Between { least, most }) = &item.accept else {
                            panic!("{what}")
                        };
                        let number = |s: &str| s.parse::<u64>().expect("a number");
                        assert!(number(least) <= number(&item.answer), "{what}");
                        assert!(number(most) >= number(&item.answer), "{what}");
                    }
                    Kind::Choice => {
                        assert!(item.expression.is_none(), "{what}");
                        let right: Vec<_> = item.choices.iter().filter(|c| c.correct).collect();
                        assert_eq!(right.len(), 1, "{what}");
                        assert_eq!(right[0].text, item.answer, "{what}");
                        assert!((2..=4).contains(&item.choices.len()), "{what}");
                        assert!(matches!(item.space, Space::Options { .. }), "{what}");
                    }
                    _ => {}
                }
                if item.kind != Kind::Choice {
                    assert!(item.choices.is_empty(), "{what}");
                }
            }
        });
    }
}

#[test]
fn a_set_fits_its_seconds_once_it_has_its_least() {
    each_set(&CLASSES[0], |request, items| {
        let all: u32 = items.iter().map(|i| i.seconds).sum();
        assert!(
            items.len() == request.least || all <= request.seconds,
            "{} {:?}: {all}",
            request.skill,
            request.spot
        );
    });
}

#[test]
fn the_same_request_gives_the_same_items() {
    let setting = &classes()[1];
    // In another order, and some of them only: adding a set changes no other.
    for (request, items) in CLASSES[1].iter().rev().step_by(3) {
        assert_eq!(&make(request.skill, request, setting).expect("a set"), items);
    }
}

/// Lists too short to be dealt out for a term.
const SHORT_LISTS: [&str; 6] = [
    "facts-to-ten-by-ten",
    "multiples-of-ten",
    "tens-by-tens",
    "doubling-and-halving",
    "fives-and-twenty-fives",
    "splitting-into-factors",
];

/// Products met in a term: whole ones and rows, in either order, warm-ups and tables apart.
#[test]
fn no_product_comes_twice_in_a_term() {
    for sets in &*CLASSES {
        let mut met: BTreeMap<(u64, u64), String> = BTreeMap::new();
        let mut twice = Vec::new();
        each_set(sets, |request, items| {
            if request.spot == Spot::WarmUp || SHORT_LISTS.contains(&request.skill) {
                return;
            }
            let worked = |i: &&Item| matches!(i.kind, Kind::Written | Kind::Row | Kind::Mental);
            for item in items.iter().filter(worked) {
                let expression = item.expression.as_deref().expect("a product");
                let (a, b) = expression.split_once('*').expect("a product");
                let (a, b): (u64, u64) = (a.parse().expect("a"), b.parse().expect("b"));
                let here = format!("{} {} {:?}", request.skill, request.part, request.spot);
                if let Some(before) = met.insert((a.max(b), a.min(b)), here.clone()) {
                    twice.push(format!("{a} × {b}: {before} and {here}"));
                }
            }
        });
        assert!(met.len() > 1200, "{}", met.len());
        // Two digits by one or two are too few for every skill, so that reserves meet now and then.
        let (small, large): (Vec<String>, Vec<String>) = twice.into_iter().partition(|t| {
            let (a, rest) = t.split_once(" × ").expect("a product");
            a.len() <= 2 && rest.find(':') <= Some(2)
        });
        assert!(large.is_empty(), "{} of {}: {large:#?}", large.len(), met.len());
        assert!(small.len() * 200 <= met.len(), "{} of {}: {small:#?}", small.len(), met.len());
    }
}

#[test]
fn a_row_says_what_its_likely_wrong_answers_show() {
    let setting = setting("rows", Grouping::Thousands);
    let mut rows = 0;
    for skill in ["long-two-by-two", "long-three-by-three", "zeros-in-multiplier"] {
        let items = make(skill, &request(skill, 1, Spot::ExitCheck), &setting).expect("a set");
        for item in items.iter().filter(|i| i.kind == Kind::Row) {
            assert!(!item.likely.is_empty(), "{}", item.prompt);
            assert!(item.likely.iter().all(|l| l.answer != item.answer && !l.shows.is_empty()));
            rows += 1;
        }
    }
    assert!(rows >= 3, "{rows}");
}

#[test]
fn a_row_of_a_grid_is_filled_in_on_the_grid_and_goes_wrong_as_grids_do() {
    let setting = setting("grid rows", Grouping::Thousands);
    let mut rows = Vec::new();
    for part in 1..=3 {
        let request = request("grid-two-by-two", part, Spot::ExitCheck);
        let items = make("grid-two-by-two", &request, &setting).expect("a set");
        rows.extend(items.into_iter().filter(|i| i.kind == Kind::Row));
    }
    assert!(rows.len() >= 3, "{}", rows.len());
    for row in rows {
        assert!(
            row.prompt.starts_with("Fill in the ") && row.prompt.contains(" row (×"),
            "{}",
            row.prompt
        );
        let given = Given::AllButLast(2);
        assert_eq!(row.space, Space::Grid { columns: 2, rows: 1, given });
        assert!(!row.is_begun(), "nothing of it is worked");
        assert!(row.likely.iter().any(|l| l.shows == "a part left out"), "{:?}", row.likely);
        for name in row.likely.iter().flat_map(|l| &l.patterns) {
            let pattern = patterns::pattern(name).expect("a pattern");
            assert!(patterns::shows_in(pattern, Written::Grid), "{name} in {}", row.prompt);
        }
        let Working::Grid(grid) = &row.working else { panic!("{:?}", row.working) };
        assert_eq!(grid.rows.len(), 1);
    }
}

#[test]
fn rows_to_add_show_lost_carries_and_nothing_else() {
    let setting = setting("adding", Grouping::Thousands);
    let mut found = 0;
    for part in 1..=3 {
        let request = request("long-four-by-three", part, Spot::ExitCheck);
        let items = make("long-four-by-three", &request, &setting).expect("a set");
        let adding = |item: &&Item| matches!(Task::of(item), Some(Task::Adding(..)));
        for item in items.iter().filter(adding) {
            let whole = items.iter().find(|i| i.kind == Kind::Written).expect("a whole product");
            assert_ne!(whole.factors(), item.factors(), "whose rows would give it away");
            assert!(item.seconds * 2 < whole.seconds, "{} {}", item.seconds, whole.seconds);
            let [likely] = item.likely.as_slice() else { panic!("{:?}", item.likely) };
            assert_eq!(likely.patterns, ["adding-carries-lost"]);
            let Working::Long(long) = &item.working else { panic!("{:?}", item.working) };
            let rows: Vec<u64> = long.rows.iter().map(|row| row.value).collect();
            assert_eq!(rows.iter().sum::<u64>().to_string(), item.answer);
            assert_eq!(likely.answer, without_carrying(&rows), "{rows:?}");
            found += 1;
        }
    }
    assert_eq!(found, 3);
}

/// Each column's sum without what it carries, but for the highest, which is written whole: worked on
/// decimal strings.
fn without_carrying(rows: &[u64]) -> String {
    let texts: Vec<Vec<u8>> =
        rows.iter().map(|n| n.to_string().bytes().rev().map(|b| b - b'0').collect()).collect();
    let columns = texts.iter().map(Vec::len).max().unwrap_or(0);
    let sums = (0..columns).map(|c| texts.iter().filter_map(|t| t.get(c)).sum::<u8>());
    let mut digits: Vec<String> = sums.map(|sum| (sum % 10).to_string()).collect();
    digits.reverse();
    digits.concat().trim_start_matches('0').to_owned()
}

#[test]
fn version_b_has_other_products() {
    let setting = setting("versions", Grouping::Thousands);
    for skill in ["long-four-by-three", "long-two-by-two", "short-three-by-one", "near-hundreds"] {
        for part in 1..=3 {
            for spot in [Spot::Core, Spot::ExitCheck] {
                let a = request(skill, part, spot);
                let b = Request { name: "B", ..a.clone() };
                let products = |r: &Request| -> Vec<String> {
                    let items = make(skill, r, &setting).expect("a set");
                    items.into_iter().filter_map(|i| i.expression).collect()
                };
                let (a, b) = (products(&a), products(&b));
                assert!(a.iter().all(|p| !b.contains(p)), "{skill} {part} {spot:?}: {a:?} {b:?}");
            }
        }
    }
}

#[test]
fn practice_of_a_first_part_begins_without_carries() {
    for setting in classes() {
        for recipe in written::RECIPES.iter().filter(|r| r.name != "zeros-at-the-ends") {
            for spot in [Spot::Support, Spot::Core] {
                let items = make(recipe.name, &request(recipe.name, 1, spot), &setting);
                let first = &items.expect("a set")[0];
                let bare = first.purpose.starts_with("no carries");
                assert!(bare, "{} {spot:?} {}", recipe.name, first.prompt);
            }
        }
    }
}

#[test]
fn sums_for_the_head_take_the_taught_route_most_cheaply() {
    use crate::method::{RouteKind, routes};
    let setting = setting("routes", Grouping::Thousands);
    for list in lists::LISTS.iter().filter(|l| l.name != "zeros-at-the-ends") {
        for part in 1..=3 {
            let items = make(list.name, &request(list.name, part, Spot::Homework), &setting);
            for item in items.expect("a set").iter().filter(|i| i.kind == Kind::Mental) {
                let (a, b) =
                    item.expression.as_deref().and_then(|e| e.split_once('*')).expect("a product");
                let all = routes(a.parse().expect("a"), b.parse().expect("b"));
                let cheap = all[0].cost;
                let most = if list.route == RouteKind::Factors { 1000 } else { 900 };
                assert!(cheap <= most, "{} {}: {cheap}", list.name, item.prompt);
                // Facts are what they are, and 600 × 5 is met for its zeros.
                if matches!(list.route, RouteKind::Fact | RouteKind::Shift) {
                    continue;
                }
                // 45 × 18 in halves and doubles is 45 × 2 × 9 under another name.
                let doubled = |r: &&crate::method::Route| {
                    // × 4 by doubling twice belongs to doubling and halving.
                    list.route == RouteKind::DoublingHalving && r.name == RouteKind::Doubling
                };
                let own = all.iter().find(|r| r.is(list.route) || doubled(r));
                let own = own.expect("the route is found");
                assert!(own.cost == cheap, "{} {}", list.name, item.prompt);
            }
        }
    }
}

#[test]
fn no_estimate_is_set_that_is_far_off_itself() {
    for sets in &*CLASSES {
        each_set(sets, |request, items| {
            for item in items.iter().filter(|i| i.kind == Kind::Estimate) {
                let Some(Accept::Between { least, most }) = &item.accept else {
                    panic!("{item:?}")
                };
                let number = |s: &str| s.parse::<u64>().expect("a number");
                let inside = (number(least)..=number(most)).contains(&number(&item.answer));
                assert!(inside, "{} {}", request.skill, item.prompt);
            }
        });
    }
}

#[test]
fn the_teachers_own_sums_come_first() {
    let setting = setting("own", Grouping::Thousands);
    let own = [(3406, 207), (4821, 356)];
    for spot in [Spot::Example, Spot::Support, Spot::Core, Spot::Stretch, Spot::ExitCheck] {
        let request = Request { own: &own, ..request("long-four-by-three", 1, spot) };
        let items = make("long-four-by-three", &request, &setting).expect("a set");
        let first: Vec<_> = items.iter().filter_map(|i| i.expression.as_deref()).collect();
        assert_eq!(first[0], "3406*207", "{spot:?}");
        assert!(items.len() <= request.most);
    }
}

#[test]
fn stretch_has_at_most_two_bare_sums() {
    each_set(&CLASSES[0], |request, items| {
        let bare = items.iter().filter(|i| !i.sign().is_empty() && i.kind != Kind::Estimate);
        if request.spot == Spot::Stretch {
            assert!(bare.count() <= 2, "{} {}", request.skill, request.part);
        }
    });
}

#[test]
fn other_house_styles_fit_their_squares() {
    use crate::exercise::Working;
    use crate::method::{Carries, FirstRow, Written, ZeroRow, squares};
    let mut setting = setting("style", Grouping::Indian);
    setting.style.zero_row = ZeroRow::Write;
    setting.style.first_row = FirstRow::Highest;
    setting.style.carries = Carries::Above;
    setting.style.method = vec![Written::Grid];
    sweep(&setting, |request, items| {
        for item in items {
            let (Working::Long(long), Space::Squares { columns, rows, given, .. }) =
                (&item.working, item.space)
            else {
                continue;
            };
            let (across, down) = match given {
                Given::Rows => (squares(long, false).0, long.rows.len() + 1),
                _ => squares(long, given != Given::Nothing),
            };
            assert_eq!(
                (usize::from(columns), usize::from(rows)),
                (across, down),
                "{}",
                request.skill
            );
            if let Given::AllButLast(left) = given {
                assert!(usize::from(left) <= long.rows.len().max(1) + 1, "{}", item.prompt);
            }
        }
    });
}

#[test]
fn an_exit_check_of_long_multiplication_has_three_items_with_at_most_one_long_product() {
    for setting in classes() {
        for skill in
            ["long-two-by-two", "long-three-by-two", "long-four-by-three", "zeros-in-multiplier"]
        {
            for part in 1..=3 {
                let items =
                    make(skill, &request(skill, part, Spot::ExitCheck), &setting).expect("a set");
                let short = items.iter().filter(|i| matches!(i.kind, Kind::Written | Kind::Row));
                assert!(short.count() >= 3, "{skill} {part}");
                let large = |i: &&Item| {
                    let adding = matches!(Task::of(i), Some(Task::Adding(..)));
                    !adding && matches!(i.space, Space::Squares { columns: 8.., .. })
                };
                assert!(items.iter().filter(large).count() <= 1, "{skill} {part}: {items:#?}");
            }
        }
    }
}

#[test]
fn support_fades_backward_step_by_step() {
    let setting = setting("fading", Grouping::Thousands);
    let items =
        make("long-four-by-three", &request("long-four-by-three", 1, Spot::Support), &setting);
    let left: Vec<u8> = items
        .expect("a set")
        .iter()
        .map(|i| match i.space {
            Space::Squares {
                given: Given::AllButLast(n),
                rows: 7,
                columns: 7 | 8,
                estimate: true,
                compare: false,
            } => n,
            ref other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(left[..4], [1, 2, 3, 4]);
    assert!(left[4..].iter().all(|&n| n == 4));
}
