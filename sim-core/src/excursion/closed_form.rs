//! The closed form of a pose on planes, in plain numbers: for one setting, or for each lane of many.
//!
//! Nothing branches, and what does not exist is not a number: a loop over lanes then becomes vector instructions.

/// Advance, medial shift and drop of one condyle in millimetres.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Shift {
    pub(super) advance: f64,
    pub(super) medial: f64,
    pub(super) drop: f64,
}

/// A place or a direction.
pub(super) type Triple = [f64; 3];

/// What the spheres have between them.
#[derive(Clone, Copy)]
pub(super) struct Span {
    /// +1 arcon, −1 non-arcon.
    pub(super) sense: f64,
    pub(super) distance: f64,
}

impl Span {
    /// Where a sphere stands.
    #[inline(always)]
    fn place(self, shift: &Shift, outward: f64) -> Triple {
        let Self { sense, distance } = self;
        [sense * shift.advance, outward * (distance / 2.0 - sense * shift.medial), -sense * shift.drop]
    }
}

/// The root nearest zero of a·x² + 2b·x + c = 0, in the form that does not cancel; not a number where there is
/// none.
#[inline(always)]
fn near_root(a: f64, b: f64, c: f64) -> f64 {
    -c / (b + (b * b - a * c).sqrt().copysign(b))
}

/// Both advance by `a`; v = f(a) + m·tan τ on each side and m is the same on both, which
/// leaves m to keep the spheres' distance: with drops apart by D + m·T and σ = +1 for arcon,
/// −1 for non-arcon, (w − 2σm)² + (D + mT)² = w².
///
/// Right, then left.
#[inline(always)]
pub(super) fn advanced_together(
    span: Span,
    advance: f64,
    drops: [f64; 2],
    tan_tilts: [f64; 2],
) -> [Shift; 2] {
    let apart = drops[1] - drops[0];
    let tilt_apart = tan_tilts[1] - tan_tilts[0];
    let medial = near_root(
        4.0 + tilt_apart * tilt_apart,
        apart * tilt_apart - 2.0 * span.sense * span.distance,
        apart * apart,
    );
    [
        Shift { advance, medial, drop: drops[0] + medial * tan_tilts[0] },
        Shift { advance, medial, drop: drops[1] + medial * tan_tilts[1] },
    ]
}

/// What steers a lateral movement at a station.
#[derive(Clone, Copy)]
pub(super) struct Turned {
    /// k: how far the working condyle goes for each millimetre of the orbiting one.
    pub(super) ratio: f64,
    /// Advance of the orbiting condyle.
    pub(super) t: f64,
    /// What the orbiting side's medial wall asks for there.
    pub(super) wall_medial: f64,
    /// f(t) of the orbiting side, and its tilt.
    pub(super) orbit_drop: f64,
    pub(super) orbit_tan_tilt: f64,
    /// f(k·t) of the working side.
    pub(super) seat_drop: f64,
    pub(super) tan_retrusion: f64,
    pub(super) tan_surtrusion: f64,
}

/// The orbiting condyle advances by t against its superior and medial walls; the working one
/// by k·t, free along the axis. Its outward shift s, which bends its way by
/// lateroretrusion (a = k·t − s·tan ρ) and laterosurtrusion (v = f(k·t) − s·tan κ), keeps the spheres'
/// distance.
///
/// Orbiting, then working.
#[inline(always)]
pub(super) fn turned(span: Span, given: &Turned) -> [Shift; 2] {
    let Turned { ratio, t, tan_retrusion: back, tan_surtrusion: up, .. } = *given;
    let medial = given.wall_medial * (1.0 - ratio);
    let orbiting = Shift { advance: t, medial, drop: given.orbit_drop + medial * given.orbit_tan_tilt };
    let ahead = t * (1.0 - ratio);
    let below = orbiting.drop - given.seat_drop;
    let between = span.distance - span.sense * medial;
    let outward = near_root(
        1.0 + back * back + up * up,
        ahead * back + span.sense * between + below * up,
        ahead * ahead + below * below + medial * medial - 2.0 * span.sense * span.distance * medial,
    );
    let working =
        Shift { advance: ratio * t - outward * back, medial: -outward, drop: given.seat_drop - outward * up };
    [orbiting, working]
}

