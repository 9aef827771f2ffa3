//! The local web application: the flows of `job` on pages, from one binary, without the internet.
//!
//! On loopback whoever sits at the machine may do everything. On the site network, which must be asked for, a passphrase
//! and TLS stand before every page, and looking and acting are two rights.

mod assets;
mod board;
mod desk;
mod entry;
mod error;
mod frame;
mod record;
mod refusal;
mod routes;
mod serve;
mod tls;
mod verify;
mod weld;

pub use desk::Desk;
pub use entry::{Entry, Passphrases};
pub use error::DeskError;
pub use routes::routes;
pub use serve::{Door, Options, serve};
pub use tls::Certificate;
