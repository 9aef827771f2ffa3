//! A plan against the one before it: what was changed, what became better and what worse, and what is left to each limit.

use job::plan_before::{AgainstBefore, Changed, Number};
use maud::{Markup, html};

const COLUMNS: [&str; 5] = [
    "What",
    "Before",
    "Now",
    "Better or worse",
    "What is left, and why",
];

/// What differs from the plan before; nothing where nothing does.
pub fn since_before(against: &AgainstBefore) -> Markup {
    html! {
        @if !against.is_same() {
            div #against-before {
                h3 { "Against the plan before" }
                @match against.wrap.as_slice() {
                    [] => {},
                    [one] => p { "Changed: " (one) "." },
                    several => { p { "Changed:" } ul.plain { @for one in several { li { (one) } } } }
                }
                @if against.changed.is_empty() { p.soft { "Every number that is compared reads as before." } }
                @else { (numbers(&against.changed)) }
            }
        }
    }
}

fn numbers(changed: &[Changed]) -> Markup {
    let of_metal = |one: &Changed| matches!(one.of, Number::MetalColdest | Number::MetalHottest);
    html! {
        // On a phone the rows are entries, one below the other; the roles keep them a table for a screen reader.
        table.answer.stacks role="table" {
            thead role="rowgroup" { tr role="row" {
                @for words in COLUMNS { th.end[matches!(words, "Before" | "Now")] scope="col" role="columnheader" { (words) } }
            } }
            tbody role="rowgroup" { @for one in changed { (number(one)) } }
        }
        @if changed.iter().any(of_metal) {
            p.soft { "Coldest and hottest in the hold are those of the metal over its whole length, from its first minute. The quick answer above is of the metal at rest, which the hold comes near only at its end; at the beginning of the hold it can go the other way." }
        }
    }
}

fn number(one: &Changed) -> Markup {
    let [_, before, now, better, left] = COLUMNS;
    html! {
        tr role="row" {
            th scope="row" role="rowheader" { (one.what) }
            td.end role="cell" data-names=(before) { (one.was) }
            td.end role="cell" data-names=(now) { (one.is) }
            td role="cell" data-names=(better) { (merit(one.better)) }
            td.beside role="cell" data-names=(left) { (beside(one)) }
        }
    }
}

fn merit(better: Option<bool>) -> Markup {
    html! {
        @match better {
            Some(true) => span.better { span aria-hidden="true" { "◇ " } "better" },
            Some(false) => span.worse { span aria-hidden="true" { "◆ " } "worse" },
            None => {}
        }
    }
}

/// What is left, below it where and when, and what made it differ.
fn beside(one: &Changed) -> Markup {
    html! {
        @if let Some(left) = &one.left { span.left { (left) } }
        @if let Some(place) = &one.place { span.soft.where { (place) } }
        @if let Some(because) = &one.because { span.because { "Why: " (because) "." } }
    }
}
