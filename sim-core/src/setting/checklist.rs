//! What an examiner asks of an instrument before a patient's casts are mounted.

use super::Choice;
use super::{Departure, check_zeroed};
use crate::anterior::{AnteriorGuide, Trough};
use crate::instrument::{Baseline, IncisalPoint, Instrument};

/// One question of the list (common practice, no source).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaselineCheck {
    /// The pin's tip in the middle of the table, from side to side.
    PinAcross,
    /// The pin's tip in the middle of the table, from front to back.
    PinForeAndAft,
    /// The wings of the table level.
    Wings,
    /// The plate of the table level.
    Plate,
    /// Both condylar guides at their zero.
    Guides,
    /// The mark of the pin flush with the upper member.
    PinMark,
    /// No play from side to side with the centric locks closed.
    SidePlay,
    /// The centric locks hold, and open.
    Locks,
}

/// What a scene says to a question.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// It stands as the baseline has it.
    Stands,
    /// These settings depart from it.
    Off(Vec<Departure>),
    /// No scene can tell; one has to look at the instrument.
    CannotTell,
}

/// A question and what the scene says to it.
#[derive(Clone, Debug, PartialEq)]
pub struct ChecklistItem {
    /// The question.
    pub check: BaselineCheck,
    /// What the scene says.
    pub standing: Standing,
}

impl BaselineCheck {
    /// Every question, in the order in which an instrument is looked over.
    pub const ALL: [Self; 8] = [
        Self::PinAcross,
        Self::PinForeAndAft,
        Self::Wings,
        Self::Plate,
        Self::Guides,
        Self::PinMark,
        Self::SidePlay,
        Self::Locks,
    ];

    /// `pin_across`: the word that output for other programs uses.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::PinAcross => "pin_across",
            Self::PinForeAndAft => "pin_fore_and_aft",
            Self::Wings => "wings",
            Self::Plate => "plate",
            Self::Guides => "guides",
            Self::PinMark => "pin_mark",
            Self::SidePlay => "side_play",
            Self::Locks => "locks",
        }
    }

    /// Whether a departure is an answer to this question, on an instrument with that anterior guide.
    fn is_about(self, departure: &Departure, front: &AnteriorGuide) -> bool {
        let is = |key: &str| departure.key == key || departure.key.ends_with(&format!(".{key}"));
        let another_guide = departure.key == Choice::AnteriorGuide.key();
        // Incisors have no pin; a table formed to the teeth has no wings and no plate to level.
        let no_pin = matches!(front, AnteriorGuide::Incisors(_));
        let no_planes = no_pin || front.trough().is_none();
        match self {
            Self::PinAcross => {
                if another_guide {
                    no_pin
                } else {
                    departure.key.starts_with("incisal_point_mm.") && is(IncisalPoint::Y.facts.key)
                }
            }
            Self::PinForeAndAft => another_guide && no_pin,
            Self::Wings if another_guide => no_planes,
            Self::Wings => [&Trough::RIGHT_WING, &Trough::LEFT_WING, &Trough::FLAT_HALF_WIDTH]
                .iter()
                .any(|wing| is(wing.facts.key)),
            Self::Plate => another_guide || is(Trough::SAGITTAL_INCLINATION.facts.key),
            Self::Guides => departure.side.is_some(),
            Self::PinMark if another_guide => no_pin,
            Self::PinMark => is(Instrument::PIN_EXTENSION.facts.key),
            Self::SidePlay | Self::Locks => false,
        }
    }

    /// Whether settings tell it at all. A scene's table passes through the pin's tip wherever that is,
    /// and play and locks are no settings.
    const fn is_told_by_settings(self) -> bool {
        !matches!(self, Self::PinForeAndAft | Self::SidePlay | Self::Locks)
    }
}

