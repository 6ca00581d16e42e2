"""What every panel owes its reader, whatever it shows: a new panel is held to it from its birth."""

import inspect
import re
import warnings
from fractions import Fraction

import pytest
from reading import FOREIGN, alt, every_word, shown

from fireheat import Air, Effort, InputError, Kit, panels
from fireheat.derivation.bound import bound_steps
from fireheat.panels.base import Panel
from fireheat.panels.controls import Choice, Slider
from fireheat.panels.log_slider import LogSlider
from fireheat.quantities import METRIC, US, quantities, quantity, to_si, unit_text

# What a panel cannot be made without; the others need nothing.
START = {
    "Predict": ["half_diameter"],
    "SelfCheck": ["why_four"],
    "Stepper": [bound_steps()],
    "WhatIf": ["heavy_spindle"],
}
TAPS = (), (0.0, 0.3, 0.6, 0.9, 1.2)  # of the one control that is neither slider nor choice
ALL = [getattr(panels, name) for name in panels.__all__]
LIVE = [one for one in ALL if issubclass(one, Panel)]


def made(panel, **how):
    return panel(*START.get(panel.__name__, ()), **how)


@pytest.fixture(scope="module", params=LIVE, ids=lambda one: one.__name__)
def one(request):
    """One panel, made once."""
    return made(request.param)


@pytest.fixture
def panel(one):
    """The panel as it starts."""
    one.drop_before()
    one.units.value = METRIC
    one.reset()
    return one


def offered(control):
    """Both ends of a slider, every option of a choice."""
    if isinstance(control, LogSlider):
        return control.ends
    if isinstance(control, Slider):
        return control.row.slider
    if isinstance(control, Choice):
        return [value for _, value in control.widget.options]
    return TAPS


def others(panel):
    """Another value for each control than the one it has."""
    return {
        key: next(value for value in offered(control) if value != control.value)
        for key, control in panel.control.items()
    }


def move(panel):
    """Move something that changes what is worked out, not how it is shown."""
    fixed = getattr(panel, "fixed", ())
    key = next(key for key in panel.control if key not in (*panel.view, *fixed))
    return panel.set(**{key: others(panel)[key]})


def seen(panel):
    panel.watch()
    return panel.state, panel.sentence(), panel.face.value, panel.shot.value


# ---- what cannot be is refused, and nothing has moved -------------------------------------------


def wrong(control):
    """Values that a control cannot have."""
    if isinstance(control, Slider):
        return [control.row.high + 1e3, float("nan"), "much", None, [1.0, 2.0]]
    return ["nobody", None, ["nobody"], [float("nan")]]


def called(control):
    if isinstance(control, Slider):
        return quantity(control.row.key).name
    return control.widget.description if isinstance(control, Choice) else "taps"


def test_a_control_that_is_not_there_is_refused_by_name(panel):
    before = seen(panel)
    with pytest.raises(InputError, match=r"no control \['nobody'\]; there are \["):
        panel.set(**others(panel), nobody=1.0)
    assert seen(panel) == before


def test_a_value_that_cannot_be_is_refused_by_name_and_nothing_has_moved(panel):
    before, moved = seen(panel), others(panel)
    for key, control in panel.control.items():
        for value in wrong(control):
            first = {other: to for other, to in moved.items() if other != key}
            with pytest.raises(InputError, match=re.escape(called(control))):
                panel.set(**first, **{key: value})
            assert seen(panel) == before, (key, value)


# ---- every place of every control answers -------------------------------------------------------


def test_both_ends_of_every_slider_and_every_option_answer_without_a_warning(panel):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for key, control in panel.control.items():
            for value in offered(control):
                said = panel.set(**{key: value})
                assert panel.state[key] == value
                assert said == panel.sentence() != ""
                assert not re.search(r"\b(nan|inf|None)\b|\de[-+]\d", said + shown(panel)), key
            panel.reset()


def test_every_control_has_a_name(panel):
    for key, control in panel.control.items():
        words = getattr(control.widget, "description", None) or control.widget.words
        assert words.strip(), key


# ---- units -----------------------------------------------------------------------------------

PAIRS = {(row.metric, row.us) for row in quantities().values()}
UNITS = sorted({unit_text(one) for pair in PAIRS for one in pair} - {""}, key=len, reverse=True)
NUMBER = re.compile(
    r"((?:\d+[ \xa0])?\d+/\d+|[-−]?\d[\d,]*(?:\.\d+)?)(½?)(?: to [\d,.]+½?)?[ \xa0]?"
    rf"({'|'.join(map(re.escape, UNITS))})?(?![\w/²])"
)


def measures(sentence):
    """Numbers of a sentence, each from where to where its rounding leaves it, with its unit."""
    for number, half, unit in NUMBER.findall(sentence):
        if "/" in number:  # to the nearest mark
            inches = float(sum(map(Fraction, number.split())))
            yield (inches - 1 / 64, inches + 1 / 64), unit
            continue
        plain = number.replace(",", "").replace("−", "-")
        zeros = len(plain) - len(plain.rstrip("0")) if "." not in plain else 0
        slack = 0.5 * 10.0 ** (zeros - len(plain.partition(".")[2]))
        middle, slack = (float(plain) + 0.5, 0.25) if half else (float(plain), slack)
        yield (middle - slack, middle + slack), unit


