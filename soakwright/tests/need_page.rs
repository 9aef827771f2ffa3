//! The page of a need: one page of paper and a short text, whatever the weld and however much is to be told.

use std::path::Path;

use job::need::{need, need_sheet};
use quantity::Units;

fn text(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../jobs/needs")
        .join(name);
    std::fs::read_to_string(path).expect("a job of needs")
}

/// Lines of 80 columns that the longest of these answers may take; a page of paper holds about as many at 8 points.
const LINES_AT_MOST: usize = 130;

/// Any moment will do.
const NOON: report::Moment = report::Moment {
    year: 2026,
    month: 1,
    day: 1,
    hour: 12,
    minute: 0,
    second: 0,
    utc_offset_minutes: 0,
};

/// The jobs of needs and those of plans, which are answered as well.
fn all_jobs() -> Vec<(String, job::NeedJob)> {
    let jobs = Path::new(env!("CARGO_MANIFEST_DIR")).join("../jobs");
    let files = [jobs.join("needs"), jobs].into_iter().flat_map(|folder| {
        let entries = std::fs::read_dir(folder).expect("a folder of jobs");
        entries.map(|entry| entry.expect("an entry").path())
    });
    files
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .map(|path| {
            let name = path.file_name().expect("a name").to_string_lossy();
            let text = std::fs::read_to_string(&path).expect("a job");
            let job = job::read_need(&text, &name, &[]);
            (
                name.into_owned(),
                job.unwrap_or_else(|refused| panic!("{refused}")),
            )
        })
        .collect()
}

/// Pages of a document, as its page tree counts them.
fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    let tree = text
        .split("/Type/Pages")
        .nth(1)
        .or(text.split("/Type /Pages").nth(1));
    let count = tree.and_then(|tree| tree.split("/Count").nth(1));
    let digits = count.map(|rest| {
        rest.trim_start()
            .split(|c: char| !c.is_ascii_digit())
            .next()
    });
    digits
        .flatten()
        .and_then(|digits| digits.parse().ok())
        .expect("a count of pages")
}

#[test]
fn every_need_is_one_page_of_a4_and_of_letter_and_a_short_text() {
    let jobs = all_jobs();
    assert_eq!(jobs.len(), 13);
    for (name, mut job) in jobs {
        for units in [Units::Si, Units::Us] {
            job.units = units;
            let sheet = need_sheet(&job, &need(&job).expect("an answer"), "made by a test");
            let wanted = match units {
                Units::Si => report::Paper::A4,
                Units::Us => report::Paper::Letter,
            };
            assert_eq!(sheet.paper, wanted);
            let pdf = report::pdf(&sheet, &[], NOON).expect("a document");
            assert_eq!(pages(&pdf), 1, "{name} on {wanted:?}");
            let words = report::close_text(&sheet, 80);
            assert!(
                words.lines().all(|line| line.chars().count() <= 80),
                "{name}"
            );
            let lines = words.lines().count();
            assert!(lines <= LINES_AT_MOST, "{name}: {lines} lines");
            assert!(words.contains("demo, not for use"), "{name}");
        }
    }
}

/// Turns that a person set, in place of those that would be proposed.
const SECTION: &str = "\n[[coil.section]]\nturns = 10\nfirst = \"-171 mm\"\npitch = \"38 mm\"\n";

/// Blanket, coil and source of a girth weld of which only the needs were asked.
const SET_UP: &str = "\n[blanket]\nmaterial = \"ceramic fiber blanket 128 kg/m3\"\nthickness = \"50 mm\"\n\
    [coil]\ncable = \"liquid-cooled cable\"\ncable_diameter = \"19 mm\"\nlead_length = \"8 m\"\n\
    [source]\nname = \"an invented source\"\npower = \"70 kW\"\ncurrent = \"600 A\"\nvoltage = \"700 V\"\n\
    frequency_min = \"2 kHz\"\nfrequency_max = \"10 kHz\"\n";

/// A metal of each P-number among the girth welds.
const METALS: [(&str, &str); 6] = [
    ("1", "carbon steel"),
    ("4", "1.25Cr-0.5Mo"),
    ("5A", "2.25Cr-1Mo"),
    ("8", "austenitic 18-8"),
    ("10H", "duplex 2205"),
    ("15E", "9Cr-1Mo-V"),
];

/// The job with its coil given turn by turn, and with all else that says how it is set up.
fn with_coil_by_hand(text: &str) -> String {
    if text.contains("[coil]") {
        let kept = text.lines().filter(|line| !line.starts_with("turns "));
        return kept.collect::<Vec<_>>().join("\n") + SECTION;
    }
    let mut whole = text.replace(
        "[[side]]\n",
        "[[side]]\nlength = \"2 m\"\nbore_end = \"open\"\n",
    );
    for (number, metal) in METALS {
        let number = format!("p_number = \"{number}\"\n");
        whole = whole.replace(&number, &format!("{number}metal = \"{metal}\"\n"));
    }
    if let (Some(at), 1) = (whole.find("[[side]]"), whole.matches("[[side]]").count()) {
        let end = whole[at + 2..]
            .find("\n[")
            .map_or(whole.len(), |end| at + 2 + end);
        let side = whole[at..end].to_owned();
        whole.insert_str(at, &(side + "\n"));
    }
    format!("purpose = \"stress_relief\"\n{whole}{SET_UP}{SECTION}")
}

