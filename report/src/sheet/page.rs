//! The sheet drawn as one page, in points from the top left.

use std::fmt::Write as _;

use words::CAUTION;

use super::content::{Gap, RECORD_HEADS, Sheet, TracingPart};
use super::disclusion::NOTE;
use super::paper::Paper;
use super::settings::{SETTING_HEADS, WITHHELD};
use crate::figures::Figure;
use crate::figures::letters::{NARROW_BOLD_CAPITAL, NARROW_BOLD_LETTER, NARROW_LETTER, width};
use crate::figures::svg::{FAMILY, escaped};
use words::number::two_decimals;

const MARGIN: f64 = 34.0;
/// Size of ordinary words, and of notes.
const SIZE: f64 = 8.0;
const SMALL: f64 = 6.8;
/// Size of the verdict.
const VERDICT: f64 = 10.5;
/// Lines stand so far apart, in sizes.
const LEADING: f64 = 1.32;
/// Lines to write on by hand stand so far apart, in points.
const HAND: f64 = 17.0;
/// No page is set smaller than this: five-point letters.
const SMALLEST: f64 = 0.6;
/// Height below which a figure shows nothing.
const LEAST_FIGURE: f64 = 90.0;
/// Width of a column of numbers.
const NUMBER: f64 = 32.0;

/// The page with its width and height.
pub(super) fn svg(sheet: &Sheet, paper: Paper) -> (String, f64, f64) {
    let (width, height) = paper.points();
    let text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\" font-family=\"'{FAMILY}'\">\n"
    );
    let mut page = Page { text, left: MARGIN, right: width - MARGIN, y: MARGIN };
    let bottom = page.hand_top(sheet, height) - 6.0;
    let (scale, content) = content(sheet, width, bottom);
    // Set smaller about the corner of the margins, where it begins.
    let shift = MARGIN * (1.0 - scale);
    let _ = writeln!(page.text, "<g transform=\"translate({shift:.3} {shift:.3}) scale({scale})\">");
    page.text.push_str(&content);
    page.text.push_str("</g>\n");
    page.by_hand(sheet, height);
    page.origin(sheet, height);
    page.text.push_str("</svg>\n");
    (page.text, width, height)
}

/// All above the lines to fill in by hand, and how small it is set to stand there: where there is more than usual, it
/// is set on a page as much larger and shrunk.
fn content(sheet: &Sheet, width: f64, bottom: f64) -> (f64, String) {
    let mut scale = 1.0;
    loop {
        let right = MARGIN + (width - 2.0 * MARGIN) / scale;
        let bottom = MARGIN + (bottom - MARGIN) / scale;
        let mut page = Page { text: String::new(), left: MARGIN, right, y: MARGIN };
        page.heads(sheet);
        page.centric(sheet);
        page.settings(sheet);
        page.records(sheet);
        page.doubts(sheet);
        page.plan(sheet);
        page.teeth_and_tracing(sheet, bottom);
        if page.y <= bottom || scale <= SMALLEST {
            return (scale, page.text);
        }
        scale -= 0.04;
    }
}

#[derive(Clone, Copy)]
enum Anchor {
    Start,
    End,
}

struct Page {
    text: String,
    left: f64,
    right: f64,
    /// How far down the page is written.
    y: f64,
}

