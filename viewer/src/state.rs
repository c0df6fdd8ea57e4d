//! Everything the viewer knows, in one plain value. Panels read it; only the actions change it.

use std::path::PathBuf;
use std::sync::Arc;

use nalgebra::Vector3;
use sim_core::cusp::{Arch, Cusp, CuspReading};
use sim_core::excursion::{Drive, Excursion, Movement};
use sim_core::frame::Side;
use sim_core::scene::Scene;
use sim_core::tracing::PlatePoint;
use sim_core::units::Length;
use words::number::{one_decimal, two_decimals};
use words::quoted::escaped;

use crate::appearance::Appearance;
use crate::asking::{Asking, Shelf};
use crate::axes::Extent;
use crate::bench::{Dealing, OnBench};
use crate::casts::{CastView, Mounted, Notes, Proposal, Readout, Scans};
use crate::explaining::{Explaining, Glossary};
use crate::geometry::extent;
use crate::geometry::poses::{MemberPoses, Moving};
use crate::geometry::reach::{self, Bounds};
use crate::history::History;
use crate::kept::{Beside, Kept};
use crate::opened::OpenedScene;
use crate::page::{Page, Room};
use crate::place::Place;
use crate::planning::Planning;
use crate::plate::Plate;
use crate::projection::{Look, Viewpoint};
use crate::projections::{ProjectionView, SolvedEnvelope};
use crate::solved::{SceneWithCasts, SolvedExcursion, SolvedSample, Unreachable};
use crate::teaching::Teaching;
use crate::unshowable::Unshowable;

/// Something to say, until it no longer holds or is dismissed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// What kind of thing it is.
    pub title: &'static str,
    /// What happened.
    pub what: String,
    /// What the picture shows meanwhile.
    pub meanwhile: &'static str,
}

/// The last scene that has a pose, with its excursion solved: what is drawn.
#[derive(Clone, Debug)]
pub struct Shown {
    /// The scene.
    pub scene: Scene,
    /// Its casts, if it has any.
    pub mounted: Option<Arc<Mounted>>,
    /// Its excursion.
    pub solved: SolvedExcursion,
    /// Rises with every change, so that the drawing knows when to build anew.
    pub revision: u64,
}

/// Something is drawn roughly, until the hand that changes it comes to rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rough {
    /// Seconds since the last change.
    pub rested: f64,
    /// Where the excursion stood before, if nobody has moved along it since.
    pub driven: Option<f64>,
}

/// The keyboard is to go to another panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WantedPanel {
    /// To the next one, or to the one before.
    pub forward: bool,
    /// Counts how often that has been asked for, so that each time is obeyed once.
    pub asked: u64,
}

