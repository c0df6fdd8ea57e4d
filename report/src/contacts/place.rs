//! Where marks are read: at rest, or along an excursion.

use std::sync::Arc;

use sim_core::cast::Casts;
use sim_core::excursion::{Drive, Excursion, ExcursionError, Movement, NoPose, Placement};
use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};

/// Why there is no such place.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PlaceError {
    /// No movement of that name, or none that can be made without more being known.
    #[error("{given}: there is no such excursion; those of this scene are {known}")]
    NoSuchExcursion {
        /// The name that was given.
        given: String,
        /// Those that there are.
        known: String,
    },
    /// The movement is known, but nothing says how far it goes.
    #[error("{name}: the scene makes none of it; say how far it goes")]
    NoEnd {
        /// The movement.
        name: String,
    },
    /// No excursion goes that far.
    #[error(transparent)]
    At(#[from] ExcursionError),
}

/// A pose by the way that leads there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Place {
    /// Condyles seated, the jaw closed.
    Centric,
    /// The end of an excursion.
    End(Excursion),
}

impl Place {
    /// `centric`, or the excursion's name.
    pub fn name(&self) -> &'static str {
        match self {
            Self::Centric => "centric",
            Self::End(excursion) => excursion.movement().name(),
        }
    }

    /// The pose, or the last that there is on the way, and what stops it short.
    pub fn placement(&self, scene: &Scene, casts: &Arc<Casts>) -> (Option<Placement>, Option<NoPose>) {
        let mechanism = scene.mechanism().with_casts(Arc::clone(casts));
        match self {
            Self::Centric => match mechanism.rest() {
                Ok(placement) => (Some(placement), None),
                Err(no_pose) => (None, Some(no_pose)),
            },
            Self::End(excursion) => {
                let motion = mechanism.motion(excursion, scene.samples);
                (motion.placements().last().copied(), motion.stopped().copied())
            }
        }
    }
}

/// The places asked for, and the excursions of which guidance is told: all of the scene's, or one.
pub fn places(
    scene: &Scene,
    name: Option<&str>,
    at: Option<f64>,
) -> Result<(Vec<Place>, Vec<Excursion>), PlaceError> {
    let Some(name) = name else {
        let ends = scene.excursions.iter().copied().map(Place::End);
        return Ok(([Place::Centric].into_iter().chain(ends).collect(), scene.excursions.clone()));
    };
    let of_scene = scene.excursions.iter().find(|excursion| excursion.movement().name() == name).copied();
    let movement =
        of_scene.map(|excursion| excursion.movement()).or_else(|| always_made(name)).ok_or_else(|| {
            PlaceError::NoSuchExcursion { given: name.to_owned(), known: known(scene).join(", ") }
        })?;
    // Rest is no end of an excursion, but a place to begin a series with.
    if at == Some(0.0) {
        return Ok((vec![Place::Centric], of_scene.into_iter().collect()));
    }
    let drive = at.map(|at| match movement {
        Movement::Opening => Drive::Opening(Angle::from_degrees(at)),
        _ => Drive::Advance(Length::from_mm(at)),
    });
    let excursion = match (drive, of_scene) {
        (Some(drive), _) => Excursion::new(movement, drive).map_err(PlaceError::At)?,
        (None, Some(of_scene)) => of_scene,
        (None, None) => return Err(PlaceError::NoEnd { name: name.to_owned() }),
    };
    Ok((vec![Place::End(excursion)], vec![excursion]))
}

/// The movements that need nothing of a scene but how far they go.
fn always_made(name: &str) -> Option<Movement> {
    let lateral = |working| Movement::Lateral { working };
    [Movement::Protrusive, lateral(Side::Right), lateral(Side::Left), Movement::Opening]
        .into_iter()
        .find(|movement| movement.name() == name)
}

fn known(scene: &Scene) -> Vec<&'static str> {
    let mut names = vec!["protrusive", "right_lateral", "left_lateral", "opening"];
    for name in scene.excursions.iter().map(|excursion| excursion.movement().name()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}
