//! Why a number is what it is: the account of one number at one place of an excursion.

use std::sync::Arc;

use sim_core::account::{Account, NoAccount, Number, SolvedPose};
use sim_core::cast::Casts;
use sim_core::cusp::Cusp;
use sim_core::excursion::{Drive, Excursion, NoPose, Placement, SampleCount};
use sim_core::scene::Scene;

use crate::contacts::{Place, PlaceError, places};

/// The account of a number, and where it was read.
pub struct AccountReport {
    /// Title of the scene.
    pub title: String,
    /// The excursion; at rest, that which would start there.
    pub excursion: Excursion,
    /// The pose.
    pub placement: Placement,
    /// The cusp that the number is read at, if it is read at one.
    pub cusp: Option<Cusp>,
    /// The account.
    pub account: Account,
}

/// What is asked for.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// The excursion by its name; the first of the scene where none is named.
    pub excursion: Option<String>,
    /// Where in it, in millimetres of advance or degrees of an opening; its end where nothing is said.
    pub at: Option<f64>,
    /// The cusp: `36:mesiobuccal`, or `36` for the first of that tooth; the scene's first where none is named.
    pub cusp: Option<String>,
}

/// Why there is no account.
#[derive(Debug, thiserror::Error)]
pub enum AccountError {
    /// No such place.
    #[error(transparent)]
    Place(#[from] PlaceError),
    /// No such cusp.
    #[error("{given}: the scene has no such cusp; {known}")]
    NoSuchCusp {
        /// What was asked for.
        given: String,
        /// What there is.
        known: String,
    },
    /// A number that is read at a cusp, of a scene without one.
    #[error("the scene lists no cusps, and this number is read at one; add cusps, or ask for another number")]
    NoCusps,
    /// No pose there.
    #[error(transparent)]
    NoPose(#[from] NoPose),
    /// No account of it.
    #[error(transparent)]
    Account(#[from] NoAccount),
}

impl AccountReport {
    /// Takes a number of a scene apart. `number` makes a number of the place of a cusp among the scene's; one
    /// that belongs to no cusp takes no heed of it.
    ///
    /// # Errors
    /// [`AccountError`] says what there is none of.
    pub fn of(
        scene: &Scene,
        casts: Option<Arc<Casts>>,
        asked: &Asked,
        number: impl Fn(usize) -> Number,
    ) -> Result<Self, AccountError> {
        let mechanism = scene.mechanism();
        let mechanism = match casts {
            Some(casts) => mechanism.with_casts(casts),
            None => mechanism,
        };
        let first = scene.excursions.first().map(|excursion| excursion.movement().name().to_owned());
        let name = asked.excursion.clone().or(first);
        let (places, excursions) = places(scene, name.as_deref(), asked.at)?;
        let (excursion, placement) = match places.first() {
            Some(Place::End(excursion)) => {
                let two = SampleCount::new(2).unwrap_or(scene.samples);
                let last = mechanism.samples(excursion, two).last().transpose()?;
                (*excursion, last.map_or_else(|| mechanism.rest(), Ok)?)
            }
            _ => {
                let starting = excursions.first().or(scene.excursions.first()).copied();
                let none = || PlaceError::NoEnd { name: name.unwrap_or_default() };
                (starting.ok_or_else(none)?, mechanism.rest()?)
            }
        };
        let place = match number(0).cusp() {
            Some(_) => place_of(scene, asked.cusp.as_deref())?,
            None => 0,
        };
        let number = number(place);
        let account =
            SolvedPose { scene, mechanism: &mechanism, excursion, placement: &placement }.account(number)?;
        let cusp = number.cusp().and_then(|place| scene.cusps.get(place)).cloned();
        Ok(Self { title: scene.title.clone(), excursion, placement, cusp, account })
    }

    /// Whether the incisal point drives, whose way is then held while settings are turned.
    pub fn is_driven_by_the_incisal_point(&self) -> bool {
        matches!(self.excursion.drive(), Drive::IncisalDisplacement(_) | Drive::Tracing(_))
    }
}

/// The place of a cusp among the scene's, by tooth and name, or the first of a tooth.
fn place_of(scene: &Scene, given: Option<&str>) -> Result<usize, AccountError> {
    let Some(given) = given else {
        return if scene.cusps.is_empty() { Err(AccountError::NoCusps) } else { Ok(0) };
    };
    let (tooth, name) = given.split_once([':', '.', ' ']).unwrap_or((given, ""));
    let is_meant = |cusp: &Cusp| {
        cusp.tooth().number().to_string() == tooth.trim() && (name.is_empty() || cusp.name() == name.trim())
    };
    let found = scene.cusps.iter().position(is_meant);
    found.ok_or_else(|| AccountError::NoSuchCusp { given: given.to_owned(), known: known(scene) })
}

fn known(scene: &Scene) -> String {
    let names = scene.cusps.iter().map(|cusp| format!("{}:{}", cusp.tooth(), cusp.name()));
    let names: Vec<String> = names.collect();
    if names.is_empty() { "it lists none".to_owned() } else { format!("its cusps are {}", names.join(", ")) }
}
