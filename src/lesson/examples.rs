//! Worked examples whose question is a choice: its options, the right one, and why.

use crate::exercise::{Item, Kind, Working};

/// A choice with its options before its working, and after them which is right and why; other
/// items as they are.
///
/// On paper a worked example shows its question and its steps. The steps of a choice say only why,
/// so that without its options nobody could tell what was asked. (Options that hold an equation
/// may be false and could not stand in a working: the right one is named all the same.)
pub fn told(item: Item) -> Item {
    let Working::Steps { steps } = &item.working else { return item };
    if item.kind != Kind::Choice || steps.is_empty() {
        return item;
    }
    let options = || item.choices.iter().zip('A'..);
    let Some((right, letter)) = options().find(|(c, _)| c.correct) else { return item };
    let mut told = Vec::new();
    if item.choices.iter().all(|c| !c.text.contains(['=', '≈', '“'])) {
        let each: Vec<String> =
            options().map(|(c, letter)| format!("{letter}\u{a0}\u{a0}{}", c.text)).collect();
        told.push(each.join("\u{a0}\u{a0} \u{a0}\u{a0}"));
    }
    told.push(format!("{letter} is right: {}.", right.text.trim_end_matches('.')));
    told.extend(steps.iter().cloned());
    Item { working: Working::Steps { steps: told }, ..item }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::makers::{self, Request, Setting, Spot};
    use crate::exercise::{Profile, verify};
    use crate::method::HouseStyle;
    use crate::seed::Seed;

    #[test]
    fn every_choice_shown_names_its_options_and_the_right_one_and_stays_true() {
        let style = HouseStyle::default();
        let mut seen = 0;
        for class in ["one", "two", "three"] {
            let setting = Setting::new(Seed::of(class), style.clone(), 100);
            for maker in makers::names() {
                let request = Request {
                    skill: maker,
                    part: 1,
                    spot: Spot::Example,
                    name: "A",
                    profile: Profile::Learning,
                    seconds: 900,
                    least: 3,
                    most: 3,
                    own: &[],
                };
                let made = makers::make(maker, &request, &setting).expect("examples");
                for item in made.into_iter().filter(|i| i.kind == Kind::Choice) {
                    let Working::Steps { steps: before } = item.working.clone() else { continue };
                    let item = told(item);
                    assert_eq!(verify(&item), Ok(()), "{maker}: {}", item.prompt);
                    let Working::Steps { steps } = &item.working else { panic!("steps") };
                    let text = steps.join("\n");
                    assert!(text.contains(&format!(" is right: {}", item.answer)), "{text}");
                    assert!(steps.ends_with(&before), "{text}");
                    let sums = item.choices.iter().any(|c| c.text.contains(['=', '≈', '“']));
                    assert!(sums || item.choices.iter().all(|c| steps[0].contains(&c.text)));
                    seen += 1;
                }
            }
        }
        assert!(seen >= 9, "only {seen} choices");
    }
}
