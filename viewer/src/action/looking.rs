//! What looking at the instrument keeps to: all of it in sight, and a word where it goes too far.

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;
    use sim_core::frame::{LowerPoint, Side};
    use sim_core::guide::CondylarGuide;
    use sim_core::setting::Setting;

    use crate::action::Action;
    use crate::action::testing::{near, opened, with_casts};
    use crate::projection::{Viewpoint, Window};
    use crate::state::State;

    const INCLINATION: Setting = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);
    const WINDOW: Window = Window { left: 0.0, top: 0.0, width: 600.0, height: 400.0 };

    /// How far beyond the window's edge a place of the moved lower member is seen, in pixels.
    fn beyond(state: &State, place: Vector3<f64>) -> f64 {
        let moved = *state.sample().placement.jaw.to_upper(&LowerPoint::from_coords(place)).coords();
        let [x, y] = state.look.projection(WINDOW, Some(state.axis())).pixel(&moved);
        (-x).max(x - 600.0).max(-y).max(y - 400.0)
    }

    #[test]
    fn the_foot_of_the_lower_member_stays_in_sight_to_the_end_of_every_excursion() {
        let mut state = opened();
        state.act(Action::SwapTied);
        for degrees in [30.0, 60.0, 85.0] {
            state.act(Action::Set(INCLINATION, Side::Right, degrees));
            for viewpoint in Viewpoint::ALL.into_iter().filter(|view| *view != Viewpoint::Axis) {
                state.act(Action::View(viewpoint));
                for excursion in 0..state.excursions.len() {
                    state.act(Action::Excursion(excursion));
                    for at in [0, 60, usize::MAX] {
                        state.act(Action::ScrubTo(at));
                        // Both ends of the bar that stands behind, and the front of the foot: members.rs.
                        for corner in [[-16.0, 61.0, -72.0], [-16.0, -61.0, -72.0], [105.0, 0.0, -72.0]] {
                            let beyond = beyond(&state, Vector3::from(corner));
                            assert!(
                                beyond < 1.0,
                                "{viewpoint:?}, {degrees}°, {excursion}, {at}: {beyond:.0} px"
                            );
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn casts_looked_at_alone_stay_in_sight_at_the_end() {
        let mut state = with_casts();
        state.act(Action::Close(true));
        state.act(Action::View(Viewpoint::Right));
        state.act(Action::ScrubTo(usize::MAX));
        let mounted = state.shown.mounted.clone().unwrap();
        let surface = mounted.casts.surface(sim_core::cusp::Arch::Lower);
        assert!(surface.vertices().iter().all(|vertex| beyond(&state, *vertex) < 1.0));
    }

    #[test]
    fn the_scale_gives_way_only_where_something_would_leave_the_picture_and_not_to_a_hand() {
        let mut state = opened();
        state.act(Action::SwapTied);
        let height = state.look.height_mm;
        state.act(Action::Set(INCLINATION, Side::Right, 80.0));
        let steep = state.look.height_mm;
        assert!(steep > height + 5.0);
        state.act(Action::Set(INCLINATION, Side::Right, 30.0));
        assert!(near(state.look.height_mm, steep), "what gets flatter leaves the scale as it is");
        state.act(Action::Zoom(0.5));
        let magnified = state.look.height_mm;
        state.act(Action::Set(INCLINATION, Side::Right, 85.0));
        assert!(near(state.look.height_mm, magnified));
    }

    #[test]
    fn a_drop_that_no_patient_has_gets_a_word() {
        let mut state = opened();
        state.act(Action::Set(INCLINATION, Side::Right, 76.0));
        // 6 mm at 76° are 24.06 mm.
        assert_eq!(state.note, None);
        state.act(Action::Set(INCLINATION, Side::Right, 77.0));
        let note = state.note.clone().unwrap();
        assert!(note.what.contains("right condyle drops 26.0 mm"), "{note:?}");
        state.act(Action::Set(INCLINATION, Side::Right, 40.0));
        assert_eq!(state.note, None);
    }
}
