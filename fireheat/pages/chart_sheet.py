"""The paper computer: a chart that a ruler reads, with an example, how good it is, and for what."""

import numpy as np

from ..answers.chart import (
    DEPTHS,
    DIAMETERS,
    LADDER_DEPTHS,
    LADDER_TIMES,
    alignment_chart,
    chart_accuracy,
)
from ..answers.evenings_chart import evenings_chart
from ..answers.next_try import after_evenings
from ..estimates import times
from ..figures.chart import ember_chart, our_ember_chart, ruler_slip, watts_chart
from ..figures.explorer import ODD_EVENINGS, evenings_words
from ..kit.kit import Try
from ..kit.wood import wood
from ..quantities import default
from ..texts import both_units, in_units
from ..trials.our_fire import OurFire
from ..words import FLOOR_NOTE, band_words, number_words, percent_words, time_words, tries_words
from .sheet import Sheet

_SLIP = 0.5  # mm
_ALIKE = 1.2  # one factor stands for factors so far apart
_TOO_SLOW = "Your evenings are too slow for a net of their own."
_CROSSING = "the point where your thickness meets your wear-off"
_OF_THE_LOG = "your thickness: the wear-off of your log is in it"
_RULER = ("force", "speed", "friction")


def chart_sheet(fire: OurFire | None = None) -> Sheet:
    """Make the paper computer.

    Parameters
    ----------
    fire : OurFire, optional
        What a club's own evenings tell, where it has any.

    Examples
    --------
    >>> [page.count("<svg") for page in (chart_sheet().body, *chart_sheet().more)]
    [1, 1]
    """
    state = Try()
    chart = alignment_chart(state.kit.wood)
    ours = evenings_chart(fire) if fire else None
    lead = f"Two charts and a ruler tell an ember’s time, for {_name(state)}."
    deep = both_units("burn_in_depth", default("burn_in_depth"))
    return Sheet(
        "chart",
        "A paper computer",
        "<h2>1. How many watts?</h2>"
        "<p>Lay the ruler from your press to your bow speed. Mark where it crosses the line with"
        " no numbers. Lay it from your mark to your grip. Read the watts. Dashes: an"
        " example.</p>"
        f"{watts_chart(chart, state)}{_yours()}{_granted(chart, state)}{_good(chart)}",
        use="Two charts: a ruler laid across tells watts, floor and ember. No power needed.",
        lead=lead if ours or not fire else f"{lead} {_TOO_SLOW}",
        more=(
            f'<div class="columns"><p><b>2. The ember.</b> {_to_read(chart)}</p>'
            "<p><b>3. The floor.</b> Lay the ruler from your watts through your thickness for the"
            f" floor. Read the floor: {FLOOR_NOTE} and {deep} of wear-off. Twice the wear-off,"
            " twice the floor.</p></div>"
            f"{ember_chart(chart, state)}{_example(chart, state)}",
            *([_evenings(ours, chart, state)] if ours else []),
        ),
        source="The chart is fitted to our full sum. The ordinary kit is our choice.",
        css=".body h2{margin-top:3.5mm}.body .columns p{margin-bottom:0}"
        ".body ul,.body p{margin-bottom:1mm}",
    )


def _to_read(chart, through=_CROSSING):
    latest = time_words(chart.scales["ember"].high)
    return (
        f"Lay the ruler from your watts through {through}. Read the ember. How sure is it? Look to"
        f" the right. Over the top? Later than {latest}, or never."
    )


def _name(state):
    return f"dry {wood(state.kit.wood).name}"


def _example(chart, state):
    """Spell what the dashes say, and what the full sum says of the same kit."""
    values, found = state.values(), times(state)
    power = chart.watts(**{key: values[key] for key in _RULER})
    size = {"power": power, "diameter": values["diameter"]}
    depth = values["burn_in_depth"]
    ember = chart.ember(**size, depth=depth)
    told = {key: both_units(key, values[key]) for key in (*_RULER, "diameter", "burn_in_depth")}
    row = int(np.argmin(np.abs(np.log(LADDER_TIMES / ember))))
    column = int(np.argmin(np.abs(LADDER_DEPTHS - depth)))
    ours, all_ours = (
        band_words((band.low[column, row], band.high[column, row]))
        for band in (chart.wood_band, chart.all_band)
    )
    return (
        f"<p><b>The dashes.</b> Press {told['force']}, bow speed {told['speed']}, grip"
        f" {told['friction']}: {number_words(power, figures=3)} watts. Thickness"
        f" {told['diameter']}, wear-off {told['burn_in_depth']}: ember at about"
        f" <b>{time_words(ember)}</b>. The rung of {time_words(LADDER_TIMES[row])} says {ours} if"
        f" only the wood may differ, and <b>{all_ours}</b> with all we do not know. Floor:"
        f" {time_words(chart.floor(**size))}. Our full sum on a laptop says"
        f" {time_words(found.ember.likely)} and {time_words(found.bound)}.</p>"
    )


