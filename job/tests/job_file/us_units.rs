//! A job in US units sees the numbers that the code prints in them: in need, plan and record.

use checks::limit_words;
use job::need::{need, need_sheet};
use job::sheet::needs_sheet;
use quantity::Units;

/// A weld of one metal; written in inches, in the units of the job.
fn text(code: &str, edition: &str, p_number: &str, units: &str) -> String {
    format!(
        "code = \"{code}\"\nedition = \"{edition}\"\nunits = \"{units}\"\n\
         [weld]\ncap_width = \"1 in\"\norientation = \"horizontal\"\n\
         [[side]]\noutside_diameter = \"18 in\"\nwall = \"1 in\"\np_number = \"{p_number}\"\ngroup = 1\n\
         [[side]]\noutside_diameter = \"18 in\"\nwall = \"1 in\"\np_number = \"{p_number}\"\ngroup = 1\n"
    )
}

#[test]
fn the_printed_numbers_stand_in_need_plan_and_record() {
    // Tables 331.1.1 and UCS-56 as they print °F, and the rates of 331.1.4 and UCS-56(d).
    let (b31_3, viii_1) = (("ASME B31.3", "2016"), ("ASME VIII-1", "2019"));
    for ((code, edition), p_number, printed) in [
        (b31_3, "1", vec!["1100 °F", "1200 °F", "600 °F/h", "600 °F"]),
        (b31_3, "3", vec!["1100 °F", "1200 °F", "600 °F/h"]),
        (b31_3, "4", vec!["1200 °F", "1300 °F", "600 °F/h"]),
        (b31_3, "5A", vec!["1250 °F", "1400 °F", "600 °F/h"]),
        (b31_3, "15E", vec!["1350 °F", "1425 °F", "600 °F/h"]),
        (
            viii_1,
            "1",
            vec![
                "1100 °F",
                "400 °F/h",
                "500 °F/h",
                "800 °F",
                "250 °F",
                "15 ft",
            ],
        ),
        (viii_1, "3", vec!["1100 °F", "400 °F/h", "150 °F"]),
        (viii_1, "4", vec!["1200 °F", "400 °F/h"]),
        (viii_1, "5A", vec!["1250 °F", "400 °F/h"]),
        (viii_1, "15E", vec!["1350 °F", "1425 °F", "400 °F/h"]),
    ] {
        let job =
            job::read_need(&text(code, edition, p_number, "us"), "w.toml", &[]).expect("a weld");
        let requirement = rules::requirement(&job.weld).expect("kept");
        let bands = rules::bands(&job.weld).expect("bands");
        // The words of a limit on record and desk; the pages of need and plan.
        let limits: Vec<String> = requirement
            .limits
            .iter()
            .map(|limit| limit_words(&limit.kind, Units::Us))
            .collect();
        let answer = need(&job).expect("an answer");
        let pages = [
            limits.join("\n"),
            report::text(&need_sheet(&job, &answer, "a test"), 400),
            report::text(&needs_sheet((&requirement, &bands), &[], Units::Us), 400),
        ];
        for page in &pages {
            for number in &printed {
                let stands = page.contains(number);
                assert!(stands, "{code} P-{p_number}: {number} is missing in {page}");
            }
            for converted in [
                "1103 °F", "1202 °F", "1301 °F", "1247 °F", "1346 °F", "1427 °F", "603 °F",
                "599 °F", "797 °F",
            ] {
                assert!(
                    !page.contains(converted),
                    "{code} P-{p_number}: {converted} in {page}"
                );
            }
        }
    }
}

#[test]
fn the_same_weld_in_metric_units_sees_the_metric_column() {
    let job =
        job::read_need(&text("ASME B31.3", "2016", "1", "si"), "w.toml", &[]).expect("a weld");
    let answer = need(&job).expect("an answer");
    let page = report::text(&need_sheet(&job, &answer, "a test"), 400);
    for number in ["595 °C", "650 °C", "335 K/h", "315 °C"] {
        assert!(page.contains(number), "{number} is missing in {page}");
    }
}
