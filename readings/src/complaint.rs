//! What was not as it should be in a file. Nothing is repaired in silence.

use std::fmt;

/// One thing that was not as it should be.
#[derive(Clone, Debug, PartialEq)]
pub struct Complaint {
    /// The file.
    pub file: String,
    /// The first line that it is about; `None` for the whole file.
    pub line: Option<usize>,
    /// What it is.
    pub kind: ComplaintKind,
    /// Further lines of which the same is to be said, rising.
    pub more: Vec<usize>,
}

/// Lines of many that are told.
const TOLD: usize = 5;

impl Complaint {
    /// How many lines it is about; one where it is about the whole file.
    pub fn count(&self) -> usize {
        1 + self.more.len()
    }
}

/// Says once what is to be said of many lines: rows that could not be read, rows with one other number of cells.
pub(crate) fn told_once(complaints: &mut Vec<Complaint>) {
    let mut first: Vec<usize> = Vec::new();
    let mut kept: Vec<Complaint> = Vec::new();
    for complaint in complaints.drain(..) {
        let known = first
            .iter()
            .find(|at| kept[**at].kind.is_like(&complaint.kind));
        match (known, complaint.line) {
            (Some(at), Some(line)) => kept[*at].more.push(line),
            _ => {
                if complaint.kind.is_of_many() {
                    first.push(kept.len());
                }
                kept.push(complaint);
            }
        }
    }
    *complaints = kept;
}

/// What was not as it should be, and what was done about it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum ComplaintKind {
    /// Bytes that are no text in the encoding; each stands as a replacement character.
    BadBytes,
    /// A row that could not be read at all; it was left out.
    RowNotUnderstood(String),
    /// Words without a time between the readings; they were taken as an event where they stand.
    WordsWithoutTime {
        /// The words.
        words: String,
        /// How many rows say the same but for numbers.
        count: usize,
    },
    /// A row of least, greatest or mean values below the readings; no reading was taken from it.
    SummaryRow(String),
    /// A row with another number of cells: nothing tells which of them is missing, so no reading was taken from it.
    OddRow {
        /// Cells found.
        found: usize,
        /// Cells of the other rows.
        expected: usize,
    },
    /// Rows of more channels than any log has; rows of the names behind the first ones were left out.
    TooManyNames {
        /// Names that were taken.
        most: usize,
        /// How many rows were left out.
        left_out: usize,
    },
    /// The last line ends in the middle; its last cell was left out.
    LastLineCut,
    /// The header again, for example after a restart of the logger.
    HeaderAgain,
    /// The names or units of the columns change; the rows below were read under the new ones.
    HeadChanged {
        /// The channels before.
        was: String,
        /// The channels from here.
        now: String,
        /// Whether the rows below tell of the time of the rows above, and were set beside them.
        beside: bool,
    },
    /// More changes of the head than a logger makes; the rows from here were left out.
    TooManyHeads {
        /// Parts that were read.
        most: usize,
    },
    /// The rows below a new head tell the time in another way than those above; they were left out.
    OtherTime,
    /// A channel's cells that hold no number: no reading was made of them.
    NoNumber {
        /// The channel.
        channel: String,
        /// What stands there.
        found: String,
        /// How many such cells.
        count: usize,
    },
    /// A channel's readings that its own status declares bad: no reading was made of them.
    BadStatus {
        /// The channel.
        channel: String,
        /// The status.
        status: String,
        /// How many such cells.
        count: usize,
    },
    /// Readings outside what the channel can read.
    OutOfReach {
        /// The channel.
        channel: String,
        /// What stands there.
        found: String,
        /// How many such cells.
        count: usize,
    },
    /// A row whose time stands in a row before it; the first was kept.
    SameTimeAgain {
        /// How many such rows.
        count: usize,
    },
    /// The clock was set back and nothing says why; the rows up to the time already reached were left out.
    ClockSetBack {
        /// By how many seconds.
        by_s: i64,
        /// How many rows were left out.
        left_out: usize,
    },
    /// Clocks went back at the end of summer time; the hour was counted twice, as it was lived.
    SummerTimeEnds,
    /// An hour is missing where clocks may have gone forward; without a time zone it stands as a gap.
    PerhapsSummerTimeBegins,
    /// Rows were not in order of time and were sorted.
    Sorted {
        /// How many rows stood before their time.
        count: usize,
    },
    /// Degrees Celsius are stated, but the plateau lies where a hold in °F would.
    LooksLikeFahrenheit {
        /// The plateau in the stated unit.
        plateau: i64,
    },
    /// Channels in different units; each was read in its own.
    MixedUnits(String),
    /// Written numbers were multiplied.
    Scaled {
        /// The channels.
        channels: String,
        /// With what.
        by: f64,
    },
    /// The comma parts cells and is the decimal sign; the count of names proves which is which.
    CommaTwice,
    /// A person says another unit than the file; the person's counts.
    SaidOtherwise {
        /// What was said.
        said: String,
        /// What the file says.
        stated: String,
    },
    /// Columns of one name; the later ones carry a number.
    SameName {
        /// The name.
        name: String,
        /// What the later ones are called.
        called: String,
    },
    /// The mapping gives a channel a name that another channel has.
    NameTwice {
        /// The channel by its name in the file.
        channel: String,
        /// The name that it is to have.
        name: String,
    },
    /// The mapping names a column or channel that the file does not have.
    MappedNotThere {
        /// The key of the mapping, with the name.
        key: String,
        /// The names that the file has.
        found: String,
    },
    /// A row of one block of a print-out disagrees in time with its neighbor block.
    BlocksDisagree,
    /// A workbook holds more sheets with numbers; one was read.
    OtherSheets {
        /// The sheet that was read.
        read: String,
        /// The others.
        others: String,
    },
    /// A workbook that could not be opened.
    WorkbookNotRead(String),
    /// Two files overlap with different readings, and a person says which of them hold.
    OverlapDiffers {
        /// How many scans.
        count: usize,
        /// The file whose readings were kept.
        kept: String,
    },
    /// A person says that the clock of the file was wrong.
    ClockMoved {
        /// Seconds that were added.
        by_s: i64,
    },
    /// Two files overlap, or are one file given twice; the scans of one time were taken together.
    OverlapAlike {
        /// How many scans.
        count: usize,
    },
    /// Two files do not follow each other closely; what lies between is a gap.
    FilesApart {
        /// Seconds between them.
        by_s: i64,
    },
}

