//! The colours, one list. Told apart by shape, line style and words as well, never by colour alone.

use kiss3d::color::Color;
use kiss3d::egui::Color32;

/// A colour as it appears on the screen (sRGB).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tint(pub [u8; 3]);

/// Behind everything: drawing paper.
pub const PAPER: Tint = Tint([0xF3, 0xF0, 0xE8]);
/// Behind the panels.
pub const PANEL: Tint = Tint([0xFB, 0xFA, 0xF6]);
/// Behind everything in high contrast, and behind a number that can be typed.
pub const WHITE: Tint = Tint([0xFF, 0xFF, 0xFF]);
/// Behind a number that can be typed.
pub const FIELD: Tint = WHITE;
/// Text in high contrast.
pub const BLACK: Tint = Tint([0x00, 0x00, 0x00]);
/// What is in use, in high contrast.
pub const DEEP: Tint = Tint([0x00, 0x3A, 0x66]);
/// The rail of a slider.
pub const RAIL: Tint = Tint([0x86, 0x8B, 0x92]);
/// The edges of buttons and panels.
pub const EDGE: Tint = Tint([0x86, 0x8B, 0x92]);
/// The ring round what the keyboard is on.
pub const FOCUS: Tint = Tint([0xB3, 0x3A, 0x00]);
/// Text, axes, outlines.
pub const INK: Tint = Tint([0x20, 0x25, 0x2B]);
/// Secondary text, grids.
pub const PENCIL: Tint = Tint([0x5C, 0x63, 0x6B]);
/// The upper member: frame, spheres' axle or housings, and the base under its teeth.
pub const UPPER: Tint = Tint([0x6F, 0x90, 0xB4]);
/// The lower member.
pub const LOWER: Tint = Tint([0xCD, 0xA9, 0x62]);
/// Upper teeth.
pub const UPPER_TEETH: Tint = Tint([0xE9, 0xEF, 0xF5]);
/// Lower teeth.
pub const LOWER_TEETH: Tint = Tint([0xCC, 0xC0, 0xAC]);
/// Gum and base of an upper cast.
pub const UPPER_GUM: Tint = Tint([0xA8, 0x8C, 0xA0]);
/// Gum and base of a lower cast.
pub const LOWER_GUM: Tint = Tint([0x8C, 0x6C, 0x66]);
/// The outline of teeth.
pub const RIM: Tint = Tint([0x3C, 0x42, 0x4A]);
/// Lines of the upper cast in a section.
pub const UPPER_LINE: Tint = Tint([0x2F, 0x5C, 0x8F]);
/// Lines of the lower cast in a section.
pub const LOWER_LINE: Tint = Tint([0x8A, 0x5E, 0x10]);
/// Where the casts pass through each other, always beside its word.
pub const PIERCED: Tint = Tint([0xFF, 0xB0, 0x00]);
/// What film prints.
pub const PRINTED: Tint = Tint([0x2A, 0x1A, 0x5E]);
/// Where a clearance map has nothing to show.
pub const NOTHING_OPPOSITE: Tint = Tint([0xDC, 0xD9, 0xD2]);
/// The spheres.
pub const SPHERE: Tint = Tint([0x3B, 0x3F, 0x45]);
/// Superior walls of the condylar guides.
pub const SUPERIOR_WALL: Tint = Tint([0x56, 0xB4, 0xE9]);
/// Medial walls.
pub const MEDIAL_WALL: Tint = Tint([0xCC, 0x79, 0xA7]);
/// Walls of lateroretrusion and laterosurtrusion, which steer the working condyle.
pub const WORKING_WALL: Tint = Tint([0x77, 0x6E, 0x5A]);
/// The plate of the anterior guide.
pub const PLATE: Tint = Tint([0x00, 0x9E, 0x73]);
/// The wings of the anterior guide.
pub const WING: Tint = Tint([0x58, 0xC2, 0xA4]);
/// The plate that a tracing is drawn on.
pub const TRACING_PLATE: Tint = Tint([0xD8, 0xDC, 0xD6]);
/// The grooves of a split cast, on its primary base.
pub const GROOVE: Tint = Tint([0xD5, 0x5E, 0x00]);
/// The keys that lie in them, on its secondary base.
pub const KEY: Tint = Tint([0x00, 0x4E, 0x9C]);
/// The mark on each sphere's centre.
pub const CENTRE_MARK: Tint = Tint([0xFF, 0xE1, 0x4D]);
/// A second set-up, always dotted or dashed and called B.
pub const GHOST: Tint = Tint([0x6A, 0x3F, 0x96]);
/// An interference, always with its word and its cross.
pub const INTERFERENCE: Tint = Tint([0xA8, 0x00, 0x26]);
/// What is in use: the button pressed, the slider's filled part.
pub const ACTIVE: Tint = Tint([0x1E, 0x5F, 0x8C]);

