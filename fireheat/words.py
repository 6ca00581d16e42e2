"""Numbers as words: times, shares and ratios, with no more digits than the estimate deserves."""

import math
from collections.abc import Iterable, Mapping

from scipy.constants import hour, minute

# Above this a time is shown as "never": nobody bows that long.
TOO_LONG = hour
_NOTHING = 0.5  # of a second: less is nothing on a stopwatch
NEVER = "never"
FLOOR_NOTE = "no sooner, at just these numbers"


def _round_figures(value: float, figures: int) -> float:
    """Round to so many significant figures."""
    if value == 0:
        return 0.0
    return round(value, figures - 1 - math.floor(math.log10(abs(value))))


def number_words(value: float, *, figures: int = 2) -> str:
    """Spell a number to two figures, without powers of ten.

    Parameters
    ----------
    value : float
        The number. [any]
    figures : int, optional
        How many figures, where two are too few to reckon on with.

    Returns
    -------
    str
        The number.

    Examples
    --------
    >>> [number_words(value) for value in (316.4, 79.1, 7.94, 0.032, 5.1e-05)]
    ['320', '79', '7.9', '0.032', '0.000051']
    >>> number_words(316.4, figures=3)
    '316'
    """
    rounded = _round_figures(value, figures)
    decimals = figures - 1 - math.floor(math.log10(abs(rounded))) if rounded else 0
    if decimals <= 0:
        return f"{rounded:,.0f}"
    return f"{rounded:,.{decimals}f}".rstrip("0").rstrip(".")


def range_words(band: Iterable[float]) -> str:
    """Spell both ends of a band of numbers; once if they read the same.

    Parameters
    ----------
    band : Band or pair of float
        From low to high. [any]

    Returns
    -------
    str
        Such as ``"15 to 71"`` or ``"about 30"``.

    Examples
    --------
    >>> range_words((14.9, 70.8)), range_words((29.9, 30.1))
    ('15 to 71', 'about 30')
    """
    low, *_, high = map(number_words, band)
    return f"{low} to {high}" if low != high else f"about {low}"


def inch_words(inches: float, parts: int) -> str:
    """Spell a length on a rule that has so many parts to the inch, at the mark that is nearest.

    Parameters
    ----------
    inches : float
        The length. [in]
    parts : int
        Parts to the inch: a power of two.

    Returns
    -------
    str
        Such as ``"5/8"``, ``"1 1/4"`` or ``"12"``.

    Examples
    --------
    >>> [inch_words(inches, 32) for inches in (0.63, 0.8661, 1.25, 12.0, 0.0)]
    ['5/8', '7/8', '1 1/4', '12', '0']
    """
    whole, rest = divmod(math.floor(inches * parts + 0.5), parts)
    if not rest:
        return f"{whole}"
    over = math.gcd(rest, parts)
    fraction = f"{rest // over}/{parts // over}"
    return f"{whole} {fraction}" if whole else fraction


def signed_words(value: float) -> str:
    """Spell a number with its sign.

    Parameters
    ----------
    value : float
        The number. [any]

    Returns
    -------
    str
        Such as ``"+270"`` or ``"−79"``.

    Examples
    --------
    >>> [signed_words(value) for value in (267.0, -79.1, 0.0)]
    ['+270', '−79', '+0']
    """
    return f"{'+' if value >= 0 else '−'}{number_words(abs(value))}"


def signed_range_words(band: Iterable[float]) -> str:
    """Spell both ends of a band of numbers with their signs; once if they read the same.

    Parameters
    ----------
    band : Band or pair of float
        From low to high. [any]

    Returns
    -------
    str
        Such as ``"−79 to +270"``.

    Examples
    --------
    >>> signed_range_words((-79.1, 267.0)), signed_range_words((29.9, 30.1))
    ('−79 to +270', '+30')
    """
    low, *_, high = map(signed_words, band)
    return f"{low} to {high}" if low != high else low


def percent_words(share: float) -> str:
    """Spell a share in whole percent, with the space that SI asks for.

    Parameters
    ----------
    share : float
        The share. [1]

    Returns
    -------
    str
        Such as ``"73 %"``.

    Examples
    --------
    >>> percent_words(0.727)
    '73 %'
    """
    return f"{100 * share:z.0f} %"