/// The state.
#[derive(Clone, Debug)]
pub struct State {
    /// File that the scene was read from; none for the built-in one.
    pub file: Option<PathBuf>,
    /// Its casts as they were read, where it names files of casts.
    pub scans: Option<Arc<Scans>>,
    /// The scene as in the file.
    pub as_read: Scene,
    /// The scene as edited.
    pub scene: Scene,
    /// What is drawn.
    pub shown: Shown,
    /// Excursions to choose from.
    pub excursions: Vec<Excursion>,
    /// The one chosen.
    pub excursion: usize,
    /// Number of the sample shown.
    pub at: usize,
    /// Playing.
    pub playing: bool,
    /// Millimetres or degrees driven since the sample shown, while playing.
    pub since_sample: f64,
    /// Direction of play: there, or back.
    pub playing_back: bool,
    /// Both sides are set together.
    pub tied: bool,
    /// The axes of the plot, and the excursion that they were made for.
    pub axes: (Extent, Excursion),
    /// For each cusp the number of its mark, if it is in the plot and marked in the picture.
    pub marks: Vec<Option<usize>>,
    /// From where one looks.
    pub look: Look,
    /// What is kept in the picture, until it is moved or magnified by hand.
    pub held: Option<Bounds>,
    /// Which member moves.
    pub moving: Moving,
    /// What the whole window is for.
    pub room: Room,
    /// The case on the bench, if there is one.
    pub bench: Option<Arc<OnBench>>,
    /// What patient is to be dealt.
    pub dealing: Dealing,
    /// What the panel on the right is about.
    pub page: Page,
    /// How the casts are looked at.
    pub casts: CastView,
    /// What is read off them at the sample shown.
    pub readout: Option<Arc<Readout>>,
    /// A cusp picked on a cast and not yet added.
    pub proposal: Option<Proposal>,
    /// How the projections are looked at.
    pub projections: ProjectionView,
    /// The border envelope of what is shown, while it is seen.
    pub envelope: Option<Arc<SolvedEnvelope>>,
    /// A second set-up, B.
    pub kept: Option<Kept>,
    /// How B stands beside the picture of A.
    pub beside: Beside,
    /// The goal being set, and its answer.
    pub planning: Planning,
    /// The number taken apart, and its account.
    pub explaining: Explaining,
    /// The glossary, while it is open.
    pub glossary: Option<Glossary>,
    /// Lessons and vivas: what there is, and what is being given.
    pub teaching: Teaching,
    /// A person's own set-up, while a lesson or a viva is given.
    pub own: Option<Box<State>>,
    /// The tracing on the plate.
    pub plate: Plate,
    /// What is drawn is rough for now.
    pub rough: Option<Rough>,
    /// What is to be said of settings without a pose.
    pub note: Option<Note>,
    /// What is to be said of a file.
    pub file_note: Option<Note>,
    /// What was there before, and what has been taken back.
    pub history: History,
    /// How the window looks.
    pub appearance: Appearance,
    /// Where the viewer is shown.
    pub place: Place,
    /// The panel that the keyboard is to go to.
    pub wanted_panel: Option<WantedPanel>,
    /// Help is open.
    pub help: bool,
    /// What the window asks.
    pub asking: Option<Asking>,
    /// Files offered for opening.
    pub shelf: Shelf,
    /// The file that this window wrote last, and the fingerprint of what it wrote.
    pub last_written: Option<(PathBuf, String)>,
    /// The window is to close.
    pub done: bool,
}

/// How far the excursions go that are offered beside the scene's own: the usual length of a
/// protrusive record (common practice, no source).
const USUAL_ADVANCE: Length = Length::from_mm(6.0);

/// A condyle that drops farther gets a word. Opening wide, it goes down by a good 10 mm; twice that is beyond
/// any joint (common practice, no source).
const GREATEST_DROP: Length = Length::from_mm(25.0);

/// Most cusps marked before anybody marks one.
const MARKED_AT_FIRST: usize = 4;

