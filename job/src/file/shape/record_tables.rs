//! The tables that only a record reads: how logs are read, people, equipment, what was decided.

use super::Times::{AtMostOnce, Many};
use super::tables::{m, may, must};
use super::{Kind, TableShape};
use crate::file::dimension::{RATE, TEMPERATURE, TIME};
use crate::file::treatments;

pub(super) const LOG: TableShape = TableShape {
    path: "log",
    times: AtMostOnce,
    says: "What a logger's files leave open; the keys are described in `log-dialects.md`.",
    keys: &[
        may("sheet", Kind::Text, "the sheet of a workbook"),
        may("encoding", Kind::Text, "label of the encoding"),
        may("delimiter", Kind::Text, "what parts the cells"),
        may("decimal", Kind::Text, "the decimal sign"),
        may(
            "date_order",
            Kind::Text,
            "whether day or month stands first",
        ),
        may(
            "date_base",
            Kind::Text,
            "the year from which a spreadsheet counts its days",
        ),
        may("date", Kind::Text, "the day of the first row"),
        may(
            "start",
            Kind::Text,
            "when a log began that counts from its start",
        ),
        may(
            "time_unit",
            Kind::Text,
            "unit of a time that is a plain number",
        ),
        may("time_zone", Kind::Text, "the zone of the recorder's clock"),
        may(
            "clock_back",
            Kind::Text,
            "what a clock that goes back means",
        ),
        may(
            "overlap",
            Kind::Text,
            "which of two files holds where they contradict each other",
        ),
        may("unit", Kind::Text, "unit of the temperatures"),
        may(
            "scale",
            Kind::Text,
            "what whole numbers are multiplied with",
        ),
        may(
            "good",
            Kind::Text,
            "the values of a status that mean a good reading",
        ),
        may(
            "thermocouple_type",
            Kind::Text,
            "where voltages were logged",
        ),
        may(
            "cold_junction",
            Kind::Text,
            "its temperature in °C, where voltages were logged",
        ),
    ],
};

pub(super) const PERSON: TableShape = TableShape {
    path: "person",
    times: Many,
    says: "Somebody who took part, for the record.",
    keys: &[
        must("name", Kind::Text, "the name"),
        may("role", Kind::Text, "what they did"),
        may("qualification", Kind::Text, "what entitles them to it"),
    ],
};

pub(super) const EQUIPMENT: TableShape = TableShape {
    path: "equipment",
    times: Many,
    says: "Recorder, source, thermocouples and what else was used, for the record.",
    keys: &[
        must("what", Kind::Text, "what it is"),
        may("serial", Kind::Text, "serial or lot number"),
        may("certificate", Kind::Text, "certificate of its calibration"),
        may(
            "calibration_due",
            Kind::Text,
            "last day on which the calibration holds, `\"2027-01-31\"`",
        )
        .like("2027-01-31", "2027-01-31"),
    ],
};

pub(super) const TREATMENT: TableShape = TableShape {
    path: "treatment",
    times: Many,
    says: "A heat treatment that the part has seen or will see besides the one asked for, or that the coupon of its procedure \
           qualification saw; what the weld needs counts them together.",
    keys: &[
        must("of", Kind::Word(treatments::OF), "whose it is"),
        must("temperature", m(&TEMPERATURE), "temperature of the hold").like("620 °C", "1150 °F"),
        must("time", m(&TIME), "time of the hold"),
        may(
            "heating_rate",
            m(&RATE),
            "heating just below the hold, where it is to count",
        ),
        may(
            "cooling_rate",
            m(&RATE),
            "cooling just below the hold, where it is to count",
        ),
    ],
};

pub(super) const ACCEPTED: TableShape = TableShape {
    path: "accepted",
    times: Many,
    says: "A deviation of a record that a named person answers for; it stays on the record with the reason.",
    keys: &[
        must(
            "deviation",
            Kind::Text,
            "its words as the record says them, or how they begin",
        ),
        must("reason", Kind::Text, "why it may stand"),
        must("by", Kind::Text, "who says so"),
    ],
};

pub(super) const DISPOSITION: TableShape = TableShape {
    path: "disposition",
    times: Many,
    says: "A thermocouple taken out of the set by the word of a named person, for the record.",
    keys: &[
        must("channel", Kind::Text, "the channel that leaves"),
        must("from", m(&TIME), "from when on, since the start of the log").like("2.5 h", "2.5 h"),
        must("reason", Kind::Text, "why"),
        must("by", Kind::Text, "who says so"),
        may("replaced_by", Kind::Text, "the spare that takes its place"),
    ],
};
