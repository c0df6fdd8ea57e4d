//! Poses in which casts hold the jaw: those of the scenes with invented teeth.

use std::fmt::Write as _;
use std::sync::Arc;

use sim_core::cast::{Casts, ToothPlaces};
use sim_core::excursion::Mechanism;
use sim_core::scene::Scene;
use whole_checks::table::{Outcome, Row};

use crate::set_up::{place_columns, places};

const SCENES: [(&str, &str); 2] = [
    ("dentate_casts", include_str!("../../../scenes/dentate_casts.ron")),
    ("denture_casts", include_str!("../../../scenes/denture_casts.ron")),
];

const HEAD: &str = "\
# Poses of the scenes with invented teeth, solved natively by sim-core. Invented data: nobody's teeth.
# Made by web/maths/src/tooth_guided.rs: cargo test -p browser-maths -- --ignored
# Excursions and samples are counted from 0, in the order of the scene. Places as in poses.csv.
";

/// A pose of a scene.
pub struct Sample {
    /// Which: scene, excursion, sample.
    pub name: String,
    /// What stops the closing.
    pub guidance: &'static str,
    /// Where the three points of the upper member are, in millimetres.
    pub places: Vec<f64>,
}

/// Solves every scene.
///
/// # Errors
/// A scene that cannot be read or solved.
pub fn samples() -> Outcome<Vec<Sample>> {
    let mut samples = Vec::new();
    for (name, text) in SCENES {
        let mut scene = Scene::from_ron(text)?;
        let mechanism = mechanism(&mut scene)?;
        for (excursion, asked) in scene.excursions.iter().enumerate() {
            for (sample, placement) in mechanism.samples(asked, scene.samples).enumerate() {
                let placement = placement?;
                let name = format!("{name},{excursion},{sample}");
                samples.push(Sample {
                    name,
                    guidance: placement.guidance.name(),
                    places: places(&placement),
                });
            }
        }
    }
    Ok(samples)
}

fn mechanism(scene: &mut Scene) -> Outcome<Mechanism> {
    let pair = scene.invent_casts()?.ok_or("a scene without invented casts")?;
    let casts = Casts::new(pair.upper, pair.lower, &ToothPlaces::of(&pair.cusps));
    Ok(scene.mechanism().with_casts(Arc::new(casts)))
}

/// The table: head, names of columns, a line for each sample.
///
/// # Errors
/// As [`samples`].
pub fn table() -> Outcome<String> {
    let mut text = format!("{HEAD}scene,excursion,sample,guidance,{}\n", place_columns().join(","));
    for sample in samples()? {
        write!(text, "{},{}", sample.name, sample.guidance)?;
        for place in &sample.places {
            write!(text, ",{place:?}")?;
        }
        text.push('\n');
    }
    Ok(text)
}

/// The pose that the table gives in a row.
///
/// # Errors
/// A column that is missing or holds no number.
pub fn expected(row: &Row<'_>) -> Outcome<(String, String, Vec<f64>)> {
    let name = [row.text("scene")?, row.text("excursion")?, row.text("sample")?].join(",");
    let places = place_columns().iter().map(|column| row.number(column)).collect::<Outcome<_>>()?;
    Ok((name, row.text("guidance")?.to_owned(), places))
}
