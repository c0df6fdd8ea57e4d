//! A tracing's template drawn on a page, one millimetre for one.

use std::fmt::Write as _;

use sim_core::tracing::{Leg, PlatePoint};
use words::CAUTION;
use words::number::as_given;

use super::content::{Template, TemplateLeg};
use crate::figures::svg::{FAMILY, escaped};
use crate::sheet::Paper;

/// Of lines and words.
const BLACK: &str = "#000000";
/// Points of 1/72 inch in a millimetre.
const POINTS_PER_MM: f64 = 72.0 / 25.4;
/// Length of the bars by which a print is checked.
const BAR_MM: f64 = 50.0;
/// Where the bars' corner stands.
const BAR_AT_MM: (f64, f64) = (20.0, 110.0);
/// Where the apex stands below the top edge.
const APEX_DOWN_MM: f64 = 165.0;
/// Radius of a drawn hole: a pencil's tip fits in.
const HOLE_MM: f64 = 0.75;
/// Half of the cross about apex and holes.
const CROSS_MM: f64 = 2.2;
/// Width of the drawn lines.
const LINE_MM: f64 = 0.15;

/// The page, in millimetres from its top left.
struct Page {
    text: String,
}

impl Page {
    fn line(&mut self, (x1, y1): (f64, f64), (x2, y2): (f64, f64)) {
        // Writing to a String does not fail.
        let _ = writeln!(
            self.text,
            "<path d=\"M{x1:.4} {y1:.4}L{x2:.4} {y2:.4}\" fill=\"none\" stroke=\"{BLACK}\" stroke-width=\"{LINE_MM}\"/>"
        );
    }

    fn words(&mut self, (x, y): (f64, f64), size: f64, anchor: &str, bold: bool, words: &str) {
        let weight = if bold { " font-weight=\"bold\"" } else { "" };
        let _ = writeln!(
            self.text,
            "<text x=\"{x:.2}\" y=\"{y:.2}\" font-size=\"{size}\" text-anchor=\"{anchor}\"{weight}>{}</text>",
            escaped(words)
        );
    }

    fn hole(&mut self, at: (f64, f64)) {
        let (x, y) = at;
        let _ = writeln!(
            self.text,
            "<circle cx=\"{x:.4}\" cy=\"{y:.4}\" r=\"{HOLE_MM}\" fill=\"none\" stroke=\"{BLACK}\" stroke-width=\"{LINE_MM}\"/>"
        );
        self.line((x - CROSS_MM, y), (x + CROSS_MM, y));
        self.line((x, y - CROSS_MM), (x, y + CROSS_MM));
    }

    /// Two bars of one length, one across and one down: a printer may stretch either way.
    fn bars(&mut self) {
        let (x, y) = BAR_AT_MM;
        self.line((x, y), (x + BAR_MM, y));
        self.line((x, y), (x, y + BAR_MM));
        for mm in 0..=BAR_MM as u32 {
            let tick = if mm % 10 == 0 { 3.0 } else { 1.5 };
            let along = f64::from(mm);
            self.line((x + along, y - tick), (x + along, y));
            self.line((x - tick, y + along), (x, y + along));
        }
        let said = format!("{} mm", as_given(BAR_MM));
        self.words((x + BAR_MM + 2.0, y), 3.2, "start", true, &said);
        self.words((x - 4.0, y + BAR_MM + 4.5), 3.2, "start", true, &said);
    }

    fn leg(&mut self, leg: &TemplateLeg, at: impl Fn(&PlatePoint) -> (f64, f64)) {
        let mut path = String::new();
        for (index, point) in leg.line.iter().enumerate() {
            let (x, y) = at(point);
            let _ = write!(path, "{}{x:.4} {y:.4}", if index == 0 { 'M' } else { 'L' });
        }
        let _ = writeln!(
            self.text,
            "<path d=\"{path}\" fill=\"none\" stroke=\"{BLACK}\" stroke-width=\"{LINE_MM}\" stroke-linejoin=\"round\"/>"
        );
        self.hole(at(&leg.hole));
        let (x, y) = leg.line.last().map_or_else(|| at(&leg.hole), &at);
        let (anchor, aside, down) = match leg.leg {
            Leg::Protrusive => ("middle", 0.0, if y < APEX_DOWN_MM { -4.0 } else { 6.0 }),
            _ if x < at(&PlatePoint::APEX).0 => ("end", -3.0, 1.0),
            _ => ("start", 3.0, 1.0),
        };
        self.words((x + aside, y + down), 3.2, anchor, false, leg.leg.words());
    }
}

/// The page: patient's front up, patient's left on the left, seen from above.
pub(crate) fn svg(template: &Template, paper: Paper) -> String {
    let (width, height) = paper.points();
    let (width_mm, height_mm) = (width / POINTS_PER_MM, height / POINTS_PER_MM);
    let mut page = Page {
        text: format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width_mm:.4}mm\" height=\"{height_mm:.4}mm\" \
             viewBox=\"0 0 {width_mm:.4} {height_mm:.4}\" font-family=\"'{FAMILY}', Verdana, sans-serif\" \
             fill=\"{BLACK}\">\n"
        ),
    };
    let left = 20.0;
    page.words((left, 22.0), 5.0, "start", true, "Template of a tracing, in its own size");
    let mut y = 29.0;
    let distance = as_given(template.distance.mm());
    let notes = [
        template.title.clone(),
        format!(
            "Holes at the apex and {distance} mm from it along each leg. Seen from above: the patient’s front is up, the \
             patient’s left on the left."
        ),
        "Print at 100 %, not fitted to the page. Then measure both bars with a rule: where either is not 50 mm, throw the \
         print away. Lay it on the plate with the apex on the drawn apex and the legs on the drawn legs."
            .to_owned(),
        CAUTION.to_owned(),
    ];
    for note in &notes {
        for line in textwrap::wrap(note, 92) {
            page.words((left, y), 3.2, "start", false, &line);
            y += 4.6;
        }
        y += 1.4;
    }
    page.bars();
    let apex = (width_mm / 2.0 + 15.0, APEX_DOWN_MM);
    let at = |point: &PlatePoint| (apex.0 - point.left.mm(), apex.1 - point.forward.mm());
    for leg in &template.legs {
        page.leg(leg, at);
    }
    page.hole(apex);
    page.words((apex.0 + 3.0, apex.1 - 3.0), 3.2, "start", true, "apex");
    page.text.push_str("</svg>\n");
    page.text
}
