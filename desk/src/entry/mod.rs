//! Who may enter, and what they may do: passphrases, sessions, and the throttle that makes guessing hopeless.

mod gate;
mod page;
mod passphrases;
mod sessions;
mod throttle;

use std::net::IpAddr;
use std::time::Instant;

use tokio::sync::Semaphore;

pub use gate::{Visitor, gate, guarded};
pub use page::{enter, leave, show};
pub use passphrases::Passphrases;
pub use sessions::{Key, Right, Session, Sessions};
pub use throttle::Throttle;

/// Hashing a passphrase takes memory on purpose; so many at once are enough.
const CHECKS_AT_ONCE: usize = 2;

/// The way in.
pub struct Entry {
    /// Whether the desk stands on the site network; on loopback everybody at the machine may act.
    passphrases: Option<Passphrases>,
    /// Whether pages come through TLS, so that cookies may be marked for it.
    pub encrypted: bool,
    /// Who is in.
    pub sessions: Sessions,
    throttle: Throttle,
    checks: Semaphore,
}

/// What came of an attempt to enter.
#[derive(Debug, PartialEq, Eq)]
pub enum Attempt {
    /// The right that the passphrase gives.
    Right(Right),
    /// No such passphrase.
    Wrong,
    /// Too many wrong ones; seconds to wait.
    Wait(u64),
}

impl Entry {
    /// For loopback: no passphrase.
    pub fn at_the_machine() -> Entry {
        Entry::new(None, false)
    }

    /// For the site network.
    pub fn on_site(passphrases: Passphrases, encrypted: bool) -> Entry {
        Entry::new(Some(passphrases), encrypted)
    }

    fn new(passphrases: Option<Passphrases>, encrypted: bool) -> Entry {
        Entry {
            passphrases,
            encrypted,
            sessions: Sessions::default(),
            throttle: Throttle::default(),
            checks: Semaphore::new(CHECKS_AT_ONCE),
        }
    }

    /// Whether a passphrase is asked for.
    pub fn is_guarded(&self) -> bool {
        self.passphrases.is_some()
    }

    /// Tries a passphrase.
    pub async fn attempt(&self, from: IpAddr, passphrase: String) -> Attempt {
        if let Some(seconds) = self.throttle.wait_s(from, Instant::now()) {
            return Attempt::Wait(seconds);
        }
        let Some(known) = self.passphrases.clone() else {
            return Attempt::Right(Right::Act);
        };
        let _turn = self.checks.acquire().await;
        // While this attempt stood in line, others from the same place may have failed.
        if let Some(seconds) = self.throttle.wait_s(from, Instant::now()) {
            return Attempt::Wait(seconds);
        }
        let checked = tokio::task::spawn_blocking(move || known.right_of(&passphrase)).await;
        match checked.ok().flatten() {
            Some(right) => {
                self.throttle.forget(from);
                Attempt::Right(right)
            }
            None => {
                self.throttle.wrong(from, Instant::now());
                Attempt::Wrong
            }
        }
    }
}
