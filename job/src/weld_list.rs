//! Many job files at once, from a weld list: a pattern that all welds share, and a CSV whose columns are keys of the job
//! file and whose rows are welds. Every mistake is told with its row; nothing is made while there is one.

use crate::edit;
use crate::file::shape::TABLES;
use crate::folder::name_for;
use crate::toml_reader::nearest;
use crate::typed::with_unit;

/// The column that every list needs: it becomes the weld's number and the name of its folder.
pub const WELD: &str = "identification.weld";

/// Short names of columns.
const SHORT: [(&str, &str); 4] = [
    ("weld", WELD),
    ("line", "identification.line"),
    ("project", "identification.project"),
    ("procedure", "identification.procedure"),
];

/// The columns of a list to begin with: those that most welds of one project differ in.
pub const TEMPLATE: [&str; 8] = [
    "weld",
    "line",
    "side.outside_diameter",
    "side.wall",
    "side.metal",
    "side[1].length",
    "side[2].length",
    "weld.cap_width",
];

/// What such columns are often called, with the key that is meant.
const MEANT: [(&str, &str); 22] = [
    ("weld no", "weld"),
    ("weld number", "weld"),
    ("weld id", "weld"),
    ("joint", "weld"),
    ("joint no", "weld"),
    ("line no", "line"),
    ("iso", "line"),
    ("od", "side.outside_diameter"),
    ("outside diameter", "side.outside_diameter"),
    ("diameter", "side.outside_diameter"),
    ("dia", "side.outside_diameter"),
    ("nps", "side.outside_diameter"),
    ("size", "side.outside_diameter"),
    ("wall", "side.wall"),
    ("wall thickness", "side.wall"),
    ("wt", "side.wall"),
    ("thickness", "side.wall"),
    ("thk", "side.wall"),
    ("material", "side.metal"),
    ("grade", "side.metal"),
    ("metal", "side.metal"),
    ("length", "side.length"),
];

/// The key that a column of another name may mean.
fn meant(column: &str) -> Option<String> {
    let letters = column.to_lowercase().replace(['_', '.', '-', '#'], " ");
    let plain = letters.split_whitespace().collect::<Vec<_>>().join(" ");
    let known = MEANT.iter().find(|(name, _)| *name == plain);
    if let Some((_, key)) = known {
        return Some((*key).to_owned());
    }
    let places: Vec<String> = TABLES
        .iter()
        .flat_map(|table| {
            table.keys.iter().map(|key| match table.path {
                "" => key.name.to_owned(),
                path => format!("{path}.{}", key.name),
            })
        })
        .collect();
    nearest(column, places.iter().map(String::as_str)).map(str::to_owned)
}

/// Most rows of one list.
const MOST_ROWS: usize = 2000;

/// A weld of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// Line of the list, from 1.
    pub line: usize,
    /// The weld's number as the list has it.
    pub weld: String,
    /// Name for its folder.
    pub folder: String,
    /// Its job file.
    pub text: String,
    /// Everything that is wrong with it.
    pub mistakes: Vec<String>,
    /// Places of the values that neither the row nor the pattern has.
    pub missing: Vec<String>,
}

/// A list as it was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WeldList {
    /// The columns as keys of the job file, in their order.
    pub columns: Vec<String>,
    /// What is wrong with the list as a whole.
    pub mistakes: Vec<String>,
    /// The rows.
    pub welds: Vec<Listed>,
}

impl WeldList {
    /// Whether there is something to make and nothing is wrong.
    pub fn is_good(&self) -> bool {
        self.mistakes.is_empty()
            && !self.welds.is_empty()
            && self
                .welds
                .iter()
                .all(|weld| weld.mistakes.is_empty() && weld.missing.is_empty())
    }

    /// Places of the values that every row lacks: the list wants columns for them, or another pattern.
    pub fn missing_in_all(&self) -> Vec<&str> {
        let Some((first, others)) = self.welds.split_first() else {
            return Vec::new();
        };
        let in_all = |place: &&String| others.iter().all(|weld| weld.missing.contains(place));
        first
            .missing
            .iter()
            .filter(in_all)
            .map(String::as_str)
            .collect()
    }
}

