//! Rows of studies against SciPy's general minimiser: each setting that SciPy solved is put as factors of
//! a study of one row, over a base scene that is set otherwise, and the row's clearances are read beside
//! SciPy's. `outside/scipy_poses.py` made the table and says how.

// Of the table's poses, only what is read at cusps is asked for here.
use std::path::Path;

use arrow_array::RecordBatch;
use arrow_array::cast::AsArray as _;
use arrow_array::types::Float64Type;
use sim_core::cusp::{Cusp, OpposingInclines, Tooth};
use sim_core::excursion::{Drive, Excursion};
use sim_core::scene::Scene;
use sim_core::study::{BaseScene, Factor, Measure, Recording, SamplingPlan, Study, Values};
use sim_core::units::{Angle, Length};
use study_run::batch;
use whole_checks::apart::Apart;
use whole_checks::table::{Outcome, Row, Table};

const TABLE: &str = "scipy_poses.csv";

/// As for poses: both sides leave residuals near 1e-14 mm; levers of a hundred millimetres and steep
/// settings may cost three digits of that, and two libraries of sines one more.
const READING_MM: f64 = 1e-10;
/// A sample of the table, of every design, guide and movement.
const EVERY: usize = 5;

/// Factors that every row has: the setting's name, and the column of the table.
const FACTORS: &[(&str, &str)] = &[
    ("right_guide.horizontal_inclination_deg", "right_horizontal_inclination_deg"),
    ("left_guide.horizontal_inclination_deg", "left_horizontal_inclination_deg"),
    ("right_guide.lateral_angle_deg", "right_lateral_angle_deg"),
    ("left_guide.lateral_angle_deg", "left_lateral_angle_deg"),
    ("right_guide.immediate_translation_mm", "right_immediate_translation_mm"),
    ("left_guide.immediate_translation_mm", "left_immediate_translation_mm"),
    ("anterior_guide.sagittal_inclination_deg", "sagittal_inclination_deg"),
    ("intercondylar_distance_mm", "intercondylar_distance_mm"),
    ("incisal_point_mm.z", "incisal_point_at_rest_z_mm"),
    ("occlusal_plane_inclination_deg", "occlusal_plane_inclination_deg"),
];

#[test]
fn a_studys_readings_are_those_of_the_general_minimisers_pose() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    let mut apart = Apart::new("clearance and separation in studies, mm", READING_MM);
    for row in table.rows().step_by(EVERY) {
        let table = computed(&row)?;
        assert_eq!(table.num_rows(), 1);
        let reason = table.columns().last().ok_or("no column")?.as_string::<i32>();
        assert!(reason.iter().all(|reason| reason.is_none()), "{reason:?} at {row}");
        for arch in ["lower", "upper"] {
            for measure in ["clearance", "separation"] {
                let name = format!("{}.{measure}_mm", label(&row, arch)?);
                let schema = table.schema();
                let place = schema.fields().iter().position(|field| field.name().ends_with(&name));
                let column = table.column(place.ok_or("no column")?).as_primitive::<Float64Type>();
                let expected = row.number(&format!("{arch}_cusp_{measure}_mm"))?;
                apart.note(&[column.value(0) - expected], row);
            }
        }
    }
    apart.check()
}

/// The study's one row.
fn computed(row: &Row<'_>) -> Outcome<RecordBatch> {
    let mut scene = Scene::thirty_degree();
    scene.instrument = row.instrument()?;
    scene.cusps = vec![cusp(row, "lower")?, cusp(row, "upper")?];
    let factors = FACTORS.iter().map(|(name, column)| {
        let values = Values::List(vec![row.number(column)?]);
        Ok(Factor { setting: name.parse()?, values })
    });
    let excursion =
        Excursion::new(row.movement()?, Drive::Advance(Length::from_mm(row.number("advance_mm")?)))?;
    let mut study = Study {
        title: row.text("case")?.to_owned(),
        scene: BaseScene::Here(Box::new(scene)),
        factors: factors.collect::<Outcome<_>>()?,
        constraints: Vec::new(),
        plan: SamplingPlan::FullGrid,
        record: Recording {
            measures: vec![Measure::Separation, Measure::Clearance],
            advances_mm: Vec::new(),
            excursions: Some(vec![excursion]),
            cusps: None,
        },
    };
    unset(&mut study)?;
    let loaded = files::study_from_text(&study.to_ron(), "study.ron", Path::new(""))?;
    Ok(batch(&loaded, 0..1)?)
}

/// Sets everything that is a factor otherwise in the base scene, so that only the factors can put it right.
fn unset(study: &mut Study) -> Outcome<()> {
    let BaseScene::Here(scene) = &mut study.scene else { return Err("a scene in a file".into()) };
    for factor in &study.factors {
        let place = factor.setting.find_in(scene)?;
        let number = place.get(scene).ok_or("a factor without a value")?;
        place.set(scene, number * 0.9 + 0.01)?;
    }
    Ok(())
}

fn label(row: &Row<'_>, arch: &str) -> Outcome<String> {
    Ok(cusp(row, arch)?.label())
}

fn cusp(row: &Row<'_>, arch: &str) -> Outcome<Cusp> {
    let incline =
        |name: &str| row.number(&format!("{arch}_cusp_opposing_{name}_deg")).map(Angle::from_degrees);
    let opposing = OpposingInclines {
        protrusive: incline("protrusive")?,
        retrusive: incline("retrusive")?,
        working: incline("working")?,
        nonworking: incline("nonworking")?,
    };
    let tooth = Tooth::new(row.text(&format!("{arch}_cusp_tooth"))?.parse()?)?;
    let at = row.vector(&format!("{arch}_cusp_at_rest_"), "_mm")?;
    Ok(Cusp::new(tooth, arch, at.into(), opposing)?)
}
