//! The study that speed is measured on. Invented.

/// Three excursions, the teaching scene's eight cusps, one advance: 24 clearances in each row, of four
/// factors by Sobol' points.
#[allow(dead_code)] // each of those that measure takes one of the two
pub(crate) fn study(rows: u64) -> String {
    of(rows, "")
}

/// The same with one cusp: three clearances in each row, for very many of them.
#[allow(dead_code)] // as above
pub(crate) fn study_of_one_cusp(rows: u64) -> String {
    of(rows, r#", cusps: ["36.mesiobuccal"]"#)
}

fn of(rows: u64, cusps: &str) -> String {
    let scene = sim_core::scene::Scene::thirty_degree().to_ron();
    format!(
        r#"(
            title: "What speed is measured on (invented)",
            scene: {scene},
            factors: [
                (setting: "horizontal_inclination_deg", values: Uniform(min: 15.0, max: 50.0)),
                (setting: "lateral_angle_deg", values: Uniform(min: 5.0, max: 25.0)),
                (setting: "anterior_guide.sagittal_inclination_deg", values: Uniform(min: 0.0, max: 40.0)),
                (setting: "occlusal_plane_inclination_deg", values: Uniform(min: 0.0, max: 15.0)),
            ],
            plan: Sobol(rows: {rows}, seed: 1),
            record: (measures: [Clearance], advances_mm: [3.0]{cusps}),
        )"#
    )
}
