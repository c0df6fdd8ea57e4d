//! Which surface is ground: the rule of the textbooks on complete dentures, in own words.
//!
//! Common practice, no source (from memory of the trade's textbooks). The cusps that hold centric are the upper palatal
//! and the lower buccal ones. Natural teeth are ground by the same rule.
//!
//! - Centric: deepen the fossa that a high cusp meets; grind the cusp itself only if it is high in an excursion too,
//!   and never one that leads on the working and on the orbiting side alike.
//! - Working: the palatal incline of an upper buccal cusp, or the buccal incline of a lower lingual cusp; neither holds
//!   centric.
//! - Orbiting: the lingual incline of the lower buccal cusp. Both cusps that meet there hold centric, so that only one is ground,
//!   on its incline, and never its tip.
//! - Protrusive: the distal incline of an upper buccal cusp, or the mesial incline of a lower lingual one where the
//!   palatal cusps meet.
//! - Front teeth: the lower edge, since the upper one is seen.

use super::ground::Ground;
use crate::cast::{Casts, Nearest};
use crate::cusp::{Arch, Tooth};
use crate::occlusion::ContactKind;

/// Where a pair of back teeth meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Meeting {
    /// Front teeth.
    Front,
    /// A buccal place of the upper tooth, and whether the fossa is the upper tooth's.
    Back {
        /// Outward of the upper tooth's middle.
        is_buccal: bool,
        /// Nearer the middle of the upper tooth than of the lower: a lower cusp stands in an upper fossa.
        in_upper: bool,
    },
}

impl Meeting {
    /// Told by how far outward the place lies of the middles of both teeth.
    pub(super) fn of(casts: &Casts, nearest: &Nearest) -> Self {
        let is_front = |tooth: Option<Tooth>| tooth.is_none_or(|tooth| tooth.position() <= 3);
        if is_front(nearest.upper_tooth) && is_front(nearest.lower_tooth) {
            return Self::Front;
        }
        let off = |arch, tooth: Option<Tooth>, at: f64| {
            tooth.and_then(|tooth| middle(casts, arch, tooth)).map(|middle| at.abs() - middle)
        };
        let upper = off(Arch::Upper, nearest.upper_tooth, nearest.upper.y()).unwrap_or(0.0);
        let lower = off(Arch::Lower, nearest.lower_tooth, nearest.lower.y()).unwrap_or(0.0);
        Self::Back { is_buccal: upper > 0.0, in_upper: upper.abs() <= lower.abs() }
    }
}

/// How far outward the middle of a tooth is: halfway between its innermost and its outermost vertex.
fn middle(casts: &Casts, arch: Arch, tooth: Tooth) -> Option<f64> {
    let surface = casts.surface(arch);
    let mut ends: Option<(f64, f64)> = None;
    for triangle in (0..surface.triangles().len()).filter(|at| casts.tooth_of(arch, *at) == Some(tooth)) {
        for corner in surface.corners(triangle) {
            let out = corner.y.abs();
            ends = Some(ends.map_or((out, out), |(least, most)| (least.min(out), most.max(out))));
        }
    }
    ends.map(|(least, most)| f64::midpoint(least, most))
}

/// The surface to grind; `leads_in` are the excursions in which the same pair must be ground too.
pub(super) fn ground(kind: ContactKind, meeting: Meeting, leads_in: &[ContactKind]) -> Ground {
    let Meeting::Back { is_buccal, in_upper } = meeting else { return Ground::LowerEdge };
    match kind {
        ContactKind::Centric => {
            let leads = |kind| leads_in.contains(&kind);
            let holds_all = leads(ContactKind::Working) && leads(ContactKind::Orbiting);
            match (in_upper, leads_in.is_empty() || holds_all) {
                (true, true) => Ground::UpperFossa,
                (false, true) => Ground::LowerFossa,
                (true, false) => Ground::LowerBuccalCusp,
                (false, false) => Ground::UpperPalatalCusp,
            }
        }
        ContactKind::Working if is_buccal => Ground::UpperBuccalPalatalIncline,
        ContactKind::Working => Ground::LowerLingualBuccalIncline,
        ContactKind::Orbiting => Ground::LowerBuccalLingualIncline,
        ContactKind::Protrusive if is_buccal => Ground::UpperDistalIncline,
        ContactKind::Protrusive => Ground::LowerMesialIncline,
    }
}

#[cfg(test)]
mod tests {
    use super::ContactKind::{Centric, Orbiting, Protrusive, Working};
    use super::{Ground, Meeting, ground};

    #[test]
    fn the_rule_row_by_row() {
        let back = |is_buccal, in_upper| Meeting::Back { is_buccal, in_upper };
        for (kind, meeting, leads_in, expected) in [
            (Centric, back(true, true), &[][..], Ground::UpperFossa),
            (Centric, back(false, false), &[], Ground::LowerFossa),
            // High in an excursion too: the cusp.
            (Centric, back(true, true), &[Protrusive], Ground::LowerBuccalCusp),
            (Centric, back(false, false), &[Orbiting], Ground::UpperPalatalCusp),
            // But never the cusp that holds centric, working and balance alike.
            (Centric, back(true, true), &[Working, Orbiting], Ground::UpperFossa),
            (Centric, back(false, false), &[Orbiting, Working, Protrusive], Ground::LowerFossa),
            (Working, back(true, false), &[], Ground::UpperBuccalPalatalIncline),
            (Working, back(false, false), &[], Ground::LowerLingualBuccalIncline),
            (Orbiting, back(true, true), &[], Ground::LowerBuccalLingualIncline),
            (Orbiting, back(false, false), &[Working], Ground::LowerBuccalLingualIncline),
            (Protrusive, back(true, true), &[], Ground::UpperDistalIncline),
            (Protrusive, back(false, false), &[], Ground::LowerMesialIncline),
            (Centric, Meeting::Front, &[Working], Ground::LowerEdge),
            (Protrusive, Meeting::Front, &[], Ground::LowerEdge),
        ] {
            assert_eq!(ground(kind, meeting, leads_in), expected, "{kind:?} {meeting:?} {leads_in:?}");
        }
    }

    #[test]
    fn no_excursion_grinds_the_tip_of_a_cusp() {
        let tips = [Ground::LowerBuccalCusp, Ground::UpperPalatalCusp];
        for kind in [Working, Orbiting, Protrusive] {
            for (is_buccal, in_upper) in [(true, true), (true, false), (false, true), (false, false)] {
                let meeting = Meeting::Back { is_buccal, in_upper };
                assert!(!tips.contains(&ground(kind, meeting, &[Working, Orbiting, Protrusive])));
            }
        }
    }
}
