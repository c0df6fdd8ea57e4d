//! How a Parquet footer says that the least and greatest of its columns are to be read.
//!
//! parquet-rs 60 says of every column of floating-point numbers that they are in IEEE 754's total order, which
//! Parquet knows since 2025 and not every reader yet: PyArrow 26 takes an order that it does not know for none, and
//! reads groups that it could pass over. No setting of the writer says otherwise. For what stands in a study's table
//! the older order, the type's own, says the same: a number that is none is null there and −0 is written as 0
//! (`table.rs`), and only in these two do the orders differ.

/// `ColumnOrder` in Thrift's compact protocol: field 2, an empty structure, the end of the union.
const TOTAL_ORDER: [u8; 3] = [0x2c, 0, 0];
/// The same with field 1, `TYPE_ORDER`.
const TYPE_ORDER: [u8; 3] = [0x1c, 0, 0];
/// What ends the footer's outermost structure.
const END: u8 = 0;

/// Says of every column that its numbers are in their type's own order. `footer` is `FileMetaData`, whose last field
/// are the orders of its `columns`.
///
/// # Errors
/// A sentence where the footer does not end with as many orders, which is then left as it was.
pub(super) fn say_type_order(footer: &mut [u8], columns: usize) -> Result<(), String> {
    let strange = || "a footer that does not end with the orders of its columns".to_owned();
    let [before @ .., END] = footer else { return Err(strange()) };
    let from = before.len().checked_sub(columns * TYPE_ORDER.len()).ok_or_else(strange)?;
    let orders = &mut before[from..];
    let known = |order: &[u8]| order == TYPE_ORDER || order == TOTAL_ORDER;
    if !orders.chunks_exact(TYPE_ORDER.len()).all(known) {
        return Err(strange());
    }
    orders.chunks_exact_mut(TYPE_ORDER.len()).for_each(|order| order.copy_from_slice(&TYPE_ORDER));
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn orders_are_written_over_and_nothing_else_is() {
        let mut footer = [7, 0x2c, 0, 0, 0x1c, 0, 0, 0x2c, 0, 0, 0];
        assert_eq!(say_type_order(&mut footer, 3), Ok(()));
        assert_eq!(footer, [7, 0x1c, 0, 0, 0x1c, 0, 0, 0x1c, 0, 0, 0]);
    }

    #[test]
    fn a_footer_that_ends_otherwise_is_left_as_it_is() {
        for (strange, columns) in
            [(&[0x2c, 0, 0, 1][..], 1), (&[0x3c, 0, 0, 0], 1), (&[0x2c, 0, 0, 0], 2), (&[], 0)]
        {
            let mut footer = strange.to_vec();
            assert!(say_type_order(&mut footer, columns).is_err(), "{strange:?}");
            assert_eq!(footer, strange);
        }
    }
}
