//! Why a number is what it is: its parts, where they come from, and what moves it.

use sim_core::account::{Account, Moved, NoSlopes, Number, Part, PartKind, SettingSlope, Slope};
use sim_core::cusp::{Cusp, OpposingIncline};
use sim_core::excursion::Guidance;
use sim_core::frame::Side;
use sim_core::units::{Angle, Length, Unit};

use crate::name::{guidance, lettered, side};
use crate::number::{angle, change, decimals, length, percent_with, with_unit};

/// Decimals of an amount.
const PLACES: usize = 3;
/// Decimals of an angle that is put in.
const ANGLE_PLACES: usize = 2;

/// A number by its name: `clearance at 36 mesiobuccal`, `drop of the right condyle`. The cusp is that which the
/// number is read at; a number without one is not asked for it.
#[must_use]
pub fn number(number: Number, cusp: Option<&Cusp>) -> String {
    let at = || cusp.map_or_else(String::new, |cusp| format!(" at {}", crate::name::cusp(cusp)));
    match number {
        Number::Separation(_) => format!("separation{}", at()),
        Number::Clearance(_) => format!("clearance{}", at()),
        Number::IncisalDisplacement => "displacement of the incisal point".to_owned(),
        Number::Opening => "rotation of the jaw, open".to_owned(),
        Number::Advance(of) => format!("advance of the {} condyle", side(of)),
        Number::Medial(of) => format!("medial shift of the {} condyle", side(of)),
        Number::Drop(of) => format!("drop of the {} condyle", side(of)),
    }
}

/// What a number is counted in, and how.
#[must_use]
pub const fn meaning(number: Number) -> &'static str {
    match number {
        Number::Separation(_) => {
            "How far the cusp has moved off along the normal of the occlusal plane, d its way: s = −d·n."
        }
        Number::Clearance(_) => "What the opposing incline leaves of the separation s: c = s − rise.",
        Number::IncisalDisplacement => {
            "How far the incisal point is from its place at rest, in a straight line: D = |d|."
        }
        Number::Opening => {
            "How far the jaw's forward direction points below the horizontal, seen from the side; below zero the \
             front is up."
        }
        Number::Advance(_) => "How far the condyle is forward of its seat, a.",
        Number::Medial(_) => {
            "How far the condyle is inward of its seat, m; of the working condyle m is below zero, and −m is the \
             outward part of its Bennett movement."
        }
        Number::Drop(_) => "How far the condyle is below its seat, v.",
    }
}

/// A part by its name: `drop of the right condyle`, `the guide in front: table plate`.
#[must_use]
pub fn part(part: &Part) -> String {
    match &part.kind {
        PartKind::Pin { .. } => "pin let down, at rest".to_owned(),
        PartKind::CondyleDrop { side: of, .. } => format!("{} condyle drops", side(*of)),
        PartKind::Advances(_) => "condyles advance".to_owned(),
        PartKind::Shifts(_) => "condyles shift sideways".to_owned(),
        PartKind::LevelTurn { .. } => "jaw turns to a level guide".to_owned(),
        PartKind::GuideTurn { guidance, .. } => format!("jaw turns on to its guide: {}", front(*guidance)),
        PartKind::FrontTurn { guidance, .. } => format!("jaw turns to its guide: {}", front(*guidance)),
        PartKind::HingeTurn { .. } => "jaw turns about the axis".to_owned(),
        PartKind::Rise { incline, .. } => match incline {
            OpposingIncline::Flat => "no incline rises".to_owned(),
            rising => format!("{} incline rises", incline_word(*rising)),
        },
        PartKind::Path { path, .. } => match *path {
            "Arc" => "superior wall, an arc".to_owned(),
            "Profile" => "superior wall, as recorded".to_owned(),
            _ => "superior wall, straight".to_owned(),
        },
        PartKind::WallTilt { .. } => "tilt of the superior wall".to_owned(),
        PartKind::Surtrusion { angle, .. } if angle.degrees() < 0.0 => "laterodetrusion".to_owned(),
        PartKind::Surtrusion { .. } => "laterosurtrusion".to_owned(),
        PartKind::Retrusion { angle, .. } if angle.degrees() < 0.0 => "lateroprotrusion".to_owned(),
        PartKind::Retrusion { .. } => "lateroretrusion".to_owned(),
        PartKind::Driven => "advance that drives the movement".to_owned(),
        PartKind::Share { .. } => "share of the advance".to_owned(),
        PartKind::Immediate { .. } => "immediate translation".to_owned(),
        PartKind::Early { .. } => "early translation".to_owned(),
        PartKind::Progressive { .. } => "progressive side shift".to_owned(),
        PartKind::Carried { .. } => "carried across by the other condyle".to_owned(),
        PartKind::Swing { .. } => "axis swings".to_owned(),
        PartKind::Seated => "condyle at its seat".to_owned(),
    }
}

