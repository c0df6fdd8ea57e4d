//! What a digitised tracing shows.

use nalgebra::Vector2;

use super::double::{self, LEAST_DISTANCE_MM, SecondApex, Split};
use super::estimate::{Ellipse, Estimate};
use super::figures::{Figure, Figures, meeting};
use super::fit::{Curve, Fit, LegFrame, Range};
use super::recorded::FEWEST_POINTS;
use super::round::{Roundness, Shape, roundness};
use super::{Leg, Order, PlatePoint, Recorded, start};
use crate::units::{Angle, Length};

/// Radius of the arc about the apex on which the legs are met, where none is asked for: the holes
/// of the template into which the stylus is locked for the records (common practice, no source).
pub const USUAL_RADIUS: Length = Length::from_mm(6.0);

/// Largest radius at the apex that counts as sharp. The trade asks for a sharp apex and gives no
/// number; this one is the program's own choice: between legs at 120° such an arc stays within 0.15 mm
/// of the corner, about half of a drawn line's width.
pub const LARGEST_SHARP_RADIUS: Length = Length::from_mm(1.0);
/// A tracing is accepted narrowly where its points also fit arcs of this share of the largest sharp
/// radius or more (the program's own choice, too).
const NARROW_SHARE: f64 = 0.75;

/// Radii that can be asked for, in millimetres.
const RADII_MM: (f64, f64) = (1.0, 20.0);
/// The legs are fitted from here outward: what is nearer may lie on a rounded apex.
const NEAREST_MM: f64 = 1.0;
/// The legs are fitted up to here at the least: farther out they bend by more than a parabola.
const FARTHEST_MM: f64 = 8.0;
/// And up to this far beyond the radius asked for.
const BEYOND_RADIUS_MM: f64 = 2.0;
/// A rounded apex moves the near end out, up to here.
const NEAREST_AT_MOST_MM: f64 = 3.0;
/// How far from the apex its near points may lie on the wrong side of it.
const OVERSHOOT_MM: f64 = 1.5;
/// A leg that ends nearer than this before the radius still meets it.
const REACHED_WITHIN_MM: f64 = 0.25;
/// Lateral legs that meet within this of a straight line, or of one another, have no apex.
const LEAST_CORNER_DEG: f64 = 8.0;
/// Farthest that the protrusive leg runs from straight backward before the axes are in doubt.
const ASKEW_DEG: f64 = 45.0;
/// The apex is found when it and the legs, out to their far ends, move by less than this from one round to the next.
const FOUND_WITHIN_MM: f64 = 1e-10;
const MOST_ROUNDS: usize = 20;

/// What a tracing shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Findings {
    /// Where the lateral legs meet.
    pub apex: Apex,
    /// Angle between the tangents of the lateral legs at the apex.
    pub apex_angle: Estimate<Angle>,
    /// In the order of [`Leg::ALL`].
    pub legs: [LegFindings; 3],
    /// Sharp or rounded.
    pub roundness: Roundness,
    /// The apex of a second tracing on the same plate, where there is one.
    pub second_apex: Option<SecondApex>,
    /// How the two sides differ.
    pub asymmetry: Asymmetry,
    /// How far beside the apex the protrusive leg passes; positive where the apex lies to the
    /// patient's right of it.
    pub protrusive_misses_by: Estimate<Length>,
    /// The radius on which the legs were met.
    pub radius: Length,
}

/// The apex.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apex {
    /// Where it is.
    pub at: PlatePoint,
    /// Its uncertainty.
    pub ellipse: Ellipse,
    /// Standard error of `forward`.
    pub forward_error: Length,
    /// Standard error of `left`.
    pub left_error: Length,
}

