//! The invented casts: sound solids in even contact, whatever the settings.

use std::collections::{HashMap, HashSet};

use nalgebra::Vector3;
use proptest::prelude::*;
use sim_core::cast::Surface;
use sim_core::cast::invented::{ArchForm, CastKind, InventedCasts, InventedError, InventedPair};
use sim_core::cusp::{Arch, Tooth};
use sim_core::frame::OcclusalPlane;
use sim_core::units::{Angle, Length};
use whole_checks::random;
use whole_checks::solid::{Shadow, gap, in_axes};
use whole_checks::tolerance::SOLVED;

/// Nothing may pass through anything by more than this.
const PIERCED_MM: f64 = 1e-3;
/// A tooth is in contact when its least gap is no more than this.
const CONTACT_MM: f64 = 0.01;
/// Lines are crossed beside vertices, not through them: far below what matters, far above rounding.
const BESIDE_MM: f64 = 1.7e-7;

fn plane() -> OcclusalPlane {
    OcclusalPlane { inclination: Angle::from_degrees(10.0) }
}

fn axes(plane: OcclusalPlane) -> [Vector3<f64>; 3] {
    [plane.anterior(), Vector3::y(), plane.normal()]
}

fn made(casts: &InventedCasts) -> InventedPair {
    casts.make(plane()).expect("casts that can be made")
}

fn coarse(casts: InventedCasts) -> InventedCasts {
    InventedCasts { fineness: Length::from_mm(0.8), ..casts }
}

/// Least gap over each tooth, by lines along the plane's normal beside every vertex of both
/// surfaces, the lower surface moved in the axes; and the least gap of all.
fn gaps(pair: &InventedPair, plane: OcclusalPlane, moved: Vector3<f64>) -> (HashMap<Tooth, f64>, f64) {
    let axes = axes(plane);
    let (upper, lower) = (Shadow::new(&pair.upper, &axes), Shadow::new(&pair.lower, &axes));
    let mut least = HashMap::new();
    let mut of_all = f64::INFINITY;
    let lower_places = in_axes(&pair.lower, &axes).into_iter().map(|place| place + moved);
    for place in lower_places.chain(in_axes(&pair.upper, &axes)) {
        let (x, y) = (place.x + BESIDE_MM, place.y + 0.7 * BESIDE_MM);
        let up = upper.crossings(x, y);
        let mut low = lower.crossings(x - moved.x, y - moved.y);
        assert!(up.len().is_multiple_of(2) && low.len().is_multiple_of(2), "a line enters and never leaves");
        for crossing in &mut low {
            crossing.height += moved.z;
        }
        if let Some((gap, teeth)) = gap(&up, &low) {
            of_all = of_all.min(gap);
            for tooth in teeth.into_iter().flatten() {
                let known = least.entry(tooth).or_insert(f64::INFINITY);
                *known = known.min(gap);
            }
        }
    }
    (least, of_all)
}

fn teeth(arch: Arch) -> impl Iterator<Item = Tooth> {
    let quadrants = match arch {
        Arch::Upper => [1, 2],
        Arch::Lower => [3, 4],
    };
    quadrants.into_iter().flat_map(|quadrant| {
        (1..=7).map(move |place| Tooth::new(quadrant * 10 + place).expect("a permanent tooth"))
    })
}

/// One shell, closed, outward, no edge used twice the same way.
fn check_solid(surface: &Surface, name: &str) {
    let mut edges = HashSet::new();
    for triangle in surface.triangles() {
        for (from, to) in [(0, 1), (1, 2), (2, 0)] {
            assert!(
                edges.insert((triangle[from], triangle[to])),
                "{name}: an edge is used twice the same way"
            );
        }
    }
    for &(from, to) in &edges {
        assert!(edges.contains(&(to, from)), "{name}: an edge has a triangle on one side only");
    }
    // Vertices − edges + triangles of a single sphere; with several shells it would be 2 for each.
    let (vertices, triangles) = (surface.vertices().len(), surface.triangles().len());
    assert_eq!(vertices + triangles, edges.len() / 2 + 2, "{name}: no sphere");
    let mut shells: Vec<u32> = (0..u32::try_from(vertices).unwrap()).collect();
    fn root(shells: &mut [u32], mut vertex: u32) -> u32 {
        while shells[vertex as usize] != vertex {
            shells[vertex as usize] = shells[shells[vertex as usize] as usize];
            vertex = shells[vertex as usize];
        }
        vertex
    }
    for &(from, to) in &edges {
        let (from, to) = (root(&mut shells, from), root(&mut shells, to));
        shells[from as usize] = to;
    }
    let first = root(&mut shells, 0);
    for vertex in 0..u32::try_from(vertices).unwrap() {
        assert_eq!(root(&mut shells, vertex), first, "{name}: more than one shell");
    }
    let volume: f64 =
        (0..triangles).map(|index| surface.corners(index)).map(|[a, b, c]| a.dot(&b.cross(&c)) / 6.0).sum();
    assert!(volume > 1000.0, "{name}: volume {volume}");
}