def _evenings(ours, chart, state):
    """Spell the page of a club's own evenings: its net, the same example, and how good it is."""
    values, found = state.values(), after_evenings(ours.fire, state)
    power = chart.watts(**{key: values[key] for key in _RULER})
    ember = ours.ember(power=power, diameter=values["diameter"], depth=values["burn_in_depth"])
    close, embers = ours.accuracy, sum(one.observed for one in ours.fire.tries)
    through = _CROSSING if len(ours.depths) > 1 else _OF_THE_LOG
    odd = ODD_EVENINGS if found.strange else ""
    apart = close.most_factor > _ALIKE * close.least_factor
    on = ember <= ours.scales["ember"].high
    read = f"ember at about <b>{time_words(ember)}</b>" if on else "over the top"
    why = ": so one factor would not do" if apart else ""
    return (
        f"<p><b>4. Your evenings</b> are your log: {tries_words(found.tries, embers)}. They have"
        f" moved the net.{odd} {_to_read(ours, through)}</p>{our_ember_chart(ours, state, power)}"
        f"<p><b>The dashes.</b> The try of page 2: {read}. The full sum:"
        f" {evenings_words(found)}; handbook: {band_words(found.handbook)}.</p>"
        f'<p class="note"><b>How good is it?</b> For 19 of 20 of {close.kits} made-up kits the'
        f" ember came within {_percent(close.most)} of what your evenings make most likely, an end"
        f" of the ladder within {_percent(close.ladder_most)}. By kit, that is"
        f" {number_words(close.least_factor)} to {number_words(close.most_factor)} times the"
        f" handbook’s likely time{why}.</p>"
    )


def _good(chart):
    """Spell how close a ruler comes, as tried anew whenever the sheet is made."""
    close = chart_accuracy(chart.wood)
    return (
        "<h2>How good is it?</h2>"
        f"<p>We read {close.kits:,} made-up kits, all over the charts, with a ruler that is never"
        f" off. For 19 of 20 the ember came within <b>{_percent(close.most)}</b> of our full sum,"
        f" for the worst within {_percent(close.worst)}, the floor within"
        f" {_percent(close.floor_worst)}. Yours will be off a little: half a millimetre at the net"
        f" moves the ember by up to {_percent(ruler_slip(chart, _SLIP))}. The ladder is rougher: 19"
        f" of 20 of its ends came within {_percent(close.wood_most)} for your wood, and"
        f" {_percent(close.all_most)} for all we do not know. Between rungs, guess by eye.</p>"
        "<p>So close comes paper to our sum. How close our sum comes to a stopwatch is what the"
        " dashed boxes say.</p>"
    )


def _percent(share):
    return percent_words(np.ceil(100 * share) / 100).replace(" ", "\xa0")


def _granted(chart, state):
    """Spell what the chart is for, and what it takes for granted."""
    power, ember = chart.scales["power"], chart.scales["ember"]
    values = state.values()
    thin, thick = (both_units("diameter", end) for end in DIAMETERS[[0, -1]])
    shallow, deep = (both_units("burn_in_depth", end) for end in DEPTHS[[0, -1]])
    water = percent_words(values["moisture"]).replace(" ", "\xa0")
    air = both_units("temperature_ambient", values["temperature_ambient"])
    long = both_units("spindle_length", state.kit.spindle_length)
    return (
        "<h2>What is it for?</h2><ul>"
        f"<li>Spindle and board of {_name(state)}, with {water} water. Wet or heavy wood takes"
        " longer.</li>"
        f"<li>Thickness from {thin} to {thick}, wear-off from {shallow} to {deep}, from"
        f" {power.low:g} to {power.high:g} watts, and an ember from {time_words(ember.low)} to"
        f" {time_words(ember.high)}. Off the end of a scale? Then the chart does not know.</li>"
        f"<li>Air at {air}. A spindle {long} long with a worn-in tip. The cord runs where the"
        " spindle is as thick as its tip.</li>"
        "<li>You keep it up: same press, same speed, no rest.</li></ul>"
    )


def _yours():
    return (
        "<h2>Where do I get my numbers?</h2><ul>"
        "<li><b>Bow speed:</b> stroke length times strokes a minute, over 60. There and back are"
        " two strokes.</li>"
        "<li><b>Wear-off:</b> how much shorter spindle and board got, together, for one ember."
        " Measure it cold, on the next day.</li>"
        "<li><b>Thickness:</b> the gauge sheet. <b>Press:</b> a scale under the board."
        f" <b>Grip:</b> do you not know it? Take {in_units('{friction:0.35}')}, and say that you"
        " guessed.</li></ul>"
    )
