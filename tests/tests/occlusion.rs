//! What contacts mean, on casts of tips and fossae whose contacts can be worked out on paper.

use sim_core::cusp::Tooth;
use sim_core::excursion::{Mechanism, Movement, Station};
use sim_core::frame::{LowerPoint, Side};
use sim_core::guide::{GuidePath, Profile};
use sim_core::occlusion::{ContactKind, Intended, Mounted, Region, Scheme, Stretch, Verdict};
use sim_core::units::Length;
use whole_checks::hand_made::{Bite, LEVEL, both, casts, tooth_guided};
use whole_checks::tolerance::{ROUNDED, SOLVED};

/// “All of the way”, to a thousandth of it.
const ALL_THE_WAY: f64 = 0.999;
/// Where along a touching edge the nearest points lie is less sure than how near they are.
const PLACE_MM: f64 = 1e-6;

const RIGHT: Movement = Movement::Lateral { working: Side::Right };
const LEFT: Movement = Movement::Lateral { working: Side::Left };

fn canine() -> Bite {
    // The upper canine's palatal side: a plane that goes down outward, so that the tip leaves it inward.
    Bite { outward: 0.9, inward: -0.9, forward: 0.6, ..Bite::of(3, Side::Right) }
}

fn incisor() -> Bite {
    Bite { forward: 0.8, ..Bite::of(1, Side::Right) }
}

fn back(position: i64, slopes: [f64; 3]) -> Bite {
    let [forward, outward, inward] = slopes;
    Bite { forward, outward, inward, ..Bite::of(position, Side::Right) }
}

/// Where a tip goes while some bites guide: forward, outward on its side, down.
fn way_of(tip: &Bite, guides: &[Bite], movement: Movement, advance: f64) -> [f64; 3] {
    let mechanism = Mechanism::new(&tooth_guided()).with_casts(casts(guides));
    let jaw = mechanism.at(movement, Station::advanced(Length::from_mm(advance))).expect("a pose").jaw;
    let [x, y, z] = tip.tip;
    let at = jaw.to_upper(&LowerPoint::mm(x, y, z));
    [at.x() - x, (at.y() - y) * y.signum(), z - at.z()]
}

/// The slope outward (or inward, on the other side) that keeps a tip of no forward slope touching.
fn gliding(tip: &Bite, guides: &[Bite], movement: Movement) -> f64 {
    let [_, out, down] = way_of(tip, guides, movement, 1.75);
    down / out.abs()
}

fn verdict_of(bites: &[Bite], movement: Movement) -> Verdict {
    let mounted = Mounted::new(tooth_guided(), casts(bites), LEVEL);
    mounted.scheme(movement, &Stretch::default()).expect("a pose")
}

fn balance() -> Stretch {
    Stretch { intended: Intended::BALANCED, ..Stretch::default() }
}

/// Judged as complete dentures are.
fn balance_of(bites: &[Bite], movement: Movement) -> Scheme {
    let mounted = Mounted::new(tooth_guided(), casts(bites), LEVEL);
    mounted.scheme(movement, &balance()).expect("a pose").scheme
}

fn dentate(molar: Bite) -> Vec<Bite> {
    [canine(), incisor(), molar].into_iter().flat_map(both).collect()
}

#[test]
fn a_canine_that_leads_alone_is_canine_guidance_and_incisors_lead_protrusion() {
    let bites = dentate(back(6, [0.1, 0.1, 0.1]));
    for movement in [RIGHT, LEFT] {
        let verdict = verdict_of(&bites, movement);
        assert_eq!(verdict.scheme, Scheme::CanineGuided);
        assert!(verdict.share > ALL_THE_WAY, "{verdict:?}");
        assert_eq!(verdict.evidence.len(), 1);
        let held = verdict.evidence[0];
        assert_eq!(held.kind, ContactKind::Working);
        let working = movement.working_side();
        assert_eq!(held.nearest.upper_tooth.map(Tooth::side), working);
        assert!(held.nearest.gap.mm().abs() < SOLVED, "{held:?}");
        assert!((verdict.from.mm(), verdict.to.mm()) == (0.5, 3.0));
        assert!(words::verdict::scheme::rule(verdict.scheme, verdict.movement).contains("canine"));
    }
    let protrusive = verdict_of(&bites, Movement::Protrusive);
    assert_eq!(protrusive.scheme, Scheme::AnteriorGuided);
    assert!(protrusive.evidence.iter().all(|held| held.kind == ContactKind::Protrusive));
}

#[test]
fn back_teeth_that_glide_with_the_canine_are_group_function() {
    let guides = both(canine());
    let molar = Bite::of(6, Side::Right);
    let slope = gliding(&molar, &guides, RIGHT);
    let verdict = verdict_of(&dentate(back(6, [0.0, slope, 0.0])), RIGHT);
    assert_eq!(verdict.scheme, Scheme::GroupFunction, "{verdict:?}");
    let uppers: Vec<_> = verdict.evidence.iter().filter_map(|held| held.nearest.upper_tooth).collect();
    assert!([13, 16].iter().all(|number| uppers.contains(&Tooth::new(*number).unwrap())), "{uppers:?}");
}

