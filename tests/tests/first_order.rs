//! Published rules that hold in the limit of small movement, with the observed order in which the
//! exact mechanism departs from them.

use sim_core::anterior::{AnteriorGuide, Trough};
use sim_core::excursion::{Mechanism, Movement, Placement, SampleCount, Station};
use sim_core::frame::{LowerPoint, Side, UpperPoint};
use sim_core::instrument::{IncisalPoint, Instrument};
use sim_core::tracing::{self, PlatePoint};
use sim_core::units::{Angle, Length};
use whole_checks::tolerance::{ORDER, SOLVED};

/// A thousandth of a millimetre from rest the first order of the advance is less than this.
const AT_REST_DEG: f64 = 0.01;
/// “To within three degrees at these angles”.
const SWENSON_DEG: f64 = 3.0;
/// A tenth of the 30° by which the paths differ.
const TENTH_OF_THE_PATHS_DEG: f64 = 3.0;
/// The share of a line's point is met to a sixth of the whole.
const SHARE: f64 = 1.0 / 6.0;

const INCISAL: [f64; 3] = [98.0, 0.0, -42.0];

fn instrument(condylar_deg: f64, incisal_deg: f64) -> Instrument {
    let mut instrument = Instrument::zeroed();
    let [x, y, z] = INCISAL;
    instrument.incisal_point = IncisalPoint::mm(x, y, z);
    let plate = Trough { sagittal_inclination: Angle::from_degrees(incisal_deg), ..Trough::LEVEL };
    instrument.anterior_guide = AnteriorGuide::Incisors(plate);
    for side in Side::BOTH {
        instrument.guide_mut(side).horizontal_inclination = Angle::from_degrees(condylar_deg);
        instrument.guide_mut(side).lateral_angle = Angle::ZERO;
    }
    instrument
}

fn at(instrument: &Instrument, movement: Movement, advance_mm: f64) -> Placement {
    Mechanism::new(instrument).at(movement, Station::advanced(Length::from_mm(advance_mm))).expect("a pose")
}

/// The point a fraction of the way from the incisal point to the condylar axis.
fn between(fraction: f64) -> LowerPoint {
    let [x, y, z] = INCISAL.map(|coordinate| coordinate * (1.0 - fraction));
    LowerPoint::mm(x, y, z)
}

/// Inclination of a lower point's path to the horizontal, in degrees, by its chord.
fn incline_deg(instrument: &Instrument, point: &LowerPoint, advance_mm: f64) -> f64 {
    let moved =
        at(instrument, Movement::Protrusive, advance_mm).jaw.to_upper(point).coords() - point.coords();
    (-moved.z).atan2(moved.x).to_degrees()
}

fn order(coarse: f64, fine: f64) -> f64 {
    (coarse / fine).log2()
}

/// Swenson's formula as given in Christensen FT, The effect of incisal guidance on cusp angulation,
/// J Prosthet Dent 1961;11:48–54: protrusive incline at a point = u + d·(β − u), u incisal and β
/// condylar guidance, d the fraction of the distance from incisal point to condyle. Its author
/// calls it inexact; what a rigid jaw does instead is linear in the tangents, taken to the line
/// from condyle to incisal point.
#[test]
fn the_protrusive_incline_between_the_guidances_tends_to_swensons_rule() {
    let fall = (-INCISAL[2]).atan2(INCISAL[0]).to_degrees();
    let rigid = |d: f64, beta: f64, u: f64| {
        let tan = |angle: f64| (angle - fall).to_radians().tan();
        (tan(u) + d * (tan(beta) - tan(u))).atan().to_degrees() + fall
    };
    for (beta, u) in [(40.0, 10.0), (30.0, 30.0), (20.0, 35.0)] {
        for d in [0.25, 0.5, 0.75] {
            let point = between(d);
            let instrument = instrument(beta, u);
            // First order in the advance to the rigid rule…
            let off = |t: f64| (incline_deg(&instrument, &point, t) - rigid(d, beta, u)).abs();
            assert!(off(0.001) < AT_REST_DEG, "β {beta} u {u} d {d}: {}° off", off(0.001));
            if beta != u {
                let seen = order(off(0.2), off(0.1));
                assert!((seen - 1.0).abs() < ORDER, "β {beta} u {u} d {d}: observed order {seen}");
            }
            // …which Swenson's meets to within three degrees at these angles.
            assert!((rigid(d, beta, u) - (u + d * (beta - u))).abs() < SWENSON_DEG, "β {beta} u {u} d {d}");
        }
    }
    // Swenson's rule departs in the second order of the difference of the guidances.
    let tiny_advance = 1e-5;
    let off = |difference: f64| {
        let (beta, u) = (40.0 + difference, 40.0 - difference);
        (incline_deg(&instrument(beta, u), &between(0.5), tiny_advance) - (u + 0.5 * (beta - u))).abs()
    };
    let seen = order(off(8.0), off(4.0));
    assert!((seen - 2.0).abs() < ORDER, "observed order {seen}");
}

