//! Many instruments solved at once, each in a lane of its own.

use super::closed_form::{
    Axis, Gap, Members, Posed, Seen, Shift, Span, Triple, Turned, advanced_together, first_stop, posed,
    turned,
};
use super::mechanism::{Front, Mechanism};
use super::spheres::Pair;
use super::{Guidance, Movement, NoPose, Placement, Station};
use crate::anterior::{GuidePlane, Plane};
use crate::frame::{JawLanes, LowerPoint, PerSide, Side};
use crate::guide::WallLanes;
use crate::lanes::{LANES, Lane, Work, widely};

/// Instruments side by side, to be solved at once: the same numbers as one by one, to the last bit, several times
/// as fast.
///
/// It is for instruments of one design whose anterior guide is of one kind, a table or incisors; guides may have
/// any path. Others are put into lanes as well, but have no pose there: they are to be asked one by one.
#[derive(Clone, Debug)]
pub struct MechanismLanes {
    kind: Kind,
    /// Whether all that were put in since [`Self::clear`] are of one kind.
    is_of_one_kind: bool,
    used: usize,
    distance: Lane,
    inverse_distance: Lane,
    walls: PerSide<WallLanes>,
    point: [Lane; 3],
    normals: [[Lane; 3]; 3],
    offsets: [Lane; 3],
    incisal_point: [Lane; 3],
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Kind {
    Nothing,
    Planes { is_arcon: bool, has_pin: bool },
    Other,
}

/// The poses of [`MechanismLanes`].
#[derive(Clone, Debug)]
pub struct PoseLanes {
    /// Advance, medial shift and drop.
    shifts: PerSide<[Lane; 3]>,
    jaws: JawLanes,
    plane: Lane,
    /// 1 where there is a pose, 0 where there is none: of the width of all other numbers, so that one loop does.
    is_met: Lane,
    stations: [Station; LANES],
}

const NOTHING: Lane = [0.0; LANES];

impl Default for PoseLanes {
    fn default() -> Self {
        Self {
            shifts: PerSide { right: [NOTHING; 3], left: [NOTHING; 3] },
            jaws: JawLanes::default(),
            plane: NOTHING,
            is_met: NOTHING,
            stations: [Station::REST; LANES],
        }
    }
}

impl Default for MechanismLanes {
    fn default() -> Self {
        Self {
            kind: Kind::Nothing,
            is_of_one_kind: true,
            used: 0,
            distance: [1.0; LANES],
            inverse_distance: [1.0; LANES],
            walls: PerSide::default(),
            point: [NOTHING; 3],
            normals: [[NOTHING; 3]; 3],
            offsets: [NOTHING; 3],
            incisal_point: [NOTHING; 3],
        }
    }
}

impl MechanismLanes {
    /// Empties the lanes.
    pub fn clear(&mut self) {
        (self.used, self.kind, self.is_of_one_kind) = (0, Kind::Nothing, true);
    }

    /// Puts an instrument into the next lane; the number of it, or nothing where all [`LANES`] are taken.
    #[inline]
    pub fn put(&mut self, mechanism: &Mechanism) -> Option<usize> {
        let lane = self.used;
        if lane >= LANES {
            return None;
        }
        self.used += 1;
        let Members { is_arcon, has_pin } = mechanism.members();
        let kind = match &mechanism.front {
            Front::Table(planes) | Front::Incisors(planes) => {
                self.put_planes(lane, planes);
                Kind::Planes { is_arcon, has_pin }
            }
            Front::Teeth { .. } | Front::Custom(_) => Kind::Other,
        };
        if self.kind == Kind::Nothing {
            self.kind = kind;
        }
        self.is_of_one_kind &= self.kind == kind;
        self.distance[lane] = mechanism.distance;
        self.inverse_distance[lane] = mechanism.inverse_distance;
        self.walls.right.put(lane, &mechanism.walls.right);
        self.walls.left.put(lane, &mechanism.walls.left);
        for at in 0..3 {
            self.point[at][lane] = mechanism.guided_point[at];
            self.incisal_point[at][lane] = mechanism.incisal_point.coords()[at];
        }
        Some(lane)
    }

    fn put_planes(&mut self, lane: usize, planes: &[Plane; 3]) {
        for (number, plane) in planes.iter().enumerate() {
            for at in 0..3 {
                self.normals[number][at][lane] = plane.normal[at];
            }
            self.offsets[number][lane] = plane.offset_mm;
        }
    }