fn front(of: Guidance) -> String {
    guidance(of)
}

const fn incline_word(incline: OpposingIncline) -> &'static str {
    match incline {
        OpposingIncline::Flat => "no",
        OpposingIncline::Protrusive => "protrusive",
        OpposingIncline::Retrusive => "retrusive",
        OpposingIncline::Working => "working",
        OpposingIncline::NonWorking => "orbiting",
    }
}

fn mm(of: Length) -> String {
    length(of, PLACES)
}

fn degrees(of: Angle) -> String {
    angle(of, ANGLE_PLACES)
}

/// The values that are put in: `a = 3.000 mm, H = 30.00°`.
#[must_use]
pub fn values(part: &Part) -> String {
    let turn = |of: Angle| format!("θ = {}", angle(of, PLACES));
    let of_share = |share: f64| {
        if share < 1.0 { format!(", 1 − k = {}", decimals(share, 2)) } else { String::new() }
    };
    match &part.kind {
        PartKind::Pin { extension, turn: by } => format!("e = {}, {}", mm(*extension), turn(*by)),
        PartKind::CondyleDrop { drop, .. } => format!("v = {}", mm(*drop)),
        PartKind::Advances(of) => format!("a right {}, left {}", mm(of[Side::Right]), mm(of[Side::Left])),
        PartKind::Shifts(of) => format!("m right {}, left {}", mm(of[Side::Right]), mm(of[Side::Left])),
        PartKind::LevelTurn { turn: by }
        | PartKind::GuideTurn { turn: by, .. }
        | PartKind::FrontTurn { turn: by, .. }
        | PartKind::HingeTurn { turn: by } => turn(*by),
        PartKind::Rise { incline: OpposingIncline::Flat, .. } => String::new(),
        PartKind::Rise { incline, angle, along } => {
            let letter = if matches!(incline, OpposingIncline::Protrusive | OpposingIncline::Retrusive) {
                "u"
            } else {
                "o"
            };
            format!("{letter} = {}, incline {}", mm(*along), degrees(*angle))
        }
        PartKind::Path { inclination, radius, advance, .. } => {
            let mut values = format!("a = {}", mm(*advance));
            if let Some(inclination) = inclination {
                values += &format!(", H = {}", degrees(*inclination));
            }
            if let Some(radius) = radius {
                values += &format!(", r = {}", mm(*radius));
            }
            values
        }
        PartKind::WallTilt { tilt, medial } => format!("m = {}, τ = {}", mm(*medial), degrees(*tilt)),
        PartKind::Surtrusion { angle, outward } => format!("s = {}, κ = {}", mm(*outward), degrees(*angle)),
        PartKind::Retrusion { angle, outward } => format!("s = {}, ρ = {}", mm(*outward), degrees(*angle)),
        PartKind::Driven | PartKind::Seated => String::new(),
        PartKind::Share { ratio, advance } => format!("k = {}, a = {}", decimals(*ratio, 2), mm(*advance)),
        PartKind::Immediate { translation, made, share } => {
            let made =
                if *made < 1.0 { format!(", {} of it made", percent_with(*made, 0)) } else { String::new() };
            format!("i = {}{made}{}", mm(*translation), of_share(*share))
        }
        PartKind::Early { amount, over, advance, share } => {
            format!("e = {}, aₑ = {}, a = {}{}", mm(*amount), mm(*over), mm(*advance), of_share(*share))
        }
        PartKind::Progressive { angle, advance, share } => {
            format!("a = {}, L = {}{}", mm(*advance), degrees(*angle), of_share(*share))
        }
        PartKind::Carried { medial } => format!("m of the other side {}", mm(*medial)),
        PartKind::Swing { distance, ahead, below, .. } => {
            format!("w = {}, Δa = {}, Δv = {}", length(*distance, 2), mm(*ahead), mm(*below))
        }
    }
}

