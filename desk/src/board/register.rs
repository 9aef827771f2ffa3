//! The register: an SQLite index over the job folders, so that a board of hundreds of welds opens at once. The folders
//! are the truth; the register can be deleted at any time and is made again from them.

use std::fs;
use std::path::Path;
use std::sync::{Mutex, MutexGuard};
use std::time::UNIX_EPOCH;

use job::confirmed::FILE_NAME;
use job::folder::{JOB_FILE, JobFolder, MAPPING_FILE, Project, Row, State};
use rusqlite::{Connection, params};

use crate::error::DeskError;

/// Name of the file.
const FILE: &str = "register.sqlite";

/// Changes with the table, so that a register of another version is made again.
const VERSION: i64 = 6;

const TABLE: &str = "CREATE TABLE IF NOT EXISTS weld (
    name TEXT PRIMARY KEY,
    stamp TEXT NOT NULL,
    weld TEXT NOT NULL,
    line TEXT NOT NULL,
    purpose TEXT NOT NULL,
    code TEXT NOT NULL,
    demo INTEGER NOT NULL,
    state INTEGER NOT NULL,
    note TEXT NOT NULL,
    changed TEXT NOT NULL,
    missing TEXT NOT NULL,
    ended_s INTEGER,
    calibrations TEXT NOT NULL
) STRICT";

/// The register.
pub struct Register {
    connection: Mutex<Connection>,
}

impl Register {
    /// Opens the register of a folder, or makes one.
    ///
    /// # Errors
    /// [`DeskError::Register`].
    pub fn open(folder: &Path) -> Result<Register, DeskError> {
        fs::create_dir_all(folder).map_err(problem)?;
        let path = folder.join(FILE);
        let connection = prepared(&path).or_else(|_| {
            // It is only an index: what cannot be read is thrown away.
            for end in ["", "-wal", "-shm"] {
                let _ = fs::remove_file(folder.join(format!("{FILE}{end}")));
            }
            prepared(&path)
        });
        Ok(Register {
            connection: Mutex::new(connection.map_err(problem)?),
        })
    }

    /// Throws everything away and reads every folder.
    ///
    /// # Errors
    /// [`DeskError::Register`].
    pub fn rebuild(&self, project: &Project) -> Result<(), DeskError> {
        self.connection()
            .execute("DELETE FROM weld", [])
            .map_err(problem)?;
        self.refresh(project)
    }

    /// Reads the folders that changed since they were last read.
    ///
    /// # Errors
    /// [`DeskError::Register`].
    pub fn refresh(&self, project: &Project) -> Result<(), DeskError> {
        let folders = project.folders();
        let mut connection = self.connection();
        let transaction = connection.transaction().map_err(problem)?;
        let known = {
            let mut select = transaction
                .prepare("SELECT name, stamp FROM weld")
                .map_err(problem)?;
            let rows = select.query_map([], |row| {
                Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?))
            });
            rows.map_err(problem)?
                .collect::<Result<Vec<_>, _>>()
                .map_err(problem)?
        };
        for (name, _) in &known {
            if !folders.iter().any(|folder| folder.name() == *name) {
                transaction
                    .execute("DELETE FROM weld WHERE name = ?1", [name])
                    .map_err(problem)?;
            }
        }
        for folder in &folders {
            let (name, stamp) = (folder.name(), stamp(folder));
            if !known
                .iter()
                .any(|(known, at)| *known == name && *at == stamp)
            {
                insert(&transaction, &Row::of(folder), &stamp).map_err(problem)?;
            }
        }
        transaction.commit().map_err(problem)
    }

    /// Welds in which every word of the search stands, in one state or in any.
    ///
    /// # Errors
    /// [`DeskError::Register`].
    pub fn found(&self, search: &str, state: Option<State>) -> Result<Vec<Row>, DeskError> {
        let connection = self.connection();
        let mut select = connection
            .prepare("SELECT name, weld, line, purpose, code, demo, state, missing, ended_s, calibrations, note, changed FROM weld ORDER BY name")
            .map_err(problem)?;
        let rows = select
            .query_map([], read_row)
            .map_err(problem)?
            .collect::<Result<Vec<_>, _>>()
            .map_err(problem)?;
        Ok(rows
            .into_iter()
            .filter(|row| row.fits(search, state))
            .collect())
    }

    fn connection(&self) -> MutexGuard<'_, Connection> {
        // Whoever panicked left a transaction that SQLite rolls back.
        self.connection
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner())
    }
}

#[expect(
    clippy::needless_pass_by_value,
    reason = "`map_err` hands the error over"
)]
fn problem(error: impl ToString) -> DeskError {
    DeskError::Register {
        problem: error.to_string(),
    }
}

