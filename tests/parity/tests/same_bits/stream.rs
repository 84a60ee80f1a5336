//! Chance that is the same on every machine: a counter, mixed.

/// A stream of numbers that is fixed by its key.
pub(crate) struct Stream {
    key: u64,
    counter: u64,
}

impl Stream {
    pub(crate) fn new(key: u64) -> Self {
        Self {
            key: mixed(key),
            counter: 0,
        }
    }

    /// A number from 0, below 1.
    pub(crate) fn unit(&mut self) -> f64 {
        self.counter += 1;
        let bits = mixed(self.key ^ mixed(self.counter));
        // 53 bits fill the significand of a double.
        (bits >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number between two others.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// One of a list.
    pub(crate) fn one_of<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        let index = (self.unit() * list.len() as f64).floor();
        list.iter()
            .enumerate()
            .find(|(at, _)| *at as f64 >= index)
            .unwrap()
            .1
    }

    /// Whether something of a given probability happens.
    pub(crate) fn happens(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }
}

/// The finaliser of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014, figure 16; constants from memory).
fn mixed(value: u64) -> u64 {
    let mut z = value.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[test]
fn a_stream_is_fixed_by_its_key_and_covers_its_range() {
    let draw = |key| {
        let mut stream = Stream::new(key);
        (0..1000).map(|_| stream.unit()).collect::<Vec<f64>>()
    };
    assert_eq!(draw(7), draw(7));
    assert_ne!(draw(7), draw(8));
    let mean = draw(7).iter().sum::<f64>() / 1000.0;
    // The mean of 1000 uniform numbers has a standard deviation of 0.0091; five of them.
    assert!((mean - 0.5).abs() < 0.046, "{mean}");
    assert!(draw(7).iter().all(|unit| (0.0..1.0).contains(unit)));
}
