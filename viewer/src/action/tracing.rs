//! The tracing on the plate: a recorded one laid under it, its template.

use std::sync::Arc;

use crate::opened::Request;
use crate::page::{Page, Room};
use crate::plate::Under;
use crate::projection::{Look, Viewpoint};
use crate::state::{Note, State};

impl State {
    /// Takes the answer to [`Request::Open`] where the file holds a tracing: it lies under the drawn one. A tracing that
    /// could not be read or examined changes nothing but the note.
    pub fn open_tracing_read(&mut self, read: Result<Under, String>) {
        match read {
            Ok(under) => {
                self.file_note = None;
                if self.room == Room::Bench {
                    self.go_to_room(Room::Instrument);
                }
                self.page = Page::Tracing;
                self.plate.lay_under(Some(Arc::new(under)));
            }
            Err(what) => {
                self.file_note = Some(Note {
                    title: "File not opened",
                    what,
                    meanwhile: "What was shown before is still shown.",
                });
            }
        }
        self.keep_up();
    }

    pub(super) fn show_plate_alone(&mut self, alone: bool) {
        self.plate.alone = alone;
        let viewpoint = if alone { Viewpoint::Above } else { Viewpoint::Oblique };
        self.look = Look::at(viewpoint, self.bounds(viewpoint));
    }

