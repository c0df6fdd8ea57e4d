//! The anterior guide as it is to be set, and where each of its angles comes from.

use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::facts::{Entry, Facts};
use sim_core::frame::Side;
use sim_core::programmed::{AnteriorSource, WingSource};
use sim_core::record::{CanineGuidance, Case};
use words::number::length;

/// The anterior guide of an instrument.
#[derive(Debug, PartialEq)]
pub struct AnteriorSettings {
    /// What guides: `incisal table`, for instance.
    pub name: &'static str,
    /// Whether somebody sets it by a scale, as an incisal table; incisors have the angles they have.
    pub is_set_by_scale: bool,
    /// Its angles, and the half width of a plate that has one; empty where nothing is set by a scale.
    pub rows: Vec<AnteriorSetting>,
    /// What else is to be known of it.
    pub note: Option<String>,
}

/// One setting of the anterior guide.
#[derive(Debug, PartialEq)]
pub struct AnteriorSetting {
    /// Name and unit.
    pub facts: &'static Facts,
    /// Its value in that unit.
    pub value: f64,
    /// Where it comes from.
    pub from: String,
}

impl AnteriorSettings {
    /// Of a scene, whose settings are as somebody gave them.
    pub fn of_scene(guide: &AnteriorGuide) -> Self {
        Self::named(guide, |_| "as the scene has it".to_owned())
    }

    /// Of a programmed case.
    pub fn of_case(case: &Case, guide: &AnteriorGuide, source: AnteriorSource) -> Self {
        match source {
            AnteriorSource::Chosen => Self::named(guide, |_| "as the case gives it".to_owned()),
            AnteriorSource::Assumed => {
                Self { name: "not given", is_set_by_scale: false, rows: Vec::new(), note: None }
            }
            AnteriorSource::Computed { right_wing, left_wing } => {
                let guidance = case.incisal_guidance.as_ref();
                Self::named(guide, |key| match (key, guidance) {
                    ("sagittal_inclination_deg", Some(guidance)) => format!(
                        "overlap {} vertical, {} horizontal",
                        length(guidance.vertical_overlap_mm.length(), 2),
                        length(guidance.horizontal_overlap_mm.length(), 2),
                    ),
                    ("right_wing_deg", Some(guidance)) => wing(Side::Right, right_wing, guidance.left_canine),
                    ("left_wing_deg", Some(guidance)) => wing(Side::Left, left_wing, guidance.right_canine),
                    _ => "a computed table has none".to_owned(),
                })
            }
        }
    }

    fn named(guide: &AnteriorGuide, from: impl Fn(&str) -> String) -> Self {
        let (name, note) = match guide {
            AnteriorGuide::Table(_) => ("incisal table", None),
            AnteriorGuide::Incisors(_) => {
                ("upper incisors", Some("The incisors themselves guide; no incisal table is set.".to_owned()))
            }
            AnteriorGuide::Casts(_) => (
                "teeth of the casts",
                Some("The teeth guide; the table of these angles stands behind them.".to_owned()),
            ),
            AnteriorGuide::CustomTable(_) => (
                "custom incisal table",
                Some("A table formed to the teeth guides; it has no angles to set.".to_owned()),
            ),
        };
        let setting = |entry: &'static Entry<Trough>, trough: &Trough| AnteriorSetting {
            facts: &entry.facts,
            value: entry.value(trough),
            from: from(entry.facts.key),
        };
        let rows = guide.trough().into_iter().flat_map(|trough| {
            let is_worth_a_row = |row: &AnteriorSetting| {
                row.facts.key != Trough::FLAT_HALF_WIDTH.facts.key || row.value != 0.0
            };
            let rows = Trough::SETTINGS.iter().map(|entry| setting(entry, trough));
            rows.filter(is_worth_a_row).collect::<Vec<_>>()
        });
        let is_set_by_scale = matches!(guide, AnteriorGuide::Table(_) | AnteriorGuide::Casts(_));
        Self { name, is_set_by_scale, rows: rows.collect(), note }
    }
}

