//! Wrong passphrases make the next attempt wait, longer each time.

use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// Wrong passphrases without a wait: fingers slip.
const FREE: u32 = 4;

/// The longest wait, in s.
const LONGEST_S: u64 = 900;

/// Places that are remembered; a flood of made-up ones must not eat the memory.
const MOST_PLACES: usize = 10_000;

#[derive(Clone, Copy)]
struct Wrong {
    count: u32,
    until: Instant,
}

/// How often each place was wrong, and until when it has to wait.
#[derive(Default)]
pub struct Throttle {
    wrong: Mutex<BTreeMap<IpAddr, Wrong>>,
}

impl Throttle {
    /// Seconds that a place still has to wait.
    pub fn wait_s(&self, from: IpAddr, now: Instant) -> Option<u64> {
        let wrong = self.wrong.lock().expect("no holder panics");
        let until = wrong.get(&place(from))?.until;
        let left = until.saturating_duration_since(now);
        (!left.is_zero()).then(|| left.as_secs() + 1)
    }

    /// Notes a wrong passphrase.
    pub fn wrong(&self, from: IpAddr, now: Instant) {
        let mut wrong = self.wrong.lock().expect("no holder panics");
        if wrong.len() >= MOST_PLACES {
            wrong.retain(|_, one| one.until > now);
        }
        let one = wrong.entry(place(from)).or_insert(Wrong {
            count: 0,
            until: now,
        });
        one.count += 1;
        let doublings = one.count.saturating_sub(FREE).min(20);
        let wait_s = if one.count < FREE {
            0
        } else {
            (1_u64 << doublings).min(LONGEST_S)
        };
        one.until = now + Duration::from_secs(wait_s);
    }

    /// Forgets a place that came in.
    pub fn forget(&self, from: IpAddr) {
        self.wrong
            .lock()
            .expect("no holder panics")
            .remove(&place(from));
    }
}

/// One machine has a whole network of IPv6 addresses to itself: they count as one place.
fn place(from: IpAddr) -> IpAddr {
    match from {
        IpAddr::V6(six) => {
            let mut parts = six.segments();
            parts[4..].fill(0);
            IpAddr::from(parts)
        }
        four => four,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waits_double_and_end() {
        let (throttle, now) = (Throttle::default(), Instant::now());
        let (from, other) = (IpAddr::from([10, 0, 0, 7]), IpAddr::from([10, 0, 0, 8]));
        for _ in 0..3 {
            throttle.wrong(from, now);
        }
        assert_eq!(throttle.wait_s(from, now), None);
        let mut waits = Vec::new();
        for _ in 0..14 {
            throttle.wrong(from, now);
            waits.extend(throttle.wait_s(from, now));
        }
        assert!(waits.windows(2).all(|pair| pair[1] >= pair[0]), "{waits:?}");
        assert_eq!(waits.last(), Some(&(LONGEST_S + 1)));
        assert_eq!(throttle.wait_s(other, now), None);
        assert_eq!(
            throttle.wait_s(from, now + Duration::from_secs(LONGEST_S + 1)),
            None
        );
        throttle.forget(from);
        assert_eq!(throttle.wait_s(from, now), None);
    }

    #[test]
    fn addresses_of_one_network_of_ipv6_are_one_place() {
        let (throttle, now) = (Throttle::default(), Instant::now());
        for last in 1..=4_u16 {
            throttle.wrong(IpAddr::from([0x2001, 0xdb8, 0, 1, 0, 0, 0, last]), now);
        }
        assert!(
            throttle
                .wait_s(IpAddr::from([0x2001, 0xdb8, 0, 1, 0, 0, 0, 99]), now)
                .is_some()
        );
    }
}
