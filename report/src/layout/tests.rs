//! Promises of the page: nothing leaves its frame, heads repeat, explanations stand on the page of their mark.

use super::*;
use crate::drawing::Path;
use crate::sheet::{Column, Fact, Figure, Note, TableColumn, WriteIn};
use crate::span::{State, Text};

/// Sums of advances are exact to far less than this.
const ROUNDING_PT: f64 = 0.01;

fn sheet(blocks: Vec<Block>) -> Sheet {
    let mut sheet = Sheet {
        title: "A title that is long enough to need a second line on the page it is on".to_string(),
        blocks,
        ..Sheet::default()
    };
    sheet.subject = "What it is about".to_string();
    sheet.running.head_left = "HEAD-LEFT".to_string();
    sheet.running.head_right = "HEAD-RIGHT".to_string();
    sheet.running.mark = Some("demo".to_string());
    sheet
}

fn long_table(rows: usize) -> Table {
    let cell = |i: usize| {
        let text = Text::plain(format!(
            "row {i} has words that run over more than a single line of its narrow column"
        ));
        if i.is_multiple_of(7) {
            text.mark("estimate", "Not measured.")
        } else {
            text
        }
    };
    Table {
        caption: "Readings".into(),
        columns: vec![
            TableColumn::numbers("COLUMNHEAD"),
            TableColumn::words("Words"),
            TableColumn::words("More"),
        ],
        rows: (1..=rows)
            .map(|i| Row::Cells(vec![i.to_string().into(), cell(i), cell(i + 3)]))
            .collect(),
        first_cell_names_row: true,
    }
}

fn words_of(page: &Page) -> Vec<String> {
    page.placed
        .iter()
        .filter_map(|placed| match &placed.what {
            What::Words { shaped, .. } => Some(shaped.text.trim().to_string()),
            _ => None,
        })
        .collect()
}

fn everything() -> Vec<Block> {
    let drawing = || {
        let mut drawing = Drawing::new("A wide drawing", 900.0, 300.0, 1.0);
        drawing.push(Path::rectangle(0.0, 0.0, 900.0, 300.0).stroked(crate::Stroke::hairline()));
        drawing
    };
    let monster = "Rohrleitungsschweißnahtwärmebehandlungsprotokollnummernverzeichnis".repeat(4);
    vec![
        Block::heading(
            1,
            "A heading with words enough to be broken over two lines, as some headings will be after all",
        ),
        Block::paragraph(
            Text::plain("A long word: ")
                .and(&monster)
                .and(" and words after it. ")
                .strong("Strong")
                .italic("Italic"),
        ),
        Block::Facts(vec![
            Fact::new("Wall", "17.5 mm"),
            Fact::new(&monster, Text::plain(&monster).mark("from memory", "Told.")),
        ]),
        Block::Notes(vec![Note::caution(&monster), Note::plain("Short.")]),
        Block::Checks(vec!["Ready?".into(), monster.as_str().into()]),
        Block::WriteIns(vec![
            WriteIn {
                label: "Name".to_string(),
                width_mm: 500.0
            };
            5
        ]),
        Block::Figure(Figure {
            drawing: drawing(),
            caption: monster.as_str().into(),
        }),
        Block::Columns(vec![
            Column::new(
                1.0,
                vec![Block::figure(drawing(), "Left"), Block::paragraph(&monster)],
            ),
            Column::new(f64::NAN, vec![Block::Table(long_table(3))]),
        ]),
        Block::Table(long_table(60)),
        Block::paragraph(
            Text::default()
                .status(State::Look, "needs a look")
                .tick_box()
                .write_in(f64::INFINITY),
        ),
        Block::KeepTogether(vec![
            Block::heading(2, "Together"),
            Block::paragraph("with this."),
        ]),
        Block::Table(Table::default()),
        Block::Columns(Vec::new()),
    ]
}

#[test]
fn no_word_leaves_the_frame_of_its_page() {
    for paper in [Paper::A4, Paper::Letter] {
        let mut sheet = sheet(everything());
        sheet.paper = paper;
        let laid = lay(&sheet).unwrap();
        let frame = laid.frame;
        for placed in laid.pages.iter().flat_map(|page| &page.placed) {
            let width_pt = match &placed.what {
                // The space after the last word of a line is not seen.
                What::Words { style, shaped } => {
                    crate::text_width_pt(style.face, shaped.text.trim_end(), style.size_pt)
                }
                What::Bar { width_pt, .. } => *width_pt,
                What::TickBox { side_pt } => *side_pt,
                What::Drawing { drawing, shrink } => {
                    drawing.size_mm().0 / crate::MM_PER_PT * shrink
                }
                What::Nothing => 0.0,
            };
            let right_pt = frame.left_pt + frame.width_pt;
            assert!(placed.x_pt >= frame.left_pt - ROUNDING_PT, "{placed:?}");
            assert!(
                placed.x_pt + width_pt <= right_pt + ROUNDING_PT,
                "{placed:?} ends at {}",
                placed.x_pt + width_pt
            );
            assert!(
                placed.y_pt > 0.0 && placed.y_pt < frame.paper_height_pt,
                "{placed:?}"
            );
        }
    }
}

