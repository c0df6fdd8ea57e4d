//! The table that the pin tip sweeps under tooth guidance, and that the pin then repeats it.

use std::sync::Arc;

use nalgebra::Vector3;
use sim_core::anterior::{AnteriorGuide, HeightField, PinTip};
use sim_core::cast::invented::InventedCasts;
use sim_core::cast::{Casts, Surface, ToothPlaces};
use sim_core::cusp::Tooth;
use sim_core::excursion::{Mechanism, Movement, Ratio, Station};
use sim_core::frame::Side;
use sim_core::instrument::Instrument;
use sim_core::occlusion::{FormedTable, Mounted, NoTable, TablePrint, TableSize, TableSweep};
use sim_core::scene::Scene;
use sim_core::units::{Angle, Length};
use whole_checks::hand_made::{Bite, LEVEL, both, casts, tooth_guided};
use whole_checks::tolerance::{HALF_OF_THE_DIGITS, ROUNDED, SOLVED};

/// The steepest slope of a bite over a step of the grid.
const SLOPE: f64 = 0.5;
/// Twice as fine is twice as near at creases; something is allowed for where they lie in the grid.
const TWICE_AS_FINE: f64 = 0.7;
/// On the average creases are few, so that less is allowed for them; at most the jaw drops so far within
/// a step where the edges of front teeth pass each other.
const ON_THE_AVERAGE: f64 = 0.6;
const AT_MOST_MM: f64 = 0.3;

/// What rounding leaves of a table of planes, formed and used again: of heights interpolated in
/// triangles of half a millimetre, and a lever of a hundred millimetres.
const ROUNDING_MM: f64 = 1e-6;

fn sweep(step: f64) -> TableSweep {
    TableSweep {
        to: Length::from_mm(4.0),
        step: Length::from_mm(step),
        margin: Length::from_mm(1.0),
        tip: PinTip::POINT,
    }
}

fn movements() -> Vec<Movement> {
    let mut all = vec![Movement::Protrusive];
    for working in Side::BOTH {
        all.push(Movement::Lateral { working });
        for ratio in [0.13, 0.5, 0.77] {
            all.push(Movement::Lateroprotrusive { working, ratio: Ratio::new(ratio).expect("a ratio") });
        }
    }
    all
}

/// How far the tip of the pin is from where the teeth would hold it, at most and on the average, in
/// millimetres.
fn off(mounted: &Mounted, table: &FormedTable) -> (f64, f64) {
    let teeth = Mechanism::new(mounted.instrument()).with_casts(Arc::clone(mounted.casts()));
    let pin = Mechanism::new(&table.mount(mounted.instrument()));
    let mut all = Vec::new();
    for movement in movements() {
        for step in 0..=16 {
            let station = Station::advanced(Length::from_mm(0.25 * f64::from(step)));
            let led = teeth.at(movement, station).expect("teeth guide").incisal_point;
            let followed = pin.at(movement, station).expect("the table guides").incisal_point;
            all.push(led.distance_mm(&followed));
        }
    }
    #[allow(clippy::cast_precision_loss)] // a few hundred
    let count = all.len() as f64;
    (all.iter().copied().fold(0.0, f64::max), all.iter().sum::<f64>() / count)
}

fn farthest_off(mounted: &Mounted, table: &FormedTable) -> f64 {
    off(mounted, table).0
}

