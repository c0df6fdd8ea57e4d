//! Looking at the casts, cutting them, and picking cusps on them.

use nalgebra::Vector3;
use sim_core::cast::ToothPlaces;

use crate::casts::{Proposal, Seen};
use crate::geometry::poses::MemberPoses;
use crate::projection::Viewpoint;
use crate::state::{Note, State, free_mark, is_same_cusp};

impl State {
    pub(super) fn see(&mut self, seen: Seen) {
        self.casts.seen = seen;
    }

    /// Looks at the teeth alone or at the whole instrument, from the same direction.
    pub(super) fn come_close(&mut self, close: bool) {
        self.casts.close = close;
        let viewpoint = self.look.viewpoint.unwrap_or(Viewpoint::Oblique);
        match self.look.viewpoint {
            Some(viewpoint) => self.look_from(viewpoint),
            None => self.look.fit(self.bounds(viewpoint)),
        }
    }

    /// Moves the plane, no farther than the casts reach.
    pub(super) fn cut_at(&mut self, mm: f64) {
        let Some(mounted) = &self.shown.mounted else { return };
        let [least, greatest] = mounted.cut_range_mm(self.casts.plane);
        if mm.is_finite() {
            self.casts.cut_at_mm[self.casts.plane.number()] = mm.max(least).min(greatest);
        }
    }

    /// What lies under a ray is proposed as a cusp; beside the casts, nothing is.
    pub(super) fn pick(&mut self, from: Vector3<f64>, toward: Vector3<f64>) {
        let poses = MemberPoses::of(&self.sample().placement.jaw, self.moving);
        let seen = self.casts.seen;
        self.proposal = self.shown.mounted.as_ref().and_then(|mounted| {
            Proposal::under(mounted, &self.shown.scene, &poses, |arch| seen.has(arch), (from, toward))
        });
    }

    /// What has been picked becomes a cusp, marked.
    pub(super) fn add_cusp(&mut self) {
        let Some(proposal) = self.proposal.take() else { return };
        let cusp = match proposal.cusp() {
            Ok(cusp) => cusp,
            Err(error) => return self.refuse_cusp(proposal, error.to_string()),
        };
        let mut with_it = self.scene.clone();
        with_it.cusps.push(cusp.clone());
        if let Err(senseless) = with_it.check() {
            return self.refuse_cusp(proposal, senseless.to_string());
        }
        self.edit(|scene, _| {
            scene.cusps.push(cusp.clone());
            Ok(())
        });
        if let Some(added) = self.shown.scene.cusps.iter().position(|shown| *shown == cusp) {
            self.marks[added] = Some(free_mark(&self.marks));
        }
        self.name_teeth_anew();
    }

    fn refuse_cusp(&mut self, proposal: Proposal, what: String) {
        self.proposal = Some(proposal);
        self.note = Some(Note { title: "Cusp not added", what, meanwhile: "The cusps have not changed." });
    }

    pub(super) fn remove_cusp(&mut self, number: usize) {
        let Some(cusp) = self.shown.scene.cusps.get(number).cloned() else { return };
        let mut without = self.scene.clone();
        without.cusps.retain(|kept| !is_same_cusp(kept, &cusp));
        if let Err(senseless) = without.check() {
            // The plan that was applied asks for a clearance there.
            let what = senseless.to_string();
            self.note =
                Some(Note { title: "Cusp not removed", what, meanwhile: "The cusps have not changed." });
            return;
        }
        self.edit(|scene, _| {
            scene.cusps.retain(|kept| !is_same_cusp(kept, &cusp));
            Ok(())
        });
        self.name_teeth_anew();
    }

    /// On casts that do not say where their teeth are, the cusps say it.
    fn name_teeth_anew(&mut self) {
        let places = ToothPlaces::of(&self.shown.scene.cusps);
        let renamed = self.shown.mounted.as_ref().and_then(|mounted| mounted.with_places(&places));
        if let Some(renamed) = renamed {
            self.shown.mounted = Some(renamed.into());
            self.solve_edited(false);
        }
    }
}

#[cfg(test)]
mod tests {
    use nalgebra::Vector3;
    use sim_core::cast::invented::InventedCasts;
    use sim_core::cusp::{Arch, Cusp, CuspTip};
    use sim_core::frame::Side;
    use sim_core::guide::CondylarGuide;
    use sim_core::setting::Setting;

