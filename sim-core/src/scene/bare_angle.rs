//! The occlusal plane as the bare angle that a scene file holds.

use serde::de::DeserializeSeed as _;
use serde::{Deserializer, Serialize as _, Serializer};

use crate::facts::Checked;
use crate::frame::OcclusalPlane;

pub(super) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<OcclusalPlane, D::Error> {
    Checked::new(&OcclusalPlane::INCLINATION)
        .deserialize(deserializer)
        .map(|inclination| OcclusalPlane { inclination })
}

pub(super) fn serialize<S: Serializer>(plane: &OcclusalPlane, serializer: S) -> Result<S::Ok, S::Error> {
    plane.inclination.degrees().serialize(serializer)
}