/// How the place goes in the step: `0.52 mm back, 0.87 mm down`; none of a part that is no step.
#[must_use]
pub fn way(part: &Part) -> Option<String> {
    let Moved { forward, left, up } = part.moved?;
    let ways = [(forward, "forward", "back"), (left, "left", "right"), (up, "up", "down")];
    let said = ways.into_iter().filter_map(|(way, ahead, astern)| {
        let size = decimals(way.mm().abs(), 2);
        (size != "0.00").then(|| format!("{size} mm {}", if way.mm() < 0.0 { astern } else { ahead }))
    });
    let said: Vec<String> = said.collect();
    Some(if said.is_empty() { "stays".to_owned() } else { said.join(", ") })
}

/// The part as a formula.
#[must_use]
pub const fn formula(number: Number, part: &Part) -> &'static str {
    match (&part.kind, number) {
        (PartKind::Rise { incline, .. }, _) => match incline {
            OpposingIncline::Flat => "rise = 0",
            OpposingIncline::Protrusive | OpposingIncline::Retrusive => "−u·tan(incline)",
            OpposingIncline::Working | OpposingIncline::NonWorking => "−o·tan(incline)",
        },
        (PartKind::Path { path, .. }, _) => match path.as_bytes() {
            b"Arc" => "f(a) = r(√(1 − k²) − cos H), k = sin H − a/r",
            b"Profile" => "f(a), monotone cubic through the points",
            _ => "f(a) = a·tan H",
        },
        (PartKind::WallTilt { .. }, _) => "m·tan τ",
        (PartKind::Surtrusion { .. }, _) => "−s·tan κ",
        (PartKind::Retrusion { .. }, _) => "−s·tan ρ",
        (PartKind::Driven, _) => "a = t",
        (PartKind::Share { .. }, _) => "k·a",
        (PartKind::Immediate { .. }, _) => "(1 − k)·i",
        (PartKind::Early { .. }, _) => "(1 − k)·e·min(a/aₑ, 1)",
        (PartKind::Progressive { .. }, _) => "(1 − k)·a·tan L",
        (PartKind::Carried { .. }, _) => "−m of the other side",
        (PartKind::Swing { shared_by: 2, .. }, _) => "±½(w − √(w² − Δa² − Δv²)), + arcon, − non-arcon",
        (PartKind::Swing { .. }, _) => "±(w − √(w² − Δa² − Δv²)), + arcon, − non-arcon",
        (PartKind::Seated, _) => "0",
        (_, Number::Opening) => "Δθ, what the step turns the forward direction down",
        (_, Number::IncisalDisplacement) => "Δd·d/|d|, the step's way in the direction of the whole",
        _ => "−Δd·n, the step's way along the normal of the plane",
    }
}

/// Where a part's formula stands.
#[must_use]
pub const fn source(part: &Part) -> &'static str {
    match part.kind {
        PartKind::CondyleDrop { .. } | PartKind::GuideTurn { .. } => {
            "definition, docs/model.md; that the influence of each guidance falls from all of it at the guide \
             itself to none at the other: Villa H, J Prosthet Dent 1970;23:522, to the first order"
        }
        PartKind::LevelTurn { .. } => {
            "definition, docs/model.md; for flat rims and a level guide: Christensen FT, J Prosthet Dent \
             1960;10:95–98, formula II"
        }
        PartKind::Path { path, .. } if matches!(path.as_bytes(), b"Profile") => {
            "definition, docs/model.md; the cubic: Fritsch and Butland, SIAM J Sci Stat Comput 1984;5:300–304"
        }
        _ => "definition, docs/model.md",
    }
}

