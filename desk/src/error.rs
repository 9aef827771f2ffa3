//! Why the desk does not open.

use std::net::SocketAddr;
use std::path::PathBuf;

use job::folder::FolderError;

/// Why the desk does not open.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// The address is not free, or not one of this machine.
    #[error("the desk can't listen on {address}: {problem}; take another port with --port")]
    Address {
        /// The address.
        address: SocketAddr,
        /// What the system says.
        problem: std::io::Error,
    },
    /// The server stopped.
    #[error("the desk stopped: {0}")]
    Stopped(std::io::Error),
    /// The certificate or its key cannot be used.
    #[error("the certificate {} can't be used: {problem}", .path.display())]
    Certificate {
        /// The file.
        path: PathBuf,
        /// What is wrong.
        problem: String,
    },
    /// No certificate could be made.
    #[error("no certificate could be made: {problem}")]
    NoCertificate {
        /// What is wrong.
        problem: String,
    },
    /// Passphrases could not be made or kept.
    #[error("the passphrases can't be used: {problem}")]
    Passphrases {
        /// What is wrong.
        problem: String,
    },
    /// The register could not be opened or written.
    #[error(
        "the register of welds can't be used: {problem}; it can be deleted and is made again from the folders"
    )]
    Register {
        /// What is wrong.
        problem: String,
    },
    /// A folder could not be read or written.
    #[error(transparent)]
    Folder(#[from] FolderError),
}