/// Every body whose levels are kept at 10 kHz, and for whom.
const LEVELS: [&str; 9] = [
    "public: 6.25 µT",
    "public: 27 µT",
    "workers: 30.7 µT",
    "workers: 100 µT",
    "public: 205 µT",
    "workers, limbs: 300 µT",
    "workers: 615 µT",
    "workers, limbs: 1130 µT",
    "Directive 2013/35/EU Annex II, Table B2",
];

#[test]
fn with_a_coil_by_hand_every_need_is_one_page_and_tells_every_level() {
    let mut told = 0;
    let mut long = Vec::new();
    for (name, plain) in all_jobs() {
        let mut job = job::read_need(&with_coil_by_hand(&plain.text), &name, &[])
            .unwrap_or_else(|refused| panic!("{name}: {refused}"));
        for units in [Units::Si, Units::Us] {
            job.units = units;
            let answer = need(&job).expect("an answer");
            let girth = job.weld.joint.form == rules::joint::JointForm::GirthButt;
            assert_eq!(answer.exposure.is_some(), girth, "{name}");
            let sheet = need_sheet(&job, &answer, "made by a test");
            let pdf = report::pdf(&sheet, &[], NOON).expect("a document");
            if pages(&pdf) != 1 {
                long.push(format!("{name} on {:?}", sheet.paper));
            }
            let words = report::text(&sheet, 400);
            let missing = LEVELS.iter().filter(|level| !words.contains(**level));
            assert_eq!(
                missing.count(),
                if girth { 0 } else { 9 },
                "{name}: {words}"
            );
            told += usize::from(girth);
            let rows = answer.exposure.iter().flat_map(|one| &one.distances);
            for one in rows {
                let (beside, unit) = units.of(one.governing.beside_m, "m");
                let beside = format!("{beside:.2} {unit}");
                assert!(words.contains(&beside), "{name}: {beside}");
            }
        }
    }
    assert!(long.is_empty(), "more than one page: {long:?}");
    assert_eq!(
        told, 20,
        "seven of the needs and three jobs of plans, twice"
    );
}

/// However many notes there are, each of them stands in the document, and the page is only set closer or goes on.
#[test]
fn no_note_is_lost_where_they_are_very_many() {
    let job = job::read_need(&text("header.toml"), "header.toml", &[]).expect("a job");
    for more in [5, 20, 80] {
        let mut need = need(&job).expect("an answer");
        need.advice.extend((0..more).map(|number| rules::requirement::Remark {
            text: format!("invented remark {number} that has about as many words as those of the rules have, so that it takes two lines"),
            clause: None,
        }));
        let sheet = need_sheet(&job, &need, "made by a test");
        report::pdf(&sheet, &[], NOON).expect("a document");
        let words = report::text(&sheet, 200).replace('\n', " ");
        for number in 0..more {
            assert!(
                words.contains(&format!("invented remark {number} ")),
                "{more}"
            );
        }
    }
}

/// ASME B31.3 330.1.4: 25 mm to each side; ISO 13916: to 50 mm of wall at four walls and at most 50 mm from the edge.
#[test]
fn how_far_the_preheat_reaches_is_told() {
    let job = job::read_need(&text("line-pipe.toml"), "f", &[]).expect("a job");
    let words = report::text(
        &need_sheet(&job, &need(&job).expect("an answer"), "a test"),
        400,
    );
    assert!(
        words.contains("25 mm (1 in) from the edge of the weld (330.1.4"),
        "{words}"
    );
    assert!(
        words.contains("50 mm (1 15/16 in) from the edge of the weld (ISO 13916"),
        "{words}"
    );
}

/// Ferritic steel asks 200 °C, the austenitic side bears 175 °C between runs: no headline tells the welder to do both.
#[test]
fn a_preheat_over_the_other_sides_interpass_temperature_is_told_as_a_conflict() {
    let mixed = text("dissimilar.toml")
        .replace("p_number = \"4\"", "p_number = \"8\"")
        .replace("tempered_at = \"730 °C\"\n", "")
        .replace(
            "chemistry = { C = 0.13, Si = 0.6, Mn = 0.45, Cr = 1.25, Mo = 0.5 }\n",
            "",
        );
    let job = job::read_need(&mixed, "f", &[]).unwrap_or_else(|refused| panic!("{refused}"));
    let answer = need(&job).expect("an answer");
    let words = report::text(&need_sheet(&job, &answer, "a test"), 400);
    assert!(words.contains("(side 2): both cannot be kept"), "{words}");
    assert!(
        words.contains("side 2: the least preheat of 200 °C lies above the highest interpass"),
        "{words}"
    );
    assert!(answer.falls_short());
}