/// What a degree or a millimetre more of a setting does: `a degree more of horizontal condylar inclination H,
/// right: +0.031 mm`. Where the number has a kink, what a unit less does stands beside it.
#[must_use]
pub fn slope(number: Number, of: &SettingSlope) -> String {
    let facts = of.mover.facts();
    let which = match of.mover.side() {
        Some(own) => format!("{}, {}", lettered(facts), side(own)),
        None => lettered(facts),
    };
    let (one, unit) = match facts.unit {
        Unit::Degree => ("a degree", number.unit().sign()),
        Unit::Millimetre => ("a millimetre", number.unit().sign()),
    };
    let by = |amount: f64| format!("{}{unit}", change(amount, PLACES));
    match of.slope {
        Slope::Smooth(raised) => format!("{one} more of {which}: {}", by(raised)),
        Slope::Kink { lowered, raised } => {
            format!("{one} more of {which}: {}; {one} less: {}", by(raised), by(-lowered))
        }
    }
}

/// Why nothing is told of what a setting does.
#[must_use]
pub const fn no_slopes(why: NoSlopes) -> &'static str {
    match why {
        NoSlopes::TeethGuide => {
            "Teeth may stop the closing here, and their surfaces are searched, not computed: what a setting does \
             has no formula. Change the setting and compare."
        }
        NoSlopes::CustomTable => {
            "A table formed to the teeth guides, which has heights and no angles: what a setting does has no \
             formula. Change the setting and compare."
        }
        NoSlopes::Crease => {
            "The guided point lies where two planes meet, and the incisal point drives: what a setting does differs \
             from plane to plane. Step on a little."
        }
        NoSlopes::Upright => {
            "A wall stands upright here, or the incisal point stands still while the condyles go on: the smallest \
             turn of a setting has no bound to what it does."
        }
    }
}

/// What is held while a setting is turned, and how the numbers are meant.
#[must_use]
pub const fn slopes_hold(by_the_incisal_point: bool) -> &'static str {
    if by_the_incisal_point {
        "Each is the slope here and now, by the exact derivative, with the way of the incisal point held. A large \
         change of a setting does more or less than the slope says."
    } else {
        "Each is the slope here and now, by the exact derivative, with the advance held. A large change of a setting \
         does more or less than the slope says."
    }
}

/// The account in a sentence: what the guides behind do, what the guide in front adds, what an incline takes.
/// None of a number that has no such parts.
#[must_use]
pub fn sentence(account: &Account) -> Option<String> {
    let of = |is: fn(&PartKind) -> bool| -> f64 {
        account.parts.iter().filter(|part| is(&part.kind)).map(|part| part.amount).sum()
    };
    if !account.parts.iter().any(|part| matches!(part.kind, PartKind::GuideTurn { .. })) {
        return None;
    }
    let unit = account.number.unit();
    let said = |amount: f64| with_unit(amount, unit, PLACES);
    let front = of(|kind| matches!(kind, PartKind::GuideTurn { .. }));
    let rise = of(|kind| matches!(kind, PartKind::Rise { .. }));
    let pin = of(|kind| matches!(kind, PartKind::Pin { .. }));
    let behind = account.value - front - rise - pin;
    let mut sentences = vec![format!(
        "With a level guide in front the condylar guides give {}; the guide in front adds {}.",
        said(behind),
        said(front)
    )];
    if account.parts.iter().any(|part| matches!(part.kind, PartKind::Pin { .. })) {
        sentences.push(format!("The pin gives {}.", said(pin)));
    }
    if matches!(account.number, Number::Clearance(_)) {
        sentences.push(format!("The opposing incline takes {}.", said(-rise)));
    }
    Some(sentences.join(" "))
}

#[cfg(test)]
mod tests {
    use sim_core::account::SolvedPose;
    use sim_core::anterior::{AnteriorGuide, Trough};
    use sim_core::excursion::{Drive, Excursion, Movement, Station};
    use sim_core::scene::Scene;

