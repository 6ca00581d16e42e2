"""Steady heat drawn by an evenly heated disc on the bottom of a hole, by finite volumes.

Lengths in radii of the disc, conductivity one. The hole's walls and the top lose nothing; far away
the wood goes on for ever.
"""

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import splu


def drawn(radii_deep, *, rings=16, growth=1.1, far=60.0):
    """Heat for each kelvin of the disc's mean temperature; 3 pi^2/8 on top of a half-space."""
    rim = 1 - np.linspace(1, 0, rings + 1) ** 2
    across = np.concatenate([rim, 1 + _places(rim[-1] - rim[-2], growth, far)])
    first = 2 * (rim[-1] - rim[-2])
    down = np.append(0.0, _places(first, growth, far))
    walls = _wall(radii_deep, first, growth)
    through = np.concatenate([-walls[::-1], down])
    area, thick = np.pi * np.diff(across**2), np.diff(through)
    wood = np.ones((thick.size, area.size), bool)
    wood[: walls.size, :rings] = False
    matrix, cells = _conduction(across, through, wood)
    heat = np.zeros(wood.size)
    heat[cells[walls.size, :rings]] = area[:rings] / np.pi
    rise = splu(matrix).solve(heat)[cells[walls.size, :rings]] + thick[walls.size] / (2 * np.pi)
    return np.pi / (rise @ area[:rings])


def _places(first, growth, far):
    count = int(np.ceil(np.log1p((growth - 1) * far / first) / np.log(growth)))
    return np.cumsum(first * growth ** np.arange(count))


def _wall(depth, first, growth):
    """Heights above the bottom, fine at bottom and top."""
    if depth == 0:
        return np.array([])
    half = np.diff(_places(min(first, depth / 4), growth, depth / 2), prepend=0.0)
    sizes = np.concatenate([half, half[::-1]])
    return np.cumsum(sizes) * depth / sizes.sum()


def _conduction(across, through, wood):
    area, thick = np.pi * np.diff(across**2), np.diff(through)
    r, z = (across[1:] + across[:-1]) / 2, (through[1:] + through[:-1]) / 2
    cells = np.arange(wood.size).reshape(wood.shape)
    beside, below = wood[:, 1:] & wood[:, :-1], wood[1:] & wood[:-1]
    one = np.concatenate([cells[:, :-1][beside], cells[:-1][below]])
    other = np.concatenate([cells[:, 1:][beside], cells[1:][below]])
    value = np.concatenate(
        [
            np.outer(thick, 2 * np.pi / np.log(r[1:] / r[:-1]))[beside],
            np.outer(1 / np.diff(z), area)[below],
        ]
    )
    matrix = sparse.coo_array((value, (one, other)), shape=(wood.size, wood.size)).tocsr()
    matrix = matrix + matrix.T
    beyond = (~wood).ravel() * 1.0  # wood farther out draws as round a point: 1/distance
    beyond[cells[:, -1]] += 2 * np.pi * across[-1] ** 2 * thick / (across[-1] ** 2 + z**2)
    beyond[cells[-1]] += area * through[-1] / (through[-1] ** 2 + r**2)
    return (sparse.diags_array(matrix.sum(axis=1) + beyond) - matrix).tocsc(), cells
