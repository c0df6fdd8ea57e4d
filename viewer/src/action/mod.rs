//! What a person can do, and what it does to the state. Nothing else changes the state.

mod asking;
mod benching;
mod casting;
mod editing;
mod explaining;
mod keeping;
#[cfg(test)]
mod looking;
mod opening;
mod planning;
mod playing;
mod teaching;
#[cfg(test)]
pub(crate) mod testing;
mod tracing;
mod undoing;
mod writing;

use std::path::PathBuf;

use nalgebra::Vector3;
use report::sheet::Kind;
use sim_core::account::Number;
use sim_core::frame::Side;
use sim_core::setting::{Choice, Setting};
use sim_core::units::Length;

use crate::appearance::Fold;
use crate::asking::Answer;
use crate::bench::{BenchAct, Dealing};
use crate::casts::{CutPlane, Proposal, Seen, Show};
use crate::geometry::poses::Moving;
use crate::kept::Beside;
use crate::opened::Request;
use crate::page::{Page, Room};
use crate::planning::Draft;
use crate::projection::Viewpoint;
use crate::projections::{Arrangement, Spread};
use crate::state::{State, WantedPanel, free_mark};
use crate::teaching::Teach;
use crate::writing::OutKind;

/// A step by hand, in millimetres (degrees).
pub const STEP: f64 = 0.25;