impl State {
    /// The state on opening a scene.
    ///
    /// # Errors
    /// [`Unshowable`] when its casts cannot be had, or none of its excursions has a single pose.
    pub fn open(opened: impl Into<OpenedScene>) -> Result<Self, Unshowable> {
        let OpenedScene { mut scene, scans, file } = opened.into();
        let mounted = Mounted::of(&mut scene, scans.as_deref(), None, false)?;
        let excursions = offered(&scene);
        let with_casts = SceneWithCasts {
            scene: &scene,
            casts: mounted.as_ref().map(|mounted| &mounted.casts),
            rough: false,
        };
        let mut first = None;
        let mut failed = None;
        for (number, excursion) in excursions.iter().enumerate() {
            match SolvedExcursion::solve(with_casts, *excursion) {
                Ok(solved) => {
                    first = Some((number, solved));
                    break;
                }
                Err(no_pose) => failed = failed.or(Some(no_pose)),
            }
        }
        let (excursion, solved) = match (first, failed) {
            (Some(first), _) => first,
            (None, Some(no_pose)) => return Err(no_pose.into()),
            // A scene has an excursion, and three are offered beside.
            (None, None) => (
                0,
                SolvedExcursion::solve(
                    with_casts,
                    Excursion::new(Movement::Protrusive, Drive::Advance(USUAL_ADVANCE))
                        .unwrap_or(scene.excursions[0]),
                )?,
            ),
        };
        let casts = CastView::first(mounted.as_deref());
        let look = Look::at(Viewpoint::Oblique, whole(&scene, mounted.as_deref()));
        let marks = marked_at_first(&scene);
        let excursion_shown = solved.excursion;
        // Casts whose cusps nobody watches have their own page.
        let page = if scene.cusps.is_empty() && mounted.is_some() { Page::Casts } else { Page::Cusps };
        let file_note = mounted.as_deref().and_then(casts_note);
        let planning = Planning::of(&scene);
        let mut state = Self {
            file,
            scans,
            as_read: scene.clone(),
            scene: scene.clone(),
            shown: Shown { scene, mounted, solved, revision: 0 },
            excursions,
            excursion,
            at: 0,
            playing: false,
            since_sample: 0.0,
            playing_back: false,
            tied: false,
            axes: (Extent::none(0.0), excursion_shown),
            marks,
            look,
            held: None,
            moving: Moving::Lower,
            room: Room::Instrument,
            bench: None,
            dealing: Dealing::default(),
            page,
            casts,
            readout: None,
            proposal: None,
            projections: ProjectionView::default(),
            envelope: None,
            kept: None,
            beside: Beside::Ghost,
            planning,
            explaining: Explaining::default(),
            glossary: None,
            teaching: Teaching::default(),
            own: None,
            plate: Plate::default(),
            rough: None,
            note: None,
            file_note,
            history: History::default(),
            appearance: Appearance::default(),
            place: Place::default(),
            wanted_panel: None,
            help: false,
            asking: None,
            shelf: Shelf::default(),
            last_written: None,
            done: false,
        };
        state.look_from(Viewpoint::Oblique);
        state.note = state.stopped_note();
        state.fit_axes();
        state.read_casts();
        state.plate.keep_up(&state.shown.scene, state.shown.revision);
        Ok(state)
    }