/// The member that carries the spheres, placed but for its turn about the axis through them.
#[derive(Clone, Copy)]
pub(super) struct Axis {
    /// Columns of the least rotation that takes the axis at rest to the axis now.
    pub(super) turn: [Triple; 3],
    pub(super) middle: Triple,
}

impl Axis {
    /// `inverse_distance` is that of the spheres; right, then left.
    #[inline(always)]
    pub(super) fn through(span: Span, inverse_distance: f64, shifts: &[Shift; 2]) -> Self {
        let (right, left) = (span.place(&shifts[0], -1.0), span.place(&shifts[1], 1.0));
        // The spheres are placed at their distance to rounding, so this is of unit length to it.
        let [x, y, z] = triple(|at| (left[at] - right[at]) * inverse_distance);
        let k = 1.0 / (1.0 + y);
        let turn = [
            [1.0 - x * x * k, -x, -x * z * k], //
            [x, y, z],
            [-x * z * k, -z, 1.0 - z * z * k],
        ];
        Self { turn, middle: triple(|at| (left[at] + right[at]) / 2.0) }
    }
}

#[inline(always)]
fn triple(part: impl Fn(usize) -> f64) -> Triple {
    [part(0), part(1), part(2)]
}

#[inline(always)]
fn dot(one: &Triple, other: &Triple) -> f64 {
    one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
}

/// Which members things are fixed to.
#[derive(Clone, Copy)]
pub(super) struct Members {
    /// Whether the spheres are on the lower member: arcon.
    pub(super) is_arcon: bool,
    /// Whether a pin glides on a table of the lower member; else the lower incisal edge below inclines.
    pub(super) has_pin: bool,
}

/// How deep a plane may seem pierced, in millimetres, and still be taken for touched: above what
/// rounding leaves at a crease, where two planes are touched at once. There the plate is named.
const CREASE_MM: f64 = 1e-9;

/// Gap between guided point and plane as the jaw opens by θ: A cos θ + B sin θ − C, positive when
/// clear.
#[derive(Clone, Copy)]
pub(super) struct Gap {
    a: f64,
    b: f64,
    c: f64,
}

impl Gap {
    /// Cosine and sine of the opening at which this plane stops the closing: the root where the gap grows with θ;
    /// and whether there is one.
    #[inline(always)]
    pub(super) fn stop(self) -> (f64, f64, bool) {
        let square = self.a * self.a + self.b * self.b;
        let rest = square - self.c * self.c;
        let (root, inverse) = (rest.sqrt(), 1.0 / square);
        let cos = (self.a * self.c + self.b * root) * inverse;
        let sin = (self.b * self.c - self.a * root) * inverse;
        (cos, sin, rest > 0.0)
    }

    /// Whether the plane is not pierced there.
    #[inline(always)]
    fn is_clear(self, cos: f64, sin: f64) -> bool {
        self.at(cos, sin) >= -CREASE_MM
    }

    #[inline(always)]
    pub(super) fn at(self, cos: f64, sin: f64) -> f64 {
        self.a * cos + self.b * sin - self.c
    }
}

/// The guided point as it is seen from the axis, from which the gap to any plane follows.
///
/// With P = middle + turn·Ry(ψ) the carrier's pose and ψ = ±θ: a point g
/// fixed to the carrier has n·P g = n·middle + (turnᵀn)·Ry(ψ)g; a plane fixed to the carrier
/// sees n·P⁻¹g = n·Ry(−ψ)h with h = turnᵀ(g − middle). Both are linear in cos ψ and sin ψ.
pub(super) struct Seen<'a> {
    axis: &'a Axis,
    /// Whether the guided point is fixed to the member that carries the spheres.
    on_carrier: bool,
    /// g where it is, else h.
    point: Triple,
    clear: f64,
    turned: f64,
}

