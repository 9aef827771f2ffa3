//! The keys.

use super::super::dimension::{
    CURRENT, DIFFERENCE, FREQUENCY, HEAT_INPUT, HYDROGEN, LENGTH, POWER, RATE, SPEED, STRESS,
    TEMPERATURE, TIME, VOLTAGE,
};
use super::super::{head, joint, sides, surroundings, thermocouples, welding};
use super::Times::{AtMostOnce, Many, Once, Twice};
use super::reading_tables::{FAILURES, READING, ZONE};
use super::record_tables::{ACCEPTED, DISPOSITION, EQUIPMENT, LOG, PERSON, TREATMENT};
use super::{Dimension, Key, Kind, Measure, TableShape};

pub(super) const fn must(name: &'static str, kind: Kind, says: &'static str) -> Key {
    Key {
        name,
        kind,
        must: true,
        says,
        like: ["", ""],
    }
}

pub(super) const fn may(name: &'static str, kind: Kind, says: &'static str) -> Key {
    Key {
        name,
        kind,
        must: false,
        says,
        like: ["", ""],
    }
}

pub(super) const fn m(dimension: &'static Dimension) -> Kind {
    Kind::Measure(Measure(dimension))
}

const OWN_LIMITS: &[Key] = &[
    may(
        "document",
        Kind::Text,
        "name and revision of the document that sets them",
    ),
    may("hold_min", m(&TEMPERATURE), "lower end of the hold range").like("595 °C", "1100 °F"),
    may("hold_max", m(&TEMPERATURE), "upper end of the hold range").like("650 °C", "1200 °F"),
    may("hold_time", m(&TIME), "least hold time"),
    may(
        "heating_rate",
        m(&RATE),
        "fastest heating above the threshold",
    ),
    may(
        "cooling_rate",
        m(&RATE),
        "fastest cooling above the threshold",
    ),
    may(
        "rate_threshold",
        m(&TEMPERATURE),
        "temperature above which the rates hold; else that of the code",
    )
    .like("315 °C", "600 °F"),
    may(
        "spread",
        m(&DIFFERENCE),
        "largest spread between thermocouples during the hold",
    ),
];

use rules::answers::Question;

const fn answer(index: usize) -> Key {
    may(Question::KEYS[index], Kind::Truth, Question::ASKS[index])
}

const PREHEAT_APPLIED: Key = may(
    "preheat_applied",
    m(&TEMPERATURE),
    "the preheat that is applied during welding",
)
.like("95 °C", "200 °F");

const ANSWERS: &[Key] = &{
    let mut keys = [PREHEAT_APPLIED; Question::ALL.len() + 1];
    let mut index = 0;
    while index < Question::ALL.len() {
        keys[index + 1] = answer(index);
        index += 1;
    }
    keys
};

