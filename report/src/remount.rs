//! Finished dentures on their instrument again: all that `eminentia remount` reports.

use std::sync::Arc;

use sim_core::cast::Casts;
use sim_core::excursion::NoPose;
use sim_core::remount::{
    Centric, CentricVerdict, CuspGrinding, GrindingList, Processing, Remount, RemountError, cusps, grinding,
};
use sim_core::scene::Scene;

use crate::contacts::Judged;

/// Why a remount tells nothing.
#[derive(Debug, thiserror::Error)]
pub enum RemountFault {
    /// What the file says cannot be.
    #[error(transparent)]
    Remount(#[from] RemountError),
    /// The teeth do not meet.
    #[error(transparent)]
    NoPose(#[from] NoPose),
}

/// All that is reported.
pub struct RemountReport {
    /// What the remount is called.
    pub title: String,
    /// What its scene is called.
    pub scene: String,
    /// By which scheme, and why.
    pub judged: Judged,
    /// What the pin's lift says.
    pub processing: Option<Processing>,
    /// What the centric record says.
    pub centric: Option<Centric>,
    /// What to grind.
    pub grinding: Grind,
}

/// What to grind, or why there is no list.
pub enum Grind {
    /// The list.
    List(GrindingList),
    /// The scene has no casts, but cusps: those in the way.
    Cusps(Vec<CuspGrinding>),
    /// The scene has neither casts nor cusps.
    NoCasts,
    /// The centric relation is wrong or uncertain: on this mounting nothing is to be ground.
    Withheld,
}

impl RemountReport {
    /// Works a remount through. A list of what to grind is withheld unless a centric record confirms the mounting.
    ///
    /// # Errors
    /// [`RemountFault`] for numbers that give no pose.
    pub fn of(remount: &Remount, scene: &Scene, casts: Option<&Arc<Casts>>) -> Result<Self, RemountFault> {
        let judged = Judged::by(remount.intended, scene);
        let (processing, centric) = (remount.processing(scene)?, remount.centric(scene)?);
        let is_right = centric.as_ref().is_some_and(|centric| centric.verdict == CentricVerdict::Stands);
        let grinding = match casts {
            None if scene.cusps.is_empty() => Grind::NoCasts,
            _ if !is_right => Grind::Withheld,
            None => Grind::Cusps(cusps::list(scene, &remount.high_cusps(scene)?, judged.scheme)?),
            Some(casts) => {
                let casts = remount.processed(casts, scene.occlusal_plane)?;
                Grind::List(grinding::list(scene, &casts, judged.scheme)?)
            }
        };
        let (title, scene) = (remount.title.clone(), scene.title.clone());
        Ok(Self { title, scene, judged, processing, centric, grinding })
    }
}
