//! Separation and clearance along excursions, as curves against what drives each.

use sim_core::cusp::{Cusp, CuspReading};
use sim_core::excursion::{Drive, Excursion, NoPose, Placement, SampleCount};
use sim_core::scene::Scene;

use crate::walk::{ExcursionWalk, SceneWalk};

/// An excursion, with the curves of one set-up or of two.
#[derive(Clone, Debug)]
pub struct CurvePanel {
    /// The excursion and how far it goes, in words.
    pub name: String,
    /// What drives it.
    pub drive: Drive,
    /// How far it is driven, in the unit of its drive.
    pub end: f64,
    /// Curves, cusp by cusp.
    pub curves: Vec<CuspCurve>,
    /// Where a set-up stops short: its letter, where there are two, and why.
    pub stopped: Vec<(Option<char>, NoPose)>,
}

/// What is read at one cusp of one set-up along an excursion.
#[derive(Clone, Debug)]
pub struct CuspCurve {
    /// The cusp.
    pub cusp: Cusp,
    /// Letter of its set-up, where there are two.
    pub set_up: Option<char>,
    /// From rest on.
    pub points: Vec<CurvePoint>,
}

/// A point of both curves of a cusp.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint {
    /// How far the excursion has been driven, in the unit of its drive.
    pub driven: f64,
    /// Off the occlusal plane, millimetres.
    pub separation_mm: f64,
    /// Above the opposing incline, millimetres.
    pub clearance_mm: f64,
}

impl CurvePoint {
    /// A reading at a place.
    #[must_use]
    pub const fn new(driven: f64, reading: &CuspReading) -> Self {
        Self { driven, separation_mm: reading.separation.mm(), clearance_mm: reading.clearance.mm() }
    }
}

impl CurvePanel {
    /// An excursion without curves yet.
    #[must_use]
    pub fn new(excursion: &Excursion) -> Self {
        let drive = excursion.drive();
        let name = format!(
            "{}, {}",
            words::name::movement_with_ratio(excursion.movement()),
            words::name::end(drive)
        );
        Self { name, drive, end: driven_to(drive), curves: Vec::new(), stopped: Vec::new() }
    }
}

/// How far a drive goes, in its unit.
#[must_use]
pub const fn driven_to(drive: Drive) -> f64 {
    match drive {
        Drive::Advance(length) | Drive::IncisalDisplacement(length) | Drive::Tracing(length) => length.mm(),
        Drive::Opening(angle) => angle.degrees(),
    }
}

/// How far an excursion has been driven at one of its samples, in the unit of its drive. Samples stand evenly; a path
/// by advance that starts sideways has one sample more, at rest, before the shift.
#[must_use]
#[allow(clippy::cast_precision_loss, reason = "a billion samples at most")]
pub fn driven_at(excursion: &Excursion, index: usize, starts_sideways: bool, samples: SampleCount) -> f64 {
    let by_advance = matches!(excursion.drive(), Drive::Advance(_));
    let index = index.saturating_sub(usize::from(by_advance && starts_sideways));
    driven_to(excursion.drive()) * index as f64 / (samples.get() - 1) as f64
}

/// The curves of every excursion of a scene, each up to where there is a pose.
#[must_use]
pub fn of_scene(walk: &SceneWalk<'_>) -> Vec<CurvePanel> {
    let panel = |excursion: ExcursionWalk<'_>| {
        let mut panel = CurvePanel::new(excursion.excursion());
        add(&mut panel, walk.scene(), &excursion, None);
        panel
    };
    walk.excursions().map(panel).collect()
}

/// The curves of every excursion of two scenes, A and B. Excursions are matched by movement, drive and order of
/// occurrence; those of one scene alone have a panel of their own.
#[must_use]
pub fn of_both(first: &SceneWalk<'_>, second: &SceneWalk<'_>) -> Vec<CurvePanel> {
    let mut panels: Vec<(Matched, CurvePanel)> = Vec::new();
    for (letter, walk) in [('A', first), ('B', second)] {
        let mut seen: Vec<Matched> = Vec::new();
        for excursion in walk.excursions() {
            let mut key = Matched::of(excursion.excursion());
            while seen.contains(&key) {
                key.occurrence += 1;
            }
            seen.push(key.clone());
            let place = panels.iter().position(|(other, _)| *other == key).unwrap_or_else(|| {
                panels.push((key, CurvePanel::new(excursion.excursion())));
                panels.len() - 1
            });
            if let Some((_, panel)) = panels.get_mut(place) {
                let end = driven_to(excursion.excursion().drive());
                if end != panel.end {
                    panel.name =
                        format!("{}; B: {}", panel.name, words::name::end(excursion.excursion().drive()));
                }
                panel.end = panel.end.max(end);
                add(panel, walk.scene(), &excursion, Some(letter));
            }
        }
    }
    panels.into_iter().map(|(_, panel)| panel).collect()
}

