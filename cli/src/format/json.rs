//! JSON: the fields that other programs rely on, in full precision, one object and nothing else.

mod contacts;
mod custom_table;
mod doubt;
mod planned;
mod practice;
mod programmed;
mod study;
mod study_plan;
mod tracing;

use std::io::{self, Write};

use serde::Serialize;
use serde::ser::{SerializeStruct as _, Serializer};
use serde_json::{Value, json};
use sim_core::cusp::{Cusp, CuspReading, Tooth};
use sim_core::doubt::Doubt;
use sim_core::excursion::{CondyleReading, NoPose, Placement, ToothStop};
use sim_core::practice::Mark;
use sim_core::setting::{self, Choice, Departure, DepartureValue};
use study_run::{Estimate, Loaded};

use super::{Format, departure_name, exact, incline_name};
use report::case::WorkedCase;
use report::comparison::Comparison;
use report::contacts::ContactsReport;
use report::formed_table::FormedTableReport;
use report::invented_pair::InventedPairReport;
use report::planned::Planned;
use report::study::summary::StudySummary;
use report::tracing::TracingReport;
use report::walk::{Closeness, ExcursionWalk, SceneWalk};

/// JSON.
pub(super) struct Json;

impl Format for Json {
    fn excursions(&self, run: &SceneWalk<'_>, out: &mut dyn Write) -> io::Result<()> {
        write(&Whole(run), out)
    }

    fn comparison(&self, comparison: &Comparison, out: &mut dyn Write) -> io::Result<()> {
        write(comparison, out)
    }

    fn baseline(&self, title: &str, departures: &[Departure], out: &mut dyn Write) -> io::Result<()> {
        let departures: Vec<Value> = departures.iter().map(departure_object).collect();
        write(&json!({"title": title, "zeroed": departures.is_empty(), "departures": departures}), out)
    }

    fn settings(&self, out: &mut dyn Write) -> io::Result<()> {
        let numbers = setting::listed().map(|setting| {
            let facts = setting.facts;
            json!({"name": setting.name, "label": facts.label, "unit": facts.unit.words(), "min": facts.min,
                "max": facts.max, "step": facts.step, "zeroed": facts.zeroed,
                "each_side": setting.each_side, "doc": facts.doc})
        });
        let choices = Choice::ALL.into_iter().map(|choice| {
            json!({"name": choice.key(), "label": choice.label(), "words": choice.words(),
                "each_side": choice.is_per_side()})
        });
        write(&json!({"settings": numbers.chain(choices).collect::<Vec<Value>>()}), out)
    }

    fn contacts(&self, report: &ContactsReport, out: &mut dyn Write) -> io::Result<()> {
        write(&contacts::object(report), out)
    }

    fn custom_table(&self, report: &FormedTableReport, out: &mut dyn Write) -> io::Result<()> {
        write(&custom_table::object(report), out)
    }

    fn pair(&self, report: &InventedPairReport, out: &mut dyn Write) -> io::Result<()> {
        write(report, out)
    }

    fn study(&self, summary: &StudySummary, out: &mut dyn Write) -> io::Result<()> {
        write(&study::object(summary), out)
    }

    fn tracing(&self, report: &TracingReport, out: &mut dyn Write) -> io::Result<()> {
        write(&tracing::object(report), out)
    }
}

/// Writes a programmed case.
pub(crate) fn programmed(worked: &WorkedCase, out: &mut dyn Write) -> io::Result<()> {
    write(&programmed::object(worked), out)
}

/// Writes a plan.
pub(crate) fn planned(planned: &Planned, out: &mut dyn Write) -> io::Result<()> {
    write(&planned::object(planned), out)
}

/// Writes how far to trust a case.
pub(crate) fn doubt(title: &str, doubt: &Doubt, seed: u64, out: &mut dyn Write) -> io::Result<()> {
    write(&doubt::object(title, doubt, seed), out)
}

/// Writes a marked answer.
pub(crate) fn marked(mark: &Mark, out: &mut dyn Write) -> io::Result<()> {
    write(&practice::object(mark), out)
}

/// Writes what a run of a study will take.
pub(crate) fn study_plan(loaded: &Loaded, estimate: &Estimate, out: &mut dyn Write) -> io::Result<()> {
    write(&study_plan::object(loaded, estimate), out)
}

fn write(value: &impl Serialize, out: &mut dyn Write) -> io::Result<()> {
    serde_json::to_writer(&mut *out, value)?;
    writeln!(out)
}

fn departure_object(departure: &Departure) -> Value {
    let mut object = json!({"name": departure_name(departure), "label": departure.label,
        "side": departure.side.map(|side| side.name())});
    match departure.value {
        DepartureValue::Number { is, zeroed, unit } => {
            object["unit"] = json!(unit.words());
            object["is"] = json!(is);
            object["zeroed"] = json!(zeroed);
        }
        DepartureValue::Word { is, zeroed } => {
            object["is"] = json!(is);
            object["zeroed"] = json!(zeroed);
        }
    }
    object
}

/// The object of a whole run; each part is solved as it is written.
struct Whole<'r>(&'r SceneWalk<'r>);

impl Serialize for Whole<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut object = serializer.serialize_struct("SceneWalk", 2)?;
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
        serializer.collect_seq(self.0.samples().map(|placement| Sample::of(self.0, placement)))
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

#[derive(Serialize)]
struct Condyle {
    advance_mm: f64,
    medial_mm: f64,
    drop_mm: f64,
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

impl From<&CondyleReading> for Condyle {
    fn from(reading: &CondyleReading) -> Self {
        Self {
            advance_mm: exact(reading.advance.mm()),
            medial_mm: exact(reading.medial.mm()),
            drop_mm: exact(reading.drop.mm()),
        }
    }
}

impl<'r> Sample<'r> {
    fn of(solving: &'r ExcursionWalk<'r>, placement: Placement) -> Self {
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
            cusps: Cusps { solving, placement },
        }
    }
}

struct Cusps<'r> {
    solving: &'r ExcursionWalk<'r>,
    placement: Placement,
}

#[derive(Serialize)]
struct CuspObject<'c> {
    tooth: u8,
    name: &'c str,
    separation_mm: f64,
    clearance_mm: f64,
    incline: &'static str,
}

impl Serialize for Cusps<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.solving.cusps(&self.placement).map(cusp_object))
    }
}

fn cusp_object((cusp, reading): (&Cusp, CuspReading)) -> CuspObject<'_> {
    CuspObject {
        tooth: cusp.tooth().number(),
        name: cusp.name(),
        separation_mm: exact(reading.separation.mm()),
        clearance_mm: exact(reading.clearance.mm()),
        incline: incline_name(reading.incline),
    }
}
