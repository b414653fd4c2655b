//! A marking as a teacher reads it.

use super::answers::CROSS;
use super::diagnose::Suspect;
use super::groups::{Group, MOST_GROUPS};
use super::marks::{ItemMark, Marking, OtherUnit, Otherwise, PupilMark, WrongPile};
use super::model::Model;
use super::next::Next;
use super::pairs::Together;
use super::shown::Shown;
use super::tells::Tells;
use crate::lesson::{counted_slips, meaning, pupils_and_slips, sorted_by};
use crate::method::{HouseStyle, Written};
use crate::words::{count, join};
use indexmap::IndexMap;
use std::fmt::Write;

/// What stands under every list of patterns.
pub const CAUTION: &str = "A pattern is a hint for teaching, not a diagnosis of a child. Ask to see \
     the working before you act on it.";

impl Marking {
    /// The marking in plain sentences, numbers written as the class writes them.
    pub fn to_text(&self, style: &HouseStyle) -> String {
        let mut out = format!("Lesson {}: {}\n", self.lesson, self.class.decision.in_words());
        if self.versions.len() > 1 {
            writeln!(out, "Versions {} together.", join(&self.versions, "and")).ok();
        }
        writeln!(out, "{}", self.class.because).ok();
        self.groups_text(style, &mut out);
        out.push_str("\nItems\n");
        for item in &self.items {
            let mut item = item.clone();
            for pile in &mut item.wrong {
                self.grouped_first(&mut pile.patterns);
                // What a pupil is named for is told whichever way round it shows.
                pile.turned.retain(|name| !self.is_named(name));
            }
            out.push_str(&item_text(&item, style));
        }
        let stuck: Vec<&PupilMark> = self.pupils.iter().filter(|p| p.right < p.of).collect();
        if !stuck.is_empty() {
            out.push_str("\nPupils with something wrong\n");
            // The same working is shown once.
            let mut shown: Vec<&Shown> = Vec::new();
            for (text, pupils) in alike(&stuck, style) {
                let names: Vec<String> = pupils.iter().map(|p| p.pupil.clone()).collect();
                write!(out, "  {}: {text}", join(&names, "and")).ok();
                let Some(pupil) = pupils.first() else { continue };
                for (heading, patterns, working) in on_paper(pupil) {
                    if !shown.contains(&working) {
                        writeln!(out, "    {heading} look like this:").ok();
                        out.push_str(&working.to_text(&patterns, style, "      "));
                        shown.push(working);
                    }
                }
            }
        }
        if !self.pupils.is_empty() {
            writeln!(out, "\nWhat this check can tell\n{}", tells_text(&self.tells)).ok();
        }
        if !self.pupils.is_empty() || !self.groups.is_empty() {
            writeln!(out, "\n{CAUTION}").ok();
        }
        out
    }

    /// Whether a pattern is named for a pupil or a group.
    fn is_named(&self, name: &str) -> bool {
        let groups = || self.groups.iter().chain(&self.waiting);
        let pupils = || self.pupils.iter().flat_map(|p| [&p.named, &p.named_also]).flatten();
        groups().any(|group| group.pattern == name) || pupils().any(|named| named == name)
    }

    /// Of the patterns that give an answer first those that pupils are grouped for.
    fn grouped_first(&self, names: &mut [String]) {
        let all = || self.groups.iter().chain(&self.waiting);
        names.sort_by_key(|name| all().position(|g| g.pattern == *name).unwrap_or(usize::MAX));
    }

    fn groups_text(&self, style: &HouseStyle, out: &mut String) {
        if !self.groups.is_empty() {
            let by = if self.pupils.is_empty() { " by answer: sort the slips" } else { "" };
            writeln!(out, "\nGroups{by}").ok();
        }
        self.groups.iter().for_each(|group| group_text(group, style, out));
        if !self.waiting.is_empty() {
            let most = MOST_GROUPS;
            let which = match self.waiting.len() {
                1 => "A further group, which waits",
                _ => "Further groups, which wait",
            };
            writeln!(out, "{which}: more than {most} are too many at once").ok();
        }
        self.waiting.iter().for_each(|group| group_text(group, style, out));
        if self.absent_count() > 0 {
            writeln!(out, "\nNo answers: {}", self.absent_in_words()).ok();
        }
        if self.unread > 0 {
            let rows = count(usize::try_from(self.unread).unwrap_or(usize::MAX), "row");
            let whose =
                if self.absent_count() == 0 { "" } else { ", and their pupils may stand there" };
            writeln!(out, "\nNot read: {rows} of the file{whose}").ok();
        }
    }
}

