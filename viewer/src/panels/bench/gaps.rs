//! The gaps: a bar and a number for each groove, and what opens.

use kiss3d::egui::{Align2, FontId, Rect, RichText, Sense, Stroke, TextStyle, Ui, pos2, vec2};
use sim_core::bench::{Closing, ON_ITS_STOP_MM};
use sim_core::frame::Side;
use sim_core::units::Length;
use words::number::{angle, length};
use words::verdict::bench::opens_words;

use super::super::text::title;
use super::controls::{small, warn};
use crate::bench::{Misfit, OnBench};
use crate::palette;

/// The bars reach to this gap, or to the greatest one, in millimetres.
const USUAL_MM: f64 = 1.0;
/// Height of a bar's line, and widths of the name before it and the number behind, at usual words.
const LINE: f32 = 20.0;
const NAME: f32 = 128.0;
const NUMBER: f32 = 58.0;

pub(super) fn show(ui: &mut Ui, bench: &OnBench) {
    let split = &bench.split;
    let heading = match split.misfit {
        Misfit::Gaps => "Gap at each groove",
        Misfit::Displacements => "How far each groove has moved",
    };
    title(ui, heading);
    if let Some(unknown) = &split.unknown {
        ui.label(unknown);
    }
    let names = bench.worked.case.groove_names();
    let greatest = split.widest().map_or(0.0, |(_, gap)| gap.mm());
    let reach = greatest.max(USUAL_MM);
    for (number, gap) in split.gaps.iter().enumerate() {
        let name = names.get(number).map_or("", String::as_str);
        bar(ui, &format!("{} {name}", number + 1), *gap, reach, bench.bench.tolerance());
    }
    if !split.gaps.is_empty() {
        small(
            ui,
            format!(
                "The line is the tolerance of {}; bars reach to {}.",
                length(bench.bench.tolerance(), 2),
                length(Length::from_mm(reach), 1)
            ),
        );
        let (words, is_open) = verdict(bench);
        if is_open {
            warn(ui, words);
        } else {
            ui.label(RichText::new(words).strong());
        }
    }
    if split.misfit == Misfit::Displacements {
        small(
            ui,
            "Both guides are locked in centric: the secondary base stays where the first record put it, and the repeat holds the primary base.",
        );
        if let Some(off) = bench.bench.centric().and_then(|centric| centric.off_stop) {
            for side in Side::BOTH {
                ui.label(format!("{side} sphere {} off its stop", length(off[side], 2)));
            }
        }
    }
    if !bench.worked.case.has_grooves() && !split.gaps.is_empty() {
        small(
            ui,
            "The case names no grooves: the gaps are read at its landmarks, and the split is drawn straight above them.",
        );
    }
    guides(ui, bench);
}

fn verdict(bench: &OnBench) -> (String, bool) {
    let split = &bench.split;
    match (split.misfit, split.closed) {
        (_, true) => ("The split is closed.".to_owned(), false),
        (Misfit::Gaps, false)
            if bench
                .between
                .and_then(|record| bench.bench.on_record(record, &bench.trial))
                .is_some_and(|step| step.turns.is_empty()) =>
        {
            ("The split is open.".to_owned(), true)
        }
        (Misfit::Gaps, false) => (opens_words(split.opens), true),
        (Misfit::Displacements, false) => {
            ("The repeat does not find the first centric record again.".to_owned(), true)
        }
    }
}

/// The guides against their spheres, and how far to turn them where that is told.
fn guides(ui: &mut Ui, bench: &OnBench) {
    let split = &bench.split;
    for side in Side::BOTH {
        if split.stands_off[side].mm() > ON_ITS_STOP_MM {
            let off = length(split.stands_off[side], 2);
            warn(
                ui,
                format!(
                    "The {side} guide stands {off} off its sphere: it holds from above only, and the split closes all the same."
                ),
            );
        }
        if split.too_low[side].mm() > ON_ITS_STOP_MM && !split.closed {
            let low = length(split.too_low[side], 2);
            ui.label(format!("Closed by force, the {side} guide would pierce its sphere by {low}."));
        }
    }
    let Some(step) = bench.between.and_then(|record| bench.bench.on_record(record, &bench.trial)) else {
        return;
    };
    if step.kind == sim_core::record::RecordKind::Centric || step.closing == Closing::ReadOnTheScale {
        return;
    }
    if let Some(turn) = &step.lateral {
        let beyond = turn.beyond.mm();
        let words = if beyond.abs() < 0.005 {
            format!("The medial wall of the {} guide touches its sphere.", turn.side)
        } else if beyond > 0.0 {
            format!(
                "The medial wall of the {} guide carries its sphere {} too far to the middle.",
                turn.side,
                length(turn.beyond, 2)
            )
        } else {
            format!(
                "The medial wall of the {} guide stands {} off its sphere.",
                turn.side,
                length(-turn.beyond, 2)
            )
        };
        ui.label(words);
    }
    if bench.tells_turns() {
        for turn in &step.turns {
            small(ui, format!("H {} closes at {}.", turn.side, angle(turn.closes_at, 2)));
        }
        if let Some(turn) = &step.lateral {
            small(ui, format!("L {} touches at {}.", turn.side, angle(turn.touches_at, 2)));
        }
    }
}

/// A bar, from nothing to `reach` millimetres.
#[allow(clippy::cast_possible_truncation, reason = "points")]
fn bar(ui: &mut Ui, name: &str, gap: Length, reach: f64, tolerance: Length) {
    let scale = super::super::style::scale(ui.ctx());
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), LINE * scale), Sense::hover());
    let painter = ui.painter();
    let font: FontId = TextStyle::Small.resolve(ui.style());
    let ink = palette::INK.egui();
    painter.text(rect.left_center(), Align2::LEFT_CENTER, name, font.clone(), ink);
    let rail = Rect::from_min_max(
        pos2(rect.left() + NAME * scale, rect.top() + 4.0),
        pos2(rect.right() - NUMBER * scale, rect.bottom() - 4.0),
    );
    painter.rect_filled(rail, 2.0, palette::FIELD.egui());
    let at = |mm: f64| rail.left() + rail.width() * (mm / reach).clamp(0.0, 1.0) as f32;
    let filled = Rect::from_min_max(rail.min, pos2(at(gap.mm()), rail.bottom()));
    let is_open = gap > tolerance;
    painter.rect_filled(filled, 2.0, if is_open { palette::GROOVE.egui() } else { palette::ACTIVE.egui() });
    painter.rect_stroke(
        rail,
        2.0,
        Stroke::new(1.0, palette::PENCIL.egui()),
        kiss3d::egui::StrokeKind::Inside,
    );
    let limit = at(tolerance.mm());
    painter.line_segment(
        [pos2(limit, rail.top() - 2.0), pos2(limit, rail.bottom() + 2.0)],
        Stroke::new(1.5, ink),
    );
    painter.text(rect.right_center(), Align2::RIGHT_CENTER, length(gap, 2), font, ink);
}
