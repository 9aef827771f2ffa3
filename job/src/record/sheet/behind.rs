//! What stands behind a record: definitions, deviations, files, people, equipment, integrity.

use report::{Block, Fact, Note, Row, Table, TableColumn};

use crate::record::Record;
use crate::record::basis::asked_under;
use crate::sheet::words::duration_h;

pub(super) fn blocks(record: &Record) -> Vec<Block> {
    let mut blocks = vec![Block::heading(1, "Definitions used")];
    blocks.push(Block::paragraph(
        "No standard that we know defines how a chart is read. These definitions are the program's own; a procedure may set \
         other numbers, which are then printed here.",
    ));
    let definitions = record.findings.definitions.iter();
    blocks.push(Block::Facts(
        definitions
            .map(|d| Fact::new(d.id, d.text.clone()))
            .collect(),
    ));
    blocks.push(Block::heading(1, "Deviations and what was decided"));
    blocks.push(deviations(record));
    if !record.basis.remarks.is_empty() {
        blocks.push(Block::heading(2, "Remarks of the rules"));
        let remarks = record.basis.remarks.iter();
        blocks.push(Block::Notes(
            remarks.map(|r| Note::plain(without_key(r))).collect(),
        ));
    }
    let confirmed = record.basis.confirmed.iter();
    blocks.extend(confirmed.flat_map(|file| crate::sheet::confirmed(&file.rows)));
    blocks.push(Block::KeepTogether(vec![
        Block::heading(1, "People and equipment"),
        people(record),
        equipment(record),
    ]));
    blocks.push(Block::heading(1, "Integrity"));
    blocks.extend(integrity(record));
    blocks
}

/// A question without the key of the job file that answers it, which is for whoever writes the file.
fn without_key(remark: &str) -> String {
    match asked_under(remark) {
        Some((_, text)) => format!("to be answered: {text}"),
        None => remark.to_owned(),
    }
}

fn deviations(record: &Record) -> Block {
    let mut notes: Vec<Note> = record
        .deviations
        .iter()
        .map(|d| match d.open {
            true => Note::caution(format!("{} (waits for an answer)", d.says)),
            false => Note::plain(d.says.as_str()),
        })
        .collect();
    notes.extend(
        record
            .log
            .complaints
            .iter()
            .map(|c| Note::plain(c.to_string())),
    );
    notes.extend(record.log.events.iter().map(|e| {
        Note::plain(format!(
            "Event at {} (line {}): {}",
            duration_h(e.elapsed.as_secs_f64() / 3600.0),
            e.line,
            e.text
        ))
    }));
    if notes.is_empty() {
        notes.push(Note::plain("none found"));
    }
    Block::Notes(notes)
}

fn given(text: &str) -> String {
    match text {
        "" => "not given".into(),
        text => text.into(),
    }
}

fn people(record: &Record) -> Block {
    let people = record.basis.paper.people.iter();
    let rows: Vec<Row> = people
        .map(|p| Row::cells([p.name.clone(), given(&p.role), given(&p.qualification)]))
        .collect();
    if rows.is_empty() {
        return Block::paragraph("No person is named in the job file.");
    }
    Block::Table(Table {
        caption: "Who took part.".into(),
        columns: ["Name", "Did", "Qualification"]
            .map(TableColumn::words)
            .to_vec(),
        rows,
        first_cell_names_row: true,
    })
}

fn equipment(record: &Record) -> Block {
    let day = record.log.start.local().date();
    let rows: Vec<Row> = record
        .basis
        .paper
        .equipment
        .iter()
        .map(|e| {
            let due = match e.calibration_due {
                None => "not given".to_string(),
                Some(due) if due < day => format!("{due}, run out on the day of the run"),
                Some(due) => format!("{due}, holds on the day of the run"),
            };
            Row::cells([e.what.clone(), given(&e.serial), given(&e.certificate), due])
        })
        .collect();
    if rows.is_empty() {
        return Block::paragraph("No equipment is named in the job file.");
    }
    Block::Table(Table {
        caption: format!("What was used; calibrations against the day of the run, {day}.").into(),
        columns: ["What", "Serial", "Certificate", "Calibration holds until"]
            .map(TableColumn::words)
            .to_vec(),
        rows,
        first_cell_names_row: true,
    })
}

fn integrity(record: &Record) -> Vec<Block> {
    let files = record.log.files.iter().map(|f| {
        Row::cells([
            f.name.clone(),
            f.bytes.to_string(),
            f.lines.to_string(),
            grouped(&f.sha256),
        ])
    });
    let mut blocks = vec![
        Block::paragraph(
            "The files of the logger, the job file with the confirmed rows beside it, the answers given about the files and the record in a form for other programs are attached to this \
             document, byte for byte. Whoever has the program can make the record again from them: the command soakwright verify says \
             whether fingerprints, findings and every byte agree.",
        ),
        Block::Table(Table {
            caption: "The files as they were given.".into(),
            columns: vec![
                TableColumn::words("File"),
                TableColumn::numbers("Bytes"),
                TableColumn::numbers("Lines"),
                TableColumn::words("Fingerprint (SHA-256)"),
            ],
            rows: files.collect(),
            first_cell_names_row: true,
        }),
        Block::Facts(vec![
            Fact::new("Job file", record.basis.file_name.clone()),
            Fact::new(
                "Its fingerprint (SHA-256)",
                grouped(&readings::sha256(record.basis.text.as_bytes())),
            ),
            Fact::new("Revision", record.revision.number.to_string()),
        ]),
    ];
    if let Some(file) = &record.basis.confirmed {
        let hash = grouped(&readings::sha256(file.text.as_bytes()));
        let name = crate::confirmed::FILE_NAME;
        let fact = Fact::new(format!("Fingerprint (SHA-256) of {name}"), hash);
        blocks.push(Block::Facts(vec![fact]));
    }
    let said = crate::record::said(&record.mapping);
    let said: Vec<String> = said
        .iter()
        .map(|one| format!("{}: {}", one.about, one.words))
        .collect();
    blocks.push(match said.is_empty() {
        true => {
            Block::paragraph("No answers were given about the files; they were read as they are.")
        }
        false => Block::paragraph(format!(
            "Answers given about the files: {}.",
            said.join("; ")
        )),
    });
    blocks.push(Block::paragraph(match &record.looked_at {
        Some(looked) => looked.words(),
        None => "Nobody put a name to having looked at how the files were understood.".into(),
    }));
    if let Some(previous) = &record.revision.previous_sha256 {
        blocks.push(Block::paragraph(format!(
            "Fingerprint (SHA-256) of the revision before: {}",
            grouped(previous)
        )));
    }
    blocks
}

/// In groups of eight, so that lines can break and people can compare.
fn grouped(hash: &str) -> String {
    let letters: Vec<char> = hash.chars().collect();
    letters
        .chunks(8)
        .map(|c| c.iter().collect::<String>())
        .collect::<Vec<_>>()
        .join(" ")
}