fn check_labels(surface: &Surface, arch: Arch) {
    let mut labels: HashSet<Tooth> = HashSet::new();
    for (index, tooth) in surface.teeth().expect("labels").iter().enumerate() {
        if let Some(tooth) = *tooth {
            labels.insert(tooth);
            let [a, b, c] = surface.corners(index);
            assert!((a + b + c).y * tooth.side().outward_y() > 0.0, "tooth {tooth} on the other side");
        }
    }
    assert_eq!(labels, teeth(arch).collect());
}

fn check_cusps(pair: &InventedPair) {
    let mut of_tooth: HashMap<Tooth, usize> = HashMap::new();
    for cusp in &pair.cusps {
        *of_tooth.entry(cusp.tooth()).or_default() += 1;
        let surface = match cusp.tooth().arch() {
            Arch::Upper => &pair.upper,
            Arch::Lower => &pair.lower,
        };
        let vertex = surface.vertices().iter().position(|vertex| *vertex == cusp.at_mm());
        let vertex = vertex.unwrap_or_else(|| panic!("{} {} is no vertex", cusp.tooth(), cusp.name()));
        let labels = surface.teeth().expect("labels");
        let on_tooth = surface.triangles().iter().zip(labels).any(|(triangle, &label)| {
            triangle.contains(&u32::try_from(vertex).unwrap()) && label == Some(cusp.tooth())
        });
        assert!(on_tooth, "{} {} is on another tooth", cusp.tooth(), cusp.name());
    }
    for tooth in teeth(Arch::Upper).chain(teeth(Arch::Lower)) {
        // Front teeth one, premolars two, molars four and the lower first five.
        let expected = match (tooth.number(), tooth.position()) {
            (36 | 46, _) => 5,
            (_, 1..=3) => 1,
            (_, 4 | 5) => 2,
            _ => 4,
        };
        assert_eq!(of_tooth.get(&tooth), Some(&expected), "tooth {tooth}");
    }
}

fn check_contact(pair: &InventedPair, casts: &InventedCasts, plane: OcclusalPlane) {
    let clearance_mm = casts.front_clearance.mm();
    let (least, of_all) = gaps(pair, plane, Vector3::zeros());
    assert!(of_all >= -PIERCED_MM, "pierced by {of_all}");
    for tooth in teeth(Arch::Upper).chain(teeth(Arch::Lower)) {
        let gap = least[&tooth];
        if tooth.position() > 3 || casts.kind == CastKind::Dentate || clearance_mm == 0.0 {
            assert!(gap <= CONTACT_MM, "tooth {tooth} stands {gap} off");
        } else {
            // Nearer only by the one back tooth that a canine may overlap.
            assert!(tooth.position() == 3 || gap >= clearance_mm - PIERCED_MM, "tooth {tooth} at {gap}");
        }
    }
}

fn check_mirror(surface: &Surface) {
    // The sides are exact mirror images; adding zero makes one of its two signs.
    let key =
        |vertex: &Vector3<f64>, sign: f64| [vertex.x, sign * vertex.y + 0.0, vertex.z].map(f64::to_bits);
    let triangle = |index: usize, sign: f64| {
        let mut corners = surface.corners(index).map(|corner| key(&corner, sign));
        corners.sort_unstable();
        corners
    };
    let triangles: HashSet<_> = (0..surface.triangles().len()).map(|index| triangle(index, 1.0)).collect();
    for index in 0..surface.triangles().len() {
        // The two ends' middles are sums in another order; their triangles are left out.
        let label = surface.teeth().expect("labels")[index];
        if label.is_some() {
            assert!(triangles.contains(&triangle(index, -1.0)), "triangle {index} has no mirror image");
        }
    }
}

