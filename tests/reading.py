"""Read a panel as a reader does: its words, its picture, the colours in it."""

import base64
import html
import io
import re

import numpy as np
from PIL import Image

from fireheat.panels.units import UnitSwitch
from fireheat.quantities import METRIC, US

# Words that no reader of these units should find.
FOREIGN = {
    US: r"\d[ \xa0](mm|cm|m|N|kg|m/s|°C|kPa|kW/m²|MJ/m²)(?![\w/²])|milli|centi|newton|[{}]",
    METRIC: r"\d[ \xa0](in|ft|lb|ft/s|°F|psi|W/in²)(?![\w/²])(?! (a|the|my)\b)|\binch|\bpound|[{}]",
}


def read(words):
    """Say HTML as it reads: without tags, every space alike."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", words)).split())


def shown(panel):
    """Words of the results."""
    return read(panel.face.value)


def face(panel):
    """Results of a panel as HTML; what may not be torn apart reads as it is said."""
    return panel.face.value.replace("\xa0", " ")


def values(panel):
    """Values of the tiles, in order."""
    return re.findall("<b>(.*?)</b>", face(panel))


def notes(panel):
    """Notes of the tiles, in order."""
    return re.findall("<small>(.*?)</small>", face(panel))


def alt(panel):
    """Text alternative of the picture, as a browser reads it."""
    return html.unescape(re.search(r'<img [^>]*alt="([^"]*)"', panel.shot.value).group(1))


def png(panel):
    """File of the picture, as a browser gets it."""
    panel.watch()
    return base64.b64decode(re.search(r"base64,([^\"]+)", panel.shot.value).group(1))


def pixels(picture):
    """Colours of a picture's file: red, green and blue of each row and column."""
    return np.asarray(Image.open(io.BytesIO(picture)))[..., :3].astype(int)


def rgb(color):
    """Red, green and blue of a colour like "#0072B2"."""
    return [int(color[i : i + 2], 16) for i in (1, 3, 5)]


def painted(panel, color):
    """Where the picture has exactly this colour: row and column of each pixel."""
    return np.argwhere((pixels(png(panel)) == rgb(color)).all(axis=2))


def every_word(widget):
    """All that a reader may find on a panel, folded away or not; but not the choice of units."""
    if isinstance(widget, UnitSwitch):
        return
    for name in ("value", "description", "placeholder", "text", "words", "tooltip"):
        words = getattr(widget, name, None)
        if isinstance(words, str):
            yield read(words)
            yield from re.findall(r'(?:alt|title|aria-label)="([^"]*)"', words)
    yield from map(str, getattr(widget, "_options_labels", ()))
    for child in getattr(widget, "children", ()):
        yield from every_word(child)
