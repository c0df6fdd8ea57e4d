//! What teeth touch, what guides, what is in the way: all that `eminentia contacts` reports.

mod colour;
mod judged;
pub mod marked;
mod place;

use std::sync::Arc;

use sim_core::cast::{Casts, CastsReading, Film, LastPairs, NoSuchFilm, TooIntricate};
use sim_core::cusp::Tooth;
use sim_core::excursion::{Excursion, Movement, NoPose, Placement};
use sim_core::occlusion::{
    Difference, Interference, InterferenceSearch, Interferences, MissingContacts, Mounted, Stretch, Verdict,
    differences,
};
use sim_core::scene::Scene;
use sim_core::units::Length;

pub use judged::{Because, Judged};
pub use marked::ToothMark;
pub use place::{Place, PlaceError, places};

/// All that is reported.
pub struct ContactsReport {
    /// Title of the scene.
    pub title: String,
    /// The thinnest first.
    pub films: Vec<Film>,
    /// Where marks are read.
    pub poses: Vec<PoseContacts>,
    /// The stretch of each excursion over which guidance is told.
    pub stretch: Stretch,
    /// How each movement is guided.
    pub guidance: Vec<Verdict>,
    /// What the teeth are meant to do.
    pub judged: Judged,
    /// How interferences are looked for.
    pub search: InterferenceSearch,
    /// What is in the way of the intended guides.
    pub in_the_way: InTheWay,
    /// Where balance is intended, what is missing of it in each excursion.
    pub missing: Option<Vec<MissingContacts>>,
    /// The same on an instrument otherwise set, and what that makes of it.
    pub against: Option<Against>,
}

/// What teeth do in one pose.
pub struct PoseContacts {
    /// The way that leads there.
    pub place: Place,
    /// The pose.
    pub placement: Placement,
    /// How near the casts come.
    pub reading: CastsReading,
    /// For each film the teeth that it marks.
    pub marks: Vec<Vec<ToothMark>>,
}

/// What is in the way of the intended guides, in all excursions.
pub struct InTheWay {
    /// The deepest first.
    pub interferences: Vec<Interference>,
    /// How far each excursion could be followed.
    pub followed: Vec<Interferences>,
}

/// Another setting held against the scene.
pub struct Against {
    /// The changes, as they were written.
    pub with: Vec<String>,
    /// What the other setting makes of each interference.
    pub differences: Vec<Difference>,
    /// Where balance is intended, what is missing of it there.
    pub missing: Option<Vec<MissingContacts>>,
}

/// A scene with its casts on the instrument, and the movements that it makes.
pub struct Bench<'s> {
    scene: &'s Scene,
    mounted: Mounted,
    movements: Vec<Movement>,
    stops: Vec<NoPose>,
    /// Told of every step done.
    tick: Box<dyn Fn() + 's>,
}

impl<'s> Bench<'s> {
    /// `excursions` are those of which guidance is told.
    pub fn new(scene: &'s Scene, casts: &Arc<Casts>, excursions: &[Excursion]) -> Self {
        let mut movements = Vec::new();
        for movement in excursions.iter().map(Excursion::movement) {
            if movement != Movement::Opening && !movements.contains(&movement) {
                movements.push(movement);
            }
        }
        let mounted = Mounted::new(scene.instrument.clone(), Arc::clone(casts), scene.occlusal_plane);
        Self { scene, mounted, movements, stops: Vec::new(), tick: Box::new(|| ()) }
    }

    /// Has every step told, for whoever watches how far it has come: each pose, and of each movement the
    /// guidance, what is in the way, and, where that is asked, what is missing.
    #[must_use]
    pub fn watched(mut self, tick: impl Fn() + 's) -> Self {
        self.tick = Box::new(tick);
        self
    }

    /// How many movements there are.
    pub fn movements(&self) -> usize {
        self.movements.len()
    }