/// Where a wing comes from: in a movement to one side the pin runs up the wing of the other.
fn wing(side: Side, source: WingSource, canine: Option<CanineGuidance>) -> String {
    let to = side.opposite();
    match (source, canine) {
        (WingSource::Canine, Some(canine)) => format!(
            "{to} canine, {} up over {} outward",
            length(canine.rise_mm.length(), 2),
            length(canine.outward_mm.length(), 2)
        ),
        (WingSource::Records | WingSource::Canine, _) => format!("{to} lateral records"),
        (WingSource::Level, _) => format!("level: no {to} canine is given"),
    }
}

#[cfg(test)]
mod tests {
    use sim_core::record::{IncisalGuidance, Millimetres};
    use sim_core::units::{Angle, Length};

    use super::*;

    fn millimetres(mm: f64) -> Millimetres {
        Millimetres::new(Length::from_mm(mm)).expect("within bounds")
    }

    fn a_case() -> Case {
        sim_core::practice::deal(1, sim_core::practice::Level::First, &[]).expect("it can be dealt").case
    }

    /// The right canine is what the left wing stands for.
    #[test]
    fn a_computed_wing_is_of_the_other_sides_canine() {
        let mut case = a_case();
        case.anterior_guide = None;
        case.incisal_guidance = Some(IncisalGuidance {
            vertical_overlap_mm: millimetres(3.0),
            horizontal_overlap_mm: millimetres(2.0),
            right_canine: Some(CanineGuidance { rise_mm: millimetres(1.0), outward_mm: millimetres(2.0) }),
            left_canine: None,
            wings_from_records: false,
        });
        let made = case.scene(&case.program().expect("it programs")).expect("a scene").expect("confirmed");
        let told = AnteriorSettings::of_case(&case, &made.scene.instrument.anterior_guide, made.anterior);
        let row = |key: &str| told.rows.iter().find(|row| row.facts.key == key).expect("a row");
        let plate = row("sagittal_inclination_deg");
        assert!(plate.from.contains("3.00 mm vertical, 2.00 mm horizontal"), "{}", plate.from);
        // By hand: the overlap's slope to the occlusal plane, and the plane's own.
        let to_plane = (3.0_f64 / 2.0).atan().to_degrees();
        let plane = made.scene.occlusal_plane.inclination.degrees();
        assert!((plate.value - (to_plane + plane)).abs() < 1e-9, "{} {to_plane} {plane}", plate.value);
        let (left, right) = (row("left_wing_deg"), row("right_wing_deg"));
        assert_eq!(left.from, "right canine, 1.00 mm up over 2.00 mm outward");
        assert!((left.value - 0.5_f64.atan().to_degrees()).abs() < 1e-9, "{}", left.value);
        assert_eq!((right.from.as_str(), right.value), ("level: no left canine is given", 0.0));
        assert_eq!(told.rows.len(), 3, "a plate without a flat middle has no row for it");
    }

    #[test]
    fn a_case_that_says_nothing_has_no_angle_to_set() {
        let mut case = a_case();
        case.anterior_guide = None;
        let made = case.scene(&case.program().expect("it programs")).expect("a scene").expect("confirmed");
        assert_eq!(made.anterior, AnteriorSource::Assumed);
        let told = AnteriorSettings::of_case(&case, &made.scene.instrument.anterior_guide, made.anterior);
        assert_eq!((told.name, told.rows.as_slice(), told.is_set_by_scale), ("not given", &[][..], false));
    }

    #[test]
    fn a_scene_tells_its_own() {
        let trough = Trough {
            sagittal_inclination: Angle::from_degrees(12.0),
            flat_half_width: Length::from_mm(2.0),
            ..Trough::LEVEL
        };
        let told = AnteriorSettings::of_scene(&AnteriorGuide::Table(trough));
        assert_eq!(told.rows.iter().map(|row| row.value).collect::<Vec<_>>(), [12.0, 0.0, 0.0, 2.0]);
        let incisors = AnteriorSettings::of_scene(&AnteriorGuide::Incisors(trough));
        assert!(incisors.note.expect("a note").contains("no incisal table is set"));
    }
}
