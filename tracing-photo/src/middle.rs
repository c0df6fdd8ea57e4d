//! The middle of the line, finer than a pixel.

use super::ground::Depth;
use super::legs::Legs;
use super::line::Line;
use super::near::Near;
use super::place::Pixel;

/// Points follow one another at this part of the line's width: nearer ones would share their
/// pixels, and tell the same.
const STEP_WIDTHS: f64 = 0.75;
/// Nearer to the join than this many widths the legs run into one another.
const JOINED_WIDTHS: f64 = 1.5;
/// Nearer than this to the join, the lines of two tracings cross one another.
const CROSSED_MM: f64 = 2.0;
/// Length over which a leg's direction is taken, on either side.
const DIRECTION_MM: f64 = 0.6;
/// Half of the profile across the line.
const PROFILE_WIDTHS: f64 = 1.3;
/// What counts of a profile is what stands out by more than this part of its highest place.
const PROFILE_FOOT: f64 = 0.25;
/// A profile that rises again by this part of its foot, from one step to the next, belongs to another
/// line.
const RISE_PART: f64 = 0.3;
/// Steps of a profile, in pixels.
const PROFILE_STEP: f64 = 0.25;
/// Length over which the legs are straight enough to start from at the apex.
const NEAR_APEX_MM: f64 = 2.5;
/// A second line that holds this part of the pixels makes the outer edge at the apex useless.
const SECOND_LINE_PART: f64 = 0.15;

/// Points of the legs, in the order of the legs given: protrusive, right lateral, left lateral.
pub(super) fn points(depth: &Depth, line: &Line, legs: &Legs, per_mm: f64) -> [Vec<Pixel>; 3] {
    let step = (line.width * STEP_WIDTHS).max(2.0).round() as usize;
    let lengths = |lines: &[Vec<Pixel>; 3]| lines.iter().map(Vec::len).sum::<usize>() as f64;
    let is_double = lengths(&legs.beside) >= SECOND_LINE_PART * lengths(&legs.legs);
    let apart = if is_double { CROSSED_MM * per_mm } else { 0.0 }.max(line.width * JOINED_WIDTHS);
    let clear = |pixel: &&Pixel| (*pixel - legs.join).norm() > apart;
    let mut traced = [0, 1, 2].map(|leg| {
        let all: Vec<Pixel> = legs.legs[leg].iter().chain(&legs.beside[leg]).copied().collect();
        let all = Near::of(&all, (DIRECTION_MM * per_mm).max(4.0));
        let pixels = legs.legs[leg].iter().step_by(step).chain(legs.beside[leg].iter().step_by(step));
        pixels.filter(clear).filter_map(|pixel| middle(depth, line, pixel, &all)).collect::<Vec<Pixel>>()
    });
    if !is_double {
        let near = at_apex(depth, line, &traced, per_mm);
        for (leg, near) in [1, 2].into_iter().zip(near) {
            traced[leg].splice(0..0, near);
        }
    }
    traced
}

/// The direction of a line by its pixels' principal axis.
fn direction(near: &[Pixel]) -> Option<Pixel> {
    let mean = near.iter().sum::<Pixel>() / near.len().max(1) as f64;
    let mut spread = nalgebra::Matrix2::zeros();
    for other in near {
        let off = other - mean;
        spread += off * off.transpose();
    }
    let axes = spread.symmetric_eigen();
    let along = if axes.eigenvalues[0] > axes.eigenvalues[1] { 0 } else { 1 };
    (axes.eigenvalues[along] > 0.0).then(|| axes.eigenvectors.column(along).into())
}

/// The centre of gravity of the profile across the line, averaged over half a line's width along
/// it.
fn middle(depth: &Depth, line: &Line, pixel: &Pixel, all: &Near<'_>) -> Option<Pixel> {
    let along = direction(&all.to(pixel))?;
    let across = Pixel::new(-along.y, along.x);
    let off = profile_centre(
        |t| {
            [-0.25, 0.0, 0.25]
                .map(|part| depth.at(pixel + across * t + along * (part * line.width)))
                .iter()
                .sum::<f64>()
                / 3.0
        },
        line,
    )?;
    Some(pixel + across * off)
}