/// What one leg shows.
#[derive(Clone, Debug, PartialEq)]
pub struct LegFindings {
    /// Which leg.
    pub leg: Leg,
    /// Angle of its tangent at the apex: from straight backward to the leg's side of the plate (for
    /// the protrusive leg, to the patient's left).
    pub tangent: Estimate<Angle>,
    /// The same for the straight line from the apex to where the leg meets the arc; absent where it
    /// ends before.
    pub chord: Option<Estimate<Angle>>,
    /// By how much the leg bends outward from the apex to the arc; absent where it ends before.
    pub bend: Option<Estimate<Angle>>,
    /// Where it meets the arc of the radius; absent where it ends before.
    pub meets: Option<Meeting>,
    /// Points given.
    pub given: usize,
    /// Points that the fit used.
    pub used: usize,
    /// Points that repeat another one's place and were left out.
    pub repeated: usize,
    /// Points within the range that lie too far from the leg and were set aside.
    pub set_aside: usize,
    /// In what order the points came.
    pub order: Order,
    /// Distances from the apex over which the leg was fitted.
    pub range: Range,
    /// Standard deviation of the points across the leg.
    pub scatter: Length,
    /// Distance of two lines beside each other, where the leg shows two; its figures are those of
    /// the stronger tracing.
    pub two_lines: Option<Estimate<Length>>,
    /// The leg's points from the apex outward, without those left out and set aside.
    pub line: Vec<PlatePoint>,
    curve: Curve,
}

/// Where a leg meets the arc about the apex.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meeting {
    /// The place on the plate.
    pub at: PlatePoint,
    /// Its uncertainty.
    pub ellipse: Ellipse,
}

/// How the two sides of a tracing differ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Asymmetry {
    /// Angle of the right lateral leg to the protrusive one, less that of the left.
    pub difference: Estimate<Angle>,
    /// Direction of the line midway between the lateral legs, from straight backward to the left.
    pub middle: Estimate<Angle>,
}

/// Why a tracing is not accepted and is repeated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Objection {
    /// The apex is rounded.
    Rounded(Roundness),
    /// Whether the apex is sharp cannot be told.
    Unclear(Roundness),
    /// There are two.
    Double(SecondApex),
}

/// Why nothing can be read off a tracing.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum ExamineError {
    /// A radius that is none, or no number.
    #[error("the radius is {given_mm} mm; allowed are {} to {} mm", RADII_MM.0, RADII_MM.1)]
    Radius {
        /// The radius given.
        given_mm: f64,
    },
    /// Nothing to fit.
    #[error(
        "the {leg} has fewer than {FEWEST_POINTS} points in line between {from_mm:.1} and {to_mm:.1} mm from the \
         apex; digitise more of it there"
    )]
    TooFew {
        /// The leg.
        leg: Leg,
        /// Near end of the range.
        from_mm: f64,
        /// Far end of the range.
        to_mm: f64,
    },
    /// Lateral legs that make no corner.
    #[error(
        "the two lateral legs meet at {angle_deg:.0}°, which is no corner; an arrow point of some 120° is needed: \
         are the legs' names right?"
    )]
    NoCorner {
        /// The angle between them.
        angle_deg: f64,
    },
    /// Legs on the wrong sides.
    #[error(
        "the right lateral leg lies on the right of the plate and the left one on the left; the plate goes with the \
         jaw, so the stylus marks its left as the jaw goes to the right: are the names exchanged, or `left_mm` \
         counted to the right?"
    )]
    SidesExchanged,
    /// Legs that run forward or sideways.
    #[error(
        "the protrusive leg runs {angle_deg:.0}° from straight backward; the plate goes with the lower jaw, so the \
         legs run backward from the apex: is `forward_mm` counted to the front? A tracing on an upper plate is \
         turned by 180° first"
    )]
    Askew {
        /// Direction of the protrusive leg, from backward to the left.
        angle_deg: f64,
    },
}

