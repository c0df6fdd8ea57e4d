//! The casts of a scene that stand in files, as they were read.
//!
//! Whoever opens the scene reads the files and gives this; nothing here asks for a file again when the
//! casts are mounted anew.

use std::sync::Arc;

use sim_core::cast::{Casts, Surface, ToothPlaces, toward_opposing};
use sim_core::cusp::Arch;
use sim_core::scene::{CastFiles, CastMountingError, Scene};

use super::mounted::Notes;

/// Both casts as they were read, upper and lower.
#[derive(Clone, Debug)]
pub struct Scans {
    /// The surfaces, not yet mounted.
    pub surfaces: [Surface; 2],
    /// What the files are called, for notes.
    pub names: [String; 2],
    /// What reading them had to mend or assume, one sentence each, with the file it is about.
    pub notes: Vec<String>,
}

impl Scans {
    /// The casts on the members of a scene, and what is to be told of them.
    ///
    /// # Errors
    /// [`CastMountingError`] for a mounting that no human has.
    pub(super) fn mounted(
        &self,
        files: &CastFiles,
        scene: &Scene,
    ) -> Result<(Arc<Casts>, Notes), CastMountingError> {
        let [upper, lower] = files.mounted(self.surfaces.clone(), scene.instrument.intercondylar_distance)?;
        let mut mended = self.notes.clone();
        let [upper_name, lower_name] = &self.names;
        let mut faced = |surface, arch, name: &str| {
            let (surface, turned) = toward_opposing(surface, arch);
            if turned > 0 {
                mended.push(format!(
                    "{name}: {turned} open surfaces faced away from the opposing teeth and were turned over"
                ));
            }
            surface
        };
        let (upper, lower) = (faced(upper, Arch::Upper, upper_name), faced(lower, Arch::Lower, lower_name));
        let casts = Casts::new(upper, lower, &ToothPlaces::of(&scene.cusps));
        let found = casts.misplaced(scene.occlusal_plane);
        let misplaced = words::verdict::misplaced::sentences(&found, [upper_name, lower_name]);
        Ok((Arc::new(casts), Notes { mended, misplaced }))
    }
}
