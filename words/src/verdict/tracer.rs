//! What a tracer's set-up is good for.

use sim_core::tracing::{LEAST_HEEL_GAP, PARALLEL_WITHIN, TracingSetup};
use sim_core::units::Length;

use crate::number::{angle, as_given, length};

/// What a set-up says, one sentence each: whether it is as it should be, and the sentence.
#[must_use]
pub fn setup(setup: &TracingSetup) -> Vec<(bool, String)> {
    let mut said = vec![parallel(setup), on_the_plate(setup)];
    said.extend(table(setup));
    said.push(heels(setup));
    said.push(front(setup));
    said
}

fn parallel(setup: &TracingSetup) -> (bool, String) {
    let off = setup.plate_to_plane;
    let parallel = off.abs() <= PARALLEL_WITHIN;
    let within = as_given(PARALLEL_WITHIN.degrees());
    let end = if off.degrees() > 0.0 { "lower" } else { "higher" };
    let said = if parallel {
        format!("The plate is parallel to the occlusal plane within {within}° ({} off).", angle(off.abs(), 1))
    } else {
        format!(
            "The plate is tipped by {} from the occlusal plane, its front {end}: more than {within}°. The bearing slides \
             along it as the jaw moves; lay the plate parallel.",
            angle(off.abs(), 1)
        )
    };
    (parallel, said)
}

fn on_the_plate(setup: &TracingSetup) -> (bool, String) {
    let Some(nearest) = setup.legs.iter().min_by(|one, other| one.inside.mm().total_cmp(&other.inside.mm()))
    else {
        return (true, String::new());
    };
    let reach = as_given(setup.reach.mm());
    if nearest.inside >= Length::ZERO {
        let edge = length(nearest.inside, 1);
        (
            true,
            format!(
                "The stylus stays on its plate for {reach} mm of every leg; the {} ends {edge} from the edge.",
                nearest.leg
            ),
        )
    } else {
        let beyond = length(nearest.inside.abs(), 1);
        (
            false,
            format!(
                "The stylus runs off its plate: {reach} mm along the {} it is {beyond} beyond the edge. Move the plate or take a larger one.",
                nearest.leg
            ),
        )
    }
}

fn table(setup: &TracingSetup) -> Option<(bool, String)> {
    let clear = setup.clear_of_table?;
    Some(if clear > Length::ZERO {
        (true, format!("Plate and stylus keep {} from the incisal table, seen from above.", length(clear, 1)))
    } else {
        (
            false,
            format!(
                "Plate or stylus lies over the incisal table by {}, seen from above: take the table off, or see that \
                 they do not meet.",
                length(clear.abs(), 1)
            ),
        )
    })
}

fn heels(setup: &TracingSetup) -> (bool, String) {
    let at_record = setup.legs.iter().map(|leg| leg.gaps.heels());
    let least = at_record.fold(Length::from_mm(f64::INFINITY), Length::min);
    let (wanted, distance) = (as_given(LEAST_HEEL_GAP.mm()), as_given(setup.distance.mm()));
    let kept = format!(
        "{distance} mm along the legs the heels of the rims are {} apart at the least",
        length(least, 1)
    );
    match setup.lengthen {
        Some(by) if by == Length::ZERO => (true, format!("At {kept}; {wanted} mm or more are wanted.")),
        Some(by) => (
            false,
            format!(
                "At {kept}, and less than {wanted} mm on the way: make the bearing {} longer, or cut the rims back at \
                 their heels by as much as is wanting.",
                length(by, 1)
            ),
        ),
        None => (
            false,
            format!(
                "At {kept}; no bearing of a usual length gives {wanted} mm on the way. Cut the rims back at their heels."
            ),
        ),
    }
}

fn front(setup: &TracingSetup) -> (bool, String) {
    let least =
        setup.legs.iter().map(|leg| leg.least.front).fold(Length::from_mm(f64::INFINITY), Length::min);
    if least > Length::ZERO {
        let (gap, reach) = (length(least, 1), as_given(setup.reach.mm()));
        (true, format!("In front the rims keep {gap} from each other on every leg, to {reach} mm."))
    } else {
        (
            false,
            format!(
                "In front the rims meet: they would have to pass {} through each other. Cut them back there, or the \
                 bearing does not guide.",
                length(least.abs(), 2)
            ),
        )
    }
}

#[cfg(test)]
mod tests {
    use sim_core::scene::Scene;
    use sim_core::tracing::{Tracer, set_up};
    use sim_core::units::Angle;

    use super::*;

    fn said(change: impl FnOnce(&mut Tracer)) -> Vec<(bool, String)> {
        let scene = Scene::thirty_degree();
        let mut tracer = scene.completed_tracer();
        change(&mut tracer);
        let (distance, reach) = (Length::from_mm(6.0), Length::from_mm(9.0));
        setup(&set_up(&scene.instrument, scene.occlusal_plane, &tracer, distance, reach).expect("poses"))
    }

    fn complains(said: &[(bool, String)], of: &str) {
        let sentence = said.iter().find(|(_, sentence)| sentence.contains(of));
        assert!(matches!(sentence, Some((false, _))), "{of}: {said:?}");
    }

    #[test]
    fn each_fault_of_a_set_up_is_told_and_a_sound_one_has_none() {
        let sound = said(|tracer| tracer.rims_apart = Length::from_mm(4.0));
        assert!(sound.iter().all(|(sound, _)| *sound), "{sound:?}");
        complains(&said(|tracer| tracer.plate.inclination = Angle::from_degrees(20.0)), "tipped by 10.0°");
        complains(&said(|tracer| tracer.half_mm = (4.0, 4.0)), "runs off its plate");
        complains(&said(|tracer| tracer.centre_mm = (40.0, 0.0)), "lies over the incisal table");
        complains(&said(|tracer| tracer.rims_apart = Length::from_mm(1.0)), "make the bearing");
        complains(&said(|tracer| tracer.rims_apart = Length::ZERO), "In front the rims meet");
        assert!(sound.iter().all(|(_, sentence)| sentence.ends_with('.') && !sentence.contains(" -")));
    }
}
