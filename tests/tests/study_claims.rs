//! The studies that people open: each teaches what its head comment says.
//!
//! A claim is checked on every row of the study, and what the statistics say of it by a second way
//! where there is one. A number is held as it is quoted: “1.9 to 2.4” is a least value that rounds to
//! 1.9 and a greatest that rounds to 2.4.

use std::fs;
use std::path::PathBuf;

use sim_core::scene::Scene;
use sim_core::study::statistics::{Moments, SobolIndices, sobol_indices};
use sim_core::study::{BaseScene, Prepared, Study};

/// The study of a file. What is said of Sobol' indices is meant of the true ones: eight times as many groups come near enough.
fn prepared(name: &str) -> Prepared {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../scenes/studies");
    let text = fs::read_to_string(folder.join(name)).expect("a study file");
    let text = text.replace("groups: 1024", "groups: 8192");
    let study = Study::from_ron(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
    let BaseScene::File(scene) = &study.scene else { panic!("{name} names its scene") };
    let scene = fs::read_to_string(folder.join(scene)).expect("a scene file");
    let scene = Scene::from_ron(&scene).unwrap_or_else(|error| panic!("{name}: {error}"));
    Prepared::new(&study, &scene, |_, _| Err("no file is read here".to_owned())).expect("a study")
}

/// “1 mm” and “2 mm” are meant to the tenth of a millimetre.
const GAIN_AS_QUOTED_MM: f64 = 0.05;
/// “Its clearance even shrinks”: by more than two tenths of a millimetre, or one would not see it.
const SHRINKS_MM: f64 = -0.2;
/// A share of the variance that rounds to nothing in hundredths “does not matter”.
const NOTHING: f64 = 0.005;
/// “The settings act each for itself”: no more than two hundredths of the variance are two settings'
/// together.
const TOGETHER: f64 = 0.02;

/// Least and greatest of some numbers as a person quotes them, in tenths.
fn in_tenths(numbers: &[f64]) -> [f64; 2] {
    let of = Moments::of(numbers.iter().copied());
    [of.least(), of.greatest()].map(|number| (number * 10.0).round())
}

/// The number columns of a study, by name.
struct Table {
    names: Vec<String>,
    columns: Vec<Vec<f64>>,
}

impl Table {
    fn of(study: &Prepared) -> Self {
        let mut row = study.row_buffer();
        let is_number =
            |column: &&sim_core::study::Column| column.kind == sim_core::study::ColumnKind::Number;
        let names: Vec<String> =
            study.columns().iter().filter(is_number).map(|column| column.name.clone()).collect();
        let mut columns = vec![Vec::new(); names.len()];
        for number in 0..study.row_count() {
            study.compute(number, &mut row).expect("a row");
            assert_eq!(row.reason(), None, "row {number}");
            columns.iter_mut().zip(row.numbers()).for_each(|(column, number)| column.push(*number));
        }
        Self { names, columns }
    }

    fn column(&self, name: &str) -> &[f64] {
        let place = self.names.iter().position(|column| column == name);
        &self.columns[place.unwrap_or_else(|| panic!("{name} in {:?}", self.names))]
    }
}

const TABLES_DEG: [f64; 3] = [0.0, 20.0, 40.0];

/// A measure over the inclination, for each incisal table.
fn by_table(table: &Table, name: &str) -> [Vec<f64>; 3] {
    let settings = table.column("anterior_guide.sagittal_inclination_deg");
    let inclinations = table.column("horizontal_inclination_deg");
    let values = table.column(name);
    TABLES_DEG.map(|wanted| {
        let rows: Vec<usize> = (0..values.len()).filter(|row| settings[*row] == wanted).collect();
        assert_eq!(rows.len(), 51);
        assert!(rows.windows(2).all(|pair| inclinations[pair[0]] < inclinations[pair[1]]));
        rows.into_iter().map(|row| values[row]).collect()
    })
}

fn rise(curve: &[f64]) -> f64 {
    curve[curve.len() - 1] - curve[0]
}

fn rises_all_the_way(curve: &[f64]) -> bool {
    curve.windows(2).all(|pair| pair[0] < pair[1])
}

#[test]
fn in_protrusion_both_guides_part_the_molars() {
    let table = Table::of(&prepared("inclination.ron"));
    for tooth in ["36", "46"] {
        let separation = by_table(&table, &format!("protrusive.3mm.{tooth}.mesiobuccal.separation_mm"));
        let clearance = by_table(&table, &format!("protrusive.3mm.{tooth}.mesiobuccal.clearance_mm"));
        for curve in separation.iter().chain(&clearance) {
            assert!(rises_all_the_way(curve), "steeper condylar guides part more: {curve:?}");
        }
        for (flatter, steeper) in [(0, 1), (1, 2)] {
            let more = |curves: &[Vec<f64>; 3]| {
                curves[flatter].iter().zip(&curves[steeper]).all(|(flatter, steeper)| flatter < steeper)
            };
            assert!(more(&separation) && more(&clearance), "so does a steeper table");
        }
        // “over a level table no inclination makes them clear, over one of 40° every one does”
        assert!(clearance[0].iter().all(|mm| *mm < 0.0), "{:?}", clearance[0]);
        assert!(clearance[2].iter().all(|mm| *mm > 0.0), "{:?}", clearance[2]);
        // “from 10° to 60° separation gains 1 mm over the level table and 2 mm over the steepest”
        let [level, .., steep] = &separation;
        assert!((rise(level) - 1.0).abs() < GAIN_AS_QUOTED_MM);
        assert!((rise(steep) - 2.0).abs() < GAIN_AS_QUOTED_MM);
    }
}

#[test]
fn in_a_lateral_movement_the_orbiting_molar_follows_its_condyle_and_the_working_one_does_not() {
    let table = Table::of(&prepared("inclination.ron"));
    for (movement, orbiting, working) in [("right_lateral", "36", "46"), ("left_lateral", "46", "36")] {
        let of = |tooth: &str, what: &str| {
            by_table(&table, &format!("{movement}.3mm.{tooth}.mesiobuccal.{what}_mm"))
        };
        let mut gains = Vec::new();
        for (followed, hardly) in of(orbiting, "separation").iter().zip(&of(working, "separation")) {
            assert!(rises_all_the_way(followed));
            gains.push(rise(followed));
            // “changes by less than half a millimetre”
            let spread = Moments::of(hardly.iter().copied());
            assert!(spread.greatest() - spread.least() < 0.5);
        }
        // “gains 1.9 to 2.4 mm”
        assert_eq!(in_tenths(&gains), [19.0, 24.0], "{gains:?}");
        // “its clearance even shrinks”
        for curve in &of(working, "clearance") {
            assert!(rise(curve) < SHRINKS_MM, "{}", rise(curve));
        }
    }
}

const FACTORS: [&str; 7] = [
    "right_guide.horizontal_inclination_deg",
    "left_guide.horizontal_inclination_deg",
    "right_guide.lateral_angle_deg",
    "left_guide.lateral_angle_deg",
    "anterior_guide.sagittal_inclination_deg",
    "occlusal_plane_inclination_deg",
    "incisal_point_mm.z",
];

/// Apart by this, two estimates of indices are of one number: groups are 1,024, so that an index has a
/// standard error of some 0.03.
const ESTIMATES_APART: f64 = 0.1;

/// The clearances of an excursion with their indices; each total index of a factor that acts alone is
/// the squared correlation with it, which is looked at too.
fn clearances<'t>(table: &'t Table, movement: &str) -> Vec<(&'t str, SobolIndices)> {
    let is_meant = |name: &&String| name.starts_with(movement) && name.ends_with("clearance_mm");
    let clearances: Vec<_> = table
        .names
        .iter()
        .filter(is_meant)
        .map(|name| {
            let values = table.column(name);
            let indices = sobol_indices(values, FACTORS.len(), 0, 1).expect("indices");
            for (factor, index) in FACTORS.iter().zip(&indices.factors) {
                let squared = correlation(table.column(factor), values).powi(2);
                let apart = (squared - index.total.value).abs();
                assert!(apart < ESTIMATES_APART, "{name} and {factor}: {squared}, {index:?}");
            }
            (name.as_str(), indices)
        })
        .collect();
    assert_eq!(clearances.len(), 8, "the scene has eight cusps");
    clearances
}

