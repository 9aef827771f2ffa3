//! Working out the bands: every rule side by side, and which one a plan follows.

use quantity::{Millimeters, Units};

use crate::band::{BandRow, BandSteps, Bands, Governing};
use crate::fault::{RuleError, RuleFault};
use crate::formula::{PipeWall, Width, WidthFrom};
use crate::joint::JointForm;
use crate::row::{BandRule, Row, Table, TableKind, Value};
use crate::shelf::Shelf;
use crate::weld::{Side, Weld};
use crate::when::Fit;
use crate::wording::purpose_words;

/// The bands of a weld. The code's rows bind; recommended practice fills what the code leaves open; all other rows
/// stand beside for comparison.
///
/// # Errors
/// [`RuleFault::NoBand`] if no rule gives a soak, heated or gradient control band; the faults of the tables and of
/// impossible measures.
pub fn bands(weld: &Weld) -> Result<Bands, RuleError> {
    let faults = crate::thickness::bad_measures(weld);
    if !faults.is_empty() {
        return Err(RuleError { faults });
    }
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let rules = rules(weld, &shelf)?;
    let soaks: Vec<Option<(f64, String)>> = rules.iter().map(|rule| rule.soak(weld)).collect();
    let soak = widest(&rules, |index| soaks[index].as_ref().map(|(mm, _)| *mm))
        .ok_or_else(|| no_band("soak", weld))?;
    let rows: Vec<BandRow> = rules
        .iter()
        .zip(&soaks)
        .map(|(rule, own_soak)| rule.row(weld, own_soak.as_ref(), soak.1))
        .collect();
    let heated = widest(&rules, |index| rows[index].heated.map(Millimeters::mm))
        .ok_or_else(|| no_band("heated", weld))?;
    let gradient = follow(&rows, heated.0)
        .or_else(|| {
            widest(&rules, |index| {
                rows[index].gradient_control.map(Millimeters::mm)
            })
        })
        .ok_or_else(|| no_band("gradient control", weld))?;
    let reason = |what: &str, (index, mm): (usize, f64)| {
        reason(what, (&rules, weld.units), &rows, index, mm)
    };
    Ok(Bands {
        heating_index: heating_index(weld, soak.1, heated.1),
        soak: governing(soak, reason("soak", soak)),
        heated: governing(heated, reason("heated", heated)),
        gradient_control: governing(gradient, reason("gradient control", gradient)),
        by_rule: rows,
    })
}

/// How the wall-area criterion stands; a branch has no such index.
fn heating_index(weld: &Weld, soak_mm: f64, heated_mm: f64) -> Option<f64> {
    let pipes = weld.sides.iter().map(pipe_wall);
    let indices = pipes.map(|pipe| pipe.heating_index(soak_mm, heated_mm));
    indices
        .reduce(f64::min)
        .filter(|_| weld.joint.form.is_girth())
}

fn pipe_wall(side: &Side) -> PipeWall {
    PipeWall {
        outside_diameter_mm: side.outside_diameter.mm(),
        wall_mm: side.wall.mm(),
    }
}

/// How far the weld reaches along the pipe: the cap, or of a branch its outside with a cap on either side.
fn extent_mm(weld: &Weld) -> f64 {
    match weld.joint.form {
        JointForm::Branch => weld.sides[1].outside_diameter.mm() + 2.0 * weld.cap_width.mm(),
        _ => weld.cap_width.mm(),
    }
}

fn no_band(band: &'static str, weld: &Weld) -> RuleFault {
    RuleFault::NoBand {
        band,
        purpose: purpose_words(weld.purpose).to_string(),
    }
}

fn governing((row, mm): (usize, f64), reason: String) -> Governing {
    Governing {
        width: Millimeters::from_mm(mm),
        row,
        reason,
    }
}

/// A band rule with its table, and whether it binds this weld.
struct Rule<'a> {
    table: &'a Table,
    edition: String,
    row: &'a Row,
    band: &'a BandRule,
    binding: bool,
}

