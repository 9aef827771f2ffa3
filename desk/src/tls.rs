//! TLS for the site network: a given certificate, or one that the desk makes itself and keeps.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use axum_server::tls_rustls::RustlsConfig;
use job::folder::{NewFile, write_whole};
use rcgen::{CertificateParams, DnType, KeyPair};
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};
use sha2::{Digest, Sha256};

use crate::error::DeskError;

/// Names of the self-made files.
const CERTIFICATE: &str = "certificate.pem";
const KEY: &str = "key.pem";

/// A certificate with its key, both as PEM files.
#[derive(Clone, Debug)]
pub struct Certificate {
    /// The certificate, with those that vouch for it.
    pub certificate: PathBuf,
    /// Its private key.
    pub key: PathBuf,
}

/// The settings, and the fingerprint that a visitor can compare.
pub struct Tls {
    /// For the server.
    pub config: RustlsConfig,
    /// SHA-256 of the certificate.
    pub fingerprint: String,
    /// Whether the desk made it itself, so that browsers will warn.
    pub self_made: bool,
}

/// Reads the given certificate, or the self-made one of the folder, which is made if it is missing.
///
/// # Errors
/// [`DeskError::Certificate`], [`DeskError::NoCertificate`], [`DeskError::Folder`].
pub fn tls(given: Option<&Certificate>, folder: &Path, names: &[String]) -> Result<Tls, DeskError> {
    let files = match given {
        Some(given) => given.clone(),
        None => self_made(folder, names)?,
    };
    let chain = read_chain(&files.certificate)?;
    let bad_key = |error: &dyn ToString| DeskError::Certificate {
        path: files.key.clone(),
        problem: error.to_string(),
    };
    let key = PrivateKeyDer::from_pem_file(&files.key).map_err(|error| bad_key(&error))?;
    let first = chain
        .first()
        .map(|one| one.as_ref().to_vec())
        .unwrap_or_default();
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let mut config = rustls::ServerConfig::builder_with_provider(provider)
        .with_safe_default_protocol_versions()
        .map_err(|error| bad_key(&error))?
        .with_no_client_auth()
        .with_single_cert(chain, key)
        .map_err(|error| bad_key(&error))?;
    config.alpn_protocols = vec![b"http/1.1".to_vec()];
    Ok(Tls {
        config: RustlsConfig::from_config(Arc::new(config)),
        fingerprint: fingerprint(&first),
        self_made: given.is_none(),
    })
}

fn read_chain(path: &Path) -> Result<Vec<CertificateDer<'static>>, DeskError> {
    let bad = |problem: String| DeskError::Certificate {
        path: path.to_owned(),
        problem,
    };
    let all = CertificateDer::pem_file_iter(path).map_err(|error| bad(error.to_string()))?;
    let chain: Result<Vec<_>, _> = all.collect();
    let chain = chain.map_err(|error| bad(error.to_string()))?;
    match chain.is_empty() {
        true => Err(bad(
            "there is no certificate in it; a PEM file is expected".to_owned()
        )),
        false => Ok(chain),
    }
}

fn self_made(folder: &Path, names: &[String]) -> Result<Certificate, DeskError> {
    let files = Certificate {
        certificate: folder.join(CERTIFICATE),
        key: folder.join(KEY),
    };
    if !(files.certificate.is_file() && files.key.is_file()) {
        let failed = |error: rcgen::Error| DeskError::NoCertificate {
            problem: error.to_string(),
        };
        let mut params = CertificateParams::new(names.to_vec()).map_err(failed)?;
        params
            .distinguished_name
            .push(DnType::CommonName, "Soakwright desk");
        let key = KeyPair::generate().map_err(failed)?;
        let certificate = params.self_signed(&key).map_err(failed)?;
        let file = |name: &str, text: String| NewFile {
            name: name.to_owned(),
            bytes: text.into_bytes(),
        };
        write_whole(
            folder,
            &[
                file(KEY, key.serialize_pem()),
                file(CERTIFICATE, certificate.pem()),
            ],
        )?;
        only_for_the_owner(&files.key);
    }
    Ok(files)
}

/// Where the system knows owners.
fn only_for_the_owner(path: &Path) {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // A key that others on this machine can read is still better than no TLS.
        let _ = fs::set_permissions(path, fs::Permissions::from_mode(0o600));
    }
    #[cfg(not(unix))]
    let _ = path;
}

/// Pairs of digits with colons, as browsers show it.
fn fingerprint(der: &[u8]) -> String {
    let pairs: Vec<String> = Sha256::digest(der)
        .iter()
        .map(|byte| format!("{byte:02X}"))
        .collect();
    pairs.join(":")
}
