//! How much is left to a limit.

use quantity::{Celsius, Hours, Kelvins, Units};

use crate::wording::{difference, temperature};

/// How much is left, and to what.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Left {
    /// How much, with the word that says on which side: `41 °F over`.
    margin: String,
    /// The limit: `the 1100 °F asked for`.
    pub of: String,
}

impl Left {
    /// Of a temperature that is to stay above an end of a range.
    pub(super) fn above(c: f64, low_c: f64, units: Units) -> Left {
        let side = if c >= low_c { "over" } else { "under" };
        let asked = temperature(Celsius::from_c(low_c), units);
        Left::new(
            format!("{} {side}", degrees(c - low_c, units)),
            format!("the {asked} asked for"),
        )
    }

    /// Of a temperature that is to stay below what somebody `allows` (or a neighbor bears).
    pub(super) fn below(c: f64, high_c: f64, allows: &str, units: Units) -> Left {
        let side = if c <= high_c { "under" } else { "over" };
        let high = temperature(Celsius::from_c(high_c), units);
        Left::new(
            format!("{} {side}", degrees(high_c - c, units)),
            format!("the {high} {allows}"),
        )
    }

    /// Of a time that is to be as long as is asked for.
    pub(super) fn longer(h: f64, asked_h: f64) -> Left {
        let side = if h >= asked_h { "more" } else { "less" };
        let by = Hours::from_h((h - asked_h).abs()).words();
        let asked = Hours::from_h(asked_h).words();
        Left::new(
            format!("{by} {side} than"),
            format!("the {asked} asked for"),
        )
    }

    /// Of a difference, or of a rate (`per` is `/h`), that is to be no larger than what is allowed.
    pub(super) fn within(k: f64, most_k: f64, per: &str, units: Units) -> Left {
        let side = if k <= most_k { "within" } else { "above" };
        let most = degrees(most_k, units);
        Left::new(
            format!("{}{per} {side}", degrees(most_k - k, units)),
            format!("the {most}{per} allowed"),
        )
    }

    /// Of what a source gives.
    pub(super) fn of_source(value: f64, rated: f64, unit: &str) -> Left {
        let percent = 100.0 * (1.0 - value / rated);
        let margin = match percent < 0.0 {
            true => format!("{:.0} % short", -percent),
            false => format!("{percent:.0} % in reserve"),
        };
        Left::new(margin, format!("of the {rated:.0} {unit} of the source"))
    }

    fn new(margin: String, of: String) -> Left {
        Left { margin, of }
    }

    pub(super) fn words(&self) -> String {
        format!("{} {}", self.margin, self.of)
    }

    /// What is left now, and what was left before where the limit was another.
    pub(super) fn since(&self, was: Option<&Left>) -> String {
        match was {
            Some(was) if was.of != self.of => {
                format!("{}; was {}", self.words(), was.words())
            }
            _ => self.words(),
        }
    }
}

fn degrees(k: f64, units: Units) -> String {
    difference(Kelvins::from_k(k.abs()), units)
}
