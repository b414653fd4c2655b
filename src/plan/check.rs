//! Checking: the only way from a plan file to a plan.

use super::file::{LessonsPart, PACE, PUPILS, Pupils};
use super::{Beside, Class, Fixed, OwnSums, Plan, PlanFile, Unit};
use crate::calendar::{Closing, Term};
use crate::curriculum::{Framework, LESSONS, Ladder, Lessons};
use crate::report::{Message, Report, Spot, nearest};
use crate::words;
use chrono::NaiveDate;
use indexmap::IndexMap;
use std::collections::BTreeSet;
use std::sync::Arc;

impl Plan {
    /// Checks a plan file against what lies beside it; all mistakes go into the report.
    pub fn check(file: &PlanFile, beside: &Beside, report: &mut Report) -> Option<Plan> {
        let mut found = Report::new();
        let class = check_class(file, beside, &mut found);
        let frameworks = check_frameworks(file, beside, &mut found);
        let closings = all_closings(file, beside, &mut found);
        check_outside_term(file, &mut found);
        let ladder = beside.ladder.as_ref();
        let checked = ladder.map(|ladder| check_skills(file, ladder, &class, &mut found));
        let usable = file.sound && !found.has_mistakes();
        report.append(found);
        let (unit, own) = checked?;
        let (ladder, term) = (ladder?.clone(), file.term.as_ref()?);
        let (starts, ends, school_days) = (term.starts, term.ends, term.school_days);
        usable.then(|| Plan {
            class,
            term: Term { starts, ends, school_days },
            timetable: file.timetable.clone(),
            closings,
            openings: all_openings(file),
            unit,
            costs: file.costs.clone(),
            style: file.style.house.clone(),
            methods_named: file.style.methods_named,
            paper: file.style.paper,
            frameworks,
            ladder,
            own,
            resources: file.resources.iter().map(|r| r.value.clone()).collect(),
            stories: Vec::new(),
        })
    }
}

fn check_class(file: &PlanFile, beside: &Beside, report: &mut Report) -> Class {
    let part = &file.class;
    let (pupils, pupil_names) = match &part.pupils {
        Pupils::Count(n) => (*n, (1..=*n).map(|n| n.to_string()).collect()),
        Pupils::File(file) => {
            let names = beside.pupils.clone().unwrap_or_default();
            let count = u32::try_from(names.len()).unwrap_or(u32::MAX);
            if beside.pupils.is_some() && !PUPILS.contains(&count) {
                let text = format!("`{}` lists {}", file.value, words::count(names.len(), "pupil"));
                let label = format!("expected {} to {} pupils", PUPILS.start(), PUPILS.end());
                let message = Message::mistake(text).at(&file.place).label(label);
                report.say(message.hint("list one pupil a line, under a first line `pupil`"));
            }
            (count, names)
        }
    };
    Class {
        name: part.name.clone(),
        school: part.school.clone(),
        key: part.key.clone().unwrap_or_else(|| part.name.clone()),
        pupils,
        pupil_names,
        pace: part.pace,
        zone: part.zone,
    }
}

fn check_frameworks(file: &PlanFile, beside: &Beside, report: &mut Report) -> Vec<Arc<Framework>> {
    let Some(names) = &file.style.frameworks else {
        return beside.frameworks.values().take(1).cloned().collect();
    };
    let mut frameworks: Vec<Arc<Framework>> = Vec::new();
    for name in names {
        match beside.frameworks.get(&name.value) {
            Some(framework) if frameworks.iter().all(|f| f.name != framework.name) => {
                frameworks.push(framework.clone());
            }
            Some(_) => {}
            None => {
                let known: Vec<&str> = beside.frameworks.keys().map(String::as_str).collect();
                let text = format!("`style.framework`: no framework is named `{}`", name.value);
                let message = Message::mistake(text).at(&name.place);
                let message = message.label(format!("expected {}", words::or(&known)));
                report.say(message.meant(&name.value, known.iter().copied()));
            }
        }
    }
    frameworks
}

