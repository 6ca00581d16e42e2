"""One learner and what to change: moves, the beat, the minute after first smoke, advice tried."""
