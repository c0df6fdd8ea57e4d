//! Two scenes beside each other: which settings differ, and what that does at every cusp.
//!
//! Cusps are matched by tooth and name, excursions by name and order of occurrence. What has no
//! match is kept, with one half empty.

use serde::Serialize;
use sim_core::cusp::Cusp;
use sim_core::excursion::Movement;
use sim_core::frame::Side;
use sim_core::guide::GuidePath;
use sim_core::scene::Scene;
use sim_core::setting::{self, Choice};

use crate::excursion_summary::ExcursionSummary;
use crate::guidance::guidance_words;

/// Two scenes beside each other.
#[derive(Serialize)]
pub struct Comparison {
    /// The scene compared with.
    pub first: Titled,
    /// The scene compared.
    pub second: Titled,
    /// Settings that differ.
    pub settings: Vec<SettingChange>,
    /// Excursions of both scenes.
    pub excursions: Vec<ExcursionChange>,
}

/// One of the two scenes.
#[derive(Serialize, Clone)]
pub struct Titled {
    /// Title of the scene.
    pub title: String,
    /// File, or what was changed in the first scene.
    pub from: String,
}

/// A number in both scenes; empty where one of them has none.
#[derive(Serialize, Clone, Copy)]
pub struct Both {
    /// In the first scene.
    pub first: Option<f64>,
    /// In the second scene.
    pub second: Option<f64>,
    /// The second less the first.
    pub change: Option<f64>,
}

/// A setting that differs.
#[derive(Serialize)]
pub struct SettingChange {
    /// As `--with` takes it, side included.
    pub name: String,
    /// Its name for people.
    pub label: &'static str,
    /// What it is in both.
    #[serde(flatten)]
    pub values: Values,
}

/// What a setting is in both scenes.
#[derive(Serialize)]
#[serde(untagged)]
pub enum Values {
    /// A number.
    Number {
        /// Its unit in words.
        unit: &'static str,
        /// It in both scenes.
        #[serde(flatten)]
        both: Both,
    },
    /// A choice between words.
    Word {
        /// In the first scene.
        first: String,
        /// In the second scene.
        second: String,
    },
}

/// Which scene alone has something.
#[derive(Serialize, Clone, Copy, PartialEq, Eq, Debug)]
#[serde(rename_all = "snake_case")]
pub enum Only {
    /// Only the first scene.
    First,
    /// Only the second scene.
    Second,
}

/// An excursion in both scenes, at its end.
#[derive(Serialize)]
pub struct ExcursionChange {
    /// Name of the movement.
    pub name: &'static str,
    /// 1 for the first of that name in its scene, 2 for the second, …
    pub occurrence: usize,
    /// Which scene alone has it; none where both do.
    pub only_in: Option<Only>,
    /// Advance of the condyle that drives it.
    pub advance_mm: Both,
    /// Opening of the jaw.
    pub opening_deg: Both,
    /// Share of the working condyle, in a lateroprotrusive excursion.
    pub ratio: Both,
    /// What guides: the pin, the incisors, teeth.
    pub guided_by: BothWords,
    /// How far the pin is off its table, where casts share in the guidance.
    pub pin_lift_mm: Both,
    /// Cusps of both scenes.
    pub cusps: Vec<CuspChange>,
    /// Why it stopped short, if it did.
    pub stopped: Stopped,
}

/// Words in both scenes; empty where one of them has none.
#[derive(Serialize)]
pub struct BothWords {
    /// In the first scene.
    pub first: Option<String>,
    /// In the second scene.
    pub second: Option<String>,
}

/// What stopped an excursion short in each scene.
#[derive(Serialize)]
pub struct Stopped {
    /// In the first scene.
    pub first: Option<String>,
    /// In the second scene.
    pub second: Option<String>,
}

/// A cusp in both scenes, at the end of an excursion.
#[derive(Serialize)]
pub struct CuspChange {
    /// Number of its tooth (FDI).
    pub tooth: u8,
    /// Name of the cusp.
    pub name: String,
    /// Which scene alone has it; none where both do.
    pub only_in: Option<Only>,
    /// `at_mm` and `opposing` where the cusp itself is not the same in both scenes.
    pub differs_in: Vec<&'static str>,
    /// Along the normal of the occlusal plane.
    pub separation_mm: Both,
    /// The same, counted from where the excursion starts.
    pub separation_from_start_mm: Both,
    /// Separation less the rise of the opposing incline.
    pub clearance_mm: Both,
    /// The least clearance on the way.
    pub least_clearance_mm: Both,
    /// Whether it interferes, at the end or on the way.
    pub interferes: Interferes,
}

