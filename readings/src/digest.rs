//! The fingerprint of a file's bytes.

use sha2::{Digest, Sha256};

/// SHA-256 in hexadecimal digits.
pub fn sha256(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}