/// Planes on the lower member through the pin's place, and a point on the upper member there: casts of
/// the form of a table and its pin.
fn table_and_pin(instrument: &Instrument, plates: &[(f64, f64)]) -> Arc<Casts> {
    let rest = instrument.incisal_point;
    let at = |x: f64, y: f64, z: f64| Vector3::new(rest.x.mm() + x, rest.y.mm() + y, rest.z.mm() + z);
    let (mut vertices, mut triangles) = (Vec::new(), Vec::new());
    // Strips along x between two places left of the middle, with a slope back and one outward.
    for &(back, wing) in plates {
        let strip = |from: f64, to: f64| {
            let height = |x: f64, y: f64| -x * back + (y.abs() - 1.0).max(0.0) * wing;
            let corner = |x: f64, y: f64| at(x, y, height(x, y));
            [corner(-20.0, from), corner(20.0, from), corner(20.0, to), corner(-20.0, to)]
        };
        for (from, to) in [(-20.0, -1.0), (-1.0, 1.0), (1.0, 20.0)] {
            let first = u32::try_from(vertices.len()).expect("few");
            vertices.extend(strip(from, to));
            triangles.push([first, first + 1, first + 2]);
            triangles.push([first, first + 2, first + 3]);
        }
    }
    let count = triangles.len();
    let tooth = |number| Tooth::new(number).ok();
    let lower = Surface::new(vertices, triangles).expect("a table");
    let lower = lower.with_teeth(vec![tooth(31); count]).expect("labels");
    let spike = vec![at(0.0, 0.0, 0.0), at(0.5, 0.0, 5.0), at(-0.5, 0.5, 5.0), at(-0.5, -0.5, 5.0)];
    let upper = Surface::new(spike, vec![[0, 2, 1], [0, 3, 2], [0, 1, 3]]).expect("a pin");
    let upper = upper.with_teeth(vec![tooth(11); 3]).expect("labels");
    Arc::new(Casts::new(upper, lower, &ToothPlaces::none()))
}

#[test]
fn a_plate_that_a_point_glides_on_is_formed_exactly() {
    for degrees in [-10.0, 0.0, 25.0, 40.0] {
        let back = Angle::from_degrees(degrees).tan();
        let mounted = Mounted::new(tooth_guided(), table_and_pin(&tooth_guided(), &[(back, 0.0)]), LEVEL);
        let table = mounted.form_table(&sweep(0.5)).expect("a table");
        assert_eq!(table.guided_to(), Length::from_mm(4.0));
        let (rows, columns) = table.field().size();
        for row in 0..rows {
            for column in 0..columns {
                let [x, _, z] = table.field().point(row, column).expect("a point");
                // Beyond the sweep the plate goes on for two steps only.
                if table.is_swept(row, column) {
                    assert!((z + x * back).abs() < ROUNDING_MM, "{x} {z} for {degrees}°");
                }
            }
        }
        let off = farthest_off(&mounted, &table);
        assert!(off < ROUNDING_MM, "{off} mm at {degrees}°");
    }
}

#[test]
fn a_finer_grid_follows_the_teeth_more_closely() {
    // A crease where plate and wing meet costs in proportion to the step, the smooth rest to its square.
    let plates = table_and_pin(&tooth_guided(), &[(0.4, 0.5)]);
    let canine = Bite { outward: 0.7, inward: -0.7, forward: 0.5, ..Bite::of(3, Side::Right) };
    let incisor = Bite { forward: 0.6, ..Bite::of(1, Side::Right) };
    let bites: Vec<Bite> = [canine, incisor].into_iter().flat_map(both).collect();
    for casts in [plates, casts(&bites)] {
        let mounted = Mounted::new(tooth_guided(), casts, LEVEL);
        let off = [0.8, 0.4, 0.2]
            .map(|step| farthest_off(&mounted, &mounted.form_table(&sweep(step)).expect("a table")));
        println!("off by {off:?} mm on grids of 0.8, 0.4 and 0.2 mm");
        assert!(off[0] < 0.8 * SLOPE, "no more than the slope over a step");
        assert!(off[1] < off[0] * TWICE_AS_FINE && off[2] < off[1] * TWICE_AS_FINE, "{off:?}");
    }
}

#[test]
fn a_table_formed_to_invented_teeth_follows_them_the_closer_the_finer_it_is() {
    let settings = InventedCasts { fineness: Length::from_mm(1.0), ..InventedCasts::dentate() };
    let pair = settings.make(LEVEL).expect("a pair");
    let casts = Arc::new(Casts::new(pair.upper, pair.lower, &ToothPlaces::none()));
    let mounted = Mounted::new(tooth_guided(), casts, LEVEL);
    let off = [1.2, 0.6].map(|step| off(&mounted, &mounted.form_table(&sweep(step)).expect("a table")));
    println!("off by {off:?} mm, at most and on the average, on grids of 1.2 and 0.6 mm");
    // The most is where the edges of front teeth pass each other and the jaw drops within a step of the
    // grid, however fine. Elsewhere guidance passes from tooth to tooth: creases, so in proportion to
    // the step or better.
    assert!(off[1].1 < off[0].1 * ON_THE_AVERAGE && off[1].0 < AT_MOST_MM, "{off:?}");
}

