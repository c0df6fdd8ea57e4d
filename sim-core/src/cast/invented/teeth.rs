//! Widths and forms of the fourteen teeth of an arch, by place from the midline (1 to 7).

pub(super) use crate::cusp::crown::{LOWER_WIDTHS_MM, TEETH, UPPER_WIDTHS_MM};

/// The last front tooth.
pub(super) const CANINE: usize = 3;

/// Crown lengths in mm, upper 1 to 7 (Wheeler's Dental Anatomy, from memory).
pub(super) const UPPER_LENGTHS_MM: [f64; TEETH] = [10.5, 9.0, 10.0, 8.5, 8.5, 7.5, 7.0];
/// Crown lengths in mm, lower 1 to 7 (Wheeler's Dental Anatomy, from memory).
pub(super) const LOWER_LENGTHS_MM: [f64; TEETH] = [9.0, 9.5, 11.0, 8.5, 8.0, 7.5, 7.0];

/// A cusp of a back tooth: its name, how far from the mesial side it stands as part of the crown's
/// width, and how far its tip stays below the others of its row.
pub(super) struct CuspForm {
    pub(super) name: &'static str,
    pub(super) along: f64,
    pub(super) low_mm: f64,
}

const fn cusp(name: &'static str, along: f64, low_mm: f64) -> CuspForm {
    CuspForm { name, along, low_mm }
}

/// Buccal cusps of a lower tooth, which bite into the upper fossae; places are our own.
pub(super) const fn lower_buccal(place: usize) -> &'static [CuspForm] {
    const PREMOLAR: &[CuspForm] = &[cusp("buccal", 0.46, 0.0)];
    const FIRST: &[CuspForm] =
        &[cusp("mesiobuccal", 0.2, 0.0), cusp("distobuccal", 0.56, 0.0), cusp("distal", 0.86, 0.35)];
    const SECOND: &[CuspForm] = &[cusp("mesiobuccal", 0.25, 0.0), cusp("distobuccal", 0.74, 0.0)];
    match place {
        4 | 5 => PREMOLAR,
        6 => FIRST,
        _ => SECOND,
    }
}

/// Lingual cusps of a lower tooth; the first premolar's is small.
pub(super) const fn lower_lingual(place: usize) -> &'static [CuspForm] {
    const FIRST_PREMOLAR: &[CuspForm] = &[cusp("lingual", 0.48, 1.2)];
    const SECOND_PREMOLAR: &[CuspForm] = &[cusp("lingual", 0.45, 0.4)];
    const FIRST: &[CuspForm] = &[cusp("mesiolingual", 0.25, 0.2), cusp("distolingual", 0.71, 0.3)];
    const SECOND: &[CuspForm] = &[cusp("mesiolingual", 0.26, 0.2), cusp("distolingual", 0.74, 0.3)];
    match place {
        4 => FIRST_PREMOLAR,
        5 => SECOND_PREMOLAR,
        6 => FIRST,
        _ => SECOND,
    }
}

/// Buccal cusps of an upper tooth; their heights are found by letting them down.
pub(super) const fn upper_buccal(place: usize) -> &'static [CuspForm] {
    const PREMOLAR: &[CuspForm] = &[cusp("buccal", 0.5, 0.0)];
    const MOLAR: &[CuspForm] = &[cusp("mesiobuccal", 0.26, 0.0), cusp("distobuccal", 0.74, 0.0)];
    match place {
        4 | 5 => PREMOLAR,
        _ => MOLAR,
    }
}

/// Palatal cusps of an upper tooth, which bite into the lower fossae; heights as for the buccal ones.
pub(super) const fn upper_palatal(place: usize) -> &'static [CuspForm] {
    const PREMOLAR: &[CuspForm] = &[cusp("palatal", 0.44, 0.0)];
    const MOLAR: &[CuspForm] = &[cusp("mesiopalatal", 0.34, 0.0), cusp("distopalatal", 0.78, 0.0)];
    match place {
        4 | 5 => PREMOLAR,
        _ => MOLAR,
    }
}
