//! `[style]`.

use crate::method::{Carries, CarryWord, FirstRow, HouseStyle, Written, ZeroRow};
use crate::number::{Grouping, OnesWord};
use crate::plan::PaperSize;
use crate::report::{Message, Report, Spot, Table};

/// `[style]` as written, defaults filled in.
#[derive(Debug, Clone)]
pub struct StylePart {
    pub house: HouseStyle,
    /// Whether `style.method` is there.
    pub methods_named: bool,
    pub paper: PaperSize,
    /// `style.framework`; absent: the first of ours.
    pub frameworks: Option<Vec<Spot<String>>>,
}

pub fn read(root: &Table, report: &mut Report) -> StylePart {
    let mut style = StylePart {
        house: HouseStyle::default(),
        methods_named: false,
        paper: PaperSize::default(),
        frameworks: None,
    };
    let Some(table) = root.table("style", report) else { return style };
    let house = &mut style.house;
    let groupings = [
        ("thousands", Grouping::Thousands),
        ("indian", Grouping::Indian),
        ("spaced", Grouping::Spaced),
    ];
    choose(&table, "grouping", &groupings, &mut house.grouping, report);
    let papers = [("a4", PaperSize::A4), ("letter", PaperSize::Letter)];
    choose(&table, "paper", &papers, &mut style.paper, report);
    if let Some(methods) = read_methods(&table, report) {
        house.method = methods;
        style.methods_named = true;
    }
    let carries = [("in-row", Carries::InRow), ("above", Carries::Above)];
    choose(&table, "carries", &carries, &mut house.carries, report);
    let zero_row = [("skip", ZeroRow::Skip), ("write", ZeroRow::Write)];
    choose(&table, "zero-row", &zero_row, &mut house.zero_row, report);
    let first_row = [("ones", FirstRow::Ones), ("highest", FirstRow::Highest)];
    choose(&table, "first-row", &first_row, &mut house.first_row, report);
    choose(
        &table,
        "ones",
        &[("ones", OnesWord::Ones), ("units", OnesWord::Units)],
        &mut house.ones,
        report,
    );
    let carry = [("carry", CarryWord::Carry), ("regroup", CarryWord::Regroup)];
    choose(&table, "carry", &carry, &mut house.carry, report);
    if let Some(money) = table.text("money", report) {
        house.money = money.value;
    }
    style.frameworks = read_frameworks(&table, report);
    table.finish(report);
    style
}

fn choose<T: Copy>(
    table: &Table,
    key: &str,
    choices: &[(&str, T)],
    chosen: &mut T,
    report: &mut Report,
) {
    if let Some(choice) = table.choice(key, choices, report) {
        *chosen = choice.value;
    }
}

fn read_methods(table: &Table, report: &mut Report) -> Option<Vec<Written>> {
    let choices = [("long", Written::Long), ("grid", Written::Grid), ("lattice", Written::Lattice)];
    let methods = table.choices("method", &choices, report)?;
    if methods.is_empty() && table.texts("method", &mut Report::new())?.is_empty() {
        let message =
            Message::mistake("`style.method` names no method").at(&table.place_of("method"));
        report.say(message.hint("write `method = [\"long\"]`"));
    }
    let mut once = Vec::new();
    for method in methods {
        if once.contains(&method.value) {
            let message = Message::mistake("`style.method` names a method twice").at(&method.place);
            report.say(message.hint("take one of the two away"));
        } else {
            once.push(method.value);
        }
    }
    Some(once)
}

/// A list of names, or a single name.
fn read_frameworks(table: &Table, report: &mut Report) -> Option<Vec<Spot<String>>> {
    let one = table.has("framework").then(|| table.text("framework", &mut Report::new()));
    match one.flatten() {
        Some(one) => Some(vec![one]),
        None => table.texts("framework", report),
    }
}
