//! Names beside the ends of curves, apart from each other, with a line from each to the end that it names.

use super::colour::GREY;
use super::letters::{LETTER, width};
use super::svg::{Anchor, At, Stroke, Svg};

const SIZE: f64 = 9.5;
const ROW: f64 = 11.5;
/// From the frame to the names.
const LEADER: f64 = 16.0;
/// Names that stand on one row where their curves end in one place.
const MOST_ON_A_ROW: usize = 2;
/// Ends no farther apart than this part of the height are one place.
const SAME_PLACE: f64 = 0.004;

/// The end of a curve.
pub(super) struct End {
    /// Part of the width, from the left.
    pub(super) across: f64,
    /// Part of the height, from above; outside 0 to 1 where the curve has left the axes.
    pub(super) down: f64,
    pub(super) name: String,
}

struct Row {
    across: f64,
    down: f64,
    names: Vec<String>,
}

/// The names at the ends of the curves of a panel, from above.
pub(super) struct Ends(Vec<Row>);

impl Ends {
    pub(super) fn new(mut ends: Vec<End>) -> Self {
        ends.sort_by(|one, other| one.down.total_cmp(&other.down).then(other.across.total_cmp(&one.across)));
        let mut rows: Vec<Row> = Vec::new();
        for End { across, down, name } in ends {
            let name = if down < 0.0 {
                format!("{name} ↑")
            } else if down > 1.0 {
                format!("{name} ↓")
            } else {
                name
            };
            let down = down.clamp(0.0, 1.0);
            match rows.last_mut() {
                Some(row)
                    if (row.down - down).abs() <= SAME_PLACE && (row.across - across).abs() <= SAME_PLACE =>
                {
                    // Separation and clearance of a cusp that end together are named once.
                    if !row.names.contains(&name) {
                        if row.names.len() < MOST_ON_A_ROW {
                            row.names.push(name);
                        } else {
                            rows.push(Row { across, down, names: vec![name] });
                        }
                    }
                }
                _ => rows.push(Row { across, down, names: vec![name] }),
            }
        }
        Self(rows)
    }

    /// Room that names need at the right of a panel.
    pub(super) fn margin(names: impl Iterator<Item = String>) -> f64 {
        let widest = names.map(|name| width(&name, SIZE, LETTER)).fold(0.0, f64::max);
        LEADER + MOST_ON_A_ROW as f64 * (widest + width(", ↓", SIZE, LETTER))
    }

    /// Height at which all names find room.
    pub(super) fn height(&self) -> f64 {
        (self.0.len() as f64 + 1.0) * ROW
    }

    /// Where each name stands, from above: no nearer than a row to the next, as near to its end as that allows.
    fn places(&self, height: f64) -> Vec<f64> {
        let mut places: Vec<f64> = self.0.iter().map(|row| row.down * height).collect();
        for index in 1..places.len() {
            places[index] = places[index].max(places[index - 1] + ROW);
        }
        let mut lowest = height;
        for place in places.iter_mut().rev() {
            *place = place.min(lowest);
            lowest = *place - ROW;
        }
        places
    }

    pub(super) fn draw(&self, svg: &mut Svg, corner: At, size: At) {
        for (row, place) in self.0.iter().zip(self.places(size.1)) {
            let end = (corner.0 + row.across * size.0, corner.1 + row.down * size.1);
            let name = (corner.0 + size.0 + LEADER, corner.1 + place);
            svg.line(end, (name.0 - 3.0, name.1), Stroke::new(GREY, 0.6));
            svg.words((name.0, name.1 + 3.5), SIZE, false, Anchor::Start, &row.names.join(", "));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn names_do_not_lie_on_each_other_and_stay_beside_their_panel(downs in prop::collection::vec(-0.5..1.5_f64, 1..40)) {
            let named = downs.iter().enumerate();
            let ends = Ends::new(named.map(|(place, down)| End { across: 1.0, down: *down, name: place.to_string() }).collect());
            let height = ends.height();
            let places = ends.places(height);
            prop_assert!(places.windows(2).all(|pair| pair[1] - pair[0] >= ROW - 1e-9), "{places:?}");
            prop_assert!(places.iter().all(|place| (-1e-9..=height + 1e-9).contains(place)), "{places:?}");
            // Each end has its name, and those that have left the axes say where to.
            let all: Vec<&String> = ends.0.iter().flat_map(|row| &row.names).collect();
            for (place, down) in downs.iter().enumerate() {
                let arrow = if *down < 0.0 { " ↑" } else if *down > 1.0 { " ↓" } else { "" };
                prop_assert!(all.contains(&&format!("{place}{arrow}")), "{all:?}");
            }
        }
    }
}
