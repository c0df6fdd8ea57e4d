//! The same closed form for many settings at once: numbers side by side, and loops over them that are compiled for
//! what the processor has.
//!
//! A loop over lanes is a function of plain numbers, called once for each lane: the very function that solves a
//! single pose. So a lane has the same number as a single pose, to the last bit. Nothing here lets the compiler
//! contract a product and a sum into one rounding, and it does not do so by itself.

/// How many settings are solved at once. Sixteen numbers are two of the widest registers there are, and all that
/// poses and cusps need of them stays in the nearest cache.
pub const LANES: usize = 16;

/// One number for each lane.
pub(crate) type Lane = [f64; LANES];

/// What is done for all lanes. `run` and all that it calls are to be inlined, so that they are compiled anew for
/// each kind of processor.
pub(crate) trait Work {
    /// Does it.
    fn run(self);
}

/// Does the work by the widest registers that this processor has; the same numbers come of it on any.
#[cfg(target_arch = "x86_64")]
#[inline]
pub(crate) fn widely(work: impl Work) {
    #[target_feature(enable = "avx512f,avx512vl,avx512dq,avx512bw")]
    fn by_eight(work: impl Work) {
        work.run();
    }
    #[target_feature(enable = "avx2")]
    fn by_four(work: impl Work) {
        work.run();
    }
    if is_x86_feature_detected!("avx512f")
        && is_x86_feature_detected!("avx512vl")
        && is_x86_feature_detected!("avx512dq")
        && is_x86_feature_detected!("avx512bw")
    {
        // SAFETY: asks of the processor only the features that it was just found to have.
        #[allow(unsafe_code)]
        unsafe {
            by_eight(work);
        }
    } else if is_x86_feature_detected!("avx2") {
        // SAFETY: as above.
        #[allow(unsafe_code)]
        unsafe {
            by_four(work);
        }
    } else {
        work.run();
    }
}

/// Does the work by the registers that every processor of this kind has: two numbers at a time on aarch64, whatever
/// the target says of others.
#[cfg(not(target_arch = "x86_64"))]
#[inline]
pub(crate) fn widely(work: impl Work) {
    work.run();
}