impl<'a> Seen<'a> {
    #[inline(always)]
    pub(super) fn from(axis: &'a Axis, members: Members, g: &Triple) -> Self {
        let Members { is_arcon, has_pin } = members;
        let on_carrier = has_pin != is_arcon;
        let off = triple(|at| g[at] - axis.middle[at]);
        let point = if on_carrier { *g } else { triple(|at| dot(&axis.turn[at], &off)) };
        // A pin is above its table, a lower incisal edge below the upper inclines.
        let clear = if has_pin { 1.0 } else { -1.0 };
        Self { axis, on_carrier, point, clear, turned: if is_arcon { clear } else { -clear } }
    }

    /// The gap to a plane, by its normal and offset.
    #[inline(always)]
    pub(super) fn gap(&self, normal: &Triple, offset: f64) -> Gap {
        let (clear, turned, at) = (self.clear, self.turned, &self.point);
        if self.on_carrier {
            let n = triple(|column| dot(&self.axis.turn[column], normal));
            let c = offset - dot(normal, &self.axis.middle) - n[1] * at[1];
            Gap {
                a: clear * (n[0] * at[0] + n[2] * at[2]),
                b: turned * (n[0] * at[2] - n[2] * at[0]),
                c: clear * c,
            }
        } else {
            let n = normal;
            Gap {
                a: clear * (n[0] * at[0] + n[2] * at[2]),
                b: turned * (n[2] * at[0] - n[0] * at[2]),
                c: clear * (offset - n[1] * at[1]),
            }
        }
    }
}

/// Where the closing stops.
#[derive(Clone, Copy)]
pub(super) struct Stopped {
    pub(super) cos: f64,
    pub(super) sin: f64,
    /// The number of the plane, as a number of the width of the others.
    pub(super) plane: f64,
    /// Whether a plane is met at all, and none is pierced.
    pub(super) is_met: bool,
}

/// The most open of the planes' stops is the first that the closing jaw meets. A plane that is
/// clear where another stops need not be asked for its own stop: a single pose, which `MAY_BRANCH`, does not ask
/// for it; lanes ask, and take no heed of it.
#[inline(always)]
pub(super) fn first_stop<const MAY_BRANCH: bool>(gaps: &[Gap; 3]) -> Stopped {
    let (mut cos, mut sin, mut is_met) = gaps[0].stop();
    let mut plane = 0.0;
    for (gap, number) in [(gaps[1], 1.0), (gaps[2], 2.0)] {
        let is_clear = gap.is_clear(cos, sin);
        if MAY_BRANCH && is_met && is_clear {
            continue;
        }
        let (own_cos, own_sin, has_stop) = gap.stop();
        let is_more_open = own_sin * cos - sin * own_cos > 0.0;
        // Without a stop so far nothing is clear, and any is the more open.
        let takes = has_stop & (!is_met | (!is_clear & is_more_open));
        cos = if takes { own_cos } else { cos };
        sin = if takes { own_sin } else { sin };
        plane = if takes { number } else { plane };
        is_met |= has_stop;
    }
    let [plate, right, left] = gaps;
    let is_pierced_nowhere = plate.is_clear(cos, sin) & right.is_clear(cos, sin) & left.is_clear(cos, sin);
    Stopped { cos, sin, plane, is_met: is_met & (cos > 0.0) & is_pierced_nowhere }
}

/// The jaw's pose: columns of its rotation, and its translation.
#[derive(Clone, Copy)]
pub(super) struct Posed {
    pub(super) columns: [Triple; 3],
    pub(super) translation: Triple,
}

/// The jaw opened by an angle about the axis.
#[inline(always)]
pub(super) fn posed(is_arcon: bool, axis: &Axis, cos: f64, sin: f64) -> Posed {
    let sin = if is_arcon { sin } else { -sin };
    let [x, y, z] = &axis.turn;
    let columns = [triple(|at| x[at] * cos - z[at] * sin), *y, triple(|at| x[at] * sin + z[at] * cos)];
    if is_arcon {
        return Posed { columns, translation: axis.middle };
    }
    let translation = triple(|at| -dot(&columns[at], &axis.middle));
    let row = |at: usize| triple(|column| columns[column][at]);
    Posed { columns: [row(0), row(1), row(2)], translation }
}
