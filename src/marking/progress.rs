//! From marks to progress: what each pupil answered, skill by skill and day by day.

use super::answers::{Answers, marked_items};
use super::question::Question;
use crate::lesson::{Checked, Pack, Progress, PupilProgress, SkillProgress, stage};
use chrono::NaiveDate;
use indexmap::IndexMap;

/// What lessons held so far have done with a skill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SkillPast {
    /// The skill.
    pub skill: String,
    /// Its title.
    pub title: String,
    /// How many lessons taught it.
    pub met: u32,
    /// In how many later lessons it came back.
    pub practised: u32,
    /// The day of the last lesson that taught it.
    pub last_taught: Option<NaiveDate>,
}

/// Answers by skill, pupil and day.
type Days<'a> = IndexMap<(&'a str, &'a str), IndexMap<NaiveDate, (u32, u32)>>;

/// The progress of these pupils; who is in the marks and not in the class comes after the others.
pub fn progress(skills: &[SkillPast], marked: &[(Pack, Answers)], pupils: &[String]) -> Progress {
    let mut days: Days = IndexMap::new();
    let mut pupils = pupils.to_vec();
    for (pack, answers) in marked {
        let questions: Vec<Question> = marked_items(pack).into_iter().map(Question::of).collect();
        for (pupil, given) in &answers.pupils {
            if !pupils.contains(pupil) {
                pupils.push(pupil.clone());
            }
            for question in &questions {
                let Some(given) = given.get(&question.item.id).and_then(Option::as_deref) else {
                    continue;
                };
                let key = (question.item.skill.as_str(), pupil.as_str());
                let day = days.entry(key).or_default().entry(pack.date).or_insert((0, 0));
                day.0 += u32::from(question.is_right(&question.meant(given)));
                day.1 += 1;
            }
        }
    }
    let of_pupil = |past: &SkillPast, pupil: &String| {
        let answered = days.get(&(past.skill.as_str(), pupil.as_str()));
        let mut checks: Vec<Checked> = answered
            .into_iter()
            .flatten()
            .map(|(&day, &(right, of))| Checked { day, right, of })
            .collect();
        checks.sort_by_key(|c| c.day);
        let stage = stage(past.met, past.practised, &checks, past.last_taught);
        PupilProgress { pupil: pupil.clone(), stage, checks }
    };
    let of_skill = |past: &SkillPast| SkillProgress {
        skill: past.skill.clone(),
        title: past.title.clone(),
        met: past.met,
        practised: past.practised,
        pupils: pupils.iter().map(|pupil| of_pupil(past, pupil)).collect(),
    };
    let skills = skills.iter().map(of_skill).collect();
    Progress { pupils, skills }
}
