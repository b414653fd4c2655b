use super::ours::read_ours;
use super::*;
use crate::exercise::Profile;
use crate::report::{Report, Source};
use crate::seed::Seed;

fn setting(key: &str) -> Setting {
    Setting::new(Seed::of(key), HouseStyle::default(), 100)
}

fn request(spot: Spot, part: u32, name: &str) -> Request<'_> {
    let profile = Profile::Typical;
    Request {
        skill: "story",
        part,
        spot,
        name,
        profile,
        seconds: 6000,
        least: 1,
        most: 6,
        own: &[],
    }
}

const SPOTS: [Spot; 8] = [
    Spot::Example,
    Spot::Guided,
    Spot::Support,
    Spot::Core,
    Spot::Stretch,
    Spot::ExitCheck,
    Spot::Homework,
    Spot::Test,
];

fn every_set(key: &str, visit: &mut dyn FnMut(StoryKind, &Request, &[Item])) {
    for kind in [StoryKind::OneStep, StoryKind::TwoStep] {
        for part in 1..=3 {
            for spot in SPOTS {
                let request = request(spot, part, "A");
                let items = make_story(kind, &request, &setting(key)).expect("there are scenes");
                visit(kind, &request, &items);
            }
        }
    }
}

#[test]
fn our_scenes_have_no_mistake() {
    let (scenes, report) = read_ours();
    assert!(report.is_empty(), "{}", report.to_text());
    assert!(scenes.len() >= 60, "{} scenes", scenes.len());
    let ids: BTreeSet<&str> = scenes.iter().map(|s| s.id.as_str()).collect();
    assert_eq!(ids.len(), scenes.len(), "an id stands in two files");
    for (name, structure) in Structure::ALL {
        assert!(scenes.iter().any(|s| s.structure == structure), "no scene of `{name}`");
    }
    for (name, plan) in Plan::ALL {
        assert!(scenes.iter().any(|s| s.plan == plan), "no scene with `{name}`");
    }
    assert!(names().len() >= 40);
}

#[test]
fn every_mistake_of_a_scene_is_said_with_its_place() {
    let text = "[[scene]]\nid = \"x\"\nstructure = \"equal-grups\"\nexpression = \"s*g\"\n\
        text = [\"There are {g} bags.\"]\nquestion = \"How many?\"\nknow = [\"{g} bags of {s}\"]\n\
        need = \"all\"\nanswer = \"There are many.\"\nasid = \"\"\n\
        sizes.2x1 = { s = [12, 120], g = [3] }\n";
    let mut report = Report::new();
    let scenes = read_scenes(&Source::shared("stories.toml", text), &mut report);
    let said = report.to_text();
    assert!(scenes.is_empty() && said.contains("did you mean `equal-groups`?"), "{said}");
    assert!(said.contains("unknown key `scene.asid`"), "{said}");
    assert!(said.contains("expected the least and the most"), "{said}");
}

#[test]
fn a_scene_must_tell_its_numbers_and_keep_its_size() {
    let text = "[[scene]]\nid = \"x\"\nstructure = \"equal-groups\"\nexpression = \"s*g-k\"\n\
        text = [\"There are {g} bags of {q}.\"]\nquestion = \"How many?\"\n\
        know = [\"{g} bags of {s}, {k} lost\"]\nneed = \"all\"\nanswer = \"There are many in {r}.\"\n\
        sizes.2x1 = { s = [12, 120], g = [3, 9], k = [2, 40] }\n";
    let mut report = Report::new();
    let scenes = read_scenes(&Source::shared("stories.toml", text), &mut report);
    let said = report.to_text();
    assert!(scenes.is_empty());
    for fault in [
        "blank `{q}` that nothing fills",
        "does not tell `{s}`",
        "`answer` does not tell `{answer}`",
        "`answer` has a blank `{r}` that nothing fills",
        "in size 2x1 it can be 120 × 3",
        "an answer can be below one",
    ] {
        assert!(said.contains(fault), "{fault}: {said}");
    }
}

