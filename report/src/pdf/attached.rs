//! Files that a document carries, read out of it again.

use lopdf::{Dictionary, Document, Object};

use crate::error::ReportError;

/// The files attached to a PDF document, by name, in the order of its name tree.
///
/// # Errors
/// [`ReportError::Unopened`] where the bytes are no PDF or an attachment cannot be unpacked.
pub fn attached(pdf: &[u8]) -> Result<Vec<(String, Vec<u8>)>, ReportError> {
    let document = Document::load_mem(pdf).map_err(|error| unopened(&error))?;
    let mut specifications = Vec::new();
    let catalog = document.catalog().map_err(|error| unopened(&error))?;
    if let Ok(files) = catalog
        .get_deref(b"Names", &document)
        .and_then(Object::as_dict)
        .and_then(|names| names.get_deref(b"EmbeddedFiles", &document))
        .and_then(Object::as_dict)
    {
        gather(files, &document, &mut specifications, 0);
    }
    specifications
        .into_iter()
        .map(|file| unpacked(file, &document))
        .collect()
}

/// Nodes of a name tree are not deeper than this.
const DEEPEST: usize = 32;

fn gather<'d>(
    node: &'d Dictionary,
    document: &'d Document,
    found: &mut Vec<&'d Dictionary>,
    depth: usize,
) {
    if depth > DEEPEST {
        return;
    }
    let list = |key: &[u8]| {
        node.get_deref(key, document)
            .and_then(Object::as_array)
            .ok()
    };
    for pair in list(b"Names").into_iter().flat_map(|names| names.chunks(2)) {
        let file = pair.get(1).and_then(|file| document.dereference(file).ok());
        found.extend(file.and_then(|(_, file)| file.as_dict().ok()));
    }
    for kid in list(b"Kids").into_iter().flatten() {
        if let Ok((_, kid)) = document.dereference(kid)
            && let Ok(kid) = kid.as_dict()
        {
            gather(kid, document, found, depth + 1);
        }
    }
}

fn unpacked(file: &Dictionary, document: &Document) -> Result<(String, Vec<u8>), ReportError> {
    let name = file
        .get_deref(b"UF", document)
        .or_else(|_| file.get_deref(b"F", document))
        .and_then(lopdf::decode_text_string)
        .map_err(|error| unopened(&error))?;
    let stream = file
        .get_deref(b"EF", document)
        .and_then(Object::as_dict)
        .and_then(|streams| {
            streams
                .get_deref(b"F", document)
                .or_else(|_| streams.get_deref(b"UF", document))
        })
        .and_then(Object::as_stream)
        .map_err(|error| unopened(&error))?;
    let bytes = match stream.dict.has(b"Filter") {
        true => stream
            .decompressed_content()
            .map_err(|error| unopened(&error))?,
        false => stream.content.clone(),
    };
    Ok((name, bytes))
}

fn unopened(error: &lopdf::Error) -> ReportError {
    ReportError::Unopened {
        reason: error.to_string(),
    }
}
