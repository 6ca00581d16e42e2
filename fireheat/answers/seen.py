"""What was seen of a try: the likely causes in the words that a leader reads."""

from collections.abc import Collection
from typing import NamedTuple

from ..coach.seen import PRACTICE, Diagnosis, LikelyCause, likely_causes, observations

MOST_CAUSES = 4  # more are no help to who stands beside a learner
_NO_HELP = 0.02  # of the weight: less likely causes are left out
_MOSTLY = 0.5  # of the weight: with less in the first two, much else fits as well


class Ranked(NamedTuple):
    """One cause, as it is shown.

    Attributes
    ----------
    name : str
        Its words.
    tenths : int or None
        Of ten invented tries that look like this, how many have it; none where only the craft
        knows. [1]
    share : str
        The same in words.
    """

    name: str
    tenths: int | None
    share: str


class Looked(NamedTuple):
    """What was seen, and what it means.

    Attributes
    ----------
    found : Diagnosis
        What is likely to be wrong.
    rows : tuple of Ranked
        The likeliest causes, in order; at most ``MOST_CAUSES``.
    word : str
        What is the matter with what was ticked; empty if nothing is.
    """

    found: Diagnosis
    rows: tuple[Ranked, ...]
    word: str


def looked(seen: Collection[str]) -> Looked:
    """Rank what may be wrong by what was ticked.

    Parameters
    ----------
    seen : collection of str
        What was seen, see :func:`fireheat.coach.seen.likely_causes`.

    Returns
    -------
    Looked
        The causes in words.

    Raises
    ------
    InputError
        If something cannot be seen.

    References
    ----------
    .. [1] :func:`fireheat.coach.seen.likely_causes`.

    Examples
    --------
    >>> first, *_ = looked(["smoke_only", "steam"]).rows
    >>> first.name, first.share
    ('wood too wet', '9 of 10')
    >>> looked([]).word
    'Tick what you saw.'
    """
    found = likely_causes(seen)
    rows = [_ranked(one) for one in found.causes[:MOST_CAUSES] if one.weight >= _NO_HELP]
    return Looked(found, tuple(rows), _word(found))


def _ranked(one: LikelyCause):
    """Spell one cause with its share."""
    if one.share is None:
        return Ranked(one.cause.name, None, PRACTICE)
    tenths = round(10 * one.share)
    return Ranked(one.cause.name, tenths, f"{tenths} of 10" if tenths else "under 1 of 10")


def _word(found):
    names = {key: f"“{row.name}”" for key, row in observations().items()}
    if found.clash:
        one, other = (names[key] for key in found.clash)
        return f"One try cannot show {one} and {other}. Take one off."
    if not found.causes:
        return "Tick what you saw."
    if found.unexplained:
        odd = " and ".join(names[key] for key in found.unexplained)
        return f"Neither shows {odd}: two things may be wrong."
    if sum(one.weight for one in found.first_two) < _MOSTLY:
        return "Much else fits as well: look for more signs first."
    return ""