fn profile_centre(profile: impl Fn(f64) -> f64, line: &Line) -> Option<f64> {
    let half = (line.width * PROFILE_WIDTHS / PROFILE_STEP).ceil() as i32;
    let places: Vec<(f64, f64)> =
        (-half..=half).map(|step| f64::from(step) * PROFILE_STEP).map(|t| (t, profile(t))).collect();
    // The highest place near the skeleton, then down to the foot on both sides.
    let nearby = |(_, (t, _)): &(usize, &(f64, f64))| t.abs() <= line.width * 0.6 + 1.0;
    let (top, &(_, most)) =
        places.iter().enumerate().filter(nearby).max_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
    if most < 0.3 * line.depth {
        return None;
    }
    let foot = most * PROFILE_FOOT;
    // Down to the foot, or to the valley before another line.
    let ends = |pair: (&(f64, f64), &(f64, f64))| pair.1.1 < foot || pair.1.1 > pair.0.1 + foot * RISE_PART;
    let outward = &places[top..];
    let last = outward.iter().zip(&outward[1..]).position(ends).map(|steps| top + steps + 1)?;
    let inward: Vec<(f64, f64)> = places[..=top].iter().rev().copied().collect();
    let first = inward.iter().zip(&inward[1..]).position(ends).map(|steps| top - steps - 1)?;
    let (mut weight, mut sum) = (0.0, 0.0);
    for (t, d) in &places[first..=last] {
        let above = (d - foot).max(0.0);
        weight += above;
        sum += above * t;
    }
    (weight > 0.0).then(|| sum / weight)
}

/// Points of the two lateral legs near the apex, where the protrusive leg runs into them: the outer
/// edge of the line is clear of it, and half a width inward from it is the middle.
fn at_apex(depth: &Depth, line: &Line, traced: &[Vec<Pixel>; 3], per_mm: f64) -> [Vec<Pixel>; 2] {
    let empty = [const { Vec::new() }; 2];
    let straight = [1, 2].map(|leg| straight(&traced[leg], NEAR_APEX_MM * per_mm));
    let [Some(right), Some(left)] = straight else { return empty };
    let turn = right.1.perp(&left.1);
    let apex = right.0 + right.1 * ((left.0 - right.0).perp(&left.1) / turn);
    if !apex.iter().all(|x| x.is_finite()) {
        return empty;
    }
    let inward = right.1 + left.1;
    [(1, right.1), (2, left.1)].map(|(leg, along)| {
        let side = Pixel::new(-along.y, along.x);
        let outward = if side.dot(&inward) > 0.0 { -side } else { side };
        // How far the edge lies from the middle where the leg is clear: measured the same way.
        let clear =
            traced[leg].iter().take_while(|point| (*point - apex).norm() < 2.0 * NEAR_APEX_MM * per_mm);
        let mut halves: Vec<f64> =
            clear.filter_map(|point| edge(depth, line, point, &outward)).map(|(off, _)| off).collect();
        if halves.len() < 3 {
            return Vec::new();
        }
        let count = halves.len();
        let (_, &mut half, _) = halves.select_nth_unstable_by(count / 2, f64::total_cmp);
        let start = traced[leg].first().map_or(0.0, |point| (point - apex).dot(&along));
        let step = (line.width * STEP_WIDTHS).max(2.0);
        let count = (start / step).floor().max(0.0) as usize;
        (0..count)
            .filter_map(|index| {
                let foot = apex + along * (step * (index as f64 + 0.25));
                let (off, normal) = edge(depth, line, &foot, &outward)?;
                Some(foot + outward * off - normal * half)
            })
            .collect()
    })
}

/// A line through the points within a reach of the first: a point and a unit direction away from
/// the start.
fn straight(points: &[Pixel], reach: f64) -> Option<(Pixel, Pixel)> {
    let first = points.first()?;
    let near: Vec<Pixel> =
        points.iter().take_while(|point| (*point - first).norm() <= reach).copied().collect();
    let last = near.last()?;
    if near.len() < 4 {
        return None;
    }
    let mean = near.iter().sum::<Pixel>() / near.len() as f64;
    let along = direction(&near)?;
    Some((mean, if along.dot(&(last - first)) < 0.0 { -along } else { along }))
}

/// From outside inward, where the line first stands out by half of its depth: how far outward from
/// a point, and the outward normal of the edge there.
fn edge(depth: &Depth, line: &Line, from: &Pixel, outward: &Pixel) -> Option<(f64, Pixel)> {
    let level = line.depth / 2.0;
    let at = |t: f64| depth.at(from + outward * t);
    let steps = (line.width * 4.0 / PROFILE_STEP).ceil() as i32;
    let far = line.width * 2.0;
    let mut before = at(far);
    for step in 1..=steps {
        let t = far - f64::from(step) * PROFILE_STEP;
        let here = at(t);
        if before < level && here >= level {
            let off = t + PROFILE_STEP * (here - level) / (here - before);
            let place = from + outward * off;
            let slope = |way: Pixel| depth.at(place + way) - depth.at(place - way);
            let normal = -Pixel::new(slope(Pixel::x() * 1.5), slope(Pixel::y() * 1.5));
            return Some((off, normal.try_normalize(0.0)?));
        }
        before = here;
    }
    None
}