fn settings() -> impl Strategy<Value = InventedCasts> {
    let curve = || prop_oneof![Just(0.0), 60.0..300.0, 0.0..1000.0];
    let kind = prop_oneof![Just(CastKind::Dentate), Just(CastKind::CompleteDenture)];
    let form = prop_oneof![3 => Just(ArchForm::Ellipse), 1 => Just(ArchForm::Catenary), 1 => Just(ArchForm::Parabola)];
    let numbers = (0.0..=45.0, curve(), curve(), 0.0..=5.0, 1.0..=6.0, 44.0..=66.0, 30.0..=56.0, 0.6..=1.5);
    let clearance = prop_oneof![Just(0.0), 0.0..=3.0];
    (numbers, (kind, clearance), form).prop_map(
        |((cusp, sagittal, transverse, overbite, overjet, width, length, fine), (kind, clearance), form)| {
            InventedCasts {
                cusp_angle: Angle::from_degrees(cusp),
                sagittal_curve_radius: Length::from_mm(sagittal),
                transverse_curve_radius: Length::from_mm(transverse),
                overbite: Length::from_mm(overbite),
                overjet: Length::from_mm(overjet),
                front_clearance: Length::from_mm(clearance),
                arch_width: Length::from_mm(width),
                arch_length: Length::from_mm(length),
                fineness: Length::from_mm(fine),
                kind,
                arch_form: form,
                ..InventedCasts::dentate()
            }
        },
    )
}

/// Settings near those of most arches, which must always lead to casts.
fn is_usual(casts: &InventedCasts) -> bool {
    let curve = |radius: Length| radius == Length::ZERO || radius.mm() >= 60.0;
    curve(casts.sagittal_curve_radius)
        && curve(casts.transverse_curve_radius)
        && casts.overbite.mm() + 1.0 <= 2.0 * casts.overjet.mm()
        && (52.0..=60.0).contains(&casts.arch_width.mm())
        && (41.0..=46.0).contains(&casts.arch_length.mm())
        && casts.arch_form == ArchForm::Ellipse
}

proptest! {
    #![proptest_config(random::cases(40))]

    #[test]
    fn any_settings_give_sound_casts_in_even_contact_or_say_why_not(casts in settings(), inclination in -20.0..20.0_f64) {
        let plane = OcclusalPlane { inclination: Angle::from_degrees(inclination) };
        match casts.make(plane) {
            Ok(pair) => {
                check_solid(&pair.upper, "upper");
                check_solid(&pair.lower, "lower");
                check_labels(&pair.upper, Arch::Upper);
                check_labels(&pair.lower, Arch::Lower);
                check_cusps(&pair);
                check_contact(&pair, &casts, plane);
                check_mirror(&pair.upper);
                check_mirror(&pair.lower);
            }
            Err(InventedError::Cusp(error)) => panic!("{error}"),
            Err(InventedError::Surface(error)) => panic!("{error}"),
            Err(error) => prop_assert!(!is_usual(&casts), "{error}"),
        }
    }
}

#[test]
fn both_kinds_meet_evenly_at_the_default_fineness() {
    for casts in [InventedCasts::dentate(), InventedCasts::complete_denture()] {
        let pair = made(&casts);
        for surface in [&pair.upper, &pair.lower] {
            let triangles = surface.triangles().len();
            assert!((40_000..=60_000).contains(&triangles), "{triangles} triangles");
        }
        check_contact(&pair, &casts, plane());
    }
}

#[test]
fn an_arch_has_from_ten_thousand_to_a_million_triangles() {
    let triangles = |fineness: f64| {
        let pair = made(&InventedCasts { fineness: Length::from_mm(fineness), ..InventedCasts::dentate() });
        pair.lower.triangles().len()
    };
    assert!(triangles(1.5) < 10_000);
    assert!(triangles(0.08) > 1_000_000);
}

