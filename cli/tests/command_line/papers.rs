//! Whatever a title holds, what stands on the page is the title: seen, searchable, and no command to anybody. Letters
//! that the typeface lacks are named.

use std::fs;

use words::quoted::escaped;

use crate::helpers::{Folder, Parts, case_text, run};
use crate::pdf_text::PdfText;

/// Titles: commands of a terminal, marks of direction, ends of lines; markup; formulas; other letters. Each short enough for
/// a sheet, which cuts long ones.
const TITLES: [&str; 7] = [
    "\u{1b}]0;pwned\u{7}\u{1b}[2J\u{9b}2J",
    "turned \u{202e}gnp\u{2066} round\u{200b}",
    "one\nerror: forged\r\n",
    "<script>alert(1)</script> & \"more\"",
    "=HYPERLINK(1)",
    "Größe, Ωμέγα, Проверка",
    "患者 漢字 of a patient",
];
/// Those that DejaVu has no shape for, in the order of their code points.
const LACKING: [char; 4] = ['字', '患', '漢', '者'];

/// A text without blanks, as it is drawn: without those letters that have no shape.
fn as_drawn(title: &str) -> String {
    escaped(title).chars().filter(|letter| !letter.is_whitespace() && !LACKING.contains(letter)).collect()
}

fn without_blanks(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

/// A text of ours with its title replaced.
fn titled(text: &str, title: &str) -> String {
    let at = text.find("title: \"").unwrap() + "title: \"".len();
    let end = at + text[at..].find('"').unwrap();
    format!("{}{}{}", &text[..at], title.escape_default(), &text[end..])
}

/// The PDF says the title and nothing that steers, and what it could not draw is warned of.
fn paper(folder: &Folder, name: &str, title: &str, said: &str) {
    let pdf = PdfText::of(&fs::read(folder.path(name)).unwrap());
    assert!(pdf.letters.contains(&as_drawn(title)), "{title:?} is not in {}", pdf.letters);
    assert!(!pdf.letters.chars().any(words::quoted::steers), "{}", pdf.letters);
    assert!(pdf.title.contains(&*escaped(title)), "{:?} is not {title:?}", pdf.title);
    assert!(!pdf.title.chars().any(words::quoted::steers), "{:?}", pdf.title);
    let lacking =
        LACKING.into_iter().filter(|letter| title.contains(*letter)).map(String::from).collect::<Vec<_>>();
    if lacking.is_empty() {
        assert!(!said.contains("typeface"), "{title:?}: {said}");
    } else {
        assert!(said.contains(name) && said.contains(&format!("has no {};", lacking.join(" "))), "{said}");
    }
}

/// Words of an SVG, without blanks.
fn words_of(svg: &str) -> String {
    let drawn = resvg::usvg::roxmltree::Document::parse(svg).unwrap();
    without_blanks(
        &drawn.descendants().filter_map(|node| node.is_text().then(|| node.text())?).collect::<String>(),
    )
}

#[test]
fn a_title_stands_on_sheet_figure_and_terminal_as_what_it_is() {
    let folder = Folder::new();
    for title in TITLES {
        let scene = folder.file("scene.ron", titled(&Parts::default().text(), title));
        let case = folder.file("case.ron", titled(&case_text("dentate.ron"), title));
        for input in [&scene, &case] {
            let left = run(&["sheet", input, "--out", &folder.shell("sheet.pdf")]);
            assert_eq!(left.status, 0, "{}", left.err);
            paper(&folder, "sheet.pdf", title, &left.err);
        }
        let left = run(&["sheet", &scene, "--out", &folder.shell("sheet.html")]);
        let page = fs::read_to_string(folder.path("sheet.html")).unwrap();
        let written = escaped(title).replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
        assert!(page.contains(&written) && !page.contains("<script>alert"), "{title:?}: {page}");
        assert!(left.err.is_empty(), "HTML takes the reader's typeface: {}", left.err);

        let plot = |name: &str| {
            let left =
                run(&["excursion", &scene, "--samples", "3", "--plot", &folder.shell(name), "--plot-title"]);
            assert_eq!(left.status, 0, "{}", left.err);
            left
        };
        let left = plot("plot.pdf");
        paper(&folder, "plot.pdf", title, &left.err);
        assert!(
            without_blanks(&left.out).contains(&without_blanks(&escaped(title))),
            "{title:?}: {}",
            left.out
        );
        plot("plot.svg");
        let svg = fs::read_to_string(folder.path("plot.svg")).unwrap();
        assert!(words_of(&svg).contains(&without_blanks(&escaped(title))), "{title:?}: {svg}");
    }
}

#[test]
fn a_cusp_stands_on_the_figures_of_a_study_and_in_its_cells_as_what_it_is() {
    let folder = Folder::new();
    let name = "=cmd()\u{1b}[2J\u{202e}<b>Ωμ患";
    let cusps = crate::helpers::TWO_CUSPS.replacen("mesiobuccal", &name.escape_default().to_string(), 1);
    folder.scene(&Parts { cusps: cusps.leak(), ..Parts::default() });
    let study = format!(
        "(title: \"A study\", scene: \"scene.ron\", factors: [\
         (setting: \"horizontal_inclination_deg\", values: Range(from: 20.0, to: 40.0, steps: 5)),\
         (setting: \"lateral_angle_deg\", values: Range(from: 10.0, to: 20.0, steps: 5))], plan: FullGrid, \
         record: (measures: [Clearance], advances_mm: [3.0], cusps: [\"36.{}\"]))",
        name.escape_default()
    );
    let study = folder.file("study.ron", study);
    let table = folder.shell("t.parquet");
    let ran = run(&["study", "run", &study, "--out", &table]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let plots = folder.shell("plots");
    let left = run(&["study", "summary", &table, "--plots", &plots, "--plot-title"]);
    assert_eq!(left.status, 0, "{}", left.err);
    let shown = without_blanks(&escaped(name));
    assert!(without_blanks(&left.out).contains(&shown), "{}", left.out);
    assert!(left.err.contains("--plots ") && left.err.contains("has no 患;"), "{}", left.err);
    let (mut papers, mut pictures) = (0, 0);
    for entry in fs::read_dir(&plots).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "pdf") {
            let pdf = PdfText::of(&fs::read(&path).unwrap());
            assert!(
                !pdf.letters.chars().chain(pdf.title.chars()).any(words::quoted::steers),
                "{}",
                pdf.letters
            );
            papers += usize::from(pdf.letters.contains(&shown.replace('患', "")));
        } else if path.extension().is_some_and(|ending| ending == "svg") {
            pictures += usize::from(words_of(&fs::read_to_string(&path).unwrap()).contains(&shown));
        }
    }
    assert!(papers > 0 && papers == pictures, "{papers} and {pictures} figures name the cusp");
    let captions = fs::read_to_string(folder.path("plots").join("captions.txt")).unwrap();
    assert!(without_blanks(&captions).contains(&shown), "{captions}");
    assert!(!captions.chars().any(|letter| letter != '\n' && words::quoted::steers(letter)), "{captions:?}");
    let rows = run(&["excursion", &folder.shell("scene.ron"), "--format", "csv", "--samples", "2"]);
    assert!(rows.out.contains(&format!(",'{}", escaped(name))), "{}", rows.out);
}
