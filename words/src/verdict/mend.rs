//! What mending found in a scan, and did.

use sim_core::cast::{Islands, MendReport};

use super::count;
use crate::number::{length, two_decimals};

/// What a person should know before relying on the surface; empty for a clean scan. Open borders,
/// and the repeated vertices that some formats always have, are no reason.
#[must_use]
pub fn warnings(report: &MendReport) -> Vec<String> {
    let mut sentences = counted(&[
        (report.triangles_degenerate, "Triangles without area, taken out"),
        (report.needles_swapped, "Triangles without area, cut the other way with their neighbours"),
        (report.triangles_twice, "Triangles there twice, taken out"),
        (report.vertices_merged_near, "Vertices within 0.1 µm of another, merged with it"),
        (report.triangles_turned, "Triangles that faced the other way than the rest of their shell, turned"),
        (report.closed_shells_turned, "Closed shells that were inside out, turned"),
        (
            report.one_sided_edges,
            "Edges that join the surface to its own other side, so that it has no outside",
        ),
        (report.crowded_edges, "Edges of more than two triangles, where the surface branches"),
        (report.labels_of_other_arch, "Triangles labelled as teeth of the other arch, labels taken off"),
    ]);
    let Islands { count: islands, triangles, area_mm2, largest_mm2 } = report.islands;
    if islands > 0 {
        sentences.push(format!(
            "Stray islands, taken out: {} ({} triangles, {} mm² in all, the largest {} mm²).",
            count(islands),
            count(triangles),
            two_decimals(area_mm2),
            two_decimals(largest_mm2),
        ));
    }
    sentences
}

/// Everything found and done, as short sentences.
#[must_use]
pub fn sentences(report: &MendReport) -> Vec<String> {
    let mut sentences = vec![
        format!(
            "Read {} triangles and {} vertices; kept {} triangles and {} vertices.",
            count(report.triangles_read),
            count(report.vertices_read),
            count(report.triangles_kept()),
            count(report.vertices_kept()),
        ),
        format!(
            "Shells: {}, of which closed: {}; open borders: {}, {} long in all.",
            count(report.shells),
            count(report.closed_shells),
            count(report.borders),
            length(report.border_length, 1),
        ),
    ];
    sentences.extend(counted(&[
        (report.vertices_merged_same, "Vertices with the coordinates of another, merged with it"),
        (report.vertices_unused, "Vertices of no triangle, taken out"),
        (report.hollows, "Closed shells that are walls of hollows and face into them"),
    ]));
    sentences.extend(warnings(report));
    sentences
}

/// What was counted, where there is any of it.
fn counted(found: &[(usize, &str)]) -> Vec<String> {
    found.iter().filter(|(of, _)| *of > 0).map(|(of, what)| format!("{what}: {}.", count(*of))).collect()
}

#[cfg(test)]
mod tests {
    use sim_core::units::Length;

    use super::*;

    /// Every count its own number, so that none stands for another.
    const REPORT: MendReport = MendReport {
        vertices_read: 1_258,
        triangles_read: 2_512,
        vertices_merged_same: 3,
        vertices_merged_near: 4,
        vertices_unused: 5,
        triangles_degenerate: 6,
        needles_swapped: 7,
        triangles_twice: 8,
        islands: Islands { count: 2, triangles: 9, area_mm2: 1.239, largest_mm2: 1.0 },
        triangles_turned: 10,
        closed_shells_turned: 11,
        one_sided_edges: 12,
        crowded_edges: 13,
        shells: 14,
        closed_shells: 15,
        hollows: 16,
        borders: 17,
        border_length: Length::from_mm(18.04),
        labels_of_other_arch: 19,
    };

    #[test]
    fn everything_counted_is_said_once() {
        let said = sentences(&REPORT);
        assert_eq!(
            said[..2],
            [
                "Read 2,512 triangles and 1,258 vertices; kept 2,489 triangles and 1,246 vertices.",
                "Shells: 14, of which closed: 15; open borders: 17, 18.0 mm long in all.",
            ]
        );
        // The counts of the fields, in the order of the sentences.
        let MendReport { vertices_merged_same, vertices_unused, hollows, .. } = REPORT;
        let counts = [vertices_merged_same, vertices_unused, hollows, 6, 7, 8, 4, 10, 11, 12, 13, 19];
        for (sentence, count) in said[2..14].iter().zip(counts) {
            assert!(sentence.ends_with(&format!(": {count}.")), "{sentence}");
        }
        assert_eq!(
            said[14..],
            ["Stray islands, taken out: 2 (9 triangles, 1.24 mm² in all, the largest 1.00 mm²)."]
        );
        assert_eq!(said[5..], warnings(&REPORT));
    }
}