fn prepared(path: &Path) -> Result<Connection, rusqlite::Error> {
    let connection = Connection::open(path)?;
    connection.pragma_update(None, "journal_mode", "WAL")?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    let version: i64 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if version != VERSION {
        connection.execute("DROP TABLE IF EXISTS weld", [])?;
        connection.pragma_update(None, "user_version", VERSION)?;
    }
    connection.execute(TABLE, [])?;
    Ok(connection)
}

/// Changes when anything in the folder was written.
fn stamp(folder: &JobFolder) -> String {
    let inside = [
        "",
        JOB_FILE,
        MAPPING_FILE,
        FILE_NAME,
        "plan",
        "logs",
        "record",
    ];
    let times = inside.map(|name| {
        let changed = fs::metadata(folder.path().join(name)).and_then(|meta| meta.modified());
        let since = changed
            .ok()
            .and_then(|at| at.duration_since(UNIX_EPOCH).ok());
        since.map_or(0, |since| since.as_nanos()).to_string()
    });
    times.join(" ")
}

fn insert(connection: &Connection, row: &Row, stamp: &str) -> Result<(), rusqlite::Error> {
    connection.execute(
        "INSERT OR REPLACE INTO weld (name, stamp, weld, line, purpose, code, demo, state, missing, ended_s, calibrations, note, changed)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13)",
        params![
            row.name, stamp, row.weld, row.line, row.purpose, row.code, row.demo, row.state as i64, row.missing,
            row.ended_s, serde_json::to_string(&row.calibrations).unwrap_or_default(), row.note, row.changed
        ],
    )?;
    Ok(())
}

fn read_row(row: &rusqlite::Row<'_>) -> Result<Row, rusqlite::Error> {
    let state: i64 = row.get(6)?;
    Ok(Row {
        name: row.get(0)?,
        weld: row.get(1)?,
        line: row.get(2)?,
        purpose: row.get(3)?,
        code: row.get(4)?,
        demo: row.get(5)?,
        state: usize::try_from(state)
            .ok()
            .and_then(|state| State::ALL.get(state))
            .copied()
            .unwrap_or(State::Drafted),
        missing: row.get(7)?,
        ended_s: row.get(8)?,
        calibrations: serde_json::from_str(&row.get::<_, String>(9)?).unwrap_or_default(),
        note: row.get(10)?,
        changed: row.get(11)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const DEMO: &str = include_str!("../../../jobs/carbon-steel-line.toml");

    fn project() -> (tempfile::TempDir, Project) {
        let folder = tempfile::tempdir().expect("a folder");
        let project = Project::at(folder.path());
        for (name, weld) in [("a", "W-1"), ("b", "W-2"), ("c", "W-3")] {
            let text = DEMO.replacen("weld ", &format!("# {weld}\nweld "), 1);
            project.create(name, &text).expect("made");
        }
        (folder, project)
    }

    #[test]
    fn a_lost_register_is_made_again_from_the_folders() {
        let (folder, project) = project();
        let own = folder.path().join(".desk");
        let register = Register::open(&own).expect("opened");
        register.refresh(&project).expect("read");
        let before = register.found("", None).expect("rows");
        assert_eq!(before.len(), 3);
        drop(register);
        fs::remove_dir_all(&own).expect("lost");
        let register = Register::open(&own).expect("opened");
        register.rebuild(&project).expect("read");
        assert_eq!(register.found("", None).expect("rows"), before);
    }

    #[test]
    fn a_register_that_is_none_is_thrown_away_and_made_again() {
        let (folder, project) = project();
        fs::write(
            folder.path().join(FILE),
            b"this is no database, and long enough to look like one".repeat(99),
        )
        .expect("written");
        let register = Register::open(folder.path()).expect("opened");
        register.refresh(&project).expect("read");
        assert_eq!(register.found("", None).expect("rows").len(), 3);
    }

    #[test]
    fn changes_in_the_folders_are_seen() {
        let (folder, project) = project();
        let register = Register::open(folder.path()).expect("opened");
        register.refresh(&project).expect("read");
        fs::remove_dir_all(folder.path().join("a")).expect("gone");
        fs::create_dir(folder.path().join("b/logs")).expect("made");
        fs::write(folder.path().join("b/logs/log.csv"), "t,1\n").expect("written");
        fs::write(folder.path().join("c/job.toml"), "purpose = \"nonsense\"\n").expect("written");
        register.refresh(&project).expect("read");
        let rows = register.found("", None).expect("rows");
        assert_eq!(
            rows.iter().map(|row| row.name.as_str()).collect::<Vec<_>>(),
            ["b", "c"]
        );
        assert_eq!(rows[0].state, State::Run);
        assert!(
            rows[1].missing.contains("to put right"),
            "{}",
            rows[1].missing
        );
        assert_eq!(register.found("", Some(State::Run)).expect("rows").len(), 1);
        assert_eq!(register.found("put RIGHT c", None).expect("rows").len(), 1);
        assert!(register.found("nowhere%", None).expect("rows").is_empty());
    }
}
