//! A study made ready: its columns, and its rows by number.

use std::fmt::Write as _;
use std::sync::Arc;

use super::Correlation;
use super::arc::{ArcPassed, ArcWatch};
use super::checkpoint::{Checkpoint, SearchedExcursion, checkpoints_and_searches};
use super::column::{Column, ColumnKind};
use super::constraint::Constraint;
use super::error::StudyError;
use super::file::{BaseScene, Study};
use super::interference;
use super::make::{
    Derived, check_measures, check_ranges, columns, derived, planned, resolve, set_once, watched,
};
use super::plan::SamplingDesign;
use super::record::Measure;
use super::row::{RowBuffer, Word};
use super::tails::{LeftOut, left_out};
use super::warning::{StudyWarning, warnings};
use crate::cast::Casts;
use crate::cusp::{Cusp, Gauges};
use crate::excursion::{Movement, NoPose, Placement};
use crate::facts::OutOfRange;
use crate::frame::Side;
use crate::scene::Scene;
use crate::setting::{Setting, SettingName, SettingPlace};

/// Stands at the head of [`Prepared::canonical`]; another number means that the same study gives
/// another table.
const LAYOUT: &str = "study table, layout 2";

/// Parts the reasons of one row; a reason has commas, colons and semicolons of its own.
const BETWEEN_REASONS: &str = " | ";

/// A study with its base scene, ready to be computed row by row by any number of threads.
#[derive(Clone, Debug)]
pub struct Prepared {
    /// With the scene in it, and without columns and published names.
    study: Study,
    scene: Scene,
    design: SamplingDesign,
    places: Vec<SettingPlace>,
    derived: Vec<Derived>,
    checkpoints: Vec<Checkpoint>,
    searches: Vec<SearchedExcursion>,
    measures: Vec<Measure>,
    watched: Vec<usize>,
    columns: Vec<Column>,
    plane_varies: bool,
    cusps_vary: bool,
    left_out: LeftOut,
    warnings: Vec<StudyWarning>,
    /// Whether a condyle runs on an arc, whose lowest point it may pass.
    has_arc: bool,
    casts: Option<Arc<Casts>>,
}

/// A row that the study does not have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("row {row} is asked for; the study has {rows}, counted from 0")]
pub struct NoSuchRow {
    /// The row asked for.
    pub row: u64,
    /// Number of rows.
    pub rows: u64,
}

/// Values that are not one for each factor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{given} values are given for {factors} factors; give one for each")]
pub struct NotOneEach {
    /// Number of values given.
    pub given: usize,
    /// Number of factors.
    pub factors: usize,
}

impl Prepared {
    /// Makes a study ready with its base scene, which the caller has read if the study names a file.
    ///
    /// `column` is called with file and column of each factor whose values are a column, and gives
    /// its numbers, or in words what was wrong.
    ///
    /// # Errors
    /// The first [`StudyError`] found; [`Study::placed`] says where in the study's text it stands.
    pub fn new(
        study: &Study,
        scene: &Scene,
        mut column: impl FnMut(&str, &str) -> Result<Vec<f64>, String>,
    ) -> Result<Self, StudyError> {
        study.check()?;
        scene.check()?;
        let mut study = study.clone();
        study.scene = BaseScene::Here(Box::new(scene.clone()));
        for factor in &mut study.factors {
            resolve(factor, &mut column)?;
        }
        let names: Vec<&SettingName> = study.factors.iter().map(|factor| &factor.setting).collect();
        let places = names.iter().map(|name| name.find_in(scene)).collect::<Result<Vec<_>, _>>()?;
        let derived = derived(&study, &names, scene)?;
        set_once(&names, &places, &derived)?;
        let mut correlations = Vec::new();
        for constraint in &study.constraints {
            if let Constraint::Correlated { between, matrix } = constraint {
                let place = |name| names.iter().position(|own| *own == name);
                correlations.push(Correlation::new(between.iter().filter_map(place).collect(), matrix)?);
            }
        }
        let factors = study.factors.iter().zip(&places).map(|(factor, place)| planned(factor, place, scene));
        let design = SamplingDesign::new(&study.plan, factors.collect::<Result<_, _>>()?, correlations)?;
        check_ranges(&study, &design)?;

        let (checkpoints, searches) = checkpoints_and_searches(&study.record, scene)?;
        let watched = watched(&study, scene)?;
        let measures = study.record.measures.clone();
        check_measures(&study, scene, &watched)?;
        let labels: Vec<String> = watched.iter().map(|place| scene.cusps[*place].label()).collect();
        let has_arc = Side::BOTH.iter().any(|side| scene.instrument.guide(*side).lowest_advance().is_some());
        let columns = columns(&study, &derived, (&checkpoints, &searches), &measures, &labels, has_arc);
        let left_out = left_out(&study.plan, &names, &derived, &design);
        let every_name = || names.iter().copied().chain(derived.iter().map(|own| &own.name));
        let prepared = Self {
            plane_varies: every_name().any(|name| name.is(Setting::OcclusalPlane)),
            cusps_vary: every_name().any(|name| name.is_of_cusps()),
            warnings: warnings(&study, scene, every_name(), &left_out),
            left_out,
            has_arc,
            scene: scene.clone(),
            design,
            places,
            derived,
            checkpoints,
            searches,
            measures,
            watched,
            columns,
            study,
            casts: None,
        };
        let mut first = prepared.row_buffer();
        prepared.draw(0, &mut first);
        if prepared.set(&mut first).is_ok() {
            first.scene.check()?;
        }
        Ok(prepared)
    }