fn correlation(xs: &[f64], ys: &[f64]) -> f64 {
    let mean = |numbers: &[f64]| numbers.iter().sum::<f64>() / numbers.len() as f64;
    let (x, y) = (mean(xs), mean(ys));
    let product = |f: &dyn Fn(f64, f64) -> f64| xs.iter().zip(ys).map(|(a, b)| f(*a, *b)).sum::<f64>();
    product(&|a, b| (a - x) * (b - y))
        / (product(&|a, _| (a - x).powi(2)) * product(&|_, b| (b - y).powi(2))).sqrt()
}

fn index(indices: &SobolIndices, factor: &str) -> f64 {
    indices.factors[FACTORS.iter().position(|known| *known == factor).expect("a factor")].total.value
}

#[test]
fn errors_of_the_records_add_up_and_the_indices_name_the_setting_they_come_from() {
    let study = prepared("record_error.ron");
    let names: Vec<&str> = study.study().factors.iter().map(|factor| factor.setting.written()).collect();
    assert_eq!(names, FACTORS);
    let table = Table::of(&study);

    // “In protrusion the occlusal plane has nearly half of it, at every cusp”
    for (name, indices) in clearances(&table, "protrusive") {
        let plane = index(&indices, "occlusal_plane_inclination_deg");
        assert!((0.4..0.5).contains(&plane), "{name}: {plane}");
        let most = indices.factors.iter().map(|index| index.total.value).fold(0.0, f64::max);
        assert_eq!(plane, most, "{name}");
        for angle in ["right_guide.lateral_angle_deg", "left_guide.lateral_angle_deg"] {
            assert!(index(&indices, angle) < NOTHING, "{name}: no lateral angle in a straight protrusion");
        }
    }
    // “in a lateral movement the lateral angle of the orbiting side three to five tenths, and the
    // working side's guide nothing”
    let mut angles = Vec::new();
    for (movement, orbiting, working) in
        [("right_lateral", "left_guide", "right_guide"), ("left_lateral", "right_guide", "left_guide")]
    {
        for (name, indices) in clearances(&table, movement) {
            angles.push(index(&indices, &format!("{orbiting}.lateral_angle_deg")));
            for setting in ["horizontal_inclination_deg", "lateral_angle_deg"] {
                let working_index = index(&indices, &format!("{working}.{setting}"));
                assert_eq!(working_index, 0.0, "{name}: {setting} of the working side");
            }
        }
    }
    assert_eq!(in_tenths(&angles), [3.0, 5.0], "{angles:?}");
    // “The height of the incisal point does not matter; the settings act each for itself”
    for movement in ["protrusive", "right_lateral", "left_lateral"] {
        for (name, indices) in clearances(&table, movement) {
            assert!(index(&indices, "incisal_point_mm.z") < NOTHING, "{name}");
            let sum: f64 = indices.factors.iter().map(|index| index.total.value).sum();
            assert!((sum - 1.0).abs() < TOGETHER, "{name}: {sum}");
        }
    }
    // “one row in eight lets the first premolar of the working side interfere”
    for column in ["right_lateral.3mm.44.buccal.clearance_mm", "left_lateral.3mm.34.buccal.clearance_mm"] {
        let values = table.column(column);
        let share = values.iter().filter(|mm| **mm < 0.0).count() as f64 / values.len() as f64;
        assert_eq!((1.0 / share).round(), 8.0, "{column}: {share}");
    }
}
