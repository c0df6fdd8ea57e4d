//! The split: where its two bases stand, and the gaps between them.
//!
//! The world is the lower member's frame. The record holds the primary base at the inverse of the jaw's pose; the
//! secondary base, on the upper member, stands to it as the sums of the bench say.

use nalgebra::{Matrix3, Vector3};
use report::case::WorkedCase;
use sim_core::bench::{Bench, Closing, Opens, Trial};
use sim_core::cusp::Arch;
use sim_core::frame::{JawPose, PerSide, UpperPoint};
use sim_core::practice::CentricStep;
use sim_core::record::trial::{BaseMotion, SeatedRecord};
use sim_core::record::{RecordFields, RecordKind};
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};

use crate::geometry::extent;
use crate::geometry::poses::{MemberPose, MemberPoses, Moving};

/// How far the split is drawn above the teeth's base where the case names no grooves, in millimetres: a drawing's
/// choice.
const ABOVE_BASE_MM: f64 = 7.0;

/// What the gaps are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Misfit {
    /// Gaps along the normal of the split, the first groove touching.
    Gaps,
    /// How far each groove has moved, in any direction: the split locked in centric.
    Displacements,
}

/// How the split stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Split {
    /// Where the jaw was in the record: the primary base stands at its inverse.
    pub jaw: JawPose,
    /// How the secondary base stands to the primary; none where nobody can tell.
    pub secondary: Option<BaseMotion>,
    /// The gap at each groove, in their order; empty where nobody can tell.
    pub gaps: Vec<Length>,
    /// What the gaps are.
    pub misfit: Misfit,
    /// Whether every gap is within the tolerance.
    pub closed: bool,
    /// Where it stands open most.
    pub opens: Opens,
    /// By how much a guide that holds from above only stands off its sphere.
    pub stands_off: PerSide<Length>,
    /// How far the walls are below where the record has the spheres.
    pub too_low: PerSide<Length>,
    /// What cannot be shown, and why.
    pub unknown: Option<String>,
    /// Where each groove is drawn, in the upper frame, in centric.
    pub drawn_at: Vec<Vector3<f64>>,
}

/// What lies on the bench.
pub(super) struct Laid<'l> {
    pub(super) worked: &'l WorkedCase,
    pub(super) bench: &'l Bench,
    pub(super) trial: &'l Trial,
    /// The record between the casts.
    pub(super) between: Option<usize>,
    /// How an observer saw the split on the centric repeat.
    pub(super) step: Option<CentricStep>,
    pub(super) drawn: &'l Scene,
}