/// Reads a list. `pattern` is the text of a job file; `taken` says whether a folder of a name is there already.
pub fn read(list: &[u8], pattern: &str, taken: &dyn Fn(&str) -> bool) -> WeldList {
    let Ok(text) = std::str::from_utf8(list) else {
        return WeldList::wrong("the list is no UTF-8 text; save it as \u{201c}CSV UTF-8\u{201d}");
    };
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter(text))
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let head = match reader.headers() {
        Ok(head) => head.clone(),
        Err(error) => return WeldList::wrong(&error.to_string()),
    };
    let mut read = WeldList {
        columns: head.iter().map(long).collect(),
        ..WeldList::default()
    };
    read.mistakes = column_mistakes(&read.columns, pattern);
    if !read.mistakes.is_empty() {
        return read;
    }
    for record in reader.records() {
        if read.welds.len() >= MOST_ROWS {
            read.mistakes
                .push(format!("more than {MOST_ROWS} rows; cut the list in two"));
            break;
        }
        match record {
            Ok(record) if record.iter().all(str::is_empty) => {}
            Ok(record) => {
                let weld = listed(&record, &read, pattern, taken);
                read.welds.push(weld);
            }
            Err(error) => read.mistakes.push(error.to_string()),
        }
    }
    once_a_column(&mut read);
    if read.welds.is_empty() && read.mistakes.is_empty() {
        read.mistakes
            .push("there is no row below the names of the columns".to_owned());
    }
    read
}

impl WeldList {
    fn wrong(says: &str) -> WeldList {
        WeldList {
            mistakes: vec![says.to_owned()],
            ..WeldList::default()
        }
    }
}

/// Whichever stands most often in the first line.
fn delimiter(text: &str) -> u8 {
    let first = text.lines().next().unwrap_or_default();
    let count = |delimiter: u8| first.bytes().filter(|byte| *byte == delimiter).count();
    [b',', b';', b'\t']
        .into_iter()
        .max_by_key(|delimiter| (count(*delimiter), *delimiter == b','))
        .unwrap_or(b',')
}

fn long(column: &str) -> String {
    let short = SHORT
        .iter()
        .find(|(short, _)| column.eq_ignore_ascii_case(short));
    short.map_or(column, |(_, long)| long).to_owned()
}

/// `side.wall` stands for both sides.
fn places(column: &str) -> Vec<String> {
    match column.strip_prefix("side.") {
        Some(rest) => vec![format!("side[1].{rest}"), format!("side[2].{rest}")],
        None => vec![column.to_owned()],
    }
}

fn column_mistakes(columns: &[String], pattern: &str) -> Vec<String> {
    let mut mistakes = Vec::new();
    if !columns.iter().any(|column| column == WELD) {
        mistakes.push("no column \"weld\"; every row needs the number of its weld".to_owned());
    }
    for (index, column) in columns.iter().enumerate() {
        if columns[..index].contains(column) {
            mistakes.push(format!("two columns {column:?}"));
        }
        // Taking a key away tells whether it is one, whatever it holds.
        for place in places(column) {
            if let Err(error) = edit::set(pattern, &place, "") {
                let meant = meant(column).map_or(String::new(), |key| {
                    format!("; is {key:?} meant? Name the column so")
                });
                mistakes.push(format!("column {column:?}: {error}{meant}"));
                break;
            }
        }
    }
    mistakes
}

fn listed(
    record: &csv::StringRecord,
    read: &WeldList,
    pattern: &str,
    taken: &dyn Fn(&str) -> bool,
) -> Listed {
    let line = record
        .position()
        .map_or(0, |position| position.line() as usize);
    let mut weld = Listed {
        line,
        weld: String::new(),
        folder: String::new(),
        text: pattern.to_owned(),
        mistakes: Vec::new(),
        missing: Vec::new(),
    };
    if record.len() > read.columns.len() {
        weld.mistakes.push(format!(
            "{} cells under {} columns",
            record.len(),
            read.columns.len()
        ));
    }
    // What a number alone means hangs on the units of its row.
    let is_units = |cell: &(&String, &str)| cell.0 == "units";
    let cells = read.columns.iter().zip(record.iter());
    let (first, then): (Vec<_>, Vec<_>) = cells.partition(is_units);
    for (column, cell) in first.into_iter().chain(then) {
        if column == WELD {
            weld.weld = cell.to_owned();
        }
        if cell.is_empty() {
            continue;
        }
        for place in places(column) {
            match edit::set(&weld.text, &place, &with_unit(&weld.text, &place, cell)) {
                Ok(text) => weld.text = text,
                Err(error) => weld.mistakes.push(error.to_string()),
            }
        }
    }
    name_it(&mut weld, read, taken);
    if let Err(refusal) = crate::file::read(&weld.text, "job.toml") {
        let told = |fault: &crate::toml_reader::Fault| {
            let hint = fault
                .hint
                .as_ref()
                .map(|hint| format!(" ({hint})"))
                .unwrap_or_default();
            let place = match fault.place.as_str() {
                "" => String::new(),
                place => format!("{place}: "),
            };
            format!(
                "{place}found {}; allowed: {}{hint}",
                fault.found, fault.allowed
            )
        };
        let told: Vec<String> = refusal.wrong().map(told).collect();
        weld.mistakes.extend(of_both_sides(&told));
        weld.missing = refusal.missing;
    }
    weld
}

