//! Rigid registration of landmarks against SciPy's `Rotation.align_vectors`, for random sets with
//! noise, half of them flat. `outside/registration.py` made the table and says how.

// The rest of it reads the tables of jaw poses.
use nalgebra::{Matrix3, Vector3};
use sim_core::frame::ScanPoint;
use sim_core::record::registration::{Registration, register};
use whole_checks::apart::Apart;
use whole_checks::table::{Outcome, Row, Table};

const TABLE: &str = "registration.csv";
/// Both sides decompose the same 3×3 matrix; sets whose best rotation hardly stands out from the next
/// best, where rounding is magnified some thousand times, are the worst of them.
const ROTATION: f64 = 1e-9;
/// A rotation's rounding over a lever of a hundred millimetres.
const TRANSLATION_MM: f64 = 1e-9;
/// Root mean squares are flat about the best fit, so that they are closer than the rotation is.
const RMS_MM: f64 = 1e-9;
/// Fewer sets could not hold flat ones and mirrored ones many times over.
const FEWEST_SETS: usize = 50;

fn landmarks(row: &Row<'_>, column: &str) -> Outcome<Vec<ScanPoint>> {
    let one = |text: &str| -> Outcome<ScanPoint> {
        let numbers = text.split(' ').map(str::parse).collect::<Result<Vec<f64>, _>>()?;
        let [x, y, z] = numbers.as_slice() else { return Err(format!("{text} is no point").into()) };
        Ok(ScanPoint::mm(*x, *y, *z))
    };
    row.text(column)?.split(';').map(one).collect()
}

fn registered(row: &Row<'_>) -> Outcome<Registration> {
    Ok(register(&landmarks(row, "before_mm")?, &landmarks(row, "after_mm")?)?)
}

#[test]
fn every_registration_is_the_one_that_scipy_finds() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    assert!(table.rows().len() >= FEWEST_SETS, "{} sets", table.rows().len());
    let mut rotation = Apart::new("rotation entries", ROTATION);
    let mut translation = Apart::new("translation, mm", TRANSLATION_MM);
    let mut rms = Apart::new("root mean square misfit, mm", RMS_MM);
    for row in table.rows() {
        let registration = registered(&row)?;
        // The motion read off where it carries the origin and the three unit points.
        let at = |x: f64, y: f64, z: f64| *registration.motion.apply(&ScanPoint::mm(x, y, z)).coords();
        let origin = at(0.0, 0.0, 0.0);
        let columns = [at(1.0, 0.0, 0.0), at(0.0, 1.0, 0.0), at(0.0, 0.0, 1.0)].map(|end| end - origin);
        rotation.note(&(Matrix3::from_columns(&columns) - row.rotation()?), row);
        translation.note(&(origin - row.vector("t", "_mm")?), row);
        rms.note(&[registration.fit_rms.mm() - row.number("fit_rms_mm")?], row);
    }
    rotation.check()?;
    translation.check()?;
    rms.check()
}

/// Without this the table could not catch a method that lets mirrored fits pass.
#[test]
fn some_sets_would_be_fitted_closer_by_a_mirrored_copy() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    let mut mirrored = 0;
    for row in table.rows() {
        let (before, after) = (landmarks(&row, "before_mm")?, landmarks(&row, "after_mm")?);
        let middle = |points: &[ScanPoint]| {
            points.iter().map(|point| *point.coords()).sum::<Vector3<f64>>() / points.len() as f64
        };
        let (from, to) = (middle(&before), middle(&after));
        let pairs = before.iter().zip(&after);
        let cross: Matrix3<f64> =
            pairs.map(|(p, q)| (q.coords() - to) * (p.coords() - from).transpose()).sum();
        mirrored += u32::from(cross.determinant() < 0.0);
    }
    assert!(mirrored >= 5, "{mirrored}");
    Ok(())
}