    /// What is shown, to be solved for another excursion or place.
    #[must_use]
    pub fn with_casts(&self) -> SceneWithCasts<'_> {
        let Shown { scene, mounted, .. } = &self.shown;
        SceneWithCasts { scene, casts: mounted.as_ref().map(|mounted| &mounted.casts), rough: false }
    }

    /// Stands exactly there on the excursion, in millimetres (degrees) of its drive, going on to there if its end
    /// lies before.
    ///
    /// # Errors
    /// [`Unreachable`] when nothing stands there; nothing has changed then.
    pub fn stand_at(&mut self, driven: f64) -> Result<(), Unreachable> {
        let excursion = self.excursions[self.excursion];
        let (solved, number) = SolvedExcursion::solve_to(self.with_casts(), excursion, driven)?;
        self.excursions[self.excursion] = solved.excursion;
        self.shown.solved = solved;
        self.shown.revision += 1;
        self.at = number;
        self.note = self.stopped_note();
        Ok(())
    }

    /// Reads off the casts what is seen of them, where that has changed.
    pub(crate) fn read_casts(&mut self) {
        let shown = &self.shown;
        self.readout = shown.mounted.as_ref().map(|mounted| {
            let sample = shown.solved.sample(self.at);
            Readout::of(
                mounted,
                &sample.placement.jaw,
                shown.scene.occlusal_plane,
                &self.casts,
                self.page == Page::Casts,
                self.readout.as_ref(),
            )
        });
    }

    /// Solves the border envelope of what is shown, where it is seen and has changed.
    pub(crate) fn follow_envelope(&mut self) {
        let is_seen = self.projections.arrangement.has_projections() && self.projections.envelope;
        let revision = self.shown.revision;
        if !is_seen || self.envelope.as_ref().is_some_and(|solved| solved.revision == revision) {
            return;
        }
        let excursion = self.shown.solved.excursion;
        self.envelope = SolvedEnvelope::of(self.with_casts(), excursion, revision).map(Arc::new);
    }

    /// What is to be in the picture, from a viewpoint: all of it over the whole excursion, B's too.
    #[must_use]
    pub fn bounds(&self, viewpoint: Viewpoint) -> Bounds {
        if let (Room::Bench, Some(bench)) = (self.room, &self.bench) {
            return bench.bounds();
        }
        if let Some(tracer) = self.plate.shown_alone() {
            /// What is looked at about the apex, in millimetres: ahead of it, behind it, to either side.
            const ABOUT_MM: [f64; 3] = [4.0, -15.0, 14.5];
            let [ahead, behind, aside] = ABOUT_MM;
            let corners = [(ahead, aside), (ahead, -aside), (behind, aside), (behind, -aside)]
                .map(|(forward, left)| tracer.on_plate(&PlatePoint::mm(forward, left)));
            let fold = |pick: fn(&Vector3<f64>, &Vector3<f64>) -> Vector3<f64>| {
                corners.iter().copied().reduce(|a, b| pick(&a, &b)).unwrap_or_else(Vector3::zeros)
            };
            return (fold(|a, b| a.inf(b)), fold(|a, b| a.sup(b)));
        }
        let Shown { scene, mounted, solved, .. } = &self.shown;
        let own = self.bounds_of(viewpoint, scene, mounted.as_deref(), solved);
        let kept = self.kept.as_ref().and_then(|kept| Some((kept, kept.solved.as_ref()?)));
        match kept {
            Some((kept, solved)) => {
                let set_up = &kept.set_up;
                let theirs = self.bounds_of(viewpoint, &set_up.scene, set_up.mounted.as_deref(), solved);
                reach::union(own, &theirs)
            }
            None => own,
        }
    }

    fn bounds_of(
        &self,
        viewpoint: Viewpoint,
        scene: &Scene,
        mounted: Option<&Mounted>,
        solved: &SolvedExcursion,
    ) -> Bounds {
        /// Paths bend so little that between these parts of an excursion nothing reaches farther.
        const PARTS: usize = 8;
        let samples = solved.samples();
        let step = (samples.len() / PARTS).max(1);
        let poses = samples.iter().step_by(step).chain(samples.last()).map(|sample| &sample.placement);
        let moving = match self.moving {
            Moving::Lower => Arch::Lower,
            Moving::Upper => Arch::Upper,
        };
        match (viewpoint, mounted) {
            (Viewpoint::Axis, _) => {
                let still = extent::axis_bounds(&scene.instrument);
                reach::over_spheres(still, &scene.instrument, self.moving, poses)
            }
            (_, Some(mounted)) if self.casts.close => {
                let still = mounted.bounds();
                reach::over(still, &mounted.bounds_of(moving), self.moving, poses)
            }
            (_, mounted) => {
                let moved = extent::member_bounds(scene, moving, mounted.map(|m| m.fixings(Arch::Lower)));
                reach::over(whole(scene, mounted), &moved, self.moving, poses)
            }
        }
    }

    /// Keeps all of the excursion in the picture, until somebody moves or magnifies it by hand. The scale
    /// only gives way where something would leave the picture: what gets steeper looks steeper.
    pub(crate) fn stay_in_sight(&mut self) {
        // Bench and plate are looked at by themselves.
        if self.room != Room::Instrument || self.plate.shown_alone().is_some() {
            return;
        }
        let (Some(held), Some(viewpoint)) = (self.held, self.look.viewpoint) else { return };
        let needed = self.bounds(viewpoint);
        if !reach::holds(&held, &needed) {
            let held = reach::union(held, &needed);
            self.look.fit(held);
            self.held = Some(held);
        }
    }

    /// Looks from a viewpoint at all of the excursion.
    pub(crate) fn look_from(&mut self, viewpoint: Viewpoint) {
        let bounds = self.bounds(viewpoint);
        self.look = Look::at(viewpoint, bounds);
        self.held = Some(bounds);
    }

    /// What the panel on the right can be about.
    #[must_use]
    pub const fn pages(&self) -> &'static [Page] {
        if self.shown.mounted.is_some() {
            &[Page::Cusps, Page::Casts, Page::Plan, Page::Tracing, Page::Account, Page::Lesson]
        } else {
            &[Page::Cusps, Page::Plan, Page::Tracing, Page::Account, Page::Lesson]
        }
    }

    /// The sample shown.
    #[must_use]
    pub fn sample(&self) -> &SolvedSample {
        self.shown.solved.sample(self.at)
    }

    /// The cusps that are marked, with the number of their mark.
    pub fn marked(&self) -> impl Iterator<Item = (usize, usize)> {
        self.marks.iter().enumerate().filter_map(|(cusp, mark)| mark.map(|mark| (cusp, mark)))
    }

    /// Cusps that are not marked and interfere somewhere along the excursion: they are shown all the same.
    pub fn interfering_unmarked(&self) -> impl Iterator<Item = usize> {
        let interferes = |cusp: usize| {
            let at = |sample: &SolvedSample| sample.readings.get(cusp).is_some_and(CuspReading::interferes);
            self.shown.solved.samples().iter().any(at)
        };
        let unmarked = self.marks.iter().enumerate().filter(|(_, mark)| mark.is_none());
        unmarked.map(|(cusp, _)| cusp).filter(move |cusp| interferes(*cusp))
    }

    /// What the curves of the plot need.
    #[must_use]
    pub fn needed_axes(&self) -> Extent {
        let solved = &self.shown.solved;
        let mut extent = Extent::none(solved.last().driven);
        let unmarked: Vec<usize> = self.interfering_unmarked().collect();
        for sample in solved.samples() {
            for reading in self.marked().filter_map(|(cusp, _)| sample.readings.get(cusp)) {
                extent.take_in(reading.separation.mm());
                extent.take_in(reading.clearance.mm());
            }
            for reading in unmarked.iter().filter_map(|cusp| sample.readings.get(*cusp)) {
                extent.take_in(reading.clearance.mm());
            }
        }
        let Some(kept) = &self.kept else { return extent };
        let theirs: Vec<usize> =
            self.marked().filter_map(|(cusp, _)| kept.number_of(self.shown.scene.cusps.get(cusp)?)).collect();
        for sample in kept.solved.iter().flat_map(SolvedExcursion::samples) {
            for reading in theirs.iter().filter_map(|cusp| sample.readings.get(*cusp)) {
                extent.take_in(reading.separation.mm());
            }
        }
        extent
    }

    /// Fits the axes of the plot to its curves.
    pub(crate) fn fit_axes(&mut self) {
        self.axes = (self.needed_axes().fitted(), self.shown.solved.excursion);
    }

    /// Holds the axes, unless another excursion is shown or a curve would leave them.
    pub(crate) fn hold_axes(&mut self) {
        let (axes, made_for) = self.axes;
        if made_for == self.shown.solved.excursion {
            self.axes.0 = axes.grown_to(self.needed_axes());
        } else {
            self.fit_axes();
        }
    }

    /// Whether a cusp has been added since the file was read.
    #[must_use]
    pub fn is_added(&self, cusp: &Cusp) -> bool {
        !self.as_read.cusps.iter().any(|read| is_same_cusp(read, cusp))
    }

    /// The direction from the left sphere centre to the right one, as drawn.
    #[must_use]
    pub fn axis(&self) -> nalgebra::Vector3<f64> {
        let poses = MemberPoses::of(&self.sample().placement.jaw, self.moving);
        let instrument = &self.shown.scene.instrument;
        poses.sphere(instrument, Side::Right) - poses.sphere(instrument, Side::Left)
    }

    /// What one would say of the picture in a line: the window's title.
    #[must_use]
    pub fn title(&self) -> String {
        if let (Room::Bench, Some(bench)) = (self.room, &self.bench) {
            return format!("{} – on the bench", escaped(&bench.worked.case.title));
        }
        let solved = &self.shown.solved;
        format!(
            "{} – {} at {} {}",
            escaped(&self.shown.scene.title),
            words::name::movement(solved.excursion.movement()),
            two_decimals(self.sample().driven),
            solved.driver().1,
        )
    }

    /// The note of an excursion that ends early, or that takes a condyle farther than any patient's goes.
    #[must_use]
    pub fn stopped_note(&self) -> Option<Note> {
        let stopped = self.shown.solved.stopped.map(|no_pose| Note {
            title: "The excursion ends early",
            what: words::verdict::refused::no_pose(&no_pose),
            meanwhile: "The excursion is shown as far as it has poses.",
        });
        stopped.or_else(|| self.drop_note())
    }

    fn drop_note(&self) -> Option<Note> {
        let placed = &self.shown.solved.last().placement;
        let side = Side::BOTH.into_iter().find(|side| placed.condyle(*side).drop > GREATEST_DROP)?;
        let drop = one_decimal(placed.condyle(side).drop.mm());
        Some(Note {
            title: "No patient’s condyle goes so far down",
            what: format!(
                "The {side} condyle drops {drop} mm. More than {} mm is beyond any joint (common practice, no source); check the inclination of its path.",
                GREATEST_DROP.mm()
            ),
            meanwhile: "The picture shows what the settings give.",
        })
    }
}