/// Reads off a tracing what it shows.
///
/// `radius` is that of the arc about the apex on which the legs are met, 1 to 20 mm
/// ([`USUAL_RADIUS`]). Angles and lengths carry the standard errors that the scatter of the points
/// leaves them, for points whose errors are independent of one another.
///
/// # Errors
/// [`ExamineError`] for a radius out of range, legs with too few points near the apex, and legs
/// that make no arrow point or run the wrong way.
pub fn examine(recorded: &Recorded, radius: Length) -> Result<Findings, ExamineError> {
    let radius_mm = radius.mm();
    if !(RADII_MM.0..=RADII_MM.1).contains(&radius_mm) {
        return Err(ExamineError::Radius { given_mm: radius_mm });
    }
    let all = Leg::ALL.map(|leg| recorded.distinct(leg));
    let whole = Settled::of(all.each_ref().map(Vec::as_slice), radius_mm)?;
    let splits = Leg::ALL.map(|leg| {
        let fit = &whole.fits[leg.index()];
        let places: Vec<_> = all[leg.index()].iter().map(|point| fit.curve.frame.place(point)).collect();
        double::split(&places, (whole.from_mm, whole.to_mm))
    });
    let (settled, points, second) = match told_apart(&all, &splits, radius_mm) {
        Some(TwoTracings { stronger, weaker }) => (stronger.settled, stronger.points, Some(weaker)),
        None => (whole, all, None),
    };
    settled.findings(recorded, &points, &splits, second, radius)
}

/// The fits of all three legs about the apex where the lateral ones meet.
struct Settled {
    fits: [Fit; 3],
    apex: Vector2<f64>,
    from_mm: f64,
    to_mm: f64,
    roundness: Roundness,
}

impl Settled {
    fn of(points: [&[Vector2<f64>]; 3], radius_mm: f64) -> Result<Self, ExamineError> {
        let to_mm = FARTHEST_MM.max(radius_mm + BEYOND_RADIUS_MM);
        let (mut from_mm, mut frames) = (NEAREST_MM, first_frames(points)?);
        loop {
            let (fits, apex) = fitted(points, &mut frames, (from_mm, to_mm))?;
            let lateral = Leg::LATERAL.map(|leg| &fits[leg.index()]);
            let near = Leg::LATERAL.map(|leg| {
                let curve = &fits[leg.index()].curve;
                let is_near = |point: &&Vector2<f64>| {
                    let place = curve.frame.place(point);
                    place.x > -OVERSHOOT_MM && place.x < from_mm && place.y.abs() < OVERSHOOT_MM
                };
                points[leg.index()].iter().filter(is_near).copied().collect::<Vec<_>>()
            });
            let roundness = roundness(lateral, &near, LARGEST_SHARP_RADIUS.mm());
            let corner = lateral[0].curve.tangent(0.0).angle(&lateral[1].curve.tangent(0.0));
            let needed_mm = roundness.tangency_mm(corner) * 1.1;
            if roundness.shape != Shape::Rounded || needed_mm <= from_mm || from_mm >= NEAREST_AT_MOST_MM {
                return Ok(Self { fits, apex, from_mm, to_mm, roundness });
            }
            from_mm = (needed_mm * 1.1).min(NEAREST_AT_MOST_MM);
        }
    }

    fn findings(
        self,
        recorded: &Recorded,
        points: &[Vec<Vector2<f64>>; 3],
        splits: &[Option<Split>; 3],
        second_apex: Option<SecondApex>,
        radius: Length,
    ) -> Result<Findings, ExamineError> {
        let figures = Figures::of(&self.fits, radius.mm()).ok_or_else(|| no_corner(&self.fits))?;
        self.check(&figures)?;
        let (at, covariance) = figures.place(Figure::ApexForward, Figure::ApexLeft);
        let legs =
            Leg::ALL.map(|leg| self.leg(leg, recorded, &points[leg.index()], splits, &figures, radius));
        Ok(Findings {
            apex: Apex {
                at: PlatePoint::from_vector(at),
                ellipse: Ellipse::of(&covariance),
                forward_error: Length::from_mm(covariance[(0, 0)].max(0.0).sqrt()),
                left_error: Length::from_mm(covariance[(1, 1)].max(0.0).sqrt()),
            },
            apex_angle: figures.angle(Figure::ApexAngle),
            legs,
            roundness: self.roundness,
            second_apex,
            asymmetry: Asymmetry {
                difference: figures.angle(Figure::Difference),
                middle: figures.angle(Figure::Middle),
            },
            protrusive_misses_by: figures.length(Figure::Miss),
            radius,
        })
    }

