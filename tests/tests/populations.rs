//! Figures measured on patients: loose checks that the mechanism lives in the same world.
//!
//! The patients' geometry is not published with the figures, and some figures are from memory; an
//! average jaw stands for the patients. So these tests cannot show that the mechanism is right to more
//! than some three tenths: a wrong sign, unit, side or reference plane they do show, and guides three
//! tenths too flat or too steep. That it is right to the last digit is shown by `laws.rs` and
//! `against_scipy.rs`.

use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::cusp::{Cusp, Gauges, OpposingInclines, Tooth};
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::{LowerPoint, OcclusalPlane, Side};
use sim_core::instrument::{IncisalPoint, Instrument};
use sim_core::units::{Angle, Length};
use whole_checks::deg;

/// Arms and base of Bonwill's triangle and the Balkwill angle: A three-dimensional morphometric
/// study on the position of temporomandibular joints (PubMed 26734666, abstract).
const ARM_MM: f64 = 103.3;
const BASE_MM: f64 = 99.6;
const BALKWILL_DEG: f64 = 20.4;

/// An average jaw whose occlusal plane dips by so much; the first molar's mesiobuccal cusp stands
/// 30 mm behind the incisal point (sum of crown widths) and 24 mm beside the middle (invented).
fn average(plane: OcclusalPlane, opposing_deg: f64) -> (Instrument, Cusp) {
    let height = (ARM_MM * ARM_MM - BASE_MM * BASE_MM / 4.0).sqrt();
    let down = Angle::from_degrees(BALKWILL_DEG) + plane.inclination;
    let (sin, cos) = down.sin_cos();
    let mut instrument = Instrument::zeroed();
    instrument.intercondylar_distance = Length::from_mm(BASE_MM);
    instrument.incisal_point = IncisalPoint::mm(height * cos, 0.0, -height * sin);
    let molar = instrument.incisal_point.coords() - plane.anterior() * 30.0;
    let incline = Angle::from_degrees(opposing_deg);
    let opposing =
        OpposingInclines { protrusive: incline, retrusive: incline, working: incline, nonworking: incline };
    let tooth = Tooth::new(36).expect("a tooth number");
    (instrument, Cusp::new(tooth, "mesiobuccal", [molar.x, 24.0, molar.z], opposing).expect("on the left"))
}

/// Clearance of the left first molar in protrusion, orbiting and working, at an advance.
fn clearances(instrument: &Instrument, cusp: &Cusp, plane: OcclusalPlane, advance_mm: f64) -> [f64; 3] {
    let mechanism = Mechanism::new(instrument);
    let gauges = Gauges::new(plane, std::slice::from_ref(cusp));
    let orbiting = Movement::Lateral { working: Side::Right };
    let working = Movement::Lateral { working: Side::Left };
    [Movement::Protrusive, orbiting, working].map(|movement| {
        let placed = mechanism.at(movement, Station::advanced(Length::from_mm(advance_mm))).expect("a pose");
        gauges.read(&placed.jaw).next().expect("one cusp").clearance.mm()
    })
}

/// An average jaw set as Hobo S, Takayama H (from memory) say: condylar 40°, lateral 15°, incisal
/// sagittal 45°, wings 20°, with 25° effective cusp angle; every angle of a guide times a factor.
fn set_for_disclusion(plane: OcclusalPlane, times: f64) -> [f64; 3] {
    let (mut instrument, cusp) = average(plane, 25.0);
    let wing = deg(20.0 * times);
    instrument.anterior_guide = AnteriorGuide::Table(Trough {
        sagittal_inclination: deg(45.0 * times),
        right_wing: wing,
        left_wing: wing,
        flat_half_width: Length::ZERO,
    });
    for side in Side::BOTH {
        instrument.guide_mut(side).horizontal_inclination = deg(40.0 * times);
        instrument.guide_mut(side).lateral_angle = deg(15.0 * times);
    }
    clearances(&instrument, &cusp, plane, 3.0)
}

/// Disclusion measured on patients, same source: mean and standard deviation in millimetres of
/// protrusive, orbiting and working; and how many deviations the average jaw may be off it.
///
/// One, where only average geometry stands between; two for the working side, whose cusp hardly moves
/// and follows the invented distance from the middle line more than the guides.
const MEASURED: [(f64, f64, f64); 3] = [(1.1, 0.6, 1.0), (1.0, 0.6, 1.0), (0.5, 0.3, 2.0)];

