//! Work side by side: by as many threads as there are cores, each taking the next piece when it is done.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// What `one` makes of 0 to `count` − 1, in order. Pieces are begun in order, so the longest come first
/// if they are to end together.
pub(crate) fn side_by_side<T: Send>(count: usize, one: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let share = || {
        let mut made = Vec::new();
        loop {
            let piece = next.fetch_add(1, Ordering::Relaxed);
            if piece >= count {
                return made;
            }
            made.push((piece, one(piece)));
        }
    };
    let threads = thread::available_parallelism().map_or(1, usize::from).min(count);
    let mut made = thread::scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(share)).collect();
        let mut made = share();
        for thread in others {
            match thread.join() {
                Ok(share) => made.extend(share),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        made
    });
    made.sort_by_key(|(piece, _)| *piece);
    made.into_iter().map(|(_, made)| made).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_is_made_once_and_stays_in_order() {
        for count in [0, 1, 2, 7, 100] {
            let made = side_by_side(count, |piece| piece * piece);
            assert_eq!(made, (0..count).map(|piece| piece * piece).collect::<Vec<_>>());
        }
    }
}