/// Something a person does.
#[derive(Clone, Debug)]
pub enum Action {
    /// Plays, or pauses.
    PlayOrPause,
    /// Steps along the excursion, in millimetres (degrees).
    Step(f64),
    /// Goes to the sample of that number.
    ScrubTo(usize),
    /// Chooses an excursion.
    Excursion(usize),
    /// Chooses the next excursion in the list (or the one before).
    ExcursionAfter(isize),
    /// Looks from a viewpoint.
    View(Viewpoint),
    /// Turns the picture, degrees.
    Turn(f64, f64),
    /// Moves the point looked at, millimetres.
    Shift(Vector3<f64>),
    /// Shows less (below one) or more of the world.
    Zoom(f64),
    /// The same about a place, which stays where it is seen; millimetres from the middle of the picture.
    ZoomAt(f64, Vector3<f64>),
    /// Which member moves.
    Move(Moving),
    /// Moves the other member.
    SwapMoving,
    /// Sets both sides together, or each alone.
    Tie(bool),
    /// Turns tying round.
    SwapTied,
    /// Sets a number.
    Set(Setting, Side, f64),
    /// Chooses a word.
    Choose(Choice, Side, &'static str),
    /// Marks a cusp or not.
    Mark(usize, bool),
    /// What the casts show.
    Show(Show),
    /// What the casts show next.
    ShowNext,
    /// Which members are in the picture.
    See(Seen),
    /// The next of those.
    SeeNext,
    /// Prints with film of another thickness.
    Film(Length),
    /// The teeth alone in the picture, or the whole instrument.
    Close(bool),
    /// Turns that round.
    SwapClose,
    /// What the whole window is for.
    Room(Room),
    /// The other room.
    SwapRoom,
    /// What hands do at the bench.
    Bench(BenchAct),
    /// What patient is to be dealt.
    Dealing(Dealing),
    /// Draws a seed, and deals a patient from it.
    DrawPatient,
    /// Deals the patient of a seed.
    Deal(u64),
    /// Shows the set-up of the case on the bench: as it is set there, or as its records program it.
    ShowSetUp {
        /// As its records program it.
        as_programmed: bool,
    },
    /// Writes the sheet of the case on the bench.
    WriteSheet(Kind),
    /// Shows the usual tracer in a scene that has none, or takes it away.
    UsualTracer(bool),
    /// The plate alone in the picture, from above, or the whole instrument.
    PlateAlone(bool),
    /// Takes the recorded tracing away that lies under the drawn one.
    TakeUnderAway,
    /// Writes the template of the drawn tracing.
    WriteTemplate,
    /// What the panel on the right is about.
    Page(Page),
    /// The other page.
    SwapPage,
    /// What the middle of the window shows.
    Arrange(Arrangement),
    /// The next of those.
    ArrangeNext,
    /// Where the paths of the projections start.
    Spread(Spread),
    /// Draws the border envelope, or not.
    Envelope(bool),
    /// Draws the angles as arcs in the picture too, or not.
    AnglesInPicture(bool),
    /// Keeps what is shown as a second set-up, B.
    Keep,
    /// Keeps the same scene mounted by a facebow that is off.
    KeepWithFacebowError,
    /// Opens a file as B.
    OpenBeside(PathBuf),
    /// Keeps the case on the bench, mounted by a facebow that is off, as B.
    KeepCaseWithFacebowError,
    /// A and B change places.
    SwapKept,
    /// Forgets B.
    Forget,
    /// How B stands beside A.
    Beside(Beside),
    /// Cuts the casts with another plane.
    Cut(CutPlane),
    /// Moves the plane, millimetres.
    CutAt(f64),
    /// Picks what lies under a ray of the drawn world: from where, and toward where.
    Pick(Vector3<f64>, Vector3<f64>),
    /// Changes what has been picked.
    Propose(Proposal),
    /// Makes what has been picked a cusp.
    AddCusp,
    /// Takes away a cusp.
    RemoveCusp(usize),
    /// Sets another goal of the plan.
    Goal(Box<Draft>),
    /// Applies the plan's answer.
    ApplyPlan,
    /// Takes back the plan applied last.
    TakePlanBack,
    /// Back to the file's values.
    BackToFile,
    /// To the scene's baseline.
    Zero,
    /// Reads the file again.
    Reload,
    /// Opens a file.
    Open(PathBuf),
    /// Asks which file is to be opened.
    AskWhatToOpen,
    /// Asks under which name the scene is to be saved.
    AskWhereToSave,
    /// Asks what is to be written into which file: a picture, the plot, the table, an excursion in motion.
    AskWhatToWrite,
    /// Chooses what is to be written.
    WriteAs(OutKind),
    /// The size of the picture on the card, as it is typed.
    TypeSize(String),
    /// The path on the card, as it is typed.
    TypePath(String),
    /// Answers what the window asks.
    Answer(Answer),
    /// Opens the scene after this one in its folder, or before it.
    SceneAfter(isize),
    /// Takes a number apart.
    Explain(Number),
    /// Takes the number of the first cusp that is marked apart, or goes back to the cusps.
    ExplainMarked,
    /// Opens or closes the glossary.
    Glossary,
    /// Looks for a word in it.
    LookUp(String),
    /// Opens or closes help.
    Help,
    /// Closes help, or dismisses a note.
    Dismiss,
    /// Something was typed where a number belongs: into which field, and what.
    NotANumber(String, String),
    /// Fits the axes of the plot to its curves.
    FitAxes,
    /// The hand has let go of a control: what comes next is a change of its own.
    LetGo,
    /// Takes back the last change.
    Undo,
    /// Makes the change that was taken back last.
    Redo,
    /// Folds a panel away, or shows it again.
    Fold(Fold),
    /// Larger words, or smaller ones.
    Enlarge(bool),
    /// Words at their usual size.
    UsualSize,
    /// High contrast, or the usual look.
    SwapContrast,
    /// The keyboard goes to the next panel, or to the one before.
    NextPanel(bool),
    /// Something on the page of lessons.
    Teach(Teach),
    /// Makes a link that carries what is shown.
    Send,
    /// Closes the window.
    Quit,
}

impl Action {
    /// Whether it only looks: what a picture within another page allows.
    #[must_use]
    pub const fn only_looks(&self) -> bool {
        matches!(
            self,
            Self::PlayOrPause
                | Self::Step(_)
                | Self::ScrubTo(_)
                | Self::Excursion(_)
                | Self::ExcursionAfter(_)
                | Self::View(_)
                | Self::Turn(..)
                | Self::Shift(_)
                | Self::Zoom(_)
                | Self::ZoomAt(..)
                | Self::Move(_)
                | Self::SwapMoving
                | Self::Dismiss
                | Self::Enlarge(_)
                | Self::UsualSize
                | Self::SwapContrast
                | Self::LetGo
        )
    }
}

impl State {
    /// Does it; what the state cannot do by itself it asks for.
    pub fn act(&mut self, action: Action) -> Option<Request> {
        // A lesson's steps are gone through by its own buttons.
        let travels = matches!(action, Action::Undo | Action::Redo | Action::Teach(_));
        let (left, gesture) = (self.moment(), gesture(&action));
        let hands_in = matches!(action, Action::Bench(BenchAct::HandIn));
        let request = self.in_this_room(action).and_then(|action| self.do_it(action));
        if !travels {
            self.remember(left, gesture);
        }
        if hands_in {
            // Whoever has seen the marks cannot take the answer back.
            self.history.seal_bench(&self.moment());
        }
        self.keep_up();
        request
    }

    /// Brings up to date what is read off the state.
    fn keep_up(&mut self) {
        self.look_at_plan();
        self.hold_axes();
        self.look_at_account();
        self.read_casts();
        self.follow_envelope();
        self.follow_kept();
        self.stay_in_sight();
        self.plate.keep_up(&self.shown.scene, self.shown.revision);
    }

