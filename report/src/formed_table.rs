//! What is reported of a custom incisal table: its form, and how well it repeats the teeth.
//!
//! How well it does is worked out here: the scene's movements are solved twice, once guided by the
//! teeth with the pin raised out of the way and once by the table, and held against each other.

use std::sync::Arc;

use sim_core::anterior::{AnteriorGuide, HeightField, PinTip, Trough};
use sim_core::cast::Casts;
use sim_core::excursion::{Drive, Excursion, Mechanism, Movement, SampleCount};
use sim_core::instrument::Instrument;
use sim_core::occlusion::FormedTable;
use sim_core::scene::Scene;
use sim_core::units::Length;

/// A table, and how it does what the teeth did.
pub struct FormedTableReport {
    /// Title of the scene.
    pub title: String,
    /// The table.
    pub formed: FormedTable,
    /// The surface to print.
    pub printed: HeightField,
    /// Whether it goes into a file to be printed.
    pub in_a_file: bool,
    /// How far the pin's tip on the printed surface runs from the table's heights, at most.
    pub tip_runs_off: Length,
    /// How well it does, movement by movement.
    pub repeats: Vec<Repeat>,
}

/// A table with its surface to print.
pub struct Formed {
    /// The table.
    pub formed: FormedTable,
    /// The surface to print.
    pub printed: HeightField,
    /// How far the pin's tip on the printed surface runs from the table's heights, at most.
    pub runs_off: Length,
    /// Whether it goes into a file to be printed.
    pub in_a_file: bool,
}

/// How well the table repeats an excursion that the teeth guide.
pub struct Repeat {
    /// The movement.
    pub movement: Movement,
    /// Advance up to which both are held against each other.
    pub to: Length,
    /// The greatest distance between the incisal points of both, and the advance at which it is; none
    /// where one of them finds no pose at all.
    pub greatest: Option<(Length, Length)>,
}

/// Samples at which table and teeth are held against each other: every twentieth of a millimetre or so,
/// finer than any grid whose departures could be seen.
const SAMPLES: i64 = 121;

/// A pin this high is out of the way: the teeth alone guide.
const RAISED: Length = Length::from_mm(-30.0);

impl FormedTableReport {
    /// Holds the table against the teeth in each movement of the scene.
    pub fn of(scene: &Scene, casts: &Arc<Casts>, table: Formed, with_table: &Instrument) -> Self {
        let Formed { formed, printed, runs_off, in_a_file } = table;
        let by_teeth = Instrument {
            anterior_guide: AnteriorGuide::Casts(Trough::LEVEL),
            pin_extension: RAISED,
            ..scene.instrument.clone()
        };
        let teeth = Mechanism::new(&by_teeth).with_casts(Arc::clone(casts));
        let table = Mechanism::new(with_table);
        let to = formed.guided_to();
        let mut movements: Vec<Movement> = Vec::new();
        for movement in scene.excursions.iter().map(Excursion::movement) {
            if movement != Movement::Opening && !movements.contains(&movement) {
                movements.push(movement);
            }
        }
        let repeat = |movement| {
            let excursion = Excursion::new(movement, Drive::Advance(to)).ok()?;
            let samples = SampleCount::new(SAMPLES).ok()?;
            let both = [&teeth, &table].map(|one| one.motion(&excursion, samples));
            let pairs = both[0].placements().iter().zip(both[1].placements());
            let apart = pairs.map(|(one, other)| {
                (Length::from_mm(one.incisal_point.distance_mm(&other.incisal_point)), one.advance())
            });
            let greatest = apart.max_by(|one, other| one.0.mm().total_cmp(&other.0.mm()));
            Some(Repeat { movement, to, greatest })
        };
        let repeats = movements.into_iter().filter_map(repeat).collect();
        Self { title: scene.title.clone(), formed, printed, in_a_file, tip_runs_off: runs_off, repeats }
    }

    /// The table's own error: how far the tip on the printed surface departs from where the teeth lead it
    /// in the scene's movements, at most. None where no movement could be held against the teeth.
    pub fn error(&self) -> Option<Length> {
        let of_table = self.repeats.iter().filter_map(|repeat| repeat.greatest).map(|(apart, _)| apart.mm());
        of_table.reduce(f64::max).map(Length::from_mm)
    }

    /// What is to be kept in mind of a table to be printed, in sentences; nothing where none is.
    pub fn cautions(&self) -> Vec<&'static str> {
        if !self.in_a_file {
            return Vec::new();
        }
        let point = self.formed.field().tip() == PinTip::POINT;
        let of_tip = point.then_some(words::verdict::formed_table::POINT);
        of_tip.into_iter().chain([words::verdict::formed_table::PRINTED]).collect()
    }
}