#[test]
fn numbers_below_ten_are_words_but_before_units() {
    let mut numbers = Numbers::default();
    numbers.set('s', 7);
    numbers.set('g', 2365);
    let children = Children { name: "Zuri", other: "Jun" };
    let style = HouseStyle::default();
    let told = |text, small| tell(text, &numbers, children, &style, small);
    let text = "{name} has {s} bags, {s} cm and {g} maps for {other}.";
    assert_eq!(told(text, Small::Words), "Zuri has seven bags, 7\u{a0}cm and 2,365 maps for Jun.");
    assert_eq!(told("{s} bags", Small::Figures), "7 bags");
}

/// Each plan worked by hand once.
#[test]
fn every_plan_gives_its_answer_and_its_wrong_turns() {
    let numbers = |pairs: &[(char, u64)]| {
        let mut numbers = Numbers::default();
        pairs.iter().for_each(|(letter, number)| numbers.set(*letter, *number));
        numbers
    };
    let turns = |plan: Plan, n: &Numbers| -> Vec<(&str, u64)> {
        plan.wrong_turns(n).into_iter().map(|t| (t.pattern, t.answer)).collect()
    };
    let n = numbers(&[('s', 24), ('g', 6), ('k', 10), ('e', 5)]);
    assert_eq!(Plan::ProductLess.answer(&n), Some(134));
    assert_eq!(Plan::ProductLess.expression(&n), "24*6-10");
    assert_eq!(
        turns(Plan::ProductLess, &n),
        [
            ("unneeded-number-added", 139),
            ("unneeded-number-instead", 110),
            ("stopped-after-first-step", 144),
            ("second-step-reversed", 154),
            ("steps-swapped", 84),
            ("one-group-off", 110),
            ("one-group-off", 158),
            ("added-all-numbers", 45),
        ]
    );
    let n = numbers(&[('s', 30), ('g', 7), ('k', 4)]);
    assert_eq!((Plan::LessFirst.answer(&n), Plan::MoreFirst.answer(&n)), (Some(182), Some(238)));
    assert_eq!(Plan::LessFirst.product(&n), Some((26, 7)));
    assert_eq!(turns(Plan::MoreFirst, &n)[1], ("steps-swapped", 214));
    let n = numbers(&[('s', 12), ('g', 25), ('k', 400)]);
    assert_eq!((Plan::Rest.answer(&n), Plan::Rest.expression(&n)), (Some(100), "400-12*25".into()));
    let n = numbers(&[('s', 15), ('g', 4), ('d', 6), ('t', 8), ('h', 3), ('p', 60)]);
    assert_eq!(Plan::ThreeFactors.answer(&n), Some(360));
    assert_eq!(Plan::TwoProducts.answer(&n), Some(84));
    assert_eq!(Plan::ProductsApart.answer(&n), Some(36));
    assert_eq!(Plan::Quotient.answer(&n), Some(15));
    assert_eq!(turns(Plan::TwoProducts, &n)[1], ("groups-run-together", 161));
    assert_eq!(turns(Plan::Quotient, &n)[0], ("multiplied-instead", 240));
    assert_eq!(Plan::ProductLess.answer(&numbers(&[('s', 2), ('g', 3), ('k', 6)])), None);
}

#[test]
fn the_wrong_answers_of_a_story_all_differ_and_have_names() {
    for key in ["a", "b", "c"] {
        every_set(key, &mut |_, _, items| {
            for item in items {
                let wrong: Vec<&str> = item.likely.iter().map(|l| l.answer.as_str()).collect();
                let all: BTreeSet<&str> =
                    wrong.iter().copied().chain([item.answer.as_str()]).collect();
                assert_eq!(all.len(), wrong.len() + 1, "{}: {wrong:?}", item.prompt);
                assert!(wrong.len() >= 2, "{}", item.prompt);
                assert!(item.likely.iter().all(|l| !l.shows.is_empty() && l.shows.len() <= 24));
            }
        });
    }
    for pattern in STORY_PATTERNS {
        assert!(pattern.short.chars().count() <= 24, "{}", pattern.name);
        assert!(pattern.teach.ends_with(['.', '?']), "{}", pattern.name);
        assert!(!pattern.shows.is_empty() && story_pattern(pattern.name).is_some());
    }
}