fn as_measured(disclusion: [f64; 3]) -> bool {
    disclusion
        .into_iter()
        .zip(MEASURED)
        .all(|(mm, (mean, deviation, allowed))| (mm - mean).abs() <= allowed * deviation)
}

/// The settings are said to give about 1.0 / 1.0 / 0.5 mm at 3 mm of condylar advance. Guides three
/// tenths flatter or steeper do not.
#[test]
fn the_settings_said_to_give_the_measured_disclusion_do_and_flatter_or_steeper_ones_do_not() {
    for inclination in [5.0, 10.0] {
        let plane = OcclusalPlane { inclination: deg(inclination) };
        for (times, gives_it) in [(0.7, false), (1.0, true), (1.3, false)] {
            let disclusion = set_for_disclusion(plane, times);
            println!("plane {inclination}°, guides × {times}: {disclusion:.2?} mm");
            assert_eq!(
                as_measured(disclusion),
                gives_it,
                "plane {inclination}°, guides × {times}: {disclusion:?}"
            );
        }
    }
}

/// Lee W et al., J Prosthet Dent 2017;117:532–538 (abstract): average instead of individual settings
/// shift the orbiting first molar vertically by −2.964 to +1.711 mm.
const MEASURED_SHIFT_MM: (f64, f64) = (-2.964, 1.711);
/// The ends of a measured range belong to the few most unlike of its people; inclinations a good standard
/// deviation from the mean shift the molar by a tenth of it at least, and by no more than the whole.
const LEAST_PART: f64 = 0.1;

/// Inclinations of 20° to 50° in place of 31.5° (the mean of 103 subjects: Recording sagittal condylar
/// angles using a mandibular facebow, abstract).
#[test]
fn average_settings_shift_the_orbiting_molar_as_much_as_was_measured() {
    let plane = OcclusalPlane { inclination: Angle::from_degrees(10.0) };
    let (instrument, cusp) = average(plane, 0.0);
    let orbiting = |degrees: f64| {
        let mut instrument = instrument.clone();
        instrument.left_guide.horizontal_inclination = Angle::from_degrees(degrees);
        clearances(&instrument, &cusp, plane, 6.0)[1]
    };
    let (least, most) = (orbiting(20.0) - orbiting(31.5), orbiting(50.0) - orbiting(31.5));
    let (down, up) = MEASURED_SHIFT_MM;
    assert!((down..down * LEAST_PART).contains(&least), "{least} mm");
    assert!((up * LEAST_PART..up).contains(&most), "{most} mm");
}

/// What rounds to “about 0.2 mm”.
const ABOUT_A_FIFTH_MM: (f64, f64) = (0.15, 0.25);
/// Under this is the error of 87 % of people; an axis that is 5 mm off is none of the few worst.
const IN_MOST_MM: f64 = 0.3;

/// Weinberg LA, J Prosthet Dent 1961;11 (first page; the figure from memory): an axis within 5 mm
/// and a record 3 mm thick leave about 0.2 mm at the second molar. Morneburg TR, Pröschel PA, Int J
/// Prosthodont 2002;15:358–364 (abstract): for 2 mm of vertical dimension under 0.5 mm in 99 %, under
/// 0.3 mm in 87 %.
#[test]
fn an_axis_five_millimetres_off_leaves_a_fifth_of_a_millimetre_at_the_second_molar() {
    let mechanism = Mechanism::new(&Instrument::zeroed());
    let error_mm = |record_mm: f64| {
        // The record holds the incisors, some 98 mm in front of the axis, so far apart.
        let opening = Angle::from_radians(record_mm / 98.0);
        let pose = mechanism.opened_to(opening).jaw;
        let true_molar = LowerPoint::mm(55.0, 27.0, -34.5);
        let as_mounted = LowerPoint::mm(55.0 - 5.0, 27.0, -34.5);
        let (one, other) = (pose.to_upper(&true_molar), pose.to_upper(&as_mounted));
        ((one.x() - other.x() - 5.0).powi(2) + (one.z() - other.z()).powi(2)).sqrt()
    };
    assert!((ABOUT_A_FIFTH_MM.0..ABOUT_A_FIFTH_MM.1).contains(&error_mm(3.0)), "{} mm", error_mm(3.0));
    assert!(error_mm(2.0) < IN_MOST_MM, "{} mm", error_mm(2.0));
}