/// What the default step is meant for: a table to print, in millimetres.
const TO_PRINT_MM: f64 = 0.03;

#[test]
fn at_the_default_step_the_table_of_the_dentate_scene_is_close_enough_to_print() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../scenes/dentate_casts.ron");
    let scene = Scene::from_ron(&std::fs::read_to_string(path).expect("the scene")).expect("a scene");
    let pair = scene.invented_casts.expect("invented").make(scene.occlusal_plane).expect("a pair");
    let casts = Arc::new(Casts::new(pair.upper, pair.lower, &ToothPlaces::none()));
    let mounted = Mounted::new(scene.instrument.clone(), Arc::clone(&casts), scene.occlusal_plane);
    // Less far than by default, which takes a minute; canines and incisors take turns all the same.
    let asked =
        TableSweep { to: Length::from_mm(3.0), margin: Length::from_mm(0.5), ..TableSweep::default() };
    let table = mounted.form_table(&asked).expect("a table");
    let raised = Instrument { pin_extension: Length::from_mm(-30.0), ..scene.instrument.clone() };
    let teeth = Mechanism::new(&raised).with_casts(casts);
    let pin = Mechanism::new(&table.mount(&scene.instrument));
    let farthest = |movement: Movement| {
        let apart = (1..=60).map(|step| {
            let station = Station::advanced(Length::from_mm(0.05 * f64::from(step)));
            let led = teeth.at(movement, station).expect("teeth guide").incisal_point;
            led.distance_mm(&pin.at(movement, station).expect("the table guides").incisal_point)
        });
        apart.fold(0.0, f64::max)
    };
    let [right, left] = Side::BOTH.map(|working| farthest(Movement::Lateral { working }));
    let ahead = farthest(Movement::Protrusive);
    println!("off by {right} right, {left} left, {ahead} ahead, in millimetres");
    assert!(right < TO_PRINT_MM && left < TO_PRINT_MM && ahead < TO_PRINT_MM, "{right} {left} {ahead}");
    // The casts are mirror images, and so is what is off.
    assert!((right - left).abs() < ROUNDING_MM, "{right} and {left}");
}

#[test]
fn at_rest_the_pin_stands_where_it_stood() {
    let plates = table_and_pin(&tooth_guided(), &[(0.4, 0.5)]);
    let mounted = Mounted::new(tooth_guided(), plates, LEVEL);
    let table = mounted.form_table(&sweep(0.7)).expect("a table");
    let instrument = table.mount(mounted.instrument());
    assert!(matches!(instrument.anterior_guide, AnteriorGuide::CustomTable(_)));
    let rest = Mechanism::new(&instrument).rest().expect("a pose");
    assert!(rest.jaw.translation().amax() < ROUNDING_MM);
    assert!(rest.opening().degrees().abs() < HALF_OF_THE_DIGITS);
}

#[test]
fn alike_sides_form_a_table_whose_sides_are_alike() {
    let mounted = Mounted::new(tooth_guided(), table_and_pin(&tooth_guided(), &[(0.3, 0.6)]), LEVEL);
    let table = mounted.form_table(&sweep(0.5)).expect("a table");
    let (rows, columns) = table.field().size();
    for row in 0..rows {
        for column in 0..columns {
            let mirror = columns - 1 - column;
            let [x, y, z] = table.field().point(row, column).expect("a point");
            let [_, other, height] = table.field().point(row, mirror).expect("a point");
            assert!(
                (y + other).abs() < SOLVED && (z - height).abs() < SOLVED,
                "at {x}, {y}: {z} and {height}"
            );
            assert_eq!(table.is_swept(row, column), table.is_swept(row, mirror));
        }
    }
    assert!(table.swept_share() > 0.2 && table.swept_share() < 0.9);
    assert!(!table.is_swept(0, columns) && !table.is_swept(rows, 0));
}