/// What every row has wrong in the same way is told once, for the column, with what the first row has.
fn once_a_column(read: &mut WeldList) {
    let rows = read.welds.len();
    let Some(first) = read.welds.first().filter(|_| rows > 1) else {
        return;
    };
    let line = first.line;
    for mistake in first.mistakes.clone() {
        let Some((place, found, allowed)) = parts(&mistake) else {
            continue;
        };
        // The hint in brackets speaks of the value of its row.
        let kind = |allowed: &str| allowed.split(" (").next().map(str::to_owned);
        let is_same = |one: &String| {
            parts(one).is_some_and(|(at, _, may)| at == place && kind(may) == kind(allowed))
        };
        if read
            .welds
            .iter()
            .all(|weld| weld.mistakes.iter().any(is_same))
        {
            read.mistakes.push(format!(
                "{place}: found {found} in line {line}, and so in all {rows} rows; allowed: {allowed}"
            ));
            for weld in &mut read.welds {
                weld.mistakes.retain(|one| !is_same(one));
            }
        }
    }
}

/// Place, what was found there and what is allowed.
fn parts(mistake: &str) -> Option<(&str, &str, &str)> {
    let (place, rest) = mistake.split_once(": found ")?;
    let (found, allowed) = rest.split_once("; allowed: ")?;
    Some((place, found, allowed))
}

/// A column of both sides tells its mistake once.
fn of_both_sides(told: &[String]) -> Vec<String> {
    let of = |side: usize, rest: &str| told.contains(&format!("side[{side}].{rest}"));
    let one = |words: &String| match (
        words.strip_prefix("side[1]."),
        words.strip_prefix("side[2]."),
    ) {
        (Some(rest), _) if of(2, rest) => Some(format!("side.{rest}")),
        (_, Some(rest)) if of(1, rest) => None,
        _ => Some(words.clone()),
    };
    told.iter().filter_map(one).collect()
}