    /// The same study with casts mounted, which guide where the anterior guide is `Casts`. They stand in
    /// the instrument's frame and stay there whatever the factors do.
    ///
    /// [`Self::canonical`] holds the names of their files, not what is in them.
    #[must_use]
    pub fn with_casts(mut self, casts: Arc<Casts>) -> Self {
        self.casts = Some(casts);
        self
    }

    /// The columns, in order: factors, derived settings, measures, and why a row is not whole.
    #[must_use]
    pub fn columns(&self) -> &[Column] {
        &self.columns
    }

    /// Number of rows.
    #[must_use]
    pub const fn row_count(&self) -> u64 {
        self.design.rows()
    }

    /// The plan of the rows.
    #[must_use]
    pub const fn design(&self) -> &SamplingDesign {
        &self.design
    }

    /// The study with its base scene in it, its columns as lists and its published ranges as
    /// distributions.
    #[must_use]
    pub const fn study(&self) -> &Study {
        &self.study
    }

    /// What is allowed but hardly meant.
    #[must_use]
    pub fn warnings(&self) -> &[StudyWarning] {
        &self.warnings
    }

    /// What falls out of its setting's range by the distributions alone, in closed form.
    #[must_use]
    pub const fn left_out(&self) -> &LeftOut {
        &self.left_out
    }

    /// All that the table depends on, as one text: two studies with the same text have the same
    /// table. Its hash tells whether a file that was begun belongs to the study.
    #[must_use]
    pub fn canonical(&self) -> String {
        format!("{LAYOUT}\n{}\n", self.study.to_ron())
    }

    /// Memory for one row, to be used for any number of them.
    #[must_use]
    pub fn row_buffer(&self) -> RowBuffer {
        let of_kind = |kind: ColumnKind| self.columns.iter().filter(|column| column.kind == kind).count();
        let mut counts = [0; 3];
        let slots = self.columns.iter().map(|column| {
            let count = &mut counts[column.kind as usize];
            *count += 1;
            (column.kind, *count - 1)
        });
        RowBuffer {
            slots: slots.collect(),
            scene: self.scene.clone(),
            gauges: Gauges::new(self.scene.occlusal_plane, self.watched_cusps(&self.scene)),
            readings: Vec::with_capacity(self.watched.len()),
            numbers: Vec::with_capacity(of_kind(ColumnKind::Number)),
            texts: Vec::with_capacity(of_kind(ColumnKind::Text)),
            flags: Vec::with_capacity(of_kind(ColumnKind::Flag)),
            reason: String::new(),
            failed: Vec::with_capacity(self.checkpoints.len() + self.searches.len()),
            cusps: self.watched.iter().map(|place| self.scene.cusps[*place].label()).collect(),
        }
    }

    /// Computes a row. It is the same to the last bit whatever was computed before, and by whom.
    /// Allocates nothing once the buffer has met a row that is not whole, unless casts or a table formed
    /// to the teeth guide.
    ///
    /// Where a pose does not exist its measures are nothing and the row's reason says why: of each movement
    /// the first that was met, several parted by ` | `. Where a value is out of its setting's range that
    /// holds for every measure.
    ///
    /// # Errors
    /// [`NoSuchRow`] past the last row.
    pub fn compute(&self, row: u64, buffer: &mut RowBuffer) -> Result<(), NoSuchRow> {
        let rows = self.row_count();
        if row >= rows {
            return Err(NoSuchRow { row, rows });
        }
        self.draw(row, buffer);
        self.fill(buffer);
        Ok(())
    }

    /// Computes a row of the factors' values that are given instead of the plan's, in the factors' order: the same
    /// row, to the last bit, as that of a plan that has these values. For values that come from elsewhere.
    ///
    /// # Errors
    /// [`NotOneEach`] for more or fewer values than factors.
    pub fn compute_given(&self, values: &[f64], buffer: &mut RowBuffer) -> Result<(), NotOneEach> {
        let factors = self.places.len();
        if values.len() != factors {
            return Err(NotOneEach { given: values.len(), factors });
        }
        buffer.numbers.clear();
        buffer.numbers.extend_from_slice(values);
        self.fill(buffer);
        Ok(())
    }