def shares_words(parts: Mapping[str, float]) -> dict[str, str]:
    """Spell each part's share of the whole in whole percent, so that the shares add up to 100.

    Parameters
    ----------
    parts : mapping
        Part to its size, in any unit; none is negative.

    Returns
    -------
    dict
        Part to its share; 0 % of each where there is no whole.

    References
    ----------
    .. [1] The method of largest remainders: points lost by rounding down go to those who lost most.

    Examples
    --------
    >>> shares_words({"dust": 1.0, "spindle": 1.0, "board": 1.0})
    {'dust': '34 %', 'spindle': '33 %', 'board': '33 %'}
    """
    whole = sum(parts.values()) or 1.0
    exact = {key: 100 * part / whole for key, part in parts.items()}
    points = {key: math.floor(share) for key, share in exact.items()}
    lost = round(sum(exact.values())) - sum(points.values())
    for key in sorted(exact, key=lambda key: points[key] - exact[key])[:lost]:
        points[key] += 1
    return {key: f"{number} %" for key, number in points.items()}


def share_words(share: float) -> str:
    """Spell a share: in percent, or as so many times where it is more than the whole.

    Parameters
    ----------
    share : float
        The share. [1]

    Returns
    -------
    str
        Such as ``"73 %"`` or ``"2.1 times"``.

    Examples
    --------
    >>> [share_words(share) for share in (0.004, 0.727, 2.13, 16.6)]
    ['0.4 %', '73 %', '2.1 times', '17 times']
    """
    return f"{number_words(share)} times" if share >= 1 else f"{number_words(100 * share)} %"


def whole_words(share: float) -> str:
    """Spell a share of the whole; what rounds to once it is all of it.

    Parameters
    ----------
    share : float
        The share. [1]

    Returns
    -------
    str
        Such as ``"73 %"``, ``"100 %"`` or ``"2.1 times"``.

    Examples
    --------
    >>> [whole_words(share) for share in (0.727, 0.999, 1.04, 2.13)]
    ['73 %', '100 %', '100 %', '2.1 times']
    """
    words = share_words(share)
    return "100 %" if words == "1 times" else words


def whole_range_words(band: Iterable[float]) -> str:
    """Spell both ends of a band of shares of the whole.

    Parameters
    ----------
    band : Band or pair of float
        From low to high. [1]

    Returns
    -------
    str
        Such as ``"20 % to 73 %"`` or ``"2.1 to 17 times"``.

    Examples
    --------
    >>> [whole_range_words(ends) for ends in ((0.2, 0.727), (0.727, 2.13), (2.13, 16.6))]
    ['20 % to 73 %', '73 % to 2.1 times', '2.1 to 17 times']
    """
    low, *_, high = map(whole_words, band)
    return f"{low.removesuffix(' times') if high.endswith(' times') else low} to {high}"


_PARTS = (
    (1 / 10, "a tenth"),
    (1 / 5, "a fifth"),
    (1 / 4, "a quarter"),
    (1 / 3, "a third"),
    (2 / 5, "two fifths"),
    (1 / 2, "half"),
    (3 / 5, "three fifths"),
    (2 / 3, "two thirds"),
    (3 / 4, "three quarters"),
    (4 / 5, "four fifths"),
    (9 / 10, "nine tenths"),
)


def part_words(share: float) -> str:
    """Say what part of a whole a share is, in plain fractions.

    Parameters
    ----------
    share : float
        The share, from 0 to 1. [1]

    Returns
    -------
    str
        Such as ``"a third"`` or ``"nearly all"``.

    Examples
    --------
    >>> [part_words(share) for share in (0.0, 0.02, 0.34, 0.88, 0.97, 1.0)]
    ['nothing', 'next to nothing', 'a third', 'nine tenths', 'nearly all', 'all']
    """
    if share <= 0:
        return "nothing"
    if share < 0.05:
        return "next to nothing"
    if share > 0.95:
        return "all" if share > 1 - 1e-9 else "nearly all"
    return min(_PARTS, key=lambda part: abs(part[0] - share))[1]


def below_words(ground: str) -> str:
    """Name what lies below, as it stands in a sentence.

    Parameters
    ----------
    ground : str
        One of :func:`fireheat.ember.catchers.grounds`.

    Returns
    -------
    str
        Such as ``"an air gap"`` or ``"dry soil"``.

    Examples
    --------
    >>> below_words("air gap"), below_words("wet soil")
    ('an air gap', 'wet soil')
    """
    return {"air gap": "an air gap", "board": "a board"}.get(ground, ground)


def tries_words(tries: int, embers: int) -> str:
    """Say how many tries were timed, and how many of them ended with an ember.

    Examples
    --------
    >>> tries_words(24, 1)
    '24 tries, 1 ember'
    """
    counted = f"{tries} {'try' if tries == 1 else 'tries'}"
    return f"{counted}, {embers} {'ember' if embers == 1 else 'embers'}"


