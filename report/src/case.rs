//! A case read and worked through: what `program` and `sheet` report.

use sim_core::frame::Side;
use sim_core::programmed::AnteriorSource;
use sim_core::record::fit::{BenchFit, close_the_gap};
use sim_core::record::program::{ProgramError, Programmed};
use sim_core::record::warning::Warning;
use sim_core::record::{Case, MountingFields, NamedAxis};
use sim_core::scene::Scene;
use sim_core::units::Length;
use words::number::{length, percent_with};

use crate::anterior::AnteriorSettings;

/// A case worked through.
#[derive(Clone, Debug)]
pub struct WorkedCase {
    /// Name of its file.
    pub name: String,
    /// The file as it was read.
    pub text: String,
    /// What was read.
    pub case: Case,
    /// The settings found, with how sure they are.
    pub programmed: Programmed,
    /// The programmed instrument; none where the settings are withheld.
    pub scene: Option<Scene>,
    /// Where its anterior guide comes from; none likewise.
    pub anterior: Option<AnteriorSource>,
    /// What the scene took for want of a field, in words; the warnings have it too.
    pub assumed: Vec<String>,
    /// The settings by the bench way; none where they are withheld or the grooves do not fix them.
    pub bench: Option<BenchFit>,
    /// How far each record goes along the occlusal plane, as a tracing shows it, in their order; nothing
    /// for a centric repeat.
    pub distances: Vec<Option<Length>>,
    /// What to doubt, in words.
    pub warnings: Vec<String>,
}

impl WorkedCase {
    /// Works a case through; `name` is its file's and `text` what stands in it.
    ///
    /// # Errors
    ///
    /// Where the records give no settings; the error names the field.
    pub fn of(case: Case, name: String, text: String) -> Result<Self, ProgramError> {
        let programmed = case.program()?;
        let made = case.scene(&programmed)?;
        let in_words = |warnings: &[Warning]| warnings.iter().map(words::verdict::warning::warning).collect();
        let assumed: Vec<String> = made.as_ref().map(|made| in_words(&made.warnings)).unwrap_or_default();
        let (scene, anterior) = made.map(|made| (made.scene, made.anterior)).unzip();
        let mut warnings: Vec<String> = in_words(&programmed.warnings);
        warnings.extend_from_slice(&assumed);
        // Scales and gaps at trial angles are not poses, whose gap could be closed in this way.
        let has_poses = programmed.records.iter().any(|record| record.closes_by_pose());
        let can_close = has_poses && programmed.settings.is_some();
        let bench = can_close.then(|| close_the_gap(&case, &programmed)).transpose();
        let bench = bench.unwrap_or_else(|why| {
            warnings.push(format!("the settings cannot also be found by closing the split-cast gap: {why}"));
            None
        });
        let distances = case.record_distances(&programmed)?;
        Ok(Self { name, text, case, programmed, scene, anterior, assumed, bench, distances, warnings })
    }

    /// Whether a repeat of the centric record speaks against it, so that settings are withheld.
    #[must_use]
    pub fn is_refuted(&self) -> bool {
        self.programmed.centric.as_ref().is_some_and(|check| !check.confirmed)
    }

    /// Which mounting and which instrument, in a sentence.
    pub fn mounting_words(&self) -> String {
        let how = match &self.case.mounting {
            MountingFields::FaceBow { .. } => self.with_axis("Mounted by face-bow"),
            MountingFields::Average { .. } => self.with_axis("Mounted by averages"),
            MountingFields::Named { axis, anterior_reference, .. } => {
                let axis = match axis {
                    NamedAxis::Located => "located".to_owned(),
                    NamedAxis::Arbitrary(rule) => format!("arbitrary, {rule}"),
                };
                format!("Mounted by face-bow; axis {axis}; anterior reference point {anterior_reference}")
            }
        };
        format!(
            "{how}; {} instrument, intercondylar distance {}.",
            self.case.design.name(),
            length(self.programmed.intercondylar_distance, 1),
        )
    }

    /// The anterior guide to be set; none where the settings are withheld.
    pub fn anterior_settings(&self) -> Option<AnteriorSettings> {
        let guide = &self.scene.as_ref()?.instrument.anterior_guide;
        Some(AnteriorSettings::of_case(&self.case, guide, self.anterior?))
    }

    /// The plane that the inclination H is to, in a sentence: the same joint has another H to another plane.
    pub fn reference_words(&self) -> String {
        match &self.case.mounting {
            MountingFields::FaceBow { .. } => "H is to the horizontal reference plane through the axis and the \
                                               anterior reference point of the face-bow"
                .to_owned(),
            MountingFields::Average { .. } => "H is to the occlusal plane, which a mounting by averages lays level; on \
                                               an instrument whose horizontal is another plane it is another number"
                .to_owned(),
            MountingFields::Named { anterior_reference, .. } => {
                format!("H is to the horizontal reference plane through the axis and {anterior_reference}")
            }
        }
    }

    fn with_axis(&self, how: &str) -> String {
        format!("{how}; axis {} long", length(self.programmed.mounting.axis_length(), 1))
    }

    /// The verdict on the centric record: its word, and the sentences that go with it.
    pub fn centric_verdict(&self) -> (&'static str, String) {
        let Some(check) = &self.programmed.centric else {
            return (
                "NOT CHECKED",
                "No repeat of the centric record is given: nothing confirms the position that every setting \
                 starts from."
                    .to_owned(),
            );
        };
        let gaps = format!(
            "The largest gap is {}, the tolerance {}.",
            length(check.largest_gap, 2),
            length(self.case.split_cast_tolerance_mm.length(), 2),
        );
        let alarm = match check.false_alarm {
            Some(share) => format!(
                " At the stated noise of {}, {} of sound records would be rejected by chance.",
                if self.case.lower_landmarks.is_some() { "the landmarks" } else { "the caliper" },
                per_cent(share),
            ),
            None => {
                " Nothing says how noisy the record is, so how often chance alone would reject a sound one \
                     is not known."
                    .to_owned()
            }
        };
        if check.confirmed {
            ("CONFIRMED", gaps + &alarm)
        } else {
            let off = format!(
                " Measured against the repeat, the tentative record is off: {}. Settings are withheld; the \
                 centric record is taken again.",
                words::verdict::centric::tentative_is_off(check),
            );
            ("NOT CONFIRMED", gaps + &off + &alarm)
        }
    }

    /// The immediate translation of a side, millimetres.
    pub fn immediate_translation_mm(&self, side: Side) -> f64 {
        self.case.immediate_translation_mm.of(side).mm()
    }
}

/// The last part of a path: the folders are nobody's business on paper.
pub fn file_name(path: &str) -> String {
    let name = std::path::Path::new(path).file_name();
    name.map_or_else(|| path.to_owned(), |name| name.to_string_lossy().into_owned())
}

/// A probability in per cent, as exactly as it is known.
fn per_cent(share: f64) -> String {
    if share > 0.0 && share < 0.001 { "less than 0.1 %".to_owned() } else { percent_with(share, 1) }
}