/// The greatest height of a centre at which a ball just rests on a surface of triangles, by looking at
/// many places of each.
fn rests_at(table: &HeightField, radius: f64, at: [f64; 2]) -> f64 {
    const PARTS: u32 = 24;
    let mut highest = f64::NEG_INFINITY;
    for [a, b, c] in table.triangles() {
        let [a, b, c] = [a, b, c].map(Vector3::from);
        if (a.xy() - Vector3::new(at[0], at[1], 0.0).xy()).norm() > radius + 2.0 * table.step_mm() {
            continue;
        }
        for one in 0..=PARTS {
            for other in 0..=PARTS - one {
                let [one, other] = [one, other].map(|part| f64::from(part) / f64::from(PARTS));
                let place = a + (b - a) * one + (c - a) * other;
                let aside = (place.x - at[0]).powi(2) + (place.y - at[1]).powi(2);
                if aside <= radius * radius {
                    highest = highest.max(place.z + (radius * radius - aside).sqrt());
                }
            }
        }
    }
    highest
}

#[test]
fn a_ball_on_the_printed_surface_keeps_its_centre_on_the_table() {
    // A plate with wings: valleys at the hinges, which a ball follows however sharp they are.
    let mounted = Mounted::new(tooth_guided(), table_and_pin(&tooth_guided(), &[(0.4, 0.5)]), LEVEL);
    for radius in [0.7, 2.0] {
        let tip = PinTip { radius: Length::from_mm(radius) };
        let table = mounted.form_table(&TableSweep { tip, ..sweep(0.25) }).expect("a table");
        let printed = table.printed().expect("a surface");
        let rolled = table.rolled(&printed).expect("heights");
        let told = table.runs_off(&rolled).mm();
        let (rows, columns) = table.field().size();
        let (mut most, mut least): (f64, f64) = (0.0, 0.0);
        for row in (0..rows).step_by(3) {
            for column in (0..columns).step_by(3).filter(|column| table.is_swept(row, *column)) {
                let [x, y, centre] = table.field().point(row, column).expect("a point");
                // Both are counted from rest, where the centre is a radius above the tip's place.
                let off = rests_at(&printed, radius, [x, y]) - radius - centre;
                (most, least) = (most.max(off), least.min(off));
            }
        }
        println!("radius {radius}: off by {least} to {most} mm, {told} told");
        // The places looked at miss the true one by so little that a ball sinks no deeper than this.
        assert!(most <= told + 1e-9 && -least <= told + 0.002, "{least} to {most} mm, {told} told");
        assert!(told < 0.02, "{told} mm at a radius of {radius} mm");
        // The surface for a point would carry the ball higher, by what its flank touches first.
        let for_a_point = mounted.form_table(&sweep(0.25)).expect("a table");
        let [x, y, z] = for_a_point.field().point(rows / 2, columns / 2).expect("a point");
        assert!(rests_at(for_a_point.field(), radius, [x, y]) - radius - z > 0.05 * radius);
    }
}

#[test]
fn the_instrument_with_a_table_for_a_ball_follows_the_teeth() {
    let mounted = Mounted::new(tooth_guided(), table_and_pin(&tooth_guided(), &[(0.4, 0.0)]), LEVEL);
    let tip = PinTip { radius: Length::from_mm(2.0) };
    let table = mounted.form_table(&TableSweep { tip, ..sweep(0.25) }).expect("a table");
    assert_eq!(table.field().tip(), tip);
    let off = farthest_off(&mounted, &table);
    let rolled = table.rolled(&table.printed().expect("a surface")).expect("heights");
    assert!(table.runs_off(&rolled).mm() < 0.002, "nothing on a plate is too sharp for the ball");
    // The plate is one for the tip; for a centre above, which turns with the jaw, it is slightly curved.
    assert!(off < 0.002, "{off} mm");
    // Where the ball's flank touches, the printed surface is deeper than the centres' by r(√(1 + s²) − 1).
    let printed = table.printed().expect("a surface");
    let (rows, columns) = printed.size();
    let a_millimetre_back = |field: &HeightField| {
        let points = (0..rows * columns).filter_map(|index| field.point(index / columns, index % columns));
        let mut there = points.filter(|[x, y, _]| (x + 1.0).abs() < ROUNDED && y.abs() < ROUNDED);
        there.next().expect("a point")[2]
    };
    let deeper = a_millimetre_back(table.field()) - a_millimetre_back(&printed);
    let expected = 2.0 * ((1.0_f64 + 0.4 * 0.4).sqrt() - 1.0);
    assert!((deeper - expected).abs() < 0.002, "{deeper} mm, {expected} expected");
}