    /// Refuses legs that run the wrong way.
    fn check(&self, figures: &Figures) -> Result<(), ExamineError> {
        let degrees = |figure| figures.angle(figure).value.degrees();
        let protrusive = degrees(Figure::Tangent(Leg::Protrusive));
        if protrusive.abs() > ASKEW_DEG {
            return Err(ExamineError::Askew { angle_deg: protrusive });
        }
        if Leg::LATERAL.iter().all(|leg| degrees(Figure::Tangent(*leg)) < 0.0) {
            return Err(ExamineError::SidesExchanged);
        }
        let angle_deg = degrees(Figure::ApexAngle);
        if !(LEAST_CORNER_DEG..=180.0 - LEAST_CORNER_DEG).contains(&angle_deg) {
            return Err(ExamineError::NoCorner { angle_deg });
        }
        Ok(())
    }

    fn leg(
        &self,
        leg: Leg,
        recorded: &Recorded,
        points: &[Vector2<f64>],
        splits: &[Option<Split>; 3],
        figures: &Figures,
        radius: Length,
    ) -> LegFindings {
        let fit = &self.fits[leg.index()];
        let reached = fit.reach.1 + REACHED_WITHIN_MM >= radius.mm();
        let (at, covariance) = figures.place(Figure::MeetsForward(leg), Figure::MeetsLeft(leg));
        let given = recorded.leg(leg);
        let in_range = |point: &&Vector2<f64>| (self.from_mm..=self.to_mm).contains(&fit.curve.along(point));
        let ranged = points.iter().filter(in_range).count();
        LegFindings {
            leg,
            tangent: figures.angle(Figure::Tangent(leg)),
            chord: reached.then(|| figures.angle(Figure::Chord(leg))),
            bend: reached.then(|| figures.angle(Figure::Bend(leg))),
            meets: reached
                .then(|| Meeting { at: PlatePoint::from_vector(at), ellipse: Ellipse::of(&covariance) }),
            given: given.len(),
            used: fit.used,
            repeated: given.len() - recorded.distinct(leg).len(),
            set_aside: ranged - fit.used,
            order: Order::of(given.iter().map(|point| fit.curve.along(&point.vector()))),
            range: Range { from: Length::from_mm(fit.reach.0), to: Length::from_mm(fit.reach.1) },
            scatter: Length::from_mm(fit.scatter_mm),
            two_lines: splits[leg.index()].as_ref().map(|split| split.apart),
            line: self.line(fit, points),
            curve: fit.curve,
        }
    }

    /// The points from the apex outward, without those set aside.
    fn line(&self, fit: &Fit, points: &[Vector2<f64>]) -> Vec<PlatePoint> {
        let mut kept: Vec<(f64, &Vector2<f64>)> = points
            .iter()
            .map(|point| (fit.curve.frame.place(point), point))
            .filter(|(place, point)| {
                let near = place.x < self.from_mm && place.x > -OVERSHOOT_MM && place.y.abs() < OVERSHOOT_MM;
                near || place.x > self.to_mm || (place.x >= self.from_mm && fit.keeps(point))
            })
            .map(|(place, point)| (place.x, point))
            .collect();
        kept.sort_by(|a, b| a.0.total_cmp(&b.0));
        kept.into_iter().map(|(_, point)| PlatePoint::from_vector(*point)).collect()
    }
}

/// The angle is not what one of an arrow point is.
fn no_corner(fits: &[Fit; 3]) -> ExamineError {
    let along = |leg: Leg| fits[leg.index()].curve.frame.along;
    ExamineError::NoCorner {
        angle_deg: along(Leg::RightLateral).angle(&along(Leg::LeftLateral)).to_degrees(),
    }
}

