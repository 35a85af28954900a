//! Interleaved rounds: everything that is compared is alive at once and takes its turn in an order tossed anew, so that a
//! noisy moment meets all alike and their ratios stay true.

use std::error::Error;
use std::time::{Duration, Instant};

/// Whatever may go wrong in a bench; it then ends.
pub type Outcome<T> = Result<T, Box<dyn Error>>;

/// Something that is timed.
pub struct Racer<'a> {
    name: &'static str,
    run: Box<dyn FnMut() -> Outcome<Duration> + 'a>,
    times: Vec<Duration>,
}

impl<'a> Racer<'a> {
    /// Runs `run` in every round; it says itself how long the part that counts took.
    pub fn new(name: &'static str, run: impl FnMut() -> Outcome<Duration> + 'a) -> Racer<'a> {
        Racer { name, run: Box::new(run), times: Vec::new() }
    }
}

/// Times something.
pub fn timed<T>(work: impl FnOnce() -> Outcome<T>) -> Outcome<(T, Duration)> {
    let begun = Instant::now();
    let done = work()?;
    Ok((done, begun.elapsed()))
}

/// Times of a race.
pub struct Times(Vec<(&'static str, Vec<Duration>)>);

/// Lets all run so many rounds. The first twentieth only warms up.
pub fn race(rounds: usize, mut racers: Vec<Racer<'_>>) -> Outcome<Times> {
    let mut toss = 1_u64;
    let warm = rounds / 20 + 1;
    for round in 0..rounds + warm {
        for last in (1..racers.len()).rev() {
            // xorshift; any order will do as long as it changes.
            toss ^= toss << 13;
            toss ^= toss >> 7;
            toss ^= toss << 17;
            racers.swap(last, toss as usize % (last + 1));
        }
        for racer in &mut racers {
            let time = (racer.run)()?;
            if round >= warm {
                racer.times.push(time);
            }
        }
    }
    let sorted = |mut times: Vec<Duration>| {
        times.sort();
        times
    };
    Ok(Times(racers.into_iter().map(|racer| (racer.name, sorted(racer.times))).collect()))
}

impl Times {
    /// These and those of another race.
    pub fn and(mut self, other: Times) -> Times {
        self.0.extend(other.0);
        self
    }

    /// The time that half of a racer's rounds did not reach, in microseconds.
    pub fn median(&self, name: &str) -> f64 {
        self.share(name, 50)
    }

    /// The time that so many of a hundred rounds did not reach, in microseconds.
    pub fn share(&self, name: &str, of_hundred: usize) -> f64 {
        let times = self.0.iter().find(|(racer, _)| *racer == name).map_or(&[][..], |(_, times)| times);
        times.get(times.len() * of_hundred / 100).map_or(f64::NAN, |time| time.as_secs_f64() * 1e6)
    }

    /// How many times longer one takes than another.
    pub fn ratio(&self, name: &str, than: &str) -> f64 {
        self.median(name) / self.median(than)
    }
}
