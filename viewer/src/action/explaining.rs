//! Why a number is what it is, and what the words mean.

use sim_core::account::Number;

use crate::explaining::Glossary;
use crate::page::{Page, Room};
use crate::state::State;

impl State {
    /// Opens the account of a number.
    pub(super) fn explain(&mut self, number: Number) {
        self.explaining.number = number;
        self.page = Page::Account;
        self.room = Room::Instrument;
        self.appearance.readings_folded = false;
    }

    /// Opens the account of the first cusp that is marked, or of the jaw's rotation where the scene lists none;
    /// closes the page where it is open.
    pub(super) fn explain_marked(&mut self) {
        if self.page == Page::Account && self.room == Room::Instrument {
            self.page = Page::Cusps;
            return;
        }
        let marked = self.marked().min_by_key(|(_, mark)| *mark).map(|(cusp, _)| cusp);
        let first = marked.or_else(|| (!self.shown.scene.cusps.is_empty()).then_some(0));
        self.explain(first.map_or(Number::Opening, Number::Clearance));
    }

    /// Keeps the account that of what is shown, while its page is.
    pub(super) fn look_at_account(&mut self) {
        if self.page != Page::Account {
            self.explaining.found = None;
            return;
        }
        // A cusp may have been taken away.
        let count = self.shown.scene.cusps.len();
        if self.explaining.number.cusp().is_some_and(|cusp| cusp >= count) {
            self.explaining.number = if count == 0 { Number::Opening } else { Number::Clearance(count - 1) };
        }
        let mut explaining = std::mem::take(&mut self.explaining);
        explaining.look(self.with_casts(), &self.shown.solved, self.shown.revision, self.at);
        self.explaining = explaining;
    }

    /// Opens or closes the glossary.
    pub(super) fn swap_glossary(&mut self) {
        self.glossary = if self.glossary.is_some() { None } else { Some(Glossary::default()) };
    }

    /// Looks for a word in the glossary.
    pub(super) fn look_up(&mut self, wanted: String) {
        self.glossary = Some(Glossary { wanted });
    }
}

#[cfg(test)]
mod tests {
    use sim_core::account::Number;
    use sim_core::frame::Side;
    use sim_core::guide::CondylarGuide;
    use sim_core::setting::Setting;

    use crate::action::Action;
    use crate::action::testing::{near, opened, with_casts};
    use crate::page::Page;

    #[test]
    fn an_account_is_of_the_number_that_the_table_shows_and_follows_the_sliders() {
        let mut state = opened();
        state.act(Action::ScrubTo(usize::MAX));
        for cusp in 0..state.shown.scene.cusps.len() {
            state.act(Action::Explain(Number::Clearance(cusp)));
            let value = state.explaining.account().unwrap().value;
            assert!(near(value, state.sample().readings[cusp].clearance.mm()));
        }
        state.act(Action::Explain(Number::Drop(Side::Right)));
        let before = state.explaining.account().unwrap().clone();
        let inclination = Setting::Guide(&CondylarGuide::HORIZONTAL_INCLINATION);
        state.act(Action::Set(inclination, Side::Right, 31.0));
        let after = state.explaining.account().unwrap();
        assert!(near(after.value, state.sample().placement.right.drop.mm()));
        // The slope told beforehand what a degree more does, but for how the tangent bends.
        let slope = before.slopes.as_ref().unwrap()[0].slope.raised();
        assert!((after.value - before.value - slope).abs() < 0.02 * slope);
        state.act(Action::ScrubTo(0));
        assert!(near(state.explaining.account().unwrap().value, 0.0));
    }

    #[test]
    fn the_key_opens_the_first_marked_cusp_and_closes_again() {
        let mut state = opened();
        let first = state.marked().min_by_key(|(_, mark)| *mark).unwrap().0;
        state.act(Action::ExplainMarked);
        assert_eq!((state.page, state.explaining.number), (Page::Account, Number::Clearance(first)));
        state.act(Action::ExplainMarked);
        assert_eq!(state.page, Page::Cusps);
        assert!(state.explaining.account().is_none());
        state.appearance.readings_folded = true;
        state.act(Action::ExplainMarked);
        assert!(!state.appearance.readings_folded);
    }

    #[test]
    fn a_scene_without_cusps_explains_the_rotation() {
        let mut state = opened();
        while !state.shown.scene.cusps.is_empty() {
            state.act(Action::Explain(Number::Separation(state.shown.scene.cusps.len() - 1)));
            state.act(Action::RemoveCusp(0));
            assert!(state.explaining.account().is_some());
        }
        assert_eq!(state.explaining.number, Number::Opening);
    }

    #[test]
    fn where_casts_lie_on_the_members_the_parts_add_up_as_well() {
        let mut state = with_casts();
        state.act(Action::ScrubTo(usize::MAX));
        state.act(Action::ExplainMarked);
        let account = state.explaining.account().unwrap();
        let sum: f64 = account.parts.iter().map(|part| part.amount).sum();
        assert!(near(sum, account.value));
    }

    #[test]
    fn the_glossary_opens_looks_up_and_closes() {
        let mut state = opened();
        state.act(Action::Glossary);
        assert!(state.glossary.as_ref().is_some_and(|glossary| glossary.terms().len() > 50));
        state.act(Action::LookUp("Bennett".to_owned()));
        let terms = state.glossary.as_ref().unwrap().terms();
        assert!(!terms.is_empty() && terms.len() < 10, "{terms:?}");
        // The topmost goes first.
        state.act(Action::Help);
        state.act(Action::Dismiss);
        assert!(!state.help && state.glossary.is_some());
        state.act(Action::Dismiss);
        assert!(state.glossary.is_none());
    }
}
