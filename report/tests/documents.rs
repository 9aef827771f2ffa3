//! What a person, a browser and an archive may rely on in the files made from a sheet.

mod pdf_reader;

use report::chart::{Across, Chart, Event, Limit, Panel, Region, Series, chart};
use report::section_picture::{SectionPicture, Triangles, Window};
use report::{
    Attachment, Block, Fact, Item, Label, Moment, Note, Relationship, ReportError, Row, Sheet,
    State, Table, TableColumn, Text, scale,
};

const CREATED: Moment = Moment {
    year: 2026,
    month: 2,
    day: 28,
    hour: 23,
    minute: 59,
    second: 59,
    utc_offset_minutes: -90,
};

fn a_chart() -> report::Drawing {
    let mut panel = Panel::new("Temperature, °C");
    for number in 1..=5 {
        let points: Vec<[f64; 2]> = (0..20_000)
            .map(|i| f64::from(i) / 2000.0)
            .map(|x| [x, 20.0 + 60.0 * x + f64::from(number)])
            .collect();
        panel.series.push(Series::line(number.to_string(), &points));
    }
    panel
        .limits
        .push(Limit::at_most(650.0, "at most 650 °C, clause 1"));
    panel.regions.push(Region {
        from: 4.0,
        to: 5.0,
        low: None,
        high: None,
        text: "hold".to_string(),
    });
    chart(&Chart {
        title: "Rise & <hold>".to_string(),
        description: "Five lines".to_string(),
        width_mm: 160.0,
        height_mm: 90.0,
        across: Across::hours_and_clock(0.0, 10.0, 1400.0),
        panels: vec![panel, Panel::new("Power, kW")],
        events: (0..6)
            .map(|i| Event {
                at: 9.0 + 0.2 * f64::from(i),
                text: "power off for a while".to_string(),
            })
            .collect(),
    })
}

fn a_section() -> report::Drawing {
    let window = Window {
        left_mm: -10.0,
        right_mm: 10.0,
        low_mm: 0.0,
        high_mm: 8.0,
    };
    let nodes = [
        [-10.0, 0.0],
        [10.0, 0.0],
        [10.0, 8.0],
        [-10.0, 8.0],
        [0.0, 4.0],
    ];
    let corners = [[0, 1, 4], [1, 2, 4], [2, 3, 4], [3, 0, 4]];
    let mut picture = SectionPicture::new("Section", window, 120.0);
    let mesh = Triangles {
        nodes_mm: &nodes,
        corners: &corners,
    };
    picture.heat(mesh, &[20.0, 20.0, 300.0, 300.0, 600.0], 0.0, 650.0, 13);
    picture.point([0.0, 4.0], "1", "Thermocouple 1");
    picture.axes();
    picture.heat_scale(0.0, 650.0, "°C", 13);
    picture.finish()
}

fn a_sheet() -> Sheet {
    let table = Table {
        caption: "Limits".into(),
        columns: vec![
            TableColumn::words("What"),
            TableColumn::numbers("Limit, °C"),
            TableColumn::centered("Done"),
        ],
        rows: (0..60)
            .map(|i| {
                let what = Text::plain(format!("Step {i} <&> \"quoted\""))
                    .status(State::Passed, "limit passed");
                Row::Cells(vec![
                    what,
                    format!("{}", 600 + i).into(),
                    Text::default().tick_box(),
                ])
            })
            .collect(),
        first_cell_names_row: true,
    };
    Sheet {
        title: "Plan & record <1>".to_string(),
        subject: "A weld — 17.5 mm".to_string(),
        margins: report::Margins::Usual,
        author: "A. Smith".to_string(),
        language: "en-US".to_string(),
        blocks: vec![
            Block::heading(1, "Needs"),
            Block::Facts(vec![Fact::new(
                "Wall",
                Text::plain("17.5 mm").mark("from memory", "Check & see <it>."),
            )]),
            Block::Notes(vec![
                Note::caution("Hot."),
                Note::plain("A name in letters that the typeface lacks: 溶接 😀"),
            ]),
            Block::Table(table),
            Block::heading(2, "Pictures"),
            Block::figure(a_chart(), "Rise and hold"),
            Block::figure(a_section(), "Section"),
        ],
        ..Sheet::default()
    }
}

fn attachment(name: &str, bytes: Vec<u8>) -> Attachment {
    Attachment {
        name: name.to_string(),
        mime: "application/octet-stream".to_string(),
        bytes,
        description: "Bytes".to_string(),
        relationship: Relationship::Data,
    }
}

#[test]
fn attachments_come_back_byte_for_byte() {
    let log: Vec<u8> = (0..40_000u32)
        .map(|i| (i.wrapping_mul(2_654_435_761) >> 13) as u8)
        .collect();
    let all = [
        attachment("log.bin", log),
        attachment("empty.txt", Vec::new()),
        attachment("Prüfung.csv", b"a,b\n1,2\n".to_vec()),
    ];
    let file = report::pdf(&a_sheet(), &all, CREATED).unwrap();
    let mut found = pdf_reader::embedded_files(&file);
    let mut expected: Vec<Vec<u8>> = all
        .iter()
        .map(|attachment| attachment.bytes.clone())
        .collect();
    found.sort();
    expected.sort();
    assert_eq!(found, expected);
    assert_eq!(pdf_reader::count(&file, b"/AFRelationship/Data"), 3);
}

