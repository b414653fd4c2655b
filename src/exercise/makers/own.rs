//! Whether a sum of the teacher's own is one for its skill.

use super::lists::LISTS;
use super::looks::Zeros;
use super::written::RECIPES;
use crate::method::{ordered, routes};
use crate::number::digit_count;
use crate::words::join;

/// Makers that set whatever sums they are given.
const SET_ANY: [&str; 4] = [
    "which-is-nearer",
    "estimating-by-leading-digits",
    "digits-of-a-product",
    "checking-a-product",
];

/// Why a maker would not have set a × b itself: for a skill that takes no sums at all, a sum of
/// another size than its method is for, or one that its way in the head does not lead to. None where
/// nothing speaks against it, or the maker is unknown.
pub fn unlike_own(maker: &str, a: u64, b: u64) -> Option<String> {
    let (a, b) = ordered(a, b);
    if let Some(recipe) = RECIPES.iter().find(|r| r.name == maker) {
        let size = (digit_count(a), digit_count(b));
        // A longer number above a zero inside the lower one is the teacher's to choose.
        let longer = recipe.zeros == Zeros::InB && size.0 > recipe.size().a && size.1 == 3;
        let fits = b > 1 && (longer || recipe.sizes.iter().any(|s| (s.a, s.b) == size));
        let sizes: Vec<String> =
            recipe.sizes.iter().map(|s| format!("{} × {}", s.a, s.b)).collect();
        let digits = join(&sizes, "or");
        return (!fits).then(|| format!("the skill works with {digits} digits"));
    }
    if let Some(list) = LISTS.iter().find(|l| l.name == maker) {
        let leads = b > 1 && routes(a, b).iter().any(|route| route.is(list.route));
        return (!leads).then(|| "the way this skill teaches does not lead to it".to_owned());
    }
    let known = super::known(maker) && !SET_ANY.contains(&maker);
    known.then(|| "its questions are not bare sums, so it is not printed".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sum_is_held_against_the_skill_it_is_for() {
        assert_eq!(unlike_own("long-two-by-two", 58, 74), None);
        let why = unlike_own("long-two-by-two", 3456, 234).expect("too long");
        assert_eq!(why, "the skill works with 2 × 2 digits");
        assert!(unlike_own("long-two-by-two", 0, 5).is_some());
        assert_eq!(unlike_own("long-four-by-three", 207, 3406), None);
        assert_eq!(unlike_own("times-ten-hundred-thousand", 48, 100), None);
        assert!(unlike_own("times-ten-hundred-thousand", 12, 9).is_some());
        assert_eq!(unlike_own("rounding-and-adjusting", 47, 29), None);
        assert!(unlike_own("rounding-and-adjusting", 44, 34).is_some());
        assert!(unlike_own("story-one-step", 12, 9).expect("a story").contains("not printed"));
        assert_eq!(unlike_own("digits-of-a-product", 12, 9), None);
        assert_eq!(unlike_own("a colleague's skill", 12, 9), None);
        for maker in SET_ANY {
            assert!(super::super::known(maker), "{maker}");
        }
    }
}
