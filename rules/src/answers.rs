//! What only a person can answer: conditions of exemptions, and service that asks more than a table.

use std::collections::BTreeMap;

use quantity::Celsius;
use serde::{Deserialize, Serialize};

/// The answers that are given.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answers {
    /// Yes or no by question; what is absent is open.
    pub said: BTreeMap<Question, bool>,
    /// The preheat that is applied during welding.
    pub preheat_applied: Option<Celsius>,
}

macro_rules! questions {
    ($($name:ident, $key:literal, $asks:literal;)+) => {
        /// A question that is answered with yes or no.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
        pub enum Question {
            $(
                #[doc = $asks]
                #[serde(rename = $key)]
                $name,
            )+
        }

        impl Question {
            /// Every question.
            pub const ALL: &'static [Question] = &[$(Question::$name),+];

            /// Every key under `[answers]`, in the same order.
            pub const KEYS: &'static [&'static str] = &[$($key),+];

            /// What every question asks, in the same order.
            pub const ASKS: &'static [&'static str] = &[$($asks),+];

            /// Its key under `[answers]`.
            pub fn key(self) -> &'static str {
                match self { $(Question::$name => $key),+ }
            }

            /// What it asks.
            pub fn asks(self) -> &'static str {
                match self { $(Question::$name => $asks),+ }
            }
        }
    };
}

questions! {
    Multilayer, "multilayer", "Is the weld laid in several layers?";
    NamedService, "named_service", "Is the service one that the code names for stress relief at any thickness (lethal and others)?";
    SourService, "sour_service", "Is the service sour, or one of environmental cracking (caustic, amine, hydrogen)?";
    SevereCyclic, "severe_cyclic", "Is the service severe cyclic?";
    PipeOrTube, "pipe_or_tube", "Is it a weld of pipe or tube, and not of a shell?";
    QualifiedThickness, "qualified_thickness", "Is the procedure qualified without stress relief in this thickness or more?";
    AskedByOwner, "asked_by_owner", "Do designer, owner, drawing or procedure ask stress relief although the code does not?";
    CodeAsks, "code_asks", "Where a row of the code is not kept or off: does the code, read in its own text, ask stress relief of this weld?";
    QualifiedWithHold, "qualified_with_hold", "If the weld is impact tested: was the procedure qualified with a stress relief of at least 80 % of the time at temperature?";
    QuenchedTempered, "quenched_tempered", "Is the steel quenched and tempered?";
    CladdingCounts, "cladding_counts", "Does the cladding count in the thickness?";
    ParameterProven, "parameter_proven", "Does the Hollomon-Jaffe parameter of all holds together stay below the critical value?";
    TransformedBefore, "transformed_before", "Has the weld cooled below its martensite finish before the stress relief begins?";
    LowChromiumFiller, "low_chromium_filler", "Has the filler less than 3 % chromium, or is it nickel-base or austenitic?";
}

impl Answers {
    /// The answer to a question, where it is given.
    pub fn to(&self, question: Question) -> Option<bool> {
        self.said.get(&question).copied()
    }
}
