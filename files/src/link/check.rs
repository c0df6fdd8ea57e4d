//! What goes together in a link, whoever puts it together.

use sim_core::excursion::{Drive, Movement};
use sim_core::facts::Facts;
use sim_core::frame::Side;
use sim_core::scene::Scene;
use words::quoted::{message, value};

use super::error::{LinkError, SetUp};
use super::sent::{Sent, Shown};

/// Letters of a viewpoint's name.
const LONGEST_VIEWPOINT: usize = 20;

pub(super) fn check(sent: &Sent) -> Result<(), LinkError> {
    one(SetUp::Scene, &sent.scene)?;
    if let Some(beside) = &sent.beside {
        one(SetUp::Beside, beside)?;
    }
    if let Some(shown) = &sent.shown {
        place(&sent.scene, shown)?;
    }
    match &sent.viewpoint {
        Some(given) if !is_name(given) => Err(LinkError::Viewpoint { given: value(given) }),
        _ => Ok(()),
    }
}

fn one(which: SetUp, scene: &Scene) -> Result<(), LinkError> {
    scene.check().map_err(|error| LinkError::Unsound { which, why: message(&error.to_string()) })?;
    match &scene.casts {
        Some(files) => {
            Err(LinkError::CastFiles { which, upper: value(&files.upper), lower: value(&files.lower) })
        }
        None => Ok(()),
    }
}

/// The excursion is one that can be shown, and it may be driven so far.
fn place(scene: &Scene, shown: &Shown) -> Result<(), LinkError> {
    let offered = offered(scene);
    let Some((excursion, _)) = offered.iter().find(|(name, _)| *name == shown.excursion) else {
        let mut known: Vec<&str> = Vec::new();
        for (name, _) in &offered {
            if !known.contains(name) {
                known.push(name);
            }
        }
        return Err(LinkError::NoSuchExcursion { given: value(&shown.excursion), known: known.join(", ") });
    };
    let Some(driven) = shown.driven else { return Ok(()) };
    // Of two excursions of one movement either may be meant.
    let drives = offered.iter().filter(|(name, _)| name == excursion).map(|(_, drive)| *drive);
    let Some(farthest) = drives.max_by(|one, other| one.max.total_cmp(&other.max)) else { return Ok(()) };
    if (0.0..=farthest.max).contains(&driven) {
        return Ok(());
    }
    let unit = farthest.unit.words();
    Err(LinkError::Driven { excursion, given: value(&driven.to_string()), most: farthest.max, unit })
}

/// Names of the excursions that can be shown, with what drives each: the scene's own, then the usual three
/// that it lacks.
fn offered(scene: &Scene) -> Vec<(&'static str, &'static Facts)> {
    let own = scene.excursions.iter();
    let mut offered: Vec<_> =
        own.map(|excursion| (excursion.movement().name(), excursion.drive().facts())).collect();
    let lateral = |working| Movement::Lateral { working };
    for movement in [Movement::Protrusive, lateral(Side::Right), lateral(Side::Left)] {
        if offered.iter().all(|(name, _)| *name != movement.name()) {
            offered.push((movement.name(), &Drive::ADVANCE));
        }
    }
    offered
}

fn is_name(given: &str) -> bool {
    let letters = |letter: u8| letter.is_ascii_lowercase() || letter == b'_';
    (1..=LONGEST_VIEWPOINT).contains(&given.len()) && given.bytes().all(letters)
}
