//! `soakwright desk`: the pages of the desk in a browser.

use std::io::Write;
use std::net::IpAddr;
use std::path::PathBuf;
use std::process::ExitCode;

use desk::{Certificate, Door, Options, serve};

/// Arguments of `desk`.
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The project: a folder with one folder for each weld. It is made if it is missing.
    #[arg(default_value = ".")]
    project: PathBuf,
    /// The port; 0 takes a free one.
    #[arg(long, default_value_t = 7010)]
    port: u16,
    /// Opens the desk to the site network of this address of the machine (0.0.0.0: all of them), behind a passphrase and
    /// encrypted. Without it, only this machine reaches the desk.
    #[arg(long, value_name = "ADDRESS")]
    open_on_site: Option<IpAddr>,
    /// A certificate (PEM) for the site network; without one, the desk makes its own.
    #[arg(long, value_name = "FILE", requires = "key", requires = "open_on_site")]
    certificate: Option<PathBuf>,
    /// The private key (PEM) of the certificate.
    #[arg(long, value_name = "FILE", requires = "certificate")]
    key: Option<PathBuf>,
    /// Makes new passphrases; the old ones no longer open.
    #[arg(long, requires = "open_on_site")]
    new_passphrases: bool,
}

/// Serves until it is stopped. 2 where the desk does not open.
pub fn run(arguments: &Arguments) -> ExitCode {
    let options = Options {
        project: arguments.project.clone(),
        port: arguments.port,
        door: door(arguments),
    };
    // The desk goes on where nobody reads its words any more.
    let mut say = |line: &str| drop(writeln!(std::io::stdout(), "{line}"));
    match serve(&options, &mut say) {
        Ok(()) => ExitCode::from(0),
        Err(error) => {
            eprintln!("{error}");
            ExitCode::from(2)
        }
    }
}

fn door(arguments: &Arguments) -> Door {
    let Some(address) = arguments.open_on_site else {
        return Door::Loopback;
    };
    let given = arguments.certificate.clone().zip(arguments.key.clone());
    Door::Site {
        address,
        certificate: given.map(|(certificate, key)| Certificate { certificate, key }),
        new_passphrases: arguments.new_passphrases,
    }
}
