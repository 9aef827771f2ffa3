//! What holds for both sides alike is said once.

use crate::requirement::{Limit, Remark};

const FIRST: &str = "side 1";
const SECOND: &str = "side 2";
const BOTH: &str = "both sides";

/// Limits that differ in nothing but the side that brought them become one.
pub(crate) fn limits_once(limits: Vec<Limit>) -> Vec<Limit> {
    let mut kept: Vec<Limit> = Vec::new();
    for limit in limits {
        let same = kept.iter_mut().find(|known| {
            known.kind == limit.kind
                && known.level == limit.level
                && known.clause == limit.clause
                && of_both(&known.reason, &limit.reason).is_some()
        });
        match same {
            Some(known) => known.reason = of_both(&known.reason, &limit.reason).unwrap_or_default(),
            None => kept.push(limit),
        }
    }
    kept
}

/// Remarks that differ in nothing but the side become one.
pub(crate) fn remarks_once(remarks: Vec<Remark>) -> Vec<Remark> {
    let mut kept: Vec<Remark> = Vec::new();
    for remark in remarks {
        let same = kept.iter_mut().find(|known| {
            known.clause == remark.clause && of_both(&known.text, &remark.text).is_some()
        });
        match same {
            Some(known) => known.text = of_both(&known.text, &remark.text).unwrap_or_default(),
            None => kept.push(remark),
        }
    }
    kept
}

/// The words for both sides, where the first speaks of side 1 and the second says the same of side 2.
pub(crate) fn of_both(first: &str, second: &str) -> Option<String> {
    let speaks = first.contains(FIRST) && first.replace(FIRST, SECOND) == second;
    speaks.then(|| first.replace(FIRST, BOTH))
}

#[cfg(test)]
mod tests {
    use super::of_both;

    #[test]
    fn only_the_side_may_differ() {
        let both = of_both("side 1: 100 by X", "side 2: 100 by X");
        assert_eq!(both.as_deref(), Some("both sides: 100 by X"));
        assert_eq!(of_both("side 1: 100 by X", "side 2: 110 by X"), None);
        assert_eq!(of_both("100 by X", "100 by X"), None);
    }
}
