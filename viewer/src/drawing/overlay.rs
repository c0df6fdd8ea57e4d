//! Marks laid over the picture: cusps with their separations, sphere centres, words.

use kiss3d::egui::{Align2, Color32, Painter, Pos2, Rect, Stroke, Vec2, pos2, vec2};
use nalgebra::Vector3;
use sim_core::cast::CastPlace;
use sim_core::cusp::{Arch, CuspReading, Tooth};
use sim_core::excursion::Movement;
use sim_core::frame::Side;
use words::number::two_decimals;

use super::glyph::glyph;
use super::guide::SPHERE_RADIUS_MM;
use super::tag::Tag;
use super::type_size::{face, scale};
use super::{angles, bench, hover, kept_marks as kept, legend, numbers, trace};
use crate::geometry::landmarks::{pin_tip, rest_point};
use crate::geometry::poses::MemberPoses;
use crate::layout::Layout;
use crate::page::Room;
use crate::palette::{self, Tint};
use crate::projection::Projection;
use crate::state::State;

/// Radius of a cusp's mark, in points.
const MARK: f32 = 6.0;
/// Radius of the ring about a mark of film.
const RING: f32 = 4.0;
/// Half size of the cross on a sphere's centre.
const CROSS: f32 = 6.0;
/// How far under its sphere the words of a centre stand.
const BELOW: f32 = 12.0;
/// Size of the words.
const WORDS: f32 = 13.0;
/// How far from the edge of the picture readings are written.
const EDGE: f32 = 12.0;
/// Centres nearer to each other than this on the screen share their words.
const APART: f32 = 24.0;
/// What would be written as 0.00 is contact.
const IN_CONTACT_MM: f64 = 0.005;
/// Height of a line of writing.
const LINE: f32 = 17.0;

/// Paints the marks over the picture, and the legend.
pub fn paint(
    painter: &Painter,
    state: &State,
    projection: &Projection,
    layout: &Layout,
    pixels_per_point: f32,
) {
    if state.room == Room::Bench {
        if let Some(on) = &state.bench {
            let scale = state.appearance.text_scale;
            bench::paint(painter, on, projection, layout.picture, pixels_per_point, scale);
        }
        return;
    }
    let within = layout.instrument;
    let scene = &state.shown.scene;
    let sample = state.sample();
    let poses = MemberPoses::of(&sample.placement.jaw, state.moving);
    let place = |point: &Vector3<f64>| -> Pos2 {
        let [x, y] = projection.pixel(point);
        #[allow(clippy::cast_possible_truncation, reason = "pixels")]
        let place = pos2(x as f32, y as f32);
        (place.to_vec2() / pixels_per_point).to_pos2()
    };
    trace::paint(painter, state, &poses, &place);
    numbers::paint(painter, state, &poses, projection, &place, pixels_per_point);
    // Under the sphere, clear of the trace of its way.
    #[allow(clippy::cast_possible_truncation, reason = "points")]
    let below = (SPHERE_RADIUS_MM * projection.pixels_per_mm) as f32 / pixels_per_point + BELOW;
    let centres = Side::BOTH.map(|side| place(&poses.sphere(&scene.instrument, side)));
    for (side, centre) in Side::BOTH.into_iter().zip(centres) {
        cross(painter, centre);
        if centres[0].distance(centres[1]) >= APART {
            let words = format!("{side}{}", role(state.shown.solved.excursion.movement(), side));
            write(painter, centre + vec2(0.0, below), Align2::CENTER_CENTER, &words, palette::INK);
        }
    }
    if centres[0].distance(centres[1]) < APART {
        let between = centres[0].lerp(centres[1], 0.5) + vec2(0.0, below);
        write(painter, between, Align2::CENTER_CENTER, "right, left", palette::INK);
    }
    legend::paint(painter, state, projection, layout.legend, pixels_per_point);
    let guided = if scene.instrument.anterior_guide.has_pin() {
        poses.upper.place(&pin_tip(&scene.instrument))
    } else {
        poses.lower.place(&rest_point(&scene.instrument))
    };
    painter.circle_stroke(place(&guided), 3.5, Stroke::new(2.0, palette::INK.egui()));
    let stop = contacts(painter, state, &poses, &place);
    let mut tags = if state.projections.angles_in_picture {
        let points_per_mm = projection.pixels_per_mm / f64::from(pixels_per_point);
        angles::paint(painter, scene, &poses, &place, points_per_mm)
    } else {
        Vec::new()
    };

    tags.extend(stop);
    let mut named = Vec::new();
    for (number, mark) in state.marked() {
        let (cusp, reading) = (&scene.cusps[number], &sample.readings[number]);
        if !state.casts.seen.has(cusp.tooth().arch()) {
            continue;
        }
        let (carrier, opponent) = poses.of_cusp(cusp);
        let (tint, shape) = palette::cusp(mark);
        let rest = cusp.at_mm();
        let at = place(&carrier.place(&rest));
        named.push((at, words::name::cusp(cusp)));
        dimension(painter, place(&opponent.place(&rest)), at, tint);
        painter.add(glyph(shape, at, MARK, tint.egui(), Stroke::new(1.5, Color32::WHITE)));
        if reading.interferes() {
            strike(painter, at);
        }
        // What lies outside the picture is not written at its edge.
        if !within.contains(at) {
            continue;
        }
        tags.push(Tag {
            at,
            words: words(cusp.tooth().number(), reading),
            tint,
            interferes: reading.interferes(),
        });
    }
    write_tags(painter, tags, within);
    kept::paint(painter, state, layout, &place);
    let pointer = painter.ctx().pointer_hover_pos().filter(|at| within.contains(*at));
    let is_free = |at: &Pos2| {
        painter.ctx().layer_id_at(*at).is_none_or(|layer| layer.order == kiss3d::egui::Order::Background)
    };
    if let Some(pointer) = pointer.filter(is_free) {
        hover::paint(painter, state, projection, &named, pointer, pixels_per_point);
    }
}

