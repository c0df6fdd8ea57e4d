//! A run as an object; each part is solved as it is written.

use std::rc::Rc;

use serde::Serialize;
use serde::ser::{SerializeStruct as _, Serializer};
use sim_core::cusp::{Cusp, CuspReading, Tooth};
use sim_core::excursion::{NoPose, Placement, ToothStop};
use sim_core::units::Length;

use crate::output::{Condyle, exact};
use report::walk::{Closeness, ExcursionWalk, SceneWalk};

/// The object of a whole run.
pub(super) struct Whole<'r>(pub(super) &'r SceneWalk<'r>);

impl Serialize for Whole<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut object = serializer.serialize_struct("Run", 2)?;
        object.serialize_field("title", &self.0.scene().title)?;
        object.serialize_field("excursions", &Excursions(self.0))?;
        object.end()
    }
}

struct Excursions<'r>(&'r SceneWalk<'r>);

impl Serialize for Excursions<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.0.excursions().map(Excursion))
    }
}

struct Excursion<'r>(ExcursionWalk<'r>);

impl Serialize for Excursion<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut object = serializer.serialize_struct("Excursion", 3)?;
        object.serialize_field("name", self.0.excursion().movement().name())?;
        object.serialize_field("samples", &Samples(&self.0))?;
        if let Some(no_pose) = self.0.stopped() {
            object.serialize_field("failure", &Failure::of(&no_pose))?;
        }
        object.end()
    }
}

/// What stopped an excursion short; absent where nothing did.
#[derive(Serialize)]
struct Failure {
    advance_mm: f64,
    message: String,
}

impl Failure {
    fn of(no_pose: &NoPose) -> Self {
        Self { advance_mm: exact(no_pose.advance.mm()), message: no_pose.to_string() }
    }
}

struct Samples<'r>(&'r ExcursionWalk<'r>);

impl Serialize for Samples<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // Separations where the excursion starts, known once its first sample is solved.
        let mut start: Option<Rc<[Length]>> = None;
        serializer.collect_seq(self.0.samples().map(|placement| {
            let read = || self.0.cusps(&placement).map(|(_, reading)| reading.separation).collect();
            let start = Rc::clone(start.get_or_insert_with(read));
            Sample::of(self.0, placement, start)
        }))
    }
}

#[derive(Serialize)]
struct Sample<'r> {
    advance_mm: f64,
    jaw_pose: Pose,
    right_condyle: Condyle,
    left_condyle: Condyle,
    incisal_point_mm: [f64; 3],
    opening_deg: f64,
    guided_by: &'static str,
    guide_plane: Option<&'static str>,
    tooth_contact: Option<ToothContact>,
    pin_lift_mm: Option<f64>,
    casts: Option<CastsObject>,
    cusps: Cusps<'r>,
}

#[derive(Serialize)]
struct Pose {
    /// Rows.
    rotation: [[f64; 3]; 3],
    translation_mm: [f64; 3],
}

/// The teeth that guide; null where none do.
#[derive(Serialize)]
struct ToothContact {
    upper_tooth: Option<u8>,
    lower_tooth: Option<u8>,
    at_mm: [f64; 3],
}

impl From<ToothStop> for ToothContact {
    fn from(stop: ToothStop) -> Self {
        let at: [f64; 3] = (*stop.at.coords()).into();
        Self {
            upper_tooth: stop.upper_tooth.map(Tooth::number),
            lower_tooth: stop.lower_tooth.map(Tooth::number),
            at_mm: at.map(exact),
        }
    }
}

/// How near the casts come; null without casts.
#[derive(Serialize)]
struct CastsObject {
    least_vertical_gap_mm: Option<f64>,
    least_distance_mm: f64,
}

impl From<Closeness> for CastsObject {
    fn from(closeness: Closeness) -> Self {
        Self {
            least_vertical_gap_mm: closeness.vertical_gap.map(|gap| exact(gap.mm())),
            least_distance_mm: exact(closeness.distance.mm()),
        }
    }
}

impl<'r> Sample<'r> {
    fn of(solving: &'r ExcursionWalk<'r>, placement: Placement, start: Rc<[Length]>) -> Self {
        // nalgebra keeps columns; the transpose's columns are the rows.
        let rows: [[f64; 3]; 3] = placement.jaw.rotation().transpose().into();
        let translation: [f64; 3] = (*placement.jaw.translation()).into();
        let incisal: [f64; 3] = (*placement.incisal_point.coords()).into();
        Self {
            advance_mm: exact(placement.advance().mm()),
            jaw_pose: Pose {
                rotation: rows.map(|row| row.map(exact)),
                translation_mm: translation.map(exact),
            },
            right_condyle: (&placement.right).into(),
            left_condyle: (&placement.left).into(),
            incisal_point_mm: incisal.map(exact),
            opening_deg: exact(placement.opening().degrees()),
            guided_by: placement.guidance.name(),
            guide_plane: placement.guidance.plane().map(|plane| plane.name()),
            tooth_contact: placement.guidance.teeth().map(Into::into),
            pin_lift_mm: placement.pin_lift.map(|lift| exact(lift.mm())),
            casts: solving.closeness(&placement).map(Into::into),
            cusps: Cusps { solving, placement, start },
        }
    }
}

struct Cusps<'r> {
    solving: &'r ExcursionWalk<'r>,
    placement: Placement,
    start: Rc<[Length]>,
}

#[derive(Serialize)]
struct CuspObject<'c> {
    tooth: u8,
    name: &'c str,
    separation_mm: f64,
    /// Counted from where the excursion starts.
    separation_from_start_mm: f64,
    clearance_mm: f64,
    incline: &'static str,
}

impl Serialize for Cusps<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let cusps = self.solving.cusps(&self.placement).zip(&*self.start);
        serializer.collect_seq(cusps.map(|(cusp, start)| cusp_object(cusp, *start)))
    }
}

fn cusp_object((cusp, reading): (&Cusp, CuspReading), start: Length) -> CuspObject<'_> {
    CuspObject {
        tooth: cusp.tooth().number(),
        name: cusp.name(),
        separation_mm: exact(reading.separation.mm()),
        separation_from_start_mm: exact((reading.separation - start).mm()),
        clearance_mm: exact(reading.clearance.mm()),
        incline: reading.incline.name(),
    }
}