    /// Fills the buffer from the factors' values in it.
    #[inline]
    pub(super) fn fill(&self, buffer: &mut RowBuffer) {
        buffer.reason.clear();
        buffer.failed.clear();
        buffer.texts.clear();
        buffer.flags.clear();
        let set = self.set(buffer);
        if let Err((name, out)) = set {
            state(&mut buffer.reason, format_args!("{name}: {out}"));
            self.checkpoints.iter().for_each(|pose| self.write_nothing(pose, buffer));
            self.searches_of_record().for_each(|_| write_interference(None, buffer));
            self.write_note(None, buffer);
        } else {
            self.renew_gauges(buffer);
            self.measure(buffer);
        }
        buffer.texts.push(Word::Reason);
    }

    /// Puts the factors' values of a row of the plan into the buffer's numbers.
    #[inline]
    fn draw(&self, row: u64, buffer: &mut RowBuffer) {
        buffer.numbers.clear();
        buffer.numbers.resize(self.places.len(), f64::NAN);
        self.design.row(row, &mut buffer.numbers);
    }

    /// Puts the factors' values, and those that follow from them, into the buffer's scene.
    #[inline]
    pub(super) fn set<'s>(&'s self, buffer: &mut RowBuffer) -> Result<(), (&'s SettingName, OutOfRange)> {
        for derived in &self.derived {
            let value = derived.formula.of(buffer.numbers[derived.from]);
            buffer.numbers.push(value);
        }
        let derived = self.derived.iter().map(|derived| (&derived.place, &derived.name));
        let names = self.study.factors.iter().map(|factor| &factor.setting);
        for ((place, name), value) in self.places.iter().zip(names).chain(derived).zip(&buffer.numbers) {
            place.set(&mut buffer.scene, *value).map_err(|out| (name, out))?;
        }
        Ok(())
    }

    /// Number of factors.
    pub(super) const fn factors(&self) -> usize {
        self.places.len()
    }

    /// Number of columns that are given rather than measured: factors, and what follows from them.
    pub(super) const fn given_numbers(&self) -> usize {
        self.places.len() + self.derived.len()
    }

    pub(super) const fn scene(&self) -> &Scene {
        &self.scene
    }

    pub(super) fn checkpoints(&self) -> &[Checkpoint] {
        &self.checkpoints
    }

    pub(super) fn measures(&self) -> &[Measure] {
        &self.measures
    }

    pub(super) const fn has_arc(&self) -> bool {
        self.has_arc
    }

    pub(super) const fn cusps_vary(&self) -> bool {
        self.cusps_vary
    }

    pub(super) const fn plane_varies(&self) -> bool {
        self.plane_varies
    }

    fn watched_cusps<'c>(&self, scene: &'c Scene) -> impl Iterator<Item = &'c Cusp> {
        self.watched.iter().filter_map(|place| scene.cusps.get(*place))
    }

    #[inline]
    pub(super) fn renew_gauges(&self, buffer: &mut RowBuffer) {
        if self.cusps_vary {
            buffer.gauges.renew_cusps(self.watched_cusps(&buffer.scene));
        }
        if self.plane_varies {
            buffer.gauges.renew_plane(buffer.scene.occlusal_plane);
        }
    }

    #[inline]
    fn measure(&self, buffer: &mut RowBuffer) {
        let mut mechanism = buffer.scene.mechanism();
        if let Some(casts) = &self.casts {
            mechanism = mechanism.with_casts(Arc::clone(casts));
        }
        let mut watch = self.has_arc.then(|| ArcWatch::new(&buffer.scene.instrument));
        for pose in &self.checkpoints {
            match pose.solve(&mechanism) {
                Ok(placed) => {
                    if let Some(watch) = &mut watch {
                        watch.look_at(&placed);
                    }
                    self.write(pose, &placed, buffer);
                }
                Err(no_pose) => {
                    fail(pose.movement, &no_pose, buffer);
                    self.write_nothing(pose, buffer);
                }
            }
        }
        for search in self.searches_of_record() {
            let along = (search.movement, search.end);
            match interference::first(&mechanism, along, self.scene.samples, &buffer.gauges) {
                Ok(found) => write_interference(found, buffer),
                Err(no_pose) => {
                    fail(search.movement, &no_pose, buffer);
                    write_interference(None, buffer);
                }
            }
        }
        self.write_note(watch.and_then(|watch| watch.passed()), buffer);
    }

    fn write_note(&self, passed: Option<ArcPassed>, buffer: &mut RowBuffer) {
        if self.has_arc {
            buffer.texts.push(passed.map_or(Word::Nothing, |passed| Word::Fixed(passed.name())));
        }
    }

    pub(super) fn searches_of_record(&self) -> impl Iterator<Item = &SearchedExcursion> {
        let wanted = self.measures.contains(&Measure::FirstInterference);
        self.searches.iter().filter(move |_| wanted)
    }

    #[inline]
    fn write(&self, pose: &Checkpoint, placed: &Placement, buffer: &mut RowBuffer) {
        let RowBuffer { numbers, texts, flags, readings, gauges, .. } = buffer;
        readings.clear();
        readings.extend(gauges.read(&placed.jaw));
        for measure in &self.measures {
            match measure {
                Measure::Separation => {
                    numbers.extend(readings.iter().map(|reading| reading.separation.mm()));
                }
                Measure::Clearance => {
                    numbers.extend(readings.iter().map(|reading| reading.clearance.mm()));
                }
                Measure::Interference => {
                    flags.extend(readings.iter().map(|reading| Some(reading.interferes())));
                }
                Measure::Guidance => {
                    texts.push(Word::Fixed(placed.guidance.name()));
                    texts.push(
                        placed.guidance.plane().map_or(Word::Nothing, |plane| Word::Fixed(plane.name())),
                    );
                }
                _ => measure.of_pose(pose.movement, placed, |number| numbers.push(number)),
            }
        }
    }

    /// As many empty cells as [`Self::write`] fills.
    fn write_nothing(&self, pose: &Checkpoint, buffer: &mut RowBuffer) {
        let cusps = self.watched.len();
        for measure in &self.measures {
            let numbers = match measure {
                Measure::Separation | Measure::Clearance => cusps,
                Measure::Guidance => {
                    buffer.texts.extend([Word::Nothing; 2]);
                    0
                }
                Measure::Interference => {
                    buffer.flags.extend(std::iter::repeat_n(None, cusps));
                    0
                }
                _ => measure.numbers_of_pose(pose.movement),
            };
            buffer.numbers.extend(std::iter::repeat_n(f64::NAN, numbers));
        }
    }
}