#[test]
fn no_set_tells_a_story_twice_or_takes_a_child_twice() {
    every_set("k", &mut |kind, request, items| {
        assert_eq!(items.len(), request.most, "{kind:?} {request:?}");
        let sums: BTreeSet<_> = items.iter().map(|i| i.expression.clone()).collect();
        assert_eq!(sums.len(), items.len());
        for name in names() {
            let named = items.iter().filter(|i| i.prompt.contains(name.as_str())).count();
            assert!(named <= 1, "{name} in {named} stories: {request:?}");
        }
    });
}

#[test]
fn always_multiplying_fails_in_a_mixed_set() {
    every_set("k", &mut |kind, request, items| {
        let other = |i: &&Item| i.expression.as_ref().is_some_and(|e| !e.contains('*'));
        let others = items.iter().filter(other).count();
        if request.spot == Spot::Core {
            assert!((1..=3).contains(&others), "{kind:?} {request:?}: {others}");
        }
        let plain =
            kind == StoryKind::OneStep && request.spot == Spot::Support && request.part == 1;
        assert!(!plain || others == 0, "support begins with one idea");
        let unneeded = items.iter().filter(|i| i.purpose.contains("not needed")).count();
        assert!(request.spot != Spot::Stretch || unneeded >= 2, "{kind:?} {request:?}");
        assert!(request.spot != Spot::Support || unneeded == 0);
    });
}

#[test]
fn every_structure_comes_and_equal_groups_are_at_most_half() {
    let mut seen: std::collections::BTreeMap<String, u32> = std::collections::BTreeMap::new();
    every_set("k", &mut |_, _, items| {
        for item in items {
            let Working::Story { story, .. } = &item.working else { panic!("{}", item.prompt) };
            *seen.entry(story.structure.clone()).or_default() += 1;
        }
    });
    let all: u32 = seen.values().sum();
    for (name, _) in Structure::ALL {
        assert!(seen.contains_key(name), "no story of {name}: {seen:?}");
    }
    assert!(seen["equal-groups"] * 2 <= all, "{seen:?}");
}

#[test]
fn a_size_that_is_asked_for_is_kept() {
    let size = StorySize { longer: 4, shorter: 2 };
    let request = request(Spot::Support, 1, "A");
    let items = make_story_of_size(StoryKind::OneStep, Some(size), &request, &setting("k"));
    for item in items.expect("there are scenes") {
        let factors = item.expression.expect("a product");
        let (a, b) = factors.split_once('*').expect("two factors");
        assert_eq!((a.len(), b.len()), (4, 2), "{factors}");
    }
}

#[test]
fn a_set_is_the_same_each_time_and_another_for_version_b() {
    let make =
        |name| make_story(StoryKind::TwoStep, &request(Spot::ExitCheck, 2, name), &setting("k"));
    assert_eq!(make("A"), make("A"));
    assert_ne!(make("A"), make("B"));
    assert_ne!(make("A"), make("C1"));
}

#[test]
fn a_maker_keeps_to_the_time_but_makes_the_least_number() {
    for (name, kind) in [("story-one-step", "one"), ("story-two-step", "two")] {
        let fewer = Request { seconds: 1, least: 2, ..request(Spot::Core, 1, "A") };
        let items = crate::exercise::makers::make(name, &fewer, &setting("k")).expect(kind);
        assert_eq!(items.len(), 2);
        assert!(items.iter().all(|item| item.seconds > 0));
    }
}

#[test]
fn a_warm_up_is_short_and_done_in_the_head() {
    let request = Request { most: 8, ..request(Spot::WarmUp, 1, "A") };
    let items = make_story(StoryKind::OneStep, &request, &setting("k")).expect("warm-ups");
    assert_eq!(items.len(), 8);
    for item in items {
        assert!(item.prompt.chars().count() <= 21 && item.kind == Kind::Mental, "{}", item.prompt);
        assert!(!item.likely.iter().any(|l| l.answer == item.answer));
    }
}