#[test]
fn cells_of_a_table_never_run_into_the_next_column() {
    let sheet = sheet(vec![Block::Table(long_table(5))]);
    let laid = lay(&sheet).unwrap();
    let placed = &laid.pages[0].placed;
    for one in placed {
        let What::Words { style, shaped } = &one.what else {
            continue;
        };
        let end_pt =
            one.x_pt + crate::text_width_pt(style.face, shaped.text.trim_end(), style.size_pt);
        for other in placed
            .iter()
            .filter(|other| other.y_pt == one.y_pt && other.x_pt > one.x_pt)
        {
            assert!(
                matches!(other.what, What::Bar { .. }) || end_pt <= other.x_pt,
                "{:?} meets {:?}",
                one,
                other
            );
        }
    }
}

#[test]
fn running_heads_and_page_numbers_stand_on_every_page() {
    let sheet = sheet(vec![Block::Table(long_table(80))]);
    let laid = lay(&sheet).unwrap();
    let count = laid.pages.len();
    assert!(count > 2);
    for (i, page) in laid.pages.iter().enumerate() {
        let words = words_of(page);
        for expected in [
            "HEAD-LEFT",
            "HEAD-RIGHT",
            "demo",
            &format!("page {} of {count}", i + 1),
        ] {
            assert!(
                words.iter().any(|word| word == expected),
                "{expected} on page {}",
                i + 1
            );
        }
    }
}

#[test]
fn the_head_of_a_table_repeats_on_every_page_it_reaches_and_is_read_aloud_once() {
    let sheet = sheet(vec![Block::Table(long_table(80))]);
    let laid = lay(&sheet).unwrap();
    let mut tagged = 0;
    for page in &laid.pages {
        let heads: Vec<&Placed> = page
            .placed
            .iter()
            .filter(|placed| matches!(&placed.what, What::Words { shaped, .. } if shaped.text == "COLUMNHEAD"))
            .collect();
        assert_eq!(heads.len(), 1);
        tagged += heads.iter().filter(|head| head.tag.is_some()).count();
    }
    assert_eq!(tagged, 1);
}

#[test]
fn a_mark_is_explained_on_each_page_that_carries_it_and_only_there() {
    let sheet = sheet(vec![
        Block::paragraph(
            Text::plain("595 °C").mark("from memory", "Not yet held against the printed table."),
        ),
        Block::PageBreak,
        Block::paragraph("Nothing to explain here."),
        Block::PageBreak,
        Block::paragraph(
            Text::plain("600 °C").mark("from memory", "Not yet held against the printed table."),
        ),
    ]);
    let laid = lay(&sheet).unwrap();
    let explained: Vec<bool> = laid
        .pages
        .iter()
        .map(|page| {
            words_of(page)
                .iter()
                .any(|word| word.contains("printed table"))
        })
        .collect();
    assert_eq!(explained, [true, false, true]);
}

#[test]
fn explanations_and_content_never_overlap() {
    let sheet = sheet(vec![Block::Table(long_table(80))]);
    let laid = lay(&sheet).unwrap();
    for page in &laid.pages {
        let foot_pt = laid.frame.top_pt + laid.frame.height_pt;
        let mark = page.placed.iter().find(|placed| {
            matches!(&placed.what, What::Words { shaped, .. } if shaped.text.starts_with("estimate"))
        });
        let Some(mark) = mark else { continue };
        assert!(mark.y_pt <= foot_pt);
        let below = page
            .placed
            .iter()
            .filter(|placed| placed.y_pt > mark.y_pt - 8.0 && placed.y_pt < foot_pt);
        assert!(
            below
                .filter(|placed| placed.tag.is_some())
                .all(|placed| placed.tag == mark.tag)
        );
    }
}

