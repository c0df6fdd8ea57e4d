//! The rule of proportion beside the exact answer, and where it misleads.
//!
//! The rule: balance is kept while condylar guidance times incisal guidance, over plane of occlusion times
//! compensating curve times cusp inclination, stays what it was. So a steeper condylar path asks for a
//! flatter incisal guide, or for a steeper plane, curve or cusp, each in the same proportion.
//!
//! It is Thielemann's formula, as given in Christensen FT, J Prosthet Dent 1960;10:637: K = I·C/(OK·op·ok)
//! in his letters, with the incisal (I) and the condylar (C) guidance over the three others, and empirical by
//! his own word.

use super::error::PlanError;
use super::factor::{Factor, Setup, with};
use super::gap::Contacts;
use super::passage::Role;
use super::solve::{self, Unknown, Want};
use crate::cusp::Tooth;
use crate::frame::Side;
use crate::guide::GuidePath;
use crate::units::{Angle, Length};

/// By how much a guidance is changed to ask what must follow.
const CHANGE_DEG: f64 = 5.0;

/// What must follow a changed guidance to keep contact at the lower left first molar in protrusion as it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProportionRow {
    /// The guidance changed.
    pub changed: Factor,
    /// By how much.
    pub by: Angle,
    /// What is to make up for it.
    pub answer: Factor,
    /// What it was.
    pub from: Angle,
    /// What it must be; none where no angle within its bounds keeps contact.
    pub exact: Option<Angle>,
    /// What the rule says; none where a factor is zero, of which no proportion can be kept.
    pub rule: Option<Angle>,
}

impl ProportionRow {
    /// How far the rule misleads: what it says less what must be.
    #[must_use]
    pub fn rule_is_off(&self) -> Option<Angle> {
        Some(self.rule? - self.exact?)
    }
}

/// The rule beside the exact answer, for the condylar and the incisal guidance steeper by 5°.
pub(super) fn rows(setup: &Setup, advance: Length) -> Result<Vec<ProportionRow>, PlanError> {
    let contacts = Contacts {
        teeth: vec![Tooth::new(36)?],
        roles: vec![Role::Protrusive],
        advance,
        spots: setup.arch.spots()?,
    };
    let kept = contacts.gaps(setup)?;
    let profiled =
        Side::BOTH.iter().any(|side| matches!(setup.instrument.guide(*side).path, GuidePath::Profile(_)));
    let mut rows = Vec::new();
    for changed in [Factor::CondylarGuidance, Factor::IncisalGuidance] {
        if profiled && changed == Factor::CondylarGuidance {
            continue;
        }
        let was = setup.get(changed);
        let by = Angle::from_degrees(CHANGE_DEG);
        let disturbed = with(setup, &[changed], &[(was + by).degrees()]);
        for answer in Factor::FIVE {
            // The patient's condyles do not follow the incisal guide.
            if answer == changed || answer == Factor::CondylarGuidance {
                continue;
            }
            let from = setup.get(answer);
            rows.push(ProportionRow {
                changed,
                by,
                answer,
                from,
                exact: exact(&disturbed, answer, &contacts, &kept),
                rule: rule(was, by, from, answer),
            });
        }
    }
    Ok(rows)
}

/// The angle that keeps the gaps as they were.
fn exact(disturbed: &Setup, answer: Factor, contacts: &Contacts, kept: &[f64]) -> Option<Angle> {
    let (least, most) = answer.usual_bounds();
    let unknown = Unknown { home: disturbed.get(answer).degrees(), least, most, weight: 1.0 };
    let measure = |at: &[f64]| {
        let gaps = contacts.gaps(&with(disturbed, &[answer], at))?;
        Ok(gaps.iter().zip(kept).map(|(gap, kept)| gap - kept).collect())
    };
    let found = solve::solve(&measure, &vec![Want::Zero; kept.len()], &[unknown]).ok()?;
    found.met.then(|| Angle::from_degrees(found.at[0]))
}

fn rule(was: Angle, by: Angle, from: Angle, answer: Factor) -> Option<Angle> {
    if was.degrees() <= 0.0 || from.degrees() <= 0.0 {
        return None;
    }
    let times = (was + by).degrees() / was.degrees();
    let guidance = matches!(answer, Factor::CondylarGuidance | Factor::IncisalGuidance);
    Some(if guidance { from * (1.0 / times) } else { from * times })
}
