//! Whether stress relief is required: every condition asked and answered, side by side, and what can override it.

use std::borrow::Cow;

use quantity::Units;
use serde::Serialize;

use crate::answers::Question;
use crate::book::{Book, Page};
use crate::both_sides::of_both;
use crate::composition;
use crate::condition::Stand;
use crate::fault::RuleError;
use crate::joint::JointForm;
use crate::requirement::{Clause, Remark};
use crate::row::{Row, Value};
use crate::shelf::Shelf;
use crate::thickness;
use crate::weld::{Purpose, Side, Weld};
use crate::when::{Fit, GROUP, TENSILE};
use crate::wording::{length, level_words};

/// Whether stress relief is required, and why.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Standing {
    /// The answer.
    pub verdict: Verdict,
    /// What leads to it, one after the other.
    pub reasons: Vec<Reason>,
    /// What a person must still answer.
    pub open: Vec<OpenQuestion>,
}

/// Whether stress relief is required.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// It is not, and every condition was answered.
    NotRequired,
    /// It hangs on questions that are not answered.
    Open,
    /// It is.
    Required,
}

/// One step to the answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reason {
    /// What it says.
    pub text: String,
    /// Where it stands, if in a document.
    pub clause: Option<Clause>,
}

/// A question that is not answered.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OpenQuestion {
    /// The key under `[answers]` that answers it, or the key of the property that is not given.
    pub key: String,
    /// What must be so for the exemption, or what would override it.
    pub text: String,
    /// Where it stands.
    pub clause: Clause,
}

/// How one side stands by the table of the contract.
struct SideStanding {
    verdict: Verdict,
    reason: Reason,
    open: Vec<OpenQuestion>,
}

/// Whether the weld needs stress relief by code, service, owner and procedure.
///
/// # Errors
/// The code or its edition is not kept, a confirmation cannot be, or a measure is impossible.
pub fn standing(weld: &Weld) -> Result<Standing, RuleError> {
    let faults = thickness::bad_measures(weld);
    if !faults.is_empty() {
        return Err(RuleError { faults });
    }
    let shelf = Shelf::with(&weld.confirmed, weld.units)?;
    let mut asked = weld.clone();
    asked.purpose = Purpose::StressRelief;
    let book = Book::open(&asked, &shelf)?;
    let thickness_mm = thickness::governing(&asked, &book).thickness.mm();
    Ok(of_weld(&asked, (&shelf, &book), thickness_mm))
}

