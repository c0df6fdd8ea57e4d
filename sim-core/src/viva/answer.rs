//! Answers of a viva, and the slips that the wrong ones come of.

use crate::cusp::Tooth;
use crate::lesson::Value;
use crate::setting::Change;

/// An answer to choose.
#[derive(Clone, Debug, PartialEq)]
pub struct VivaAnswer {
    /// What it says.
    pub value: VivaValue,
    /// The slip that it comes of; none for the right one.
    pub slip: Option<Slip>,
}

/// What an answer says.
#[derive(Clone, Debug, PartialEq)]
pub enum VivaValue {
    /// A number.
    Number(Value),
    /// A tooth.
    Tooth(Tooth),
    /// A change of a setting.
    Change(Change),
    /// A statement.
    Statement(Statement),
}

/// A statement to choose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Statement {
    /// The split stays open behind.
    OpenBehind,
    /// The split stays open in front.
    OpenInFront,
    /// It closes.
    Closes,
}

/// A typical mistake.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Slip {
    /// Sine taken for tangent.
    Sine,
    /// Advance over tangent.
    Inverted,
    /// The other side's guide, or tooth.
    OtherSide,
    /// The immediate translation forgotten.
    NoImmediate,
    /// Down taken for inward.
    DropInstead,
    /// Forward taken for down or inward.
    AdvanceInstead,
    /// Only an eighth of H.
    EighthOnly,
    /// Eight and twelve exchanged.
    EightAndTwelve,
    /// Twelve added before dividing.
    AddedFirst,
    /// The rise of the incline left out.
    SeparationInstead,
    /// The rise of the incline added.
    RiseAdded,
    /// The incisal guidance left out.
    LevelPlate,
    /// What the scale says.
    ScaleInstead,
    /// The right amount with the wrong sign.
    WrongWay,
    /// Counted twice.
    Twice,
    /// The distance on the plate taken for the condyle's.
    PlateInstead,
    /// The straight line taken for the condyle's way.
    StraightLine,
    /// The axis error itself.
    AxisItself,
    /// Something that acts less on this tooth.
    ActsLess,
    /// A tooth that is not nearest to what acts.
    NotThisTooth,
    /// Steep and shallow exchanged.
    SteepAndShallow,
    /// A wrong angle that would not show.
    WouldShow,
}
