//! A little SVG: lines, dots, circles and words.

use std::fmt::Write as _;

use super::colour::{BLACK, WHITE};

/// The typeface of the words; in an SVG, with others that are set as wide where it is not there.
pub(crate) const FAMILY: &str = "DejaVu Sans";

/// Places on the page, in its units, from the top left.
pub(crate) type At = (f64, f64);

/// How a line is drawn.
#[derive(Clone, Copy)]
pub(crate) struct Stroke {
    pub(crate) colour: &'static str,
    pub(crate) width: f64,
    /// Lengths of dash and gap; empty for a whole line.
    pub(crate) dashes: &'static str,
}

impl Stroke {
    pub(crate) const fn new(colour: &'static str, width: f64) -> Self {
        Self { colour, width, dashes: "" }
    }

    pub(crate) const fn dashed(self, dashes: &'static str) -> Self {
        Self { dashes, ..self }
    }

    fn attributes(&self) -> String {
        let dashes = if self.dashes.is_empty() {
            String::new()
        } else {
            format!(" stroke-dasharray=\"{}\"", self.dashes)
        };
        format!("fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"{dashes}", self.colour, self.width)
    }
}

/// Where words stand about their place.
#[derive(Clone, Copy)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// A page being drawn.
pub(crate) struct Svg {
    text: String,
    clips: usize,
}

impl Svg {
    pub(crate) fn new(width: f64, height: f64) -> Self {
        Self::sized((0.0, (width, height)), &width.to_string(), &height.to_string())
    }

    /// A page of this size, of which what stands above `top` is not shown.
    pub(crate) fn from(top: f64, width: f64, height: f64) -> Self {
        let shown = height - top;
        Self::sized((top, (width, shown)), &width.to_string(), &shown.to_string())
    }

    /// A page of this size in its units, that on paper has so many millimetres.
    pub(crate) fn on_paper(size: At, paper_mm: At) -> Self {
        let mm = |length: f64| format!("{}mm", (length * 1e4).round() / 1e4);
        Self::sized((0.0, size), &mm(paper_mm.0), &mm(paper_mm.1))
    }

    fn sized((top, (width, height)): (f64, At), wide: &str, high: &str) -> Self {
        let text = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}\" height=\"{high}\" \
             viewBox=\"0 {top} {width} {height}\" font-family=\"'{FAMILY}', Verdana, sans-serif\">\n\
             <rect y=\"{top}\" width=\"100%\" height=\"100%\" fill=\"{WHITE}\"/>\n"
        );
        Self { text, clips: 0 }
    }

    fn put(&mut self, element: std::fmt::Arguments<'_>) {
        // Writing to a String does not fail.
        let _ = writeln!(self.text, "{element}");
    }

    pub(crate) fn line(&mut self, from: At, to: At, stroke: Stroke) {
        self.put(format_args!(
            "<path d=\"M{:.2} {:.2}L{:.2} {:.2}\" {}/>",
            from.0,
            from.1,
            to.0,
            to.1,
            stroke.attributes()
        ));
    }

    pub(crate) fn path(&mut self, points: impl IntoIterator<Item = At>, stroke: Stroke) {
        let mut data = String::new();
        for (index, (x, y)) in points.into_iter().enumerate() {
            let _ = write!(data, "{}{x:.2} {y:.2}", if index == 0 { 'M' } else { 'L' });
        }
        if !data.is_empty() {
            self.put(format_args!(
                "<path d=\"{data}\" {} stroke-linecap=\"butt\" stroke-linejoin=\"round\"/>",
                stroke.attributes()
            ));
        }
    }

    /// Filled, without an edge.
    pub(crate) fn dot(&mut self, at: At, radius: f64, colour: &str) {
        self.put(format_args!(
            "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"{radius}\" fill=\"{colour}\"/>",
            at.0, at.1
        ));
    }

    pub(crate) fn ring(&mut self, at: At, radius: f64, stroke: Stroke) {
        self.put(format_args!(
            "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"{radius:.2}\" {}/>",
            at.0,
            at.1,
            stroke.attributes()
        ));
    }

    /// Axes and the turn of the first one, clockwise in degrees.
    pub(crate) fn ellipse(&mut self, at: At, axes: (f64, f64), turn_deg: f64, stroke: Stroke) {
        self.put(format_args!(
            "<ellipse rx=\"{:.2}\" ry=\"{:.2}\" transform=\"translate({:.2} {:.2}) rotate({turn_deg:.2})\" {}/>",
            axes.0,
            axes.1,
            at.0,
            at.1,
            stroke.attributes()
        ));
    }

    /// A rectangle filled, without an edge.
    pub(crate) fn block(&mut self, corner: At, size: At, colour: &str) {
        self.put(format_args!(
            "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" fill=\"{colour}\"/>",
            corner.0, corner.1, size.0, size.1
        ));
    }

    /// What lies between points, filled, without an edge.
    pub(crate) fn area(&mut self, points: impl IntoIterator<Item = At>, colour: &str) {
        let mut data = String::new();
        for (index, (x, y)) in points.into_iter().enumerate() {
            let _ = write!(data, "{}{x:.2} {y:.2}", if index == 0 { 'M' } else { 'L' });
        }
        if !data.is_empty() {
            self.put(format_args!("<path d=\"{data}Z\" fill=\"{colour}\"/>"));
        }
    }

    pub(crate) fn frame(&mut self, corner: At, size: At, stroke: Stroke) {
        self.put(format_args!(
            "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" {}/>",
            corner.0,
            corner.1,
            size.0,
            size.1,
            stroke.attributes()
        ));
    }

    /// Draws only within a rectangle.
    pub(crate) fn within(&mut self, corner: At, size: At, draw: impl FnOnce(&mut Self)) {
        self.clips += 1;
        let number = self.clips;
        self.put(format_args!(
            "<clipPath id=\"within{number}\"><rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\"/></clipPath>",
            corner.0, corner.1, size.0, size.1
        ));
        self.put(format_args!("<g clip-path=\"url(#within{number})\">"));
        draw(self);
        self.put(format_args!("</g>"));
    }

    /// Words on a white ground of their own shape, so that lines do not run through them.
    pub(crate) fn words(&mut self, at: At, size: f64, bold: bool, anchor: Anchor, words: &str) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let weight = if bold { " font-weight=\"bold\"" } else { "" };
        let words = escaped(words);
        self.put(format_args!(
            "<text x=\"{:.2}\" y=\"{:.2}\" font-size=\"{size}\" text-anchor=\"{anchor}\"{weight} fill=\"{BLACK}\" \
             stroke=\"{WHITE}\" stroke-width=\"{:.1}\" stroke-linejoin=\"round\" paint-order=\"stroke\">{words}</text>",
            at.0,
            at.1,
            size / 3.5
        ));
    }

    /// A whole SVG, set at the top left in its own size.
    pub(crate) fn picture(&mut self, svg: &str) {
        self.text.push_str(svg);
    }

    pub(crate) fn end(mut self) -> String {
        self.text.push_str("</svg>\n");
        self.text
    }
}

/// Text that cannot be taken for markup, everything in it seen.
pub(crate) fn escaped(words: &str) -> String {
    let mut text = String::new();
    for letter in words::quoted::escaped(words).chars() {
        match letter {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            // No XML has these.
            '\u{fffe}' | '\u{ffff}' => text.push('\u{fffd}'),
            letter => text.push(letter),
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn words_cannot_be_taken_for_markup() {
        assert_eq!(escaped("<b>&\u{1b}\u{202e}\u{ffff}"), "&lt;b&gt;&amp;\\u{1b}\\u{202e}\u{fffd}");
    }
}