/// A frame along each leg from where lines through the lateral ones meet.
fn first_frames(points: [&[Vector2<f64>]; 3]) -> Result<[LegFrame; 3], ExamineError> {
    let mut lines = [(Vector2::zeros(), Vector2::x()); 3];
    for (line, leg) in lines.iter_mut().zip(Leg::ALL) {
        let too_few = ExamineError::TooFew { leg, from_mm: NEAREST_MM, to_mm: FARTHEST_MM };
        *line = start::line(points[leg.index()]).ok_or(too_few)?;
    }
    let [right, left] = Leg::LATERAL.map(|leg| lines[leg.index()]);
    let corner = right.1.perp(&left.1).abs().asin().to_degrees();
    let no_corner =
        ExamineError::NoCorner { angle_deg: if right.1.dot(&left.1) < 0.0 { 180.0 } else { 0.0 } };
    let apex = start::meeting(right, left).filter(|_| corner >= LEAST_CORNER_DEG).ok_or(no_corner)?;
    Ok(Leg::ALL.map(|leg| {
        let (_, mut along) = lines[leg.index()];
        let points = points[leg.index()];
        let mean = points.iter().sum::<Vector2<f64>>() / points.len() as f64;
        if along.dot(&(mean - apex)) < 0.0 {
            along = -along;
        }
        LegFrame { origin: apex, along }
    }))
}

/// Fits the legs over a range of distances from the apex, whose place follows from the fits.
fn fitted(
    points: [&[Vector2<f64>]; 3],
    frames: &mut [LegFrame; 3],
    range: (f64, f64),
) -> Result<([Fit; 3], Vector2<f64>), ExamineError> {
    let fit = |frames: &[LegFrame; 3], leg: Leg| {
        let too_few = ExamineError::TooFew { leg, from_mm: range.0, to_mm: range.1 };
        Fit::through(frames[leg.index()], points[leg.index()], range, FEWEST_POINTS).ok_or(too_few)
    };
    let mut rounds = 0;
    loop {
        let fits =
            [fit(frames, Leg::Protrusive)?, fit(frames, Leg::RightLateral)?, fit(frames, Leg::LeftLateral)?];
        let [right, left] = Leg::LATERAL.map(|leg| &fits[leg.index()].curve);
        let (apex, _) = meeting(right, left).ok_or_else(|| no_corner(&fits))?;
        let mut moved = (apex - frames[0].origin).norm();
        let now = fits
            .each_ref()
            .map(|fit| LegFrame { origin: apex, along: fit.curve.tangent(fit.curve.along(&apex)) });
        // The lateral legs may be straight and the apex found at once, while the protrusive one still turns.
        for (frame, now) in frames.iter().zip(&now) {
            moved = moved.max((now.along - frame.along).norm() * range.1);
        }
        rounds += 1;
        if moved < FOUND_WITHIN_MM || rounds == MOST_ROUNDS {
            return Ok((fits, apex));
        }
        *frames = now;
    }
}

/// Two tracings on one plate.
struct TwoTracings {
    stronger: OneTracing,
    weaker: SecondApex,
}

/// One of them, with the points that belong to it.
struct OneTracing {
    settled: Settled,
    points: [Vec<Vector2<f64>>; 3],
}

impl OneTracing {
    fn count(&self) -> usize {
        self.points.iter().map(Vec::len).sum()
    }
}

