"""Read the paper computer from its written file, with a straight edge and nothing else.

Coordinates of ticks, lines and crossings come out of the file; between two ticks, or two lines of
the net, a point is put by shares of the space. No formula of the library is used.
"""

import re
import xml.etree.ElementTree as ET
from collections import defaultdict
from itertools import pairwise

import numpy as np

SI = {
    "N": 1.0,
    "lbf": 4.4482216152605,
    "m/s": 1.0,
    "ft/s": 0.3048,
    "1": 1.0,
    "W": 1.0,
    "s": 1.0,
    "mm": 1e-3,
    "in": 0.0254,
}
LEVEL = ("force", "speed", "friction", "product")


class Reader:
    """Scales, net and ladder as they stand in a file of HTML with the chart's two drawings."""

    def __init__(self, page):
        self.ticks = defaultdict(list)  # (scale, unit): value in SI, x, y
        lines = defaultdict(dict)
        drawings = [ET.fromstring(svg) for svg in re.findall(r"<svg.*?</svg>", page, re.S)]
        for path in (one for svg in drawings for one in svg.iter("path")):
            points = np.array(re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path.get("d")), float)
            if path.get("data-value") and path.get("data-scale"):
                unit, value = path.get("data-unit"), float(path.get("data-value"))
                self.ticks[path.get("data-scale"), unit].append((value * SI[unit], *points[0]))
            elif path.get("data-scale") == "blank":
                self.blank = points[0][1]
            elif path.get("data-net"):
                lines[path.get("data-net")][1e-3 * float(path.get("data-value"))] = points
        self.ticks = {key: np.array(sorted(rows)) for key, rows in self.ticks.items()}
        self.diameters, self.depths = (
            np.array(sorted(lines[key])) for key in ("diameter", "burn_in_depth")
        )
        self.net = np.array([lines["diameter"][one] for one in self.diameters])
        self.other_way = np.array([lines["burn_in_depth"][one] for one in self.depths])

    def point(self, scale, value, unit):
        """Find a value on a scale: x, y."""
        ticks = self.ticks[scale, unit]
        assert np.all((ticks[0, 0] <= value + 1e-9) & (value <= ticks[-1, 0] + 1e-9)), scale
        return np.array([np.interp(value, ticks[:, 0], ticks[:, at]) for at in (1, 2)])

    def value(self, scale, unit, where):
        """Read a scale where a ruler crosses it; beyond its late end, infinity."""
        ticks = self.ticks[scale, unit]
        along = ticks[:, 1] if scale in LEVEL else -ticks[:, 2]
        where = where if scale in LEVEL else -where
        assert all(one < other for one, other in pairwise(along)), scale
        return np.interp(where, along, ticks[:, 0], left=np.nan, right=np.inf)

    def watts(self, force, speed, friction, us=False):
        """Lay the ruler twice across the first part."""
        press = self.point("force", force, "lbf" if us else "N")
        bow = self.point("speed", speed, "ft/s" if us else "m/s")
        mark = level(press, bow, self.blank)
        grip = self.point("friction", friction, "1")
        y = self.ticks["product", "W"][0, 2]
        return self.value("product", "W", level(mark, grip, y)[0])

    def ember(self, watts, diameter, depth):
        """Lay the ruler from the watts through the net."""
        start, through = self.point("power", watts, "W"), self.crossing(diameter, depth)
        x = self.ticks["ember", "s"][0, 1]
        return self.value("ember", "s", upright(start, through, x)[1])

    def floor(self, watts, diameter, us=False):
        """Lay the ruler from the watts through the thickness for the floor."""
        start = self.point("power", watts, "W")
        through = self.point("floor_marks", diameter, "in" if us else "mm")
        x = self.ticks["bound", "s"][0, 1]
        return self.value("bound", "s", upright(start, through, x)[1])

    def crossing(self, diameter, depth):
        """Find thickness and wear-off in the net: x, y; in one line, where that stands for all."""
        if not len(self.depths):
            return self.point("net", diameter, "mm")
        row = np.interp(diameter, self.diameters, np.arange(len(self.diameters)))
        column = np.interp(depth, self.depths, np.arange(len(self.depths)))
        i = np.clip(np.floor(row).astype(int), 0, len(self.diameters) - 2)
        j = np.clip(np.floor(column).astype(int), 0, len(self.depths) - 2)
        down, right = (row - i)[..., None], (column - j)[..., None]
        above = (1 - right) * self.net[i, j] + right * self.net[i, j + 1]
        below = (1 - right) * self.net[i + 1, j] + right * self.net[i + 1, j + 1]
        return np.moveaxis((1 - down) * above + down * below, -1, 0)


def level(one, other, y):
    """Tell where the straight line through two points is at a height."""
    share = (y - one[1]) / (other[1] - one[1])
    return np.array([one[0] + share * (other[0] - one[0]), np.broadcast_to(y, np.shape(share))])


def upright(one, other, x):
    """Tell where the straight line through two points is, so far across."""
    share = (x - one[0]) / (other[0] - one[0])
    return np.array([np.broadcast_to(x, np.shape(share)), one[1] + share * (other[1] - one[1])])