fn write_interference(found: Option<(usize, f64)>, buffer: &mut RowBuffer) {
    buffer.texts.push(found.map_or(Word::Nothing, |(cusp, _)| Word::Cusp(cusp)));
    buffer.numbers.push(found.map_or(f64::NAN, |(_, advance)| advance));
}

/// Adds why a movement has no pose, once: what is farther along it has none for the same reason.
fn fail(movement: Movement, no_pose: &NoPose, buffer: &mut RowBuffer) {
    if !buffer.failed.contains(&movement) {
        buffer.failed.push(movement);
        state(&mut buffer.reason, format_args!("{no_pose}"));
    }
}

/// Adds a reason to those that stand there.
fn state(reason: &mut String, why: std::fmt::Arguments<'_>) {
    let parted = if reason.is_empty() { "" } else { BETWEEN_REASONS };
    // Writing to a String does not fail.
    let _ = write!(reason, "{parted}{why}");
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn study(rows: u64, seed: u64, sd: f64) -> Prepared {
        let text = format!(
            r#"(
                title: "Values from elsewhere (invented)",
                scene: "thirty_degree.ron",
                factors: [
                    (setting: "horizontal_inclination_deg", values: Normal(mean: 40.0, sd: {sd:?})),
                    (setting: "right_guide.lateral_angle_deg", values: Uniform(min: 0.0, max: 25.0)),
                ],
                constraints: [LeftEqualsRight("lateral_angle_deg")],
                plan: MonteCarlo(rows: {rows}, seed: {seed}),
                record: (measures: [Clearance, Guidance, Interference], advances_mm: [3.0]),
            )"#
        );
        let study = Study::from_ron(&text).expect("a study");
        Prepared::new(&study, &Scene::thirty_degree(), |_, _| Err(String::new()))
            .expect("it can be made ready")
    }

    proptest! {
        #[test]
        fn values_given_make_the_row_of_a_plan_that_has_them(seed in 0..1000_u64, sd in 1.0..40.0) {
            let study = study(8, seed, sd);
            let (mut planned, mut given) = (study.row_buffer(), study.row_buffer());
            for row in 0..study.row_count() {
                study.compute(row, &mut planned).expect("a row");
                let values = planned.numbers()[..2].to_vec();
                study.compute_given(&values, &mut given).expect("one for each");
                let bits = |row: &RowBuffer| row.numbers().iter().map(|it| it.to_bits()).collect::<Vec<_>>();
                prop_assert_eq!(bits(&planned), bits(&given));
                prop_assert_eq!(planned.flags(), given.flags());
                prop_assert_eq!(planned.reason(), given.reason());
                prop_assert_eq!(planned.text(0), given.text(0));
            }
            let refused = study.compute_given(&[30.0], &mut given);
            prop_assert_eq!(refused, Err(NotOneEach { given: 1, factors: 2 }));
        }
    }
}
