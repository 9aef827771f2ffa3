//! Asking the rules for everything that one weld needs.

use quantity::Units;
use rules::band::Bands;
use rules::fault::RuleFault;
use rules::joint::{Joint, JointForm};
use rules::preheat::Preheat;
use rules::requirement::{Remark, Requirement};
use rules::standing::{Standing, Verdict};
use rules::thermocouple::Thermocouple;
use rules::weld::{CodeEdition, Purpose, Weld};
use rules::{Critical, RuleError};
use serde::Serialize;

use super::bake_out::{BakeOutNeed, bake_out_need};
use super::exposure::{Exposure, exposure};
use super::time_temperature::{TimeTemperatureNeed, time_temperature_need};
use crate::NeedJob;

/// What a weld needs.
#[derive(Clone, Debug, Serialize)]
pub struct Need {
    /// Code and edition of the contract.
    pub code: CodeEdition,
    /// The weld in words.
    pub weld: String,
    /// Stress relief after welding.
    pub stress_relief: StressRelief,
    /// Preheat and interpass temperature.
    pub preheat: Preheat,
    /// Hydrogen bake-out.
    pub bake_out: BakeOutNeed,
    /// Between which temperatures each metal becomes austenite: Ac1 and Ac3, where they are kept.
    pub critical: Vec<Critical>,
    /// Bands of the stress relief, where one is possible; of a branch weld those along the run.
    pub bands: Option<Bands>,
    /// Of a branch weld the bands of the branch itself, as of a girth weld of which one half counts.
    pub branch_bands: Option<Bands>,
    /// Thermocouples of the stress relief, where one is possible.
    pub thermocouples: Vec<Thermocouple>,
    /// Time and temperature of part and coupon, where the job lists treatments.
    pub time_temperature: Option<TimeTemperatureNeed>,
    /// What code and practice tell of a stress relief of these metals.
    pub advice: Vec<Remark>,
    /// What is heeded while it is set up, where it has bands.
    pub setting_up: Vec<Remark>,
    /// How far persons keep from coil and leads, where the job gives them.
    pub exposure: Option<Exposure>,
    /// What the rules cannot answer for this weld, and why.
    pub unanswered: Vec<Unanswered>,
    /// The rows that the user confirmed or entered: id, by whom, when.
    pub confirmed: Vec<String>,
}

/// Stress relief: whether, and with which limits.
#[derive(Clone, Debug, Serialize)]
pub struct StressRelief {
    /// Whether it is required, and what is open.
    pub standing: Standing,
    /// Its limits, where the rules have them.
    pub requirement: Option<Requirement>,
}

/// Something that the rules cannot answer.
#[derive(Clone, Debug, Serialize)]
pub struct Unanswered {
    /// What was asked.
    pub what: &'static str,
    /// Why there is no answer.
    pub why: String,
}

/// The faults for which a need has no answer, while the rest of it stands.
fn is_a_gap(fault: &RuleFault) -> bool {
    matches!(
        fault,
        RuleFault::UnknownPNumber { .. }
            | RuleFault::OnlyUnsure { .. }
            | RuleFault::ThicknessOutOfRange { .. }
            | RuleFault::NoBand { .. }
            | RuleFault::EmptyRange {
                of_the_metal: true,
                ..
            }
    )
}

/// The answer, or why there is none; faults of the question itself are refused.
fn or_gap<T>(
    what: &'static str,
    asked: Result<T, RuleError>,
    unanswered: &mut Vec<Unanswered>,
) -> Result<Option<T>, RuleError> {
    match asked {
        Ok(answer) => Ok(Some(answer)),
        Err(problem) if problem.faults.iter().all(is_a_gap) => {
            unanswered.extend(problem.faults.iter().map(|fault| Unanswered {
                what,
                why: fault.to_string(),
            }));
            Ok(None)
        }
        Err(problem) => Err(problem),
    }
}

/// Bands lie round a pipe.
fn has_bands(weld: &Weld) -> bool {
    let round = weld
        .sides
        .iter()
        .all(|side| side.outside_diameter.mm().is_finite());
    round && (weld.joint.form.is_girth() || weld.joint.form == JointForm::Branch)
}

/// The branch as if it were welded to its like.
fn branch_alone(weld: &Weld) -> Option<Weld> {
    let [_, branch] = &weld.sides;
    (weld.joint.form == JointForm::Branch).then(|| Weld {
        sides: [branch.clone(), branch.clone()],
        joint: Joint::default(),
        ..weld.clone()
    })
}

fn for_purpose(weld: &Weld, purpose: Purpose) -> Weld {
    Weld {
        purpose,
        ..weld.clone()
    }
}

/// The weld for a stress relief: own limits of another purpose do not speak of it.
fn to_be_relieved(weld: &Weld) -> Weld {
    let mut asked = for_purpose(weld, Purpose::StressRelief);
    if weld.purpose != Purpose::StressRelief {
        asked.owner = rules::weld::OwnLimits::default();
        asked.procedure = rules::weld::OwnLimits::default();
    }
    asked
}