/// The rows of the contract's code first, then practices, then the newest table of each other code.
fn rules<'a>(weld: &Weld, shelf: &'a Shelf) -> Result<Vec<Rule<'a>>, RuleError> {
    let own = shelf.table_of(&weld.code)?;
    let mut tables = vec![own];
    tables.extend(shelf.of_kind(TableKind::Practice));
    tables.extend(
        shelf
            .of_kind(TableKind::Code)
            .filter(|table| table.code != own.code),
    );
    let newest = |table: &&&'a Table| {
        table.kind != TableKind::Code || is_same(table, own) || is_newest(table, &tables)
    };
    let rows = tables
        .iter()
        .filter(newest)
        .flat_map(|table| table.rows.iter().map(move |row| (*table, row)));
    let thickest_mm = weld.sides[0].wall.mm().max(weld.sides[1].wall.mm());
    let holds = |row: &Row| {
        weld.sides
            .iter()
            .any(|side| row.when.fit(side, thickest_mm) != Fit::No)
    };
    let rows =
        rows.filter(|(_, row)| row.purpose == weld.purpose && row.is_asked(weld) && holds(row));
    Ok(rows
        .filter_map(|(table, row)| Rule::of(table, row, own, weld))
        .collect())
}

fn is_same(table: &Table, own: &Table) -> bool {
    std::ptr::eq(table, own)
}

fn is_newest(table: &Table, tables: &[&Table]) -> bool {
    let of_code = tables.iter().filter(|other| other.code == table.code);
    of_code.map(|other| other.editions.last()).max() == Some(table.editions.last())
}

impl<'a> Rule<'a> {
    fn of(table: &'a Table, row: &'a Row, own: &Table, weld: &Weld) -> Option<Rule<'a>> {
        let Value::Band(band) = &row.value else {
            return None;
        };
        let is_own = is_same(table, own);
        let edition = if is_own {
            weld.code.edition.trim().to_string()
        } else {
            table.editions.last().cloned().unwrap_or_default()
        };
        Some(Rule {
            table,
            edition,
            row,
            band,
            binding: is_own && row.is_on(),
        })
    }

    /// Whether a plan follows it.
    fn counts(&self) -> bool {
        self.row.is_on() && (self.binding || self.band.recommended)
    }

    fn name(&self) -> String {
        let clause = self.row.clause_in(self.table, &self.edition);
        format!("{} {}", clause.document, clause.clause)
    }

    fn soak(&self, weld: &Weld) -> Option<(f64, String)> {
        let width = self.band.soak.as_ref().filter(|_| self.row.is_on())?;
        let start_mm = match width.from {
            WidthFrom::CapWidth => extent_mm(weld),
            _ => 0.0,
        };
        Some(work_out(width, weld, start_mm, 0.0))
    }

    fn row(
        &self,
        weld: &Weld,
        own_soak: Option<&(f64, String)>,
        governing_soak_mm: f64,
    ) -> BandRow {
        let start = |width: &Width, heated_mm: f64| match width.from {
            WidthFrom::Zero => 0.0,
            WidthFrom::CapWidth => extent_mm(weld),
            WidthFrom::SoakBand => governing_soak_mm,
            WidthFrom::HeatedBand => heated_mm,
        };
        let on = |width: &'a Option<Width>| width.as_ref().filter(|_| self.row.is_on());
        let heated = on(&self.band.heated)
            .map(|width| work_out(width, weld, start(width, 0.0), governing_soak_mm));
        let heated_mm = heated.as_ref().map_or(governing_soak_mm, |(mm, _)| *mm);
        let gradient = on(&self.band.gradient_control)
            .map(|width| work_out(width, weld, start(width, heated_mm), governing_soak_mm));
        let named = [
            ("SB", own_soak),
            ("HB", heated.as_ref()),
            ("GCB", gradient.as_ref()),
        ];
        let parts: Vec<String> = named
            .into_iter()
            .filter_map(|(name, width)| {
                width.map(|(mm, working)| {
                    format!("{name} {} = {working}", worked_width(*mm, weld.units))
                })
            })
            .collect();
        BandRow {
            soak: own_soak.map(|(mm, _)| Millimeters::from_mm(*mm)),
            heated: heated.as_ref().map(|(mm, _)| Millimeters::from_mm(*mm)),
            gradient_control: gradient.as_ref().map(|(mm, _)| Millimeters::from_mm(*mm)),
            working: self.working(&parts),
            steps: BandSteps {
                soak: own_soak.map(|(_, working)| working.clone()),
                heated: heated.map(|(_, working)| working),
                gradient_control: gradient.map(|(_, working)| working),
            },
            binding: self.binding,
            clause: self.row.clause_in(self.table, &self.edition),
        }
    }

    fn working(&self, parts: &[String]) -> String {
        if !self.row.is_on() {
            return format!(
                "{}: unsure, switched off until the user confirms it",
                self.band.name
            );
        }
        if parts.is_empty() {
            return format!("{}: says nothing", self.band.name);
        }
        format!("{}: {}", self.band.name, parts.join("; "))
    }
}