#[test]
fn teeth_that_glide_on_both_sides_are_balanced_in_dentures_and_interfere_in_natural_teeth() {
    let guides = both(canine());
    let molar = Bite::of(6, Side::Right);
    let outward = gliding(&molar, &guides, RIGHT);
    // On the left the same molar's tip goes inward.
    let inward = gliding(&molar.mirrored(), &guides, RIGHT);
    let bites = dentate(back(6, [0.0, outward, inward]));
    assert_eq!(balance_of(&bites, RIGHT), Scheme::Balanced);
    let verdict = verdict_of(&bites, RIGHT);
    assert_eq!(verdict.scheme, Scheme::OrbitingInterference, "{verdict:?}");
    let kinds: Vec<_> = verdict.evidence.iter().map(|held| held.kind).collect();
    assert!(kinds.contains(&ContactKind::Working) && kinds.contains(&ContactKind::Orbiting));
}

#[test]
fn a_steep_inward_incline_makes_the_orbiting_side_lead() {
    let bites = dentate(back(6, [0.0, 0.0, 1.2]));
    assert_eq!(balance_of(&bites, RIGHT), Scheme::OrbitingGuided);
    let verdict = verdict_of(&bites, RIGHT);
    assert_eq!(verdict.scheme, Scheme::OrbitingInterference, "{verdict:?}");
    assert_eq!(verdict.evidence[0].nearest.upper_tooth, Tooth::new(26).ok());
}

#[test]
fn a_steep_outward_incline_makes_the_back_teeth_lead() {
    let verdict = verdict_of(&dentate(back(6, [0.0, 1.4, 0.0])), RIGHT);
    assert_eq!(verdict.scheme, Scheme::PosteriorGuided, "{verdict:?}");
}

#[test]
fn protrusion_is_told_by_front_and_back() {
    let guides = both(incisor());
    let molar = Bite::of(6, Side::Right);
    let [ahead, _, down] = way_of(&molar, &guides, Movement::Protrusive, 1.75);
    let glides = back(6, [down / ahead, 0.0, 0.0]);
    let one_side: Vec<Bite> = both(incisor()).into_iter().chain([glides]).collect();
    for (bites, of_dentures) in [
        (dentate(glides), Scheme::Balanced),
        (dentate(back(6, [1.0, 0.0, 0.0])), Scheme::PosteriorGuided),
        (one_side, Scheme::Uneven),
    ] {
        assert_eq!(balance_of(&bites, Movement::Protrusive), of_dentures);
        assert_eq!(verdict_of(&bites, Movement::Protrusive).scheme, Scheme::ProtrusiveInterference);
    }
}

#[test]
fn balance_tells_which_contact_is_missing_and_how_far_apart_it_is() {
    let guides = both(canine());
    let molar = Bite::of(6, Side::Right);
    let outward = gliding(&molar, &guides, RIGHT);
    // The right molar glides on the working side; the left one's fossa is level and parts from its tip.
    let bites = dentate(back(6, [0.0, outward, 0.0]));
    let mounted = Mounted::new(tooth_guided(), casts(&bites), LEVEL);
    let missing = mounted.missing(RIGHT, &balance()).expect("a pose");
    let [lack] = missing.lacks.as_slice() else { panic!("{missing:?}") };
    assert_eq!(lack.region, Region::Orbiting);
    assert!(lack.missing.share > ALL_THE_WAY && (missing.from.mm(), missing.to.mm()) == (0.5, 3.0));
    assert_eq!((lack.missing.from.mm(), lack.missing.to.mm()), (0.5, 3.0));
    // Over a level fossa the tip is as far off as it has gone down, farthest at the end.
    let [_, _, down] = way_of(&molar.mirrored(), &guides, RIGHT, 3.0);
    let nearest = lack.missing.nearest.expect("a molar");
    assert_eq!((nearest.upper_tooth, nearest.lower_tooth), (Tooth::new(26).ok(), Tooth::new(36).ok()));
    assert!((nearest.gap.mm() - down).abs() < SOLVED && down > 0.1, "{nearest:?} for {down}");
    assert!((lack.missing.advance.mm() - 3.0).abs() < ROUNDED);
    let teeth: Vec<_> = missing.teeth.iter().map(|(tooth, kind, _)| (tooth.number(), *kind)).collect();
    assert_eq!(teeth, [(26, ContactKind::Orbiting)], "of front teeth none is asked in a lateral excursion");
}

