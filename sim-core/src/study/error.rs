//! Why a study cannot be made.

use super::published::Published;
use crate::facts::OutOfRange;
use crate::scene::Senseless;
use crate::setting::{KnownCusps, Near, NoSuchCusp};
use crate::text::{Word, place_of, words};

/// Why a study cannot be made; says what was given and what is allowed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum StudyError {
    /// Nothing to vary.
    #[error(
        "factors is empty; give at least one, for example (setting: \"horizontal_inclination_deg\", values: Range(from: 20.0, to: 50.0, steps: 6))"
    )]
    NoFactor,
    /// One number set twice.
    #[error(
        "`{first}` and `{second}` set the same number; a number is set by one factor or constraint alone"
    )]
    SetTwice {
        /// The factor or derived setting that stands first.
        first: String,
        /// The one that stands later.
        second: String,
    },
    /// A constraint on something that does not vary.
    #[error("`{name}` in a constraint is no factor, nor derived before it; {near}")]
    NotAFactor {
        /// The name.
        name: String,
        /// What is called nearly so.
        near: Near,
    },
    /// The rule L = H/8 + 12 for other settings.
    #[error(
        "HOverEightPlusTwelve derives lateral_angle_deg from horizontal_inclination_deg; here it would derive `{setting}` from `{of}`"
    )]
    RuleOfOthers {
        /// The setting derived.
        setting: String,
        /// What it is derived from.
        of: String,
    },
    /// A number of a linear rule that is none.
    #[error("the rule for `{setting}` has {field} = {given}, which is not a finite number")]
    RuleNumber {
        /// The setting derived.
        setting: String,
        /// The field.
        field: &'static str,
        /// The number.
        given: f64,
    },
    /// A side-by-side rule on what has no sides.
    #[error("LeftEqualsRight({name:?}) needs the name of a condylar guide's setting without its side")]
    NoSides {
        /// The name given.
        name: String,
    },
    /// A grid over a distribution.
    #[error(
        "{plan} needs levels, and `{name}` has a distribution; give it a List, a Range or a Column, or choose a random plan"
    )]
    NoLevels {
        /// The factor.
        name: String,
        /// The plan.
        plan: &'static str,
    },
    /// Columns that cannot stand side by side.
    #[error(
        "Rows takes the factors' levels side by side, and `{first}` has {rows} while `{second}` has {others}; give each as many, or one for every row"
    )]
    UnequalColumns {
        /// The factor that stands first.
        first: String,
        /// Its number of levels.
        rows: usize,
        /// The one that stands later.
        second: String,
        /// Its number of levels.
        others: usize,
    },
    /// Columns of one file that a plan would combine anew.
    #[error(
        "`{first}` and `{second}` take their values from columns of one file, {file}, whose lines {plan} would tear apart; `plan: Rows` takes them line by line, and columns that do not belong together stand in files of their own"
    )]
    ColumnsCrossed {
        /// The factor that stands first.
        first: String,
        /// The one that stands later.
        second: String,
        /// The file.
        file: String,
        /// The plan.
        plan: &'static str,
    },
    /// More scramblings than points.
    #[error(
        "replicates is {replicates}, and there are {points} points to deal out to them; each needs one or more"
    )]
    TooManyReplicates {
        /// Number of scramblings.
        replicates: u32,
        /// Number of points.
        points: u64,
    },
    /// Scramblings of points that are not scrambled.
    #[error("replicates is for `points: Sobol`; random points are independent of each other as they are")]
    ReplicatesOfRandom,
    /// More rows than can be counted.
    #[error("{plan} has more than {most} rows; fewer levels, factors or groups are needed")]
    TooManyRows {
        /// The plan.
        plan: &'static str,
        /// Most rows that a plan may have.
        most: u64,
    },
    /// More factors than there are Sobol' dimensions, or than a group has rows for.
    #[error(
        "the plan takes at most {most} factors, and there are {count}; ElementaryEffects tells which of them matter"
    )]
    TooManyFactors {
        /// Number of factors.
        count: usize,
        /// Most that are allowed.
        most: usize,
    },
    /// A base scene without one value to start from.
    #[error(
        "OneAtATime needs one value of `{name}` in the base scene, and there is none or there are several that differ; give each its own factor"
    )]
    NoSingleBase {
        /// The factor.
        name: String,
    },
    /// A matrix of the wrong size.
    #[error(
        "matrix has {rows} rows, one of them of {columns} numbers; {count} factors need {count} rows of {count}"
    )]
    MatrixShape {
        /// Number of factors.
        count: usize,
        /// Rows given.
        rows: usize,
        /// Length of a row that is wrong.
        columns: usize,
    },
    /// A diagonal that is not one.
    #[error("matrix has {given} at row {place}, column {place}; a factor's correlation with itself is 1")]
    MatrixDiagonal {
        /// Row and column, from 1.
        place: usize,
        /// The number.
        given: f64,
    },
    /// A number that is no correlation.
    #[error("matrix has {given} at row {}, column {}; a correlation is from -1 to 1", place.0, place.1)]
    MatrixEntry {
        /// Row and column, from 1.
        place: (usize, usize),
        /// The number.
        given: f64,
    },
    /// Two halves that differ.
    #[error(
        "matrix has {given} at row {}, column {} but {mirrored} at row {}, column {}; the two are one correlation",
        place.0, place.1, place.1, place.0
    )]
    MatrixSymmetry {
        /// Row and column, from 1.
        place: (usize, usize),
        /// The number there.
        given: f64,
        /// The number in the mirrored place.
        mirrored: f64,
    },
    /// Correlations that contradict each other.
    #[error("matrix is not positive definite: no numbers can be correlated so; make its correlations weaker")]
    NotPositiveDefinite,
    /// A plan that would lose its strata, levels or independence.
    #[error(
        "{plan} does not keep correlations: a grid has its levels, rows as given have their own, Latin hypercube has its strata, and indices and elementary effects need independent factors; Sobol, MonteCarlo and Shapley keep them"
    )]
    CorrelationNotKept {
        /// The plan.
        plan: &'static str,
    },
    /// A column that could not be had.
    #[error("`{name}` takes its values from column \"{column}\" of {file}: {why}")]
    Column {
        /// The factor.
        name: String,
        /// The file.
        file: String,
        /// The column.
        column: String,
        /// What was wrong.
        why: String,
    },
    /// A column not read where numbers are needed.
    #[error("`{name}` has no values")]
    NoValues {
        /// The factor.
        name: String,
    },
    /// A published distribution of another quantity.
    #[error(
        "`{name}` takes no values of `{}`, which is the {}, in {}; {}", published.name, published.what,
        published.unit.words(), what_for(published)
    )]
    Quantity {
        /// The factor.
        name: String,
        /// What was named.
        published: Box<Published>,
    },
    /// Casts that would have to be made anew in every row.
    #[error(
        "`{name}` is no factor: casts are made once for a study; write one study for each shape of teeth"
    )]
    CastsStay {
        /// The factor.
        name: String,
    },
    /// A cusp that the scene does not have.
    #[error(transparent)]
    NoSuchCusp(#[from] NoSuchCusp),
    /// A value beyond what the setting takes.
    #[error("factor `{name}`: {why}{}", row.map_or(String::new(), |row| format!("; row {row} would be the first with a value out of range")))]
    OutOfRange {
        /// The factor.
        name: String,
        /// The value and what is allowed.
        why: Box<OutOfRange>,
        /// The first row that would have such a value, if it is among those looked at.
        row: Option<u64>,
    },
    /// A scene that makes no sense with the factors' values in it.
    #[error("with the factors' values, {0}")]
    Senseless(#[from] Senseless),
    /// Nothing to record.
    #[error("measures is empty; give at least one, for example [Clearance]")]
    NoMeasure,
    /// A record in no excursion.
    #[error("excursions is empty; give at least one, or leave it out for the scene's")]
    NoExcursion,
    /// Something listed twice.
    #[error("{what} is listed twice in {list}")]
    ListedTwice {
        /// The list.
        list: &'static str,
        /// What is in it twice.
        what: String,
    },
    /// An advance beyond what a joint makes.
    #[error("advances_mm: {0}")]
    Advance(OutOfRange),
    /// A cusp to be recorded that the scene does not have.
    #[error("cusps has \"{label}\", which the scene has not; {known}")]
    NoCuspRecorded {
        /// The label given.
        label: String,
        /// The cusps that the scene has.
        known: KnownCusps,
    },
    /// Measures that nothing in the study gives.
    #[error("{measure} gives no column: {why}")]
    Idle {
        /// The measure.
        measure: &'static str,
        /// What is missing.
        why: &'static str,
    },
}

/// What a published distribution may stand for.
fn what_for(published: &Published) -> String {
    let settings: Vec<String> =
        published.stands_for.iter().map(|setting| format!("`{}`", setting.key())).collect();
    if settings.is_empty() {
        "it stands for no setting, only for what a case's mounting takes".to_owned()
    } else {
        format!("it may stand for {}", settings.join(", "))
    }
}

impl StudyError {
    /// Line and column, from 1, of what the complaint is about in the study's text.
    pub(super) fn place_in(&self, text: &str) -> (usize, usize) {
        match self.subject() {
            Subject::Field(field) => place_of(&field, text),
            Subject::Name { name, is_meant, number } => {
                let words = words(text);
                let use_of = |name: &str, number: usize| {
                    words
                        .iter()
                        .filter(|word| word.is_quoted && word.text == name && is_meant(word))
                        .nth(number)
                };
                // LeftEqualsRight puts a side before the name.
                let bare = name.trim_start_matches("right_guide.").trim_start_matches("left_guide.");
                let meant = use_of(name, number).or_else(|| use_of(name, 0)).or_else(|| use_of(bare, 0));
                meant.map_or((1, 1), |word| word.place(text))
            }
        }
    }

    /// What in a study's file the complaint is about.
    fn subject(&self) -> Subject<'_> {
        let name = |name, is_meant| Subject::Name { name, is_meant, number: 0 };
        match self {
            Self::NoFactor => Subject::field("factors"),
            Self::SetTwice { first, second } => {
                Subject::Name { name: second, is_meant: sets, number: usize::from(first == second) }
            }
            Self::NotAFactor { name: given, .. } | Self::NoSides { name: given } => {
                name(given, is_of_constraint)
            }
            Self::NoLevels { name: given, .. }
            | Self::NoSingleBase { name: given }
            | Self::Column { name: given, .. }
            | Self::NoValues { name: given }
            | Self::CastsStay { name: given }
            | Self::Quantity { name: given, .. }
            | Self::OutOfRange { name: given, .. } => name(given, sets),
            Self::RuleOfOthers { setting, .. } | Self::RuleNumber { setting, .. } => {
                name(setting, is_of_constraint)
            }
            Self::NoSuchCusp(absent) => name(&absent.name, sets),
            Self::MatrixShape { .. }
            | Self::MatrixDiagonal { .. }
            | Self::MatrixEntry { .. }
            | Self::MatrixSymmetry { .. }
            | Self::NotPositiveDefinite => Subject::field("constraints.matrix"),
            Self::CorrelationNotKept { .. } => Subject::field("constraints.Correlated"),
            Self::UnequalColumns { second, .. } | Self::ColumnsCrossed { second, .. } => name(second, sets),
            Self::TooManyRows { .. }
            | Self::TooManyFactors { .. }
            | Self::TooManyReplicates { .. }
            | Self::ReplicatesOfRandom => Subject::field("plan"),
            Self::Senseless(_) => Subject::field("scene"),
            Self::NoExcursion => Subject::field("record.excursions"),
            Self::NoMeasure | Self::Idle { .. } => Subject::field("record.measures"),
            Self::ListedTwice { list: list @ "between", .. } => Subject::Field(format!("constraints.{list}")),
            Self::ListedTwice { list, .. } => Subject::Field(format!("record.{list}")),
            Self::Advance(_) => Subject::field("record.advances_mm"),
            Self::NoCuspRecorded { label, .. } => name(label, is_recorded),
        }
    }
}

/// What in a study's file a complaint is about.
enum Subject<'e> {
    /// A field, with fields around it.
    Field(String),
    /// A text in quotes, of which only some uses are meant; which of those, from 0.
    Name { name: &'e str, is_meant: fn(&Word<'_>) -> bool, number: usize },
}

impl Subject<'_> {
    fn field(field: &str) -> Self {
        Self::Field(field.to_owned())
    }
}

/// Whether a word names the setting of a factor, or one that a constraint sets.
fn sets(word: &Word<'_>) -> bool {
    matches!(word.fields[..], ["factors" | "constraints", "setting"] | ["constraints"])
}

fn is_of_constraint(word: &Word<'_>) -> bool {
    word.fields.first() == Some(&"constraints")
}

fn is_recorded(word: &Word<'_>) -> bool {
    word.fields.first() == Some(&"record")
}