/// Colours of the cusps chosen, in order; each goes with its own [`Shape`].
pub const CUSPS: [Tint; 6] = [
    Tint([0xD5, 0x5E, 0x00]),
    Tint([0x00, 0x4E, 0x9C]),
    Tint([0x1B, 0x96, 0x70]),
    Tint([0xB6, 0x73, 0xB3]),
    Tint([0x4A, 0x18, 0x50]),
    Tint([0x6B, 0x5E, 0x2D]),
];

/// From contact to the farthest gap shown. Every step is lighter than the one before by about as much,
/// so the scale is read by lightness alone, which no want of a cone takes away; it goes to the pale
/// stone of the casts, so that what is far off steps back.
pub const CLEARANCE: [Tint; 6] = [
    Tint([0x10, 0x20, 0x4F]),
    Tint([0x1F, 0x4E, 0x79]),
    Tint([0x2F, 0x7D, 0x96]),
    Tint([0x63, 0xA9, 0xA8]),
    Tint([0xA9, 0xCF, 0xBD]),
    Tint([0xE6, 0xEF, 0xDF]),
];
/// A gap above this much below zero is contact, not piercing, in millimetres: casts that were closed
/// until they touch lie within rounding and the flatness of their triangles of it.
pub const PIERCED_FROM_MM: f64 = 0.001;

/// The colour of a gap that is not below zero, given as a part of the farthest one shown.
#[must_use]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss)] // a byte, five steps
pub fn clearance(part: f64) -> Tint {
    let steps = CLEARANCE.len() - 1;
    let along = part.clamp(0.0, 1.0) * steps as f64;
    let step = (along as usize).min(steps - 1);
    let within = along - step as f64;
    let (Tint(from), Tint(to)) = (CLEARANCE[step], CLEARANCE[step + 1]);
    let mix = |k: usize| f64::from(from[k]) + (f64::from(to[k]) - f64::from(from[k])) * within;
    Tint([0, 1, 2].map(|k| mix(k).round() as u8))
}

/// The shape that marks a cusp.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A disc.
    Circle,
    /// A square on its side.
    Square,
    /// A triangle on its base.
    Triangle,
    /// A square on its corner.
    Diamond,
    /// A triangle on its tip.
    Wedge,
    /// Six corners.
    Hexagon,
}

/// Colour and shape of the cusp at a place in the scene's list.
#[must_use]
pub const fn cusp(index: usize) -> (Tint, Shape) {
    const SHAPES: [Shape; 6] =
        [Shape::Circle, Shape::Square, Shape::Triangle, Shape::Diamond, Shape::Wedge, Shape::Hexagon];
    (CUSPS[index % CUSPS.len()], SHAPES[(index + index / CUSPS.len()) % SHAPES.len()])
}

/// Exponent with which the graphics crate encodes what a material gives out.
pub const GAMMA: f32 = 2.2;

impl Tint {
    /// For the panels and the marks.
    #[must_use]
    pub const fn egui(self) -> Color32 {
        let [r, g, b] = self.0;
        Color32::from_rgb(r, g, b)
    }

