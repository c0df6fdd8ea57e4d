//! Distances, depths and vertical gaps between casts against trimesh, for spheres, tori and inclined
//! sheets. `outside/trimesh_distances.py` made the table and says how.

// The rest of it reads the tables of jaw poses.
use std::f64::consts::{PI, TAU};

use nalgebra::{Rotation3, Vector3};
use sim_core::cast::{Casts, LastPairs, Surface, ToothPlaces};
use sim_core::cusp::Arch;
use sim_core::frame::{JawPose, OcclusalPlane};
use sim_core::units::{Angle, Length};
use whole_checks::apart::Apart;
use whole_checks::table::{Outcome, Row, Table};

const TABLE: &str = "trimesh_distances.csv";
const LEVEL: OcclusalPlane = OcclusalPlane { inclination: Angle::ZERO };
/// Both sides work in double precision on coordinates below a hundred millimetres.
const ROUNDING_MM: f64 = 1e-9;
/// How far either way the table looks for something opposite.
const CAP_MM: f64 = 30.0;
/// Fewer could not hold every pair of shapes, apart and crossing.
const FEWEST_PAIRS: usize = 50;
const FEWEST_CROSSING: usize = 5;

/// A grid over u and v from 0 to 1, closed or not in either, as the script builds it.
fn grid(
    [columns, rows]: [usize; 2],
    [closed_u, closed_v]: [bool; 2],
    at: impl Fn(f64, f64) -> Vector3<f64>,
) -> Outcome<Surface> {
    let (wide, high) = (columns + usize::from(!closed_u), rows + usize::from(!closed_v));
    let places = (0..high).flat_map(|row| (0..wide).map(move |column| (column, row)));
    let vertices = places.map(|(column, row)| at(column as f64 / columns as f64, row as f64 / rows as f64));
    let index = |column: usize, row: usize| u32::try_from(column % wide + row % high * wide);
    let mut triangles = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let [a, b] = [index(column, row)?, index(column + 1, row)?];
            let [c, d] = [index(column, row + 1)?, index(column + 1, row + 1)?];
            triangles.extend([[a, b, d], [a, d, c]]);
        }
    }
    Ok(Surface::new(vertices.collect(), triangles)?)
}

fn surface(row: &Row<'_>, arch: &str) -> Outcome<Surface> {
    let number = |name: &str| row.number(&format!("{arch}_{name}"));
    let (one, other, n) = (number("one_mm")?, number("other_mm")?, number("n")? as usize);
    let surface = match row.text(&format!("{arch}_kind"))? {
        "sphere" => grid([2 * n, n], [true, false], |u, v| {
            let (t, f) = (TAU * u, PI * (v - 0.5));
            one * Vector3::new(f.cos() * t.cos(), f.cos() * t.sin(), f.sin())
        })?,
        "torus" => grid([n, n], [true, true], |u, v| {
            let (t, q) = (TAU * u, TAU * v);
            let out = one + other * q.cos();
            Vector3::new(out * t.cos(), out * t.sin(), other * q.sin())
        })?,
        "sheet" => grid([n, n], [false, false], |u, v| one * Vector3::new(u - 0.5, v - 0.5, 0.0))?,
        unknown => return Err(format!("no shape is called {unknown}").into()),
    };
    let turn = Rotation3::from_euler_angles(number("roll_rad")?, number("pitch_rad")?, number("yaw_rad")?);
    let shift = Vector3::new(number("x_mm")?, number("y_mm")?, number("z_mm")?);
    Ok(surface.moved(|vertex| turn * vertex + shift)?)
}

fn casts(row: &Row<'_>) -> Outcome<Casts> {
    Ok(Casts::new(surface(row, "upper")?, surface(row, "lower")?, &ToothPlaces::none()))
}

#[test]
fn true_distances_and_depths_are_those_that_trimesh_finds() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    assert!(table.rows().len() >= FEWEST_PAIRS, "{} pairs", table.rows().len());
    let mut clear = Apart::new("distance of meshes apart, mm", ROUNDING_MM);
    let mut deep = Apart::new("depth of meshes crossing, mm", ROUNDING_MM);
    let mut crossing = 0;
    for row in table.rows() {
        let reading = casts(&row)?.measure(&JawPose::identity(), LEVEL, &mut LastPairs::default());
        let (distance, expected) = (reading.distance.gap.mm(), row.number("distance_mm")?);
        if expected < 0.0 {
            crossing += 1;
            deep.note(&[distance - expected], row);
        } else {
            clear.note(&[distance - expected], row);
        }
    }
    assert!(crossing >= FEWEST_CROSSING, "{crossing} crossing");
    clear.check()?;
    deep.check()
}

#[test]
fn vertical_gaps_are_those_that_rays_of_trimesh_find() -> Outcome<()> {
    let table = Table::read(TABLE)?;
    let mut gaps = Apart::new("vertical gap at a vertex, mm", ROUNDING_MM);
    let (mut opposite, mut clear) = (0, 0);
    for row in table.rows() {
        let map =
            casts(&row)?.clearance_map(&JawPose::identity(), LEVEL, Arch::Lower, Length::from_mm(CAP_MM));
        for entry in row.text("gaps_mm")?.split(';') {
            let (vertex, gap) = entry.split_once(':').ok_or("a gap without its vertex")?;
            let mapped = map[vertex.parse::<usize>()?];
            match (mapped, gap) {
                (None, "") => clear += 1,
                (Some(mapped), gap) if !gap.is_empty() => {
                    opposite += 1;
                    gaps.note(&[mapped.mm() - gap.parse::<f64>()?], row);
                }
                (mapped, gap) => {
                    return Err(format!("vertex {vertex}: {mapped:?}, trimesh {gap:?}\n{row}").into());
                }
            }
        }
    }
    assert!(opposite > 100 && clear > 100, "{opposite} with something opposite, {clear} without");
    gaps.check()
}
