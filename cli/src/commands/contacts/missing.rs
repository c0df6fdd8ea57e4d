//! What balance lacks, as a table shows it: first where the scheme fails, then tooth by tooth.

use std::io::{self, Write};

use sim_core::occlusion::{ContactKind, Lack, Missing, MissingContacts};

use super::beside::write_beside;
use crate::output::{ALARM, Cell, FAINT, Grid};
use report::guidance::pair_words;
use words::number::{percent, two_decimals};

pub(super) const LEGEND: &str = "Missing: upper teeth that no film marks somewhere on the way. nearest: the lower tooth \
    that comes nearest where they are farthest apart; apart: the true distance there; at: the advance there; from, to: the first and the last \
    advance at which they are apart; of way: over how much of the way.";

/// Writes what each excursion lacks.
pub(super) fn write(all: &[MissingContacts], width: usize, out: &mut dyn Write) -> io::Result<()> {
    for missing in all {
        let lacks: Vec<String> = missing.lacks.iter().map(lack).collect();
        let sentence = if lacks.is_empty() {
            let [from, to] = [missing.from, missing.to].map(|advance| two_decimals(advance.mm()));
            format!("Balance lacks nothing from {from} to {to}.")
        } else {
            lacks.join(" ")
        };
        write_beside(words::name::movement(missing.movement), &sentence, width, out)?;
    }
    if all.iter().all(|missing| missing.teeth.is_empty()) {
        return Ok(());
    }
    let head =
        "Single teeth that are apart somewhere; balance does not fail while others of their side touch.";
    writeln!(out, "\n{}", textwrap::fill(head, width))?;
    let mut grid = Grid::new(vec![(0, 15), (1, 5), (1, 7), (1, 10), (1, 6), (1, 6), (1, 6), (1, 6), (1, 6)]);
    let mut heads =
        ["excursion", "tooth", "nearest", "contact"].map(Cell::left).into_iter().collect::<Vec<_>>();
    heads.extend(["apart", "at", "from", "to", "of way"].map(Cell::right));
    grid.row(heads.into_iter().map(|cell| cell.styled(FAINT)).collect());
    for missing in all {
        for (tooth, kind, of) in &missing.teeth {
            let name = words::name::movement(missing.movement);
            let nearest = of.nearest.and_then(|nearest| nearest.lower_tooth);
            let nearest = nearest.map_or_else(|| "–".to_owned(), words::name::tooth);
            let mut cells =
                vec![Cell::left(name), Cell::left(words::name::tooth(*tooth)), Cell::left(nearest)];
            cells.push(Cell::left(contact(*kind)));
            cells.push(Cell::right(apart(of).unwrap_or_else(|| "–".to_owned())).styled(ALARM));
            cells.extend([of.advance, of.from, of.to].map(|at| Cell::right(two_decimals(at.mm()))));
            cells.push(Cell::right(percent(of.share)));
            grid.row(cells);
        }
    }
    grid.write(out)
}

fn contact(kind: ContactKind) -> &'static str {
    words::name::contact(kind)
}

/// What one region lacks, as a sentence.
fn lack(lack: &Lack) -> String {
    let Missing { from, to, share, advance, nearest, .. } = lack.missing;
    let [from, to, at] = [from, to, advance].map(|advance| two_decimals(advance.mm()));
    let no_tooth = words::verdict::scheme::no_tooth_of(lack.region);
    let where_to = if from == to { format!("at {from}") } else { format!("from {from} to {to}") };
    let how_far = match (nearest, apart(&lack.missing)) {
        (Some(nearest), Some(apart)) => {
            let pair = pair_words(nearest.upper_tooth, nearest.lower_tooth);
            format!("the nearest are {pair}, up to {apart} mm apart at {at}")
        }
        _ => "the casts have none there".to_owned(),
    };
    let touches = format!("{no_tooth} touches {where_to}, {} of the way: {how_far}.", percent(share));
    let mut letters = touches.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn apart(missing: &Missing) -> Option<String> {
    missing.nearest.map(|nearest| two_decimals(nearest.gap.mm()))
}
