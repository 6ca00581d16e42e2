"""The court of advice on paper: a sheet to vote on, and the poster for after the vote."""

import html

from ..answers.court import Hearing, hearing
from ..coach.population import populations
from ..coach.sayings import sayings
from ..coach.verdicts import DEPENDS, HARMS, HELPS, NO_MATTER, OUTCOMES
from ..figures.three_parts import part_key, three_part_bar
from ..texts import both_told
from .sheet import Sheet

_VOTES = (HELPS, NO_MATTER, HARMS, DEPENDS)
_KINDS = {HELPS: "helped", NO_MATTER: "no matter", HARMS: "harmed"}
_GROUPS = "ABC"
_BOX = '<span class="box"></span>'
_INVENTED = "All learners are invented, 2,000 a group. Sayings: common practice, no source."


def judged_sayings() -> tuple[str, ...]:
    """Name the sayings that our model can judge, in their order.

    Examples
    --------
    >>> "wider_notch" in judged_sayings()
    False
    """
    return tuple(key for key, row in sayings().items() if row.change is not None)


def court_vote() -> Sheet:
    """Make the sheet to vote on, before anybody has seen the poster.

    Examples
    --------
    >>> court_vote().body.count("<tr>") == 1 + len(judged_sayings())
    True
    """
    heads = "".join(f"<th>{vote}</th>" for vote in _VOTES)
    rows = "".join(
        f"<tr><td>{at}</td><td>{_quoted(key)}</td>{f'<td>{_BOX}</td>' * len(_VOTES)}</tr>"
        for at, key in enumerate(judged_sayings(), start=1)
    )
    return Sheet(
        "court-vote",
        "The court of advice: vote first",
        f'<table class="court vote"><thead><tr><th></th><th>Somebody says …</th>{heads}</tr>'
        f"</thead><tbody>{rows}</tbody></table>",
        lead="A group follows each saying. Does it help most, harm most, not matter, or does it"
        " depend on who hears it? Tick, or count hands. The poster comes after the vote.",
        source="Sayings: common practice, no source.",
        use="Sayings from the fire circle: does each help, or harm? Count hands.",
    )


def court_poster() -> Sheet:
    """Make the poster: what each saying does to a hundred of each group, and whom it harms.

    Examples
    --------
    >>> court_poster().body.count("<svg") == 3 + 3 * len(judged_sayings())
    True
    """
    heads = "".join(
        f"<th>{letter}: {_plain(_short(one.name))}</th>"
        for letter, one in zip(_GROUPS, populations().values(), strict=True)
    )
    rows = "".join(_row(at, key) for at, key in enumerate(judged_sayings(), start=1))
    untold = " ".join(_quoted(key) for key, row in sayings().items() if row.change is None)
    return Sheet(
        "court-poster",
        "After the vote: whom does it help?",
        f'<table class="court poster"><thead><tr><th></th><th>{_key()}</th>{heads}<th>In all</th>'
        f"</tr></thead><tbody>{rows}</tbody></table>"
        f'<p class="note">Our model cannot judge: {untold}</p>',
        lead="A bar is 100 invented learners. No words below? The bars tell all. For a wall: A3.",
        cautions=("Fire is",),
        source=_INVENTED,
        use="For a wall, after the vote: what each saying does to a hundred learners.",
    )


def _key():
    parts = (f"<span>{part_key(kind)}{_KINDS[kind]}</span>" for kind in OUTCOMES)
    return f'<div class="key">{"".join(parts)}</div>'


def _row(number, key):
    heard = [hearing(key, group) for group in populations()]
    bars = "".join(f"<td>{three_part_bar(_shares(one), one.counts)}</td>" for one in heard)
    harmed = _harmed(heard)
    told = f'<tr><td></td><td colspan="5">{harmed}</td></tr>' if harmed else ""
    return (
        f'<tr class="first"><td>{number}</td><td>{_quoted(key)}</td>{bars}'
        f"<td>{heard[0].overall}</td></tr>{told}"
    )


def _shares(one: Hearing) -> dict[str, float]:
    return {kind: band.likely for kind, band in one.verdict.shares.items()}


def _harmed(heard: list[Hearing]) -> str:
    """Say whom it harms, of the group where most are; nothing where bars alone tell all."""
    told = [
        (_shares(one)[HARMS], -at, letter, one.verdict.rule.told)
        for at, (letter, one) in enumerate(zip(_GROUPS, heard, strict=True))
        if one.verdict.rule.parts
    ]
    if not told:
        return ""
    _, _, letter, words = max(told)
    return f"In {letter} it harms {_plain(both_told(words))}."


def _short(name: str) -> str:
    """Leave out where and when."""
    return name.partition(" on a ")[0].partition(" in ")[0]


def _quoted(key: str) -> str:
    return f"“{_plain(sayings()[key].words)}”"


def _plain(words: str) -> str:
    return html.escape(words, quote=False)
