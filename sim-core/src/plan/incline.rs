//! The inclines that cusp facets must have so that they glide in contact.

use nalgebra::Vector3;

use super::arch::ToothPlace;
use super::passage::{FromRest, Passage, Role, moved};
use super::{AxisTip, PlanError};
use crate::cusp::{Cusp, Tooth};
use crate::excursion::Station;
use crate::frame::{OcclusalPlane, Side, UpperPoint};
use crate::guide::Walls;
use crate::instrument::Instrument;
use crate::units::{Angle, Length};

/// A place of a tooth at which inclines are asked.
#[derive(Clone, Debug, PartialEq)]
pub struct FacetPlace {
    /// The tooth.
    pub tooth: Tooth,
    /// The cusp's name; none for the middle of a crown.
    pub name: Option<String>,
    /// Where it stands in the upper frame at rest, in millimetres.
    pub at: Vector3<f64>,
    /// How far the crown's end of the tooth's axis leans forward of the occlusal plane's normal.
    pub leans_forward: Angle,
    /// How far it leans away from the midline.
    pub leans_outward: Angle,
}

impl FacetPlace {
    /// The middle of a tooth of an arch: its axis square to the compensating curve there (to the
    /// occlusal plane where it is flat), tipped further as told.
    #[must_use]
    pub fn of_tooth(tooth: &ToothPlace, tips: &[AxisTip]) -> Self {
        let (forward, outward) = tip(tooth.tooth, tips);
        Self {
            tooth: tooth.tooth,
            name: None,
            at: tooth.at,
            leans_forward: tooth.sagittal_tilt + forward,
            leans_outward: outward - tooth.transverse_tilt,
        }
    }

    fn of_cusp(cusp: &Cusp, at: Vector3<f64>, tips: &[AxisTip]) -> Self {
        let (leans_forward, leans_outward) = tip(cusp.tooth(), tips);
        Self { tooth: cusp.tooth(), name: Some(cusp.name().to_owned()), at, leans_forward, leans_outward }
    }

    /// Direction of the tooth's axis.
    fn axis(&self, plane: OcclusalPlane) -> Vector3<f64> {
        let outward = Vector3::y() * self.tooth.side().outward_y();
        (plane.normal() + plane.anterior() * self.leans_forward.tan() + outward * self.leans_outward.tan())
            .normalize()
    }
}

fn tip(tooth: Tooth, tips: &[AxisTip]) -> (Angle, Angle) {
    let told = tips.iter().find(|tip| tip.tooth == tooth);
    told.map_or((Angle::ZERO, Angle::ZERO), |tip| (tip.forward, tip.outward))
}

/// The incline of a facet that holds a way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Incline {
    /// Of the way itself, to the occlusal plane; below zero where the jaw comes nearer.
    pub along_way: Angle,
    /// Of the way to the plane square to the tooth's axis.
    pub to_axis: Angle,
    /// Where the way goes along the occlusal plane: 0° forward, 90° outward, −90° inward, 180° back.
    pub direction: Angle,
    /// Of a facet that falls forward or back only; none where the way goes neither.
    pub sagittal: Option<Angle>,
    /// Of a facet that falls outward or inward only; none where the way goes neither.
    pub transverse: Option<Angle>,
}

/// A part of the way less than this is none: rounding of a straight protrusion.
const NO_PART: f64 = 1e-9;

impl Incline {
    fn of(moved: &Vector3<f64>, place: &FacetPlace, plane: OcclusalPlane) -> Self {
        let passage = Passage::of(moved, plane, place.tooth.side());
        let over = |part: f64| {
            (part.abs() > NO_PART * moved.norm()).then(|| Angle::from_radians(passage.fall.atan2(part.abs())))
        };
        let sine = -moved.dot(&place.axis(plane)) / moved.norm();
        Self {
            along_way: Angle::from_radians(passage.fall.atan2(passage.along())),
            to_axis: Angle::from_radians(sine.asin()),
            direction: Angle::from_radians(passage.outward.atan2(passage.forward)),
            sagittal: over(passage.forward),
            transverse: over(passage.outward),
        }
    }
}

/// Of one excursion: at once, and over a distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glide {
    /// Tangent of the path where it starts.
    pub tangent: Incline,
    /// Chord from the start to the advance asked for.
    pub chord: Incline,
}

/// The inclines that one place needs.
#[derive(Clone, Debug, PartialEq)]
pub struct RequiredInclines {
    /// The place.
    pub place: FacetPlace,
    /// In protrusion.
    pub protrusive: Glide,
    /// To the tooth's own side.
    pub working: Glide,
    /// To the other side.
    pub orbiting: Glide,
    /// The protrusive tangent to the occlusal plane by the linear rule of proportion.
    pub by_proportion: Angle,
}

impl RequiredInclines {
    /// Those of one excursion.
    #[must_use]
    pub const fn glide(&self, role: Role) -> &Glide {
        match role {
            Role::Protrusive => &self.protrusive,
            Role::Working => &self.working,
            Role::Orbiting => &self.orbiting,
        }
    }

