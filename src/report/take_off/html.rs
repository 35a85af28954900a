//! The list as one page for paper and telephone: self-contained, without script, asking nothing of anybody. Whatever somebody
//! typed is escaped.

use super::text::is_wrap_to_do;
use super::words::{self, CAUTION, FOR_VET, NOTHING, RELIEF, TITLE, WITHHELD};
use super::{ForVet, On, TakeOff, Task, Withheld};
use crate::domain::treatment::Put;
use crate::report::safe::safe;
use crate::report::take_off::map::map;
use crate::report::withheld;
use crate::report::words::{Words, weekday};
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("style.css");

/// Writes the page.
pub fn html(list: &TakeOff, words: Words) -> String {
    let day = format!("{} {}", weekday(list.today), list.today.format("%Y"));
    let farm = safe(&list.farm.name);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (TITLE) ", " (farm) ", " (day) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                header {
                    h1 { (TITLE) }
                    p class="farm" { (farm) }
                    p class="day" { (day) }
                    p class="vet" { (words::vet(&list.farm)) }
                    @for line in words::to_ring(list) { p class="vet" { (line) } }
                }
                @if list.is_empty() { p { (NOTHING) } }
                @if !list.for_vet.is_empty() { (for_vet(&list.for_vet, words)) }
                @if !list.withheld.is_empty() { (withheld(&list.withheld, words)) }
                @for task in Task::ALL { (section(list, task, words)) }
                @if list.on.iter().any(is_wrap_to_do) { (how(words)) }
                footer { (CAUTION) }
            }
        }
    };
    page.into_string()
}

fn for_vet(animals: &[ForVet], words: Words) -> Markup {
    html! {
        section class="for-vet" {
            h2 { (FOR_VET) }
            ul {
                @for one in animals {
                    li {
                        span class="box" {}
                        b { (one.animal) }
                        @if !one.where_is.is_empty() { ", " (one.where_is) }
                        " " b { (words::spot(one.place, true)) } ": " (words::vet_reason(one, words))
                    }
                }
            }
        }
    }
}

fn withheld(animals: &[Withheld], words: Words) -> Markup {
    html! {
        section class="to-know" {
            h2 { (WITHHELD) }
            ul {
                @for one in animals {
                    li {
                        b { (one.animal) }
                        @if !one.where_is.is_empty() { ", " (one.where_is) }
                        ": " (withheld::line(&one.stated, one.used, one.counts, words))
                    }
                }
            }
        }
    }
}

fn section(list: &TakeOff, task: Task, words: Words) -> Markup {
    let items: Vec<&On> = list.with(task).collect();
    if items.is_empty() {
        return html! {};
    }
    if task.is_to_do() { to_do(task, &items, words) } else { to_know(task, &items, words) }
}

fn to_do(task: Task, items: &[&On], words: Words) -> Markup {
    html! {
        table class="to-do" {
            colgroup { @for name in ["tick", "animal", "picture", "what", "who"] { col class=(name); } }
            thead {
                tr { th colspan="5" class="title" { (words::heading(task)) } }
                tr { th { "done" } th { "animal" } th { "foot, from above" } th { "what, by when" } th { "who and when" } }
            }
            tbody { @for on in items { (row(on, words)) } }
        }
    }
}

fn row(on: &On, words: Words) -> Markup {
    html! {
        tr {
            td class="tick" { span class="box" {} }
            td class="animal" {
                b { (on.animal) }
                @if !on.where_is.is_empty() { small { (on.where_is) } }
            }
            td class="picture" { @if let Some(foot) = on.what.foot() { (map(&on.marks, foot)) } }
            td class="what" {
                b class="thing" { (words::spot_of(on)) " " (words::thing(on, words)) }
                span { (words::when(on)) " " b class="state" { (words::state(on)) } }
                @if !words::mind(on).is_empty() { b { (words::mind(on)) } }
                (relief(on))
            }
            td class="who" { span class="line" {} span class="line" {} }
        }
    }
}

fn to_know(task: Task, items: &[&On], words: Words) -> Markup {
    html! {
        section class="to-know" {
            h2 { (words::heading(task)) }
            ul {
                @for on in items {
                    li {
                        b { (on.animal) }
                        @if !on.where_is.is_empty() { ", " (on.where_is) }
                        " " b { (words::spot_of(on)) } ": " (words::thing(on, words)) ", " (words::when(on)) " "
                        (relief(on))
                    }
                }
            }
        }
    }
}

/// The line about pain relief, of blocks only.
fn relief(on: &On) -> Markup {
    if !matches!(on.what, Put::Block { .. }) {
        return html! {};
    }
    html! {
        span class="relief" {
            (RELIEF)
            @for (word, told) in words::relief(on.relief) {
                " " span class="answer" { span class="small box" { @if told { "x" } } " " (word) }
            }
        }
    }
}

fn how(words: Words) -> Markup {
    html! {
        section class="how" {
            h2 { (words::how_title(words)) }
            ol { @for step in words::how(words) { li { (step) } } }
        }
    }
}
