//! Two passphrases, one to look and one to act: made by the desk, shown once, kept as argon2 hashes.

use std::path::Path;

use argon2::Argon2;
use argon2::password_hash::{PasswordHash, PasswordHasher, PasswordVerifier, SaltString};
use job::folder::{NewFile, write_whole};
use serde::{Deserialize, Serialize};

use super::Right;
use crate::error::DeskError;

/// Letters that are not mistaken for others when read aloud or from a note.
const LETTERS: &[u8; 32] = b"abcdefghjkmnpqrstuvwxyz23456789+";

/// Letters of a passphrase, in groups: 5 bits each.
const GROUPS: usize = 4;
const GROUP: usize = 4;

/// Name of the file with the hashes.
const FILE: &str = "passphrases.json";

/// The longest passphrase that is hashed at all.
const LONGEST: usize = 200;

/// The hashes of the two passphrases.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Passphrases {
    view: String,
    act: String,
}

/// The passphrases themselves, to be shown once.
#[derive(Clone, Debug)]
pub struct Shown {
    /// Gives the right to look.
    pub view: String,
    /// Gives the right to act.
    pub act: String,
}

impl Passphrases {
    /// Those kept in a folder, or new ones, which are then also returned to be shown.
    ///
    /// # Errors
    /// [`DeskError::Passphrases`], [`DeskError::Folder`].
    pub fn kept_or_new(
        folder: &Path,
        renew: bool,
    ) -> Result<(Passphrases, Option<Shown>), DeskError> {
        let kept = std::fs::read(folder.join(FILE)).ok();
        if let (Some(bytes), false) = (kept, renew) {
            let read = serde_json::from_slice(&bytes).map_err(|error| problem(&error))?;
            return Ok((read, None));
        }
        let shown = Shown {
            view: new_passphrase()?,
            act: new_passphrase()?,
        };
        let hashed = Passphrases::of(&shown.view, &shown.act)?;
        let bytes = serde_json::to_vec_pretty(&hashed).map_err(|error| problem(&error))?;
        write_whole(
            folder,
            &[NewFile {
                name: FILE.to_owned(),
                bytes,
            }],
        )?;
        Ok((hashed, Some(shown)))
    }

    /// Hashes of given passphrases.
    ///
    /// # Errors
    /// [`DeskError::Passphrases`].
    pub fn of(view: &str, act: &str) -> Result<Passphrases, DeskError> {
        Ok(Passphrases {
            view: hashed(view)?,
            act: hashed(act)?,
        })
    }

    /// The right that a passphrase gives. It takes the same time whichever it is.
    pub(super) fn right_of(&self, passphrase: &str) -> Option<Right> {
        let plain = plain(passphrase);
        if plain.len() > LONGEST {
            return None;
        }
        let [act, view] = [&self.act, &self.view].map(|hash| is_it(hash, &plain));
        match (act, view) {
            (true, _) => Some(Right::Act),
            (false, true) => Some(Right::View),
            (false, false) => None,
        }
    }
}

fn problem(error: &impl ToString) -> DeskError {
    DeskError::Passphrases {
        problem: error.to_string(),
    }
}

/// Blanks, hyphens and capitals are how a person reads it aloud, not part of it.
fn plain(passphrase: &str) -> String {
    passphrase
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '-')
        .flat_map(char::to_lowercase)
        .collect()
}

fn hashed(passphrase: &str) -> Result<String, DeskError> {
    let mut bytes = [0_u8; 16];
    getrandom::fill(&mut bytes).map_err(|error| problem(&error))?;
    let salt = SaltString::encode_b64(&bytes).map_err(|error| problem(&error))?;
    let hash = Argon2::default().hash_password(plain(passphrase).as_bytes(), &salt);
    Ok(hash.map_err(|error| problem(&error))?.to_string())
}

fn is_it(hash: &str, plain: &str) -> bool {
    let parsed = PasswordHash::new(hash);
    parsed.is_ok_and(|hash| {
        Argon2::default()
            .verify_password(plain.as_bytes(), &hash)
            .is_ok()
    })
}

fn new_passphrase() -> Result<String, DeskError> {
    let mut bytes = [0_u8; GROUPS * GROUP];
    getrandom::fill(&mut bytes).map_err(|error| problem(&error))?;
    let letters = bytes.map(|byte| char::from(LETTERS[usize::from(byte) % LETTERS.len()]));
    let groups: Vec<String> = letters
        .chunks(GROUP)
        .map(|group| group.iter().collect())
        .collect();
    Ok(groups.join("-"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_passphrase_gives_its_right_as_it_is_read_aloud() {
        let known = Passphrases::of("look-here", "do it now").expect("hashed");
        assert_eq!(known.right_of("LOOK HERE"), Some(Right::View));
        assert_eq!(known.right_of("doitnow "), Some(Right::Act));
        assert_eq!(known.right_of("do it late"), None);
        assert_eq!(known.right_of(&"x".repeat(LONGEST + 1)), None);
        assert!(!known.act.contains("doitnow"));
    }

    #[test]
    fn kept_ones_stay_until_they_are_renewed() {
        let folder = tempfile::tempdir().expect("a folder");
        let (_, shown) = Passphrases::kept_or_new(folder.path(), false).expect("made");
        let shown = shown.expect("new ones are shown");
        let (kept, again) = Passphrases::kept_or_new(folder.path(), false).expect("read");
        assert!(again.is_none());
        assert_eq!(kept.right_of(&shown.act), Some(Right::Act));
        assert_eq!(kept.right_of(&shown.view), Some(Right::View));
        let (renewed, _) = Passphrases::kept_or_new(folder.path(), true).expect("made");
        assert_eq!(renewed.right_of(&shown.act), None);
    }
}
