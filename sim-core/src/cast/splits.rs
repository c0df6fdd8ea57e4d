//! Where the boxes of a tree are parted in two.
//!
//! By what a search is then expected to cost: the area of each side's box times what is in it, at the best of
//! some places along the longest side (Wald, "On fast construction of SAH-based bounding volume hierarchies",
//! IEEE Symposium on Interactive Ray Tracing, 2007, from memory). It only decides how fast a search is, never
//! what it finds, so that 32 bits do.

use nalgebra::Vector3;

/// Places at which a split is tried, and one.
const BINS: usize = 16;
/// Below so many splits each halves the number: whatever the coordinates, a tree gets no deeper than this and
/// the digits of its number of triangles.
const DEEP: usize = 64;

/// Something in a box, to be parted from others.
#[derive(Clone, Copy, Debug)]
pub(super) struct Item {
    least: [f32; 3],
    most: [f32; 3],
    /// Which it is.
    pub(super) what: u32,
}

impl Item {
    /// The box about some corners.
    pub(super) fn about(corners: &[Vector3<f64>; 3], what: u32) -> Self {
        let [a, b, c] = corners;
        let (least, most) = (a.inf(b).inf(c), a.sup(b).sup(c));
        #[allow(clippy::cast_possible_truncation)] // 32 bits do here
        let rounded = |corner: Vector3<f64>| corner.map(|number| number as f32).into();
        Self { least: rounded(least), most: rounded(most), what }
    }

    /// The box about all of them.
    pub(super) fn about_all(items: &[Self], what: u32) -> Self {
        items.iter().fold(Self { what, ..Self::NOTHING }, |all, item| all.with(item))
    }

    const NOTHING: Self = Self { least: [f32::INFINITY; 3], most: [f32::NEG_INFINITY; 3], what: 0 };

    fn with(self, other: &Self) -> Self {
        let mut both = self;
        for axis in 0..3 {
            both.least[axis] = both.least[axis].min(other.least[axis]);
            both.most[axis] = both.most[axis].max(other.most[axis]);
        }
        both
    }

    /// Twice its middle along an axis.
    fn middle(&self, axis: usize) -> f32 {
        self.least[axis] + self.most[axis]
    }

    /// Half the area of its surface; nothing of a box about nothing.
    fn area(&self) -> f32 {
        let [x, y, z] = [0, 1, 2].map(|axis| (self.most[axis] - self.least[axis]).max(0.0));
        x * y + y * z + z * x
    }
}

/// Puts two or more items in such an order that they are parted best at the place that this gives, which
/// leaves some on either side.
pub(super) fn split(items: &mut [Item], depth: usize) -> usize {
    let half = items.len() / 2;
    let (mut least, mut most) = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
    for item in items.iter() {
        for axis in 0..3 {
            let middle = item.middle(axis);
            (least[axis], most[axis]) = (least[axis].min(middle), most[axis].max(middle));
        }
    }
    let sizes = [0, 1, 2].map(|axis| most[axis] - least[axis]);
    let axis = (0..3).max_by(|&one, &other| sizes[one].total_cmp(&sizes[other])).unwrap_or(0);
    // Middles that are one, or that no scale tells apart.
    let scale = BINS as f32 / sizes[axis];
    if depth >= DEEP || !(sizes[axis] > 0.0 && scale.is_finite()) {
        items.select_nth_unstable_by(half, |one, other| one.middle(axis).total_cmp(&other.middle(axis)));
        return half;
    }
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // at the least zero
    let bin = |item: &Item| (((item.middle(axis) - least[axis]) * scale) as usize).min(BINS - 1);
    let mut bins = [(0_u32, Item::NOTHING); BINS];
    for item in items.iter() {
        let (count, all) = &mut bins[bin(item)];
        *count += 1;
        *all = all.with(item);
    }
    // What the bins above each place would cost.
    let mut above = [f32::INFINITY; BINS];
    let (mut count, mut all) = (0, Item::NOTHING);
    for at in (1..BINS).rev() {
        count += bins[at].0;
        all = all.with(&bins[at].1);
        above[at] = all.area() * count as f32;
    }
    let (mut count, mut all) = (0, Item::NOTHING);
    let mut best = (f32::INFINITY, 1);
    for at in 1..BINS {
        count += bins[at - 1].0;
        all = all.with(&bins[at - 1].1);
        let cost = all.area() * count as f32 + above[at];
        if cost < best.0 {
            best = (cost, at);
        }
    }
    let parted = partition(items, |item| bin(item) < best.1);
    // The first and the last bin are never empty, so that only sizes beyond all numbers come to this.
    if parted == 0 || parted == items.len() { half } else { parted }
}

/// Puts the items for which this is true before the others, and says how many they are.
fn partition(items: &mut [Item], is_first: impl Fn(&Item) -> bool) -> usize {
    let (mut from, mut to) = (0, items.len());
    while from < to {
        if is_first(&items[from]) {
            from += 1;
        } else {
            to -= 1;
            items.swap(from, to);
        }
    }
    from
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn a_split_leaves_some_on_either_side_and_loses_none(
            places in prop::collection::vec(prop::array::uniform3(-1e6..1e6_f64), 2..200),
            flat in prop::array::uniform3(any::<bool>()),
            depth in 0_usize..100,
        ) {
            let mut items: Vec<Item> = (0..)
                .zip(&places)
                .map(|(what, place)| {
                    let place = Vector3::from_fn(|axis, _| if flat[axis] { 1.0 } else { place[axis] });
                    Item::about(&[place; 3], what)
                })
                .collect();
            let at = split(&mut items, depth);
            prop_assert!(0 < at && at < items.len());
            let mut left: Vec<u32> = items.iter().map(|item| item.what).collect();
            left.sort_unstable();
            prop_assert!(left.into_iter().eq(0..u32::try_from(places.len()).unwrap()));
        }
    }

    #[test]
    fn two_heaps_are_parted_between_them() {
        let heap = |from: f64, count: u32| {
            (0..count).map(move |at| Vector3::new(from + f64::from(at) / 100.0, 0.0, 0.0))
        };
        let places: Vec<Vector3<f64>> = heap(0.0, 70).chain(heap(50.0, 30)).collect();
        let mut items: Vec<Item> = (0..)
            .zip(&places)
            .map(|(what, place)| Item::about(&[*place, place + Vector3::y(), place + Vector3::z()], what))
            .collect();
        assert_eq!(split(&mut items, 0), 70);
        assert!(items[..70].iter().all(|item| item.what < 70));
    }
}