/// Whether a cusp interferes in each scene; empty where a scene has none such.
#[derive(Serialize, Clone, Copy)]
pub struct Interferes {
    /// In the first scene.
    pub first: Option<bool>,
    /// In the second scene.
    pub second: Option<bool>,
}

/// A scene gone through: the summaries are in the order of its excursions.
pub struct WalkedScene<'s> {
    /// The scene.
    pub scene: &'s Scene,
    /// Its excursions.
    pub summaries: Vec<ExcursionSummary>,
}

impl Both {
    /// In neither.
    pub const NONE: Self = Self { first: None, second: None, change: None };

    fn of(first: Option<f64>, second: Option<f64>) -> Self {
        let change = first.zip(second).map(|(first, second)| second - first);
        Self { first, second, change }
    }
}

fn only<T>(first: Option<&T>, second: Option<&T>) -> Option<Only> {
    match (first, second) {
        (Some(_), None) => Some(Only::First),
        (None, Some(_)) => Some(Only::Second),
        _ => None,
    }
}

/// Pairs what has the same key, in the order of the first and then of the second.
fn matched<'t, T, K: PartialEq>(
    first: &'t [T],
    second: &'t [T],
    key: impl Fn(&'t [T], usize) -> K,
) -> Vec<(Option<usize>, Option<usize>)> {
    let keys = |all: &'t [T]| (0..all.len()).map(|index| key(all, index)).collect::<Vec<K>>();
    let (firsts, seconds) = (keys(first), keys(second));
    let partner = |key: &K| seconds.iter().position(|other| other == key);
    let mut pairs: Vec<_> =
        firsts.iter().enumerate().map(|(index, key)| (Some(index), partner(key))).collect();
    let lone = seconds.iter().enumerate().filter(|(_, key)| !firsts.contains(key));
    pairs.extend(lone.map(|(index, _)| (None, Some(index))));
    pairs
}

impl Comparison {
    /// Puts two scenes that have been gone through beside each other.
    pub fn of(titles: [Titled; 2], first: &WalkedScene<'_>, second: &WalkedScene<'_>) -> Self {
        let [first_title, second_title] = titles;
        let excursions = matched(&first.summaries, &second.summaries, occurrence);
        Self {
            first: first_title,
            second: second_title,
            settings: settings_that_differ(first.scene, second.scene),
            excursions: excursions
                .into_iter()
                .filter_map(|(one, other)| ExcursionChange::of((first, one), (second, other)))
                .collect(),
        }
    }
}

/// Name of an excursion, and how many of that name there are up to it.
fn occurrence(all: &[ExcursionSummary], index: usize) -> (&'static str, usize) {
    let name = |summary: &ExcursionSummary| summary.excursion.movement().name();
    let excursion_name = name(&all[index]);
    (excursion_name, all[..=index].iter().filter(|summary| name(summary) == excursion_name).count())
}

impl ExcursionChange {
    fn of(
        (first, one): (&WalkedScene<'_>, Option<usize>),
        (second, other): (&WalkedScene<'_>, Option<usize>),
    ) -> Option<Self> {
        let summaries =
            (one.map(|index| &first.summaries[index]), other.map(|index| &second.summaries[index]));
        let (name, occurrence) = match (one, other) {
            (Some(index), _) => occurrence(&first.summaries, index),
            (None, Some(index)) => occurrence(&second.summaries, index),
            (None, None) => return None,
        };
        let both = |read: &dyn Fn(&ExcursionSummary) -> Option<f64>| {
            Both::of(summaries.0.and_then(read), summaries.1.and_then(read))
        };
        let stopped =
            |summary: Option<&ExcursionSummary>| summary?.stopped.map(|no_pose| no_pose.to_string());
        let cusps = matched(&first.scene.cusps, &second.scene.cusps, |all: &[Cusp], index| {
            (all[index].tooth(), all[index].name())
        });
        Some(Self {
            name,
            occurrence,
            only_in: only(summaries.0, summaries.1),
            advance_mm: both(&|summary| Some(summary.end.as_ref()?.placement.advance().mm())),
            opening_deg: both(&|summary| Some(summary.end.as_ref()?.placement.opening().degrees())),
            ratio: both(&|summary| match summary.excursion.movement() {
                Movement::Lateroprotrusive { ratio, .. } => Some(ratio.get()),
                _ => None,
            }),
            guided_by: BothWords {
                first: summaries.0.and_then(guided_by),
                second: summaries.1.and_then(guided_by),
            },
            pin_lift_mm: both(&|summary| Some(summary.end.as_ref()?.placement.pin_lift?.mm())),
            cusps: cusps
                .into_iter()
                .filter_map(|(one, other)| {
                    let at = |gone: &WalkedScene<'_>, summary, index: Option<usize>| {
                        index.map(|index| CuspAt { cusp: gone.scene.cusps[index].clone(), index, summary })
                    };
                    CuspChange::of(
                        at(first, summaries.0, one).as_ref(),
                        at(second, summaries.1, other).as_ref(),
                    )
                })
                .collect(),
            stopped: Stopped { first: stopped(summaries.0), second: stopped(summaries.1) },
        })
    }
}

/// What guides at the end of an excursion.
fn guided_by(summary: &ExcursionSummary) -> Option<String> {
    Some(guidance_words(summary.end.as_ref()?.placement.guidance))
}

/// A cusp of one scene in one excursion; the excursion may be missing there.
struct CuspAt<'s> {
    cusp: Cusp,
    index: usize,
    summary: Option<&'s ExcursionSummary>,
}

