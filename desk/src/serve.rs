//! Opening the desk: on loopback, or on the site network when asked.

use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpListener};
use std::path::PathBuf;

use job::folder::Project;

use crate::desk::{Desk, own_folder};
use crate::entry::{Entry, Passphrases};
use crate::error::DeskError;
use crate::routes::routes;
use crate::tls::{Certificate, tls};

/// Where the desk can be reached.
#[derive(Clone, Debug)]
pub enum Door {
    /// From this machine only.
    Loopback,
    /// From the network of this address; a passphrase is asked for and everything is encrypted.
    Site {
        /// An address of this machine, or 0.0.0.0 for all of them.
        address: IpAddr,
        /// A certificate; without one, the desk makes its own.
        certificate: Option<Certificate>,
        /// Makes new passphrases, so that the old ones no longer open.
        new_passphrases: bool,
    },
}

/// How the desk is opened.
#[derive(Clone, Debug)]
pub struct Options {
    /// The folder of job folders.
    pub project: PathBuf,
    /// The port; 0 takes a free one.
    pub port: u16,
    /// Where it can be reached.
    pub door: Door,
}

/// Serves until it is stopped; `tell` is given what the person who started it must know, line by line.
///
/// # Errors
/// [`DeskError`]: an address that is taken, a certificate that can't be read, a folder that can't be written.
pub fn serve(options: &Options, tell: &mut dyn FnMut(&str)) -> Result<(), DeskError> {
    let project = Project::at(&options.project);
    let own = own_folder(&project);
    let runtime = tokio::runtime::Runtime::new().map_err(DeskError::Stopped)?;
    match &options.door {
        Door::Loopback => {
            let listener = listen(IpAddr::from(Ipv4Addr::LOCALHOST), options.port)?;
            let desk = Desk::new(project, Entry::at_the_machine())?;
            tell(&format!("The desk is open at http://{}", shown(&listener)));
            tell("From this machine only. Stop it with Ctrl-C.");
            let service = routes(desk).into_make_service_with_connect_info::<SocketAddr>();
            runtime.block_on(async {
                let server = axum_server::from_tcp(listener).map_err(DeskError::Stopped)?;
                server.serve(service).await.map_err(DeskError::Stopped)
            })
        }
        Door::Site {
            address,
            certificate,
            new_passphrases,
        } => {
            let (passphrases, new) = Passphrases::kept_or_new(&own, *new_passphrases)?;
            let listener = listen(*address, options.port)?;
            let names = [address.to_string(), "localhost".to_owned()];
            let tls = tls(certificate.as_ref(), &own, &names)?;
            let desk = Desk::new(project, Entry::on_site(passphrases, true))?;
            tell(&format!(
                "The desk is open on the site network at https://{}",
                shown(&listener)
            ));
            tell(&format!(
                "Fingerprint (SHA-256) of its certificate: {}",
                tls.fingerprint
            ));
            if tls.self_made {
                tell(
                    "The certificate is self-made: browsers warn once. Compare the fingerprint before you go on.",
                );
            }
            match new {
                Some(new) => {
                    tell(&format!("Passphrase to look: {}", new.view));
                    tell(&format!("Passphrase to act:  {}", new.act));
                    tell("They are shown this once. --new-passphrases makes others.");
                }
                None => tell(
                    "The passphrases are the ones from before; --new-passphrases makes others.",
                ),
            }
            let service = routes(desk).into_make_service_with_connect_info::<SocketAddr>();
            runtime.block_on(async {
                let server = axum_server::from_tcp_rustls(listener, tls.config)
                    .map_err(DeskError::Stopped)?;
                server.serve(service).await.map_err(DeskError::Stopped)
            })
        }
    }
}

fn listen(ip: IpAddr, port: u16) -> Result<TcpListener, DeskError> {
    let address = SocketAddr::new(ip, port);
    TcpListener::bind(address).map_err(|problem| DeskError::Address { address, problem })
}

fn shown(listener: &TcpListener) -> String {
    listener
        .local_addr()
        .map(|address| address.to_string())
        .unwrap_or_default()
}
