//! The sheet as PDF/A-3a: tagged, with the typeface and the attached files inside.

mod attached;
mod attachment;
mod paint;
mod structure;

use krilla::configure::{Accessibility, Archival, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::error::KrillaError;
use krilla::geom::Point;
use krilla::metadata::{DateTime, Metadata};
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::{Document, SerializeSettings};

use crate::error::ReportError;
use crate::layout::{Bookmark, Laid, lay};
use crate::sheet::Sheet;
pub use attached::attached;
pub use attachment::{Attachment, Relationship};
use paint::{Fonts, Painter};
use structure::Structure;

/// A date and time of day, given by the caller: this room takes no clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moment {
    /// Year, 1 to 9999.
    pub year: u16,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month from 1.
    pub day: u8,
    /// Hour, 0 to 23.
    pub hour: u8,
    /// Minute, 0 to 59.
    pub minute: u8,
    /// Second, 0 to 59.
    pub second: u8,
    /// Minutes ahead of UTC, −1439 to 1439.
    pub utc_offset_minutes: i16,
}

/// The sheet as a PDF/A-3a file with these files attached. The same input gives the same bytes.
///
/// # Errors
/// A page that must hold everything and does not; a piece taller than a page; a table whose rows do not fit its columns;
/// a drawing that cannot be drawn; attachments that share a name or lack a media type; a date that does not exist; and
/// whatever else would break the archival standard.
pub fn pdf(
    sheet: &Sheet,
    attachments: &[Attachment],
    created: Moment,
) -> Result<Vec<u8>, ReportError> {
    let created = date_time(created)?;
    let laid = lay(sheet)?;
    let mut document = Document::new_with(settings()?);
    let mut structure = Structure::new(&laid.tags);
    draw_pages(&mut document, &laid, &mut structure)?;
    document.set_outline(outline(&laid.bookmarks));
    document.set_tag_tree(structure.tree(&laid.tags));
    attachment::embed(&mut document, attachments, created)?;
    document.set_metadata(metadata(sheet, created));
    document.finish().map_err(|error| ReportError::Archival {
        reason: told(&error),
    })
}

fn settings() -> Result<SerializeSettings, ReportError> {
    let configuration = ConfigurationBuilder::new()
        .with_archival_validator(Archival::A3_A)
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|error| ReportError::Archival {
            reason: format!("{error:?}"),
        })?;
    Ok(SerializeSettings {
        configuration,
        ..SerializeSettings::default()
    })
}

fn draw_pages(
    document: &mut Document,
    laid: &Laid,
    structure: &mut Structure,
) -> Result<(), ReportError> {
    let fonts = Fonts::load()?;
    let frame = laid.frame;
    for laid_page in &laid.pages {
        let size = PageSettings::from_wh(frame.paper_width_pt as f32, frame.paper_height_pt as f32);
        let size = size.ok_or_else(|| ReportError::Archival {
            reason: "the paper has no size".to_string(),
        })?;
        let mut page = document.start_page_with(size);
        let mut surface = page.surface();
        Painter {
            surface: &mut surface,
            fonts: &fonts,
        }
        .page(laid_page, structure);
        surface.finish();
        page.finish();
    }
    Ok(())
}

fn metadata(sheet: &Sheet, created: DateTime) -> Metadata {
    let language = if sheet.language.is_empty() {
        "en"
    } else {
        &sheet.language
    };
    let title = if sheet.title.is_empty() {
        "Untitled"
    } else {
        &sheet.title
    };
    let authors = if sheet.author.is_empty() {
        Vec::new()
    } else {
        vec![sheet.author.clone()]
    };
    Metadata::new()
        .title(title.to_string())
        .description(sheet.subject.clone())
        .authors(authors)
        .language(language.to_string())
        .creator("Soakwright".to_string())
        .creation_date(created)
}

/// Headings as a tree; a level that is skipped hangs below the last heading above it.
fn outline(bookmarks: &[Bookmark]) -> Outline {
    let mut outline = Outline::new();
    let mut open: Vec<(u8, OutlineNode)> = Vec::new();
    for bookmark in bookmarks {
        close(&mut outline, &mut open, bookmark.level);
        let place = XyzDestination::new(bookmark.page, Point::from_xy(0.0, bookmark.y_pt as f32));
        open.push((
            bookmark.level,
            OutlineNode::new(bookmark.text.clone(), place).with_open(true),
        ));
    }
    close(&mut outline, &mut open, 0);
    outline
}

fn close(outline: &mut Outline, open: &mut Vec<(u8, OutlineNode)>, level: u8) {
    while open.last().is_some_and(|(last, _)| *last >= level) {
        let Some((_, node)) = open.pop() else { return };
        match open.last_mut() {
            Some((_, parent)) => parent.push_child(node),
            None => outline.push_child(node),
        }
    }
}

fn date_time(moment: Moment) -> Result<DateTime, ReportError> {
    let Moment {
        year,
        month,
        day,
        hour,
        minute,
        second,
        utc_offset_minutes,
    } = moment;
    let exists = (1..=9999).contains(&year)
        && (1..=12).contains(&month)
        && (1..=days_of(year, month)).contains(&day)
        && hour < 24
        && minute < 60
        && second < 60
        && utc_offset_minutes.abs() < 24 * 60;
    if !exists {
        return Err(ReportError::Date {
            year,
            month,
            day,
            hour,
            minute,
            second,
        });
    }
    Ok(DateTime::new(year)
        .month(month)
        .day(day)
        .hour(hour)
        .minute(minute)
        .second(second)
        .utc_offset_hour((utc_offset_minutes / 60) as i8)
        .utc_offset_minute((utc_offset_minutes % 60).unsigned_abs() as u8))
}

fn days_of(year: u16, month: u8) -> u8 {
    let leap = (year.is_multiple_of(4) && !year.is_multiple_of(100)) || year.is_multiple_of(400);
    match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

fn told(error: &KrillaError) -> String {
    match error {
        KrillaError::Validation(found) => {
            let reasons: Vec<String> = found
                .iter()
                .map(|(reason, _)| format!("{reason:?}"))
                .collect();
            reasons.join("; ")
        }
        other => other.to_string(),
    }
}