impl Page {
    fn words(&mut self, x: f64, y: f64, size: f64, bold: bool, anchor: Anchor, words: &str) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::End => "end",
        };
        let weight = if bold { " font-weight=\"bold\"" } else { "" };
        // Writing to a String does not fail.
        let _ = writeln!(
            self.text,
            "<text x=\"{x:.2}\" y=\"{y:.2}\" font-size=\"{size}\" text-anchor=\"{anchor}\"{weight}>{}</text>",
            escaped(words),
        );
    }

    /// Words over as many lines as they need.
    fn paragraph(&mut self, size: f64, bold: bool, words: &str) {
        let letters = ((self.right - self.left) / (size * NARROW_LETTER)) as usize;
        for line in textwrap::wrap(words, letters.max(8)) {
            self.y += size * LEADING;
            self.words(self.left, self.y, size, bold, Anchor::Start, &line);
        }
    }

    fn rule(&mut self, y: f64, width: f64) {
        let _ = writeln!(
            self.text,
            "<path d=\"M{:.2} {y:.2}L{:.2} {y:.2}\" stroke=\"#000000\" stroke-width=\"{width}\"/>",
            self.left, self.right
        );
    }

    fn section(&mut self, name: &str) {
        self.y += 17.0;
        self.words(self.left, self.y, 9.2, true, Anchor::Start, name);
        self.y += 3.0;
        self.rule(self.y, 0.8);
        self.y += 1.0;
    }

    fn boxed(&mut self, top: f64, right: f64, bottom: f64, width: f64) {
        let _ = writeln!(
            self.text,
            "<rect x=\"{:.2}\" y=\"{top:.2}\" width=\"{:.2}\" height=\"{:.2}\" fill=\"none\" stroke=\"#000000\" \
             stroke-width=\"{width}\"/>",
            self.left,
            right - self.left,
            bottom - top,
        );
    }

    /// A row: words on the left, numbers ending at these places.
    fn row(&mut self, size: f64, first: &str, cells: &[(f64, &str)]) {
        self.y += size * 1.36;
        let y = self.y;
        self.words(self.left, y, size, false, Anchor::Start, first);
        for (x, cell) in cells {
            // A mark hangs behind its number, so that numbers stay under each other.
            let number = cell.trim_end_matches('!');
            self.words(*x, y, size, false, Anchor::End, number);
            if number.len() < cell.len() {
                self.words(*x + 0.5, y, size, true, Anchor::Start, "!");
            }
        }
    }

    fn heads(&mut self, sheet: &Sheet) {
        self.y += 12.0;
        // A long title is set smaller rather than run over the edge.
        let most = (self.right - self.left) / (sheet.title.chars().count() as f64 * NARROW_BOLD_LETTER);
        self.words(self.left, self.y, most.min(14.0), true, Anchor::Start, &sheet.title);
        self.y += 3.0;
        sheet.set_up.iter().for_each(|line| self.paragraph(SIZE, false, line));
        self.y += 6.0;
        let top = self.y;
        self.left += 5.0;
        self.paragraph(SIZE, true, CAUTION);
        self.left -= 5.0;
        self.y += 4.0;
        self.boxed(top, self.right, self.y, 1.0);
    }

    fn centric(&mut self, sheet: &Sheet) {
        let Some(centric) = &sheet.centric else { return };
        self.section("Centric record");
        let top = self.y + 3.0;
        self.y += 14.0;
        self.words(self.left + 4.0, self.y, VERDICT, true, Anchor::Start, centric.word);
        if !centric.confirmed {
            let right = self.left + 8.0 + width(centric.word, VERDICT, NARROW_BOLD_CAPITAL);
            self.boxed(top, right, self.y + 4.0, 1.6);
            self.y += 4.0;
        }
        self.paragraph(SIZE, false, &centric.sentences);
        if !centric.gaps.is_empty() {
            // Gaps are not torn from their names.
            let gap = |gap: &Gap| {
                let mark = if gap.too_large { "!" } else { "" };
                format!("{} {}{mark}", gap.at, two_decimals(gap.mm)).replace(' ', "\u{a0}")
            };
            let gaps: Vec<String> = centric.gaps.iter().map(gap).collect();
            self.paragraph(SMALL, false, &format!("Gaps in mm: {}", gaps.join(";  ")));
        }
    }

    fn settings(&mut self, sheet: &Sheet) {
        self.section("Settings");
        let settings = &sheet.settings;
        if settings.rows.is_empty() {
            self.y += 2.0;
            self.paragraph(SIZE, true, WITHHELD);
            return;
        }
        let left = self.left;
        let [name, set_to, read_as, from] = [84.0, 248.0, 328.0, 338.0].map(|x| left + x);
        self.y += SMALL * 1.3;
        let heads = [(set_to, Anchor::End), (read_as, Anchor::End), (from, Anchor::Start)];
        for ((x, anchor), head) in heads.into_iter().zip(SETTING_HEADS) {
            self.words(x, self.y, SMALL, false, anchor, head);
        }
        let mut last = "";
        for row in &settings.rows {
            self.y += SIZE * 1.4;
            let y = self.y;
            if row.guide != last {
                self.words(left, y, SIZE, true, Anchor::Start, &row.guide);
            }
            last = &row.guide;
            self.words(name, y, SIZE, false, Anchor::Start, &row.name);
            self.words(set_to, y, SIZE + 1.0, true, Anchor::End, &row.set_to);
            self.words(read_as, y, SIZE, false, Anchor::End, &row.read_as);
            self.words(from, y, SIZE, false, Anchor::Start, &row.from);
        }
        self.y += 1.5;
        settings.notes.iter().for_each(|note| self.paragraph(SIZE, false, note));
        self.paragraph(SMALL, false, &settings.legend);
    }

    fn records(&mut self, sheet: &Sheet) {
        if sheet.records.is_empty() {
            return;
        }
        self.section("Records: condyles from their stops, mm");
        let x = |column: usize| {
            let group = if column >= 5 { 2.0 } else { f64::from(u8::from(column >= 2)) };
            MARGIN + 80.0 + column as f64 * (NUMBER + 2.0) + group * 14.0
        };
        self.y += SIZE * 1.3;
        let y = self.y;
        for (column, name) in [(2, "right condyle"), (5, "left condyle")] {
            self.words(x(column) - 18.0, y, SIZE, true, Anchor::Start, name);
        }
        let heads: Vec<(f64, &str)> =
            RECORD_HEADS.iter().enumerate().skip(1).map(|(column, head)| (x(column), *head)).collect();
        self.row(SMALL, "", &heads);
        for row in &sheet.records {
            let cells: Vec<(f64, &str)> =
                row.iter().enumerate().skip(1).map(|(column, cell)| (x(column), cell.as_str())).collect();
            self.row(SIZE, &row[0], &cells);
        }
    }

    fn doubts(&mut self, sheet: &Sheet) {
        if sheet.doubts.is_empty() {
            return;
        }
        self.section("Warnings");
        for doubt in &sheet.doubts {
            let y = self.y;
            self.left += 9.0;
            self.paragraph(SIZE, false, doubt);
            self.left -= 9.0;
            self.words(self.left + 1.0, y + SIZE * LEADING, SIZE, false, Anchor::Start, "–");
        }
    }

    fn plan(&mut self, sheet: &Sheet) {
        if sheet.plan.is_empty() {
            return;
        }
        self.section("Plan");
        for line in &sheet.plan {
            self.paragraph(SIZE, false, line);
        }
    }

    fn teeth_and_tracing(&mut self, sheet: &Sheet, bottom: f64) {
        if let Some(why) = &sheet.no_disclusion {
            self.section("Disclusion");
            self.paragraph(SIZE, false, why);
        }
        let (left, right, top) = (self.left, self.right, self.y);
        let mut end = top;
        if let Some(tracing) = &sheet.tracing {
            if sheet.disclusion.is_some() {
                self.left = right - 176.0;
                self.tracing(tracing, bottom);
            } else {
                self.tracing_alone(tracing, bottom);
            }
            end = self.y;
            (self.left, self.right, self.y) = (left, right, top);
            if sheet.disclusion.is_some() {
                self.right = right - 190.0;
            }
        }
        self.disclusion(sheet, bottom);
        self.right = right;
        self.y = self.y.max(end);
    }

    fn disclusion(&mut self, sheet: &Sheet, bottom: f64) {
        let Some(disclusion) = &sheet.disclusion else { return };
        self.section("Disclusion");
        let longest = disclusion.rows.iter().map(|(cusp, _)| cusp.chars().count()).max().unwrap_or_default();
        let names = longest as f64 * SIZE * NARROW_LETTER + 4.0;
        let group = (self.right - self.left - names) / disclusion.excursions.len().max(1) as f64;
        let number = (group / 3.3).min(NUMBER + 4.0);
        let left = self.left;
        let x = |excursion: usize, column: usize| {
            left + names + excursion as f64 * group + (column as f64 + 1.0) * number
        };
        self.y += SIZE * 1.3;
        let y = self.y;
        for (index, (name, reach)) in disclusion.excursions.iter().enumerate() {
            let x = x(index, 0) - number * 0.62;
            self.words(x, y, SIZE, true, Anchor::Start, name);
            self.words(x, y + SIZE * 1.15, SMALL, false, Anchor::Start, reach);
        }
        self.y += SIZE * 1.15;
        let count = disclusion.excursions.len();
        let heads: Vec<(f64, &str)> = (0..count)
            .flat_map(|index| {
                ["sep.", "clear.", "least"]
                    .into_iter()
                    .enumerate()
                    .map(move |(column, head)| (x(index, column), head))
            })
            .collect();
        self.row(SMALL, "", &heads);
        for (cusp, numbers) in &disclusion.rows {
            let cells: Vec<(f64, &str)> = numbers
                .iter()
                .enumerate()
                .flat_map(|(index, three)| {
                    three.iter().enumerate().map(move |(column, cell)| (x(index, column), cell.as_str()))
                })
                .collect();
            self.row(SIZE, cusp, &cells);
        }
        for note in &disclusion.notes {
            self.paragraph(SIZE, false, note);
        }
        self.y += 1.5;
        self.paragraph(SMALL, false, NOTE);
        self.y += 5.0;
        self.figure(&disclusion.figure, bottom);
    }

    /// What is found on the left, the plate beside it.
    fn tracing_alone(&mut self, tracing: &TracingPart, bottom: f64) {
        let left = self.left;
        self.section("Tracing");
        let top = self.y;
        tracing.lines.iter().for_each(|line| self.paragraph(SIZE, false, line));
        let end = self.y;
        (self.left, self.y) = (left + 220.0, top + 5.0);
        self.right = self.left + 240.0;
        self.figure(&tracing.figure, bottom);
        self.y = self.y.max(end);
    }

    fn tracing(&mut self, tracing: &TracingPart, bottom: f64) {
        self.section("Tracing");
        for line in &tracing.lines {
            self.paragraph(SIZE, false, line);
        }
        self.y += 5.0;
        self.figure(&tracing.figure, bottom);
    }

    /// A figure as wide as the column, or as fits above the bottom.
    fn figure(&mut self, figure: &Figure, bottom: f64) {
        let width = self.right - self.left;
        let scale = (width / figure.width).min((bottom - self.y).max(LEAST_FIGURE) / figure.height);
        let (width, height) = (figure.width * scale, figure.height * scale);
        // The figure's own size gives way to its place; what it is drawn in stays.
        let Some(from) = figure.svg.find(" viewBox") else { return };
        let _ = write!(
            self.text,
            "<svg x=\"{:.2}\" y=\"{:.2}\" width=\"{width:.2}\" height=\"{height:.2}\"{}",
            self.left,
            self.y,
            &figure.svg[from..],
        );
        self.y += height;
    }

    /// Where the lines to fill in by hand begin: they stand at the foot, whatever stands above.
    fn hand_top(&self, sheet: &Sheet, height: f64) -> f64 {
        height - MARGIN - 26.0 - HAND * sheet.by_hand.len() as f64
    }

    fn by_hand(&mut self, sheet: &Sheet, height: f64) {
        let top = self.hand_top(sheet, height);
        self.rule(top, 0.5);
        for (index, line) in sheet.by_hand.iter().enumerate() {
            // Spaces that part the places to fill in are kept.
            let line = line.replace(' ', "\u{a0}");
            let y = top + HAND * (index as f64 + 1.0) - 4.0;
            self.words(self.left, y, SIZE, false, Anchor::Start, &line);
        }
    }

    fn origin(&mut self, sheet: &Sheet, height: f64) {
        let y = height - MARGIN - 18.0;
        self.rule(y, 0.5);
        for (index, line) in sheet.origin.iter().enumerate() {
            self.words(self.left, y + 9.5 * (index as f64 + 1.0), SMALL, false, Anchor::Start, line);
        }
    }
}

