//! Looking at the casts, cutting them, and picking cusps on them.

use nalgebra::Vector3;
use sim_core::cast::ToothPlaces;

use crate::casts::{Proposal, Seen};
use crate::drawing::marks::Stand;
use crate::projection::{Look, Viewpoint};
use crate::state::{Note, State, free_mark};

impl State {
    pub(super) fn see(&mut self, seen: Seen) {
        self.casts.seen = seen;
    }

    /// Looks at the teeth alone or at the whole instrument, from the same direction.
    pub(super) fn come_close(&mut self, close: bool) {
        self.casts.close = close;
        let viewpoint = self.look.viewpoint.unwrap_or(Viewpoint::Oblique);
        let bounds = self.bounds(viewpoint);
        match self.look.viewpoint {
            Some(viewpoint) => self.look = Look::at(viewpoint, bounds),
            None => self.look.fit(bounds),
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
        let stand = Stand::of(&self.stop().placement.jaw, self.moving);
        let seen = self.casts.seen;
        self.proposal = self.shown.mounted.as_ref().and_then(|mounted| {
            Proposal::under(mounted, &self.shown.scene, &stand, |arch| seen.has(arch), (from, toward))
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
        if let Some(added) = self.shown.scene.cusps.iter().position(|own| *own == cusp) {
            self.marks[added] = Some(free_mark(&self.marks));
        }
        self.tell_teeth_anew();
    }

    fn refuse_cusp(&mut self, proposal: Proposal, what: String) {
        self.proposal = Some(proposal);
        self.note = Some(Note { title: "Not added", what, meanwhile: "The cusps are as they were." });
    }

    pub(super) fn remove_cusp(&mut self, number: usize) {
        let Some(cusp) = self.shown.scene.cusps.get(number).cloned() else { return };
        self.edit(|scene, _| {
            scene.cusps.retain(|own| own.tooth() != cusp.tooth() || own.name() != cusp.name());
            Ok(())
        });
        self.tell_teeth_anew();
    }

    /// On casts that do not say where their teeth are, the cusps do.
    fn tell_teeth_anew(&mut self) {
        let places = ToothPlaces::of(&self.shown.scene.cusps);
        let told = self.shown.mounted.as_ref().and_then(|mounted| mounted.with_places(&places));
        if let Some(told) = told {
            self.shown.mounted = Some(told.into());
            self.solve_edited(false);
        }
    }
}