#[test]
fn the_pdf_claims_the_archival_and_the_accessible_standard() {
    let file = report::pdf(&a_sheet(), &[], CREATED).unwrap();
    for claim in [
        "<pdfaid:part>3</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
        "<xmp:CreateDate>2026-02-28T23:59:59-01:30</xmp:CreateDate>",
        "Plan &amp; record &lt;1&gt;",
        "/Lang(en-US)",
        "/OutputIntents",
        "/MarkInfo<</Marked true",
    ] {
        assert_eq!(
            pdf_reader::count(&file, claim.as_bytes()).min(1),
            1,
            "{claim}"
        );
    }
    assert!(pdf_reader::page_count(&file) >= 3);
}

#[test]
fn the_same_sheet_gives_the_same_bytes() {
    let all = [attachment("log.bin", vec![7; 1000])];
    let make = || report::pdf(&a_sheet(), &all, CREATED).unwrap();
    assert_eq!(make(), make());
    assert_eq!(report::html(&a_sheet()), report::html(&a_sheet()));
}

#[test]
fn wrong_attachments_and_dates_are_refused() {
    let twice = [attachment("a", Vec::new()), attachment("a", vec![1])];
    assert!(matches!(
        report::pdf(&a_sheet(), &twice, CREATED),
        Err(ReportError::AttachmentNamedTwice { .. })
    ));
    let wrong = [Attachment {
        mime: "text".to_string(),
        ..attachment("a", Vec::new())
    }];
    assert!(matches!(
        report::pdf(&a_sheet(), &wrong, CREATED),
        Err(ReportError::AttachmentMime { .. })
    ));
    for (month, day) in [(2, 29), (13, 1), (0, 1), (4, 31)] {
        let date = Moment {
            month,
            day,
            ..CREATED
        };
        assert!(
            matches!(
                report::pdf(&a_sheet(), &[], date),
                Err(ReportError::Date { .. })
            ),
            "{month}-{day}"
        );
    }
    assert!(
        report::pdf(
            &a_sheet(),
            &[],
            Moment {
                year: 2028,
                day: 29,
                ..CREATED
            }
        )
        .is_ok()
    );
}

#[test]
fn an_empty_sheet_makes_every_format() {
    let empty = Sheet::default();
    assert_eq!(
        pdf_reader::page_count(&report::pdf(&empty, &[], CREATED).unwrap()),
        1
    );
    assert!(report::html(&empty).contains("<main>"));
    assert!(!report::text(&empty, 80).contains("\n\n\n"));
}

#[test]
fn html_is_well_formed_and_says_what_things_are() {
    let html = report::html(&a_sheet());
    let options = roxmltree::ParsingOptions {
        allow_dtd: true,
        ..Default::default()
    };
    let document = roxmltree::Document::parse_with_options(&html, options).unwrap();
    let all = |name: &str| {
        document
            .descendants()
            .filter(|node| node.tag_name().name() == name)
            .collect::<Vec<_>>()
    };
    assert_eq!(all("h1").len(), 1);
    assert!(all("th").iter().all(|cell| cell.has_attribute("scope")));
    assert!(all("figure").iter().all(|figure| {
        figure
            .children()
            .any(|child| child.has_tag_name("figcaption"))
    }));
    let drawings: Vec<_> = all("svg")
        .into_iter()
        .filter(|svg| svg.has_attribute("role"))
        .collect();
    assert_eq!(drawings.len(), 2);
    assert!(drawings.iter().all(|svg| {
        svg.first_element_child()
            .is_some_and(|child| child.tag_name().name() == "title")
    }));
    for link in all("a") {
        let target = link.attribute("href").unwrap().trim_start_matches('#');
        assert!(
            document
                .descendants()
                .any(|node| node.attribute("id") == Some(target)),
            "{target}"
        );
    }
    assert!(all("script").is_empty());
    let fetched = ["src=\"", "url(http", "@import", "<link"];
    assert!(
        fetched.iter().all(|sign| !html.contains(sign)),
        "nothing is fetched from outside"
    );
}

#[test]
fn a_page_without_pictures_stays_small() {
    let sheet = Sheet {
        blocks: vec![Block::paragraph("Short.")],
        ..a_sheet()
    };
    assert!(report::html(&sheet).len() < 150_000);
}

#[test]
fn svg_is_well_formed_alone() {
    for drawing in [
        a_chart(),
        a_section(),
        scale::bar_drawing("Scale", 80.0, 0.0, 700.0, "°C", 20),
    ] {
        let file = report::svg(&drawing);
        let document = roxmltree::Document::parse(&file).unwrap();
        assert_eq!(
            document.root_element().tag_name().namespace(),
            Some("http://www.w3.org/2000/svg")
        );
        assert!(!file.contains("NaN"));
    }
}