impl Laid<'_> {
    /// How the split stands.
    pub(super) fn split(&self) -> Split {
        let empty = Split {
            gaps: vec![Length::ZERO; self.bench.grooves().len()],
            drawn_at: self.drawn_at(),
            ..Split::closed()
        };
        let kind = |record: usize| self.worked.case.records.get(record).map(RecordFields::kind);
        match self.between {
            None => empty,
            Some(record) if kind(record) == Some(RecordKind::Centric) => self.on_centric(record, empty),
            Some(record) => self.on_record(record, empty),
        }
    }

    fn on_record(&self, record: usize, empty: Split) -> Split {
        let Some(step) = self.bench.on_record(record, self.trial) else { return empty };
        let jaw = self.bench.seated(record).map_or_else(JawPose::identity, SeatedRecord::jaw);
        match step.closing {
            Closing::Gaps { at, closed, opens } => Split {
                jaw,
                secondary: Some(at.secondary),
                gaps: at.gaps,
                closed,
                opens,
                stands_off: at.stands_off,
                too_low: at.too_low,
                ..empty
            },
            Closing::Not(why) => {
                let unknown = Some(format!("The split cannot be brought together: {why}."));
                Split { jaw, secondary: None, gaps: Vec::new(), closed: false, unknown, ..empty }
            }
            Closing::ReadOnTheScale => {
                let unknown = Some(
                    "Of this record only the scales were read, when it closed: where it holds the casts is not known, so \
                     that neither gaps nor bases can be shown. The instrument is drawn in centric."
                        .to_owned(),
                );
                Split { gaps: Vec::new(), unknown, ..empty }
            }
        }
    }

    fn on_centric(&self, record: usize, empty: Split) -> Split {
        let read = self.worked.programmed.records.get(record).and_then(|read| read.reading.as_ref());
        let grooves = self.bench.grooves();
        let within = |gaps: &[Length]| gaps.iter().all(|gap| *gap <= self.bench.tolerance());
        if let Some(reading) = read {
            let secondary = BaseMotion::locked_in_centric(&reading.jaw);
            let moved = |groove: &UpperPoint| (secondary.of(groove).coords() - groove.coords()).norm();
            let gaps: Vec<Length> = grooves.iter().map(|groove| Length::from_mm(moved(groove))).collect();
            return Split {
                jaw: reading.jaw,
                secondary: Some(secondary),
                closed: within(&gaps),
                misfit: Misfit::Displacements,
                gaps,
                ..empty
            };
        }
        let measured = match self.worked.case.records.get(record) {
            Some(RecordFields::GrooveGaps(given)) => Some(&given.gaps_mm),
            Some(given) => given.pose().and_then(|pose| pose.groove_gaps_mm.as_ref()),
            None => None,
        };
        let Some(measured) = measured else { return empty };
        let gaps: Vec<Length> = measured.iter().map(|mm| Length::from_mm(*mm)).collect();
        let aside = |step: CentricStep| Vector3::new(step.ahead.mm(), step.left.mm(), 0.0);
        let aside = self.step.map_or_else(Vector3::zeros, aside);
        Split { secondary: Some(flat_through(grooves, &gaps, aside)), closed: within(&gaps), gaps, ..empty }
    }

    /// Where the grooves are drawn: where the case has them; above the landmarks where it names none.
    fn drawn_at(&self) -> Vec<Vector3<f64>> {
        let places = self.bench.grooves().iter().map(|groove| *groove.coords());
        if self.worked.case.has_grooves() {
            return places.collect();
        }
        let level = extent::fixings(self.drawn, Arch::Upper, None)[0].z + ABOVE_BASE_MM;
        places.map(|place| Vector3::new(place.x, place.y, level)).collect()
    }
}

impl Split {
    /// Closed, with nothing between.
    pub(super) fn closed() -> Self {
        Self {
            jaw: JawPose::identity(),
            secondary: Some(BaseMotion::CLOSED),
            gaps: Vec::new(),
            misfit: Misfit::Gaps,
            closed: true,
            opens: Opens::Nowhere,
            stands_off: PerSide::default(),
            too_low: PerSide::default(),
            unknown: None,
            drawn_at: Vec::new(),
        }
    }

    /// Where the primary base stands in the world.
    #[must_use]
    pub fn primary(&self) -> MemberPose {
        MemberPoses::of(&self.jaw, Moving::Upper).upper
    }

    /// Where the upper member with the secondary base stands in the world; none where nobody can tell.
    #[must_use]
    pub fn upper_member(&self) -> Option<MemberPose> {
        let (primary, secondary) = (self.primary(), self.secondary?);
        Some(MemberPose {
            rotation: primary.rotation * secondary.rotation(),
            translation: primary.place(secondary.translation()),
        })
    }

    /// How a place of the secondary base stands to the primary base, in the primary base's frame, with its way there
    /// so many times as long: at one time it is where the sums say.
    #[must_use]
    pub fn stretched(&self, times: f64) -> Option<(Matrix3<f64>, Vector3<f64>)> {
        let secondary = self.secondary?;
        let rotation = Matrix3::identity() * (1.0 - times) + secondary.rotation() * times;
        Some((rotation, secondary.translation() * times))
    }