/// The word or sign of operation by which each number word of a story could be joined.
fn one_operation(op: char, told: &[u64]) -> Option<u64> {
    let (largest, smallest) = (*told.iter().max()?, *told.iter().min()?);
    match op {
        '×' => told.iter().try_fold(1_u64, |product, n| product.checked_mul(*n)),
        '+' => Some(told.iter().sum()),
        '−' => Some(largest - smallest),
        _ => Some(largest / smallest.max(1)),
    }
}

/// The numbers of a story, words below ten too.
fn told(prompt: &str) -> Vec<u64> {
    const SMALL: [&str; 8] = ["two", "three", "four", "five", "six", "seven", "eight", "nine"];
    let number = |word: &str| {
        let bare: String = word.chars().filter(|c| c.is_alphanumeric()).collect();
        let small = SMALL.iter().position(|s| *s == bare).and_then(|n| u64::try_from(n + 2).ok());
        bare.parse().ok().or(small)
    };
    prompt.split([' ', '\u{A0}']).filter_map(number).collect()
}

/// Every trick of the form "if this word stands there, take this sign, else that one" is tried, for
/// every word of the stories and every two signs: none works on a mixed set of one-step stories,
/// though in most of what is printed elsewhere single words lead to the right sign in less than half
/// of the problems only (Powell, Namkung and Lin 2022).
#[test]
fn no_key_word_trick_works_on_the_mixed_sets() {
    let mut sets: Vec<Vec<Item>> = Vec::new();
    for key in ["a", "b", "c", "d", "e", "f", "g", "h"] {
        for (part, spot) in [(1, Spot::Core), (2, Spot::Core), (3, Spot::Core), (2, Spot::Stretch)]
        {
            let request = Request { most: 8, ..request(spot, part, "A") };
            sets.push(make_story(StoryKind::OneStep, &request, &setting(key)).expect("stories"));
        }
    }
    let all: Vec<&Item> = sets.iter().flatten().collect();
    let words_of = |item: &Item| -> BTreeSet<String> {
        let words = item.prompt.split(|c: char| !c.is_alphabetic());
        words.filter(|w| !w.is_empty()).map(str::to_lowercase).collect()
    };
    let seen: Vec<(BTreeSet<String>, Vec<u64>, u64)> = all
        .iter()
        .map(|i| (words_of(i), told(&i.prompt), i.answer.parse().expect("a number")))
        .collect();
    let words: BTreeSet<&String> = seen.iter().flat_map(|(words, ..)| words).collect();
    let mut best = (0, String::new());
    for word in words {
        for (then, other) in
            ['×', '+', '−', '÷'].iter().flat_map(|t| ['×', '+', '−', '÷'].map(|o| (*t, o)))
        {
            let works = |(words, told, answer): &&(BTreeSet<String>, Vec<u64>, u64)| {
                let op = if words.contains(word) { then } else { other };
                one_operation(op, told) == Some(*answer)
            };
            let right = seen.iter().filter(works).count();
            if right > best.0 {
                best = (right, format!("{word}: {then}, else {other}"));
            }
        }
    }
    println!("the best trick, {}, works in {} of {}", best.1, best.0, seen.len());
    assert!(best.0 * 100 < seen.len() * 70, "{} of {}: {}", best.0, seen.len(), best.1);
    // Always multiplying fails at least once in each set, and every fourth story asks for another
    // operation.
    for set in &sets {
        let other = set.iter().filter(|i| i.expression.as_ref().is_some_and(|e| !e.contains('*')));
        assert!(other.count() * 4 >= set.len());
    }
}

/// In every set of two-step stories at least a quarter need another operation than multiplying.
#[test]
fn a_quarter_of_two_step_stories_do_more_than_multiply() {
    let mut seen = 0;
    every_set("k", &mut |kind, request, items| {
        if kind == StoryKind::TwoStep {
            let more = |i: &&Item| {
                let expression = i.expression.as_deref().unwrap_or_default();
                expression.contains(['+', '-']) || expression.contains("//")
            };
            let count = items.iter().filter(more).count();
            assert!(count * 4 >= items.len(), "{request:?}: {count}");
            seen += 1;
        }
    });
    assert!(seen > 10, "{seen}");
}