    fn do_it(&mut self, action: Action) -> Option<Request> {
        match action {
            Action::PlayOrPause
            | Action::Step(_)
            | Action::ScrubTo(_)
            | Action::Excursion(_)
            | Action::ExcursionAfter(_)
                if self.motion_is_hidden() =>
            {
                self.predict_first();
            }
            Action::Reload => return self.file_here().map(Request::Open),
            Action::Open(file) => return Some(Request::Open(file)),
            Action::PlayOrPause => self.play_or_pause(),
            Action::Step(by) => self.step(by),
            Action::ScrubTo(sample) => {
                self.playing = false;
                self.move_along();
                self.at = sample.min(self.shown.solved.samples().len() - 1);
            }
            Action::Excursion(number) if number < self.excursions.len() => self.choose_excursion(number),
            Action::Excursion(_) => {}
            Action::ExcursionAfter(by) => {
                let count = self.excursions.len();
                self.choose_excursion((self.excursion + count).saturating_add_signed(by) % count);
            }
            Action::View(viewpoint) => self.look_from(viewpoint),
            Action::Turn(azimuth, elevation) => self.look.turn(azimuth, elevation),
            Action::Shift(by) => {
                self.held = None;
                self.look.focus += by;
            }
            Action::Zoom(factor) => {
                self.held = None;
                self.look.zoom(factor);
            }
            Action::ZoomAt(factor, place) => {
                self.held = None;
                let before = self.look.height_mm;
                self.look.zoom(factor);
                self.look.focus += place * (1.0 - self.look.height_mm / before);
            }
            Action::Move(moving) => self.moving = moving,
            Action::SwapMoving => {
                self.moving = match self.moving {
                    Moving::Lower => Moving::Upper,
                    Moving::Upper => Moving::Lower,
                }
            }
            Action::Tie(tied) => self.tied = tied,
            Action::SwapTied => self.tied = !self.tied,
            Action::Set(setting, side, number) => self.edit(|scene, tied| {
                for side in sides(side, tied && setting.is_per_side()) {
                    // Where only one side has such a thing, the other is left as it is.
                    if setting.get(scene, side).is_some() {
                        setting.set(scene, side, number).map_err(|error| {
                            let side = setting.is_per_side().then_some(side);
                            words::verdict::refused::out_of_range(&error, side)
                        })?;
                    }
                }
                Ok(())
            }),
            Action::Choose(choice, side, word) => self.edit(|scene, tied| {
                for side in sides(side, tied && choice.is_per_side()) {
                    choice.set(scene, side, word);
                }
                Ok(())
            }),
            Action::Mark(cusp, marked) => {
                let free = free_mark(&self.marks);
                if let Some(mark) = self.marks.get_mut(cusp) {
                    *mark = marked.then(|| mark.unwrap_or(free));
                }
            }
            Action::BackToFile => {
                let scene = self.as_read.clone();
                self.planning.draft.take_teeth_of(&scene.plan.clone().unwrap_or_default());
                self.edit(|edited, _| {
                    *edited = scene;
                    Ok(())
                });
            }
            Action::Zero => self.edit(|scene, _| {
                scene.instrument = scene.instrument.with_settings_zeroed(&scene.baseline_or_example());
                Ok(())
            }),
            Action::Show(show) => self.casts.show = show,
            Action::ShowNext => self.casts.show = after(&Show::ALL, self.casts.show),
            Action::See(seen) => self.see(seen),
            Action::SeeNext => self.see(after(&Seen::ALL, self.casts.seen)),
            Action::Film(film) => self.casts.film = film,
            Action::Close(close) => self.come_close(close),
            Action::SwapClose => self.come_close(!self.casts.close),
            Action::Room(room) => self.go_to_room(room),
            Action::SwapRoom => {
                self.go_to_room(match self.room {
                    Room::Instrument => Room::Bench,
                    Room::Bench => Room::Instrument,
                });
            }
            Action::Bench(act) => self.act_at_the_bench(act),
            Action::Dealing(dealing) => self.dealing = dealing,
            Action::DrawPatient => return Some(Request::DrawSeed),
            Action::Deal(seed) => self.deal(seed),
            Action::ShowSetUp { as_programmed } => return self.set_up_asked(as_programmed),
            Action::WriteSheet(kind) => return self.sheet_asked(kind),
            Action::UsualTracer(usual) => self.plate.usual = usual,
            Action::PlateAlone(alone) => self.show_plate_alone(alone),
            Action::TakeUnderAway => self.plate.lay_under(None),
            Action::WriteTemplate => return self.template_asked(),
            Action::Page(page) => self.page = page,
            Action::SwapPage => self.page = after(self.pages(), self.page),
            Action::Arrange(arrangement) => self.projections.arrangement = arrangement,
            Action::ArrangeNext => {
                self.projections.arrangement = after(&Arrangement::ALL, self.projections.arrangement);
            }
            Action::Spread(spread) => self.projections.spread = spread,
            Action::Envelope(drawn) => self.projections.envelope = drawn,
            Action::AnglesInPicture(drawn) => self.projections.angles_in_picture = drawn,
            Action::Keep => self.keep(),
            Action::KeepWithFacebowError => self.keep_with_facebow_error(),
            Action::KeepCaseWithFacebowError => return self.keep_case_with_facebow_error(),
            Action::OpenBeside(file) => return Some(Request::OpenBeside(file)),
            Action::SwapKept => self.swap_kept(),
            Action::Forget => self.forget(),
            Action::Beside(beside) => self.beside = beside,
            Action::Cut(plane) => self.casts.plane = plane,
            Action::CutAt(mm) => self.cut_at(mm),
            Action::Pick(from, toward) => self.pick(from, toward),
            Action::Propose(proposal) => self.proposal = Some(proposal),
            Action::AddCusp => self.add_cusp(),
            Action::RemoveCusp(number) => self.remove_cusp(number),
            Action::Goal(draft) => self.set_goal(*draft),
            Action::ApplyPlan => self.apply_plan(),
            Action::TakePlanBack => self.take_plan_back(),
            Action::AskWhatToOpen => self.ask_what_to_open(),
            Action::AskWhereToSave => self.ask_where_to_save(false),
            Action::AskWhatToWrite => self.ask_what_to_write(),
            Action::WriteAs(kind) => self.write_as(kind),
            Action::TypeSize(typed) => self.type_size(typed),
            Action::TypePath(typed) => self.type_path(typed),
            Action::Answer(answer) => return self.answer(answer),
            Action::SceneAfter(by) => return self.scene_after(by),
            Action::Explain(number) => self.explain(number),
            Action::ExplainMarked => self.explain_marked(),
            Action::Glossary => self.swap_glossary(),
            Action::LookUp(wanted) => self.look_up(wanted),
            Action::Help => self.help = !self.help,
            Action::Dismiss => self.dismiss(),
            Action::NotANumber(field, typed) => self.refuse_typed(&field, &typed),
            Action::FitAxes => self.fit_axes(),
            Action::LetGo => self.history.let_go(),
            Action::Undo => self.undo(),
            Action::Redo => self.redo(),
            Action::Fold(panel) => self.appearance.fold(panel),
            Action::Enlarge(larger) => self.appearance.enlarge(larger),
            Action::UsualSize => self.appearance.text_scale = 1.0,
            Action::SwapContrast => self.appearance.high_contrast = !self.appearance.high_contrast,
            Action::NextPanel(forward) => {
                self.wanted_panel =
                    Some(WantedPanel { forward, asked: self.wanted_panel.map_or(0, |w| w.asked) + 1 });
            }
            Action::Teach(teach) => return self.teach(teach),
            Action::Send => return Some(Request::Send),
            Action::Quit => self.close(),
        }
        None
    }

