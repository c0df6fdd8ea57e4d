//! Whole numbers as Python gives them.

use std::ops::RangeInclusive;

use pyo3::exceptions::PyTypeError;
use pyo3::prelude::*;

use crate::error::refusal;

/// A whole number of whatever size; NumPy's are taken like Python's own.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Whole(i128);

impl<'py> FromPyObject<'_, 'py> for Whole {
    type Error = PyErr;

    fn extract(given: Borrowed<'_, 'py, PyAny>) -> PyResult<Self> {
        let Ok(number) = given.call_method0("__index__") else {
            let what = given.repr()?;
            return Err(PyTypeError::new_err(format!("{what} is given where a whole number is needed")));
        };
        if let Ok(number) = number.extract::<u64>() {
            return Ok(Self(number.into()));
        }
        if let Ok(number) = number.extract::<i64>() {
            return Ok(Self(number.into()));
        }
        // Beyond 64 bits, whatever it is: out of every range below.
        Ok(Self(if number.lt(0)? { i128::MIN } else { i128::MAX }))
    }
}

impl Whole {
    pub(crate) const fn new(number: u64) -> Self {
        Self(number as i128)
    }

    /// The number, if it is one of those allowed.
    pub(crate) fn within(self, name: &str, allowed: RangeInclusive<u64>) -> PyResult<u64> {
        if let Ok(number) = u64::try_from(self.0)
            && allowed.contains(&number)
        {
            return Ok(number);
        }
        let given = match self.0 {
            i128::MIN => "far below 0".to_owned(),
            i128::MAX => "beyond what 64 bits hold".to_owned(),
            number => number.to_string(),
        };
        let (least, most) = allowed.into_inner();
        let allowed =
            if most == u64::MAX { format!("{least} or more") } else { format!("{least} to {most}") };
        Err(refusal(format_args!("{name} is {given}; allowed are whole numbers, {allowed}")))
    }

    /// As [`Self::within`], for what counts things in memory.
    pub(crate) fn count(self, name: &str) -> PyResult<usize> {
        let number = self.within(name, 0..=u64::MAX)?;
        usize::try_from(number)
            .map_err(|_| refusal(format_args!("{name} is {number}, which no memory holds")))
    }
}
