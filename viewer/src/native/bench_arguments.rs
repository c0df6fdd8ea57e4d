//! The options of the bench.

use clap::{Args, ValueEnum};
use sim_core::frame::Side;
use sim_core::practice::{Form, Level};

use super::error::ViewerError;
use crate::action::Action;
use crate::bench::{BenchAct, Dealing, Dial, Magnified};
use crate::state::State;

/// The options of the bench.
#[derive(Debug, Default, Args)]
pub struct BenchArguments {
    /// Deal the invented patient of this seed and lay it on the bench.
    #[arg(long, value_name = "SEED", conflicts_with = "scene")]
    pub deal: Option<u64>,

    /// How hard the patient is.
    #[arg(long, value_enum, requires = "deal")]
    pub level: Option<LevelWord>,

    /// In which form the patient's records come.
    #[arg(long, value_enum, requires = "deal")]
    pub form: Option<FormWord>,

    /// Draw faults for the patient, none to three.
    #[arg(long, requires = "deal")]
    pub draw_faults: bool,

    /// What the guides are set to on the bench, in degrees: `right=30,left=32`, and for the lateral angles
    /// `right-lateral=15,left-lateral=15`.
    #[arg(long, value_name = "GUIDE=DEGREES", value_delimiter = ',', value_parser = set_at)]
    pub set: Vec<SetAt>,

    /// The record between the casts, by its number in the case, from 1; nothing lies between them when absent.
    #[arg(long, value_name = "NUMBER")]
    pub lay: Option<usize>,

    /// Show the split alone, its gaps so many times as large: 1, 5 or 20.
    #[arg(long, value_name = "TIMES", value_parser = magnified)]
    pub split: Option<Magnified>,
}

/// How hard a patient is.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum LevelWord {
    /// Measured nearly exactly, sides nearly alike.
    First,
    /// More noise, sides unlike.
    Second,
    /// Noise of a hasty record, sides much unlike.
    Third,
}

/// In which form records come.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum FormWord {
    /// Landmarks of scanned casts.
    Coordinates,
    /// What scales read and a caliper measures.
    Bench,
}

/// An angle that a guide is set to.
#[derive(Clone, Copy, Debug)]
pub struct SetAt {
    dial: Dial,
    degrees: f64,
}

fn set_at(given: &str) -> Result<SetAt, String> {
    let (guide, degrees) = given.split_once('=').ok_or("give a guide and its angle, as in right=30")?;
    let dial = match guide.trim() {
        "right" => Dial::Inclination(Side::Right),
        "left" => Dial::Inclination(Side::Left),
        "right-lateral" => Dial::Lateral(Side::Right),
        "left-lateral" => Dial::Lateral(Side::Left),
        other => {
            return Err(format!(
                "{other:?} is no guide; allowed are right, left, right-lateral, left-lateral"
            ));
        }
    };
    let degrees: f64 = degrees.trim().parse().map_err(|_| format!("{degrees:?} is no number of degrees"))?;
    dial.facts().check(degrees).map_err(|why| why.to_string())?;
    Ok(SetAt { dial, degrees })
}

fn magnified(given: &str) -> Result<Magnified, String> {
    let of = |look: &Magnified| matches!(look, Magnified::Split(times) if times.to_string() == given.trim());
    Magnified::ALL.into_iter().find(of).ok_or_else(|| format!("{given:?} is none; allowed are 1, 5 and 20"))
}

impl BenchArguments {
    /// Whether the bench is to be shown, with or without a case file.
    pub(super) const fn deals(&self) -> bool {
        self.deal.is_some()
    }

    /// What patient is to be dealt.
    fn dealing(&self) -> Dealing {
        Dealing {
            level: match self.level {
                None | Some(LevelWord::First) => Level::First,
                Some(LevelWord::Second) => Level::Second,
                Some(LevelWord::Third) => Level::Third,
            },
            form: match self.form {
                None | Some(FormWord::Coordinates) => Form::Coordinates,
                Some(FormWord::Bench) => Form::Bench,
            },
            with_faults: self.draw_faults,
        }
    }

    /// Lays everything on the bench as the options say.
    ///
    /// # Errors
    /// [`ViewerError`] for a seed that deals no patient, and for what the bench refuses.
    pub(super) fn lay_out(&self, state: &mut State) -> Result<(), ViewerError> {
        if let Some(seed) = self.deal {
            state.act(Action::Dealing(self.dealing()));
            // Dealt once by itself, so that a seed that deals none ends the program.
            self.dealing().deal(seed)?;
            state.act(Action::Deal(seed));
        }
        if let (None, Some(option)) = (&state.bench, self.first_used()) {
            return Err(ViewerError::NoCase { option });
        }
        let mut acts: Vec<(&'static str, BenchAct)> =
            self.set.iter().map(|set| ("set", BenchAct::Turn(set.dial, set.degrees))).collect();
        if let (Some(number), Some(bench)) = (self.lay, &state.bench) {
            let record = number.checked_sub(1).filter(|record| bench.kind(*record).is_some());
            let count = bench.worked.case.records.len();
            let why = format!("the case has no record {number}; it has {count}");
            acts.push(("lay", BenchAct::Lay(Some(record.ok_or(ViewerError::Bench { option: "lay", why })?))));
        }
        acts.extend(self.split.map(|look| ("split", BenchAct::Look(look))));
        for (option, act) in acts {
            state.act(Action::Bench(act));
            if let Some(note) = state.note.take() {
                return Err(ViewerError::Bench { option, why: note.what });
            }
        }
        Ok(())
    }

    /// The first option that needs a case, of those given.
    fn first_used(&self) -> Option<&'static str> {
        let used =
            [("set", !self.set.is_empty()), ("lay", self.lay.is_some()), ("split", self.split.is_some())];
        used.into_iter().find(|(_, is_used)| *is_used).map(|(option, _)| option)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn angles_and_sizes_are_checked() {
        assert_eq!(set_at("right-lateral=15.5").unwrap().dial, Dial::Lateral(Side::Right));
        for wrong in ["right", "front=3", "left=steep", "left=99", "left=nan"] {
            assert!(set_at(wrong).is_err(), "{wrong}");
        }
        assert_eq!(magnified("5"), Ok(Magnified::Split(5)));
        assert!(magnified("7").unwrap_err().contains("1, 5 and 20"));
    }
}
