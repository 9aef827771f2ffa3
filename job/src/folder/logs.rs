//! Logs of a heat: brought as they came, and set aside where they turn out to be of another.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use readings::Mapping;

use super::{FolderError, JobFolder, Part, checked_name};

/// Where logs lie that are not of this heat.
const ASIDE: &str = "set-aside";

/// A log that was not brought, or not set aside. Nothing was changed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LogError {
    /// Another log of this name.
    #[error(
        "A log {name:?} is here already, and a log is never changed. Give the new one another name."
    )]
    Taken {
        /// The name.
        name: String,
    },
    /// Two files under one name.
    #[error("two of the files are named {name:?}; give one of them another name")]
    Twice {
        /// The name.
        name: String,
    },
    /// Nothing in it.
    #[error("{} is empty; nothing was kept", .path.display())]
    Empty {
        /// The file.
        path: PathBuf,
    },
    /// No file.
    #[error("{} is no file; name the logs one by one, or as FOLDER/*", .path.display())]
    NoFile {
        /// The path.
        path: PathBuf,
    },
    /// No such log in the folder.
    #[error("{asked:?} is no log of this weld; here are: {here}")]
    NoLog {
        /// What was asked for.
        asked: String,
        /// The logs of the weld.
        here: String,
    },
    /// The folder.
    #[error(transparent)]
    Folder(#[from] FolderError),
}

/// What became of a file that was brought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Brought {
    /// Where it lies now.
    pub path: PathBuf,
    /// It lay there before, the same to the byte.
    pub was_here: bool,
}

impl JobFolder {
    /// Copies files among the logs of this heat, each under its own name: all of them or none.
    ///
    /// # Errors
    /// [`LogError`]; then no log was added.
    pub fn bring_logs(&self, files: &[PathBuf]) -> Result<Vec<Brought>, LogError> {
        let logs = self.logs_path();
        let mut brought: Vec<Brought> = Vec::new();
        let mut parts = Vec::new();
        for file in files {
            let name = name_of(file)?;
            let path = logs.join(&name);
            if brought.iter().any(|other| other.path == path) {
                return Err(LogError::Twice { name });
            }
            let was_here = path.exists();
            match was_here {
                true if is_same(file, &path)? => {}
                true => return Err(LogError::Taken { name }),
                false => parts.push(copied(file, &logs, &name)?),
            }
            brought.push(Brought { path, was_here });
        }
        for part in parts {
            part.keep()?;
        }
        Ok(brought)
    }

    /// Moves logs out of the logs of this heat, as they came, each under a name that is free there; tells where they lie
    /// now. A log is named alone or by its path.
    ///
    /// # Errors
    /// [`LogError::NoLog`] before any is moved; [`LogError::Folder`] where one cannot be moved.
    pub fn set_logs_aside(&self, asked: &[PathBuf]) -> Result<Vec<PathBuf>, LogError> {
        let names: Result<Vec<String>, LogError> =
            asked.iter().map(|one| self.log_of(one)).collect();
        names?.iter().map(|name| self.set_log_aside(name)).collect()
    }

    /// Moves one log aside.
    ///
    /// # Errors
    /// [`LogError::NoLog`]; [`LogError::Folder`] where it cannot be moved.
    pub fn set_log_aside(&self, name: &str) -> Result<PathBuf, LogError> {
        let name = self.log_of(Path::new(name))?;
        let log = self.logs_path().join(&name);
        let folder = self.path().join(ASIDE);
        fs::create_dir_all(&folder).map_err(FolderError::system("making", &folder))?;
        let numbered = |number: u32| match number {
            1 => folder.join(&name),
            _ => folder.join(format!("{number} {name}")),
        };
        let free = (1..).map(numbered).find(|path| !path.exists());
        let target = free.unwrap_or_else(|| folder.join(&name));
        fs::rename(&log, &target).map_err(FolderError::system("moving", &log))?;
        self.forget_answers(&name)?;
        Ok(target)
    }

    /// What was said of a file is not said of the next one that comes under its name.
    fn forget_answers(&self, name: &str) -> Result<(), FolderError> {
        let kept = self.mapping().map(|text| Mapping::from_toml(&text));
        let Some(Ok(mut mapping)) = kept else {
            return Ok(());
        };
        match mapping.forget(name) {
            true => self.save_mapping(&mapping.to_toml()),
            false => Ok(()),
        }
    }

    /// The name of a log that is here.
    fn log_of(&self, asked: &Path) -> Result<String, LogError> {
        let here = self.logs();
        let name = asked.file_name().unwrap_or_default().to_string_lossy();
        let logs = self.logs_path();
        let is_alone = asked.parent().is_none_or(|at| at.as_os_str().is_empty());
        let lies_here = || {
            let whole = asked.parent().map(fs::canonicalize);
            whole.is_some_and(|at| at.ok() == fs::canonicalize(&logs).ok())
        };
        if here.iter().any(|known| *known == name) && (is_alone || lies_here()) {
            return Ok(name.into_owned());
        }
        Err(LogError::NoLog {
            asked: asked.display().to_string(),
            here: match here.is_empty() {
                true => "none".to_owned(),
                false => here.join(", "),
            },
        })
    }
}

