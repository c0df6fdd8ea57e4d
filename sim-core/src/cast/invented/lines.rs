//! Where crests and contours run along the arch: how far outward of the arch line.

use super::InventedCasts;
use super::teeth::TEETH;

/// Lines that run along an arch, from the tongue outward; grid lines follow them.
pub(super) mod line {
    /// Lower lingual contour.
    pub(in super::super) const LOWER_LINGUAL_CONTOUR: usize = 0;
    /// Lower lingual cusps and cingula.
    pub(in super::super) const LOWER_LINGUAL: usize = 1;
    /// Upper palatal contour.
    pub(in super::super) const UPPER_PALATAL_CONTOUR: usize = 2;
    /// Upper palatal cusps and cingula, over the lower central grooves.
    pub(in super::super) const UPPER_PALATAL: usize = 3;
    /// The arch line: lower buccal cusps and incisal edges, under the upper central grooves.
    pub(in super::super) const LOWER_BUCCAL: usize = 4;
    /// Lower buccal contour.
    pub(in super::super) const LOWER_BUCCAL_CONTOUR: usize = 5;
    /// Upper buccal cusps and incisal edges.
    pub(in super::super) const UPPER_BUCCAL: usize = 6;
    /// Upper buccal contour.
    pub(in super::super) const UPPER_BUCCAL_CONTOUR: usize = 7;
}

/// Number of lines.
pub(super) const LINES: usize = 8;

/// Distance between the two rows of cusps of a back tooth, over two, by place; for front teeth
/// nothing. Ours, so that crowns come out about as thick as published ones.
pub(super) const HALF_ROWS_MM: [f64; TEETH] = [0.0, 0.0, 0.0, 2.1, 2.3, 2.9, 2.8];

/// Least distance between the upper palatal contour and the lower lingual cusps inside of it.
const BESIDE_MM: f64 = 0.4;
/// Thickness of an upper front tooth from its labial contour to its palatal one, and what of it
/// stands in front of the edge.
const FRONT_THICKNESS_MM: f64 = 6.5;
const FRONT_LABIAL_MM: f64 = 0.9;

/// How far outward each line runs at the middle of each lower tooth, and in between smoothly.
#[derive(Clone, Debug)]
pub(super) struct Lines {
    at_teeth: [[f64; LINES]; TEETH],
    /// How far outward the upper crowns touch each other, there.
    upper_contacts: [f64; TEETH],
    /// Middles of the lower teeth along the arch line.
    middles: [f64; TEETH],
}

impl Lines {
    pub(super) fn new(casts: &InventedCasts, middles: [f64; TEETH]) -> Self {
        let overjet = casts.overjet.mm();
        let at_teeth = std::array::from_fn(|index| tooth_lines(index, overjet));
        let upper_contacts = std::array::from_fn(|index| {
            const SHARE: [f64; TEETH] = [1.0, 1.0, 0.8, 0.4, 0.1, 0.0, 0.0];
            SHARE[index] * at_teeth[index][line::UPPER_BUCCAL]
        });
        Self { at_teeth, upper_contacts, middles }
    }

    /// All lines so far along the arch.
    pub(super) fn at(&self, along: f64) -> [f64; LINES] {
        let (index, part) = self.between(along);
        let next = (index + 1).min(TEETH - 1);
        std::array::from_fn(|line| {
            self.at_teeth[index][line] * (1.0 - part) + self.at_teeth[next][line] * part
        })
    }

    /// Where the upper crowns touch each other.
    pub(super) fn upper_contact(&self, along: f64) -> f64 {
        self.by_tooth(&self.upper_contacts, along)
    }

    /// A number known at the middle of each lower tooth, smoothly in between.
    pub(super) fn by_tooth(&self, numbers: &[f64; TEETH], along: f64) -> f64 {
        let (index, part) = self.between(along);
        numbers[index] * (1.0 - part) + numbers[(index + 1).min(TEETH - 1)] * part
    }

    /// Greatest distance from one line to the next.
    pub(super) fn widest(&self, line: usize) -> f64 {
        self.at_teeth.iter().map(|lines| lines[line + 1] - lines[line]).fold(0.0, f64::max)
    }

    fn between(&self, along: f64) -> (usize, f64) {
        let next = self.middles.partition_point(|&middle| middle <= along);
        if next == 0 {
            (0, 0.0)
        } else if next == TEETH {
            (TEETH - 1, 0.0)
        } else {
            let (from, to) = (self.middles[next - 1], self.middles[next]);
            (next - 1, eased((along - from) / (to - from)))
        }
    }
}

/// From 0 to 1 with no slope at either end; constant outside.
pub(super) fn eased(part: f64) -> f64 {
    let part = part.clamp(0.0, 1.0);
    part * part * (3.0 - 2.0 * part)
}

fn tooth_lines(index: usize, overjet: f64) -> [f64; LINES] {
    const LINGUAL: [f64; TEETH] = [4.2, 4.3, 4.6, 4.2, 4.6, 5.8, 5.6];
    const LOWER_LINGUAL_WALL: [f64; TEETH] = [0.9, 0.9, 1.3, 1.6, 1.8, 2.2, 2.1];
    const LOWER_BUCCAL_WALL: [f64; TEETH] = [0.7, 0.7, 1.2, 1.7, 1.8, 2.3, 2.2];
    const UPPER_PALATAL_WALL: [f64; TEETH] = [0.0, 0.0, 0.0, 1.9, 2.0, 2.3, 2.2];
    const UPPER_BUCCAL_WALL: [f64; TEETH] = [FRONT_LABIAL_MM, FRONT_LABIAL_MM, 1.4, 2.2, 2.2, 2.4, 2.4];
    let rows = HALF_ROWS_MM[index];
    let lower_lingual = -LINGUAL[index];
    let least_palatal = lower_lingual + BESIDE_MM;
    let (palatal_contour, palatal, upper_buccal) = if rows > 0.0 {
        ((-rows - UPPER_PALATAL_WALL[index]).max(least_palatal), -rows, rows)
    } else {
        let contour = -(FRONT_THICKNESS_MM - FRONT_LABIAL_MM - overjet).max(1.6);
        let contour = contour.max(least_palatal);
        (contour, contour / 2.0, overjet)
    };
    // The lower contour stays behind the upper edge, however little overjet there is.
    let lower_contour = LOWER_BUCCAL_WALL[index].min(0.85 * upper_buccal);
    [
        lower_lingual - LOWER_LINGUAL_WALL[index],
        lower_lingual,
        palatal_contour,
        palatal,
        0.0,
        lower_contour,
        upper_buccal,
        upper_buccal + UPPER_BUCCAL_WALL[index],
    ]
}