/// The whole instrument, as far as it is drawn.
fn whole(scene: &Scene, mounted: Option<&Mounted>) -> (Vector3<f64>, Vector3<f64>) {
    extent::bounds(scene, mounted.map(|mounted| mounted.fixings(Arch::Lower)))
}

/// What is to be told of casts that were read: first that they stand where casts do not, for then no number read off
/// them is the patient's.
fn casts_note(mounted: &Mounted) -> Option<Note> {
    let Notes { mended, misplaced } = &mounted.notes;
    let what = [&misplaced[..], &mended[..]].concat().join("\n");
    match (misplaced.is_empty(), mended.is_empty()) {
        (true, true) => None,
        (true, false) => Some(Note {
            title: "Casts repaired while reading",
            what,
            meanwhile: "The picture shows the repaired casts.",
        }),
        (false, _) => Some(Note {
            title: "Casts that hardly stand where they belong",
            what,
            meanwhile: "The picture shows them where the file puts them. Read no gap and no mark before this is settled.",
        }),
    }
}

/// Whether two cusps are the same one of the same tooth, whatever opposes them.
pub(crate) fn is_same_cusp(a: &Cusp, b: &Cusp) -> bool {
    a.tooth() == b.tooth() && a.name() == b.name()
}

/// The marks of cusps that are still there.
pub(crate) fn carried_marks(before: &[Cusp], marks: &[Option<usize>], now: &[Cusp]) -> Vec<Option<usize>> {
    let mark_of = |cusp: &Cusp| {
        let place = before.iter().position(|earlier| is_same_cusp(earlier, cusp))?;
        marks.get(place).copied().flatten()
    };
    now.iter().map(mark_of).collect()
}

