//! The report of a study: one web page, nothing fetched, no script, to be printed too.

use std::io::{self, Write};

use super::picture::Picture;
use super::summary::StudySummary;
use super::wording::{Row, SummaryWording, WordedTable};
use crate::figures::svg::escaped;
use words::CAUTION;

const STYLE: &str = "
@page { size: A4; margin: 12mm; }
html { color: #000; background: #fff; font: 10pt/1.35 'DejaVu Sans', 'Liberation Sans', Arial, sans-serif; }
body { margin: 0 auto; max-width: 190mm; padding: 5mm; }
h1 { font-size: 16pt; margin: 0 0 2mm; }
h2 { font-size: 12pt; margin: 6mm 0 1mm; border-bottom: 0.3mm solid #000; }
p, dl { margin: 1mm 0; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 0 4mm; }
dt { color: #444; }
dd { margin: 0; overflow-wrap: anywhere; }
.caution { border: 0.35mm solid #000; padding: 1mm 2mm; font-weight: bold; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; margin: 4mm 0 1mm; font-size: 8.4pt; }
caption { text-align: left; font-weight: bold; font-size: 10pt; padding-bottom: 1mm; }
td, thead th { text-align: right; font-variant-numeric: tabular-nums; padding: 0.3mm 1.4mm; white-space: nowrap; }
thead th { font-weight: normal; color: #444; border-bottom: 0.2mm solid #000; vertical-align: bottom; }
tbody th { text-align: left; font-weight: normal; padding: 0.3mm 2mm 0.3mm 3mm; }
tbody th.group { font-weight: bold; padding: 1.2mm 0 0.3mm; }
td.words, thead th.words { text-align: left; white-space: normal; }
.note { font-size: 8.4pt; color: #333; }
figure { margin: 4mm 0; break-inside: avoid; }
figure svg { max-width: 100%; height: auto; display: block; }
figcaption { font-size: 8.4pt; color: #333; }
@media print { body { padding: 0; max-width: none; } tr, figure { break-inside: avoid; } h2, caption { break-after: avoid; } }
";

/// Writes it; `sentences` say which pictures there are.
pub fn write(
    summary: &StudySummary,
    pictures: &[Picture],
    sentences: &[String],
    out: &mut dyn Write,
) -> io::Result<()> {
    let wording = SummaryWording::of(summary);
    let title = escaped(&summary.title);
    write!(
        out,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n<title>{title}</title>\n\
         <style>{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>\n<p class=\"caution\">{}</p>\n<dl>\n",
        escaped(CAUTION)
    )?;
    for (name, value) in &wording.facts {
        writeln!(out, "<dt>{}</dt><dd>{}</dd>", escaped(name), escaped(value))?;
    }
    let program = built::in_a_line(built::VERSION, built::COMMIT, Some(built::BUILD));
    writeln!(
        out,
        "<dt>This report</dt><dd>{}, eminentia {}, {}</dd>",
        files::day::today(),
        escaped(&program),
        escaped(built::PLATFORM)
    )?;
    writeln!(out, "</dl>")?;
    list(out, "Warnings", &wording.warnings)?;
    list(out, "What to keep in mind", &wording.notes)?;
    writeln!(out, "<h2>In numbers</h2>")?;
    wording.tables.iter().try_for_each(|worded_table| table(out, worded_table))?;
    if !pictures.is_empty() || !sentences.is_empty() {
        writeln!(out, "<h2>In pictures</h2>")?;
        sentences
            .iter()
            .try_for_each(|sentence| writeln!(out, "<p class=\"note\">{}</p>", escaped(sentence)))?;
    }
    for picture in pictures {
        let caption = escaped(&picture.caption);
        writeln!(
            out,
            "<figure>\n<div role=\"img\" aria-label=\"{}\">\n{}</div>\n<figcaption><b>{caption}.</b> {}</figcaption>\n</figure>",
            caption.replace('"', "&quot;"),
            picture.figure.svg,
            escaped(&picture.figure.explanation)
        )?;
    }
    writeln!(out, "</body>\n</html>")
}

fn list(out: &mut dyn Write, head: &str, sentences: &[String]) -> io::Result<()> {
    if sentences.is_empty() {
        return Ok(());
    }
    writeln!(out, "<h2>{head}</h2>\n<ul>")?;
    sentences.iter().try_for_each(|sentence| writeln!(out, "<li>{}</li>", escaped(sentence)))?;
    writeln!(out, "</ul>")
}

fn table(out: &mut dyn Write, table: &WordedTable) -> io::Result<()> {
    writeln!(
        out,
        "<div class=\"wide\"><table>\n<caption>{}</caption>\n<thead><tr>",
        escaped(&table.caption)
    )?;
    // Words stand at the left, numbers at the right.
    let class = |place: usize| if table.of_words == Some(place) { " class=\"words\"" } else { "" };
    for (place, head) in table.heads.iter().enumerate() {
        if head.is_empty() {
            write!(out, "<td></td>")?;
        } else {
            write!(out, "<th scope=\"col\"{}>{}</th>", class(place), escaped(head))?;
        }
    }
    writeln!(out, "</tr></thead>\n<tbody>")?;
    for row in &table.rows {
        match row {
            Row::Group(head) => writeln!(
                out,
                "<tr><th class=\"group\" scope=\"rowgroup\" colspan=\"{}\">{}</th></tr>",
                table.heads.len(),
                escaped(head)
            )?,
            Row::Cells(cells) => {
                for (place, cell) in cells.iter().enumerate() {
                    let cell = escaped(cell);
                    match place {
                        0 => write!(out, "<tr><th scope=\"row\">{cell}</th>")?,
                        _ => write!(out, "<td{}>{cell}</td>", class(place))?,
                    }
                }
                writeln!(out, "</tr>")?;
            }
        }
    }
    writeln!(out, "</tbody>\n</table></div>")?;
    if table.note.is_empty() {
        Ok(())
    } else {
        writeln!(out, "<p class=\"note\">{}</p>", escaped(&table.note))
    }
}