def agree(metric, us):
    """Whether one number may be the other in another unit, where there is another."""
    if metric == us and not metric[1]:
        return True
    for one, other in PAIRS:
        if (unit_text(one), unit_text(other)) == (metric[1], us[1]):
            low, high = (to_si(end, one) for end in metric[0])
            lowest, highest = (to_si(end, other) for end in us[0])
            if low <= highest and lowest <= high:
                return True
    return False


def test_other_units_change_no_state_and_the_spoken_line_keeps_its_meaning(panel):
    for step in (panel.sentence, lambda: move(panel)):
        said, state, face = step(), panel.state, panel.face.value
        panel.units.value = US
        told = panel.sentence()
        assert panel.state == state
        assert NUMBER.sub("#", told) == NUMBER.sub("#", said)
        for metric, us in zip(measures(said), measures(told), strict=True):
            assert agree(metric, us), (said, told)
        panel.units.value = METRIC
        assert (panel.state, panel.sentence(), panel.face.value) == (state, said, face)


def test_a_number_that_is_wrong_in_other_units_would_be_seen():
    (ten,), (inch,), (foot,) = (list(measures(text)) for text in ("10 mm", "0.39 in", "0.39 ft/s"))
    assert agree(ten, inch)
    assert agree(ten, *measures("13/32 in"))
    assert agree(*measures("50 cm"), *measures("20 in"))
    assert not agree(*measures("10.0 mm"), *measures("7/16 in"))
    assert not agree(ten, foot)
    assert not agree(ten, *measures("0.93 in"))
    assert agree(*measures("−10 °C"), *measures("14 °F"))
    assert not agree(*measures("25 °C"), *measures("60 °F"))
    assert agree(*measures("10 W"), *measures("10 W"))
    assert not agree(*measures("10 mm"), *measures("10 mm"))  # nobody has switched it


def test_no_panel_mixes_units(panel):
    move(panel)
    for units in (US, METRIC):
        panel.units.value = units
        panel.catch_up()
        letters = [text for text, *_ in panel.sketched.letters]
        for words in [panel.sentence(), *every_word(panel), *letters]:
            assert not re.search(FOREIGN[units], words), (units, words)


def test_a_panel_can_start_in_either_unit(panel):
    other = made(type(panel), units=US)
    assert other.state == panel.state
    panel.units.value = US
    assert (other.sentence(), other.face.value) == (panel.sentence(), panel.face.value)


# ---- before, reset, text alternative ------------------------------------------------------------


def test_a_state_before_is_told_and_goes_again(panel):
    move(panel)
    plain, start = seen(panel), panel.state
    panel.keep_before()
    assert panel.before == start
    panel.reset()
    assert "Before: " in panel.sentence()
    assert "before: " in shown(panel)
    panel.drop_before()
    panel.set(**start)
    assert "before: " not in (panel.sentence() + shown(panel)).lower()
    assert seen(panel) == plain


def test_the_text_alternative_is_the_spoken_line(panel):
    for look in (panel.sentence, lambda: move(panel)):
        said = look()
        assert alt(panel) == panel.voice.text
        assert said.endswith(panel.voice.text)
        assert str(panel) == repr(panel) == panel.sentence() == said


def test_reset_leads_home(panel):
    home = seen(panel)
    panel.set(**others(panel))
    assert seen(panel)[:2] != home[:2]
    panel.reset()
    assert seen(panel) == home


# ---- wrong objects at the door ------------------------------------------------------------------


def doors():
    """Every argument of every panel, with something that it cannot be."""
    for panel in ALL:
        for name, given in inspect.signature(panel).parameters.items():
            for value in ("nobody", 0.013):
                if given.annotation in (float, "float") and isinstance(value, float):
                    continue  # an angle may be a number
                yield pytest.param(panel, given, value, id=f"{panel.__name__}-{name}-{value}")


@pytest.mark.parametrize(("panel", "argument", "value"), list(doors()))
def test_a_wrong_object_at_the_door_is_refused_by_name(panel, argument, value):
    given = {argument.name: value}
    if argument.kind in (argument.VAR_POSITIONAL, argument.VAR_KEYWORD):
        with pytest.raises(InputError, match=re.escape(str(value))):
            panel(value) if argument.kind == argument.VAR_POSITIONAL else panel(nobody=value)
        return
    needed = argument.name == next(iter(inspect.signature(panel).parameters))
    with pytest.raises(InputError, match=f"{value!r}.*(allowed|there are)"):
        panel(**given) if needed else made(panel, **given)


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: panels.Explorer(Effort()), "kit is Effort"),
        (lambda: panels.Explorer(Kit(), Air()), "effort is Air"),
        (lambda: panels.Strokes(Kit(), Air()), "effort is Air"),
        (lambda: panels.Explorer(units="imperial"), "units is 'imperial'; allowed: metric, us"),
        (lambda: panels.PressAndSpeed(arm="nobody"), "Whose arm cannot be 'nobody'; allowed: "),
    ],
)
def test_parts_that_are_mixed_up_are_told_apart(make, words):
    with pytest.raises(InputError, match=words):
        make()
