//! Crowns of the teeth, by place from the midline (1 to 7).

/// Teeth on each side of an arch; there are no third molars.
pub(crate) const TEETH: usize = 7;
/// Mesiodistal crown widths in mm, upper 1 to 7 (Wheeler's Dental Anatomy, from memory).
pub(crate) const UPPER_WIDTHS_MM: [f64; TEETH] = [8.5, 6.5, 7.5, 7.0, 7.0, 10.0, 9.0];
/// Mesiodistal crown widths in mm, lower 1 to 7 (Wheeler's Dental Anatomy, from memory).
pub(crate) const LOWER_WIDTHS_MM: [f64; TEETH] = [5.0, 5.5, 7.0, 7.0, 7.0, 11.0, 10.5];