/// The scene's own excursions, then the usual three that it lacks.
#[must_use]
pub fn offered(scene: &Scene) -> Vec<Excursion> {
    let mut excursions = scene.excursions.clone();
    for movement in [
        Movement::Protrusive,
        Movement::Lateral { working: Side::Right },
        Movement::Lateral { working: Side::Left },
    ] {
        if excursions.iter().all(|listed| listed.movement().name() != movement.name()) {
            excursions.extend(Excursion::new(movement, Drive::Advance(USUAL_ADVANCE)));
        }
    }
    excursions
}

/// What the plot shows first: on the left side of the lower arch a tooth in front, the first and the second
/// molar, so that one sees what the farther back gains, and on the right the first molar; then whatever comes
/// first.
fn marked_at_first(scene: &Scene) -> Vec<Option<usize>> {
    /// Tooth numbers, those that may stand for one another together.
    const WANTED: [&[u8]; MARKED_AT_FIRST] = [&[34, 33, 35, 24, 23], &[36, 26], &[37, 27], &[46, 16]];
    let mut marks = vec![None; scene.cusps.len()];
    let mut given = 0;
    for teeth in WANTED {
        let of = |tooth: &u8| scene.cusps.iter().position(|cusp| cusp.tooth().number() == *tooth);
        let found = teeth.iter().filter_map(of).find(|place| marks.get(*place) == Some(&None));
        if let Some(mark) = found.and_then(|place| marks.get_mut(place)) {
            *mark = Some(given);
            given += 1;
        }
    }
    for mark in &mut marks {
        if mark.is_none() && given < MARKED_AT_FIRST {
            *mark = Some(given);
            given += 1;
        }
    }
    marks
}

/// The lowest mark that no cusp has.
pub(crate) fn free_mark(marks: &[Option<usize>]) -> usize {
    (0..=marks.len()).find(|mark| !marks.contains(&Some(*mark))).unwrap_or(marks.len())
}
