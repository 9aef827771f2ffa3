//! The requirement of a weld: every side read alone, then what governs, then what owner and procedure set on top.

use crate::book::Book;
use crate::both_sides::{limits_once, remarks_once};
use crate::fault::RuleError;
use crate::reader::Reader;
use crate::requirement::{GoverningThickness, Remark, Requirement};
use crate::shelf::Shelf;
use crate::standing::Standing;
use crate::weld::{Purpose, Weld};
use crate::when::is_over;
use crate::wording::length;
use crate::{
    ceiling, composition, guidance, lower_hold, missing, own, range, standing, thickness, weaker,
};

/// What the weld needs, by code, owner and procedure.
///
/// # Errors
/// [`RuleError`] with every fault at once: a code, edition or P-number that is not kept, a wall that cannot be,
/// a procedure or owner that asks less than what stands above it, or limits that leave no range.
pub fn requirement(weld: &Weld) -> Result<Requirement, RuleError> {
    let mut faults = thickness::bad_measures(weld);
    faults.extend(own::bad_limits(weld));
    if !faults.is_empty() {
        return Err(RuleError { faults });
    }
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let book = Book::open(weld, &shelf)?;
    let bare_mm = thickness::governing(weld, &book).thickness.mm();
    let counted = thickness::with_open_cladding(weld);
    let governing = thickness::governing(&counted, &book);
    let for_rates = thickness::for_rates(&counted, &book);
    let thickness_mm = governing.thickness.mm();
    let mut remarks = Vec::new();
    if is_over(thickness_mm, bare_mm) {
        remarks.push(with_cladding(weld, thickness_mm, bare_mm));
    }
    let reader = Reader {
        weld,
        book: &book,
        thickness_mm,
        rate_thickness_mm: for_rates.thickness.mm(),
    };
    let mut limits = reader.limits(&mut remarks)?;
    let standing = (weld.purpose == Purpose::StressRelief)
        .then(|| standing::of_weld(weld, (&shelf, &book), bare_mm));
    remarks.extend(standing.iter().flat_map(Standing::remarks));
    remarks.extend(composition::warnings(weld, &shelf));
    remarks.extend(rate_thickness_differs(weld, &governing, for_rates));
    lower_hold::apply(weld, &book, thickness_mm, &mut limits, &mut remarks);
    let mut faults = weaker::faults(weld, &limits);
    limits.extend(own::limits(weld, &limits));
    let mut firm = Vec::new();
    if weld.purpose == Purpose::StressRelief {
        let caps = ceiling::limits(weld, &shelf, &limits, &mut remarks);
        limits.extend(caps.yielding);
        firm = caps.firm;
    }
    let mut limits = guidance::give_way(weld, limits, &mut remarks);
    limits.append(&mut firm);
    remarks.extend(range::narrow(&limits, &shelf, weld.units));
    faults.extend(range::empty(&limits, weld.units));
    if !faults.is_empty() {
        return Err(RuleError { faults });
    }
    missing::name_what_nobody_sets(weld.purpose, &limits, &mut remarks);
    Ok(Requirement {
        purpose: weld.purpose,
        code: weld.code.clone(),
        governing_thickness: governing,
        standing,
        limits: limits_once(limits),
        remarks: remarks_once(remarks),
    })
}

fn with_cladding(weld: &Weld, counted_mm: f64, bare_mm: f64) -> Remark {
    Remark {
        text: format!(
            "nobody said whether the cladding counts: hold and rates are read with it, at {} in place of {}, which never asks too little",
            length(counted_mm, weld.units),
            length(bare_mm, weld.units)
        ),
        clause: None,
    }
}

fn rate_thickness_differs(
    weld: &Weld,
    governing: &GoverningThickness,
    for_rates: GoverningThickness,
) -> Option<Remark> {
    (for_rates.thickness != governing.thickness).then(|| Remark {
        text: format!(
            "rates are read at {}: {}",
            length(for_rates.thickness.mm(), weld.units),
            for_rates.reason
        ),
        clause: Some(for_rates.clause),
    })
}