    pub(super) fn template_asked(&mut self) -> Option<Request> {
        let drawn = self.plate.drawn.clone()?;
        match &drawn.setup {
            Ok(setup) => Some(Request::WriteTemplate(Box::new(setup.clone()))),
            Err(why) => {
                self.note = Some(Note {
                    title: "No template",
                    what: why.clone(),
                    meanwhile: "Nothing has been written.",
                });
                None
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use sim_core::excursion::{Mechanism, Movement};
    use sim_core::frame::{Side, UpperPoint};
    use sim_core::guide::{CondylarGuide, EarlyTranslation};
    use sim_core::scene::Scene;
    use sim_core::setting::Setting;
    use sim_core::tracing::{Leg, PlatePoint, Recorded, TracerFields, TracingSetup};

    use super::*;
    use crate::action::Action;

    fn traced() -> State {
        let mut scene = Scene::thirty_degree();
        scene.tracer = Some(TracerFields::default());
        State::open(scene).unwrap()
    }

    fn setup(state: &State) -> &TracingSetup {
        state.plate.drawn.as_ref().unwrap().setup.as_ref().unwrap()
    }

    fn set(state: &mut State, setting: Setting, side: Side, number: f64) {
        state.act(Action::Set(setting, side, number));
        assert_eq!(state.note, None);
    }

    #[test]
    fn a_scene_without_a_tracer_gets_the_usual_one_when_asked_and_stays_as_it_was() {
        let mut state = State::open(Scene::thirty_degree()).unwrap();
        assert!(state.plate.drawn.is_none());
        assert_eq!(state.act(Action::WriteTemplate), None);
        state.act(Action::UsualTracer(true));
        let drawn = state.plate.drawn.clone().unwrap();
        assert!(drawn.is_usual && drawn.setup.is_ok());
        assert_eq!((state.scene.tracer, state.scene == state.as_read), (None, true));
        assert!(matches!(state.act(Action::WriteTemplate), Some(Request::WriteTemplate(_))));
        state.act(Action::UsualTracer(false));
        assert!(state.plate.drawn.is_none());
        assert!(!traced().plate.drawn.unwrap().is_usual);
    }

    /// A wall that lets the orbiting condyle go farther to the middle opens the arch on its own leg, and only there.
    #[test]
    fn the_arch_follows_the_lateral_angle_of_the_side_that_orbits() {
        let mut state = traced();
        let angle = |state: &State, leg: Leg| {
            let hole = setup(state).leg(leg).hole;
            (hole.left.mm() * leg.side_of_plate()).atan2(-hole.forward.mm()).to_degrees()
        };
        let before = Leg::ALL.map(|leg| angle(&state, leg));
        let lateral = Setting::Guide(&CondylarGuide::LATERAL_ANGLE);
        set(&mut state, lateral, Side::Left, 25.0);
        let after = Leg::ALL.map(|leg| angle(&state, leg));
        assert!(after[1] > before[1] + 1.0, "{before:?} {after:?}");
        assert!((after[0] - before[0]).abs() < 1e-9 && (after[2] - before[2]).abs() < 1e-9);
    }

    /// Translation made at once carries the jaw sideways as a whole: the right lateral leg, in which the left condyle
    /// orbits, begins with a step of just that length to the plate's left.
    #[test]
    fn immediate_translation_blunts_the_arch_by_its_own_length_and_early_translation_bends_it() {
        let mut state = traced();
        let immediate = Setting::Guide(&CondylarGuide::IMMEDIATE_TRANSLATION);
        set(&mut state, immediate, Side::Left, 1.0);
        let lateral = state.excursions.iter().position(|e| e.movement().name() == "right_lateral").unwrap();
        state.act(Action::Excursion(lateral));
        let stylus = |state: &State| {
            let drawn = state.plate.drawn.clone().unwrap();
            let movement = state.shown.solved.excursion.movement();
            drawn.stylus(&state.shown.scene, movement, &state.sample().placement).unwrap()
        };
        assert!(stylus(&state).distance(&PlatePoint::APEX).mm() < 1e-9);
        // The second sample is after the sideways move, before any advance.
        state.act(Action::ScrubTo(1));
        let shifted = stylus(&state);
        assert!((shifted.left.mm() - 1.0).abs() < 1e-9 && shifted.forward.mm().abs() < 1e-9, "{shifted:?}");
        set(&mut state, immediate, Side::Left, 0.0);
        let straight = setup(&state).leg(Leg::RightLateral).hole;
        let early = Setting::Early(&EarlyTranslation::AMOUNT);
        set(&mut state, early, Side::Left, 1.0);
        let bent = setup(&state).leg(Leg::RightLateral).hole;
        assert!(bent.left > straight.left, "{straight:?} {bent:?}");
    }

    /// While the anterior guide is parallel to the plate and passes through the tip's plane at rest, bearing and guide
    /// lead the jaw alike: the mark is then where the shown jaw carries it.
    #[test]
    fn the_mark_is_where_the_jaw_carries_the_tip() {
        let mut state = traced();
        let inclination = state.scene.occlusal_plane.inclination.degrees();
        let plate = Setting::Anterior(&sim_core::anterior::Trough::SAGITTAL_INCLINATION);
        set(&mut state, plate, Side::Right, inclination);
        state.act(Action::ScrubTo(usize::MAX));
        let tracer = setup(&state).tracer;
        let placement = state.sample().placement;
        let drawn = state.plate.drawn.clone().unwrap();
        let now = drawn.stylus(&state.shown.scene, Movement::Protrusive, &placement).unwrap();
        // Solved on its own: a table at the tip in place of the bearing.
        let mut guided = state.shown.scene.instrument.clone();
        let [x, y, z] = tracer.stylus_mm.into();
        guided.incisal_point = sim_core::instrument::IncisalPoint::mm(x, y, z);
        let jaw = Mechanism::new(&guided).at(Movement::Protrusive, placement.station).unwrap().jaw;
        let way = jaw.to_lower(&UpperPoint::from_coords(tracer.stylus_mm)).coords() - tracer.stylus_mm;
        assert!((now.forward.mm() - way.dot(&tracer.plate.anterior())).abs() < 1e-9);
        assert!(way.dot(&tracer.plate.normal()).abs() < 1e-9 && now.left.mm().abs() < 1e-9);
    }

    #[test]
    fn the_arch_of_the_instrument_itself_lies_on_itself() {
        let mut state = traced();
        let legs = Leg::ALL.map(|leg| setup(&state).drawn.leg(leg).to_vec());
        let [protrusive, right, left] = legs;
        let under = Under::of("own.csv".to_owned(), Recorded::new(protrusive, right, left).unwrap()).unwrap();
        state.open_tracing_read(Ok(under));
        assert_eq!(state.page, Page::Tracing);
        let over = state.plate.drawn.as_ref().unwrap().over.unwrap();
        assert!(over.whole.unwrap().rms.mm() < 0.02, "{over:?}");
        // Another setting no longer does.
        set(&mut state, Setting::Guide(&CondylarGuide::LATERAL_ANGLE), Side::Left, 40.0);
        let over = state.plate.drawn.as_ref().unwrap().over.unwrap();
        assert!(over.whole.unwrap().rms.mm() > 0.2, "{over:?}");
        state.act(Action::TakeUnderAway);
        assert!(state.plate.under.is_none() && state.plate.drawn.as_ref().unwrap().over.is_none());
    }

    #[test]
    fn the_plate_alone_fills_the_picture() {
        let mut state = traced();
        let whole = state.look.height_mm;
        state.act(Action::PlateAlone(true));
        assert!(state.look.height_mm < whole / 2.0 && state.plate.shown_alone().is_some());
        state.act(Action::PlateAlone(false));
        assert!((state.look.height_mm - whole).abs() < 1e-9 && state.plate.shown_alone().is_none());
    }

    #[test]
    fn a_tracing_that_cannot_be_read_leaves_the_one_before() {
        let mut state = traced();
        state.open_tracing_read(Err("bad.csv: line 3: forward: `x` is no number".to_owned()));
        assert!(state.file_note.as_ref().unwrap().what.contains("line 3"));
        assert!(state.plate.under.is_none() && state.page != Page::Tracing);
    }

    #[test]
    fn settings_that_draw_no_leg_are_said_and_no_template_is_made_of_them() {
        let mut state = traced();
        // The arc's path ends before the legs do.
        let radius = Setting::Arc(&sim_core::guide::ArcPath::RADIUS);
        state.act(Action::Choose(sim_core::setting::Choice::Path, Side::Left, "Arc"));
        state.act(Action::Set(radius, Side::Left, 3.0));
        assert!(state.plate.drawn.as_ref().unwrap().setup.is_err());
        assert_eq!(state.act(Action::WriteTemplate), None);
        assert_eq!(state.note.as_ref().unwrap().title, "No template");
    }
}
