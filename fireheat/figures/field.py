"""A temperature field as pixels: blended between cells, tinted, with lines round its zones."""

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np

from ..heat.volumes import HeatRun
from . import style
from .sketch import Drawn

Places: TypeAlias = tuple[np.ndarray, np.ndarray]  # cells, and the share of the way to the next
Pixel: TypeAlias = tuple[int, int]  # column and row

_ALIKE = 3  # of 255: a key is too short to show each shade of a picture
_DASH, _GAP = 6, 4  # pixels
_BOILING, _NEAR = 373.15, 10.0  # of water, in kelvin; a round number of degrees is near enough


def places(centres: np.ndarray, wanted: np.ndarray) -> Places:
    """Cell below and share of the way to the next one, for each wanted place."""
    place = np.interp(wanted, centres, np.arange(centres.size))
    below = np.minimum(place.astype(int), centres.size - 2)
    return below, place - below


def blend(values: np.ndarray, rows: Places, columns: Places) -> np.ndarray:
    """Blend between four cells, rows and columns as from :func:`places`."""
    (i, u), (j, v) = rows, columns
    across = values[:, j] * (1 - v) + values[:, j + 1] * v
    return across[i] * (1 - u)[:, np.newaxis] + across[i + 1] * u[:, np.newaxis]


def filled(run: HeatRun, at: int) -> np.ndarray:
    """Rise of each cell at one moment; cells that are no body carry the outermost value inward.

    So that blending next to a body's side does not mix in what is not there.
    """
    last = np.maximum(run.inside.sum(axis=1) - 1, 0)
    outermost = run.rise[at][np.arange(len(last)), last]
    return np.where(run.inside, run.rise[at], outermost[:, np.newaxis])


def tinted(kelvin: np.ndarray, low: float, high: float) -> tuple[np.ndarray, np.ndarray]:
    """Shade of each pixel, and its place in the shades, cold at ``low``, hot at ``high``."""
    share = np.clip((kelvin - low) / (high - low), 0, 1)
    tint = (share * 255).astype(int)
    return style.HEAT[tint], tint


def mark_isotherms(
    pixels: np.ndarray,
    kelvin: np.ndarray,
    levels: Sequence[float],
    solid: np.ndarray,
) -> None:
    """Draw a line where the temperature passes a level: whole where water boils, else in dashes."""
    rise_down, rise_across = np.gradient(kelvin)
    rows, columns = np.indices(kelvin.shape)
    along = np.where(np.abs(rise_down) >= np.abs(rise_across), columns, rows)
    dashes = along % (_DASH + _GAP) < _DASH
    for level in levels:
        line = edges((kelvin >= level).astype(int)) & solid
        whole = abs(level - _BOILING) < _NEAR
        pixels[line if whole else line & dashes] = style.rgb("INK")


def edges(zones: np.ndarray) -> np.ndarray:
    """Pixels at which one zone of whole numbers meets another."""
    edge = np.zeros(zones.shape, bool)
    edge[1:] |= zones[1:] != zones[:-1]
    edge[:, 1:] |= zones[:, 1:] != zones[:, :-1]
    return edge


def draw_line(pixels: np.ndarray, start: Pixel, end: Pixel) -> None:
    """Draw a thin straight line, as far as there is room; ends are columns and rows."""
    steps = int(max(abs(end[0] - start[0]), abs(end[1] - start[1]))) + 1
    columns = np.linspace(start[0], end[0], steps).round().astype(int)
    rows = np.linspace(start[1], end[1], steps).round().astype(int)
    room = (rows < pixels.shape[0]) & (columns < pixels.shape[1])
    pixels[rows[room], columns[room]] = style.rgb("INK")


def tint_key(width: int, height: int) -> np.ndarray:
    """Shades from hot to cold, top to bottom, to stand beside a picture."""
    shades = style.HEAT[np.linspace(255, 0, height).astype(int)][:, np.newaxis]
    return np.repeat(shades, width, axis=1)


def read_key(pixels: np.ndarray, shades: np.ndarray) -> np.ndarray:
    """How far along a key's shades each pixel's is, from 0 to 1; NaN where it is none of them."""
    seen, which = np.unique(pixels.reshape(-1, 3).astype(np.uint8), axis=0, return_inverse=True)
    apart = np.abs(seen[:, np.newaxis].astype(int) - shades.astype(np.uint8)).max(axis=2)
    share = np.where(apart.min(axis=1) <= _ALIKE, apart.argmin(axis=1) / (len(shades) - 1), np.nan)
    return share[which.ravel()].reshape(pixels.shape[:2])


def read_degrees(drawn: dict[str, Drawn], *cuts: str) -> dict[str, Drawn]:
    """Add what temperatures a reader finds by the key in each cut that is drawn."""
    key = drawn["key"]
    for cut in set(cuts) & set(drawn):
        share = read_key(drawn[cut].color, key.color[:, 0])
        degrees = key.frame.y.value(1 - share)
        drawn[f"{cut}, degrees"] = drawn[cut]._replace(color=degrees)
    return drawn
