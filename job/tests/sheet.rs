//! Promises of the document of a plan, for each demo on either paper.

use std::ops::ControlFlow;
use std::sync::LazyLock;

use quantity::Units;
use report::{Block, Moment, Sheet};

const JOBS: [&str; 3] = [
    include_str!("../../jobs/carbon-steel-line.toml"),
    include_str!("../../jobs/thick-9cr-header.toml"),
    include_str!("../../jobs/unequal-heavy-fitting.toml"),
];

static SHEETS: LazyLock<Vec<Sheet>> = LazyLock::new(|| {
    let mut all = Vec::new();
    for text in JOBS {
        let job = job::read(text, "job.toml").expect("a demo job");
        let mut plan = job::plan::plan(&job, &mut |_| ControlFlow::Continue(())).expect("a plan");
        for units in [Units::Si, Units::Us] {
            plan.job.units = units;
            all.push(plan.sheet("made by a test"));
        }
    }
    all
});

#[test]
fn the_page_to_work_from_is_one_page_on_either_paper() {
    for sheet in SHEETS.iter() {
        let fits = report::one_page_fits(sheet).expect("can be set");
        let [fit] = fits.as_slice() else {
            panic!("{:?}, {}: no page of its own", sheet.paper, sheet.title);
        };
        assert!(fit.fits(), "{:?}, {}: {fit:?}", sheet.paper, sheet.title);
    }
}

#[test]
fn every_sheet_becomes_a_file() {
    let created = Moment {
        year: 2026,
        month: 1,
        day: 5,
        hour: 8,
        minute: 0,
        second: 0,
        utc_offset_minutes: 0,
    };
    for sheet in SHEETS.iter() {
        let bytes = report::pdf(sheet, &[], created).expect("a file");
        assert!(bytes.starts_with(b"%PDF-"));
    }
}

#[test]
fn a_finding_is_never_a_bare_pass() {
    for sheet in SHEETS.iter() {
        let text = report::text(sheet, 200);
        let words = text.split(|letter: char| !letter.is_alphabetic());
        let bare = words.filter(|word| word.eq_ignore_ascii_case("pass") || *word == "PASSED");
        assert_eq!(bare.count(), 0, "{}", sheet.title);
        assert!(text.contains("predicted values meet"));
    }
}

#[test]
fn the_site_page_speaks_both_units_and_a_demo_says_so() {
    for sheet in SHEETS.iter() {
        let page = Sheet {
            blocks: sheet.blocks[..1].to_vec(),
            ..sheet.clone()
        };
        assert!(matches!(page.blocks[0], Block::OnePage(_)));
        let text = report::text(&page, 200);
        for word in ["°C", "°F", "mm", " in", "Demo, not for use"] {
            assert!(text.contains(word), "{} lacks {word}", sheet.title);
        }
    }
}

#[test]
fn what_is_from_memory_wears_its_mark_where_it_is_used() {
    // The rates of these codes are from memory; the mark stands on the page to work from, too.
    for sheet in SHEETS.iter() {
        let page = Sheet {
            blocks: sheet.blocks[..1].to_vec(),
            ..sheet.clone()
        };
        assert!(report::text(&page, 200).contains("from memory"));
    }
}

#[test]
fn a_sheet_calls_what_was_left_open_by_the_names_of_the_form() {
    for sheet in SHEETS.iter() {
        let text = report::text(sheet, 200);
        for line in text.lines() {
            assert_eq!(job::shape::spoken(line), line, "{}", sheet.title);
        }
        assert!(text.contains("Left open by the job"), "{}", sheet.title);
    }
}