/// The tooth pair that stops the lower arch from closing along the plane's normal when it has moved so
/// far forward and to the left, and by how much it has been opened then. No turning: the first order
/// of any guidance.
fn stopped_by(pair: &InventedPair, forward: f64, left: f64) -> (Vec<u8>, f64) {
    let (least, of_all) = gaps(pair, plane(), Vector3::new(forward, left, 0.0));
    let stops = least.iter().filter(|&(_, &gap)| gap <= of_all + BESIDE_MM);
    (stops.map(|(tooth, _)| tooth.number()).collect(), -of_all)
}

#[test]
fn dentate_incisors_lead_forward_and_back_teeth_do_when_overbite_is_small_and_cusps_steep() {
    let casts = coarse(InventedCasts::dentate());
    let (stops, opened) = stopped_by(&made(&casts), 1.0, 0.0);
    assert!(stops.iter().all(|number| number % 10 <= 3), "{stops:?}");
    // Overbite over overjet is the guide's slope; the canines' is steeper, and rounding takes some.
    assert!((0.8..1.3).contains(&opened), "opened by {opened}");
    let steep =
        InventedCasts { cusp_angle: Angle::from_degrees(40.0), overbite: Length::from_mm(0.5), ..casts };
    let (stops, _) = stopped_by(&made(&steep), 1.0, 0.0);
    assert!(stops.iter().all(|number| number % 10 > 3), "{stops:?}");
}

#[test]
fn dentate_canines_lead_sideways() {
    let pair = made(&coarse(InventedCasts::dentate()));
    for (left, canines) in [(1.0, [23, 33]), (-1.0, [13, 43])] {
        let (stops, _) = stopped_by(&pair, 0.0, left);
        assert!(stops.iter().all(|number| canines.contains(number)), "{stops:?}");
    }
}

#[test]
fn cusps_are_as_steep_as_they_are_set() {
    // Beside the middle of the way from a lower buccal tip to the central groove, where neither the
    // rounding of tip and groove nor a marginal ridge reaches: 1.45 mm on a molar (its half width
    // between cusps is 2.9 mm). The layer that makes contact even may tilt it a little.
    const TILT_DEG: f64 = 5.0;
    for degrees in [10.0, 20.0, 30.0, 40.0] {
        let casts = InventedCasts { cusp_angle: Angle::from_degrees(degrees), ..InventedCasts::dentate() };
        let pair = made(&casts);
        let axes = axes(plane());
        let lower = Shadow::new(&pair.lower, &axes);
        for (number, name) in [(36, "mesiobuccal"), (37, "mesiobuccal"), (37, "distobuccal")] {
            let tooth = Tooth::new(number).expect("a tooth");
            let cusp =
                pair.cusps.iter().find(|cusp| cusp.tooth() == tooth && cusp.name() == name).expect("a cusp");
            let tip = Vector3::from_fn(|axis, _| axes[axis].dot(&cusp.at_mm()));
            // The arch runs almost straight back there, so lingual is to the right.
            let height = |inward: f64| {
                lower.crossings(tip.x + BESIDE_MM, tip.y - inward).last().expect("a crown").height
            };
            let slope = ((height(1.25) - height(1.65)) / 0.4).atan().to_degrees();
            assert!((slope - degrees).abs() < TILT_DEG, "{number} {name}: {slope}° for {degrees}°");
        }
    }
}

#[test]
fn compensating_curves_lie_on_their_circles() {
    // A plane through three points of the lower buccal cusps and incisal edges is level with the
    // occlusal plane; the circle's sagitta over half the chord is r − √(r² − (c/2)²).
    let casts = InventedCasts { sagittal_curve_radius: Length::from_mm(80.0), ..InventedCasts::dentate() };
    let pair = made(&casts);
    let axes = axes(plane());
    let origin = Vector3::new(casts.incisal_x.mm(), 0.0, casts.incisal_z.mm());
    let tip = |number: i64, name: &str| {
        let tooth = Tooth::new(number).expect("a tooth");
        let cusp =
            pair.cusps.iter().find(|cusp| cusp.tooth() == tooth && cusp.name() == name).expect("a cusp");
        Vector3::from_fn(|axis, _| axes[axis].dot(&(cusp.at_mm() - origin)))
    };
    let last = tip(37, "distobuccal");
    assert!(last.z.abs() < SOLVED, "{last}");
    let (radius, half_chord) = (80.0_f64, last.x / 2.0);
    for (number, name) in [(34, "buccal"), (35, "buccal"), (36, "mesiobuccal"), (36, "distobuccal")] {
        let tip = tip(number, name);
        // On the circle about (half the chord, √(r² − (c/2)²)).
        let centre = (radius * radius - half_chord * half_chord).sqrt();
        let distance = (tip.x - half_chord).hypot(tip.z - centre);
        assert!((distance - radius).abs() < SOLVED, "{number} {name} at {distance}");
    }
}