impl ComplaintKind {
    /// Whether many lines of one file may give cause for it.
    fn is_of_many(&self) -> bool {
        matches!(
            self,
            ComplaintKind::RowNotUnderstood(_)
                | ComplaintKind::SummaryRow(_)
                | ComplaintKind::OddRow { .. }
                | ComplaintKind::HeaderAgain
                | ComplaintKind::BlocksDisagree
        )
    }

    /// Whether both are said in the same words but for what stands in the row.
    fn is_like(&self, other: &ComplaintKind) -> bool {
        let of_rows = |kind: &ComplaintKind| match kind {
            ComplaintKind::RowNotUnderstood(_) => 1,
            ComplaintKind::SummaryRow(_) => 2,
            _ => 0,
        };
        self == other || of_rows(self) > 0 && of_rows(self) == of_rows(other)
    }

    /// Whether something stood there that may have been a reading and could not be read.
    pub fn lost_readings(&self) -> bool {
        matches!(
            self,
            ComplaintKind::RowNotUnderstood(_)
                | ComplaintKind::OddRow { .. }
                | ComplaintKind::TooManyNames { .. }
                | ComplaintKind::TooManyHeads { .. }
                | ComplaintKind::OtherTime
                | ComplaintKind::NoNumber { .. }
                | ComplaintKind::ClockSetBack { .. }
        )
    }
}

/// "once", "3 times".
fn times(count: usize) -> String {
    match count {
        1 => "once".to_owned(),
        many => format!("{many} times"),
    }
}

/// What a key of a mapping says something of.
fn about(key: &str) -> String {
    match key.split_once('.') {
        Some(("name", channel)) => format!("which thermocouple {channel} is"),
        Some(("column", column)) => format!("what column {column} is"),
        Some(("clock", file)) => format!("that the clock of {file} was wrong"),
        _ => key.to_owned(),
    }
}

impl fmt::Display for Complaint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => write!(f, "{}, line {line}: {}", self.file, self.kind)?,
            None => write!(f, "{}: {}", self.file, self.kind)?,
        }
        if self.more.is_empty() {
            return Ok(());
        }
        let lines: Vec<String> = self
            .more
            .iter()
            .take(TOLD)
            .map(ToString::to_string)
            .collect();
        let further = match self.more.len() > TOLD {
            true => ", ...",
            false => "",
        };
        write!(
            f,
            " ({} such lines: this one, {}{further})",
            self.count(),
            lines.join(", ")
        )
    }
}