/// Every table with every key.
pub static TABLES: &[TableShape] = &[
    TableShape {
        path: "",
        times: Once,
        says: "What the heat is for, under which code, and in which units.",
        keys: &[
            must(
                "purpose",
                Kind::Word(head::PURPOSES),
                "what the heat is for",
            ),
            must(
                "code",
                Kind::Text,
                "the code of the contract, for example `ASME B31.3`; `B31.3` is understood as well, and the sheet says as what",
            ).like("ASME B31.3", "ASME B31.3"),
            must("edition", Kind::Edition, "its edition; never guessed"),
            may(
                "units",
                Kind::Word(head::UNITS),
                "which units come first on the sheet, and of a code with two columns which one binds; `si` if left out",
            ),
            may(
                "demo",
                Kind::Truth,
                "`true` for an invented job; the sheet says so on every page",
            ),
            may(
                "scenario",
                Kind::Text,
                "what is invented; needed of an invented job",
            ),
            may(
                "thermocouples",
                Kind::Word(&["propose"]),
                "asks for a proposal, as a job that lists none does",
            ),
        ],
    },
    TableShape {
        path: "identification",
        times: AtMostOnce,
        says: "Who and what, for the head of the sheet.",
        keys: &[
            may("project", Kind::Text, "the project"),
            may("weld", Kind::Text, "the weld's number").like("W-17", "W-17"),
            may("line", Kind::Text, "the line or vessel"),
            may(
                "procedure",
                Kind::Text,
                "the heat-treatment or welding procedure",
            ),
            may("revision", Kind::Text, "revision of this plan"),
            may("prepared_by", Kind::Text, "who prepared it"),
        ],
    },
    TableShape {
        path: "weld",
        times: Once,
        says: "The weld itself.",
        keys: &[
            must(
                "cap_width",
                m(&LENGTH),
                "width of the weld cap at its widest",
            ).like("21 mm", "0.85 in"),
            must(
                "orientation",
                Kind::Word(surroundings::ORIENTATIONS),
                "direction of the pipe axis",
            ),
            may(
                "ended",
                Kind::Moment,
                "when welding ended, with the zone; the clock on the board runs from it",
            ),
        ],
    },
    TableShape {
        path: "welding",
        times: AtMostOnce,
        says: "What is known of the welding, for preheat and bake-out. Where a method needs what is left out, the answer names it.",
        keys: &[
            may(
                "joint",
                Kind::Word(welding::JOINTS),
                "kind of the joint for its combined thickness; by the form of the joint if left out; of a fillet the first side is the part that runs through",
            ),
            may(
                "heat_input",
                m(&HEAT_INPUT),
                "heat input of the welding, efficiency of the process included",
            ),
            may(
                "hydrogen",
                m(&HYDROGEN),
                "diffusible hydrogen of the deposited metal (ISO 3690)",
            ),
            may(
                "restraint",
                Kind::Word(welding::RESTRAINTS),
                "how stiffly the joint is held",
            ),
            may(
                "combined_thickness",
                m(&LENGTH),
                "all legs that carry heat away, added up; else worked out from the walls and the joint",
            ).like("50 mm", "2 in"),
            may(
                "weld_metal",
                Kind::Percentages,
                "weight percent of the deposited metal by element",
            ),
            may(
                "yield_strength",
                m(&STRESS),
                "specified minimum yield strength of the stronger side",
            ),
            may(
                "chart_preheat",
                m(&TEMPERATURE),
                "preheat that you read from the charts of EN 1011-2 method A, which have no formula",
            ).like("100 °C", "200 °F"),
            may(
                "structural_category",
                Kind::Word(welding::CATEGORIES),
                "steel and process category of the prequalified table of AWS D1.1",
            ),
        ],
    },
    TableShape {
        path: "joint",
        times: AtMostOnce,
        says: "The form of the weld; a girth butt weld where the table is left out. A plan is for a girth butt weld; what is needed is answered for all.",
        keys: &[
            must(
                "form",
                Kind::Word(joint::FORMS),
                "the form; of a fillet, socket, branch, seal weld or attachment the first side is the part that runs through; a seal weld only keeps a threaded joint tight, an attachment bears no load",
            ),
            may(
                "groove_depth",
                m(&LENGTH),
                "depth of the groove, where it does not go through the wall",
            ).like("12 mm", "0.5 in"),
            may("throat", m(&LENGTH), "throat of the fillet").like("8 mm", "5/16 in"),
            may(
                "pad",
                m(&LENGTH),
                "thickness of the reinforcing pad of a branch",
            ).like("12 mm", "0.5 in"),
            may(
                "branch",
                Kind::Word(joint::BRANCHES),
                "how the branch sits on the run",
            ),
        ],
    },
    TableShape {
        path: "answers",
        times: AtMostOnce,
        says: "What only a person can answer. What is left out is open, and the answer of the program says so.",
        keys: ANSWERS,
    },
    TableShape {
        path: "side",
        times: Twice,
        says: "The two pipe sides. Distances from the weld to the first, left in the drawing, have a minus. On a vertical pipe the second is the upper one.",
        keys: &[
            may(
                "name",
                Kind::Text,
                "what the side is, for whoever reads the job",
            ),
            must(
                "outside_diameter",
                m(&LENGTH),
                "outside diameter of the pipe",
            ).like("323.9 mm", "12.75 in"),
            must("wall", m(&LENGTH), "wall of the pipe"),
            must(
                "length",
                m(&LENGTH),
                "from the weld center to the next heavy thing, or to the end of the pipe",
            ).like("3 m", "10 ft"),
            must(
                "bore_end",
                Kind::Word(sides::BORE_ENDS),
                "how the bore ends on this side: open to the air, closed at a distance, plugged with insulation",
            ),
            must(
                "metal",
                Kind::Text,
                "a known metal by name, grade (`SA-335 P91`, `A335 Gr P91`, `P91`, `1.4903`) or P-number; what may be two metals is refused",
            ).like("P91", "A106 Gr B"),
            may(
                "p_number",
                Kind::Text,
                "P-number of ASME IX; else that of the metal",
            ).like("15E", "1"),
            may("group", Kind::Number(1.0, 9.0), "group number of ASME IX").like("1", "1"),
            may(
                "chemistry",
                Kind::Percentages,
                "weight percent by element, for example `{ C = 0.10, Mn = 0.45 }`",
            ),
            may(
                "tensile_strength",
                m(&STRESS),
                "specified minimum tensile strength",
            ),
            may(
                "tempered_at",
                m(&TEMPERATURE),
                "temperature at which the metal was tempered",
            ).like("740 °C", "1365 °F"),
            may(
                "cladding",
                m(&LENGTH),
                "thickness of the cladding, which is not part of the wall",
            ).like("3 mm", "0.125 in"),
            may(
                "next",
                Kind::Word(sides::NEXT),
                "what the length leads to; `pipe_end` if left out",
            ),
            may("next_name", Kind::Text, "its name on the sheet"),
            may("next_max", m(&TEMPERATURE), "the temperature that it bears").like("120 °C", "250 °F"),
        ],
    },
    TableShape {
        path: "side.weld_end",
        times: AtMostOnce,
        says: "Dimensions at the weld where they differ from those of the pipe.",
        keys: &[
            must(
                "outside_diameter",
                m(&LENGTH),
                "outside diameter at the weld",
            ).like("330 mm", "13 in"),
            must("wall", m(&LENGTH), "wall at the weld").like("20 mm", "0.75 in"),
            must(
                "straight",
                m(&LENGTH),
                "how far from the weld center these hold",
            ).like("25 mm", "1 in"),
            must(
                "taper",
                m(&LENGTH),
                "length over which they change to those of the pipe",
            ).like("40 mm", "1.5 in"),
        ],
    },
    TableShape {
        path: "neighbor",
        times: Many,
        says: "Other things near the weld that must not grow too hot.",
        keys: &[
            must("name", Kind::Text, "its name on the sheet"),
            must(
                "axial",
                m(&LENGTH),
                "where it begins, from the weld center; negative on the first side",
            ).like("-1.5 m", "-5 ft"),
            may("max", m(&TEMPERATURE), "the temperature that it bears").like("120 °C", "250 °F"),
        ],
    },
    TableShape {
        path: "surroundings",
        times: AtMostOnce,
        says: "The air round the joint.",
        keys: &[
            may(
                "ambient",
                m(&TEMPERATURE),
                "air temperature; 20 °C (68 °F) if left out",
            ).like("20 °C", "70 °F"),
            may(
                "wind",
                m(&SPEED),
                "wind across the pipe; still air if left out",
            ),
        ],
    },
    TableShape {
        path: "limits.owner",
        times: AtMostOnce,
        says: "Limits that the owner sets on top of the code.",
        keys: OWN_LIMITS,
    },
    TableShape {
        path: "limits.procedure",
        times: AtMostOnce,
        says: "Limits that the procedure sets on top of code and owner.",
        keys: OWN_LIMITS,
    },
    TableShape {
        path: "blanket",
        times: Once,
        says: "What the pipe is wrapped in.",
        keys: &[
            must("material", Kind::Text, "a known blanket").like("ceramic fiber blanket 128 kg/m3", "ceramic fiber blanket 128 kg/m3"),
            must("thickness", m(&LENGTH), "thickness of all layers together").like("50 mm", "2 in"),
            may(
                "reach",
                m(&LENGTH),
                "how far it reaches from the weld center on both sides; half the gradient control band if left out",
            ).like("400 mm", "16 in"),
            may(
                "reach_first",
                m(&LENGTH),
                "instead of `reach`: on the first side",
            ).like("400 mm", "16 in"),
            may(
                "reach_second",
                m(&LENGTH),
                "instead of `reach`: on the second side",
            ).like("400 mm", "16 in"),
        ],
    },
    TableShape {
        path: "coil",
        times: Once,
        says: "The coil and its leads.",
        keys: &[
            must(
                "cable",
                Kind::Text,
                "a known cable: `liquid-cooled cable` or `air-cooled cable`",
            ).like("liquid-cooled cable", "liquid-cooled cable"),
            may(
                "cable_diameter",
                m(&LENGTH),
                "outside diameter of the cable; else the usual one",
            ).like("25 mm", "1 in"),
            may(
                "turns",
                Kind::Word(&["propose"]),
                "asks for a proposal, as a coil without sections does",
            ),
            may("lead_length", m(&LENGTH), "one way from source to coil").like("5 m", "16 ft"),
            may(
                "lead_spacing",
                m(&LENGTH),
                "between the centers of the two leads; touching if left out",
            ).like("50 mm", "2 in"),
            may("lead_exit", Kind::Clock, "where the leads leave the coil"),
        ],
    },
    TableShape {
        path: "coil.section",
        times: Many,
        says: "Turns of one pitch; all sections are in series.",
        keys: &[
            must("turns", Kind::Number(1.0, 200.0), "how many turns").like("7", "7"),
            must(
                "first",
                m(&LENGTH),
                "middle of the first turn, from the weld center",
            ).like("-90 mm", "-3.5 in"),
            may(
                "pitch",
                m(&LENGTH),
                "from turn to turn, towards the second side; needed for two turns or more",
            ).like("30 mm", "1.25 in"),
            may(
                "standoff",
                m(&LENGTH),
                "from the pipe to the underside of the cable; the blanket's thickness if left out",
            ).like("50 mm", "2 in"),
        ],
    },
    TableShape {
        path: "source",
        times: Once,
        says: "What the source can do at its terminals.",
        keys: &[
            may("name", Kind::Text, "its name on the sheet"),
            must("power", m(&POWER), "rated power"),
            must("current", m(&CURRENT), "largest output current, rms"),
            must("voltage", m(&VOLTAGE), "largest output voltage, rms"),
            must("frequency_min", m(&FREQUENCY), "lowest output frequency").like("5 kHz", "5 kHz"),
            must("frequency_max", m(&FREQUENCY), "highest output frequency").like("30 kHz", "30 kHz"),
            may(
                "working_frequency",
                m(&FREQUENCY),
                "the frequency at which it will run, where that is known",
            ),
        ],
    },
    TableShape {
        path: "thermocouple",
        times: Many,
        says: "Thermocouples one by one; without any, a layout is proposed.",
        keys: &[
            may(
                "name",
                Kind::Text,
                "its channel; `TC1`, `TC2` and so on if left out",
            ).like("TC1", "TC1"),
            must("role", Kind::Word(thermocouples::ROLES), "what it is for"),
            must(
                "axial",
                m(&LENGTH),
                "distance along the pipe from the weld center",
            ).like("-25 mm", "-1 in"),
            must("clock", Kind::Clock, "position round the pipe"),
            may(
                "face",
                Kind::Word(thermocouples::FACES),
                "which surface; `outside` if left out",
            ),
            may(
                "place",
                Kind::Word(thermocouples::PLACES),
                "which part of the joint it watches; `soak_band` if left out",
            ),
            may(
                "fitted",
                Kind::Truth,
                "`false` for a point that is only predicted",
            ),
            may("reason", Kind::Text, "why it is there"),
        ],
    },
    TableShape {
        path: "cycle",
        times: AtMostOnce,
        says: "What is asked of the cycle; everything left out follows from the limits.",
        keys: &[
            may(
                "set_point",
                m(&TEMPERATURE),
                "set point of the hold; else the middle of the range that all limits leave, or for a preheat a little above what is asked",
            ).like("620 °C", "1150 °F"),
            may(
                "start",
                m(&TEMPERATURE),
                "temperature of the metal at the start; that of the air if left out",
            ).like("20 °C", "70 °F"),
            may(
                "free_heating_rate",
                m(&RATE),
                "heating rate below the threshold",
            ),
            may(
                "heating_rate",
                m(&RATE),
                "heating rate above the threshold; else the limit",
            ),
            may(
                "cooling_rate",
                m(&RATE),
                "cooling rate above the threshold; else the limit",
            ),
            may(
                "hold_time",
                m(&TIME),
                "hold time; else the longest that a limit asks for",
            ),
            may(
                "controlled_down_to",
                m(&TEMPERATURE),
                "where controlled cooling ends; else the threshold of the cooling limit",
            ).like("315 °C", "600 °F"),
            may(
                "recording_interval",
                m(&TIME),
                "time between two recorded scans; 60 s if left out",
            ).like("60 s", "60 s"),
        ],
    },
    LOG,
    PERSON,
    EQUIPMENT,
    DISPOSITION,
    ACCEPTED,
    TREATMENT,
    ZONE,
    READING,
    FAILURES,
];