/// The wrong turns of the literature's list, each by our name: every one occurs, and none meets
/// another or the answer (a slip in the working included) over many stories.
#[test]
fn the_wrong_turns_stay_apart_over_many_stories() {
    let mut seen: BTreeSet<String> = BTreeSet::new();
    let mut count = 0;
    for key in ["p", "q", "r", "s", "t", "u"] {
        every_set(key, &mut |_, _, items| {
            for item in items {
                count += 1;
                let mut answers = BTreeSet::from([item.answer.clone()]);
                for wrong in &item.likely {
                    assert!(answers.insert(wrong.answer.clone()), "{}: {wrong:?}", item.prompt);
                    seen.extend(wrong.patterns.iter().cloned());
                }
            }
        });
    }
    assert!(count > 1_500, "{count}");
    for (id, name) in [
        ("W01", "added-all-numbers"),
        ("W02", "multiplied-instead"),
        ("W02", "subtracted-instead"),
        ("W03", "stopped-after-first-step"),
        ("W04", "first-step-left-out"),
        ("W05", "second-step-reversed"),
        ("W06", "unneeded-number-added"),
        ("W06", "unneeded-number-instead"),
        ("W07", "steps-swapped"),
        ("W08", "divided-instead"),
        ("W09", "one-group-only"),
        ("W10", "one-group-off"),
        ("W11", "unit-not-converted"),
        ("W12", "carry-not-added"),
    ] {
        assert!(seen.contains(name), "{id} {name} never occurs: {seen:?}");
    }
}

#[test]
fn names_are_balanced_and_all_come() {
    let mut seen: std::collections::BTreeMap<&str, usize> = std::collections::BTreeMap::new();
    for key in ["a", "b", "c", "d"] {
        every_set(key, &mut |_, _, items| {
            for name in names() {
                let told = items.iter().filter(|i| i.prompt.contains(name.as_str())).count();
                *seen.entry(name.as_str()).or_default() += told;
            }
        });
    }
    // Girls and boys stand in turn in the list.
    let half = |odd: usize| -> usize {
        names()
            .iter()
            .enumerate()
            .filter(|(i, _)| i % 2 == odd)
            .map(|(_, n)| seen[n.as_str()])
            .sum()
    };
    let (girls, boys) = (half(0), half(1));
    assert!(girls * 10 > boys * 8 && boys * 10 > girls * 8, "{girls} girls, {boys} boys");
    assert!(seen.values().all(|n| *n > 0), "{seen:?}");
}

#[test]
fn a_teachers_own_scene_is_told() {
    let text = "[[scene]]\nid = \"our-pond\"\nstructure = \"equal-groups\"\nexpression = \"s*g\"\n\
        text = [\"Our pond has {g} nets.\", \"Each net holds {s} frogs.\"]\n\
        question = \"How many frogs are there?\"\nknow = [\"{g} nets\", \"{s} frogs in each net\"]\n\
        need = \"how many frogs there are\"\nanswer = \"In {g} nets there are {answer} frogs.\"\n\
        sizes.2x1 = { s = [12, 24], g = [3, 6] }\nsizes.3x1 = { s = [112, 124], g = [3, 6] }\n";
    let mut report = Report::new();
    let own = read_scenes(&Source::shared("stories/ours.toml", text), &mut report);
    assert!(report.is_empty(), "{}", report.to_text());
    let ours = Setting { scenes: std::sync::Arc::new(own), ..setting("k") };
    let mut told = 0;
    let nets = |item: &Item| match &item.working {
        Working::Story { story, .. } => {
            let g = item.expression.as_deref().and_then(|e| e.split_once('*')).map_or("", |e| e.1);
            story.sentence.starts_with(&format!("In {g} nets there are "))
        }
        _ => false,
    };
    for (part, spot) in (1..=2).flat_map(|part| SPOTS.map(|spot| (part, spot))) {
        let items = make_story(StoryKind::OneStep, &request(spot, part, "A"), &ours);
        let items = items.expect("stories");
        let pond: Vec<&Item> = items.iter().filter(|i| i.prompt.contains("pond")).collect();
        assert!(pond.iter().all(|i| nets(i)), "{pond:?}");
        told += pond.len();
    }
    assert!(told > 2, "{told}");
}