/// Where the teeth stop the closing (with what is to be written there), where film prints, and what has been
/// picked.
fn contacts(
    painter: &Painter,
    state: &State,
    poses: &MemberPoses,
    place: &dyn Fn(&Vector3<f64>) -> Pos2,
) -> Option<Tag> {
    let mut stop = None;
    let seen = state.casts.seen;
    let print = state.readout.as_ref().and_then(|readout| readout.print.as_ref());
    for mark in print.iter().flat_map(|print| print.marks()).filter(|mark| seen.has(mark.arch)) {
        // A mark smaller than the triangles of the cast is still seen by its ring.
        let at = place(&match mark.centroid {
            CastPlace::Upper(at) => poses.upper.place(at.coords()),
            CastPlace::Lower(at) => poses.lower.place(at.coords()),
        });
        painter.circle_stroke(at, RING, Stroke::new(1.5, palette::PRINTED.egui()));
    }
    if let Some(contact) = state.sample().placement.guidance.teeth() {
        let at = place(&poses.upper.place(contact.at.coords()));
        for (width, tint) in [(4.0, Color32::WHITE), (2.0, palette::INTERFERENCE.egui())] {
            painter.circle_stroke(at, MARK + 2.0, Stroke::new(width, tint));
        }
        let tooth = |tooth: Option<Tooth>| tooth.map_or_else(|| "?".to_owned(), |tooth| tooth.to_string());
        let words = format!("{} guides on {}", tooth(contact.lower_tooth), tooth(contact.upper_tooth));
        stop = Some(Tag { at, words, tint: palette::INK, interferes: false });
    }
    if let Some(picked) = &state.proposal {
        let pose = if picked.tooth.arch() == Arch::Upper { &poses.upper } else { &poses.lower };
        let at = place(&pose.place(&picked.at_mm));
        for (width, colour) in [(4.0, Color32::WHITE), (2.0, palette::ACTIVE.egui())] {
            painter.circle_stroke(at, MARK, Stroke::new(width, colour));
        }
        painter.circle_filled(at, 2.0, palette::ACTIVE.egui());
    }
    stop
}

/// What a side does in a movement, as it is written behind the side.
fn role(movement: Movement, side: Side) -> &'static str {
    match (movement.working_side(), movement.orbiting_side()) {
        (Some(working), _) if working == side => ", working",
        (_, Some(orbiting)) if orbiting == side => ", orbiting",
        _ => "",
    }
}

/// What is written beside a cusp.
fn words(tooth: u8, reading: &CuspReading) -> String {
    let separation = reading.separation.mm();
    if reading.interferes() {
        format!("{tooth}  interferes by {} mm", two_decimals(-reading.clearance.mm()))
    } else if separation.abs() < IN_CONTACT_MM {
        format!("{tooth}  in contact")
    } else {
        format!("{tooth}  {} mm apart", two_decimals(separation))
    }
}

