//! What a column can hold.

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Date, or date and time.
    Date,
    /// Time of day, or of day and date.
    Time,
    /// Time since the start as a number or as hours and minutes.
    Elapsed,
    /// Seconds or milliseconds since 1970.
    Epoch,
    /// Days as a spreadsheet counts them.
    Serial,
    /// A count of rows.
    Counter,
    /// A thermocouple.
    Temperature,
    /// Whether the reading of the column before is good.
    Status,
    /// Whether all readings of the row are good.
    RowStatus,
    /// The temperature asked for.
    SetPoint,
    /// Power of the source.
    Power,
    /// Output of a controller.
    Output,
    /// Whether a zone is on.
    ZoneState,
    /// Temperature of the air or the logger.
    Ambient,
    /// Words of an event.
    Event,
    /// Name of the channel, where every row holds one reading.
    Channel,
    /// The reading, where every row holds one.
    Value,
    /// Its unit.
    Unit,
    /// Nothing that is read.
    Ignored,
}

impl Role {
    /// The word for it.
    pub fn words(self) -> &'static str {
        match self {
            Role::Date => "date",
            Role::Time => "time",
            Role::Elapsed => "time since the start",
            Role::Epoch => "seconds since 1970",
            Role::Serial => "days of a spreadsheet",
            Role::Counter => "counter",
            Role::Temperature => "temperature",
            Role::Status => "status",
            Role::RowStatus => "status of the row",
            Role::SetPoint => "set point",
            Role::Power => "power",
            Role::Output => "output",
            Role::ZoneState => "zone state",
            Role::Ambient => "ambient",
            Role::Event => "event",
            Role::Channel => "channel",
            Role::Value => "reading",
            Role::Unit => "unit",
            Role::Ignored => "not read",
        }
    }

    /// Whether it tells which readings are good.
    pub(crate) fn is_status(self) -> bool {
        matches!(self, Role::Status | Role::RowStatus)
    }

    /// Whether a word of a mapping is one for a column.
    pub(crate) fn is_word(word: &str) -> bool {
        Role::of_word(word).is_some()
    }

    pub(crate) fn of_word(word: &str) -> Option<Role> {
        Some(match word {
            "temperature" => Role::Temperature,
            "set_point" => Role::SetPoint,
            "power" => Role::Power,
            "output" => Role::Output,
            "zone_state" => Role::ZoneState,
            "ambient" => Role::Ambient,
            "event" => Role::Event,
            "time" => Role::Time,
            "date" => Role::Date,
            "elapsed" => Role::Elapsed,
            "counter" | "interval" | "ignore" => Role::Ignored,
            "status" => Role::Status,
            _ => return None,
        })
    }
}
