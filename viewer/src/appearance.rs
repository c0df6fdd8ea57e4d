//! How the window looks to whoever sits in front of it: size of the words, contrast, panels folded away.

use serde::Serialize;

/// Sizes of the words that a key steps through, as multiples of the usual one.
const SIZES: [f32; 7] = [0.9, 1.0, 1.15, 1.3, 1.5, 1.75, 2.0];

/// Panels that can be folded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fold {
    /// The settings on the left.
    Settings,
    /// The panel on the right.
    Readings,
    /// Both, which leaves the picture alone.
    Both,
}

/// How the window looks.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Appearance {
    /// Size of the words, as a multiple of the usual one.
    pub text_scale: f32,
    /// Black on white, with strong edges.
    pub high_contrast: bool,
    /// The settings are folded away.
    pub settings_folded: bool,
    /// The panel on the right is folded away.
    pub readings_folded: bool,
    /// No panel at all: the picture with its legend, and the caution.
    pub picture_alone: bool,
    /// Play and the place on the excursion all the same, under the picture alone.
    pub transport_too: bool,
}

impl Default for Appearance {
    fn default() -> Self {
        Self {
            text_scale: 1.0,
            high_contrast: false,
            settings_folded: false,
            readings_folded: false,
            picture_alone: false,
            transport_too: false,
        }
    }
}

impl Appearance {
    /// The next larger or smaller words, if there are any.
    pub fn enlarge(&mut self, larger: bool) {
        let next = if larger {
            SIZES.into_iter().find(|size| *size > self.text_scale + 1e-3)
        } else {
            SIZES.into_iter().rev().find(|size| *size < self.text_scale - 1e-3)
        };
        self.text_scale = next.unwrap_or(self.text_scale);
    }

    /// Folds a panel away, or shows it again.
    pub const fn fold(&mut self, panel: Fold) {
        match panel {
            Fold::Settings => self.settings_folded = !self.settings_folded,
            Fold::Readings => self.readings_folded = !self.readings_folded,
            Fold::Both => {
                let fold = !(self.settings_folded && self.readings_folded);
                self.settings_folded = fold;
                self.readings_folded = fold;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_grow_to_twice_their_size_and_come_back() {
        let mut appearance = Appearance::default();
        for _ in 0..20 {
            appearance.enlarge(true);
        }
        assert!((appearance.text_scale - 2.0).abs() < 1e-6);
        for _ in 0..20 {
            appearance.enlarge(false);
        }
        assert!((appearance.text_scale - 0.9).abs() < 1e-6);
    }

    #[test]
    fn the_picture_alone_is_both_panels_folded_and_shows_both_again() {
        let mut appearance = Appearance::default();
        appearance.fold(Fold::Settings);
        appearance.fold(Fold::Both);
        assert!(appearance.settings_folded && appearance.readings_folded);
        appearance.fold(Fold::Both);
        assert_eq!(appearance, Appearance::default());
    }
}
