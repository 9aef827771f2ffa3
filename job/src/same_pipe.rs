//! The second side as the same pipe as the first.

use crate::edit::{EditError, get, set};
use crate::file::shape;

/// What two sides of one pipe always have in common: its dimensions and its metal.
const OF_THE_PIPE: [&str; 9] = [
    "outside_diameter",
    "wall",
    "metal",
    "p_number",
    "group",
    "chemistry",
    "tensile_strength",
    "tempered_at",
    "cladding",
];

/// What a side may have of its own: where it ends and how it is prepared for the weld. Only what the second side does not
/// say itself is taken over.
const OF_THE_SIDE: [&str; 6] = [
    "length",
    "bore_end",
    "weld_end.outside_diameter",
    "weld_end.wall",
    "weld_end.straight",
    "weld_end.taper",
];

/// A second side that became the same pipe as the first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SamePipe {
    /// The file.
    pub text: String,
    /// Keys of the side whose values were taken over, also where they were the same already.
    pub taken_over: Vec<&'static str>,
    /// Keys that only the second side had, and that are of another pipe.
    pub taken_away: Vec<&'static str>,
    /// What the second side says itself and otherwise than the first.
    pub left: Vec<LeftAsItIs>,
}

/// A value of the second side that was left as it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftAsItIs {
    /// Its key of the side.
    pub key: &'static str,
    /// What the second side says.
    pub says: String,
    /// What the first side says.
    pub first_says: String,
}

impl SamePipe {
    /// What was done, as a person reads it.
    pub fn words(&self) -> String {
        let list = |keys: &[&str]| {
            let names: Vec<String> = keys.iter().map(|key| name_of(key)).collect();
            names.join(", ")
        };
        let over = match self.taken_over.as_slice() {
            [] => "Nothing was taken over: the first side says nothing of its pipe yet".to_owned(),
            keys => format!("Taken over from the first side: {}", list(keys)),
        };
        let gone = match self.taken_away.as_slice() {
            [] => String::new(),
            keys => format!(" Of the other pipe, and gone: {}.", list(keys)),
        };
        format!("{over}.{gone}{}", self.left_words())
    }

    /// What was left, why, and how it is taken over all the same.
    fn left_words(&self) -> String {
        let one = |left: &LeftAsItIs| {
            let name = name_of(left.key);
            format!("{name} {} (first side: {})", left.says, left.first_says)
        };
        let all: Vec<String> = self.left.iter().map(one).collect();
        match all.len() {
            0 => String::new(),
            _ => format!(
                " Left as it is, for the second side says it itself: {}. Empty it there and take the same pipe again, and it is \
                 that of the first side.",
                all.join("; ")
            ),
        }
    }
}

/// A key of the side in words.
fn name_of(key: &str) -> String {
    let name = shape::named(&format!("side[2].{key}"));
    let name = name.replacen("Second side", "", 1);
    name.trim_start_matches([':', ' ']).to_owned()
}

/// Makes the second side the same pipe as the first; what it leads to stays its own.
///
/// # Errors
/// [`EditError`].
pub fn same_pipe(text: &str) -> Result<SamePipe, EditError> {
    let mut same = SamePipe {
        text: text.to_owned(),
        taken_over: Vec::new(),
        taken_away: Vec::new(),
        left: Vec::new(),
    };
    let of = |text: &str, side: usize, key: &str| get(text, &format!("side[{side}].{key}"));
    for key in OF_THE_PIPE.into_iter().chain(OF_THE_SIDE) {
        let (first, second) = (of(text, 1, key), of(text, 2, key));
        let is_own = OF_THE_SIDE.contains(&key);
        let is_needed = matches!(key, "outside_diameter" | "wall" | "metal");
        match (first.is_empty(), second.is_empty()) {
            (true, true) => continue,
            // What the first side has yet to say takes nothing away.
            (true, false) if is_own || is_needed => continue,
            (true, false) => same.taken_away.push(key),
            (false, false) if is_own => {
                if first != second {
                    same.left.push(LeftAsItIs {
                        key,
                        says: second,
                        first_says: first,
                    });
                }
                continue;
            }
            (false, _) => same.taken_over.push(key),
        }
        same.text = set(&same.text, &format!("side[2].{key}"), &first)?;
    }
    Ok(same)
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = "[[side]]\nwall = \"10 mm\"\n\n[[side]]\nwall = \"12 mm\"\n";

    #[test]
    fn the_second_side_becomes_the_same_pipe_and_keeps_its_own_length() {
        let text = set(FILE, "side[1].metal", "carbon steel").expect("set");
        let text = set(&text, "side[2].length", "3 m").expect("set");
        let text = set(&text, "side[2].p_number", "5B").expect("set");
        let text = set(&text, "side[1].length", "2 m").expect("set");
        let text = set(&text, "side[1].bore_end", "open").expect("set");
        let same = same_pipe(&text).expect("the same");
        let of_second = |key: &str| get(&same.text, &format!("side[2].{key}"));
        assert_eq!(of_second("wall"), "10 mm");
        assert_eq!(of_second("metal"), "carbon steel");
        assert_eq!(of_second("length"), "3 m");
        assert_eq!(of_second("bore_end"), "open");
        assert_eq!(of_second("p_number"), "");
        assert_eq!(
            same.words(),
            "Taken over from the first side: wall, metal, bore end. Of the other pipe, and gone: P-number. Left as it is, for the \
             second side says it itself: length 3 m (first side: 2 m). Empty it there and take the same pipe again, and it is \
             that of the first side."
        );
    }

    #[test]
    fn what_both_sides_say_alike_is_not_told_as_left_and_what_is_emptied_is_taken_over() {
        let text = set(FILE, "side[1].length", "120 ft").expect("set");
        let text = set(&text, "side[2].length", "120 in").expect("set");
        let first = same_pipe(&text).expect("the same");
        assert_eq!(first.left.len(), 1, "{first:?}");
        assert!(first.words().contains("length 120 in (first side: 120 ft)"));
        let emptied = set(&first.text, "side[2].length", "").expect("set");
        let again = same_pipe(&emptied).expect("the same");
        assert_eq!(get(&again.text, "side[2].length"), "120 ft");
        let third = same_pipe(&again.text).expect("the same");
        assert!(third.left.is_empty() && !third.words().contains("Left"));
    }

    #[test]
    fn a_first_side_that_says_nothing_takes_nothing_away() {
        let text = set("", "side[2].wall", "12 mm").expect("set");
        let same = same_pipe(&text).expect("the same");
        assert_eq!(get(&same.text, "side[2].wall"), "12 mm");
        assert!(same.words().starts_with("Nothing was taken over"));
    }
}