fn group_text(group: &Group, style: &HouseStyle, out: &mut String) {
    let what = match group.one_of.as_slice() {
        [] if group.is_perhaps() => {
            format!("perhaps {}, too little to name it", shows(&group.pattern))
        }
        [] => match &group.also {
            Some(also) => format!("{}, and beside it {}", beside(&group.pattern), beside(also)),
            None => shows(&group.pattern),
        },
        many => {
            let all: Vec<String> = many.iter().map(|name| shows(name)).collect();
            format!("one of these, which this check cannot tell apart: {}", all.join("; or "))
        }
    };
    let what = group.method.map_or(what.clone(), |method| format!("{what}, {}", worked(method)));
    let number = group.number;
    if group.pupils.is_empty() {
        let slips = counted_slips(group.slips, &group.sort_by);
        writeln!(out, "  Group {number}, {slips}: {what}").ok();
        writeln!(out, "    Sort the slips by these answers: {}.", group.answers(style)).ok();
    } else {
        let size = pupils_and_slips(group.pupils.len(), group.slips);
        writeln!(out, "  Group {number}, {size}: {what}: {}", group.who(style)).ok();
    }
    let sheet = format!("`pack --group {number}` makes a sheet");
    if !group.one_of.is_empty() {
        writeln!(out, "    {sheet} of sums that tell them apart; ask to see the working.").ok();
    } else if group.is_perhaps() {
        writeln!(out, "    {sheet} whose first sum decides; ask to see the working.").ok();
    }
    if let Some(mut known) = meaning(&group.pattern).filter(|_| group.one_of.is_empty()) {
        if group.also.is_some() {
            known = known.beside_another();
        }
        writeln!(out, "    {}", known.sentences()).ok();
    }
    if let Some(also) = &group.also {
        let known = meaning(also).map(|m| m.beside_another().sentences()).unwrap_or_default();
        writeln!(out, "    Beside it, {}: {known}", beside(also)).ok();
        writeln!(out, "    {sheet} of sums for both, as many as can be for both at once.").ok();
    }
}

impl Group {
    /// "1, 2 and 3; perhaps 5; the slips with 1,452 on L07B-X1": who is in it, those with too little
    /// to name it after the others.
    pub fn who(&self, style: &HouseStyle) -> String {
        let sure: Vec<&String> = self.pupils.iter().filter(|p| !self.unsure.contains(p)).collect();
        let mut who = Vec::new();
        match (sure.as_slice(), self.unsure.as_slice()) {
            ([], []) => {}
            // That they all are unsure is said of the group, unless slips make it one.
            ([], some) if self.slips == 0 || self.is_perhaps() => who.push(join(some, "and")),
            ([], some) => who.push(format!("perhaps {}", join(some, "and"))),
            (sure, []) => who.push(join(sure, "and")),
            (sure, some) => {
                who.extend([join(sure, "and"), format!("perhaps {}", join(some, "and"))]);
            }
        }
        if !self.sort_by.is_empty() {
            who.push(format!("the slips with {}", self.answers(style)));
        }
        who.join("; ")
    }
    /// "1,452 on L07-X1, 2,961 on L07-X2": what slips are sorted by.
    pub fn answers(&self, style: &HouseStyle) -> String {
        sorted_by(&self.sort_by, style)
    }
}

/// What a pattern shows.
fn shows(name: &str) -> String {
    meaning(name).map_or_else(|| name.replace('-', " "), |m| m.shows)
}

/// The same of one of two, where not all else is right.
fn beside(name: &str) -> String {
    meaning(name).map_or_else(|| name.replace('-', " "), |m| m.beside_another().shows)
}

fn worked(method: Written) -> &'static str {
    match method {
        Written::Long => "if worked the long way",
        Written::Grid => "if worked in a grid",
        Written::Lattice => "if worked on a lattice",
    }
}

/// A number as the class writes it; anything else as it is.
fn typeset(answer: &str, style: &HouseStyle) -> String {
    answer.parse().map_or_else(|_| answer.to_owned(), |n| style.number(n))
}

