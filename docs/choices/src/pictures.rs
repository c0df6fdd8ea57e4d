//! Figures as SVG, and lines of photos thinned.

use image::{GrayImage, Luma};
use skeletonize::{MarkingMethod, foreground, thin_image_edges};
use svg::node::element::Circle;

use crate::measure::{measured, row};

#[allow(dead_code, unreachable_pub)]
#[path = "../../../tracing-photo/src/place.rs"]
mod place;
#[allow(dead_code, unreachable_pub)]
#[path = "../../../tracing-photo/src/skeleton.rs"]
mod skeleton;
#[allow(dead_code, unreachable_pub)]
#[path = "../../../report/src/figures/colour.rs"]
mod colour;
#[allow(dead_code, unreachable_pub)]
#[path = "../../../report/src/figures/svg.rs"]
mod own_svg;

const MARKS: u32 = 100_000;

pub(crate) fn rows() {
    svg_rows();
    thinning();
}

fn svg_rows() {
    let what = "a figure of 10⁵ dots";
    let place = |number: u32| (f64::from(number % 700) + 0.125, f64::from(number / 700) + 0.375);
    let (ms, mb, text) = measured(3, || {
        let mut page = own_svg::Svg::new(700.0, 200.0);
        (0..MARKS).for_each(|number| page.dot(place(number), 0.4, "#111111"));
        page.end()
    });
    row(what, "ours", (ms, mb), &format!("{:.1} MB of SVG", text.len() as f64 / 1e6));
    let (ms, mb, text) = measured(3, || {
        let mut page = svg::Document::new().set("viewBox", (0, 0, 700, 200));
        for number in 0..MARKS {
            let (x, y) = place(number);
            let dot = Circle::new().set("cx", x).set("cy", y).set("r", 0.4).set("fill", "#111111");
            page = page.add(dot);
        }
        page.to_string()
    });
    row(what, "svg 0.18.0", (ms, mb), &format!("{:.1} MB of SVG", text.len() as f64 / 1e6));
    let words = svg::node::element::Text::new("<b>\u{1b}[2J").to_string();
    row("the words `<b>` and an escape", "svg 0.18.0", (0.0, 0.0), &format!("{words:?}"));
    row("the words `<b>` and an escape", "ours", (0.0, 0.0), &format!("{:?}", own_svg::escaped("<b>\u{1b}[2J")));
}

/// Three strokes of a Gothic arch, as thick as a pen's in a photo.
fn strokes(side: u32) -> GrayImage {
    let mut mask = GrayImage::new(side, side);
    let scale = f64::from(side);
    for step in 0..side * 2 {
        let along = f64::from(step) / f64::from(side * 2);
        for lean in [-0.7, 0.0, 0.7] {
            let (x, y) = (0.5 + along * lean * 0.5, 0.15 + along * 0.7);
            let thick = (scale * 0.004).ceil() as i64;
            for dx in -thick..=thick {
                for dy in -thick..=thick {
                    let (px, py) = ((x * scale) as i64 + dx, (y * scale) as i64 + dy);
                    if (0..i64::from(side)).contains(&px) && (0..i64::from(side)).contains(&py) {
                        mask.put_pixel(px as u32, py as u32, Luma([255]));
                    }
                }
            }
        }
    }
    mask
}

fn thinning() {
    for side in [1_000, 2_000] {
        let what = format!("a tracing of three strokes, {side} × {side} pixels, thinned");
        let mask = strokes(side);
        let (ms, mb, _) = measured(2, || skeleton::thinned(&mask));
        row(&what, "ours", (ms, mb), "with its neighbours as a graph");
        let white = image_024::DynamicImage::ImageLuma8(
            image_024::GrayImage::from_raw(side, side, mask.clone().into_raw()).expect("as large"),
        );
        let (ms, mb, _) = measured(1, || {
            let mut picture = white.clone();
            thin_image_edges::<foreground::White>(&mut picture, MarkingMethod::Standard, None)
                .expect("thinned");
            picture
        });
        row(&what, "skeletonize 0.2.0", (ms, mb), "stands on image 0.24, two years behind");
    }
}
