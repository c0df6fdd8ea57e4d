//! One excursion, solved once for a setting: what the picture, the plot and the numbers read.

use std::sync::Arc;

pub use report::curves::driven_to;
use sim_core::anterior::AnteriorGuide;
use sim_core::cast::Casts;
use sim_core::cusp::{CuspReading, Gauges};
use sim_core::excursion::{Drive, Excursion, ExcursionError, Mechanism, NoPose, Placement, SampleCount};
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};

/// Distance between neighbouring samples, in millimetres or degrees: fine enough to look smooth.
const STEP: f64 = 0.05;
/// The same while a slider is dragged and teeth guide, where each sample is a search.
const ROUGH_STEP: f64 = 0.25;
/// Most samples of a solved.
const MOST_SAMPLES: f64 = 401.0;
/// A position this near to a sample is that sample (millimetres or degrees).
const SAME_PLACE: f64 = 1e-9;

/// One solved position.
#[derive(Clone, Debug)]
pub struct SolvedSample {
    /// How far the excursion has been driven, in the unit of its drive.
    pub driven: f64,
    /// The pose.
    pub placement: Placement,
    /// What is read at each cusp, in the scene's order.
    pub readings: Vec<CuspReading>,
}

/// An excursion solved from rest to its end, or to where it samples.
#[derive(Clone, Debug)]
pub struct SolvedExcursion {
    /// The excursion.
    pub excursion: Excursion,
    /// Never empty.
    samples: Vec<SolvedSample>,
    /// Why it ends early, if it does.
    pub stopped: Option<NoPose>,
}

/// What an excursion is solved for.
#[derive(Clone, Copy, Debug)]
pub struct SceneWithCasts<'s> {
    /// The scene.
    pub scene: &'s Scene,
    /// The casts on its members, if it has any.
    pub casts: Option<&'s Arc<Casts>>,
    /// Fewer samples will do where each takes long, for as long as a hand is at a slider.
    pub rough: bool,
}

impl SceneWithCasts<'_> {
    /// The mechanism, with the casts where there are any.
    #[must_use]
    pub fn mechanism(&self) -> Mechanism {
        let mechanism = self.scene.mechanism();
        match self.casts {
            Some(casts) => mechanism.with_casts(casts.clone()),
            None => mechanism,
        }
    }

    /// Distance between neighbouring samples.
    fn step(&self) -> f64 {
        if self.rough && self.has_tooth_guidance() { ROUGH_STEP } else { STEP }
    }

    /// Whether each pose is a search among the triangles of the casts.
    #[must_use]
    pub fn has_tooth_guidance(&self) -> bool {
        matches!(self.scene.instrument.anterior_guide, AnteriorGuide::Casts(_))
    }

    fn gauges(&self) -> Gauges {
        Gauges::new(self.scene.occlusal_plane, &self.scene.cusps)
    }
}

impl<'s> From<&'s Scene> for SceneWithCasts<'s> {
    /// A scene without casts.
    fn from(scene: &'s Scene) -> Self {
        Self { scene, casts: None, rough: false }
    }
}