#[test]
fn balance_lacks_nothing_where_both_sides_glide() {
    let guides = both(canine());
    let molar = Bite::of(6, Side::Right);
    let [outward, inward] = [gliding(&molar, &guides, RIGHT), gliding(&molar.mirrored(), &guides, RIGHT)];
    let bites = dentate(back(6, [0.0, outward, inward]));
    let mounted = Mounted::new(tooth_guided(), casts(&bites), LEVEL);
    let missing = mounted.missing(RIGHT, &balance()).expect("a pose");
    assert!(missing.lacks.is_empty() && missing.teeth.is_empty(), "{missing:?}");
    // In protrusion the canines lead alone: all back teeth are missing, on both sides.
    let regions: Vec<Region> = mounted
        .missing(Movement::Protrusive, &balance())
        .expect("a pose")
        .lacks
        .iter()
        .map(|lack| lack.region)
        .collect();
    assert_eq!(regions, [Region::Back(Side::Right), Region::Back(Side::Left)]);
}

#[test]
fn where_the_pin_leads_no_teeth_touch() {
    let mut instrument = tooth_guided();
    instrument.pin_extension = Length::from_mm(6.0);
    let mounted = Mounted::new(instrument, casts(&dentate(back(6, [0.1; 3]))), LEVEL);
    let verdict = mounted.scheme(RIGHT, &Stretch::default()).expect("a pose");
    assert_eq!((verdict.scheme, verdict.evidence.len()), (Scheme::NoContact, 0));
}

#[test]
fn what_belongs_to_no_tooth_leaves_the_scheme_untold() {
    let nameless = Bite { upper: 0, lower: 0, ..canine() };
    let verdict = verdict_of(&both(nameless), RIGHT);
    assert_eq!(verdict.scheme, Scheme::Undetermined);
    assert!(verdict.evidence.iter().all(|held| held.nearest.upper_tooth.is_none()));
}

#[test]
fn all_pairs_touch_at_rest_and_are_centric() {
    let bites = dentate(back(6, [0.1; 3]));
    let mounted = Mounted::new(tooth_guided(), casts(&bites), LEVEL);
    let rest = Mechanism::new(mounted.instrument()).with_casts(mounted.casts().clone()).rest();
    let contacts = mounted.contacts(RIGHT, &rest.expect("a pose"), Length::from_mm(0.008));
    assert_eq!(contacts.len(), bites.len());
    for (contact, upper) in contacts.iter().zip([11, 13, 16, 21, 23, 26]) {
        assert_eq!(contact.kind, ContactKind::Centric);
        assert_eq!(contact.nearest.upper_tooth, Tooth::new(upper).ok());
        assert!(contact.nearest.gap.mm().abs() < SOLVED && contact.depth().mm() < SOLVED);
    }
}

#[test]
fn alike_sides_are_told_alike() {
    for slopes in [[0.1, 0.1, 0.1], [0.0, 1.4, 0.0], [0.0, 0.0, 1.2], [0.4, 0.5, 0.3]] {
        let bites = dentate(back(6, slopes));
        let [right, left] = [RIGHT, LEFT].map(|movement| verdict_of(&bites, movement));
        assert_eq!((right.scheme, right.shares.len()), (left.scheme, left.shares.len()));
        assert!((right.share - left.share).abs() < ROUNDED);
        assert_eq!(right.evidence.len(), left.evidence.len());
        for held in &right.evidence {
            let mirror = left.evidence.iter().find(|other| {
                let position = |tooth: Option<Tooth>| tooth.map(Tooth::position);
                other.kind == held.kind
                    && position(other.nearest.upper_tooth) == position(held.nearest.upper_tooth)
            });
            let mirror = mirror.expect("the same pair on the other side");
            assert!((mirror.nearest.gap.mm() - held.nearest.gap.mm()).abs() < SOLVED);
            assert!((mirror.share - held.share).abs() < ROUNDED);
            assert!((mirror.nearest.upper.y() + held.nearest.upper.y()).abs() < PLACE_MM);
        }
    }
}

#[test]
fn a_movement_without_any_pose_is_an_error_and_one_that_runs_out_is_told_as_far_as_it_goes() {
    let mut short = tooth_guided();
    for side in Side::BOTH {
        let ends_at_two = Profile::new(vec![(0.0, 0.0), (2.0, 1.2)]).expect("advance grows");
        short.guide_mut(side).path = GuidePath::Profile(ends_at_two);
    }
    let mounted = Mounted::new(short, casts(&both(canine())), LEVEL);
    let verdict = mounted.scheme(RIGHT, &Stretch::default()).expect("a pose at first");
    assert_eq!(verdict.scheme, Scheme::CanineGuided);
    assert!((verdict.to.mm() - 2.0).abs() < SOLVED, "{:?}", verdict.to);
    let beyond = Stretch { from: Length::from_mm(2.5), ..Stretch::default() };
    assert!(mounted.scheme(RIGHT, &beyond).is_err());
}