/// The width on the side that gives more; the working of the other is named where the sides differ. Of a branch the band
/// lies on the run.
fn work_out(width: &Width, weld: &Weld, start_mm: f64, soak_mm: f64) -> (f64, String) {
    let on = |side: &Side| width.work_out(start_mm, soak_mm, pipe_wall(side), weld.units);
    if weld.joint.form == JointForm::Branch {
        return on(&weld.sides[0]);
    }
    let [first, second] = [0, 1].map(|index| on(&weld.sides[index]));
    let (more, less, number) = if second.0 > first.0 {
        (second, first, 2)
    } else {
        (first, second, 1)
    };
    if more.0 == less.0 {
        return more;
    }
    (
        more.0,
        format!(
            "{} (side {number}; the other gives {})",
            more.1,
            worked_width(less.0, weld.units)
        ),
    )
}

/// The result of a working: whole millimeters, or inches to a hundredth.
fn worked_width(mm: f64, units: Units) -> String {
    match units {
        Units::Si => format!("{mm:.0} mm"),
        Units::Us => format!("{:.2} in", Millimeters::from_mm(mm).inches()),
    }
}

/// The widest of the rules that a plan follows.
fn widest(rules: &[Rule<'_>], width_mm: impl Fn(usize) -> Option<f64>) -> Option<(usize, f64)> {
    let counting = rules.iter().enumerate().filter(|(_, rule)| rule.counts());
    let widths = counting.filter_map(|(index, _)| Some((index, width_mm(index)?)));
    // Of equal widths the first, so that the code's own row is named before a practice.
    widths.reduce(|kept, other| if other.1 > kept.1 { other } else { kept })
}

/// The gradient control band of the row whose heated band governs.
fn follow(rows: &[BandRow], heated_row: usize) -> Option<(usize, f64)> {
    rows[heated_row]
        .gradient_control
        .map(|width| (heated_row, width.mm()))
}

fn reason(
    what: &str,
    (rules, units): (&[Rule<'_>], Units),
    rows: &[BandRow],
    index: usize,
    mm: f64,
) -> String {
    let rule = &rules[index];
    let name = rule.name();
    let code_mm = rows
        .iter()
        .zip(rules)
        .filter(|(_, rule)| rule.binding)
        .filter_map(|(row, _)| match what {
            "soak" => row.soak,
            "heated" => row.heated,
            _ => row.gradient_control,
        });
    let code_mm = code_mm.map(Millimeters::mm).reduce(f64::max);
    match code_mm {
        Some(code_mm) if rule.binding && code_mm == mm => {
            format!("{name} binds and is the widest that a plan follows")
        }
        Some(code_mm) => format!(
            "{name} is recommended practice and wider than the {} that the code asks",
            worked_width(code_mm, units)
        ),
        None => format!("the code sets no {what} band; {name} is the widest recommended practice"),
    }
}