    use crate::action::Action;
    use crate::action::testing::{near, with_casts};
    use crate::casts::{CutPlane, Seen, Show};
    use crate::page::Page;
    use crate::state::State;

    /// A cusp of the invented pair that the scene does not watch.
    fn cusp_of_pair(state: &State, tooth: u8, name: &str) -> Cusp {
        let invented = state.scene.invented_casts.as_ref().unwrap();
        let pair = invented.make(state.scene.occlusal_plane).unwrap();
        pair.cusps.into_iter().find(|cusp| cusp.tooth().number() == tooth && cusp.name() == name).unwrap()
    }

    fn pick_from_above(state: &mut State, cusp: &Cusp) -> Vector3<f64> {
        let CuspTip::Lower(tip) = cusp.tip() else { panic!("a lower cusp") };
        state.act(Action::See(Seen::Lower));
        // A hair beside the tip, which is a vertex.
        let from = tip.coords() + Vector3::new(1e-3, 1e-3, 300.0);
        state.act(Action::Pick(from, -Vector3::z()));
        *tip.coords()
    }

    #[test]
    fn a_cusp_picked_from_above_is_the_one_under_the_mouse() {
        let mut state = with_casts();
        let cusp = cusp_of_pair(&state, 47, "distobuccal");
        let tip = pick_from_above(&mut state, &cusp);
        let picked = state.proposal.clone().unwrap();
        assert_eq!((picked.tooth.number(), picked.name.as_str()), (47, "distobuccal"));
        assert!((picked.at_mm - tip).norm() < 0.01, "{} instead of {tip}", picked.at_mm);
        // Inclines come from the cusp of the arch that is nearest.
        assert_eq!(picked.opposing_from, "taken from 47 mesiobuccal");

        let count = state.scene.cusps.len();
        state.act(Action::AddCusp);
        assert_eq!((state.scene.cusps.len(), state.proposal.is_none()), (count + 1, true));
        assert!(state.marks[count].is_some() && state.is_added(&state.scene.cusps[count]));
        assert_eq!(state.sample().readings.len(), count + 1);
        // A second one there must be called something else, and is refused if it is not.
        pick_from_above(&mut state, &cusp);
        let mut second = state.proposal.clone().unwrap();
        assert_eq!(second.name, "distobuccal 2");
        second.name = "distobuccal".to_owned();
        state.act(Action::Propose(second));
        state.act(Action::AddCusp);
        assert!(state.note.as_ref().unwrap().what.contains("twice"), "{:?}", state.note);
        assert_eq!(state.scene.cusps.len(), count + 1);

        state.act(Action::Dismiss);
        state.act(Action::RemoveCusp(count));
        assert_eq!(state.scene, state.as_read);
        assert_eq!(state.marks.len(), count);
    }

    #[test]
    fn beside_the_casts_and_behind_a_lifted_member_nothing_is_picked() {
        let mut state = with_casts();
        state.act(Action::Pick(Vector3::new(-50.0, 0.0, 300.0), -Vector3::z()));
        assert_eq!(state.proposal, None);
        let cusp = cusp_of_pair(&state, 36, "distobuccal");
        pick_from_above(&mut state, &cusp);
        assert_eq!(state.proposal.as_ref().map(|picked| picked.tooth.arch()), Some(Arch::Lower));
        // With both members in place the upper cast is met first.
        let CuspTip::Lower(tip) = cusp.tip() else { panic!("a lower cusp") };
        state.act(Action::See(Seen::Both));
        state.act(Action::Pick(tip.coords() + Vector3::z() * 300.0, -Vector3::z()));
        assert_eq!(state.proposal.map(|picked| picked.tooth.arch()), Some(Arch::Upper));
    }

    #[test]
    fn what_is_not_seen_is_not_read() {
        let mut state = with_casts();
        let readout = state.readout.clone().unwrap();
        assert!(readout.clearance.iter().all(Option::is_none) && readout.print.is_none());
        assert!(readout.section.is_none() && readout.nearest.is_none());
        state.act(Action::Show(Show::Clearance));
        state.act(Action::See(Seen::Lower));
        let readout = state.readout.clone().unwrap();
        assert!(readout.clearance[0].is_none() && readout.clearance[1].is_some());
    }

