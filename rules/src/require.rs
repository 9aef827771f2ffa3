//! The requirement of a weld: every side read alone, then what governs, then what owner and procedure set on top.

use quantity::{Celsius, Hours, Kelvins, KelvinsPerHour, Millimeters};

use crate::fault::{RuleError, RuleFault};
use crate::pick::{Case, Picked, Sought, strictest};
use crate::requirement::{Level, Limit, LimitKind, Remark, Requirement};
use crate::row::{Row, Table, TableKind, Value};
use crate::sought::{
    COOLING_RATE, HEATING_RATE, HEATING_SPREAD, HOLD_MAX, HOLD_MIN, HOLD_SPREAD, HOLD_TIME,
};
use crate::thickness;
use crate::weld::{Purpose, Weld};
use crate::wording::{p_number_words, purpose_words, short};
use crate::{ceiling, exemption, missing, own, range, shelf, weaker};

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
    let book = Book::open(weld)?;
    let thickness = thickness::governing(weld, book.table, book.edition(weld), book.practice);
    let rate_thickness = thickness::for_rates(weld, book.table, book.edition(weld), book.practice);
    let mut remarks = Vec::new();
    let reader = Reader {
        weld,
        book: &book,
        thickness_mm: thickness.thickness.mm(),
        rate_thickness_mm: rate_thickness.thickness.mm(),
    };
    let mut limits = reader.limits(&mut remarks)?;
    remarks.extend(exemption::remarks(
        weld,
        book.table,
        book.edition(weld),
        reader.thickness_mm,
    ));
    if rate_thickness.thickness != thickness.thickness {
        remarks.push(Remark {
            text: format!(
                "rates are read at {} mm: {}",
                short(reader.rate_thickness_mm),
                rate_thickness.reason
            ),
            clause: Some(rate_thickness.clause),
        });
    }
    weaker::lower_hold(
        weld,
        book.table,
        book.edition(weld),
        reader.thickness_mm,
        &mut limits,
        &mut remarks,
    );
    let mut faults = weaker::faults(weld, &limits);
    limits.extend(own::limits(weld, &limits));
    if weld.purpose == Purpose::StressRelief {
        limits.extend(ceiling::limits(weld, &limits, &mut remarks)?);
    }
    faults.extend(range::empty(&limits));
    if !faults.is_empty() {
        return Err(RuleError { faults });
    }
    missing::name_what_nobody_sets(weld.purpose, &limits, &mut remarks);
    Ok(Requirement {
        purpose: weld.purpose,
        code: weld.code.clone(),
        governing_thickness: thickness,
        limits,
        remarks,
    })
}

/// The table that is read for a purpose, and the one of practices that fills its gaps.
struct Book {
    table: &'static Table,
    practice: &'static Table,
    level: Level,
}

impl Book {
    fn open(weld: &Weld) -> Result<Book, RuleError> {
        let practice = shelf::practice()?;
        let code = shelf::table_of(&weld.code)?;
        Ok(if weld.purpose == Purpose::HydrogenBakeOut {
            Book {
                table: practice,
                practice,
                level: Level::Guidance,
            }
        } else {
            Book {
                table: code,
                practice,
                level: Level::Code,
            }
        })
    }

    fn edition<'a>(&self, weld: &'a Weld) -> &'a str {
        match self.table.kind {
            TableKind::Code => weld.code.edition.trim(),
            _ => "",
        }
    }
}

struct Reader<'a> {
    weld: &'a Weld,
    book: &'a Book,
    thickness_mm: f64,
    rate_thickness_mm: f64,
}

