//! Who is in: a random key in a cookie, of which the desk keeps only the hash.

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::time::{Duration, Instant};

use sha2::{Digest, Sha256};

/// What a visitor may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Right {
    /// Look.
    View,
    /// Look, change and start.
    Act,
}

/// A session ends when it was not used for this long.
const IDLE: Duration = Duration::from_secs(12 * 3600);

/// Sessions that are kept; beyond, the one that was idle longest goes.
const MOST: usize = 500;

/// Bytes of a key.
const KEY_BYTES: usize = 32;

/// A random key as letters.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Key(pub String);

/// A visitor who is in.
#[derive(Clone, Debug)]
pub struct Session {
    /// What they may do.
    pub right: Right,
    /// What their pages must send along with every act.
    pub token: String,
    used: Instant,
}

/// Everybody who is in.
#[derive(Default)]
pub struct Sessions {
    by_hash: Mutex<BTreeMap<[u8; 32], Session>>,
}

impl Sessions {
    /// Lets somebody in; the key goes into their cookie. `None` where the system has no random numbers.
    pub fn begin(&self, right: Right, now: Instant) -> Option<(Key, Session)> {
        let (key, token) = (random_letters()?, random_letters()?);
        let session = Session {
            right,
            token,
            used: now,
        };
        let mut sessions = self.by_hash.lock().expect("no holder panics");
        sessions.retain(|_, session| now.duration_since(session.used) < IDLE);
        if sessions.len() >= MOST {
            let oldest = sessions
                .iter()
                .min_by_key(|(_, s)| s.used)
                .map(|(hash, _)| *hash);
            oldest.map(|hash| sessions.remove(&hash));
        }
        sessions.insert(hash(&key), session.clone());
        Some((Key(key), session))
    }

    /// The session of a key, which counts as used now.
    pub fn of(&self, key: &str, now: Instant) -> Option<Session> {
        let mut sessions = self.by_hash.lock().expect("no holder panics");
        let session = sessions.get_mut(&hash(key))?;
        if now.duration_since(session.used) >= IDLE {
            sessions.remove(&hash(key));
            return None;
        }
        session.used = now;
        Some(session.clone())
    }

    /// Ends a session.
    pub fn end(&self, key: &str) {
        self.by_hash
            .lock()
            .expect("no holder panics")
            .remove(&hash(key));
    }
}

fn hash(key: &str) -> [u8; 32] {
    Sha256::digest(key.as_bytes()).into()
}

fn random_letters() -> Option<String> {
    let mut bytes = [0_u8; KEY_BYTES];
    getrandom::fill(&mut bytes).ok()?;
    Some(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_session_ends_when_it_is_not_used_and_when_it_is_left() {
        let (sessions, now) = (Sessions::default(), Instant::now());
        let (key, begun) = sessions.begin(Right::View, now).expect("random numbers");
        let used = sessions.of(&key.0, now + IDLE / 2).expect("there");
        assert_eq!((used.right, &used.token), (Right::View, &begun.token));
        assert!(sessions.of(&key.0, now + IDLE).is_some(), "use prolongs it");
        assert!(sessions.of(&key.0, now + 3 * IDLE).is_none());
        let (key, _) = sessions.begin(Right::Act, now).expect("random numbers");
        sessions.end(&key.0);
        assert!(sessions.of(&key.0, now).is_none());
        assert!(sessions.of("", now).is_none());
    }

    #[test]
    fn a_flood_of_sessions_does_not_grow_without_end() {
        let (sessions, now) = (Sessions::default(), Instant::now());
        for _ in 0..MOST + 20 {
            sessions.begin(Right::View, now);
        }
        assert_eq!(sessions.by_hash.lock().expect("free").len(), MOST);
    }
}
