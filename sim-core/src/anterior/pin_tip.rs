//! The tip of the incisal pin.

use crate::units::Length;

settings_struct! {
    /// The tip of the incisal pin, on a table formed to the teeth: a ball about a centre on the pin's axis,
    /// whose lowest point stands at the pin tip's place.
    #[derive(Copy)]
    pub struct PinTip {
        radius as RADIUS: Length = "tip_radius_mm", "radius of the pin's tip", 0.0..=5.0, step 0.5, zeroed None,
            absent 0.0, "Radius of the ball at the pin's tip; 0 is a point.";
    }
}

impl PinTip {
    /// A tip without extent.
    pub const POINT: Self = Self { radius: Length::ZERO };
}