impl Reader<'_> {
    fn limits(&self, remarks: &mut Vec<Remark>) -> Result<Vec<Limit>, RuleError> {
        let mins = self.both(HOLD_MIN, self.thickness_mm, remarks);
        self.refuse_unknown_metal(&mins)?;
        let maxes = self.both(HOLD_MAX, self.thickness_mm, remarks);
        let mut limits = Vec::new();
        let governing = governing_side(&mins);
        limits.extend(self.limit(&mins, HOLD_MIN, |value, _| {
            LimitKind::HoldMin(Celsius::from_c(value))
        }));
        limits.extend(self.hold_max(&maxes, governing));
        remarks.extend(range::of_two_metals(self.weld, &mins, &maxes));
        let times = self.both(HOLD_TIME, self.thickness_mm, remarks);
        remarks.extend(
            times
                .iter()
                .flatten()
                .filter_map(|picked| whole_steps(picked, self.thickness_mm)),
        );
        limits.extend(self.limit(&times, HOLD_TIME, |value, _| {
            LimitKind::HoldTime(Hours::from_min(value))
        }));
        limits.extend(self.rates_and_spreads(remarks));
        self.questions(remarks);
        Ok(limits)
    }

    fn rates_and_spreads(&self, remarks: &mut Vec<Remark>) -> Vec<Limit> {
        let heating = self.both(HEATING_RATE, self.rate_thickness_mm, remarks);
        let cooling = self.both(COOLING_RATE, self.rate_thickness_mm, remarks);
        let spread = self.both(HOLD_SPREAD, self.thickness_mm, remarks);
        let heating_spread = self.both(HEATING_SPREAD, self.thickness_mm, remarks);
        [
            self.limit(&heating, HEATING_RATE, |value, row| {
                LimitKind::HeatingRate {
                    above: threshold(row),
                    rate: KelvinsPerHour::from_k_h(value),
                }
            }),
            self.limit(&cooling, COOLING_RATE, |value, row| {
                LimitKind::CoolingRate {
                    above: threshold(row),
                    rate: KelvinsPerHour::from_k_h(value),
                }
            }),
            self.limit(&spread, HOLD_SPREAD, |value, _| {
                LimitKind::HoldSpread(Kelvins::from_k(value))
            }),
            self.limit(&heating_spread, HEATING_SPREAD, |value, row| {
                LimitKind::HeatingSpread {
                    spread: Kelvins::from_k(value),
                    within: spread_length(row),
                }
            }),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    /// Both sides, each read alone.
    fn both(
        &self,
        sought: Sought,
        thickness_mm: f64,
        remarks: &mut Vec<Remark>,
    ) -> [Option<Picked>; 2] {
        let mut own = Vec::new();
        let picked = [0, 1].map(|index| {
            let case = Case {
                table: self.book.table,
                edition: self.book.edition(self.weld),
                purpose: self.weld.purpose,
                side: &self.weld.sides[index],
                number: index + 1,
                thickness_mm,
            };
            strictest(case, sought, &mut own)
        });
        for remark in own {
            push_once(remarks, remark);
        }
        picked
    }

    /// The limit of the side that asks more.
    fn limit(
        &self,
        picked: &[Option<Picked>; 2],
        sought: Sought,
        kind: impl Fn(f64, &Row) -> LimitKind,
    ) -> Option<Limit> {
        let (kept, other) = match picked {
            [Some(first), Some(second)] if sought.stricter.is(second.value, first.value) => {
                (second, Some(first))
            }
            [Some(first), second] => (first, second.as_ref()),
            [None, second] => (second.as_ref()?, None),
        };
        Some(Limit {
            kind: kind(kept.value, kept.row),
            level: self.book.level,
            clause: kept.clause.clone(),
            reason: reason(kept, other, sought),
        })
    }

    /// The upper end belongs to the side whose lower end governs; equal lower ends: the lower upper end.
    fn hold_max(&self, maxes: &[Option<Picked>; 2], governing: Option<usize>) -> Option<Limit> {
        let kept = match governing {
            Some(index) => [None, maxes[index].clone()],
            None => maxes.clone(),
        };
        self.limit(&kept, HOLD_MAX, |value, _| {
            LimitKind::HoldMax(Celsius::from_c(value))
        })
    }

    fn refuse_unknown_metal(&self, mins: &[Option<Picked>; 2]) -> Result<(), RuleError> {
        let unknown = [0, 1]
            .into_iter()
            .filter(|index| mins[*index].is_none() && !own::gives_hold(self.weld));
        let faults: Vec<RuleFault> = unknown.map(|index| self.unknown_metal(index)).collect();
        if faults.is_empty() {
            Ok(())
        } else {
            Err(RuleError { faults })
        }
    }

    fn unknown_metal(&self, index: usize) -> RuleFault {
        let side = &self.weld.sides[index];
        let table = self.book.table;
        let document = format!("{} {}", table.code, self.book.edition(self.weld));
        let rows = || {
            let of_purpose = table
                .rows
                .iter()
                .filter(|row| row.purpose == self.weld.purpose);
            of_purpose.filter(|row| matches!(row.value, Value::HoldRange { min: Some(_), .. }))
        };
        let of_metal: Vec<&Row> = rows().filter(|row| row.when.fits_metal(side)).collect();
        let at_thickness = of_metal
            .iter()
            .find(|row| row.when.fits_thickness(self.thickness_mm));
        if let Some(row) = at_thickness {
            return RuleFault::OnlyUnsure {
                side: index + 1,
                document,
                clause: row.clause.clone(),
                quantity: HOLD_MIN.name.to_string(),
                value: row.value_words(),
            };
        }
        if !of_metal.is_empty() {
            let known: Vec<String> = of_metal
                .iter()
                .map(|row| row.when.thickness_words())
                .collect();
            return RuleFault::ThicknessOutOfRange {
                side: index + 1,
                document,
                quantity: HOLD_MIN.name.to_string(),
                p_number: p_number_words(&side.p_number),
                known: known.join(" or "),
                asked_mm: self.thickness_mm,
            };
        }
        let mut known: Vec<String> = rows().map(|row| row.when.metal_words()).collect();
        known.sort();
        known.dedup();
        RuleFault::UnknownPNumber {
            side: index + 1,
            document,
            purpose: purpose_words(self.weld.purpose).to_string(),
            asked: p_number_words(&side.p_number),
            known: known.join(", "),
            hint: "check P-number and group, or give the procedure's own hold range and time"
                .into(),
        }
    }

    fn questions(&self, remarks: &mut Vec<Remark>) {
        let edition = self.book.edition(self.weld);
        for row in self
            .book
            .table
            .rows
            .iter()
            .filter(|row| row.purpose == self.weld.purpose)
        {
            let holds = |side| row.when.fit(side, self.thickness_mm) != crate::when::Fit::No;
            let words = match &row.value {
                Value::Question(text) => text.clone(),
                Value::Hardness(limit) => {
                    format!("hardness after the treatment at most {} HB", short(*limit))
                }
                Value::LowerHold { .. } => {
                    format!("where the range is impractical: {}", row.value_words())
                }
                _ => continue,
            };
            if self.weld.sides.iter().any(holds) {
                push_once(
                    remarks,
                    Remark {
                        text: words,
                        clause: Some(row.clause_in(self.book.table, edition)),
                    },
                );
            }
        }
    }
}

/// The index of the side whose lower end is the higher one; none if they are equal or one is missing.
fn governing_side(mins: &[Option<Picked>; 2]) -> Option<usize> {
    match mins {
        [Some(first), Some(second)] if first.value > second.value => Some(0),
        [Some(first), Some(second)] if second.value > first.value => Some(1),
        _ => None,
    }
}

fn reason(kept: &Picked, other: Option<&Picked>, sought: Sought) -> String {
    let words = kept.row.value_words();
    match other {
        Some(other) if other.value != kept.value => format!(
            "side {} (P-No. {}): {words}; side {} (P-No. {}) alone: {} {}; the stricter governs",
            kept.side,
            kept.metal,
            other.side,
            other.metal,
            short(other.value),
            sought.unit
        ),
        Some(other) if other.metal != kept.metal => {
            format!(
                "both sides (P-No. {} and {}): {words}",
                kept.metal, other.metal
            )
        }
        Some(_) => format!("both sides (P-No. {}): {words}", kept.metal),
        None => format!("side {} (P-No. {}): {words}", kept.side, kept.metal),
    }
}

fn whole_steps(picked: &Picked, thickness_mm: f64) -> Option<Remark> {
    let Value::HoldTime(hold) = &picked.row.value else {
        return None;
    };
    let whole = hold.minutes_by_whole_steps(thickness_mm);
    (whole > picked.value).then(|| Remark {
        text: format!(
            "side {}: hold time is read in proportion to the thickness, {} min; counting each step begun as whole it would be {} min",
            picked.side,
            short(picked.value),
            short(whole)
        ),
        clause: Some(picked.clause.clone()),
    })
}

fn threshold(row: &Row) -> Celsius {
    match &row.value {
        Value::HeatingRate(rate) | Value::CoolingRate(rate) => Celsius::from_c(rate.above_c),
        _ => Celsius::from_c(0.0),
    }
}

fn spread_length(row: &Row) -> Millimeters {
    match &row.value {
        Value::HeatingSpread { within_mm, .. } => Millimeters::from_mm(*within_mm),
        _ => Millimeters::from_mm(0.0),
    }
}

fn push_once(remarks: &mut Vec<Remark>, remark: Remark) {
    if !remarks.iter().any(|known| known.text == remark.text) {
        remarks.push(remark);
    }
}
