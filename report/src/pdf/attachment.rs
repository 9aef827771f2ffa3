//! Files carried inside the document.

use std::collections::BTreeSet;
use std::sync::Arc;

use krilla::Document;
use krilla::embed::{AssociationKind, EmbeddedFile, MimeType};
use krilla::metadata::DateTime;

use crate::error::ReportError;

/// A file carried inside the document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attachment {
    /// File name, for example `log.csv`.
    pub name: String,
    /// Media type, for example `text/csv`.
    pub mime: String,
    /// The bytes of the file.
    pub bytes: Vec<u8>,
    /// What it is, in a few words.
    pub description: String,
    /// What it is to the document.
    pub relationship: Relationship,
}

/// What an attached file is to the document.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Relationship {
    /// The document was made from it: the job file, the log.
    Source,
    /// Numbers behind a table or a picture.
    Data,
    /// The same content in another form.
    Alternative,
    /// Something in addition.
    Supplement,
}

pub(super) fn embed(
    document: &mut Document,
    attachments: &[Attachment],
    date: DateTime,
) -> Result<(), ReportError> {
    let mut names = BTreeSet::new();
    for attachment in attachments {
        if !names.insert(&attachment.name) {
            return Err(ReportError::AttachmentNamedTwice {
                name: attachment.name.clone(),
            });
        }
        let mime_type =
            MimeType::new(&attachment.mime).ok_or_else(|| ReportError::AttachmentMime {
                name: attachment.name.clone(),
                mime: attachment.mime.clone(),
            })?;
        let described = if attachment.description.is_empty() {
            &attachment.name
        } else {
            &attachment.description
        };
        let taken = document.embed_file(EmbeddedFile {
            path: attachment.name.clone(),
            mime_type: Some(mime_type),
            description: Some(described.clone()),
            association_kind: kind(attachment.relationship),
            data: Arc::new(attachment.bytes.clone()).into(),
            modification_date: Some(date),
            compress: Some(true),
            location: None,
        });
        if taken.is_none() {
            return Err(ReportError::AttachmentNamedTwice {
                name: attachment.name.clone(),
            });
        }
    }
    Ok(())
}

fn kind(relationship: Relationship) -> AssociationKind {
    match relationship {
        Relationship::Source => AssociationKind::Source,
        Relationship::Data => AssociationKind::Data,
        Relationship::Alternative => AssociationKind::Alternative,
        Relationship::Supplement => AssociationKind::Supplement,
    }
}
