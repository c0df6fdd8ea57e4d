//! Taking over a scene that has been opened, or opened again.

use crate::opened::OpenedScene;
use crate::state::{Note, State};

impl State {
    /// Takes the answer to [`Request::Open`](crate::opened::Request::Open): the scene becomes what was
    /// read; where it could not be read or shown, nothing changes but the note.
    pub fn open_read(&mut self, read: Result<OpenedScene, String>) {
        let fresh = read.and_then(|opened| {
            let name = opened
                .file
                .as_ref()
                .map(|file| format!("{}: ", words::quoted::path(file)))
                .unwrap_or_default();
            Self::open(opened).map_err(|unshowable| format!("{name}{unshowable}"))
        });
        match fresh {
            Ok(fresh) => {
                // What was opened takes the place of a person's own set-up, not of a lesson's.
                self.leave_course();
                let left = self.moment();
                self.become_fresh(fresh);
                self.remember(left, None);
            }
            Err(what) => {
                self.file_note = Some(Note {
                    title: "File not opened",
                    what,
                    meanwhile: "The previous scene is still shown.",
                });
            }
        }
        self.keep_up();
    }

    /// Becomes a state just opened, and keeps what a person has chosen.
    pub(super) fn become_fresh(&mut self, fresh: Self) {
        let revision = self.shown.revision + 1;
        // Scenes without a file are not of the same one.
        let same_file = self.file.is_some() && self.file == fresh.file;
        let mut before = std::mem::replace(self, fresh);
        self.shown.revision = revision;
        self.tied = before.tied;
        self.moving = before.moving;
        self.projections = before.projections;
        self.kept.clone_from(&before.kept);
        self.beside = before.beside;
        self.history = std::mem::take(&mut before.history);
        self.appearance = before.appearance;
        self.place = before.place;
        self.wanted_panel = before.wanted_panel;
        self.shelf = std::mem::take(&mut before.shelf);
        self.last_written = before.last_written.take();
        self.bench = before.bench.take();
        self.dealing = before.dealing;
        self.teaching = std::mem::take(&mut before.teaching);
        self.own = before.own.take();
        self.plate.usual = before.plate.usual;
        self.plate.alone = same_file && before.plate.alone;
        self.plate.lay_under(before.plate.under.take());
        if same_file {
            if before.room == self.room {
                self.look = before.look;
                self.held = before.held;
            }
            self.casts = before.casts;
            self.page = before.page;
            self.stay_at(&before);
        }
    }

    /// After a reload: the same excursion, position and cusps, where they still exist.
    fn stay_at(&mut self, before: &Self) {
        if self.shown.scene.cusps.len() == before.marks.len() {
            self.marks.clone_from(&before.marks);
        }
        let name = before.shown.solved.excursion.movement().name();
        if let Some(number) = self.excursions.iter().position(|offered| offered.movement().name() == name) {
            self.choose_excursion(number);
            self.at = self.shown.solved.nearest(before.sample().driven).min(before.at);
        }
    }
}