#[test]
fn text_keeps_its_width_and_loses_no_word() {
    for width in [24, 40, 80, 120] {
        let text = report::text(&a_sheet(), width);
        let longest = text.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(longest <= width, "{longest} at {width}");
    }
    let text = report::text(&a_sheet(), 80);
    for words in [
        "Caution",
        "[*] from memory: Check & see <it>.",
        "17.5 mm[*]",
        "(Figure: Rise and hold)",
        "■ limit passed",
    ] {
        assert!(text.contains(words), "{words}");
    }
}

/// Relative luminance after WCAG 2.2 (W3C 2023).
fn luminance([red, green, blue]: [u8; 3]) -> f64 {
    let linear = |channel: u8| {
        let value = f64::from(channel) / 255.0;
        if value <= 0.04045 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)
}

#[test]
fn a_gray_copy_of_the_color_scale_reads_the_same() {
    let grays: Vec<f64> = (0..=64)
        .map(|i| luminance(scale::color(f64::from(i) / 64.0)))
        .collect();
    assert!(grays.windows(2).all(|pair| pair[1] > pair[0]), "{grays:?}");
    // Lightness L* (CIE 1976) rises evenly: no step is more than twice the mean, none less than half.
    let lightness: Vec<f64> = grays
        .iter()
        .map(|gray| 116.0 * gray.cbrt() - 16.0)
        .collect();
    let mean = (lightness[64] - lightness[0]) / 64.0;
    assert!(
        lightness
            .windows(2)
            .all(|pair| (0.4..2.0).contains(&((pair[1] - pair[0]) / mean))),
        "{lightness:?}"
    );
    assert!(
        (grays[64] + 0.05) / (grays[0] + 0.05) > 10.0,
        "contrast from end to end"
    );
    assert_eq!(scale::color(-1.0), scale::color(0.0));
    assert_eq!(scale::color(f64::NAN), scale::color(0.0));
}

fn labels(items: &[Item]) -> Vec<&Label> {
    let mut found = Vec::new();
    for item in items {
        match item {
            Item::Label(label) => found.push(label),
            Item::Group(group) => found.extend(labels(&group.items)),
            Item::Path(_) => {}
        }
    }
    found
}

#[test]
fn no_label_of_a_picture_is_cut_off_at_its_edge() {
    for drawing in [a_chart(), a_section()] {
        for label in labels(&drawing.items) {
            let width = drawing.units_of_pt(report::text_width_pt(
                label.face,
                &label.text,
                label.size_pt,
            ));
            let left = match label.anchor {
                report::Anchor::Start => label.at[0],
                report::Anchor::Middle => label.at[0] - width / 2.0,
                report::Anchor::End => label.at[0] - width,
            };
            // A hair of the outermost stroke may stand out.
            assert!(
                left >= -0.3 && left + width <= drawing.width + 0.3,
                "{label:?} from {left} to {}",
                left + width
            );
            assert!(
                label.at[1] >= 0.0 && label.at[1] <= drawing.height,
                "{label:?}"
            );
        }
    }
}

#[test]
fn a_long_record_is_drawn_small_and_keeps_its_peak() {
    let mut points: Vec<[f64; 2]> = (0..500_000)
        .map(|i| [f64::from(i), 300.0 + f64::from(i % 7)])
        .collect();
    points[123_456][1] = 700.0;
    points[323_456][1] = 20.0;
    let kept = report::chart::thinned(&points, 300.0);
    assert!(kept.len() < 8000);
    assert!(
        kept.iter().any(|point| point[1] == 700.0) && kept.iter().any(|point| point[1] == 20.0)
    );
    assert!(kept.windows(2).all(|pair| pair[0][0] <= pair[1][0]));
}

#[test]
fn odd_numbers_leave_a_chart_that_can_still_be_drawn() {
    let mut panel = Panel::new("°C");
    panel.series.push(Series::line(
        "1",
        &[[0.0, f64::NAN], [f64::INFINITY, 3.0], [1.0, 2.0]],
    ));
    panel.series.push(Series::line("2", &[]));
    panel.limits.push(Limit::at_least(f64::NAN, "nothing"));
    panel.regions.push(Region {
        from: f64::NAN,
        to: 2.0,
        low: Some(f64::NAN),
        high: None,
        text: "x".to_string(),
    });
    for across in [
        Across::hours(0.0, 0.0),
        Across::numbers("mm", f64::NAN, 2.0),
        Across::hours_and_clock(0.0, 2e6, -1.0),
    ] {
        let drawing = chart(&Chart {
            across,
            panels: vec![panel.clone()],
            width_mm: 30.0,
            height_mm: 1.0,
            ..Chart::default()
        });
        let sheet = Sheet {
            blocks: vec![Block::figure(drawing, "")],
            ..Sheet::default()
        };
        report::pdf(&sheet, &[], CREATED).unwrap();
    }
}