    /// Solves every lane at a station of its own.
    pub fn solve_each(&self, movement: Movement, stations: &[Station; LANES], poses: &mut PoseLanes) {
        poses.stations = *stations;
        poses.is_met = NOTHING;
        let Kind::Planes { is_arcon, has_pin } = self.kind else { return };
        if !self.is_of_one_kind {
            return;
        }
        let members = Members { is_arcon, has_pin };
        match movement {
            Movement::Opening => {}
            Movement::Protrusive => widely(Solving { of: self, members, poses, spheres: Together }),
            Movement::Lateral { working } => {
                widely(Solving { of: self, members, poses, spheres: Aside { working, ratio: 0.0 } });
            }
            Movement::Lateroprotrusive { working, ratio } => {
                widely(Solving { of: self, members, poses, spheres: Aside { working, ratio: ratio.get() } });
            }
        }
    }

    /// Solves every lane at one station.
    pub fn solve(&self, movement: Movement, station: Station, poses: &mut PoseLanes) {
        self.solve_each(movement, &[station; LANES], poses);
    }

    /// A lane's pose as one that was solved by itself; nothing where the lane has none, for which
    /// [`Mechanism::at`] says why.
    #[must_use]
    pub fn placement(&self, poses: &PoseLanes, lane: usize) -> Option<Placement> {
        if lane >= self.used || !poses.has_pose(lane) {
            return None;
        }
        let Kind::Planes { has_pin, .. } = self.kind else { return None };
        let spheres: Pair =
            PerSide { right: shift(&poses.shifts.right, lane), left: shift(&poses.shifts.left, lane) };
        let JawLanes { columns: [x, y, z], translation } = &poses.jaws;
        let columns = [triple(x, lane), triple(y, lane), triple(z, lane)];
        let jaw = Posed { columns, translation: triple(translation, lane) }.jaw();
        let plane = if poses.plane[lane] == 0.0 {
            GuidePlane::Plate
        } else {
            GuidePlane::Wing(if poses.plane[lane] == 1.0 { Side::Right } else { Side::Left })
        };
        let guidance = if has_pin { Guidance::Table(plane) } else { Guidance::Incisors(plane) };
        let rest = LowerPoint::from_coords(triple(&self.incisal_point, lane).into());
        Some(Placement::of(poses.stations[lane], &spheres, (jaw, guidance, None), &rest))
    }
}

impl PoseLanes {
    /// The jaw in every lane; where a lane has no pose, numbers that mean nothing.
    #[must_use]
    pub const fn jaws(&self) -> &JawLanes {
        &self.jaws
    }

    /// Whether a lane has a pose.
    #[must_use]
    #[inline]
    pub fn has_pose(&self, lane: usize) -> bool {
        self.is_met.get(lane).is_some_and(|met| *met > 0.0)
    }
}

/// Where the spheres go.
trait Spheres: Copy {
    fn place(self, of: &MechanismLanes, is_arcon: bool, poses: &mut PoseLanes);
}

#[derive(Clone, Copy)]
struct Together;

#[derive(Clone, Copy)]
struct Aside {
    working: Side,
    ratio: f64,
}

#[inline(always)]
fn triple(lanes: &[Lane; 3], lane: usize) -> Triple {
    [lanes[0][lane], lanes[1][lane], lanes[2][lane]]
}

#[inline(always)]
fn shift(shifts: &[Lane; 3], lane: usize) -> Shift {
    Shift { advance: shifts[0][lane], medial: shifts[1][lane], drop: shifts[2][lane] }
}

#[inline(always)]
fn put(shifts: &mut [Lane; 3], lane: usize, shift: Shift) {
    shifts[0][lane] = shift.advance;
    shifts[1][lane] = shift.medial;
    shifts[2][lane] = shift.drop;
}

#[inline(always)]
fn advances(stations: &[Station; LANES]) -> Lane {
    stations.map(|station| station.advance().mm())
}

impl Spheres for Together {
    #[inline(always)]
    fn place(self, of: &MechanismLanes, is_arcon: bool, poses: &mut PoseLanes) {
        let PerSide { right, left } = &of.walls;
        let advances = advances(&poses.stations);
        let mut drops = [NOTHING; 2];
        right.drops_mm(&advances, &mut drops[0]);
        left.drops_mm(&advances, &mut drops[1]);
        for lane in 0..LANES {
            let span = of.span(is_arcon, lane);
            let tan_tilts = [right.tan_tilt[lane], left.tan_tilt[lane]];
            let shifts = advanced_together(span, advances[lane], [drops[0][lane], drops[1][lane]], tan_tilts);
            put(&mut poses.shifts.right, lane, shifts[0]);
            put(&mut poses.shifts.left, lane, shifts[1]);
        }
    }
}

impl Spheres for Aside {
    #[inline(always)]
    fn place(self, of: &MechanismLanes, is_arcon: bool, poses: &mut PoseLanes) {
        let Self { working, ratio } = self;
        let (orbit, work) = (&of.walls[working.opposite()], &of.walls[working]);
        let advances = advances(&poses.stations);
        let (mut orbit_drops, mut seat_drops, mut wall_medials) = (NOTHING, NOTHING, NOTHING);
        orbit.drops_mm(&advances, &mut orbit_drops);
        if ratio > 0.0 {
            work.drops_mm(&advances.map(|advance| ratio * advance), &mut seat_drops);
        }
        let shifted = poses.stations.map(Station::shifted);
        for lane in 0..LANES {
            wall_medials[lane] = orbit.medial_mm(lane, advances[lane], shifted[lane]);
        }
        let PerSide { right, left } = &mut poses.shifts;
        let (orbiting, moved) = match working {
            Side::Right => (left, right),
            Side::Left => (right, left),
        };
        for lane in 0..LANES {
            let given = Turned {
                ratio,
                t: advances[lane],
                wall_medial: wall_medials[lane],
                orbit_drop: orbit_drops[lane],
                orbit_tan_tilt: orbit.tan_tilt[lane],
                seat_drop: seat_drops[lane],
                tan_retrusion: work.tan_retrusion[lane],
                tan_surtrusion: work.tan_surtrusion[lane],
            };
            let shifts = turned(of.span(is_arcon, lane), &given);
            put(orbiting, lane, shifts[0]);
            put(moved, lane, shifts[1]);
        }
    }
}

impl MechanismLanes {
    #[inline(always)]
    fn span(&self, is_arcon: bool, lane: usize) -> Span {
        Span { sense: if is_arcon { 1.0 } else { -1.0 }, distance: self.distance[lane] }
    }

