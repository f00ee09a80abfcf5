//! So many threads for a piece of work.

/// Does the work with so many threads, 0 for all there are.
pub(in crate::layout) fn with_threads<T: Send>(
    threads: usize,
    work: impl FnOnce() -> T + Send,
) -> T {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
    match pool {
        Ok(pool) => pool.install(work),
        // No threads to be had: the calling one will do.
        Err(_) => work(),
    }
}
