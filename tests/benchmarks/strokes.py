"""Time what the stroke panel asks for: a minute at 1 kHz, and a practice track.

Run ``python tests/benchmarks/strokes.py``. Nothing here passes or fails.
"""

import timeit
from functools import partial

from fireheat.bowing import bow_pull
from fireheat.impedance import contact_impedance
from fireheat.practice import beat_track, wav_bytes
from fireheat.strokes import stroke_heat, stroke_history

IMPEDANCE = partial(
    contact_impedance,
    radius=0.0065,
    length=0.15,
    film=10.0,
    spindle_conductivity=0.22,
    spindle_heat_capacity=6e5,
    board_conductivity=0.12,
    board_heat_capacity=6e5,
)
PULL = bow_pull(60.0, 0.35, 0.0065)
HISTORY = stroke_history(0.5, 120)
TRACK = beat_track(120)

JOBS = {
    "speed history, a minute at 1 kHz": lambda: stroke_history(0.5, 120),
    "its contact temperature": lambda: stroke_heat(HISTORY, IMPEDANCE, pull=PULL),
    "the same with rests": lambda: stroke_heat(
        stroke_history(0.5, 120, bout=9.0, pause=3.0), IMPEDANCE, pull=PULL
    ),
    "practice track": lambda: beat_track(120),
    "its WAV file": lambda: wav_bytes(TRACK.samples, TRACK.sample_rate),
}

if __name__ == "__main__":
    for name, job in JOBS.items():
        job()
        best = min(timeit.repeat(job, number=5, repeat=5)) / 5
        print(f"{name:36s} {1e3 * best:7.1f} ms")