/// Where cladding may count and nobody said whether, both readings must agree.
pub(crate) fn of_weld(
    weld: &Weld,
    (shelf, book): (&Shelf, &Book<'_>),
    thickness_mm: f64,
) -> Standing {
    let mut standing = at_thickness(weld, book, thickness_mm);
    contradicted(weld, shelf, &mut standing);
    let Cow::Owned(counted) = thickness::with_open_cladding(weld) else {
        return standing;
    };
    let thicker_mm = thickness::governing(&counted, book).thickness.mm();
    let other = at_thickness(weld, book, thicker_mm);
    if other.verdict > standing.verdict {
        let open = OpenQuestion {
            key: format!("answers.{}", Question::CladdingCounts.key()),
            text: format!(
                "{} If so, {} govern: {}",
                Question::CladdingCounts.asks(),
                length(thicker_mm, weld.units),
                other.words()
            ),
            clause: thickness::governing(weld, book).clause,
        };
        standing.verdict = standing.verdict.max(Verdict::Open);
        push_once(&mut standing.open, open);
    }
    standing
}

/// A metal that is not what it is called is exempt from nothing.
fn contradicted(weld: &Weld, shelf: &Shelf, standing: &mut Standing) {
    if standing.verdict == Verdict::Required {
        return;
    }
    for open in composition::contradictions(weld, shelf) {
        standing.verdict = Verdict::Open;
        push_once(&mut standing.open, open);
    }
}

fn at_thickness(weld: &Weld, book: &Book<'_>, thickness_mm: f64) -> Standing {
    let mut standing = Standing {
        verdict: Verdict::NotRequired,
        reasons: Vec::new(),
        open: Vec::new(),
    };
    for index in [0, 1] {
        let side = of_side(weld, index, book, thickness_mm);
        standing.verdict = standing.verdict.max(side.verdict);
        reason_once(&mut standing.reasons, side.reason);
        for open in side.open {
            push_once(&mut standing.open, open);
        }
    }
    own_word(weld, &mut standing);
    overrides(weld, book, thickness_mm, &mut standing);
    if standing.verdict == Verdict::Required {
        standing.open.clear();
    }
    standing
}

/// What is said of side 2 as of side 1 is said of both.
fn reason_once(reasons: &mut Vec<Reason>, reason: Reason) {
    let alike = reasons.iter_mut().find_map(|known| {
        let both = (known.text == reason.text)
            .then(|| reason.text.clone())
            .or_else(|| of_both(&known.text, &reason.text))?;
        (known.clause == reason.clause).then_some((known, both))
    });
    match alike {
        Some((known, both)) => known.text = both,
        None => reasons.push(reason),
    }
}

fn push_once(open: &mut Vec<OpenQuestion>, question: OpenQuestion) {
    if !open
        .iter()
        .any(|known| known.key == question.key && known.text == question.text)
    {
        open.push(question);
    }
}

/// The thickness by which exemptions of one side are read: that which governs, or for fillets the material's own, where the
/// document says so; a socket fitting is not counted. A butt weld that does not go through exempts no thicker wall.
fn read_at_mm(weld: &Weld, index: usize, governing_mm: f64, fillet_at_wall: bool) -> f64 {
    let walls_mm = thickness::walls_mm(weld);
    match (weld.joint.form, fillet_at_wall) {
        (JointForm::Socket, true) => walls_mm[1],
        (JointForm::Socket, false) => governing_mm.min(walls_mm[1]),
        (form, true) if form.is_fillet() => walls_mm[index],
        (JointForm::GirthButt | JointForm::SeamButt, _) => {
            governing_mm.max(walls_mm[0].min(walls_mm[1]))
        }
        _ => governing_mm,
    }
}

/// The side whose composition a row asks.
fn asked<'w>(weld: &'w Weld, index: usize, row: &Row) -> Cow<'w, Side> {
    let [fitting, pipe] = &weld.sides;
    match row.when.percent_of_pipe && weld.joint.form == JointForm::Socket && index == 0 {
        false => Cow::Borrowed(&weld.sides[index]),
        true => Cow::Owned(Side {
            chemistry: pipe.chemistry.clone(),
            ..fitting.clone()
        }),
    }
}

fn of_side(weld: &Weld, index: usize, book: &Book<'_>, governing_mm: f64) -> SideStanding {
    let page = book.first();
    let side = &weld.sides[index];
    let rows = exemptions(page, side);
    let at_mm =
        |index: usize, row: &Row| read_at_mm(weld, index, governing_mm, row.when.fillet_at_wall);
    let alike = rows.iter().all(|row| at_mm(0, row) == at_mm(1, row));
    let name = match alike {
        true => weld.who(index),
        false => format!("side {}", index + 1),
    };
    let who = format!("{name} ({})", side.p_number.words());
    let unread = !is_kept(page, side) || has_exemption_off(page, side);
    if rows.is_empty() && unread {
        return not_kept(weld, book, side, &who);
    }
    let thickness_mm = rows.first().map_or(governing_mm, |row| at_mm(index, row));
    let mut sides: Vec<SideStanding> = rows
        .iter()
        .filter_map(|row| of_row(weld, index, page, row, &who, at_mm(index, row)))
        .collect();
    sides.sort_by_key(|side| side.verdict);
    match sides.into_iter().next() {
        Some(best) => best,
        None => mandatory(
            page,
            &rows,
            &who,
            &length(thickness_mm, weld.units),
            weld.units,
        ),
    }
}

fn exemptions<'a>(page: Page<'a>, side: &Side) -> Vec<&'a Row> {
    page.rows(Purpose::StressRelief)
        .filter(|row| {
            matches!(row.value, Value::Exemption { .. }) && row.when.fits_metal(side) && row.is_on()
        })
        .collect()
}

/// Whether the table has a hold for the metal that is on.
fn is_kept(page: Page<'_>, side: &Side) -> bool {
    page.rows(Purpose::StressRelief).any(|row| {
        let holds = matches!(row.value, Value::HoldRange { min: Some(_), .. });
        holds && row.is_on() && row.when.fits_metal(side)
    })
}

/// Whether the table lets the metal go by a row that is off.
fn has_exemption_off(page: Page<'_>, side: &Side) -> bool {
    page.rows(Purpose::StressRelief).any(|row| {
        matches!(row.value, Value::Exemption { .. }) && !row.is_on() && row.when.fits_metal(side)
    })
}