    /// How far the rule of proportion is off: what it says less what the instrument needs.
    #[must_use]
    pub fn rule_is_off(&self) -> Angle {
        self.by_proportion - self.protrusive.tangent.along_way
    }
}

/// The inclines needed at places of the upper frame at rest, so that the facets there glide in contact
/// in protrusion, on the working and on the orbiting side.
///
/// The tangent is the exact derivative of the motion ([`crate::excursion::Mechanism::velocity`]); the chord runs to a
/// condylar advance of `chord`. At rest both arches need the same tangent at the same place; over a
/// distance a lower facet follows the path of an upper point in the lower frame, and the other way
/// round, so chords differ a little.
///
/// # Errors
/// [`PlanError::NoPose`] where the instrument admits no pose.
pub fn required_inclines(
    instrument: &Instrument,
    plane: OcclusalPlane,
    places: &[FacetPlace],
    chord: Length,
) -> Result<Vec<RequiredInclines>, PlanError> {
    let from_rest = FromRest::new(instrument)?;
    needed(&from_rest, instrument, plane, places, chord)
}

/// The inclines needed at cusps, given in the frames of the members that carry them.
///
/// # Errors
/// As [`required_inclines`].
pub fn required_inclines_of_cusps(
    instrument: &Instrument,
    plane: OcclusalPlane,
    cusps: &[Cusp],
    tips: &[AxisTip],
    chord: Length,
) -> Result<Vec<RequiredInclines>, PlanError> {
    let from_rest = FromRest::new(instrument)?;
    let places: Vec<FacetPlace> =
        cusps.iter().map(|cusp| FacetPlace::of_cusp(cusp, from_rest.place_of(cusp), tips)).collect();
    needed(&from_rest, instrument, plane, &places, chord)
}

fn needed(
    from_rest: &FromRest,
    instrument: &Instrument,
    plane: OcclusalPlane,
    places: &[FacetPlace],
    chord: Length,
) -> Result<Vec<RequiredInclines>, PlanError> {
    // A tooth of one side needs the three roles of that side; the poses are the same for all of it.
    let courses = Side::BOTH.map(|side| {
        Role::ALL.map(|role| {
            let movement = role.movement(side);
            let velocity = from_rest.mechanism().velocity(movement, Station::REST)?;
            Ok::<_, PlanError>((velocity, from_rest.since_rest(movement, chord)?))
        })
    });
    let rule = Proportion::of(instrument, plane)?;
    let mut all = Vec::with_capacity(places.len());
    for place in places {
        let glide = |role: Role| {
            let (velocity, since_rest) =
                courses[place.tooth.side() as usize][role as usize].as_ref().map_err(Clone::clone)?;
            let tangent = velocity.at_place(&UpperPoint::from_coords(place.at));
            Ok::<_, PlanError>(Glide {
                tangent: Incline::of(&tangent, place, plane),
                chord: Incline::of(&moved(since_rest, place.tooth, &place.at), place, plane),
            })
        };
        all.push(RequiredInclines {
            place: place.clone(),
            protrusive: glide(Role::Protrusive)?,
            working: glide(Role::Working)?,
            orbiting: glide(Role::Orbiting)?,
            by_proportion: rule.protrusive(&place.at),
        });
    }
    Ok(all)
}

/// The linear rule of proportion for protrusive inclines: u + d·(β − u), u incisal and β condylar
/// guidance, d the fraction of the distance from incisal point to condyle (Swenson's formula as given
/// in Christensen FT, J Prosthet Dent 1961;11:48–54, which calls it inexact).
pub(super) struct Proportion {
    condylar: Angle,
    incisal: Angle,
    from: Vector3<f64>,
    plane: OcclusalPlane,
}

impl Proportion {
    pub(super) fn of(instrument: &Instrument, plane: OcclusalPlane) -> Result<Self, PlanError> {
        let mut condylar = Angle::ZERO;
        for side in Side::BOTH {
            let slope = Walls::of(instrument.guide(side))
                .drop_slope(0.0)
                .map_err(|end| PlanError::PathEnds { side, ends_at_mm: end.ends_at_mm })?;
            condylar = condylar + Angle::from_radians(slope.atan()) * 0.5;
        }
        let incisal =
            instrument.anterior_guide.trough().map_or(Angle::ZERO, |trough| trough.sagittal_inclination);
        Ok(Self { condylar, incisal, from: instrument.incisal_point.coords(), plane })
    }

    /// To the occlusal plane, at a place of the upper frame.
    pub(super) fn protrusive(&self, at: &Vector3<f64>) -> Angle {
        let line = Vector3::new(self.from.x, 0.0, self.from.z);
        let d = 1.0 - line.dot(at) / line.norm_squared();
        self.incisal + (self.condylar - self.incisal) * d - self.plane.inclination
    }
}