    #[test]
    fn the_map_rises_with_the_jaw_and_agrees_with_the_search() {
        let mut state = with_casts();
        state.act(Action::Show(Show::Clearance));
        state.act(Action::Page(Page::Casts));
        let read = |state: &State| {
            let readout = state.readout.clone().unwrap();
            let least = |map: &[Option<f64>]| map.iter().flatten().copied().fold(f64::INFINITY, f64::min);
            let map = readout.clearance.iter().flatten().map(|map| least(map)).fold(f64::INFINITY, f64::min);
            (map, readout.nearest.as_ref().unwrap().vertical.unwrap().gap.mm())
        };
        // At rest the pair touches, and the least gap between two meshes may lie within two edges.
        let (map, searched) = read(&state);
        assert!(map.abs() < 0.02 && searched <= map + 1e-9, "{map} and {searched}");
        state.act(Action::ScrubTo(usize::MAX));
        let (map, searched) = read(&state);
        assert!(searched <= map + 1e-9 && map - searched < 0.2, "{map} and {searched}");
    }

    #[test]
    fn a_section_stays_on_the_casts_and_its_gap_is_no_less_than_the_least() {
        let mut state = with_casts();
        state.act(Action::Page(Page::Casts));
        for plane in CutPlane::ALL {
            state.act(Action::Cut(plane));
            for far in [-1e6, 1e6, f64::NAN] {
                state.act(Action::CutAt(far));
                let [least, greatest] = state.shown.mounted.as_ref().unwrap().cut_range_mm(plane);
                assert!((least..=greatest).contains(&state.casts.cut_at_mm()), "{plane:?}");
            }
            let [least, greatest] = state.shown.mounted.as_ref().unwrap().cut_range_mm(plane);
            state.act(Action::CutAt(least + 0.8 * (greatest - least)));
            let readout = state.readout.clone().unwrap();
            let section = readout.section.as_ref().unwrap();
            assert!(!section.section.upper.is_empty() && !section.section.lower.is_empty(), "{plane:?}");
            let searched = readout.nearest.as_ref().unwrap().vertical.unwrap().gap.mm();
            let gap = section.gap.map_or(f64::INFINITY, |gap| gap.gap.mm());
            assert!(gap >= searched - 1e-9, "{plane:?}: {gap} under {searched}");
        }
    }

    #[test]
    fn while_a_slider_moves_the_casts_are_coarse_and_then_made_in_full() {
        let mut state = with_casts();
        state.act(Action::ScrubTo(30));
        let triangles = |state: &State| {
            state.shown.mounted.as_ref().unwrap().casts.surface(Arch::Lower).triangles().len()
        };
        let (full, driven) = (triangles(&state), state.sample().driven);
        state.act(Action::Set(Setting::InventedCasts(&InventedCasts::CUSP_ANGLE), Side::Right, 31.0));
        assert_eq!(state.note, None);
        assert!(triangles(&state) * 2 < full, "{} of {full}", triangles(&state));
        assert!(state.rough.is_some());
        state.pass(0.2);
        assert!(state.rough.is_some());
        state.pass(0.2);
        assert_eq!(state.rough, None);
        // Another angle is another form, of about as many triangles.
        assert!(triangles(&state).abs_diff(full) < full / 4, "{} after {full}", triangles(&state));
        assert!(near(state.sample().driven, driven));
        // A setting that leaves the casts alone leaves them as they are.
        let before = state.shown.mounted.clone().unwrap();
        state.act(Action::Set(Setting::Guide(&CondylarGuide::LATERAL_ANGLE), Side::Right, 21.0));
        assert!(std::sync::Arc::ptr_eq(&before, state.shown.mounted.as_ref().unwrap()));
        assert_eq!(state.rough, None);
    }

    #[test]
    fn casts_that_cannot_be_made_leave_a_note_and_the_last_ones_stay() {
        let mut state = with_casts();
        let before = state.shown.mounted.clone().unwrap();
        // Rounder than any arch.
        state.act(Action::Set(
            Setting::InventedCasts(&InventedCasts::SAGITTAL_CURVE_RADIUS),
            Side::Right,
            20.0,
        ));
        let note = state.note.clone().unwrap();
        assert!(note.title == "No casts" && note.what.contains("sagittal_curve_radius_mm"), "{note:?}");
        assert!(std::sync::Arc::ptr_eq(&before, state.shown.mounted.as_ref().unwrap()));
        state.act(Action::BackToFile);
        assert_eq!(state.note, None);
        state.pass(1.0);
        assert_eq!(state.scene, state.as_read);
    }
}