/// Whether the question can be answered at all.
///
/// # Errors
/// What is wrong with it.
pub(crate) fn answerable(weld: &Weld) -> Result<(), RuleError> {
    let asked = to_be_relieved(weld);
    rules::standing(&asked)?;
    or_gap("stress relief", rules::requirement(&asked), &mut Vec::new())?;
    rules::preheat::preheat(weld).map(|_| ())
}

/// What the weld of a job needs.
///
/// # Errors
/// What is wrong with the question; [`crate::read_need`] has told it already with its places.
pub fn need(job: &NeedJob) -> Result<Need, RuleError> {
    let weld = to_be_relieved(&job.weld);
    let mut unanswered = Vec::new();
    let standing = rules::standing(&weld)?;
    let asked = rules::requirement(&weld);
    let requirement = match (asked, standing.verdict) {
        (Err(problem), Verdict::NotRequired) if problem.faults.iter().all(is_a_gap) => None,
        (asked, _) => or_gap("stress relief", asked, &mut unanswered)?,
    };
    let is_heated = requirement.is_some() || standing.verdict != Verdict::NotRequired;
    let mut bands_of = |weld: &Weld| match is_heated && has_bands(weld) {
        true => or_gap("bands", rules::bands(weld), &mut unanswered),
        false => Ok(None),
    };
    let bands = bands_of(&weld)?;
    let branch_bands = match branch_alone(&weld) {
        Some(branch) => bands_of(&branch)?,
        None => None,
    };
    let thermocouples = match &bands {
        Some(bands) => rules::layout(&weld, bands)?,
        None => Vec::new(),
    };
    Ok(Need {
        code: weld.code.clone(),
        weld: in_words(job),
        preheat: rules::preheat::preheat(&job.weld)?,
        bake_out: bake_out_need(&job.weld, Vec::new())?,
        time_temperature: time_temperature_need(&weld, &job.treatments, requirement.as_ref())?,
        advice: rules::advice(&weld)?,
        critical: rules::critical_temperatures(&weld)?,
        setting_up: match bands.is_some() {
            true => rules::setting_up(&weld, true)?,
            false => Vec::new(),
        },
        stress_relief: StressRelief {
            standing,
            requirement,
        },
        bands,
        branch_bands,
        thermocouples,
        exposure: of_coil(job)?,
        unanswered,
        confirmed: job
            .weld
            .confirmed
            .iter()
            .map(|one| format!("{}: {} on {}", one.row, one.by, one.on))
            .collect(),
    })
}

/// The coil is read only where the file says the whole set-up; what is wrong with it is not the need's to tell.
fn of_coil(job: &NeedJob) -> Result<Option<Exposure>, RuleError> {
    match crate::file::read_set_up(&job.text, &job.file_name) {
        Ok(whole) => exposure(&whole),
        Err(_) => Ok(None),
    }
}

fn in_words(job: &NeedJob) -> String {
    let side = |index: usize| {
        let side = &job.weld.sides[index];
        let name = match job.names[index].as_str() {
            "" => String::new(),
            name => format!("{name}, "),
        };
        let size = match side.outside_diameter.mm() {
            od if od.is_finite() => {
                let (od, wall) = (side.outside_diameter, side.wall);
                match job.units {
                    Units::Si => format!("{:.1} × {:.1} mm", od.mm(), wall.mm()),
                    Units::Us => format!("{:.3} × {:.3} in", od.inches(), wall.inches()),
                }
            }
            _ => match job.units {
                Units::Si => format!("plate {:.1} mm", side.wall.mm()),
                Units::Us => format!("plate {:.3} in", side.wall.inches()),
            },
        };
        format!("{name}{}, {size}", side.p_number.words())
    };
    let [first, second] = [side(0), side(1)];
    let both = match first == second {
        true => first,
        false => format!("{first} to {second}"),
    };
    format!("{}: {both}", job.weld.joint.form.words())
}

impl Need {
    /// Whether something that is asked is not met: a caution on stress relief or preheat, or a budget that is used up.
    pub fn falls_short(&self) -> bool {
        let of_relief = self.stress_relief.requirement.iter();
        let mut remarks = of_relief.flat_map(|one| &one.remarks);
        let treated = self.time_temperature.as_ref();
        treated.is_some_and(TimeTemperatureNeed::is_passed)
            || self.preheat.falls_short
            || remarks.any(|remark| remark.text.starts_with(super::notes::WARNING))
    }

    /// Every remark of every part once.
    pub fn remarks(&self) -> Vec<&Remark> {
        let of_relief = self
            .stress_relief
            .requirement
            .iter()
            .flat_map(|one| &one.remarks);
        let standing = self.stress_relief.standing.remarks();
        let told = |remark: &&Remark| !standing.iter().any(|known| known.text == remark.text);
        of_relief
            .filter(told)
            .chain(&self.advice)
            .chain(&self.preheat.remarks)
            .chain(&self.bake_out.answer.remarks)
            .collect()
    }
}
