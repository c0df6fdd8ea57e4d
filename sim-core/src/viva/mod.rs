//! Questions drawn at random.