/// By what excursions of two scenes belong together. Curves against different drives do not share an axis.
#[derive(Clone, PartialEq)]
struct Matched {
    movement: String,
    driver: &'static str,
    occurrence: usize,
}

impl Matched {
    fn of(excursion: &Excursion) -> Self {
        let movement = words::name::movement_with_ratio(excursion.movement());
        Self { movement, driver: words::name::driver(excursion.drive()).0, occurrence: 1 }
    }
}

fn add(panel: &mut CurvePanel, scene: &Scene, walk: &ExcursionWalk<'_>, set_up: Option<char>) {
    let new = |cusp: &Cusp| CuspCurve { cusp: cusp.clone(), set_up, points: Vec::new() };
    let mut curves: Vec<CuspCurve> = scene.cusps.iter().map(new).collect();
    let mut starts_sideways = false;
    for (index, placement) in walk.samples().enumerate() {
        let placement: Placement = placement;
        starts_sideways |= index == 0 && placement.station.is_before_advance();
        let driven = driven_at(walk.excursion(), index, starts_sideways, scene.samples);
        for (curve, (_, reading)) in curves.iter_mut().zip(walk.cusps(&placement)) {
            curve.points.push(CurvePoint::new(driven, &reading));
        }
    }
    panel.stopped.extend(walk.stopped().map(|why| (set_up, why)));
    panel.curves.extend(curves);
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::scene::{Scene, THIRTY_DEGREE};
    use sim_core::units::Length;

    /// The abscissa of an advance is the advance that the pose itself carries.
    #[test]
    fn curves_stand_where_the_poses_say_that_they_are() {
        let mut scene = Scene::from_ron(THIRTY_DEGREE).unwrap();
        scene.instrument.left_guide.immediate_translation = Length::from_mm(1.0);
        let walk = SceneWalk::new(&scene, None);
        let panels = of_scene(&walk);
        assert_eq!(panels.len(), scene.excursions.len());
        for (panel, excursion) in panels.iter().zip(walk.excursions()) {
            let placements: Vec<Placement> = excursion.samples().collect();
            assert_eq!(panel.curves.len(), scene.cusps.len());
            for curve in &panel.curves {
                assert_eq!(curve.points.len(), placements.len());
                for (point, placement) in curve.points.iter().zip(&placements) {
                    assert!((point.driven - placement.advance().mm()).abs() < 1e-9, "{}", panel.name);
                }
            }
        }
    }

    #[test]
    fn two_scenes_share_a_panel_where_excursion_and_drive_are_the_same() {
        let scene = Scene::from_ron(THIRTY_DEGREE).unwrap();
        let mut other = scene.clone();
        let by_point = Drive::IncisalDisplacement(Length::from_mm(4.0));
        other.excursions[1] = Excursion::new(scene.excursions[1].movement(), by_point).unwrap();
        other.excursions[2] =
            Excursion::new(scene.excursions[2].movement(), Drive::Advance(Length::from_mm(8.0))).unwrap();
        let panels = of_both(&SceneWalk::new(&scene, None), &SceneWalk::new(&other, None));
        let letters = |panel: &CurvePanel| {
            let mut letters: Vec<char> = panel.curves.iter().filter_map(|curve| curve.set_up).collect();
            letters.dedup();
            letters
        };
        let told: Vec<_> = panels.iter().map(letters).collect();
        assert_eq!(told, [vec!['A', 'B'], vec!['A'], vec!['A', 'B'], vec!['B']]);
        assert_eq!(panels[2].end, 8.0);
        assert!(panels[2].name.ends_with("6 mm; B: 8 mm"), "{}", panels[2].name);
    }
}
