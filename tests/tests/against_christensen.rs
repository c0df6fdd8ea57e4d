//! Closed forms for flat rims, which the solver must reproduce to rounding.
//!
//! Sources: Christensen FT, Balkwill's angle for complete dentures, J Prosthet Dent 1960;10:95–98,
//! formula II (the sign of φ fixed by deriving it); Christensen FT, Cusp angulation for complete
//! dentures, J Prosthet Dent 1958;8:910–923.

use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Cusp, Gauges, OpposingInclines, Tooth};
use sim_core::excursion::{Mechanism, Movement, Placement};
use sim_core::frame::{OcclusalPlane, Side};
use sim_core::instrument::{IncisalPoint, Instrument};
use sim_core::units::{Angle, Length};
use whole_checks::tolerance::{ORDER, ROUNDED};

/// The two rules differ by more than this after four millimetres, or the test compares one with itself.
const UNLIKE: f64 = 1e-5;

/// Radians and millimetres. The displacement is searched to 1e-12 mm; the rest is rounding.
const EXACT: f64 = 1e-9;

/// Flat rims on a level occlusal plane: condylar inclination β, Balkwill angle φ, height a of
/// Bonwill's triangle from the axis to the incisal point.
struct FlatRims {
    beta: Angle,
    phi: Angle,
    height_mm: f64,
}

impl FlatRims {
    fn instrument(&self, anterior_guide: AnteriorGuide) -> Instrument {
        let (sin, cos) = self.phi.sin_cos();
        let mut instrument = Instrument::zeroed();
        instrument.anterior_guide = anterior_guide;
        instrument.incisal_point = IncisalPoint::mm(self.height_mm * cos, 0.0, -self.height_mm * sin);
        for side in Side::BOTH {
            instrument.guide_mut(side).horizontal_inclination = self.beta;
        }
        instrument
    }

    fn protruded(&self, anterior_guide: AnteriorGuide, protrusion_mm: f64) -> Placement {
        Mechanism::new(&self.instrument(anterior_guide))
            .at_incisal_displacement(Movement::Protrusive, Length::from_mm(protrusion_mm))
            .expect("flat rims protrude")
    }

    /// γ of sin(β − φ + γ) = sin(β − φ) + (p/a)·sin β.
    fn cleft_angle(&self, protrusion_mm: f64) -> f64 {
        let between = self.beta.radians() - self.phi.radians();
        (between.sin() + protrusion_mm / self.height_mm * self.beta.radians().sin()).asin() - between
    }

    fn grid() -> impl Iterator<Item = (Self, f64)> {
        let steps = |from: f64, to: f64, count: u32| {
            (0..=count).map(move |n| from + (to - from) * f64::from(n) / f64::from(count))
        };
        steps(5.0, 60.0, 11).flat_map(move |beta| {
            steps(5.0, 35.0, 6).flat_map(move |phi| {
                steps(80.0, 120.0, 4).flat_map(move |height_mm| {
                    steps(0.5, 10.0, 19).map(move |p| {
                        let (beta, phi) = (Angle::from_degrees(beta), Angle::from_degrees(phi));
                        (Self { beta, phi, height_mm }, p)
                    })
                })
            })
        })
    }
}

/// The cleft opens backward: the jaw turns closed about the front.
fn jaw_rotation(placed: &Placement) -> f64 {
    -placed.opening().radians()
}

#[test]
fn the_cleft_angle_of_flat_rims_is_christensens() {
    let mut worst: f64 = 0.0;
    let mut count = 0;
    for (rims, p) in FlatRims::grid() {
        let placed = rims.protruded(AnteriorGuide::Incisors(Trough::LEVEL), p);
        let off = (jaw_rotation(&placed) - rims.cleft_angle(p)).abs();
        assert!(off <= EXACT, "β {:?} φ {:?} a {} p {p}: {off} rad off", rims.beta, rims.phi, rims.height_mm);
        worst = worst.max(off);
        count += 1;
    }
    assert_eq!(count, 12 * 7 * 5 * 20);
    println!("{count} settings, greatest difference {worst:.1e} rad");
}