impl fmt::Display for ComplaintKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        use ComplaintKind as K;
        match self {
            K::BadBytes => f.write_str("bytes that are no text in this encoding; it can be said in which the text is written"),
            K::RowNotUnderstood(row) => write!(f, "\"{row}\" could not be read and was left out"),
            K::WordsWithoutTime { words, count } => write!(
                f,
                "\"{words}\" has no time ({} from here); it was taken as an event where it stands, and no reading of it",
                times(*count)
            ),
            K::SummaryRow(row) => write!(
                f,
                "\"{row}\" sums up other rows and tells no time; no reading was taken from it"
            ),
            K::OddRow { found, expected } => {
                write!(
                    f,
                    "{found} cells where other rows have {expected}; nothing tells which is missing, so no reading was taken from it"
                )
            }
            K::TooManyNames { most, left_out } => write!(
                f,
                "more than {most} names of channels; {left_out} rows of further ones were left out; if that column \
                 holds no names of channels, it can be said that it is not read"
            ),
            K::LastLineCut => f.write_str("the last line ends in the middle; its last cell was left out"),
            K::HeaderAgain => f.write_str("the header stands here again"),
            K::HeadChanged { was, now, beside: false } => write!(
                f,
                "the head changes here from {was} to {now}; the rows below were read under the new one"
            ),
            K::HeadChanged { was, now, beside: true } => write!(
                f,
                "a second block begins here: {now} over the time of {was}; it was set beside them"
            ),
            K::TooManyHeads { most } => {
                write!(f, "the head changes more than {most} times; the rows from here were left out")
            }
            K::OtherTime => f.write_str(
                "below this head the time is told in another way than above; the rows below it were left out",
            ),
            K::NoNumber { channel, found, count } => {
                write!(f, "{channel} holds \"{found}\", no number ({} from here); no reading was made of it", times(*count))
            }
            K::BadStatus { channel, status, count } => write!(
                f,
                "{channel} is marked \"{status}\" ({} from here); no reading was made of it",
                times(*count)
            ),
            K::OutOfReach { channel, found, count } => write!(
                f,
                "{channel} holds {found}, outside what it can read ({} from here); no reading was made of it",
                times(*count)
            ),
            K::SameTimeAgain { count } => {
                write!(f, "the time of the row before again ({} from here); the first was kept", times(*count))
            }
            K::ClockSetBack { by_s, left_out } => write!(
                f,
                "the clock goes back by {by_s} s and nothing says why; {left_out} rows up to the time already reached were \
                 left out"
            ),
            K::SummerTimeEnds => {
                f.write_str("clocks go back at the end of summer time; the hour was counted twice, as it was lived")
            }
            K::PerhapsSummerTimeBegins => f.write_str(
                "an hour is missing, as where clocks go forward; it stands as a gap unless the time zone is said",
            ),
            K::Sorted { count } => write!(f, "{count} rows stood before their time; rows were sorted by time"),
            K::LooksLikeFahrenheit { plateau } => write!(
                f,
                "the file says °C, but a hold near {plateau} would be one in °F; it can be said which it is"
            ),
            K::MixedUnits(units) => write!(f, "channels in different units ({units}); each was read in its own"),
            K::Scaled { channels, by } => {
                write!(f, "what stands there for {channels} was multiplied with {by}")
            }
            K::CommaTwice => f.write_str(
                "the comma parts the cells and is the decimal sign; the number of names proves which is which",
            ),
            K::SaidOtherwise { said, stated } => write!(
                f,
                "the file says {stated}, a person says {said}; what the person says was taken"
            ),
            K::SameName { name, called } => {
                write!(f, "more than one column is called {name}; behind the first they are called {called}")
            }
            K::NameTwice { channel, name } => write!(
                f,
                "{channel} is to be called {name}, and another channel is called so; the first of the two counts"
            ),
            K::MappedNotThere { key, found } => write!(
                f,
                "{} was said, and the file has no such name; it has {found}",
                about(key)
            ),
            K::BlocksDisagree => f.write_str("the two blocks of this row differ in time; the first was taken"),
            K::OtherSheets { read, others } => write!(
                f,
                "sheet \"{read}\" was read; there are numbers in {others} too; another sheet can be said"
            ),
            K::WorkbookNotRead(problem) => write!(f, "the workbook could not be read: {problem}"),
            K::OverlapDiffers { count, kept } => write!(
                f,
                "{count} scans of it contradict a file before; as a person says, the readings of {kept} were kept there"
            ),
            K::ClockMoved { by_s } => {
                write!(f, "its clock was moved by {by_s} s, as a person says")
            }
            K::OverlapAlike { count } => write!(
                f,
                "{count} scans stand in a file before as well and do not contradict it; they were taken once"
            ),
            K::FilesApart { by_s } => write!(f, "begins {by_s} s after the file before ends; what lies between is a gap"),
        }
    }
}