    /// For the material, the lines and the background.
    #[must_use]
    pub fn linear(self) -> Color {
        let [r, g, b] = self.0.map(|channel| (f32::from(channel) / 255.0).powf(GAMMA));
        Color::new(r, g, b, 1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Linear RGB seen by a dichromat, severity 1.0: Machado GM, Oliveira MM, Fernandes LAF, A
    /// physiologically-based model for simulation of color vision deficiency, IEEE Trans Vis
    /// Comput Graph 2009;15:1291–1298 (matrices from memory; each row sums to 1).
    const PROTANOPIA: [[f64; 3]; 3] = [
        [0.152_286, 1.052_583, -0.204_868],
        [0.114_503, 0.786_281, 0.099_216],
        [-0.003_882, -0.048_116, 1.051_998],
    ];
    const DEUTERANOPIA: [[f64; 3]; 3] = [
        [0.367_322, 0.860_646, -0.227_968],
        [0.280_085, 0.672_501, 0.047_413],
        [-0.011_820, 0.042_940, 0.968_881],
    ];
    const TRITANOPIA: [[f64; 3]; 3] = [
        [1.255_528, -0.076_749, -0.178_779],
        [-0.078_411, 0.930_809, 0.147_602],
        [0.004_733, 0.691_367, 0.303_900],
    ];
    const TRICHROMACY: [[f64; 3]; 3] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];

    /// Colour differences (CIE 1976 ΔE) below this are taken as hard to tell apart in small marks;
    /// a just noticeable difference of large patches is about 2.3.
    const APART: f64 = 15.0;

    fn lab(tint: Tint, seen: [[f64; 3]; 3]) -> [f64; 3] {
        let linear = tint.0.map(|channel| {
            let c = f64::from(channel) / 255.0;
            if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        });
        let dot = |row: [f64; 3], v: [f64; 3]| row[0] * v[0] + row[1] * v[1] + row[2] * v[2];
        let rgb = seen.map(|row| dot(row, linear).clamp(0.0, 1.0));
        // sRGB primaries to XYZ relative to the D65 white.
        let xyz = [
            dot([0.412_456_4, 0.357_576_1, 0.180_437_5], rgb) / 0.950_47,
            dot([0.212_672_9, 0.715_152_2, 0.072_175_0], rgb),
            dot([0.019_333_9, 0.119_192_0, 0.950_304_1], rgb) / 1.088_83,
        ]
        .map(|t| if t > 0.008_856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 });
        [116.0 * xyz[1] - 16.0, 500.0 * (xyz[0] - xyz[1]), 200.0 * (xyz[1] - xyz[2])]
    }

    fn least_difference(tints: &[Tint]) -> (f64, String) {
        let mut least = (f64::INFINITY, String::new());
        for (name, seen) in [
            ("trichromacy", TRICHROMACY),
            ("protanopia", PROTANOPIA),
            ("deuteranopia", DEUTERANOPIA),
            ("tritanopia", TRITANOPIA),
        ] {
            for (i, a) in tints.iter().enumerate() {
                for b in &tints[i + 1..] {
                    let (a_lab, b_lab) = (lab(*a, seen), lab(*b, seen));
                    let difference = (0..3).map(|k| (a_lab[k] - b_lab[k]).powi(2)).sum::<f64>().sqrt();
                    if difference < least.0 {
                        least = (difference, format!("{a:?} and {b:?} under {name}"));
                    }
                }
            }
        }
        least
    }

