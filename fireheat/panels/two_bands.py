"""How a time with two bands stands on a tile: all we do not know large, the wood alone below."""

from ..bands import Band
from ..estimates import quick_times
from ..kit.kit import Try
from ..spread import compare
from ..words import TOO_LONG, band_words, factor_words, likely_words

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


def with_outer(words: str, band: Band[float], what: str = "", *, but: str = "") -> str:
    """Add to what is said of now how far its time may lie with all we do not know.

    Examples
    --------
    >>> with_outer("Now. Before: then.", Band(25.1, 56.3, 246.9))
    'Now. With all we do not know: 25 s to 4 min. Before: then.'
    """
    now, before, then = words.partition(" Before: ")
    return f"{now} With all we do not know{but}: {what}{band_words(band)}.{before}{then}"


def against_words(before: Try | None, now: Try) -> str:
    """Say how the ember's time compares with that before: known better than either time.

    Examples
    --------
    >>> against_words(Try(), Try().changed(force=75.0))
    'against before: 0.54 to 0.73 of the time; '
    >>> against_words(None, Try())
    ''
    """
    if before is None:
        return ""
    likely = quick_times(before), quick_times(now)  # not said, so not marched for
    return f"against before: {factor_words(compare(before, now, draws=128, found=likely))}; "