/// Why the practice never lets a metal go without.
fn always(book: &Book<'_>, side: &Side) -> Option<(String, Clause)> {
    book.pages.iter().find_map(|page| {
        let mut rows = page.rows(Purpose::StressRelief);
        rows.find_map(|row| match &row.value {
            Value::Always(why) if row.is_on() && row.when.fits_metal(side) => {
                Some((why.clone(), row.clause_in(page.table, page.edition)))
            }
            _ => None,
        })
    })
}

/// A metal of which no row of the table that is on says enough: by practice where that speaks of it, and else a person has
/// to read the code.
fn not_kept(weld: &Weld, book: &Book<'_>, side: &Side, who: &str) -> SideStanding {
    let page = book.first();
    let document = format!("{} {}", page.table.code, page.edition);
    let document = document.trim();
    if let Some((why, clause)) = always(book, side) {
        return SideStanding {
            verdict: Verdict::Required,
            reason: Reason {
                text: format!("{who}: no row of {document} is kept for this metal; {why}"),
                clause: Some(clause),
            },
            open: Vec::new(),
        };
    }
    let practice = book.pages.iter().skip(1).find_map(|page| {
        let row = *exemptions(*page, side).first()?;
        let clause = row.clause_in(page.table, page.edition);
        Some((row.note.clone().unwrap_or_default(), clause))
    });
    if let Some((note, clause)) = practice {
        let text = format!("{who}: no row of {document} is kept for this metal; {note}");
        return SideStanding {
            verdict: Verdict::NotRequired,
            reason: Reason {
                text,
                clause: Some(clause),
            },
            open: Vec::new(),
        };
    }
    let text =
        format!("{who}: no row of {document} that is on says whether this metal may go without");
    let clause = Clause {
        document: document.to_owned(),
        clause: "whole table".to_owned(),
        status: quantity::Status::UserGiven,
        note: None,
    };
    let (verdict, text) = match weld.answers.to(Question::CodeAsks) {
        Some(true) => (
            Verdict::Required,
            format!("{text}; read there, it asks stress relief"),
        ),
        Some(false) => (
            Verdict::NotRequired,
            format!("{text}; read there, it asks none"),
        ),
        None => (Verdict::Open, text),
    };
    let open = (verdict == Verdict::Open).then(|| OpenQuestion {
        key: format!("answers.{}", Question::CodeAsks.key()),
        text: format!("{text}; read there whether it asks stress relief, and give the hold that it asks as limits.procedure"),
        clause: Clause {
            status: quantity::Status::FromMemory,
            ..clause.clone()
        },
    });
    SideStanding {
        verdict,
        reason: Reason {
            text,
            clause: (verdict != Verdict::Open).then_some(clause),
        },
        open: open.into_iter().collect(),
    }
}

/// How a side stands by one row; none where the row is not for its thickness or composition.
fn of_row(
    weld: &Weld,
    index: usize,
    page: Page<'_>,
    row: &Row,
    who: &str,
    thickness_mm: f64,
) -> Option<SideStanding> {
    let Value::Exemption { provided } = &row.value else {
        return None;
    };
    let unknown = match row.when.fit(&asked(weld, index, row), thickness_mm) {
        Fit::No => return None,
        Fit::Yes => Vec::new(),
        Fit::Maybe(unknown) => unknown,
    };
    let clause = row.clause_in(page.table, page.edition);
    let (mut met, mut broken, mut open) = (Vec::new(), Vec::new(), Vec::new());
    for name in unknown {
        open.push(OpenQuestion {
            key: key_of(&name).to_owned(),
            text: format!(
                "{who}: {name}, not given, lies in the row's range ({})",
                row.when.words(weld.units)
            ),
            clause: clause.clone(),
        });
    }
    for stand in provided
        .iter()
        .filter_map(|condition| condition.stand(weld, index))
    {
        match stand {
            Stand::Met(words) => met.push(words),
            Stand::NotMet(words) => broken.push(words),
            Stand::Open { key, words } => open.push(OpenQuestion {
                key: format!("answers.{key}"),
                text: words,
                clause: clause.clone(),
            }),
        }
    }
    let at = length(thickness_mm, weld.units);
    let (verdict, text) = if !broken.is_empty() {
        let text = format!(
            "{who}: required at {at}; the table would let it go only if: {}",
            broken.join("; ")
        );
        (Verdict::Required, text)
    } else if open.is_empty() {
        let given = match met.as_slice() {
            [] => String::new(),
            met => format!(", because: {}", met.join("; ")),
        };
        let text = format!("{who}: the table asks no stress relief at {at}{given}");
        (Verdict::NotRequired, text)
    } else {
        let asked: Vec<&str> = open.iter().map(|one| one.text.as_str()).collect();
        let text = format!(
            "{who}: the table lets stress relief go at {at} provided that: {}",
            asked.join("; ")
        );
        (Verdict::Open, text)
    };
    Some(SideStanding {
        verdict,
        reason: Reason {
            text,
            clause: Some(clause),
        },
        open,
    })
}