/// Why a position cannot be shown.
#[derive(Clone, Debug, thiserror::Error)]
pub enum Unreachable {
    /// No excursion goes there.
    #[error(transparent)]
    Outside(#[from] ExcursionError),
    /// The settings admit no pose there.
    #[error(transparent)]
    NoPose(#[from] NoPose),
}

impl SolvedExcursion {
    /// Solves an excursion of a scene.
    ///
    /// # Errors
    /// [`NoPose`] when not even its first position has a pose. An excursion that stops on its way
    /// is one that ends there.
    pub fn solve<'s>(scene: impl Into<SceneWithCasts<'s>>, excursion: Excursion) -> Result<Self, NoPose> {
        let scene = scene.into();
        let (mechanism, gauges) = (scene.mechanism(), scene.gauges());
        let whole = driven_to(excursion.drive());
        let count = (whole / scene.step()).round().clamp(1.0, MOST_SAMPLES - 1.0) + 1.0;
        let mut solved = Self { excursion, samples: Vec::new(), stopped: None };
        for sample in mechanism.samples(&excursion, sample_count(scene.scene, count)) {
            match sample {
                Ok(placement) => {
                    let readings = gauges.read(&placement.jaw).collect();
                    solved.samples.push(SolvedSample { driven: 0.0, placement, readings });
                }
                Err(no_pose) => solved.stopped = Some(no_pose),
            }
        }
        if let (true, Some(no_pose)) = (solved.samples.is_empty(), solved.stopped) {
            return Err(no_pose);
        }
        solved.number_samples(whole, count);
        Ok(solved)
    }

    /// Solves an excursion so that one of its samples is exactly at `at`, going on to there if its
    /// end lies before; returns it and the number of that sample.
    ///
    /// # Errors
    /// [`Unreachable`] when nothing stands at `at`.
    pub fn solve_to<'s>(
        scene: impl Into<SceneWithCasts<'s>>,
        excursion: Excursion,
        at: f64,
    ) -> Result<(Self, usize), Unreachable> {
        let scene = scene.into();
        if at == 0.0 {
            return Ok((Self::solve(scene, excursion)?, 0));
        }
        let there = Excursion::new(excursion.movement(), driven_by(excursion.drive(), at))?;
        let excursion = if at > driven_to(excursion.drive()) { there } else { excursion };
        let mut solved = Self::solve(scene, excursion)?;
        let near = solved.nearest(at);
        if (solved.samples[near].driven - at).abs() < SAME_PLACE {
            return Ok((solved, near));
        }
        if let Some(no_pose) = solved.stopped.filter(|_| at > solved.last().driven) {
            return Err(no_pose.into());
        }
        let mechanism = scene.mechanism();
        let Some(placement) = mechanism.samples(&there, sample_count(scene.scene, 2.0)).last().transpose()?
        else {
            return Ok((solved, near));
        };
        let readings = scene.gauges().read(&placement.jaw).collect();
        let place = solved.samples.partition_point(|sample| sample.driven < at);
        solved.samples.insert(place, SolvedSample { driven: at, placement, readings });
        Ok((solved, place))
    }

    /// The one sample at exactly `driven`, which need not be one of these.
    ///
    /// # Errors
    /// [`Unreachable`] when nothing stands there.
    pub fn solve_to_there(
        &self,
        scene: SceneWithCasts<'_>,
        driven: f64,
    ) -> Result<SolvedSample, Unreachable> {
        let near = self.sample(self.nearest(driven));
        if (near.driven - driven).abs() < SAME_PLACE {
            return Ok(near.clone());
        }
        let drive = driven_by(self.excursion.drive(), driven);
        let there = Excursion::new(self.excursion.movement(), drive)?;
        let mechanism = scene.mechanism();
        match mechanism.samples(&there, sample_count(scene.scene, 2.0)).last().transpose()? {
            Some(placement) => {
                let readings = scene.gauges().read(&placement.jaw).collect();
                Ok(SolvedSample { driven, placement, readings })
            }
            None => Ok(near.clone()),
        }
    }

    #[allow(clippy::cast_precision_loss, reason = "some hundred samples")]
    fn number_samples(&mut self, whole: f64, count: f64) {
        // A path by advance that starts sideways has one sample more: at rest, before the shift.
        let by_advance = matches!(self.excursion.drive(), Drive::Advance(_));
        let at_rest_twice = by_advance && self.samples[0].placement.station.is_before_advance();
        for (index, sample) in self.samples.iter_mut().enumerate() {
            let index = index.saturating_sub(usize::from(at_rest_twice));
            sample.driven = whole * index as f64 / (count - 1.0);
        }
    }

    /// Every sample, from rest on; never empty.
    #[must_use]
    pub fn samples(&self) -> &[SolvedSample] {
        &self.samples
    }

    /// The sample of that number, or the last.
    #[must_use]
    pub fn sample(&self, number: usize) -> &SolvedSample {
        &self.samples[number.min(self.samples.len() - 1)]
    }

    /// The last sample.
    #[must_use]
    pub fn last(&self) -> &SolvedSample {
        self.sample(usize::MAX)
    }

    /// Number of the sample nearest to a position. Of two at the same position the later, after the
    /// side shift.
    #[must_use]
    pub fn nearest(&self, driven: f64) -> usize {
        let mut best = 0;
        for (number, sample) in self.samples.iter().enumerate() {
            if (sample.driven - driven).abs() <= (self.samples[best].driven - driven).abs() {
                best = number;
            }
        }
        best
    }

