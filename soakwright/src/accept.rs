//! `soakwright accept`: a name under the last revision of a record.

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::SystemTime;

use job::calendar;
use job::folder::{AcceptError, Accepted, RecordFolder, Signatory};

use crate::out;

/// Arguments of `accept`.
///
/// The record is made again first. It is not accepted where it is not what it carries, where a deviation waits for an
/// answer, where the job folder round it was changed since, or where a name stands under it already.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// A job folder, a folder of records, or the PDF of the last revision.
    record: PathBuf,
    /// Who accepts it.
    #[arg(long, value_name = "NAME")]
    by: String,
    /// As what, for example "inspector of the owner".
    #[arg(long, value_name = "WORDS")]
    role: String,
    /// What there is to say besides.
    #[arg(long, value_name = "WORDS", default_value = "")]
    remark: String,
}

/// Accepted, and the record says that every limit was met: 0. Accepted, but some limit was not met or not judged: 1. Not
/// accepted: 2.
pub fn run(arguments: &Arguments) -> ExitCode {
    match accepted(arguments) {
        Ok(accepted) => {
            out::text(told(&accepted));
            ExitCode::from(u8::from(!accepted.all_met))
        }
        Err(refused) => {
            eprintln!("{refused}");
            ExitCode::from(2)
        }
    }
}

fn accepted(arguments: &Arguments) -> Result<Accepted, AcceptError> {
    let signatory = Signatory {
        by: arguments.by.clone(),
        role: arguments.role.clone(),
        remark: arguments.remark.clone(),
    };
    let at = calendar::utc(SystemTime::now());
    RecordFolder::of(&arguments.record)?.accept(&signatory, env!("CARGO_PKG_VERSION"), at)
}

fn told(accepted: &Accepted) -> String {
    let under = &accepted.acceptance;
    let mut lines = vec![
        format!(
            "Revision {} accepted by {}, {}, at {}.",
            under.revision, under.by, under.role, under.at
        ),
        format!("Fingerprint (SHA-256) of its document: {}", under.sha256),
        format!("Kept in {}", accepted.file.display()),
    ];
    if !accepted.all_met {
        lines.push(
            "The record says that some limit was not met or not judged; the name under it does not change that.".to_owned(),
        );
    }
    lines.into_iter().map(|line| line + "\n").collect()
}