    #[test]
    fn every_row_of_the_simulation_keeps_white_white() {
        for row in [PROTANOPIA, DEUTERANOPIA, TRITANOPIA].concat() {
            assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-5);
        }
    }

    #[test]
    fn cusp_colours_can_be_told_apart_without_one_cone() {
        let (difference, pair) = least_difference(&CUSPS);
        assert!(difference > APART, "{difference:.1}: {pair}");
    }

    #[test]
    fn the_two_members_and_the_walls_can_be_told_apart_without_one_cone() {
        for group in [
            vec![UPPER, LOWER],
            vec![SUPERIOR_WALL, MEDIAL_WALL, WORKING_WALL],
            vec![INTERFERENCE, PANEL],
            vec![INTERFERENCE, INK, ACTIVE],
        ] {
            let (difference, pair) = least_difference(&group);
            assert!(difference > APART, "{difference:.1}: {pair}");
        }
    }

    #[test]
    fn the_clearance_scale_is_read_by_lightness_whichever_cone_is_wanting() {
        for seen in [TRICHROMACY, PROTANOPIA, DEUTERANOPIA, TRITANOPIA] {
            let lightness: Vec<f64> =
                (0..=20_u8).map(|step| lab(clearance(f64::from(step) / 20.0), seen)[0]).collect();
            let steps: Vec<f64> = lightness.windows(2).map(|pair| pair[1] - pair[0]).collect();
            let (least, greatest) =
                steps.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), step| (a.min(*step), b.max(*step)));
            // Twenty steps over some eighty units of L*: none missing, none more than twice another.
            assert!(least > 2.0 && greatest < 2.0 * least, "{least:.1} to {greatest:.1}: {lightness:.0?}");
        }
    }

    #[test]
    fn piercing_and_print_stand_apart_from_the_scale_and_the_stone() {
        let scale: Vec<Tint> = (0..=20_u8).map(|step| clearance(f64::from(step) / 20.0)).collect();
        let stone = [UPPER_TEETH, LOWER_TEETH, UPPER_GUM, LOWER_GUM, NOTHING_OPPOSITE];
        for other in scale.iter().chain(&stone).chain(&[PRINTED]) {
            let (difference, pair) = least_difference(&[PIERCED, *other]);
            assert!(difference > 2.0 * APART, "{difference:.1}: {pair}");
        }
        for other in stone {
            let (difference, pair) = least_difference(&[PRINTED, other]);
            assert!(difference > 2.0 * APART, "{difference:.1}: {pair}");
        }
        let (difference, pair) = least_difference(&[UPPER_LINE, LOWER_LINE]);
        assert!(difference > APART, "{difference:.1}: {pair}");
    }

    #[test]
    fn teeth_are_edged_against_the_ground_and_told_apart_from_each_other_and_from_gum() {
        let luminance = |tint: Tint| {
            let l = lab(tint, TRICHROMACY)[0];
            if l > 8.0 { ((l + 16.0) / 116.0).powi(3) } else { l / 903.3 }
        };
        let ratio = |a: Tint, b: Tint| {
            let (a, b) = (luminance(a), luminance(b));
            (a.max(b) + 0.05) / (a.min(b) + 0.05)
        };
        // 3:1 is what the web accessibility guidelines (1.4.11) ask of what must be seen.
        for light in [PAPER, WHITE, UPPER_TEETH, LOWER_TEETH] {
            assert!(ratio(RIM, light) > 3.0, "{light:?}: {:.2}", ratio(RIM, light));
        }
        for (a, b) in [(UPPER_TEETH, LOWER_TEETH), (UPPER_TEETH, UPPER_GUM), (LOWER_TEETH, LOWER_GUM)] {
            assert!(ratio(a, b) > 1.4, "{a:?} {b:?}: {:.2}", ratio(a, b));
            let (difference, pair) = least_difference(&[a, b]);
            assert!(difference > APART, "{difference:.1}: {pair}");
        }
    }

    /// Contrast ratio of relative luminances, of a dark colour on a light one.
    fn contrast(dark: Tint, light: Tint) -> f64 {
        let luminance = |tint: Tint| {
            let l = lab(tint, TRICHROMACY)[0];
            if l > 8.0 { ((l + 16.0) / 116.0).powi(3) } else { l / 903.3 }
        };
        (luminance(light) + 0.05) / (luminance(dark) + 0.05)
    }

    #[test]
    fn curves_rails_edges_and_the_ring_of_the_keyboard_stand_out() {
        // 3 is what the web accessibility guidelines ask of what must be seen and is no text.
        let other = [RAIL, EDGE, FOCUS, ACTIVE, DEEP];
        for tint in CUSPS.iter().chain(&other) {
            for behind in [PAPER, PANEL, WHITE] {
                let ratio = contrast(*tint, behind);
                assert!(ratio > 3.0, "{tint:?} on {behind:?}: {ratio:.2}");
            }
        }
    }

    #[test]
    fn text_stands_out_from_what_is_behind_it() {
        // 4.5 is what the web accessibility guidelines ask.
        for text in [INK, PENCIL, INTERFERENCE, ACTIVE, UPPER_LINE, LOWER_LINE, GHOST] {
            for behind in [PAPER, PANEL] {
                let ratio = contrast(text, behind);
                assert!(ratio > 4.5, "{text:?} on {behind:?}: {ratio:.2}");
            }
        }
    }

    #[test]
    fn the_first_dozen_cusps_differ_in_colour_or_shape() {
        for i in 0..12 {
            for j in 0..i {
                assert_ne!(cusp(i), cusp(j), "{i} and {j}");
            }
        }
    }
}