    /// What it is driven by and the unit, in words for an axis.
    #[must_use]
    pub const fn driver(&self) -> (&'static str, &'static str) {
        words::name::driver(self.excursion.drive())
    }
}

const fn driven_by(drive: Drive, number: f64) -> Drive {
    match drive {
        Drive::Advance(_) => Drive::Advance(Length::from_mm(number)),
        Drive::IncisalDisplacement(_) => Drive::IncisalDisplacement(Length::from_mm(number)),
        Drive::Tracing(_) => Drive::Tracing(Length::from_mm(number)),
        Drive::Opening(_) => Drive::Opening(Angle::from_degrees(number)),
    }
}

/// `count` is 2 to `MOST_SAMPLES`, which is always allowed; the scene's own stands in for what cannot be.
#[allow(clippy::cast_possible_truncation, reason = "at most MOST_SAMPLES")]
fn sample_count(scene: &Scene, count: f64) -> SampleCount {
    SampleCount::new(count as i64).unwrap_or(scene.samples)
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::excursion::Movement;
    use sim_core::frame::Side;

    fn right_lateral(mm: f64) -> Excursion {
        Excursion::new(Movement::Lateral { working: Side::Right }, Drive::Advance(Length::from_mm(mm)))
            .unwrap()
    }

    #[test]
    fn stops_are_evenly_driven_from_rest_to_the_end() {
        let solved = SolvedExcursion::solve(&Scene::thirty_degree(), right_lateral(6.0)).unwrap();
        assert_eq!(solved.samples().len(), 121);
        for (number, sample) in solved.samples().iter().enumerate() {
            assert!((sample.driven - 0.05 * number as f64).abs() < 1e-12);
            assert!((sample.driven - sample.placement.advance().mm()).abs() < 1e-12);
        }
    }

    #[test]
    fn an_immediate_translation_adds_a_stop_at_rest_before_the_shift() {
        let mut scene = Scene::thirty_degree();
        scene.instrument.left_guide.immediate_translation = Length::from_mm(1.0);
        let solved = SolvedExcursion::solve(&scene, right_lateral(6.0)).unwrap();
        assert_eq!(solved.samples().len(), 122);
        assert!(solved.samples()[..2].iter().all(|sample| sample.driven.abs() < 1e-12));
        assert!(solved.samples()[0].placement.left.medial.mm().abs() < 1e-12);
        assert!((solved.samples()[1].placement.left.medial.mm() - 1.0).abs() < 1e-12);
        assert_eq!(solved.nearest(0.0), 1);
        assert!((solved.last().driven - 6.0).abs() < 1e-12);
    }

    #[test]
    fn a_position_between_samples_becomes_a_sample_of_its_own() {
        let scene = Scene::thirty_degree();
        let (solved, number) = SolvedExcursion::solve_to(&scene, right_lateral(6.0), 3.217).unwrap();
        assert!((solved.sample(number).driven - 3.217).abs() < 1e-12);
        assert!((solved.sample(number).placement.advance().mm() - 3.217).abs() < 1e-12);
        assert!(solved.samples().windows(2).all(|pair| pair[0].driven <= pair[1].driven));
    }

    #[test]
    fn a_position_past_the_end_lengthens_the_excursion() {
        let (solved, number) =
            SolvedExcursion::solve_to(&Scene::thirty_degree(), right_lateral(6.0), 8.0).unwrap();
        assert!((solved.sample(number).driven - 8.0).abs() < 1e-9);
    }

    #[test]
    fn an_arc_used_past_its_end_leaves_the_part_that_has_poses() {
        let mut scene = Scene::thirty_degree();
        let radius = sim_core::setting::Setting::Arc(&sim_core::guide::ArcPath::RADIUS);
        radius.set(&mut scene, Side::Left, 3.0).unwrap();
        let solved = SolvedExcursion::solve(&scene, right_lateral(6.0)).unwrap();
        assert!(solved.stopped.is_some());
        assert!(solved.last().driven < 6.0 && solved.last().driven > 1.0);
        let error = SolvedExcursion::solve_to(&scene, right_lateral(6.0), 6.0).unwrap_err();
        assert!(matches!(error, Unreachable::NoPose(_)));
    }
}