    use super::*;

    fn account(scene: &Scene, movement: Movement, of: Number) -> Account {
        let mechanism = scene.mechanism();
        let advance = Length::from_mm(3.0);
        let excursion = Excursion::new(movement, Drive::Advance(advance)).expect("within range");
        let placement = mechanism.at(movement, Station::advanced(advance)).expect("a pose");
        let pose = SolvedPose { scene, mechanism: &mechanism, excursion, placement: &placement };
        pose.account(of).expect("a pose at rest")
    }

    fn numbers(scene: &Scene) -> impl Iterator<Item = Number> + use<> {
        let cusps = 0..scene.cusps.len();
        cusps.flat_map(|cusp| [Number::Separation(cusp), Number::Clearance(cusp)]).chain(Number::WITHOUT_CUSP)
    }

    #[test]
    fn every_part_of_every_number_is_said() {
        let scene = Scene::thirty_degree();
        for movement in [Movement::Protrusive, Movement::Lateral { working: Side::Right }] {
            for of in numbers(&scene) {
                let account = account(&scene, movement, of);
                for own in &account.parts {
                    assert!(!part(own).is_empty() && !formula(of, own).is_empty());
                    assert!(source(own).starts_with("definition, docs/model.md"));
                    assert!(!values(own).contains('-') && !values(own).contains("NaN"), "{}", values(own));
                }
                for slope_of in account.slopes.expect("a table guides") {
                    let said = slope(of, &slope_of);
                    assert!(
                        said.starts_with("a degree more of ") || said.starts_with("a millimetre more of ")
                    );
                }
            }
        }
    }

    #[test]
    fn a_clearance_is_said_in_words() {
        let mut scene = Scene::thirty_degree();
        scene.instrument.anterior_guide =
            AnteriorGuide::Table(Trough { sagittal_inclination: Angle::from_degrees(30.0), ..Trough::LEVEL });
        let of = Number::Clearance(0);
        let account = account(&scene, Movement::Protrusive, of);
        assert_eq!(
            number(of, scene.cusps.first()),
            format!("clearance at {}", crate::name::cusp(&scene.cusps[0]))
        );
        let rows: Vec<String> = account.parts.iter().map(part).collect();
        assert_eq!(
            rows,
            [
                "right condyle drops",
                "left condyle drops",
                "condyles advance",
                "condyles shift sideways",
                "jaw turns to a level guide",
                "jaw turns on to its guide: table plate",
                "protrusive incline rises",
            ]
        );
        assert!(values(&account.parts[0]).starts_with("v = 1.732 mm"), "{}", values(&account.parts[0]));
        assert_eq!(way(&account.parts[2]).as_deref(), Some("3.00 mm forward"));
        let said = sentence(&account).expect("a guide in front");
        assert!(
            said.contains("the guide in front adds") && said.contains("The opposing incline takes"),
            "{said}"
        );
    }

    #[test]
    fn a_kink_says_what_less_does_too() {
        let scene = Scene::thirty_degree();
        let account = account(&scene, Movement::Protrusive, Number::Drop(Side::Right));
        let slopes = account.slopes.expect("a table guides");
        let inclination = slopes.first().expect("H moves the drop");
        // 3 mm·(1 + tan² 30°)·π/180
        assert_eq!(
            slope(Number::Drop(Side::Right), inclination),
            "a degree more of horizontal condylar inclination H, right: +0.070 mm"
        );
        let kink = SettingSlope { slope: Slope::Kink { lowered: 0.5, raised: -0.25 }, ..*inclination };
        let said = slope(Number::Opening, &kink);
        assert!(said.ends_with("right: −0.250°; a degree less: −0.500°"), "{said}");
    }

    #[test]
    fn every_reason_is_a_sentence() {
        for why in [NoSlopes::TeethGuide, NoSlopes::CustomTable, NoSlopes::Crease, NoSlopes::Upright] {
            assert!(no_slopes(why).ends_with('.'));
        }
    }
}