/// Villa H, Factors that determine cusp angulation, J Prosthet Dent 1970;23:522: the influence of
/// each guidance falls linearly from all at itself to nothing at the other; midway half and half.
#[test]
fn the_influence_of_each_guidance_falls_linearly_toward_the_other() {
    let lowered = |condylar: f64, incisal: f64, point: &LowerPoint, t: f64| {
        point.z() - at(&instrument(condylar, incisal), Movement::Protrusive, t).jaw.to_upper(point).z()
    };
    for d in [0.0, 0.25, 0.5, 0.75, 1.0] {
        let share = |incisal: f64, t: f64| {
            let gained = |point| lowered(40.0, incisal, &point, t) - lowered(30.0, incisal, &point, t);
            gained(between(d)) / gained(between(1.0))
        };
        // Points of a line keep their shares of its ends, so over a level incisal guide the rule
        // is exact whatever the movement…
        for t in [0.01, 6.0] {
            assert!((share(0.0, t) - d).abs() < SOLVED, "d {d}, advance {t}: share {}", share(0.0, t));
        }
        // …while on an incline of 20° the incisal point gains a little advance as the jaw turns,
        // and goes down with it: the share stays within a sixth of the whole.
        assert!((share(20.0, 0.001) - d).abs() < SHARE, "d {d}: share {}", share(20.0, 0.001));
    }
}

/// Slope of a working-side cusp's path, in degrees: what it goes down by what it goes outward.
fn working_incline_deg(instrument: &Instrument, at_mm: [f64; 3], t: f64) -> f64 {
    let [x, y, z] = at_mm;
    let point = LowerPoint::mm(x, y, z);
    let moved = at(instrument, Movement::Lateral { working: Side::Left }, t).jaw.to_upper(&point).coords()
        - point.coords();
    (-moved.z).atan2(moved.y).to_degrees()
}

const PREMOLAR: [f64; 3] = [78.0, 21.0, -38.0];
const MOLAR: [f64; 3] = [55.0, 27.0, -34.5];