impl CuspChange {
    fn of(first: Option<&CuspAt<'_>>, second: Option<&CuspAt<'_>>) -> Option<Self> {
        let cusp = &first.or(second)?.cusp;
        // A cusp of the one scene in an excursion of the other has nothing to show.
        first.and_then(|at| at.summary).or(second.and_then(|at| at.summary))?;
        let both = |read: &dyn Fn(&ExcursionSummary, usize) -> Option<f64>| {
            let of = |at: Option<&CuspAt<'_>>| at.and_then(|at| read(at.summary?, at.index));
            Both::of(of(first), of(second))
        };
        let interferes = |at: Option<&CuspAt<'_>>| {
            at.and_then(|at| at.summary?.least.get(at.index)).map(|least| least.reading.interferes())
        };
        let mut differs_in = Vec::new();
        if let (Some(first), Some(second)) = (first, second) {
            if first.cusp.tip() != second.cusp.tip() {
                differs_in.push("at_mm");
            }
            if first.cusp.opposing() != second.cusp.opposing() {
                differs_in.push("opposing");
            }
        }
        Some(Self {
            tooth: cusp.tooth().number(),
            name: cusp.name().to_owned(),
            only_in: only(first, second),
            differs_in,
            separation_mm: both(&|summary, index| {
                Some(summary.end.as_ref()?.readings[index].separation.mm())
            }),
            separation_from_start_mm: both(&|summary, index| {
                Some(summary.separation_from_start(index)?.mm())
            }),
            clearance_mm: both(&|summary, index| Some(summary.end.as_ref()?.readings[index].clearance.mm())),
            least_clearance_mm: both(&|summary, index| {
                Some(summary.least.get(index)?.reading.clearance.mm())
            }),
            interferes: Interferes { first: interferes(first), second: interferes(second) },
        })
    }
}

fn address(side: Option<Side>, key: &str) -> String {
    side.map_or_else(|| key.to_owned(), |side| format!("{side}_guide.{key}"))
}

/// Every setting that is not the same in both scenes, in the order of the one list.
fn settings_that_differ(first: &Scene, second: &Scene) -> Vec<SettingChange> {
    let mut changes = Vec::new();
    for setting in setting::all() {
        for &side in setting.sides() {
            let of = |scene| setting.get(scene, side.unwrap_or(Side::Right));
            let both = Both::of(of(first), of(second));
            if both.first != both.second {
                let facts = setting.facts();
                changes.push(SettingChange {
                    name: address(side, &setting.key()),
                    label: facts.label,
                    values: Values::Number { unit: facts.unit.words(), both },
                });
            }
        }
    }
    for choice in Choice::ALL {
        let sides: &[Option<Side>] =
            if choice.is_per_side() { &[Some(Side::Right), Some(Side::Left)] } else { &[None] };
        for &side in sides {
            let of = |scene| choice.get(scene, side.unwrap_or(Side::Right)).to_owned();
            let (is, mut other) = (of(first), of(second));
            if choice == Choice::Path && is == other && unlike_profiles(first, second, side) {
                other.push_str(" with other points");
            } else if is == other {
                continue;
            }
            changes.push(SettingChange {
                name: address(side, choice.key()),
                label: choice.label(),
                values: Values::Word { first: is, second: other },
            });
        }
    }
    changes
}

fn unlike_profiles(first: &Scene, second: &Scene, side: Option<Side>) -> bool {
    let path = |scene: &Scene| scene.instrument.guide(side.unwrap_or(Side::Right)).path.clone();
    match (path(first), path(second)) {
        (GuidePath::Profile(one), GuidePath::Profile(other)) => one != other,
        _ => false,
    }
}
