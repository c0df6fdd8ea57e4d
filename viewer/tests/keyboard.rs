//! Keys that come as fast as a machine can send them: each between two frames, without a frame of rest.

#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use kiss3d::egui::Pos2;
use kiss3d::event::{Action as Press, Key, Modifiers, MouseButton, WindowEvent};
use kiss3d::pollster::block_on;
use kiss3d::window::NumSamples;
use sim_core::scene::Scene;
use viewer::action::Action;
use viewer::easel::Easel;
use viewer::frame::{self, Hands};
use viewer::input::actions;
use viewer::keys::Held;
use viewer::mouse::Mouse;
use viewer::panels::PanelOutput;
use viewer::state::State;

const SLIDER: &str = "horizontal_inclination_deg.right";

struct Desk {
    easel: Easel,
    state: State,
    seconds: f64,
}

impl Desk {
    fn new() -> Self {
        let easel = block_on(Easel::off_screen((1280, 800), NumSamples::One));
        frame::prepare(&easel);
        let state = State::open(Scene::thirty_degree()).unwrap();
        let mut desk = Self { easel, state, seconds: 0.0 };
        // Panels settle in two.
        desk.frame(&[]);
        desk.frame(&[]);
        desk
    }

    /// One frame, and what the panels then show.
    fn frame(&mut self, events: &[WindowEvent]) -> PanelOutput {
        events.iter().for_each(|event| self.easel.tell(event));
        self.seconds += 0.1;
        let mut hands = Alone(&mut self.state);
        frame::turn(&mut self.easel, self.seconds, Vec::new(), &mut hands)
    }

    fn press(&mut self, key: Key) -> PanelOutput {
        let none = Modifiers::empty();
        self.frame(&[Press::Press, Press::Release].map(|press| WindowEvent::Key(key, press, none)))
    }

    /// The middle of a control.
    fn place(&mut self, name: &str) -> Pos2 {
        self.frame(&[]).places[name].center()
    }

    fn inclination(&self) -> f64 {
        self.state.scene.instrument.right_guide.horizontal_inclination.degrees()
    }
}

/// A state that nothing stands beside, and whose time does not pass.
struct Alone<'s>(&'s mut State);

impl Hands for Alone<'_> {
    fn state(&self) -> &State {
        self.0
    }

    fn act(&mut self, action: Action) {
        self.0.act(action);
    }

    fn pass(&mut self) {}
}

#[test]
fn an_arrow_right_behind_the_key_that_came_to_a_slider_moves_it_and_stays_there() {
    let mut desk = Desk::new();
    let comes_to_it = (0..60).any(|_| desk.press(Key::Tab).focus.as_deref() == Some(SLIDER));
    assert!(comes_to_it, "Tab does not come to {SLIDER}");
    for degrees in [31.0, 32.0, 33.0] {
        let focus = desk.press(Key::Right).focus;
        assert_eq!((focus.as_deref(), desk.inclination()), (Some(SLIDER), degrees));
    }
}

#[test]
fn a_letter_right_behind_the_click_on_a_number_is_its() {
    let mut desk = Desk::new();
    let number = format!("number:{SLIDER}");
    let place = desk.place(&number);
    let none = Modifiers::empty();
    let click = [Press::Press, Press::Release]
        .map(|press| WindowEvent::MouseButton(MouseButton::Button1, press, none));
    let [down, up] = click;
    desk.frame(&[WindowEvent::CursorPos(f64::from(place.x), f64::from(place.y), none)]);
    for degrees in [22.0, 23.0] {
        desk.frame(&[down]);
        desk.frame(&[up]);
        assert!(desk.easel.panels().text_edit_focused(), "a letter would be a key of the viewer");
        let letters: Vec<_> = degrees.to_string().chars().map(WindowEvent::Char).collect();
        desk.frame(&letters);
        desk.press(Key::Return);
        assert!((desk.inclination() - degrees).abs() < 1e-12, "{}", desk.inclination());
    }
}

#[test]
fn a_letter_that_comes_with_the_click_on_a_number_waits_for_the_field() {
    let mut desk = Desk::new();
    let place = desk.place(&format!("number:{SLIDER}"));
    let none = Modifiers::empty();
    let click = [Press::Press, Press::Release]
        .map(|press| WindowEvent::MouseButton(MouseButton::Button1, press, none));
    let moved = WindowEvent::CursorPos(f64::from(place.x), f64::from(place.y), none);
    // All of it between two frames; elsewhere p plays and 2 is no key.
    let [down, up] = click;
    desk.easel.hold_back([
        moved,
        down,
        up,
        WindowEvent::Char('2'),
        WindowEvent::Char('p'),
        WindowEvent::Char('4'),
    ]);
    let (mut mouse, mut held) = (Mouse::default(), Held::default());
    for _ in 0..2 {
        let asked = actions(&mut desk.easel, &desk.state, &mut mouse, &mut held, &[]).unwrap();
        assert!(!asked.iter().any(|action| matches!(action, Action::PlayOrPause)), "{asked:?}");
        desk.frame(&[]);
    }
    assert!(desk.easel.panels().text_edit_focused());
    assert!(
        actions(&mut desk.easel, &desk.state, &mut mouse, &mut held, &[]).is_none(),
        "some are still held back"
    );
}