/// The key of the job file that gives a property.
fn key_of(property: &str) -> &'static str {
    match property {
        GROUP => "side.group",
        TENSILE => "side.tensile_strength",
        _ => "side.chemistry",
    }
}

/// `at` says at which thickness.
fn mandatory(page: Page<'_>, rows: &[&Row], who: &str, at: &str, units: Units) -> SideStanding {
    let (text, clause) = match rows.first() {
        Some(row) => {
            let known: Vec<String> = rows.iter().map(|row| row.when.words(units)).collect();
            let text = format!(
                "{who}: stress relief is mandatory at {at}; it may be left out only for {}",
                known.join("; or ")
            );
            (text, Some(row.clause_in(page.table, page.edition)))
        }
        None => {
            let text = format!(
                "{who}: no exemption is kept for this metal in this form of joint, so it is taken as required"
            );
            (text, None)
        }
    };
    SideStanding {
        verdict: Verdict::Required,
        reason: Reason { text, clause },
        open: Vec::new(),
    }
}

/// A hold that owner or procedure set is a stress relief that they ask.
fn own_word(weld: &Weld, standing: &mut Standing) {
    for (level, own, name) in crate::own::documents(weld) {
        if weld.purpose == Purpose::StressRelief && own.hold_min.is_some() {
            standing.verdict = Verdict::Required;
            standing.reasons.push(Reason {
                text: format!(
                    "{name} ({}) sets a hold, so it asks stress relief",
                    level_words(level)
                ),
                clause: None,
            });
        }
    }
}

/// Service and the owner's word can ask stress relief where the table lets it go.
fn overrides(weld: &Weld, book: &Book<'_>, thickness_mm: f64, standing: &mut Standing) {
    for page in &book.pages {
        for row in page.rows(Purpose::StressRelief).filter(|row| row.is_on()) {
            let Value::Override(question) = row.value else {
                continue;
            };
            let holds = |side| row.when.fit(side, thickness_mm) != Fit::No;
            if !weld.sides.iter().any(holds) {
                continue;
            }
            // Where stress relief is asked anyway, the service still sets what it must reach.
            let required = standing.verdict == Verdict::Required;
            if required && question != Question::SourService {
                continue;
            }
            let clause = row.clause_in(page.table, page.edition);
            let note = row.note.clone().unwrap_or_default();
            match weld.answers.to(question) {
                Some(false) => {}
                None if required => standing.reasons.push(Reason {
                    text: format!(
                        "{} If so: {note} (answers.{})",
                        question.asks(),
                        question.key()
                    ),
                    clause: Some(clause),
                }),
                Some(true) => {
                    standing.verdict = Verdict::Required;
                    standing.reasons.push(Reason {
                        text: format!("{} yes: {note}", question.asks()),
                        clause: Some(clause),
                    });
                }
                None => {
                    standing.verdict = standing.verdict.max(Verdict::Open);
                    let open = OpenQuestion {
                        key: format!("answers.{}", question.key()),
                        text: format!("{} If so: {note}", question.asks()),
                        clause,
                    };
                    push_once(&mut standing.open, open);
                }
            }
        }
    }
}

impl Standing {
    /// What leads to the answer, and what is open, as remarks.
    pub fn remarks(&self) -> Vec<Remark> {
        let reasons = self.reasons.iter().map(|reason| Remark {
            text: reason.text.clone(),
            clause: reason.clause.clone(),
        });
        let open = self.open.iter().map(|open| Remark {
            text: format!("to be answered ({}): {}", open.key, open.text),
            clause: Some(open.clause.clone()),
        });
        reasons.chain(open).collect()
    }

    /// The answer in a few words.
    pub fn words(&self) -> &'static str {
        match self.verdict {
            Verdict::NotRequired => "not required",
            Verdict::Open => "open: it hangs on questions that are not answered",
            Verdict::Required => "required",
        }
    }
}
