//! A set of rules as a plain file: days by name, in sections. Printing and reading are inverses; what a file does not say
//! stays as it was, and of a faulty file nothing counts.

use super::settings::{Reading, SettingProblem, Value, listed, shown};
use crate::domain::follow_up::rules::{MOST, RULES, RuleSet, named};

/// Reads a file over the rules that it changes. With a problem anywhere, those rules come back as they were.
pub fn read(file: &str, bytes: &[u8], over: &RuleSet) -> (RuleSet, Vec<SettingProblem>) {
    let mut set = over.clone();
    let mut reading = Reading::of(file, bytes, "off = 3, below a line [wrap]");
    let mut lines = Vec::new();
    for setting in std::mem::take(&mut reading.settings) {
        let (section, name, line) = (setting.section.as_str(), setting.name.as_str(), setting.line);
        let Some(rule) = named(section, name) else {
            let (what, next) = unknown(section, name);
            reading.problem(line, what, next);
            continue;
        };
        match setting.value {
            Value::Whole(days) if (0..=i64::from(MOST)).contains(&days) => {
                rule.set(&mut set, u16::try_from(days).unwrap_or(MOST));
                lines.push((section.to_owned(), name.to_owned(), line));
            }
            value => {
                let unit = if name.ends_with("-mm") { "millimetres" } else { "days" };
                let next = format!("write whole {unit}, 0 to {MOST}");
                reading.problem(line, format!("{section}.{name} cannot be {}", value.quoted()), next);
            }
        }
    }
    for (section, earlier, later) in set.misordered() {
        let said = |name: &str| lines.iter().find(|(s, n, _)| s == section && n == name).map(|(_, _, line)| *line);
        let line = said(earlier).max(said(later)).unwrap_or(1);
        let what = format!("{section}.{earlier} would come after {section}.{later}");
        reading.problem(line, what, format!("make {earlier} the smaller of the two"));
    }
    let problems = reading.told();
    if problems.is_empty() { (set, problems) } else { (over.clone(), problems) }
}

fn unknown(section: &str, name: &str) -> (String, String) {
    let here: Vec<&str> = RULES.iter().filter(|rule| rule.section == section).map(|rule| rule.name).collect();
    if here.is_empty() {
        let mut sections: Vec<&str> = RULES.iter().map(|rule| rule.section).collect();
        sections.dedup();
        let what = if section.is_empty() {
            format!("\"{}\" stands in no section", shown(name))
        } else {
            format!("there is no section [{}]", shown(section))
        };
        return (what, format!("the sections are {}", listed(sections.into_iter())));
    }
    (format!("[{section}] has no rule \"{}\"", shown(name)), format!("its rules are {}", listed(here.into_iter())))
}

/// Prints a whole set, each rule with what it is and where its default comes from.
pub fn print(set: &RuleSet) -> String {
    let mut text =
        "# Rules, in days; in millimetres where a name ends in -mm. What a file does not say stays as it was.\n"
            .to_owned();
    let mut section = "";
    for rule in RULES {
        if rule.section != section {
            section = rule.section;
            text.push_str(&format!("\n[{section}]\n"));
        }
        let days = rule.get(set);
        let default = if days == rule.days { String::new() } else { format!("default {}; ", rule.days) };
        text.push_str(&format!("{} = {days}  # {default}{}\n", rule.name, rule.source));
    }
    text
}
