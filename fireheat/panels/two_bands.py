"""How a time with two bands stands on a tile: all we do not know large, the wood alone below."""

from ..bands import Band
from ..words import TOO_LONG, band_words, likely_words

SMOKE, EMBER = "First smoke, estimate", "Ember, estimate"


def wood_note(band: Band[float]) -> str:
    """Spell what only the wood leaves open, and the likely time.

    Examples
    --------
    >>> wood_note(Band(41.2, 56.3, 98.4))
    'with wood like yours 41 to 98 s; most likely about 56 s'
    """
    if band.low >= TOO_LONG:
        return "most likely never, with wood like yours"
    return f"with wood like yours {band_words(band)}; {likely_words(band.likely)}"