/// What a scene's instrument says to each question, measured by the baseline at which it starts.
#[must_use]
pub fn baseline_checklist(instrument: &Instrument, baseline: &Baseline) -> Vec<ChecklistItem> {
    let departures = check_zeroed(instrument, baseline);
    let item = |check: BaselineCheck| {
        let about = |departure: &&Departure| check.is_about(departure, &instrument.anterior_guide);
        let off: Vec<Departure> = departures.iter().filter(about).cloned().collect();
        let standing = match (off.is_empty(), check.is_told_by_settings()) {
            (false, _) => Standing::Off(off),
            (true, true) => Standing::Stands,
            (true, false) => Standing::CannotTell,
        };
        ChecklistItem { check, standing }
    };
    BaselineCheck::ALL.into_iter().map(item).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::anterior::HeightField;
    use crate::frame::Side;
    use crate::guide::{ArcPath, GuidePath};
    use crate::scene::Scene;
    use crate::setting::all;
    use crate::units::Length;

    fn off(instrument: &Instrument, baseline: &Baseline) -> Vec<BaselineCheck> {
        let items = baseline_checklist(instrument, baseline);
        items
            .into_iter()
            .filter(|item| matches!(item.standing, Standing::Off(_)))
            .map(|item| item.check)
            .collect()
    }

    #[test]
    fn a_zeroed_instrument_stands_in_all_that_settings_tell_and_the_rest_is_to_be_looked_at() {
        let items = baseline_checklist(&Instrument::zeroed(), &Baseline::example());
        assert_eq!(items.len(), 8);
        for ChecklistItem { check, standing } in items {
            let look = matches!(
                check,
                BaselineCheck::PinForeAndAft | BaselineCheck::SidePlay | BaselineCheck::Locks
            );
            assert_eq!(standing, if look { Standing::CannotTell } else { Standing::Stands }, "{check:?}");
        }
    }

    #[test]
    fn every_setting_that_zeroing_speaks_of_answers_exactly_one_question() {
        for setting in all().filter(|setting| setting.facts().zeroed.is_some()) {
            let mut scene = Scene { instrument: Instrument::zeroed(), ..Scene::thirty_degree() };
            let facts = setting.facts();
            setting
                .set(&mut scene, Side::Left, facts.zeroed.expect("a start") + facts.step)
                .expect("in range");
            let wanted = match setting.key().as_str() {
                "incisal_point_mm.y" => BaselineCheck::PinAcross,
                "anterior_guide.sagittal_inclination_deg" => BaselineCheck::Plate,
                "pin_extension_mm" => BaselineCheck::PinMark,
                key if key.starts_with("anterior_guide.") => BaselineCheck::Wings,
                _ => BaselineCheck::Guides,
            };
            assert_eq!(off(&scene.instrument, &Baseline::example()), [wanted], "{}", setting.key());
        }
        let mut arc = Instrument::zeroed();
        arc.right_guide.path = GuidePath::Arc(ArcPath { radius: Length::from_mm(20.0) });
        assert_eq!(off(&arc, &Baseline::example()), [BaselineCheck::Guides]);
    }

    #[test]
    fn another_anterior_guide_is_off_wherever_it_lacks_what_is_asked_for() {
        use BaselineCheck::{PinAcross, PinForeAndAft, PinMark, Plate, Wings};
        let with = |anterior_guide| Instrument { anterior_guide, ..Instrument::zeroed() };
        let formed = HeightField::new([-5.0, -5.0], 5.0, &[vec![0.0; 3], vec![0.0; 3], vec![0.0; 3]])
            .expect("a table");
        for (guide, wanted) in [
            (AnteriorGuide::Incisors(Trough::LEVEL), vec![PinAcross, PinForeAndAft, Wings, Plate, PinMark]),
            (AnteriorGuide::CustomTable(formed), vec![Wings, Plate]),
            (AnteriorGuide::Casts(Trough::LEVEL), vec![Plate]),
        ] {
            assert_eq!(off(&with(guide), &Baseline::example()), wanted);
        }
    }

    #[test]
    fn an_instrument_is_measured_by_its_own_baseline() {
        let own: Scene = Scene::from_ron(&Scene::thirty_degree().to_ron().replacen(
            "    title:",
            "    baseline: (lateral_angle_deg: 15.0, sagittal_inclination_deg: 35.0, right_wing_deg: 20.0, left_wing_deg: 20.0),\n    title:",
            1,
        ))
        .expect("a scene");
        assert_eq!(off(&own.instrument, &own.baseline_or_example()), []);
        assert_eq!(
            off(&own.instrument, &Baseline::example()),
            [BaselineCheck::Wings, BaselineCheck::Plate, BaselineCheck::Guides]
        );
        let zeroed = Instrument::zeroed().with_settings_zeroed(&own.baseline_or_example());
        assert_eq!(check_zeroed(&zeroed, &own.baseline_or_example()), []);
    }
}