/// Tells two tracings on one plate apart; nothing where neither lateral leg shows two lines, or
/// their apexes fall together.
fn told_apart(
    all: &[Vec<Vector2<f64>>; 3],
    splits: &[Option<Split>; 3],
    radius_mm: f64,
) -> Option<TwoTracings> {
    let is_split = |leg: Leg| splits[leg.index()].is_some();
    if !Leg::LATERAL.into_iter().any(is_split) {
        return None;
    }
    let line = |leg: Leg, second: bool| -> Vec<Vector2<f64>> {
        let points = &all[leg.index()];
        match &splits[leg.index()] {
            None => points.clone(),
            Some(split) => {
                let belongs = |(_, line): &(&Vector2<f64>, &Option<bool>)| **line == Some(second);
                points.iter().zip(&split.line).filter(belongs).map(|(point, _)| *point).collect()
            }
        }
    };
    // Which line of one leg goes with which of the others is not known: all ways are tried, and the
    // one in which the protrusive lines best pass through the apexes is taken.
    let mut best: Option<(f64, [OneTracing; 2])> = None;
    for crossed in [(false, false), (false, true), (true, false), (true, true)] {
        let unneeded =
            (crossed.0 && !is_split(Leg::LeftLateral)) || (crossed.1 && !is_split(Leg::Protrusive));
        if unneeded {
            continue;
        }
        let tracing = |second: bool| {
            let points = [
                line(Leg::Protrusive, second != crossed.1),
                line(Leg::RightLateral, second),
                line(Leg::LeftLateral, second != crossed.0),
            ];
            let settled = Settled::of(points.each_ref().map(Vec::as_slice), radius_mm).ok()?;
            let miss = settled.fits[Leg::Protrusive.index()].curve.residual(&settled.apex).abs();
            Some((miss, OneTracing { settled, points }))
        };
        let (Some((first_miss, first)), Some((second_miss, second))) = (tracing(false), tracing(true)) else {
            continue;
        };
        let cost = first_miss + second_miss;
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            best = Some((cost, [first, second]));
        }
    }
    let (_, [first, second]) = best?;
    let (stronger, weaker) = if first.count() >= second.count() { (first, second) } else { (second, first) };
    let way = weaker.settled.apex - stronger.settled.apex;
    let distance = way.norm();
    if distance < LEAST_DISTANCE_MM {
        return None;
    }
    let towards = way / distance;
    let variance: f64 = [&stronger.settled, &weaker.settled]
        .into_iter()
        .filter_map(|settled| Figures::of(&settled.fits, radius_mm))
        .map(|figures| figures.place(Figure::ApexForward, Figure::ApexLeft).1)
        .map(|covariance| (towards.transpose() * covariance * towards).x)
        .sum();
    Some(TwoTracings {
        weaker: SecondApex {
            at: PlatePoint::from_vector(weaker.settled.apex),
            distance: Estimate::<Length>::mm(distance, variance),
        },
        stronger,
    })
}

impl Findings {
    /// What one leg shows.
    #[must_use]
    pub fn leg(&self, leg: Leg) -> &LegFindings {
        &self.legs[leg.index()]
    }

    /// Why the tracing is not accepted: a single sharp apex is (common practice, no source), a
    /// rounded or double one is repeated. Empty where it is accepted.
    #[must_use]
    pub fn objections(&self) -> Vec<Objection> {
        let of_shape = match self.roundness.shape {
            Shape::Sharp => None,
            Shape::Rounded => Some(Objection::Rounded(self.roundness)),
            // Two tracings run into one another at their apexes; more points would not help.
            Shape::Unclear if self.second_apex.is_some() => None,
            Shape::Unclear => Some(Objection::Unclear(self.roundness)),
        };
        of_shape.into_iter().chain(self.second_apex.map(Objection::Double)).collect()
    }
}

impl Findings {
    /// Whether a tracing is accepted although an arc not much smaller than the largest sharp one fits its
    /// points as well.
    #[must_use]
    pub fn is_narrow(&self) -> bool {
        let upper = self.roundness.interval.1;
        self.objections().is_empty() && upper >= LARGEST_SHARP_RADIUS * NARROW_SHARE
    }
}

impl LegFindings {
    /// The fitted curve from the apex to the farthest point used, in so many points (2 or more).
    #[must_use]
    pub fn fitted(&self, apex: &PlatePoint, points: usize) -> Vec<PlatePoint> {
        let start = self.curve.along(&apex.vector());
        let step = (self.range.to.mm() - start) / (points.max(2) - 1) as f64;
        (0..points.max(2))
            .map(|index| PlatePoint::from_vector(self.curve.point(start + step * index as f64)))
            .collect()
    }
}
