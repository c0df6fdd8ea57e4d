//! The sheet as a web page: one file, nothing fetched, no script.

use std::fmt::Write as _;

use words::CAUTION;

use super::content::{Gap, RECORD_HEADS, Sheet, TracingPart};
use super::disclusion::NOTE;
use super::paper::Paper;
use super::settings::{SETTING_HEADS, WITHHELD};
use crate::figures::Figure;
use crate::figures::svg::escaped;
use words::number::two_decimals;

const STYLE: &str = "
html { color: #000; background: #fff; font: 8.4pt/1.24 'DejaVu Sans Condensed', 'Liberation Sans', Arial, sans-serif; }
body { margin: 0 auto; max-width: 190mm; padding: 4mm; }
h1 { font-size: 14pt; margin: 0; }
h2 { font-size: 9.6pt; margin: 2mm 0 0.5mm; border-bottom: 0.3mm solid #000; }
p { margin: 0.5mm 0; }
table { border-collapse: collapse; }
td, th { padding: 0.1mm 1.4mm; line-height: 1.2; text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
td:first-child, th:first-child, td.words, th.words { text-align: left; padding-left: 0; }
td.words { padding-left: 1.4mm; }
thead th { font-weight: normal; color: #444; }
thead th.reach { text-align: left; padding-left: 3mm; }
thead th.group { font-weight: bold; color: #000; text-align: left; padding-left: 3mm; }
td.first, th.first { padding-left: 4mm; }
.caution { border: 0.35mm solid #000; padding: 0.6mm 2mm; font-weight: bold; margin: 1mm 0; }
.verdict { font-weight: bold; font-size: 10.5pt; }
.bad { border: 0.6mm solid #000; padding: 0 1.2mm; }
.gaps span { display: inline-block; margin-right: 4mm; white-space: nowrap; }
.value { font-weight: bold; }
.set { font-size: 9.4pt; }
.note { font-size: 7.4pt; color: #333; }
.side { display: flex; gap: 6mm; align-items: flex-start; }
.figure svg { width: 100%; height: auto; display: block; }
.hand { margin-top: 3mm; border-top: 0.2mm solid #000; white-space: pre-wrap; }
.hand p { margin: 1.2mm 0; }
.origin { font-size: 7.4pt; overflow-wrap: anywhere; border-top: 0.2mm solid #000; margin-top: 1.6mm; }
ul { margin: 0; padding-left: 4mm; }
@media print { body { padding: 0; max-width: none; } h2, table, .figure { break-inside: avoid; } }
";

/// The page.
pub(super) fn text(sheet: &Sheet, paper: Paper) -> String {
    let size = match paper {
        Paper::A4 => "A4",
        Paper::Letter => "letter",
    };
    let mut page = Page { text: String::new() };
    page.put(&format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{}</title>\n<style>\n\
         @page {{ size: {size}; margin: 9mm 12mm; }}{STYLE}</style>\n</head>\n<body>",
        escaped(&sheet.title),
    ));
    page.element("h1", "", &sheet.title);
    sheet.set_up.iter().for_each(|line| page.element("p", "", line));
    page.element("p", "caution", CAUTION);
    page.centric(sheet);
    page.settings(sheet);
    page.records(sheet);
    if !sheet.doubts.is_empty() {
        page.element("h2", "", "Warnings");
        page.put("<ul>");
        sheet.doubts.iter().for_each(|doubt| page.element("li", "", doubt));
        page.put("</ul>");
    }
    if !sheet.plan.is_empty() {
        page.element("h2", "", "Plan");
        sheet.plan.iter().for_each(|line| page.element("p", "", line));
    }
    page.teeth_and_tracing(sheet);
    page.put("<div class=\"hand\">");
    sheet.by_hand.iter().for_each(|line| page.element("p", "", line));
    page.put("</div>\n<div class=\"origin\">");
    sheet.origin.iter().for_each(|line| page.element("p", "", line));
    page.put("</div>\n</body>\n</html>");
    page.text
}

struct Page {
    text: String,
}

impl Page {
    fn put(&mut self, markup: &str) {
        self.text.push_str(markup);
        self.text.push('\n');
    }

    fn element(&mut self, name: &str, class: &str, words: &str) {
        let class = if class.is_empty() { String::new() } else { format!(" class=\"{class}\"") };
        // Writing to a String does not fail.
        let _ = writeln!(self.text, "<{name}{class}>{}</{name}>", escaped(words));
    }

    fn row(&mut self, cell: &str, cells: &[(&str, &str)]) {
        self.put("<tr>");
        cells.iter().for_each(|(class, words)| self.element(cell, class, words));
        self.put("</tr>");
    }

    fn centric(&mut self, sheet: &Sheet) {
        let Some(centric) = &sheet.centric else { return };
        self.element("h2", "", "Centric record");
        let class = if centric.confirmed { "verdict" } else { "verdict bad" };
        let _ = writeln!(
            self.text,
            "<p><span class=\"{class}\">{}</span> {}</p>",
            escaped(centric.word),
            escaped(&centric.sentences)
        );
        if !centric.gaps.is_empty() {
            let gap = |gap: &Gap| {
                let mark = if gap.too_large { "!" } else { "" };
                format!("<span>{} {}{mark}</span>", escaped(&gap.at), two_decimals(gap.mm))
            };
            let gaps: Vec<String> = centric.gaps.iter().map(gap).collect();
            self.put(&format!("<p class=\"gaps note\">Gaps in mm: {}</p>", gaps.join(" ")));
        }
    }

    fn settings(&mut self, sheet: &Sheet) {
        self.element("h2", "", "Settings");
        let settings = &sheet.settings;
        if settings.rows.is_empty() {
            self.element("p", "value", WITHHELD);
            return;
        }
        self.put("<table><thead>");
        let [set_to, read_as, from] = SETTING_HEADS;
        self.row("th", &[("", ""), ("", ""), ("", set_to), ("", read_as), ("words", from)]);
        self.put("</thead><tbody>");
        let mut last = "";
        for row in &settings.rows {
            let guide = if row.guide == last { "" } else { row.guide.as_str() };
            last = &row.guide;
            self.row(
                "td",
                &[
                    ("value", guide),
                    ("words", &row.name),
                    ("set value", &row.set_to),
                    ("", &row.read_as),
                    ("words", &row.from),
                ],
            );
        }
        self.put("</tbody></table>");
        settings.notes.iter().for_each(|note| self.element("p", "", note));
        self.element("p", "note", &settings.legend);
    }

    fn records(&mut self, sheet: &Sheet) {
        if sheet.records.is_empty() {
            return;
        }
        self.element("h2", "", "Records: condyles from their stops, mm");
        self.put(
            "<table><thead><tr><th></th><th></th><th class=\"group\" colspan=\"3\">right condyle</th>\
             <th class=\"group\" colspan=\"3\">left condyle</th></tr>",
        );
        self.row("th", &RECORD_HEADS.map(|head| (if head == "adv." { "first" } else { "" }, head)));
        self.put("</thead><tbody>");
        for row in &sheet.records {
            let cells: Vec<(&str, &str)> = row
                .iter()
                .enumerate()
                .map(|(place, cell)| (if place == 2 || place == 5 { "first" } else { "" }, cell.as_str()))
                .collect();
            self.row("td", &cells);
        }
        self.put("</tbody></table>");
    }

    fn teeth_and_tracing(&mut self, sheet: &Sheet) {
        if let Some(why) = &sheet.no_disclusion {
            self.element("h2", "", "Disclusion");
            self.element("p", "", why);
        }
        match (&sheet.disclusion, &sheet.tracing) {
            (None, None) => {}
            (None, Some(tracing)) => self.tracing(tracing, 80.0),
            (Some(_), None) => self.disclusion(sheet, 165.0),
            (Some(_), Some(tracing)) => {
                self.put("<div class=\"side\"><div style=\"flex: 1\">");
                self.disclusion(sheet, 118.0);
                self.put("</div><div>");
                self.tracing(tracing, 62.0);
                self.put("</div></div>");
            }
        }
    }

    fn disclusion(&mut self, sheet: &Sheet, width_mm: f64) {
        let Some(disclusion) = &sheet.disclusion else { return };
        self.element("h2", "", "Disclusion");
        self.put("<table><thead>");
        for (class, read) in [("group", 0), ("reach", 1)] {
            self.put("<tr><th></th>");
            for (name, reach) in &disclusion.excursions {
                let words = escaped([name, reach][read]);
                self.put(&format!("<th class=\"{class}\" colspan=\"3\">{words}</th>"));
            }
            self.put("</tr>");
        }
        let heads = [("first", "sep."), ("", "clear."), ("", "least")];
        let all: Vec<(&str, &str)> =
            std::iter::once(("", "")).chain(disclusion.excursions.iter().flat_map(|_| heads)).collect();
        self.row("th", &all);
        self.put("</thead><tbody>");
        for (cusp, numbers) in &disclusion.rows {
            let mut cells = vec![("", cusp.as_str())];
            for [separation, clearance, least] in numbers {
                cells.extend([("first", separation.as_str()), ("", clearance), ("", least)]);
            }
            self.row("td", &cells);
        }
        self.put("</tbody></table>");
        disclusion.notes.iter().for_each(|note| self.element("p", "", note));
        self.element("p", "note", NOTE);
        self.figure(&disclusion.figure, width_mm);
    }

    fn tracing(&mut self, tracing: &TracingPart, width_mm: f64) {
        self.element("h2", "", "Tracing");
        self.put(&format!("<div style=\"width: {width_mm}mm\">"));
        tracing.lines.iter().for_each(|line| self.element("p", "", line));
        self.figure(&tracing.figure, width_mm);
        self.put("</div>");
    }

    fn figure(&mut self, figure: &Figure, width_mm: f64) {
        let height_mm = width_mm * figure.height / figure.width;
        self.put(&format!("<div class=\"figure\" style=\"width: {width_mm}mm; height: {height_mm:.1}mm\">"));
        self.put(&figure.svg);
        self.put("</div>");
    }
}
