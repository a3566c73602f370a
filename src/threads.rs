//! Work on many threads, as many as asked or as the machine has, never so many that the process ends; on the one that
//! calls without the feature `parallel`.

use crate::source::Diagnostic;
#[cfg(feature = "parallel")]
use rayon::{ThreadPool, ThreadPoolBuilder, prelude::*};

/// The most threads that are taken.
pub const MAX_THREADS: usize = 1024;
/// The most threads where no number is asked for.
const MAX_UNASKED: usize = 64;
/// What asks for a number of threads in the environment.
const VARIABLE: &str = "RAYON_NUM_THREADS";

/// Runs work on `asked` threads, or on as many as the environment asks for or the machine has. A machine that gives
/// fewer serves with fewer, and one that gives none with the thread that calls.
///
/// # Errors
/// A [`Diagnostic`] for a number of threads that is not taken.
pub fn with<T: Send>(asked: Option<usize>, work: impl FnOnce() -> T + Send) -> Result<T, Diagnostic> {
    let count = match asked {
        Some(count) => checked("--threads", &count.to_string())?,
        None => match std::env::var(VARIABLE) {
            Ok(text) if !matches!(text.trim(), "" | "0") => checked(VARIABLE, text.trim())?,
            _ => std::thread::available_parallelism().map_or(1, usize::from).min(MAX_UNASKED),
        },
    };
    #[cfg(feature = "parallel")]
    let work = || on(count, &pool, work);
    #[cfg(not(feature = "parallel"))]
    let _ = count;
    Ok(work())
}

/// What is found of each item, in their order.
#[cfg(feature = "parallel")]
pub fn map<I: Sync, T: Send, C: FromParallelIterator<T>>(items: &[I], of: impl Fn(&I) -> T + Sync + Send) -> C {
    items.par_iter().map(of).collect()
}

/// What is found of each item, in their order.
#[cfg(not(feature = "parallel"))]
pub fn map<I, T, C: FromIterator<T>>(items: &[I], of: impl Fn(&I) -> T) -> C {
    items.iter().map(of).collect()
}

/// What the items add to `none`, each with its index; what several threads found is merged.
#[cfg(feature = "parallel")]
pub fn fold<I: Sync, A: Send>(
    items: &[I],
    none: impl Fn() -> A + Sync + Send,
    add: impl Fn(A, usize, &I) -> A + Sync + Send,
    merged: impl Fn(A, A) -> A + Sync + Send,
) -> A {
    let found = items.par_iter().enumerate().fold(&none, |sum, (index, item)| add(sum, index, item));
    found.reduce(&none, merged)
}

/// What the items add to `none`, each with its index.
#[cfg(not(feature = "parallel"))]
pub fn fold<I, A>(items: &[I], none: impl Fn() -> A, add: impl Fn(A, usize, &I) -> A, _: impl Fn(A, A) -> A) -> A {
    items.iter().enumerate().fold(none(), |sum, (index, item)| add(sum, index, item))
}

fn checked(field: &str, text: &str) -> Result<usize, Diagnostic> {
    let count = text.parse::<usize>().ok().filter(|count| (1..=MAX_THREADS).contains(count));
    count.ok_or_else(|| {
        Diagnostic::plain(format!("{field} of `{text}` is not between 1 and {MAX_THREADS}"))
            .field(field)
            .help("leave it out to use every core, or write a number such as `4`")
    })
}

/// Runs work on `count` threads, or on half as many where they can't be had, and so on.
#[cfg(feature = "parallel")]
fn on<T: Send>(count: usize, pool: &dyn Fn(usize) -> Option<ThreadPool>, work: impl FnOnce() -> T + Send) -> T {
    let mut count = count;
    while count > 0 {
        if let Some(pool) = pool(count) {
            return pool.install(work);
        }
        count /= 2;
    }
    // The thread that calls becomes the pool of the process; where there is one already, that one serves.
    let _ = ThreadPoolBuilder::new().num_threads(1).use_current_thread().build_global();
    work()
}

#[cfg(feature = "parallel")]
fn pool(count: usize) -> Option<ThreadPool> {
    ThreadPoolBuilder::new().num_threads(count).build().ok()
}

#[cfg(all(test, feature = "parallel"))]
mod tests {
    use super::*;

    fn sum() -> u64 {
        (0..1000_u64).into_par_iter().sum()
    }

    #[test]
    fn a_number_of_threads_that_ends_the_process_is_refused() {
        for asked in [0, MAX_THREADS + 1, 70_000, usize::MAX] {
            let fault = with(Some(asked), sum).unwrap_err();
            assert!(fault.field.as_deref() == Some("--threads") && fault.help.is_some(), "{fault}");
        }
        assert_eq!(with(Some(3), sum).unwrap(), 499_500);
    }

    #[test]
    fn a_machine_that_gives_fewer_threads_or_none_serves_with_them() {
        let few = |count: usize| if count > 2 { None } else { pool(count) };
        assert_eq!(on(16, &few, || (sum(), rayon::current_num_threads())), (499_500, 2));
        assert_eq!(on(16, &|_| None, sum), 499_500);
    }
}
