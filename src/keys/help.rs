//! The key table for people: help, hints and the README, all from the table of intents.

use crate::keys::context::Context;
use crate::keys::intent::Intent;
use crate::keys::keymap::Keymap;
use crate::keys::table::{Row, TABLE};

/// One line of help: a wish and the keys for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HelpRow {
    /// What is meant; the first of them where a line stands for a family of digits.
    pub intent: Intent,
    /// The keys, each way written out.
    pub keys: Vec<String>,
    /// What it does.
    pub words: &'static str,
}

/// What the keys do here, in the order of the table; only what some key reaches.
///
/// Zones, digits and choices are one line each, with the first key of every member.
pub fn rows(map: &Keymap, context: Context) -> Vec<HelpRow> {
    families(context)
        .into_iter()
        .map(|family| help_row(map, context, &family))
        .filter(|row| !row.keys.is_empty())
        .collect()
}

/// The markdown table "key by state" over several keymaps, for the README.
///
/// `say` puts a region's terms into their places.
pub fn markdown(maps: &[Keymap], say: &dyn Fn(&str) -> String) -> String {
    Context::ALL.iter().map(|context| say(&markdown_of(maps, *context))).collect::<Vec<_>>().join("\n")
}

fn markdown_of(maps: &[Keymap], context: Context) -> String {
    let mut head = format!("| {} |", context.words());
    let mut rule = String::from("| --- |");
    for map in maps {
        head.push_str(&format!(" {} |", map.name()));
        rule.push_str(" --- |");
    }
    let mut lines = vec![head, rule];
    for family in families(context) {
        let mut line = format!("| {} |", family[0].words);
        let between = if family.len() > 1 { ", " } else { " or " };
        for map in maps {
            line.push_str(&format!(" {} |", cell(&help_row(map, context, &family), between)));
        }
        lines.push(line);
    }
    lines.join("\n") + "\n"
}

/// Keys in code marks, so that none of them is read as markdown.
fn cell(row: &HelpRow, between: &str) -> String {
    let keys: Vec<String> = row
        .keys
        .iter()
        .map(|key| match key.as_str() {
            "`" => "`` ` ``".to_string(),
            other => format!("`{}`", other.replace('|', "\\|")),
        })
        .collect();
    if between == " or " {
        return keys.join(between);
    }
    runs(&row.keys, &keys)
}

/// A family's keys; digits that follow each other are said as from and to.
fn runs(keys: &[String], marked: &[String]) -> String {
    let digit = |at: usize| keys.get(at).and_then(|key| key.parse::<u8>().ok()).filter(|digit| *digit <= 9);
    let mut said = Vec::new();
    let mut at = 0;
    while at < keys.len() {
        let follows =
            |next: usize| digit(next).is_some_and(|after| digit(next - 1).is_some_and(|one| one + 1 == after));
        let last = (at + 1..keys.len()).take_while(|next| follows(*next)).last().unwrap_or(at);
        if last > at + 1 {
            said.push(format!("{} to {}", marked[at], marked[last]));
            at = last + 1;
        } else {
            said.push(marked[at].clone());
            at += 1;
        }
    }
    said.join(", ")
}

/// The rows of a context; neighbours with the same words are one family.
fn families(context: Context) -> Vec<Vec<&'static Row>> {
    let mut families: Vec<Vec<&'static Row>> = Vec::new();
    for row in TABLE.iter().filter(|row| row.meant.contains(&context)) {
        match families.last_mut() {
            Some(family) if family[0].words == row.words => family.push(row),
            _ => families.push(vec![row]),
        }
    }
    families
}

fn help_row(map: &Keymap, context: Context, family: &[&'static Row]) -> HelpRow {
    let keys = match family {
        [row] => map.keys_for(context, row.intent),
        many => many.iter().flat_map(|row| map.keys_for(context, row.intent).into_iter().next()).collect(),
    };
    HelpRow { intent: family[0].intent, keys, words: family[0].words }
}