#[cfg(test)]
mod tests {
    use resvg::usvg::roxmltree::{Document, Node};
    use sim_core::record::{Case, RecordFields};

    use super::super::content::{Beside, SheetOptions};
    use super::*;
    use crate::case::WorkedCase;

    fn demo(name: &str) -> Case {
        let path = format!("{}/../scenes/cases/{name}", env!("CARGO_MANIFEST_DIR"));
        Case::from_ron(&std::fs::read_to_string(path).expect("it is there")).expect("it is a case")
    }

    fn sheet(case: Case) -> Sheet {
        let worked = WorkedCase::of(case, "case.ron".to_owned(), String::new()).expect("it programs");
        Sheet::of(&worked, &SheetOptions::default(), Beside::default())
    }

    fn number(node: &Node<'_, '_>, name: &str) -> f64 {
        node.attribute(name)
            .and_then(|text| text.parse().ok())
            .unwrap_or_else(|| panic!("{name} of {node:?}"))
    }

    /// How low anything above the lines to fill in stands, and where those begin; figures count whole.
    fn lowest(sheet: &Sheet, paper: Paper) -> (f64, f64, f64) {
        let (svg, width, height) = svg(sheet, paper);
        let document = Document::parse(&svg).expect("it is XML");
        let group = document.root_element().first_element_child().expect("a group");
        assert!(group.has_tag_name("g"));
        let transform = group.attribute("transform").expect("a transform");
        let scale: f64 = transform
            .rsplit_once("scale(")
            .expect("a scale")
            .1
            .trim_end_matches(')')
            .parse()
            .expect("a number");
        let shift = MARGIN * (1.0 - scale);
        let mut low: f64 = 0.0;
        for node in group.children().filter(Node::is_element) {
            let end = match node.tag_name().name() {
                "text" | "rect" => number(&node, "y"),
                "svg" => {
                    assert!(number(&node, "height") >= LEAST_FIGURE - 0.01, "a figure shows something");
                    number(&node, "y") + number(&node, "height")
                }
                _ => continue,
            };
            low = low.max(shift + end * scale);
        }
        let hands = document.root_element().children().filter(|node| node.has_tag_name("path"));
        let hand =
            hands.filter_map(|node| node.attribute("d")?.split(['M', ' ', 'L']).nth(2)?.parse::<f64>().ok());
        let hand = hand.fold(f64::INFINITY, f64::min);
        assert!(width > 500.0 && hand < height, "{hand} on {height}");
        (low, hand, scale)
    }

