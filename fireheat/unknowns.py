"""What nobody knows exactly about a try: how far it may lie from what is set.

Each is a row of ``data/spread.toml``: three values, below which lie one case in twenty, half of
them, and nineteen in twenty. Between and beyond them it is a normal curve on each side, of the
logarithm where the unknown is a factor.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy.special import ndtri

from .bands import Band
from .data import table
from .quantities import Numbers, choose, plain

_END = float(ndtri(0.95))


@dataclass(frozen=True, kw_only=True)
class Unknown:
    """One row.

    Attributes
    ----------
    key, name : str
        Its name in code, and the words a reader sees.
    kind : str
        ``"factor"`` on what is set, or ``"added"`` to it.
    group : str
        ``"wood"``, ``"set"`` by a reader, ``"open"`` or ``"luck"``.
    band : Band of float
        In 5, 50 and 95 % of cases; of a quantity that a reader sets, for a guess. [SI]
    measured : tuple of float
        Low and high end for a good measurement; empty for what is not measured. [SI]
    source, status : str
        Where the band comes from.
    how : str
        With what a reader measures it; empty for what is not measured.
    """

    key: str
    name: str
    kind: str
    group: str
    band: Band[float]
    measured: tuple[float, ...]
    source: str
    status: str
    how: str = ""

    @property
    def neutral(self) -> float:
        """What changes nothing: one for a factor, nothing added."""
        return 1.0 if self.kind == "factor" else 0.0

    def at(self, share: Numbers, band: Band[float] | None = None) -> Numbers:
        """Return the value below which a share of all cases lies.

        Parameters
        ----------
        share : float or ndarray
            Between 0 and 1. [1]
        band : Band of float, optional
            Another band than the table's, of the same kind. [SI]

        Returns
        -------
        float or ndarray
            A factor, or what is added. [SI]

        Examples
        --------
        >>> unknown("friction").at(np.array([0.05, 0.5, 0.95])).round(3)
        array([0.625, 1.   , 1.6  ])
        """
        low, likely, high = band or self.band
        place = ndtri(np.asarray(share, dtype=float)) / _END
        if self.kind == "factor":
            return plain(likely * np.where(place < 0, likely / low, high / likely) ** place)
        return plain(likely + np.where(place < 0, likely - low, high - likely) * place)

    def moved(self, value: Numbers, by: Numbers) -> Numbers:
        """Return what is set, so far off.

        Examples
        --------
        >>> unknown("moisture").moved(0.09, 0.02)
        0.11
        """
        return value * by if self.kind == "factor" else value + by


@cache
def unknowns() -> Mapping[str, Unknown]:
    """Return the whole table, by key."""
    return {
        key: Unknown(
            key=key,
            name=row["name"],
            kind=row["kind"],
            group=row["group"],
            band=Band(row["low"], row["likely"], row["high"]),
            measured=tuple(row.get("measured", ())),
            source=row["source"],
            status=row["status"],
            how=row.get("how", ""),
        )
        for key, row in table("spread").items()
    }


def unknown(key: str) -> Unknown:
    """Look up one row.

    Parameters
    ----------
    key : str
        A key of :func:`unknowns`.

    Returns
    -------
    Unknown
        The row.

    Raises
    ------
    InputError
        If the table has no such row.

    References
    ----------
    .. [1] ``data/spread.toml``; each row tells its own source.

    Examples
    --------
    >>> unknown("luck").band.ends
    (0.8, 1.25)
    """
    return unknowns()[choose("unknown", key, unknowns())]
