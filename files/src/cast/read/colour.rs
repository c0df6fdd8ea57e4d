//! Colours of vertices as numbers of several kinds.

/// Colours given as fractions of one, or as 0 to 255 where any is above one.
pub(super) fn from_fractions(colours: &[[f32; 3]]) -> Vec<[u8; 3]> {
    let greatest = colours.iter().flatten().copied().fold(0.0, f32::max);
    let scale = if greatest > 1.0 { 1.0 } else { 255.0 };
    // The cast keeps within 0 to 255.
    colours.iter().map(|colour| colour.map(|part| (part * scale).round() as u8)).collect()
}
