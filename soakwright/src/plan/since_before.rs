//! What became better and what worse since the plan that lay in the folder, in 80 columns.

use job::plan_before::{AgainstBefore, Changed};

use crate::columns::{COLUMNS, wrapped};

/// What differs, below each other.
pub(super) fn since_before(against: &AgainstBefore) -> Vec<String> {
    if against.is_same() {
        return wrapped("", "The plan before said the same.");
    }
    let mut lines = vec!["Against the plan before:".to_owned()];
    let changed = against.wrap.iter().map(|one| format!("changed: {one}"));
    lines.extend(changed.flat_map(|one| wrapped("- ", &one)));
    let widths = Widths::of(&against.changed);
    let numbers = against.changed.iter();
    lines.extend(numbers.flat_map(|one| number(one, &widths)));
    lines
}

/// How wide the widest of each column is.
struct Widths {
    what: usize,
    was: usize,
    is: usize,
}

impl Widths {
    fn of(changed: &[Changed]) -> Widths {
        let width = |of: fn(&Changed) -> &str| {
            let widths = changed.iter().map(|one| of(one).chars().count());
            widths.max().unwrap_or(0)
        };
        let was = width(|one| &one.was);
        let is = width(|one| &one.is);
        let others = "- ".len() + "  , was ".len() + was + is + "  better".len();
        Widths {
            what: width(|one| &one.what).min(COLUMNS.saturating_sub(others)),
            was,
            is,
        }
    }
}

/// A number, and below it what is left, where and when. A name that is too long for its column pushes the rest on.
fn number(one: &Changed, widths: &Widths) -> Vec<String> {
    let (what, was, is) = (&one.what, &one.was, &one.is);
    let better = match one.better {
        Some(true) => "better",
        Some(false) => "worse",
        None => "",
    };
    let Widths {
        what: whats,
        was: weres,
        is: ares,
    } = widths;
    let line = format!("- {what:whats$}  {is:>ares$}, was {was:>weres$}  {better}");
    let mut lines = match line.trim_end() {
        line if line.chars().count() <= COLUMNS => vec![line.to_owned()],
        line => wrapped("- ", &line["- ".len()..]),
    };
    let beside: Vec<&str> = one
        .left
        .iter()
        .chain(&one.place)
        .map(String::as_str)
        .collect();
    if !beside.is_empty() {
        lines.extend(wrapped("    ", &beside.join("; ")));
    }
    if let Some(because) = &one.because {
        lines.extend(wrapped("    ", &format!("Why: {because}.")));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::plan_before::Number;

    #[test]
    fn no_line_is_wider_than_the_terminal_and_what_is_left_stands_below() {
        let named = |name: &str| Changed {
            of: Number::Neighbor(name.to_owned()),
            what: format!("hottest of {name}"),
            was: "212 °F".to_owned(),
            is: "230 °F".to_owned(),
            better: Some(false),
            left: Some("20 °F under the 250 °F that it bears".to_owned()),
            place: Some("−30 mm from the weld, in the bore, ".repeat(4)),
            because: Some("turns nearer to it carry more current ".repeat(4)),
        };
        let long = "actuator of the valve beside the flange with its gasket face and its blind";
        let against = AgainstBefore {
            wrap: vec!["turn 4 of 11 lies elsewhere ".repeat(6)],
            changed: vec![named("valve"), named(long)],
        };
        let lines = since_before(&against);
        assert!(
            lines.iter().all(|line| line.chars().count() <= COLUMNS),
            "{lines:#?}"
        );
        let valve = lines.iter().position(|line| line.contains("of valve "));
        let valve = valve.expect("told");
        assert!(lines[valve].ends_with("worse"), "{lines:#?}");
        assert!(lines[valve + 1].starts_with("    20 °F under the 250 °F that it bears; "));
        let all = lines.join(" ");
        assert!(long.split(' ').all(|word| all.contains(word)));
    }
}
