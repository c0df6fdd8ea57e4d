//! The invented casts that a scene asks for.

use super::Scene;
use crate::cast::invented::{InventedError, InventedPair};
use crate::cusp::Cusp;

impl Scene {
    /// The invented pair that the scene asks for, in the instrument's frame; `None` where it asks for
    /// none. Cusps of the scene that bear the tooth and name of one of the pair's are moved to where
    /// the pair has them.
    ///
    /// # Errors
    /// [`InventedError`] names the settings that do not go together.
    pub fn invent_casts(&mut self) -> Result<Option<InventedPair>, InventedError> {
        let Some(settings) = &self.invented_casts else { return Ok(None) };
        let pair = settings.make(self.occlusal_plane)?;
        for cusp in &mut self.cusps {
            let same = |own: &&Cusp| own.tooth() == cusp.tooth() && own.name() == cusp.name();
            if let Some(own) = pair.cusps.iter().find(same) {
                *cusp = own.clone();
            }
        }
        Ok(Some(pair))
    }
}