def time_words(seconds: float) -> str:
    """Spell a time to two figures at most.

    Parameters
    ----------
    seconds : float
        The time; infinite means never. [s]

    Returns
    -------
    str
        Such as ``"12 s"``, ``"2½ min"``, ``"12 min"`` or ``"never"``.

    Examples
    --------
    >>> [time_words(t) for t in (0.52, 12.3, 92.0, 140.0, 725.0, math.inf)]
    ['0.5 s', '12 s', '92 s', '2½ min', '12 min', 'never']
    """
    if seconds >= TOO_LONG:
        return NEVER
    if seconds < 0.095:
        return "under 0.1 s"
    if seconds < 1:
        return f"{_round_figures(seconds, 1):g} s"
    if seconds < 105:  # from here on half minutes are as fine as two figures
        return f"{_round_figures(seconds, 2):.0f} s"
    if seconds >= 10 * minute:
        return f"{round(seconds / minute)} min"
    whole, half = divmod(round(2 * seconds / minute), 2)
    return f"{whole}{'½' if half else ''} min"


def moment_words(seconds: float) -> str:
    """Spell a time to two figures even below ten seconds, where times are there to be compared.

    Parameters
    ----------
    seconds : float
        The time; infinite means never. [s]

    Returns
    -------
    str
        Such as ``"5.1 s"``, ``"21 s"`` or ``"never"``.

    Examples
    --------
    >>> [moment_words(t) for t in (5.08, 21.04, 459.5)]
    ['5.1 s', '21 s', '7½ min']
    """
    return f"{number_words(seconds)} s" if 0 < seconds < 10 else time_words(seconds)


def likely_words(seconds: float) -> str:
    """Say what time is the most likely one.

    Parameters
    ----------
    seconds : float
        The time; infinite means never. [s]

    Returns
    -------
    str
        Such as ``"most likely about 30 s"`` or ``"most likely never"``.

    Examples
    --------
    >>> likely_words(30.2)
    'most likely about 30 s'
    """
    time = time_words(seconds)
    return f"most likely {'about ' if time[0].isdigit() else ''}{time}"


def floor_words(seconds: float) -> str:
    """Spell a time that cannot be beaten: a lower limit is only "never" where nothing moves.

    Parameters
    ----------
    seconds : float
        The lower limit; infinite where no heat is made. [s]

    Returns
    -------
    str
        Such as ``"13 s"``, ``"over an hour"`` or ``"never"``.

    Examples
    --------
    >>> [floor_words(t) for t in (13.0, 5000.0, math.inf)]
    ['13 s', 'over an hour', 'never']
    """
    if TOO_LONG <= seconds < math.inf:
        return "over an hour"
    return moment_words(seconds) if seconds < 0.1 else time_words(seconds)


def band_words(band: Iterable[float]) -> str:
    """Spell a band of times by its ends.

    Parameters
    ----------
    band : Band or pair of float
        From low to high; infinite means never. [s]

    Returns
    -------
    str
        Such as ``"15 to 40 s"`` or ``"2 min to never"``.

    Examples
    --------
    >>> [band_words(b) for b in ((15.2, 41.0), (50.0, 130.0), (110.0, 190.0), (110.0, math.inf))]
    ['15 to 41 s', '50 s to 2 min', '2 to 3 min', '2 min to never']
    """
    low, *_, high = band
    first, last = time_words(low), time_words(high)
    if first == last:
        return first
    number, _, unit = first.partition(" ")
    return f"{number} to {last}" if unit and last.endswith(f" {unit}") else f"{first} to {last}"


def saved_words(saved: Iterable[float]) -> str:
    """Say how much sooner the ember comes, and how far that may be off.

    Parameters
    ----------
    saved : Band or triple of float
        Time saved. [s]

    Examples
    --------
    >>> saved_words((4.3, 15.6, 84.6)), saved_words((0.0, 400.0, math.inf))
    ('about 16 s sooner: 4 to 85 s', 'about 6½ min sooner: nothing to far more')
    >>> saved_words((0.0, math.inf, math.inf)), saved_words((-3.0, 5.0, 20.0))
    ('an ember at last', 'about 5 s sooner: 3 s later to 20 s')
    """
    low, likely, high = saved
    if likely >= TOO_LONG:
        return "an ember at last"
    return f"about {time_words(likely)} sooner: {saved_range(low, high)}"


