//! The same work on many items, on all cores (feature `rayon`; one after the other without it).

#[cfg(feature = "rayon")]
use crate::work;

/// Items per piece of work: enough to hide the hand-over, few enough to share a hundred items out.
#[cfg(feature = "rayon")]
const PIECE: usize = 8;

/// The work done on every item, under the [halt](crate::work::Halt) of whoever asks.
///
/// ```
/// let squares = wheelrate::sweep::each(&[1, 2, 3], |n| n * n);
/// assert_eq!(squares, [1, 4, 9]);
/// ```
pub fn each<T: Sync, R: Send>(items: &[T], done: impl Fn(&T) -> R + Send + Sync) -> Vec<R> {
    #[cfg(feature = "rayon")]
    {
        use rayon::prelude::*;
        let halt = work::current();
        items.par_iter().with_min_len(PIECE).map(|item| work::under(halt.as_ref(), || done(item))).collect()
    }
    #[cfg(not(feature = "rayon"))]
    {
        items.iter().map(done).collect()
    }
}

/// The work done on every item where it stands; each is enough work for a core of its own.
pub(crate) fn each_mut<T: Send>(items: &mut [T], done: impl Fn(&mut T) + Send + Sync) {
    #[cfg(feature = "rayon")]
    {
        use rayon::prelude::*;
        let halt = work::current();
        items.par_iter_mut().for_each(|item| work::under(halt.as_ref(), || done(item)));
    }
    #[cfg(not(feature = "rayon"))]
    {
        items.iter_mut().for_each(done);
    }
}