    #[test]
    fn nothing_runs_into_the_lines_to_fill_in() {
        for paper in [Paper::A4, Paper::Letter] {
            for name in ["dentate.ron", "edentulous.ron", "faulty_centric.ron"] {
                let (low, hand, scale) = lowest(&sheet(demo(name)), paper);
                assert!(low < hand, "{name}: {low} runs into {hand}");
                assert!(scale > 0.9, "{name} is legible: {scale}");
            }
        }
    }

    #[test]
    fn very_much_of_everything_is_set_smaller_and_still_stands_above_them() {
        let mut case = demo("dentate.ron");
        let cusps = case.cusps.clone();
        case.cusps = (0..4).flat_map(|_| cusps.clone()).collect();
        for (index, cusp) in case.cusps.iter_mut().enumerate() {
            cusp.name = format!("a very long name, {index}");
        }
        let is_protrusive = |record: &&RecordFields| matches!(record, RecordFields::Protrusive(_));
        let protrusive = case.records.iter().find(is_protrusive).expect("a protrusive record").clone();
        case.records.extend(std::iter::repeat_n(protrusive, 20));
        let mut full = sheet(case);
        full.doubts = vec!["words ".repeat(40); 6];
        full.plan = vec!["words ".repeat(50); 4];
        for paper in [Paper::A4, Paper::Letter] {
            let (low, hand, scale) = lowest(&full, paper);
            assert!(low < hand, "{low} runs into {hand}");
            assert!((SMALLEST..1.0).contains(&scale), "{scale}");
        }
    }
}