#[test]
fn the_separation_along_the_rim_is_sin_gamma_times_the_distance_from_the_incisal_point() {
    let flat = OpposingInclines {
        protrusive: Angle::ZERO,
        retrusive: Angle::ZERO,
        working: Angle::ZERO,
        nonworking: Angle::ZERO,
    };
    let level = OcclusalPlane { inclination: Angle::ZERO };
    for (rims, p) in FlatRims::grid() {
        let placed = rims.protruded(AnteriorGuide::Incisors(Trough::LEVEL), p);
        let incisal = rims.instrument(AnteriorGuide::Incisors(Trough::LEVEL)).incisal_point.coords();
        let cusps: Vec<Cusp> = [10.0, 35.0, 60.0]
            .iter()
            .enumerate()
            .map(|(n, behind)| {
                let at = [incisal.x - behind, 20.0, incisal.z];
                Cusp::new(Tooth::new(36).expect("a tooth"), &format!("rim {n}"), at, flat)
                    .expect("a rim point")
            })
            .collect();
        let sin_gamma = rims.cleft_angle(p).sin();
        for (reading, behind) in Gauges::new(level, &cusps).read(&placed.jaw).zip([10.0, 35.0, 60.0]) {
            let off = (reading.separation.mm() - sin_gamma * behind).abs();
            // An error of γ grows with the distance from the incisal point.
            assert!(
                off <= EXACT * behind,
                "β {:?} φ {:?} p {p} at {behind} mm: {off} mm off",
                rims.beta,
                rims.phi
            );
            assert_eq!(reading.separation, reading.clearance, "flat inclines do not rise");
        }
    }
}

/// On a level table it is the pin that stays level, not the incisal edge; the two differ in the
/// second order of the protrusion.
#[test]
fn a_level_table_departs_from_the_flat_rim_formula_in_the_second_order() {
    let rims = FlatRims { beta: Angle::from_degrees(40.0), phi: Angle::from_degrees(20.0), height_mm: 100.0 };
    let off = |p: f64| {
        let placed = rims.protruded(AnteriorGuide::Table(Trough::LEVEL), p);
        (jaw_rotation(&placed) - rims.cleft_angle(p)).abs()
    };
    assert!(off(4.0) > UNLIKE, "they are not the same");
    for p in [4.0, 2.0, 1.0] {
        let order = (off(p) / off(p / 2.0)).log2();
        assert!((order - 2.0).abs() < ORDER, "observed order {order} at {p} mm");
    }
}

/// Plane geometry: a point closed through θ about an axis displaced by δ ends 2·δ·sin(θ/2) from
/// where it should.
#[test]
fn a_misplaced_hinge_axis_shifts_a_closed_point_by_twice_the_error_times_the_sine_of_half_the_angle() {
    use nalgebra::Vector3;
    use sim_core::frame::LowerPoint;
    let mechanism = Mechanism::new(&Instrument::zeroed());
    for (degrees, error) in [(1.7, [5.0, 0.0, 0.0]), (10.0, [0.0, 0.0, -5.0]), (20.0, [-3.0, 0.0, 4.0])] {
        let delta = Vector3::from(error);
        let pose = mechanism.opened_to(Angle::from_degrees(degrees)).jaw;
        let molar = Vector3::new(55.0, 27.0, -34.5);
        let truly = *pose.to_upper(&LowerPoint::from_coords(molar)).coords();
        let mounted = pose.to_upper(&LowerPoint::from_coords(molar - delta)).coords() + delta;
        let expected = 2.0 * delta.norm() * (degrees.to_radians() / 2.0).sin();
        assert!(((truly - mounted).norm() - expected).abs() <= ROUNDED);
    }
}