/// The effect of the end-controlling guidances of the articulator on cusp inclination, J Prosthet
/// Dent (abstract): the working-side incline is governed mainly by the lateral incisal guide; a
/// lateral condylar angle of 15° lowers inclines progressively toward the back.
#[test]
fn the_working_side_incline_follows_the_lateral_incisal_guide_and_the_lateral_angle_lowers_it_behind() {
    let with = |condylar: f64, wing: f64, lateral: f64| {
        let mut instrument = instrument(condylar, 20.0);
        let wing = Angle::from_degrees(wing);
        instrument.anterior_guide = AnteriorGuide::Incisors(Trough {
            sagittal_inclination: Angle::from_degrees(20.0),
            right_wing: wing,
            left_wing: wing,
            flat_half_width: Length::ZERO,
        });
        for side in Side::BOTH {
            instrument.guide_mut(side).lateral_angle = Angle::from_degrees(lateral);
        }
        instrument
    };
    let small = 0.01;
    for place in [PREMOLAR, MOLAR] {
        let base = working_incline_deg(&with(30.0, 15.0, 0.0), place, small);
        let by_wing = working_incline_deg(&with(30.0, 25.0, 0.0), place, small) - base;
        let by_condyle = working_incline_deg(&with(40.0, 15.0, 0.0), place, small) - base;
        assert!(by_wing > 2.0 * by_condyle.abs(), "{place:?}: wing {by_wing}°, condyle {by_condyle}°");
    }
    let lowered = |place| {
        working_incline_deg(&with(30.0, 15.0, 0.0), place, small)
            - working_incline_deg(&with(30.0, 15.0, 15.0), place, small)
    };
    assert!(lowered(PREMOLAR) > 0.0, "premolar lowered by {}°", lowered(PREMOLAR));
    assert!(lowered(MOLAR) > lowered(PREMOLAR), "molar {}°, premolar {}°", lowered(MOLAR), lowered(PREMOLAR));
}

/// el-Gheriani AS, Winstanley RB, J Prosthet Dent 1987;58:638–642 (abstract): the steepness of the
/// condylar path has no direct relation to the needle-point tracing angle.
#[test]
fn the_tracing_angle_does_not_follow_the_steepness_of_the_condylar_path() {
    let apex_angle_deg = |height: f64, condylar: f64, reach: f64| {
        let stylus = UpperPoint::mm(115.0, 0.0, height);
        let mut instrument = instrument(condylar, 10.0);
        for side in Side::BOTH {
            instrument.guide_mut(side).lateral_angle = Angle::from_degrees(15.0);
        }
        let samples = SampleCount::new(2).expect("two samples");
        let drawn = tracing::draw(&Mechanism::new(&instrument), &stylus, Length::from_mm(reach), samples)
            .expect("a tracing");
        let direction = |leg: &[PlatePoint]| leg[1].left.mm().atan2(-leg[1].forward.mm());
        (direction(&drawn.right_lateral) - direction(&drawn.left_lateral)).to_degrees()
    };
    let parted =
        |height, reach| (apex_angle_deg(height, 50.0, reach) - apex_angle_deg(height, 20.0, reach)).abs();
    // A stylus level with the axis: no relation at all but for what the length of the leg brings in.
    assert!(parted(0.0, 0.001) < AT_REST_DEG, "apex angles part by {}°", parted(0.0, 0.001));
    let seen = order(parted(0.0, 0.4), parted(0.0, 0.2));
    assert!((seen - 1.0).abs() < ORDER, "observed order {seen}");
    // At the height of the rims the jaw's turn moves the stylus a little: less than a tenth of the
    // 30° by which the paths differ.
    assert!((90.0..150.0).contains(&apex_angle_deg(-40.0, 30.0, 6.0)), "a blunt arrow");
    assert!(parted(-40.0, 0.001) < TENTH_OF_THE_PATHS_DEG, "apex angles part by {}°", parted(-40.0, 0.001));
}

/// The protrusive leg need not be straight, since both joints steer it (common practice, no source).
#[test]
fn an_unequal_instrument_draws_a_protrusive_leg_beside_the_middle() {
    let mut instrument = instrument(20.0, 10.0);
    instrument.left_guide.horizontal_inclination = Angle::from_degrees(45.0);
    let samples = SampleCount::new(7).expect("seven samples");
    let stylus = UpperPoint::mm(115.0, 0.0, -40.0);
    let drawn = tracing::draw(&Mechanism::new(&instrument), &stylus, Length::from_mm(6.0), samples)
        .expect("a tracing");
    assert_eq!(drawn.protrusive[0], PlatePoint::APEX);
    assert!(drawn.protrusive[6].left.mm().abs() > 0.05);
    assert!(
        drawn.protrusive[6].forward.mm() < -5.0,
        "the stylus marks behind the apex as the jaw goes forward"
    );
    assert!(drawn.right_lateral[6].left.mm() > 1.0, "and on the left as it goes to the right");
}