#[test]
fn a_heading_is_never_the_last_on_its_page() {
    for lines in 30..60 {
        let mut blocks: Vec<Block> = (0..lines)
            .map(|i| Block::paragraph(format!("Line {i}")))
            .collect();
        blocks.push(Block::heading(2, "HEADING"));
        blocks.push(Block::paragraph("BELOW"));
        let sheet = sheet(blocks);
        let laid = lay(&sheet).unwrap();
        let page_of = |word: &str| {
            laid.pages
                .iter()
                .position(|page| words_of(page).iter().any(|known| known == word))
        };
        assert_eq!(page_of("HEADING"), page_of("BELOW"), "{lines} lines above");
    }
}

#[test]
fn one_page_holds_everything_or_says_how_much_is_too_much() {
    let fitting = sheet(vec![
        Block::OnePage(vec![Block::Table(long_table(8))]),
        Block::paragraph("After"),
    ]);
    let laid = lay(&fitting).unwrap();
    assert_eq!(laid.pages.len(), 2);
    assert!(words_of(&laid.pages[0]).iter().all(|word| word != "After"));
    assert!(one_page_fits(&fitting).unwrap()[0].fits());

    let full = sheet(vec![Block::OnePage(vec![Block::Table(long_table(60))])]);
    let fit = one_page_fits(&full).unwrap()[0];
    assert!(!fit.fits());
    match lay(&full).map(|_| ()) {
        Err(ReportError::OnePageOverflow {
            needed_mm,
            available_mm,
            ..
        }) => {
            assert!(needed_mm > available_mm);
            assert_eq!(needed_mm, fit.needed_mm);
        }
        other => panic!("expected an overflow, got {other:?}"),
    }
}

#[test]
fn a_table_with_a_missing_cell_is_refused_with_both_numbers() {
    let mut table = long_table(3);
    table.rows[1] = Row::cells(["only one"]);
    let refused = sheet(vec![Block::KeepTogether(vec![Block::Table(table)])]);
    let error = lay(&refused).map(|_| ()).unwrap_err();
    assert_eq!(
        error,
        ReportError::CellsOfRow {
            table: "Readings".to_string(),
            row: 2,
            found: 1,
            expected: 3
        }
    );
}

#[test]
fn a_drawing_without_size_or_with_a_wild_coordinate_is_refused() {
    let mut wild = Drawing::new("wild", 10.0, 10.0, 1.0);
    wild.push(Path::rectangle(0.0, f64::NAN, 1.0, 1.0).filled(Ink::Full));
    for drawing in [Drawing::new("flat", 10.0, 0.0, 1.0), wild] {
        let refused = sheet(vec![Block::figure(drawing, "")]);
        assert!(matches!(
            lay(&refused).map(|_| ()),
            Err(ReportError::Drawing { .. })
        ));
    }
}

#[test]
fn columns_that_cannot_be_divided_are_refused_when_taller_than_a_page() {
    let tall = sheet(vec![Block::Columns(vec![Column::new(
        1.0,
        vec![Block::Table(long_table(90))],
    )])]);
    assert!(matches!(
        lay(&tall).map(|_| ()),
        Err(ReportError::TallerThanPage { .. })
    ));
}

#[test]
fn a_number_stays_with_its_unit() {
    let sheet = sheet(
        (5..120)
            .map(|i| Block::paragraph(format!("{} 650 °C", "x".repeat(i))))
            .collect(),
    );
    let laid = lay(&sheet).unwrap();
    let lines: Vec<String> = laid.pages.iter().flat_map(|page| words_of(page)).collect();
    assert!(lines.iter().all(|line| !line.starts_with("°C")));
}

#[test]
fn close_blocks_take_less_room_and_say_the_same() {
    let blocks = || {
        vec![
            Block::heading(2, "Heading"),
            Block::Table(long_table(12)),
            Block::Notes(vec![Note::plain("first"), Note::caution("second")]),
        ]
    };
    let open = sheet(vec![Block::OnePage(blocks())]);
    let close = sheet(vec![Block::OnePage(vec![Block::Close(blocks())])]);
    let needed_mm = |sheet: &Sheet| one_page_fits(sheet).unwrap()[0].needed_mm;
    assert!(needed_mm(&close) < needed_mm(&open));
    assert_eq!(crate::text(&close, 80), crate::text(&open, 80));
    let words = |text: String| -> Vec<String> {
        let letters = |word: &str| word.chars().any(char::is_alphanumeric);
        let words = text.split_whitespace().filter(|word| letters(word));
        words.map(String::from).collect()
    };
    let (long, short) = (crate::text(&open, 80), crate::close_text(&open, 80));
    assert!(short.lines().count() < long.lines().count());
    assert_eq!(words(short), words(long));
}