    /// The groove with the greatest gap.
    #[must_use]
    pub fn widest(&self) -> Option<(usize, Length)> {
        let all = self.gaps.iter().copied().enumerate();
        all.reduce(|one, other| if other.1 > one.1 { other } else { one })
    }
}

/// The flat base whose gaps come nearest to what a caliper measured, moved aside as an observer saw it. Gaps are
/// measured along the normal of the split, one a groove.
fn flat_through(grooves: &[UpperPoint], gaps: &[Length], aside: Vector3<f64>) -> BaseMotion {
    let count = grooves.len().max(1) as f64;
    let middle = grooves.iter().map(|groove| *groove.coords()).sum::<Vector3<f64>>() / count;
    let (mut matrix, mut right) = (Matrix3::zeros(), Vector3::zeros());
    for (groove, gap) in grooves.iter().zip(gaps) {
        let row = Vector3::new(1.0, groove.x() - middle.x, groove.y() - middle.y);
        matrix += row * row.transpose();
        right += row * gap.mm();
    }
    // Grooves that do not span a plane are refused with the case.
    let fitted = matrix.try_inverse().map_or_else(Vector3::zeros, |inverse| inverse * right);
    let (up, ahead, left) = (fitted.x, fitted.y, fitted.z);
    // What lies ahead is lifted by a turn about the axis to the left against its sense.
    let turn = [left.atan(), -ahead.atan(), 0.0].map(Angle::from_radians);
    BaseMotion::about(&UpperPoint::from_coords(middle), aside + Vector3::z() * up, turn)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use sim_core::frame::Side;
    use sim_core::instrument::Design;
    use sim_core::practice::{Fault, Form};

    use super::*;
    use crate::bench::testing::{BENCH, DENTATE, EDENTULOUS, FAULTY, dealt, laid_out};
    use crate::bench::{BenchAct, Dial, OnBench};

    /// Solved in closed form: what is left is rounding at some hundred millimetres.
    const SOLVED_MM: f64 = 1e-9;

    fn set(on: &mut OnBench, angles: [f64; 4]) {
        for (dial, degrees) in Dial::ALL.into_iter().zip(angles) {
            on.act(BenchAct::Turn(dial, degrees)).unwrap();
        }
    }

    /// Back from the world to a member's frame.
    fn in_member(pose: &MemberPose, world: &Vector3<f64>) -> Vector3<f64> {
        pose.rotation.transpose() * (world - pose.translation)
    }

    /// What the page draws of one case at these angles, against the definition of the split cast.
    fn check(text: &str, angles: [f64; 4]) -> Result<(), TestCaseError> {
        let mut on = laid_out(text);
        set(&mut on, angles);
        let w = on.worked.programmed.intercondylar_distance.mm();
        for record in on.bench.order() {
            on.act(BenchAct::Lay(Some(record))).unwrap();
            let Some(wanted) = on.bench.gaps(record, &on.trial) else {
                prop_assert!(on.split.unknown.is_some() && on.split.gaps.is_empty());
                continue;
            };
            let wanted = wanted.unwrap();
            // The numbers are those of the bench.
            prop_assert_eq!(&on.split.gaps, &wanted.gaps);
            let (primary, upper) = (on.split.primary(), on.split.upper_member().unwrap());
            // The bases stand in the picture as far apart, along the normal of the primary base.
            for (groove, gap) in on.bench.grooves().iter().zip(&wanted.gaps) {
                let seen = in_member(&primary, &upper.place(groove.coords()));
                prop_assert!(
                    (seen.z - groove.z() - gap.mm()).abs() < SOLVED_MM,
                    "{:?}: {:?} for {}",
                    on.kind(record),
                    seen,
                    gap.mm()
                );
            }
            // Both spheres stand on the walls of the guides that are drawn, where the record guides.
            let kind = on.kind(record).unwrap();
            for side in Side::BOTH {
                let seat = Vector3::new(0.0, side.outward_y() * w / 2.0, 0.0);
                let moved = match on.drawn.instrument.design {
                    Design::Arcon => in_member(&upper, &seat) - seat,
                    Design::NonArcon => seat - upper.place(&seat),
                };
                let asked = on.bench.seated(record).unwrap().condyle(side);
                prop_assert!((moved.x - asked.advance.mm()).abs() < SOLVED_MM);
                if kind.is_guided(side) {
                    let wall = moved.x * on.trial.inclination[side].tan();
                    let off = on.split.stands_off[side].mm();
                    prop_assert!(
                        (-moved.z - wall - off).abs() < SOLVED_MM,
                        "{kind:?} {side}: {moved:?} {wall} {off}"
                    );
                }
                if kind.orbiting() == Some(side) {
                    let immediate = on.worked.case.immediate_translation_mm.of(side).mm();
                    let medial = -side.outward_y() * moved.y;
                    let wall = immediate + moved.x * on.trial.lateral[side].tan();
                    prop_assert!((medial - wall).abs() < SOLVED_MM, "{kind:?} {side}: {medial} {wall}");
                }
            }
        }
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// Gaps shown are those of the bench, and the bases drawn stand by the definition of the split cast, for
        /// every setting of the guides, either design, and a guide that holds from above only.
        #[test]
        fn what_is_drawn_is_what_the_sums_say(
            h in [0.0..60.0, 0.0..60.0], l in [0.0..30.0, 0.0..30.0], which in 0..5_usize,
        ) {
            let other = DENTATE.replace("design: Arcon", "design: NonArcon");
            let open = DENTATE.replace("design: Arcon,", "design: Arcon, guide_hold: Open,");
            let text = [DENTATE, &other, &open, BENCH, EDENTULOUS][which];
            check(text, [h[0], h[1], l[0], l[1]])?;
        }

        /// Drawn larger, every groove of the secondary base is so many times as far from its place, and at one
        /// time it is where the sums say.
        #[test]
        fn a_stretched_split_is_open_as_many_times_as_far(h in [10.0..50.0, 10.0..50.0], times in 1.0..30.0_f64) {
            let mut on = laid_out(DENTATE);
            set(&mut on, [h[0], h[1], 15.0, 15.0]);
            let record = on.bench.order()[0];
            on.act(BenchAct::Lay(Some(record))).unwrap();
            let (rotation, translation) = on.split.stretched(times).unwrap();
            for (groove, gap) in on.bench.grooves().iter().zip(&on.split.gaps) {
                let at = rotation * groove.coords() + translation;
                prop_assert!((at.z - groove.z() - times * gap.mm()).abs() < SOLVED_MM * times);
            }
            let upper = on.split.upper_member().unwrap();
            let (rotation, translation) = on.split.stretched(1.0).unwrap();
            let groove = on.bench.grooves()[0].coords();
            let at = on.split.primary().place(&(rotation * groove + translation));
            prop_assert!((at - upper.place(groove)).norm() < SOLVED_MM);
        }
    }

    #[test]
    fn an_open_fossa_too_shallow_stands_off_and_a_track_opens_in_front() {
        let open = DENTATE.replace("design: Arcon,", "design: Arcon, guide_hold: Open,");
        for (text, stands_off) in [(DENTATE, false), (&open, true)] {
            let mut on = laid_out(text);
            set(&mut on, [10.0, 10.0, 15.0, 15.0]);
            on.act(BenchAct::Lay(Some(on.bench.order()[0]))).unwrap();
            for side in Side::BOTH {
                assert_eq!(on.split.stands_off[side].mm() > 0.5, stands_off, "{:?}", on.split);
            }
            assert_eq!(on.split.closed, stands_off);
            assert_eq!(on.split.opens == Opens::InFront, !stands_off);
        }
    }

    #[test]
    fn the_centric_repeat_is_shown_locked_with_the_displacements_that_are_checked() {
        for (text, closed) in [(DENTATE, true), (FAULTY, false)] {
            let mut on = laid_out(text);
            on.act(BenchAct::Lay(Some(0))).unwrap();
            let check = on.worked.programmed.centric.clone().unwrap();
            assert_eq!((on.split.misfit, on.split.closed), (Misfit::Displacements, closed));
            for (shown, checked) in on.split.gaps.iter().zip(&check.gaps) {
                assert!((shown.mm() - checked.mm()).abs() < SOLVED_MM);
            }
            // The secondary base stays where centric has it: the upper member stands upright in the world.
            let upper = on.split.upper_member().unwrap();
            assert!(
                (upper.rotation - Matrix3::identity()).norm() < SOLVED_MM
                    && upper.translation.norm() < SOLVED_MM
            );
        }
    }

    #[test]
    fn gaps_measured_on_the_centric_repeat_are_shown_as_they_are_and_drawn_as_the_base_that_fits_them() {
        // What a base lifted by 0.2 mm in front and not behind leaves at the grooves of this case.
        let at_x = |x: f64| 0.2 * (x - 34.0) / 50.0;
        let gaps: Vec<String> =
            [34.0, 34.0, 56.0, 56.0, 84.0, 84.0].map(|x| format!("{:.6}", at_x(x))).into();
        let text = BENCH.replace(
            "gaps_mm: [0.00, 0.00, 0.00, 0.00, 0.00, 0.00]",
            &format!("gaps_mm: [{}]", gaps.join(", ")),
        );
        assert_ne!(text, BENCH);
        let mut on = laid_out(&text);
        on.act(BenchAct::Lay(Some(0))).unwrap();
        assert!((on.split.gaps[4].mm() - 0.2).abs() < 1e-6 && !on.split.closed);
        for (groove, gap) in on.bench.grooves().iter().zip(&on.split.gaps) {
            let stands = on.split.secondary.unwrap().of(groove);
            // The slope is small: a thousandth of it is what a turn does not lift straight.
            assert!((stands.z() - groove.z() - gap.mm()).abs() < 1e-4, "{stands:?} {groove:?} {gap:?}");
        }
    }

    #[test]
    fn a_step_that_an_observer_saw_is_drawn() {
        let on = |faults: &[Fault]| {
            let mut on = dealt(Form::Bench, 4, faults);
            on.act(BenchAct::Lay(Some(0))).unwrap();
            let groove = on.bench.grooves()[0];
            let aside = on.split.secondary.unwrap().of(&groove).coords() - groove.coords();
            let step = on.patient.unwrap().deal.observed.centric_step.unwrap();
            (aside.x - step.ahead.mm(), aside.y - step.left.mm(), step)
        };
        let (x, y, step) = on(&[Fault::WrongCentric]);
        assert!(step.ahead.mm().hypot(step.left.mm()) > 0.3, "{step:?}");
        // But for what the fitted base leans by, over the height of the groove.
        assert!(x.abs() < 0.02 && y.abs() < 0.02, "{x} {y}");
    }

    #[test]
    fn where_only_scales_were_read_it_is_said_that_nothing_can_be_shown() {
        let mut on = laid_out(BENCH);
        on.act(BenchAct::Lay(Some(3))).unwrap();
        assert!(on.split.gaps.is_empty() && on.split.unknown.as_ref().unwrap().contains("only the scales"));
        assert_eq!(on.split.jaw, JawPose::identity());
    }

    #[test]
    fn with_nothing_between_the_split_is_closed_at_every_groove() {
        for text in [DENTATE, BENCH] {
            let on = laid_out(text);
            assert_eq!(on.split.gaps.len(), on.bench.grooves().len());
            assert_eq!(on.split.drawn_at.len(), on.bench.grooves().len());
            assert!(on.split.closed && on.split.gaps.iter().all(|gap| *gap == Length::ZERO));
        }
    }
}