#[test]
fn mirrored_teeth_form_a_mirrored_table_between_its_points_too() {
    let alike = |number: i64, side: Side| {
        let canine = Bite { outward: 0.7, inward: -0.7, forward: 0.5, ..Bite::of(number, side) };
        if number == 3 { canine } else { Bite { forward: 0.6, ..Bite::of(number, side) } }
    };
    // A canine on one side alone, then on the other.
    let made = |side: Side| {
        let bites = [alike(3, side), alike(1, Side::Right), alike(1, Side::Left)];
        let mounted = Mounted::new(tooth_guided(), casts(&bites), LEVEL);
        let table = mounted.form_table(&sweep(0.4)).expect("a table");
        Mechanism::new(&table.mount(mounted.instrument()))
    };
    let [right, left] = Side::BOTH.map(made);
    let mut most: f64 = 0.0;
    for (movement, mirrored) in [
        (Movement::Lateral { working: Side::Right }, Movement::Lateral { working: Side::Left }),
        (Movement::Lateral { working: Side::Left }, Movement::Lateral { working: Side::Right }),
        (Movement::Protrusive, Movement::Protrusive),
    ] {
        for step in 1..=60 {
            let station = Station::advanced(Length::from_mm(0.06 * f64::from(step)));
            let one = right.at(movement, station).expect("a pose").incisal_point;
            let other = left.at(mirrored, station).expect("a pose").incisal_point;
            let apart = (one.x() - other.x()).hypot(one.z() - other.z()).hypot(one.y() + other.y());
            most = most.max(apart);
        }
    }
    assert!(most < ROUNDING_MM, "{most} mm");
}

#[test]
fn immediate_translation_is_swept_too() {
    let mut instrument = tooth_guided();
    for side in Side::BOTH {
        instrument.guide_mut(side).immediate_translation = Length::from_mm(0.8);
    }
    let mounted = Mounted::new(instrument, table_and_pin(&tooth_guided(), &[(0.5, 0.0)]), LEVEL);
    let table = mounted.form_table(&sweep(0.4)).expect("a table");
    let off = farthest_off(&mounted, &table);
    assert!(off < ROUNDING_MM, "{off}");
}

#[test]
fn a_table_prints_as_a_solid_of_its_own_heights() {
    let mounted = Mounted::new(tooth_guided(), table_and_pin(&tooth_guided(), &[(0.5, 0.2)]), LEVEL);
    let table = mounted.form_table(&sweep(0.5)).expect("a table");
    let solid = TablePrint::default().solid(table.field()).expect("a solid");
    let (rows, columns) = table.field().size();
    for (index, vertex) in solid.vertices()[..rows * columns].iter().enumerate() {
        assert_eq!(table.field().point(index / columns, index % columns), Some((*vertex).into()));
    }
    let lowest =
        solid.vertices()[..rows * columns].iter().map(|vertex| vertex.z).fold(f64::INFINITY, f64::min);
    assert!((lowest - solid.bounds().0.z - 3.0).abs() < ROUNDED);
}

#[test]
fn teeth_that_do_not_meet_and_sizes_that_no_table_has_are_refused() {
    let mounted = Mounted::new(tooth_guided(), table_and_pin(&tooth_guided(), &[(0.5, 0.2)]), LEVEL);
    let size = |to: f64, step: f64, margin: f64| {
        let sweep = TableSweep {
            to: Length::from_mm(to),
            step: Length::from_mm(step),
            margin: Length::from_mm(margin),
            tip: PinTip::POINT,
        };
        mounted.form_table(&sweep).expect_err("no table")
    };
    assert!(matches!(size(0.1, 0.5, 1.0), NoTable::Size { what: TableSize::Advance, .. }));
    assert!(matches!(size(4.0, f64::NAN, 1.0), NoTable::Size { what: TableSize::Step, .. }));
    assert!(matches!(size(4.0, 0.5, -1.0), NoTable::Size { what: TableSize::Margin, .. }));
    // A lower cusp that no upper surface is above.
    let apart = Bite { clear_mm: 60.0, ..Bite::of(1, Side::Right) };
    let mounted = Mounted::new(tooth_guided(), casts(&[apart]), LEVEL);
    let refusal = mounted.form_table(&sweep(0.5)).expect_err("no table");
    assert!(matches!(refusal, NoTable::NoTeeth { .. }), "{refusal}");
}