fn name_it(weld: &mut Listed, read: &WeldList, taken: &dyn Fn(&str) -> bool) {
    if weld.weld.is_empty() {
        weld.mistakes.push("no weld number".to_owned());
        return;
    }
    weld.folder = name_for(&weld.weld);
    if let Some(other) = read
        .welds
        .iter()
        .find(|other| other.folder.eq_ignore_ascii_case(&weld.folder))
    {
        weld.mistakes
            .push(format!("the same weld stands in line {}", other.line));
    } else if taken(&weld.folder) {
        weld.mistakes.push(format!(
            "there is a folder {:?} in the project already",
            weld.folder
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PATTERN: &str = include_str!("../../jobs/carbon-steel-line.toml");

    fn none(_: &str) -> bool {
        false
    }

    #[test]
    fn a_row_becomes_a_job_file_with_its_values() {
        let list = "weld;line;side.length\nW/1;steam;2.5 m\nW/2;water;3 m\n".as_bytes();
        let read = read(list, PATTERN, &none);
        assert!(read.is_good(), "{read:?}");
        assert_eq!(read.welds[0].folder, "W-1");
        assert_eq!(edit::get(&read.welds[1].text, "side[2].length"), "3 m");
        assert_eq!(
            edit::get(&read.welds[1].text, "identification.line"),
            "water"
        );
        let job = crate::read(&read.welds[1].text, "f").expect("a job");
        assert_eq!(job.joint.sides[0].length.mm(), 3000.0);
    }

    #[test]
    fn every_mistake_is_told_with_its_row() {
        let list =
            "weld,side[1].wall,coil.cable\nA,9 kg,\nB,,rope\n,,\nA,,\nC,,,,\nD,,\n".as_bytes();
        let read = read(list, PATTERN, &|name| name == "D");
        assert!(!read.is_good());
        let of = |line: usize| {
            let weld = read.welds.iter().find(|weld| weld.line == line);
            weld.map(|weld| weld.mistakes.join("\n"))
                .unwrap_or_default()
        };
        assert!(
            of(2).contains("side[1].wall") && of(2).contains("9 kg"),
            "{}",
            of(2)
        );
        assert!(of(3).contains("rope"), "{}", of(3));
        assert!(of(5).contains("line 2"), "{}", of(5));
        assert!(of(6).contains("5 cells"), "{}", of(6));
        assert!(of(7).contains("already"), "{}", of(7));
    }

    #[test]
    fn what_no_row_has_is_told_once_and_the_rest_with_its_row() {
        let empty = crate::pattern::empty(false);
        let list = b"weld,code,weld.cap_width,side.wall\nA,B31.3,21 mm,17.5 kg\nB,B31.3,,18 mm\n";
        let read = read(list, &empty, &none);
        assert!(!read.is_good());
        let in_all = read.missing_in_all();
        assert!(
            in_all.contains(&"purpose") && !in_all.contains(&"code"),
            "{in_all:?}"
        );
        let own: Vec<&String> = read.welds[1]
            .missing
            .iter()
            .filter(|one| !in_all.contains(&one.as_str()))
            .collect();
        assert_eq!(own, ["weld.cap_width"]);
        let [wall] = read.welds[0].mistakes.as_slice() else {
            panic!("one cell, one mistake: {:?}", read.welds[0].mistakes);
        };
        assert!(wall.starts_with("side.wall: found \"17.5 kg\""), "{wall}");
        assert!(read.welds[1].mistakes.is_empty());
    }

    #[test]
    fn a_number_alone_is_taken_as_the_form_takes_it_and_an_ambiguous_one_is_asked_once_for_the_column()
     {
        let us = crate::pattern::empty(true);
        let list = b"weld,side.outside_diameter,side.wall,units\nA,6.625,0.432,\nB,323.9,17.5,si\n";
        let wanted = super::read(list, &us, &none);
        assert!(wanted.mistakes.is_empty(), "{:?}", wanted.mistakes);
        let of = |row: usize, place: &str| edit::get(&wanted.welds[row].text, place);
        assert_eq!(of(0, "side[2].outside_diameter"), "6.625 in");
        assert_eq!(of(0, "side[1].wall"), "0.432 in");
        assert_eq!(of(1, "side[1].outside_diameter"), "323.9 mm");
        assert!(wanted.welds.iter().all(|weld| weld.mistakes.is_empty()));
        let list = b"weld,side.length\nA,10\nB,12\nC,7\n";
        let asked = super::read(list, &us, &none);
        let [once] = asked.mistakes.as_slice() else {
            panic!("once for the column: {:?}", asked.mistakes);
        };
        assert!(
            once.starts_with(
                "side.length: found \"10\" in line 2, and so in all 3 rows; allowed: "
            ),
            "{once}"
        );
        assert!(asked.welds.iter().all(|weld| weld.mistakes.is_empty()));
        assert!(!asked.is_good());
    }

    #[test]
    fn a_column_of_another_name_is_refused_with_the_key_that_is_meant() {
        let read = read(
            b"weld,OD,Wall thickness,side.wal\nA,1,1,1\n",
            PATTERN,
            &none,
        );
        let told = read.mistakes.join("\n");
        for meant in ["side.outside_diameter", "\"side.wall\""] {
            assert!(told.contains(meant), "{told}");
        }
        assert_eq!(told.matches("meant?").count(), 3, "{told}");
        let template = format!("{}\n", TEMPLATE.join(","));
        assert!(super::read(format!("{template}A\n").as_bytes(), PATTERN, &none).is_good());
    }

    #[test]
    fn a_list_that_is_none_is_refused_as_a_whole() {
        for list in [
            "".as_bytes(),
            b"\xff\xfe\x00",
            b"line\nx\n",
            b"weld,bore\nA,1\n",
            b"weld\n",
            b"weld,weld\nA,B\n",
        ] {
            let read = read(list, PATTERN, &none);
            assert!(!read.mistakes.is_empty(), "{list:?}");
        }
    }
}
