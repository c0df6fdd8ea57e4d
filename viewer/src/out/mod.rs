//! What goes out of the window into files: pictures, the plot, the table, an excursion in motion, sheets, templates and
//! scenes.
//!
//! What is made of the state alone is made here, whether it is then written to a disk or handed over by a page.

mod hand_over;
mod made;

use report::curves::{CurvePanel, CurvePoint, CuspCurve};
use report::figures::{ExcursionFigure, Figure, Print, excursion_figure};

use crate::solved::SolvedExcursion;
use crate::state::State;

pub use hand_over::hand_over;
pub use made::{OutFile, beside_text, name_beside, name_of_beside, scene_text, sheet, table, template_svg};

/// The plot as a figure: the cusps marked, on the axes as they are held; with B's curves where B is kept.
#[must_use]
pub fn plot(state: &State) -> Figure {
    let solved = &state.shown.solved;
    let axes = state.axes.0;
    let mut panel = CurvePanel::new(&solved.excursion);
    panel.end = axes.end;
    let kept = state.kept.as_ref().and_then(|kept| Some((kept, kept.solved.as_ref()?)));
    let letter = |letter| kept.is_some().then_some(letter);
    panel.stopped.extend(solved.stopped.map(|why| (letter('A'), why)));
    let curve = |solved: &SolvedExcursion, number: usize| -> Vec<CurvePoint> {
        let point = |sample: &crate::solved::SolvedSample| {
            Some(CurvePoint::new(sample.driven, sample.readings.get(number)?))
        };
        solved.samples().iter().filter_map(point).collect()
    };
    for (number, _) in state.marked() {
        let Some(cusp) = state.shown.scene.cusps.get(number) else { continue };
        let points = curve(solved, number);
        panel.curves.push(CuspCurve { cusp: cusp.clone(), set_up: letter('A'), points });
        let theirs = kept.and_then(|(kept, solved)| Some((solved, kept.number_of(cusp)?)));
        if let Some((solved, number)) = theirs {
            let points = curve(solved, number);
            panel.curves.push(CuspCurve { cusp: cusp.clone(), set_up: letter('B'), points });
        }
    }
    excursion_figure(&ExcursionFigure {
        title: &state.shown.scene.title,
        under: if kept.is_some() { "A is what is shown, B what was kept." } else { "" },
        panels: &[panel],
        range_mm: Some((axes.low, axes.high)),
        print: Print::TITLED,
    })
}

/// The state for a picture of its own: no card, no note, nothing that plays.
#[must_use]
pub fn without_cards(state: &State) -> State {
    let mut state = state.clone();
    state.playing = false;
    state.asking = None;
    state.glossary = None;
    state.help = false;
    state.file_note = None;
    state
}

/// Numbers of the samples that an animation shows: evenly from rest to a last one, both included.
#[must_use]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some hundred pictures")]
pub fn frames(solved: &SolvedExcursion, last: usize, per_mm: u16) -> Vec<usize> {
    let last = last.min(solved.samples().len().saturating_sub(1));
    let driven = solved.sample(last).driven;
    let count = (driven * f64::from(per_mm)).round().clamp(1.0, 1000.0) as u32;
    let at = |number: u32| solved.nearest(driven * f64::from(number) / f64::from(count));
    let mut frames: Vec<usize> = std::iter::once(0).chain((1..count).map(at)).chain([last]).collect();
    frames.dedup();
    frames
}

#[cfg(test)]
mod tests {
    use super::*;
    use sim_core::scene::Scene;

    #[test]
    fn an_animation_goes_evenly_from_rest_to_the_end() {
        let state = State::open(Scene::thirty_degree()).unwrap();
        let solved = &state.shown.solved;
        let frames = frames(solved, usize::MAX, 4);
        let driven: Vec<f64> = frames.iter().map(|frame| solved.sample(*frame).driven).collect();
        assert_eq!(driven.len(), 25);
        for (number, driven) in driven.iter().enumerate() {
            assert!((driven - number as f64 * 0.25).abs() < 1e-9, "{driven}");
        }
        // Up to a place, and where there is no way to go.
        assert_eq!(super::frames(solved, frames[3], 4).last(), Some(&frames[3]));
        assert_eq!(super::frames(solved, 0, 4), [0]);
    }

    #[test]
    fn the_plot_that_goes_out_has_the_axes_and_the_cusps_of_the_window() {
        let state = State::open(Scene::thirty_degree()).unwrap();
        let svg = plot(&state).alone(&Print::TITLED).unwrap();
        for (number, _) in state.marked() {
            assert!(svg.contains(&words::name::cusp(&state.shown.scene.cusps[number])), "{number}");
        }
        assert!(svg.contains(&state.shown.scene.title) && svg.contains("condylar advance, mm"));
        // The same axes though the curves are lower.
        let mut lower = state.clone();
        lower.marks.fill(None);
        let frame = |svg: &str| svg.matches("text-anchor=\"end\"").count();
        assert_eq!(frame(&plot(&lower).alone(&Print::TITLED).unwrap()), frame(&svg));
    }
}