    /// What the teeth do at a place, as far as the jaw gets there.
    ///
    /// # Errors
    /// [`TooIntricate`] where the casts cross all over each other.
    pub fn pose(&mut self, place: Place, films: &[Film]) -> Result<Option<PoseContacts>, TooIntricate> {
        let (placement, stop) = place.placement(self.scene, self.mounted.casts());
        self.stops.extend(stop);
        let Some(placement) = placement else {
            (self.tick)();
            return Ok(None);
        };
        let casts = self.mounted.casts();
        let reading = casts.measure(&placement.jaw, self.scene.occlusal_plane, &mut LastPairs::default());
        let marks = marked::teeth(casts, &placement.jaw, films)?;
        (self.tick)();
        Ok(Some(PoseContacts { place, placement, reading, marks }))
    }

    /// How each movement is guided.
    pub fn guidance(&mut self, stretch: &Stretch) -> Vec<Verdict> {
        let scheme = |movement: &Movement| self.ticked(self.mounted.scheme(*movement, stretch));
        let (verdicts, stops) = parted(self.movements.iter().map(scheme));
        self.stops.extend(stops);
        verdicts
    }

    /// Where balance is intended, which contacts are missing in each movement.
    pub fn missing(&mut self, judged: Judged, stretch: &Stretch) -> Option<Vec<MissingContacts>> {
        if !judged.by_balance() {
            return None;
        }
        let missing = |movement: &Movement| self.ticked(self.mounted.missing(*movement, stretch));
        let (missing, stops) = parted(self.movements.iter().map(missing));
        self.stops.extend(stops);
        Some(missing)
    }

    /// What is in the way of the intended guides.
    pub fn in_the_way(&mut self, search: &InterferenceSearch) -> InTheWay {
        let looked = |movement: &Movement| self.ticked(self.mounted.interferences(*movement, search));
        let (followed, stops) = parted(self.movements.iter().map(looked));
        self.stops.extend(stops);
        let mut interferences: Vec<Interference> =
            followed.iter().flat_map(|one| one.found.iter().copied()).collect();
        interferences.sort_by(|one, other| other.upper_reduction.mm().total_cmp(&one.upper_reduction.mm()));
        InTheWay { interferences, followed }
    }

    fn ticked<T>(&self, step: T) -> T {
        (self.tick)();
        step
    }

    /// What stood in the way of a pose, each once.
    pub fn stops(self) -> Vec<NoPose> {
        let mut once: Vec<NoPose> = Vec::new();
        for stop in self.stops {
            if !once.contains(&stop) {
                once.push(stop);
            }
        }
        once
    }
}

impl Against {
    /// What other settings make of what is in the way.
    pub fn of(
        with: Vec<String>,
        scene: &InTheWay,
        other: &InTheWay,
        missing: Option<Vec<MissingContacts>>,
    ) -> Self {
        Self { with, differences: differences(&scene.interferences, &other.interferences), missing }
    }
}

impl PoseContacts {
    /// The mark of a tooth on one film, if it has any.
    pub fn mark(&self, film: usize, tooth: Tooth) -> Option<&ToothMark> {
        self.marks.get(film)?.iter().find(|mark| mark.tooth == tooth)
    }
}

/// The thickness of a film in the unit that films are named by, without what turning it into millimetres
/// and back leaves.
pub fn micrometres(film: Film) -> f64 {
    (film.thickness().mm() * 1e9).round() / 1e6
}

/// The films of so many micrometres, or the examples where none are asked for; the thinnest first, each once.
///
/// # Errors
/// [`NoSuchFilm`].
pub fn films(micrometres: Option<&[f64]>) -> Result<Vec<Film>, NoSuchFilm> {
    let thicknesses: Vec<Length> = match micrometres {
        None => Film::THICKNESSES.to_vec(),
        Some(asked) => asked.iter().map(|micrometres| Length::from_mm(micrometres / 1000.0)).collect(),
    };
    let mut films = thicknesses.into_iter().map(Film::new).collect::<Result<Vec<_>, _>>()?;
    films.sort_by(|one, other| one.thickness().mm().total_cmp(&other.thickness().mm()));
    films.dedup();
    Ok(films)
}

fn parted<T>(results: impl Iterator<Item = Result<T, NoPose>>) -> (Vec<T>, Vec<NoPose>) {
    let (mut good, mut bad) = (Vec::new(), Vec::new());
    for result in results {
        match result {
            Ok(one) => good.push(one),
            Err(stop) => bad.push(stop),
        }
    }
    (good, bad)
}