    /// The gap to a plane of a lane.
    #[inline(always)]
    fn gap(&self, seen: &Seen<'_>, plane: usize, lane: usize) -> Gap {
        seen.gap(&triple(&self.normals[plane], lane), self.offsets[plane][lane])
    }

    /// Closes every lane on its planes.
    #[inline(always)]
    fn close(&self, members: Members, poses: &mut PoseLanes) {
        for lane in 0..LANES {
            let shifts = [shift(&poses.shifts.right, lane), shift(&poses.shifts.left, lane)];
            let axis = Axis::through(self.span(members.is_arcon, lane), self.inverse_distance[lane], &shifts);
            let seen = Seen::from(&axis, members, &triple(&self.point, lane));
            let stopped = first_stop::<false>(&[
                self.gap(&seen, 0, lane),
                self.gap(&seen, 1, lane),
                self.gap(&seen, 2, lane),
            ]);
            let jaw = posed(members.is_arcon, &axis, stopped.cos, stopped.sin);
            for column in 0..3 {
                for row in 0..3 {
                    poses.jaws.columns[column][row][lane] = jaw.columns[column][row];
                }
                poses.jaws.translation[column][lane] = jaw.translation[column];
            }
            poses.plane[lane] = stopped.plane;
            poses.is_met[lane] = if stopped.is_met { 1.0 } else { 0.0 };
        }
    }
}

/// All lanes solved.
struct Solving<'a, S> {
    of: &'a MechanismLanes,
    members: Members,
    poses: &'a mut PoseLanes,
    spheres: S,
}

impl<S: Spheres> Work for Solving<'_, S> {
    #[inline(always)]
    fn run(self) {
        let Self { of, members, poses, spheres } = self;
        // Four loops, each with its signs known, rather than one that turns them about at every step.
        match (members.is_arcon, members.has_pin) {
            (true, true) => solved(of, Members { is_arcon: true, has_pin: true }, poses, spheres),
            (true, false) => solved(of, Members { is_arcon: true, has_pin: false }, poses, spheres),
            (false, true) => solved(of, Members { is_arcon: false, has_pin: true }, poses, spheres),
            (false, false) => solved(of, Members { is_arcon: false, has_pin: false }, poses, spheres),
        }
    }
}

#[inline(always)]
fn solved(of: &MechanismLanes, members: Members, poses: &mut PoseLanes, spheres: impl Spheres) {
    spheres.place(of, members.is_arcon, poses);
    of.close(members, poses);
}

/// Solves many instruments at a station of a movement, [`LANES`] at a time, and gives each its pose or why it has
/// none, in their order: what [`Mechanism::at`] gives of each.
pub fn solve_all(
    mechanisms: &[Mechanism],
    movement: Movement,
    station: Station,
    mut each: impl FnMut(usize, Result<Placement, NoPose>),
) {
    let (mut lanes, mut poses) = (MechanismLanes::default(), PoseLanes::default());
    for (chunk, together) in mechanisms.chunks(LANES).enumerate() {
        lanes.clear();
        for mechanism in together {
            lanes.put(mechanism);
        }
        lanes.solve(movement, station, &mut poses);
        for (lane, mechanism) in together.iter().enumerate() {
            let placed = lanes.placement(&poses, lane).map_or_else(|| mechanism.at(movement, station), Ok);
            each(chunk * LANES + lane, placed);
        }
    }
}