fn item_text(item: &ItemMark, style: &HouseStyle) -> String {
    let mut out = format!("  {}: {} right", item.id, item.right);
    for OtherUnit { unit, instead_of, count, pupils } in &item.other_units {
        let by =
            if pupils.is_empty() { String::new() } else { format!(": {}", join(pupils, "and")) };
        let instead = match instead_of.as_str() {
            "" => "where no unit is asked for".to_owned(),
            what => format!("for “{what}”"),
        };
        write!(out, ", {count} of them with “{unit}” {instead}{by}").ok();
    }
    if item.suspicious {
        out.push_str(". Many are wrong in many ways: look at the item itself");
    }
    for WrongPile { answer, count, patterns, turned, otherwise, together } in &item.wrong {
        let number = typeset(answer, style);
        let what = match (patterns.as_slice(), otherwise) {
            _ if answer == CROSS => "crossed, without the answer".to_owned(),
            ([], _) if together.is_some() => {
                let both = together.iter().flatten().map(|name| beside(name));
                format!("both at once, {}", both.collect::<Vec<_>>().join(", and "))
            }
            ([], Some(Otherwise { method, patterns })) => {
                format!("{}, {}", any_of(patterns), worked(*method))
            }
            ([], None) => "fits no known pattern".to_owned(),
            (many, _) => usual_first(many, turned),
        };
        let times = if *count == 1 { "once".to_owned() } else { format!("{count} times") };
        write!(out, "\n    {number} ({times}): {what}").ok();
    }
    out + "\n"
}

/// What these patterns show; such as show only with the numbers the other way round are told where
/// nothing else is.
fn usual_first(names: &[String], turned: &[String]) -> String {
    let usual: Vec<String> = names.iter().filter(|name| !turned.contains(name)).cloned().collect();
    match usual.as_slice() {
        [] => format!("{}, if the numbers are taken the other way round", any_of(names)),
        usual => any_of(usual),
    }
}

/// What the first of these patterns show, and how many others there are.
fn any_of(names: &[String]) -> String {
    let shown: Vec<String> = names.iter().take(3).map(|name| shows(name)).collect();
    let more = names.len().saturating_sub(3);
    let rest = if more > 0 { format!(", or {more} others") } else { String::new() };
    format!("{}{rest}", shown.join(", or "))
}

fn percent(p: f64) -> String {
    // A hundred per cent would promise more than any check can.
    format!("{:.0} %", (p * 100.0).clamp(1.0, 99.0))
}

/// "placeholder left out (L07-X1 and L07-X2). Not so on L07-X3."
fn for_and_against(suspect: &Suspect, two: bool) -> String {
    let what = if two { beside(&suspect.name) } else { shows(&suspect.name) };
    let mut out = format!("{what} ({})", join(&suspect.items, "and"));
    out.push('.');
    if !suspect.against.is_empty() {
        write!(out, " Not so on {}.", join(&suspect.against, "and")).ok();
    }
    out
}

/// What the pages of a pupil with a named pattern look like, each under what it shows; of two both in
/// one sum, or where the pupil did not do that each by itself before what both would look like.
fn on_paper(pupil: &PupilMark) -> Vec<(String, Vec<&str>, &Shown)> {
    let Some(Together { in_one, given, each }) = &pupil.together else {
        let named = pupil.patterns.first().filter(|_| pupil.named.is_some());
        let working = named.and_then(|s| Some((vec![s.name.as_str()], s.working.as_ref()?)));
        return working
            .into_iter()
            .map(|(names, shown)| (format!("{} would then", shown.item), names, shown))
            .collect();
    };
    let each = each.iter().map(|(name, shown)| {
        let heading = format!("{}, where {}, would then", shown.item, beside(name));
        (heading, vec![name.as_str()], shown)
    });
    let names: Vec<&str> =
        [&pupil.named, &pupil.named_also].into_iter().flatten().map(String::as_str).collect();
    let both = in_one.iter().map(|shown| match given {
        true => (format!("{}, both in one sum, would then", shown.item), names.clone(), shown),
        false => (format!("Both in one sum, {} would", shown.item), names.clone(), shown),
    });
    each.chain(both).collect()
}

/// What is said of pupils, with all of whom it is said, in the order of the first of them.
fn alike<'p>(pupils: &[&'p PupilMark], style: &HouseStyle) -> IndexMap<String, Vec<&'p PupilMark>> {
    let mut found: IndexMap<String, Vec<&PupilMark>> = IndexMap::new();
    for pupil in pupils {
        found.entry(pupil_text(pupil, style)).or_default().push(pupil);
    }
    found
}