/// The plan's closures and those events of the calendars that its filters take.
fn all_closings(file: &PlanFile, beside: &Beside, report: &mut Report) -> Vec<Closing> {
    let mut closings: Vec<Closing> = file.closures.iter().map(|c| c.value.clone()).collect();
    for (calendar, events) in file.calendars.iter().zip(&beside.calendars) {
        let before = closings.len();
        closings.extend(events.iter().filter(|e| calendar.takes(&e.because)).cloned());
        if let Some(filter) = calendar.matching.first().filter(|_| closings.len() == before) {
            let text = format!("no event of `{}` in this term matches", calendar.file.value);
            let message = Message::warning(text).at(&filter.place);
            report.say(message.hint("the text must stand in the event's summary"));
        }
    }
    closings
}

fn all_openings(file: &PlanFile) -> Vec<NaiveDate> {
    let days = |(from, to): (NaiveDate, NaiveDate)| from.iter_days().take_while(move |&d| d <= to);
    file.openings.iter().flat_map(|o| days(o.days.value)).collect()
}

/// Closures and openings that cannot touch the term are most likely slips in a date.
fn check_outside_term(file: &PlanFile, report: &mut Report) {
    let Some(term) = &file.term else { return };
    let outside = |from: NaiveDate, to: NaiveDate| to < term.starts || term.ends < from;
    let closures = file.closures.iter().map(|c| (c.with((c.value.from, c.value.to)), "closure"));
    let openings = file.openings.iter().map(|o| (o.days.clone(), "opening"));
    for (days, name) in closures.chain(openings) {
        if outside(days.value.0, days.value.1) {
            let message = Message::warning(format!("this {name} lies outside the term"));
            let hint = format!("the term runs from {} to {}", term.starts, term.ends);
            report.say(message.at(&days.place).hint(hint));
        }
    }
}

fn check_skills(
    file: &PlanFile,
    ladder: &Ladder,
    class: &Class,
    report: &mut Report,
) -> (Unit, Vec<OwnSums>) {
    let part = &file.unit;
    for skill in skills_named(file) {
        check_skill(&skill, ladder, report);
    }
    let all = |spots: &[Spot<String>]| spots.iter().map(|s| s.value.clone()).collect::<Vec<_>>();
    let unit = Unit {
        teach: all(&part.teach),
        secure: all(&part.secure),
        leave_out: all(&part.leave_out),
        test: part.test,
        revision: part.revision,
        catch_up: part.catch_up,
        fixed: part.fixed.iter().map(fixed).collect(),
        lessons: all_lessons(&part.lessons, ladder, report),
    };
    note_known_skills(file, ladder, report);
    note_pace(file, ladder, class, &unit, report);
    let own = own_sums(file, &unit, report);
    (unit, own)
}

fn fixed(part: &super::file::FixedPart) -> Fixed {
    let skill = part.skill.as_ref().map(|s| s.value.clone());
    Fixed { date: part.date, starts: part.starts, kind: part.kind, skill }
}

/// Every place of the plan that names a skill.
fn skills_named(file: &PlanFile) -> Vec<Spot<String>> {
    let unit = &file.unit;
    let lists = unit.teach.iter().chain(&unit.secure).chain(&unit.leave_out);
    let fixed = unit.fixed.iter().filter_map(|f| f.skill.as_ref());
    let lessons = unit.lessons.iter().map(|l| &l.skill);
    let own = file.own.iter().map(|o| &o.skill);
    let mut all: Vec<Spot<String>> =
        lists.chain(fixed).chain(lessons).chain(own).cloned().collect();
    all.extend(file.resources.iter().map(|r| r.with(r.value.skill.clone())));
    all
}

fn check_skill(skill: &Spot<String>, ladder: &Ladder, report: &mut Report) {
    if !ladder.skills.contains_key(&skill.value) {
        let ids = || ladder.skills.keys().map(String::as_str);
        let text = format!("the ladder `{}` has no skill `{}`", ladder.name, skill.value);
        let message = Message::mistake(text).at(&skill.place).label("expected the id of a skill");
        report.say(match nearest(&skill.value, ids()) {
            Some(near) => message.hint(format!("did you mean `{near}`?")),
            None => message.hint("`rungwise skills` lists the skills of a ladder"),
        });
    }
}

