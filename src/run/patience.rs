//! Waiting for the disk: the loop takes no key until it answers, and says so where that takes long.

use crate::store::Store;
use std::panic::resume_unwind;
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::Duration;

/// Nobody notices a shorter wait.
pub const PATIENCE: Duration = Duration::from_millis(150);

/// Does something with the store and waits for it; `slow` is called once where it takes longer than [`PATIENCE`]. The work
/// has a thread only so that a picture can be drawn meanwhile; nothing else goes on beside it.
pub fn wait<T: Send>(store: &mut Store, work: impl FnOnce(&mut Store) -> T + Send, slow: impl FnOnce()) -> T {
    std::thread::scope(|scope| {
        let (tell, told) = channel::<()>();
        let worker = scope.spawn(move || {
            let done = work(store);
            drop(tell);
            done
        });
        // The channel closes when the work is done, or when it panicked.
        if told.recv_timeout(PATIENCE) == Err(RecvTimeoutError::Timeout) {
            slow();
        }
        worker.join().unwrap_or_else(|panic| resume_unwind(panic))
    })
}