/// A centre mark as on a drawing: a cross, light on dark.
fn cross(painter: &Painter, centre: Pos2) {
    for (width, tint) in [(4.0, palette::SPHERE), (2.0, palette::CENTRE_MARK)] {
        let stroke = Stroke::new(width, tint.egui());
        painter.line_segment([centre - vec2(CROSS, 0.0), centre + vec2(CROSS, 0.0)], stroke);
        painter.line_segment([centre - vec2(0.0, CROSS), centre + vec2(0.0, CROSS)], stroke);
    }
}

/// An interference: the mark struck through.
fn strike(painter: &Painter, at: Pos2) {
    for (width, colour) in [(5.0, Color32::WHITE), (2.5, palette::INTERFERENCE.egui())] {
        let stroke = Stroke::new(width, colour);
        let reach = Vec2::splat(MARK * 1.5);
        painter.line_segment([at - reach, at + reach], stroke);
        painter.line_segment([at + vec2(-reach.x, reach.y), at + vec2(reach.x, -reach.y)], stroke);
    }
}

/// From where the tip rested on the opposing member to where it is: a line with a foot.
fn dimension(painter: &Painter, from: Pos2, to: Pos2, tint: Tint) {
    let along = to - from;
    if along.length() < 1.0 {
        return;
    }
    let foot = along.normalized().rot90() * 5.0;
    for (width, colour) in [(4.0, Color32::WHITE), (2.0, tint.egui())] {
        let stroke = Stroke::new(width, colour);
        painter.line_segment([from, to], stroke);
        painter.line_segment([from - foot, from + foot], stroke);
    }
}

fn write(painter: &Painter, at: Pos2, align: Align2, words: &str, tint: Tint) {
    let font = face(painter, WORDS);
    let galley = painter.layout_no_wrap(words.to_owned(), font, tint.egui());
    let rect = align.anchor_size(at, galley.size());
    painter.rect_filled(rect.expand2(vec2(3.0, 1.0)), 3.0, palette::PAPER.egui().gamma_multiply(0.85));
    painter.galley(rect.min, galley, tint.egui());
}

/// Writes the readings in two columns at the edges of the picture, so that none lies on another or on a
/// tooth, each led to its cusp.
fn write_tags(painter: &Painter, tags: Vec<Tag>, within: Rect) {
    let middle = tags.iter().map(|tag| tag.at.x).sum::<f32>() / count(tags.len());
    let (mut left, mut right): (Vec<Tag>, Vec<Tag>) = tags.into_iter().partition(|tag| tag.at.x < middle);
    // With all cusps in one place on the screen, half go to each side.
    if left.is_empty() && right.len() > 1 {
        left = right.split_off(right.len() / 2);
    }
    for (column, outward) in [(&mut left, -1.0), (&mut right, 1.0)] {
        column.sort_by(|a, b| a.at.y.total_cmp(&b.at.y));
        let (mut free, line) = (f32::NEG_INFINITY, LINE * scale(painter.ctx()));
        for tag in column.iter() {
            let y = (tag.at.y - 14.0).max(free).clamp(within.top() + 10.0, within.bottom() - 10.0);
            free = y + line + 2.0;
            // At the edge of the picture, so that no tooth is covered.
            let edge = if outward > 0.0 { within.right() - EDGE } else { within.left() + EDGE };
            let end = pos2(edge, y);
            let align = if outward > 0.0 { Align2::RIGHT_CENTER } else { Align2::LEFT_CENTER };
            let font = face(painter, WORDS);
            let ink = if tag.interferes { palette::INTERFERENCE } else { palette::INK };
            let galley = painter.layout_no_wrap(tag.words.clone(), font, ink.egui());
            let mut rect = align.anchor_size(end, galley.size());
            // Words stay within the picture.
            rect = rect.translate(vec2(
                (within.left() + 6.0 - rect.left()).max(0.0) + (within.right() - 6.0 - rect.right()).min(0.0),
                0.0,
            ));
            let hook = if outward > 0.0 { rect.left_center() } else { rect.right_center() };
            painter.line_segment([tag.at, hook], Stroke::new(1.0, palette::INK.egui()));
            painter.rect_filled(rect.expand2(vec2(4.0, 1.0)), 3.0, palette::PANEL.egui());
            let edge = if tag.interferes { palette::INTERFERENCE } else { tag.tint };
            painter.rect_stroke(
                rect.expand2(vec2(4.0, 1.0)),
                3.0,
                Stroke::new(1.5, edge.egui()),
                kiss3d::egui::StrokeKind::Outside,
            );
            painter.galley(rect.min, galley, ink.egui());
        }
    }
}

#[allow(clippy::cast_precision_loss, reason = "a handful of cusps")]
fn count(number: usize) -> f32 {
    number.max(1) as f32
}