fn pupil_text(pupil: &PupilMark, style: &HouseStyle) -> String {
    let mut out = format!("{} of {} right.", pupil.right, pupil.of);
    let (likely, fits): (Vec<&Suspect>, Vec<&Suspect>) =
        pupil.patterns.iter().partition(|s| s.probability >= Model::default().list_from);
    // What is named needs no unlikely rival on the same items.
    let named = [&pupil.named, &pupil.named_also].into_iter().flatten();
    let named: Vec<&Suspect> =
        named.filter_map(|name| likely.iter().copied().find(|s| s.name == *name)).collect();
    let explained = |id: &String| named.iter().any(|s| s.items.contains(id));
    let fits: Vec<&Suspect> = fits.into_iter().filter(|s| !s.items.iter().all(explained)).collect();
    match (&pupil.named, likely.as_slice()) {
        (Some(_), [first, rest @ ..]) => {
            let likely = percent(first.probability);
            write!(
                out,
                " Likely ({likely}): {}",
                for_and_against(first, pupil.named_also.is_some())
            )
            .ok();
            let is_also = |s: &&&Suspect| pupil.named_also.as_ref() == Some(&s.name);
            if let Some(also) = rest.iter().find(is_also) {
                let likely = percent(also.probability);
                write!(out, " Beside it ({likely}): {}", for_and_against(also, true)).ok();
            }
            let others: Vec<String> =
                rest.iter().filter(|s| !is_also(s)).map(|s| with_percent(s)).collect();
            if !others.is_empty() {
                write!(out, " Less likely: {}.", others.join("; ")).ok();
            }
        }
        (_, []) if fits.is_empty() => out.push_str(" No known pattern."),
        (_, []) => out.push_str(" No pattern explains enough."),
        (_, some) => {
            let list: Vec<String> = some.iter().map(|s| with_percent(s)).collect();
            write!(out, " Perhaps: {}. Too little to name one.", list.join("; ")).ok();
        }
    }
    if !fits.is_empty() {
        let fit = |s: &&Suspect| format!("{} ({})", shows(&s.name), join(&s.items, "and"));
        let fits: Vec<String> = fits.iter().map(fit).collect();
        write!(out, " Hardly, but fitting: {}.", fits.join("; ")).ok();
    }
    if let Some(rule) = &pupil.by_hand {
        let same = pupil.named.as_ref() == Some(rule);
        let what = if same { "the same".to_owned() } else { shows(rule) };
        let rule = "three answers or more that fit, and no other mistake that as many fit";
        write!(out, " Counted by hand ({rule}): {what}.").ok();
    }
    if let Some(next) = &pupil.next {
        write!(out, " {}", next_text(next, pupil.named_also.is_some(), style)).ok();
    }
    if !pupil.stray.is_empty() {
        let strays = count(pupil.stray.len(), "answer");
        write!(out, " {strays} of no known pattern.").ok();
    }
    out.push('\n');
    out
}

fn with_percent(suspect: &Suspect) -> String {
    let (likely, items) = (percent(suspect.probability), join(&suspect.items, "and"));
    format!("{} ({likely}: {items})", shows(&suspect.name))
}

/// Longer questions are not said again beside their number.
const SHORT_SUM: usize = 24;

/// "L07-K1 (47 × 36) would tell the first two apart: 1,452 or 2,961."
fn next_text(next: &Next, two_named: bool, style: &HouseStyle) -> String {
    let answer = |answer: &Option<String>| match answer {
        Some(number) => typeset(number, style),
        None => "the right answer".to_owned(),
    };
    let sum = match &next.item {
        // A story is read where it stands.
        Some(item) if next.sum.chars().count() > SHORT_SUM => item.clone(),
        Some(item) => format!("{item} ({})", style.typeset(&next.sum)),
        None if next.sum.ends_with('?') => {
            format!("“{}” on the board", style.typeset(&next.sum))
        }
        None => format!("{} on the board", style.typeset(&next.sum)),
    };
    match next.answers.as_slice() {
        [one, other] if other.pattern.is_empty() => {
            format!("{sum} would tell: {} if it is so.", answer(&one.answer))
        }
        all => {
            let which = if two_named { "the first and the third" } else { "the first two" };
            let answers: Vec<String> = all.iter().map(|a| answer(&a.answer)).collect();
            format!("{sum} would tell {which} apart: {}.", answers.join(" or "))
        }
    }
}

fn tells_text(tells: &Tells) -> String {
    let all = tells.named.len() + tells.hinted.len();
    let mut out = match tells.named.len() {
        0 => format!(
            "{} can show here, none often enough to be named from this check alone.",
            count(all, "known pattern")
        ),
        named => format!(
            "Of {} that can show here, {named} would be named from this check alone if a pupil \
             used it throughout.",
            count(all, "known pattern")
        ),
    };
    for sentence in tells.expected.sentences() {
        write!(out, " {sentence}").ok();
    }
    out.push_str(" Evidence adds up over the checks of a skill; all other mistakes stay unnamed.");
    out
}