fn name_of(file: &Path) -> Result<String, LogError> {
    let metadata = fs::metadata(file).map_err(FolderError::system("reading", file))?;
    if !metadata.is_file() {
        return Err(LogError::NoFile {
            path: file.to_owned(),
        });
    }
    if metadata.len() == 0 {
        return Err(LogError::Empty {
            path: file.to_owned(),
        });
    }
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    Ok(checked_name(&name)?.to_owned())
}

fn copied(file: &Path, logs: &Path, name: &str) -> Result<Part, LogError> {
    let mut from = File::open(file).map_err(FolderError::system("reading", file))?;
    let part = Part::begin(logs, name)?;
    let mut to = part.writer()?;
    io::copy(&mut from, &mut to).map_err(FolderError::system("writing", &logs.join(name)))?;
    Ok(part)
}

/// Whether two files are the same to the byte.
fn is_same(one: &Path, other: &Path) -> Result<bool, FolderError> {
    let bytes = |path: &Path| -> Result<Vec<u8>, FolderError> {
        let mut bytes = Vec::new();
        let read = File::open(path).and_then(|mut file| file.read_to_end(&mut bytes));
        read.map_err(FolderError::system("reading", path))?;
        Ok(bytes)
    };
    Ok(bytes(one)? == bytes(other)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn logs_are_brought_all_or_none_and_none_is_changed() {
        let place = tempfile::tempdir().expect("a folder");
        let write = |name: &str, text: &str| {
            let path = place.path().join(name);
            fs::create_dir_all(path.parent().expect("a folder")).expect("made");
            fs::write(&path, text).expect("written");
            path
        };
        let weld = JobFolder::at(place.path().join("W-1"));
        write("W-1/job.toml", "");
        let (a, b) = (write("a.csv", "1\n"), write("b (1).csv", "2\n"));
        let empty = write("c.csv", "");
        let refused = weld.bring_logs(&[a.clone(), b.clone(), empty]);
        assert!(matches!(refused, Err(LogError::Empty { .. })));
        assert!(weld.logs().is_empty(), "none of them came");
        let all = fs::read_dir(weld.logs_path()).map_or(0, Iterator::count);
        assert_eq!(all, 0, "nothing half-written stays");
        let brought = weld.bring_logs(&[a.clone(), b.clone()]).expect("brought");
        assert!(brought.iter().all(|one| !one.was_here));
        assert_eq!(weld.logs(), ["a.csv", "b (1).csv"]);
        let again = weld.bring_logs(std::slice::from_ref(&b)).expect("the same");
        assert!(again[0].was_here);
        let other = write("later/a.csv", "3\n");
        let twice = weld.bring_logs(&[b, other]);
        let says = twice.expect_err("another under its name").to_string();
        assert!(says.contains("another name"), "{says}");
        let here = fs::read_to_string(weld.logs_path().join("a.csv"));
        assert_eq!(here.expect("there"), "1\n");
        assert!(weld.set_logs_aside(&[a, "b (1).csv".into()]).is_err());
        assert_eq!(weld.logs().len(), 2, "a path elsewhere is no log of it");
        let aside = weld.set_logs_aside(&["a.csv".into(), weld.logs_path().join("b (1).csv")]);
        assert_eq!(aside.expect("moved").len(), 2);
        assert!(weld.logs().is_empty());
    }

    #[test]
    fn what_was_said_of_a_log_goes_with_it() {
        let place = tempfile::tempdir().expect("a folder");
        let weld = JobFolder::at(place.path().join("W-1"));
        fs::create_dir_all(weld.logs_path()).expect("made");
        for name in ["a.csv", "b.csv"] {
            fs::write(weld.logs_path().join(name), "1\n").expect("written");
        }
        let mut mapping = Mapping::default();
        for pair in [
            "time_zone=Europe/Lisbon",
            "clock.a.csv=60",
            "file.a.csv.unit=F",
            "file.b.csv.unit=C",
            "file.b.csv.heat=a.csv",
        ] {
            mapping.choose(pair).expect("a pair");
        }
        weld.save_mapping(&mapping.to_toml()).expect("saved");
        weld.set_log_aside("a.csv").expect("moved");
        let left = Mapping::from_toml(&weld.mapping().expect("there")).expect("a mapping");
        assert_eq!(left.of("a.csv").unit, None, "another a.csv is asked again");
        assert!(left.clock.is_empty());
        assert_eq!(left.said_of("b.csv", "heat"), None);
        assert_eq!(left.of("b.csv").unit.as_deref(), Some("C"));
        assert_eq!(left.time_zone.as_deref(), Some("Europe/Lisbon"));
    }
}
