"""Time what the stroke panel asks for: a minute at 1 kHz, and a practice track.

Run ``python tests/benchmarks/strokes.py``. Nothing here passes or fails.
"""

import timeit

from fireheat.heat.contact import Contact
from fireheat.heat.material import Material
from fireheat.kit.bowing import bow_pull
from fireheat.person.beat import beat_track, wav_bytes
from fireheat.person.strokes import stroke_heat, stroke_history

SPINDLE, BOARD = Material(0.12, 0.22, 6e5), Material(0.12, 0.12, 6e5)
CONTACT = Contact(radius=0.0065, length=0.15, film=10.0, spindle=SPINDLE, board=BOARD)
HEATED = {"impedance": CONTACT.impedance, "pull": bow_pull(60.0, friction=0.35, radius=0.0065)}
HISTORY = stroke_history(0.5, strokes_per_minute=120)
TRACK = beat_track(120)

JOBS = {
    "speed history, a minute at 1 kHz": lambda: stroke_history(0.5, strokes_per_minute=120),
    "its contact temperature": lambda: stroke_heat(HISTORY, **HEATED),
    "the same with rests": lambda: stroke_heat(
        stroke_history(0.5, strokes_per_minute=120, bout=9.0, pause=3.0), **HEATED
    ),
    "practice track": lambda: beat_track(120),
    "its WAV file": lambda: wav_bytes(TRACK.samples, sample_rate=TRACK.sample_rate),
}

if __name__ == "__main__":
    for name, job in JOBS.items():
        job()
        best = min(timeit.repeat(job, number=5, repeat=5)) / 5
        print(f"{name:36s} {1e3 * best:7.1f} ms")