def saved_range(low: float, high: float) -> str:
    """Spell from how little to how much is saved.

    Parameters
    ----------
    low, high : float
        Time saved; less than nothing is later, and infinite is from never to some time. [s]

    Examples
    --------
    >>> saved_range(4.3, 84.6), saved_range(2.0, math.inf)
    ('4 to 85 s', '2 s to far more')
    """
    most = time_words(high) if high < TOO_LONG else "far more"
    if low >= TOO_LONG:
        return most
    if low >= _NOTHING and high < TOO_LONG:
        return band_words((low, high))
    if low > -_NOTHING:
        least = "nothing" if low < _NOTHING else time_words(low)
        return f"{least} to {most}" if least != most else most
    later = time_words(-low)
    return f"{later} later to {most}"


_FRACTIONS = (
    (1 / 16, "a sixteenth of"),
    (1 / 12, "a twelfth of"),
    (1 / 10, "a tenth of"),
    (1 / 8, "an eighth of"),
    (1 / 7, "a seventh of"),
    (1 / 6, "a sixth of"),
    (1 / 5, "a fifth of"),
    (1 / 4, "a quarter of"),
    (1 / 3, "a third of"),
    (2 / 5, "two fifths of"),
    (1 / 2, "half"),
    (2 / 3, "two thirds of"),
    (3 / 4, "three quarters of"),
)


def ratio_words(ratio: float, *, short: bool = False) -> str:
    """Say how a time changes, in plain fractions and multiples.

    Parameters
    ----------
    ratio : float
        New time over old time. [1]
    short : bool, optional
        Leave out "the time".

    Returns
    -------
    str
        Such as ``"a quarter of the time"`` or ``"4 times the time"``.

    Examples
    --------
    >>> [ratio_words(r) for r in (0.25, 0.52, 1.0, 2.1, 4.0, math.inf)]
    ['a quarter of the time', 'half the time', 'the same time', 'twice the time', \
'4 times the time', 'never']
    """
    words = _ratio_words(ratio)
    return words.replace(" of the time", "").replace(" the time", "") if short else words


def _ratio_words(ratio):
    if ratio == math.inf:
        return NEVER
    if 0.93 < ratio < 1.07:
        return "the same time"
    return _less_words(ratio) if ratio < 1 else _more_words(ratio)


def _less_words(ratio):
    if ratio < 0.05:
        return "a tiny part of the time"
    if ratio >= 0.87:
        return "a little less time"
    nearest = min(_FRACTIONS, key=lambda f: abs(math.log(f[0] / ratio)))
    return f"{nearest[1]} the time"


def _more_words(ratio):
    if ratio < 1.25:
        return "a little more time"
    if ratio < 1.75:
        return "one and a half times the time"
    if ratio <= 2.5:
        return "twice the time"
    return f"{_round_figures(ratio, 2 if ratio >= 10 else 1):g} times the time"


_SAME = "the same time"
_BEYOND = 20.0  # times as long, or as short: by how much more is of no use to anybody


def factor_words(band: Iterable[float]) -> str:
    """Spell a band of new time over old time; where one of them has no ember, say that.

    Parameters
    ----------
    band : Band or pair of float
        From low to high: zero where an ember comes that never came, infinite where it is gone. [1]

    Returns
    -------
    str
        Such as ``"0.14 to 0.42 of the time"``.

    Examples
    --------
    >>> factor_words((0.14, 0.42)), factor_words((0.9, 1.3)), factor_words((1.0, 1.0))
    ('0.14 to 0.42 of the time', '0.9 to 1.3 times the time', 'the same time')
    >>> factor_words((0.35, 1.0)), factor_words((0.0, 1.0)), factor_words((0.0, 0.0))
    ('0.35 of the time to the same time', 'at most the same time', 'an ember at last')
    >>> factor_words((2.2, math.inf)), factor_words((0.0031, 0.25)), factor_words((1.4, 316.0))
    ('2.2 times or more, even never', 'at most 0.25 of the time', '1.4 times or more')
    """
    low, *_, high = band
    if low == math.inf:
        return "never an ember any more"
    if high == 0:
        return "an ember at last"
    first, last = _factor(low), _factor(high)
    if high > _BEYOND:
        if low == 0:
            return "an ember at last, or no longer"
        more = f"{first.replace('times the time', 'times')} or more"
        return more if high < math.inf else f"{more}, even never"
    if low < 1 / _BEYOND:
        return f"at most {last}"
    if first == last:
        return first if first == _SAME else f"about {first}"
    return f"{first} to {last}" if last == _SAME else f"{_ratio(low)} to {last}"


def _factor(factor):
    words = _ratio(factor)
    return _SAME if words == "1" else f"{words} {'of' if factor < 1 else 'times'} the time"


def _ratio(factor):
    """Spell a ratio to two figures, and to no more than two decimals."""
    return number_words(factor, figures=1 if factor < 0.1 else 2) if factor < math.inf else ""