#[test]
fn overbite_and_overjet_are_measured_between_the_incisal_edges() {
    // Between neighbouring vertices of the lower edge, half a millimetre apart.
    const BETWEEN_VERTICES_MM: f64 = 0.03;
    const ROUNDING_MM: f64 = 1e-9;
    for (overbite, overjet) in [(2.5, 2.5), (0.0, 4.0), (4.0, 3.0)] {
        let casts = InventedCasts {
            overbite: Length::from_mm(overbite),
            overjet: Length::from_mm(overjet),
            ..InventedCasts::dentate()
        };
        let pair = made(&casts);
        let axes = axes(plane());
        let tooth = Tooth::new(21).expect("a tooth");
        let cusp = pair.cusps.iter().find(|cusp| cusp.tooth() == tooth).expect("an edge");
        let edge = Vector3::from_fn(|axis, _| axes[axis].dot(&cusp.at_mm()));
        let lower = in_axes(&pair.lower, &axes);
        let highest = lower.iter().filter(|place| place.y.abs() < 4.0).map(|place| place.z);
        let highest = highest.fold(f64::NEG_INFINITY, f64::max);
        assert!((highest - edge.z - overbite).abs() < ROUNDING_MM, "overbite {}", highest - edge.z);
        // Farther back a flat palatal surface may follow the gaps between the lower teeth.
        let near = |place: &Vector3<f64>| (place.x - edge.x).hypot(place.y - edge.y) < 1.5;
        let upper = in_axes(&pair.upper, &axes).into_iter().filter(near);
        let lowest = upper.map(|place| place.z).fold(f64::INFINITY, f64::min);
        assert!((lowest - edge.z).abs() < ROUNDING_MM, "something is lower than the edge: {lowest}");
        let lower_edge = lower.iter().filter(|place| place.y.abs() < 4.5 && highest - place.z < ROUNDING_MM);
        let apart = lower_edge.map(|place| (place.x - edge.x).hypot(place.y - edge.y));
        let apart = apart.fold(f64::INFINITY, f64::min);
        assert!((apart - overjet).abs() < BETWEEN_VERTICES_MM, "overjet {apart} for {overjet}");
    }
}

#[test]
fn settings_that_do_not_go_together_are_refused_with_what_would_do() {
    let refused = |casts: InventedCasts| casts.make(plane()).expect_err("no casts").to_string();
    let base = InventedCasts::dentate;
    assert_eq!(
        refused(InventedCasts { sagittal_curve_radius: Length::from_mm(20.0), ..base() }),
        "sagittal_curve_radius_mm is 20; allowed are 0 (flat) and 60 mm or more"
    );
    assert_eq!(
        refused(InventedCasts { overbite: Length::from_mm(5.0), overjet: Length::from_mm(1.0), ..base() }),
        "overbite_mm 5 over overjet_mm 1 is a guide steeper than 65°; with this overjet allowed are up to 2.14 mm of overbite"
    );
    let short = refused(InventedCasts { arch_length: Length::from_mm(25.0), ..base() });
    assert!(short.contains("take 53.0 mm of arch") && short.contains("widen or lengthen"), "{short}");
    let pointed = refused(InventedCasts { arch_form: ArchForm::Parabola, ..base() });
    assert!(pointed.contains("turns on a radius of 8.7 mm"), "{pointed}");
    let fine = refused(InventedCasts { fineness: Length::from_mm(0.0), ..base() });
    assert_eq!(fine, "fineness_mm is 0; allowed are 0.08 to 1.5 mm");
    let nowhere = refused(InventedCasts { overbite: Length::from_mm(f64::NAN), ..base() });
    assert!(nowhere.contains("not a finite number"), "{nowhere}");
}