    fn dismiss(&mut self) {
        // The topmost only.
        if self.help {
            self.help = false;
            return;
        }
        let is_gone = self.glossary.take().is_some()
            || self.asking.take().is_some()
            || self.proposal.take().is_some()
            || self.file_note.take().is_some();
        if !is_gone {
            self.note = None;
        }
    }
}

/// What belongs together and is undone in one go, by name.
fn gesture(action: &Action) -> Option<String> {
    match action {
        Action::Set(setting, side, _) => Some(format!("{} {side}", setting.key())),
        Action::Goal(_) => Some("goal".to_owned()),
        Action::Bench(BenchAct::Turn(dial, _)) => Some(format!("bench {}", dial.key())),
        _ => None,
    }
}

/// The one after it, the first after the last.
fn after<T: Copy + PartialEq>(all: &[T], now: T) -> T {
    let place = all.iter().position(|one| *one == now).map_or(0, |place| place + 1);
    all.get(place).or_else(|| all.first()).copied().unwrap_or(now)
}

fn sides(side: Side, both: bool) -> impl Iterator<Item = Side> {
    Side::BOTH.into_iter().filter(move |each| both || *each == side)
}

#[cfg(test)]
mod tests {
    use crate::action::Action;
    use crate::action::testing::opened;

    #[test]
    fn a_cusp_marked_later_takes_the_lowest_free_mark() {
        let mut state = opened();
        let marked: Vec<_> = state.marked().collect();
        assert_eq!(marked.len(), 4);
        let (first, mark) = marked[0];
        state.act(Action::Mark(first, false));
        let other =
            (0..state.marks.len()).find(|cusp| !marked.iter().any(|(known, _)| known == cusp)).unwrap();
        state.act(Action::Mark(other, true));
        assert_eq!(state.marks[other], Some(mark));
        // No such cusp: nothing happens.
        state.act(Action::Mark(99, true));
    }
}