/// Each skill's numbers of lessons, those of the plan worked in.
fn all_lessons(
    wishes: &[LessonsPart],
    ladder: &Ladder,
    report: &mut Report,
) -> IndexMap<String, Lessons> {
    let mut all: IndexMap<String, Lessons> =
        ladder.skills.iter().map(|(id, skill)| (id.clone(), skill.lessons)).collect();
    for wish in wishes {
        let Some(lessons) = all.get_mut(&wish.skill.value) else { continue };
        *lessons = pulled(*lessons, wish);
        if !lessons.in_order() {
            let text = format!(
                "lessons of `{}` out of order: least {}, preferred {}, most {}",
                wish.skill.value, lessons.least, lessons.preferred, lessons.most
            );
            let message =
                Message::mistake(text).at(&wish.place).label("expected least <= preferred <= most");
            report.say(message.hint("numbers that are not given are pulled to fit those that are"));
        }
    }
    all
}

/// Numbers that are not given are pulled to fit those that are.
fn pulled(ladder: Lessons, wish: &LessonsPart) -> Lessons {
    let given = || [wish.least, wish.preferred, wish.most].into_iter().flatten();
    let lowest = given().chain([ladder.least]).min().unwrap_or(ladder.least);
    let highest = given().chain([ladder.most]).max().unwrap_or(ladder.most);
    let least = wish.least.unwrap_or(lowest);
    let most = wish.most.unwrap_or(highest);
    let preferred = wish.preferred.unwrap_or(ladder.preferred.min(most).max(least));
    Lessons { least, preferred, most }
}

/// A skill both to be taught and known is not taught: the teacher may have meant otherwise.
fn note_known_skills(file: &PlanFile, ladder: &Ladder, report: &mut Report) {
    let secure = || file.unit.secure.iter().map(|s| s.value.as_str());
    for skill in &file.unit.teach {
        let because = secure()
            .find(|&s| s == skill.value || ladder.all_needs(s).contains(&skill.value.as_str()));
        let Some(because) = because else { continue };
        let message = if because == skill.value {
            Message::warning(format!("`{because}` is in `teach` and in `secure`"))
        } else {
            let text = format!("`{}` is known with `{because}`, which needs it", skill.value);
            Message::warning(text)
        };
        let hint = format!("it is not taught; take `{because}` out of `secure` to teach it");
        report.say(message.at(&skill.place).hint(hint));
    }
}

/// Where the class's pace calls for more lessons than a skill has, says which.
fn note_pace(file: &PlanFile, ladder: &Ladder, class: &Class, unit: &Unit, report: &mut Report) {
    let Some(place) = file.class.pace_place.as_ref().filter(|_| PACE.contains(&class.pace)) else {
        return;
    };
    let settled: BTreeSet<&str> =
        file.unit.lessons.iter().map(|l| l.skill.value.as_str()).collect();
    let more = |id: &&str| {
        let preferred = u32::from(unit.lessons[*id].preferred);
        let wanted = (preferred * class.pace + 50) / 100;
        let wanted = wanted.min(u32::from(*LESSONS.end()));
        (wanted > preferred).then(|| format!("{id} = {{ preferred = {wanted} }}"))
    };
    let lines: Vec<String> = ladder
        .unit(&unit.teach, &unit.secure)
        .iter()
        .filter(|id| !settled.contains(*id))
        .filter_map(more)
        .collect();
    if !lines.is_empty() {
        let count = words::count(lines.len(), "skill");
        let text = format!("this pace calls for more lessons of {count} than the ladder gives");
        let message = Message::warning(text).at(place);
        report.say(message.hint(format!("add to `[unit.lessons]`: {}", lines.join(", "))));
    }
}

fn own_sums(file: &PlanFile, unit: &Unit, report: &mut Report) -> Vec<OwnSums> {
    for own in &file.own {
        let most = unit.lessons.get(&own.skill.value).map(|l| l.most);
        if let (Some(part), Some(most)) = (&own.part, most)
            && part.value > most
        {
            let lessons = words::count(usize::from(most), "lesson");
            let text =
                format!("`{}` has at most {lessons}: no part {}", own.skill.value, part.value);
            let message = Message::warning(text).at(&part.place);
            report
                .say(message.hint("these sums are never printed; change `part`, or take it away"));
        }
    }
    let own = |own: &super::file::OwnPart| OwnSums {
        skill: own.skill.value.clone(),
        part: own.part.as_ref().map(|p| p.value),
        example: own.example.clone(),
        practice: own.practice.clone(),
        exit_check: own.exit_check.clone(),
    };
    file.own.iter().map(own).collect()
}
