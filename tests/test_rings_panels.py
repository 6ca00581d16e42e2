"""Ring panel, watt ladder and ramp: they show what the models say, and move as told."""

import numpy as np
import pytest
from reading import alt, face, pixels
from scipy.constants import degree

from fireheat import Effort, Kit
from fireheat.answers.rings import cut
from fireheat.everyday import familiar_powers, known_friction
from fireheat.figures import style
from fireheat.figures.ladder import Ladder
from fireheat.figures.rings import SHOWN, RingPicture, Tip
from fireheat.kit.bowing import friction_power
from fireheat.kit.kit import Try
from fireheat.lessons import measured, self_check, worked_out
from fireheat.panels import Ramp, Rings, WattLadder
from fireheat.person.limits import kit_pull
from fireheat.person.measuring import mean_angle, ramp_friction
from fireheat.quantities import METRIC, US
from fireheat.words import number_words, percent_words

# ---- rings ------------------------------------------------------------------------------------


def test_the_big_results_are_those_of_the_model():
    panel = Rings()
    panel.set(diameter=0.02, force=80.0, contact="uniform_pressure")
    now = cut(Try(Kit(radius=0.01, contact="uniform_pressure"), Effort(force=80.0)))
    for value, unit in (
        (now.torque.sum() * 1e3, "N mm"),
        (now.turning_speed * 60 / (2 * np.pi), "rpm"),
        (friction_power(80, friction=0.35, speed=1.0, contact="uniform_pressure"), "W"),
        (now.mean_flux / 1e3, "kW/m²"),
    ):
        assert f"<b>{number_words(value)} {unit}</b>" in face(panel)
    assert "turns a minute" in face(panel)  # what rpm is short for


def test_a_torque_is_compared_with_a_mass_that_makes_it():
    # 0.084 N m on 10 mm is 8.4 N, the weight of 0.857 kg; on an inch 3.307 N, 0.743 lbf.
    panel = Rings()
    assert "like 0.86 kg hung on an arm of 1 cm" in face(panel)
    panel.units.value = US
    assert "like 0.74 lb hung on an arm of 1 in" in face(panel)
    assert "<b>0.74 lb in</b>" in face(panel)


def test_twice_the_diameter_doubles_torque_halves_turns_and_keeps_the_watts():
    panel = Rings()
    panel.keep_before()
    panel.set(diameter=0.032)
    # By hand: 60 N x 0.35 x 4 mm is 84 N mm; 1 m/s round 16 mm is 19.9 turns a second.
    assert "170 N mm</b>" in face(panel)
    assert "before: 84 N mm" in face(panel)
    assert "600 rpm</b>" in face(panel)
    assert "before: 1,200 rpm" in face(panel)
    assert face(panel).count("10 W") == 2


def test_the_total_in_words_does_not_depend_on_how_finely_the_tip_is_cut():
    panel = Rings()
    said = [
        panel.set(count=count, shown="power").split(" altogether")[0][-4:] for count in (4, 8, 16)
    ]
    assert said == ["10 W"] * 3


@pytest.mark.parametrize("system", [METRIC, US])
@pytest.mark.parametrize("shown", SHOWN)
def test_every_picture_of_a_worn_in_and_a_fresh_tip_says_what_it_shows(shown, system):
    panel = Rings(units=system)
    words = [panel.set(contact=c, shown=shown) for c in ("uniform_wear", "uniform_pressure")]
    assert words[0] != words[1]
    assert all(SHOWN[shown] in said for said in words)
    assert alt(panel).replace("\xa0", " ") == words[1].replace("\xa0", " ")


def test_a_level_picture_says_so():
    panel = Rings()
    # By hand, on the 201 mm^2 of a 16 mm tip: 10.5 W and 60 N.
    assert panel.set(shown="flux").endswith("heat per area is 52 kW/m² on every ring.")
    fresh = panel.set(shown="pressure", contact="uniform_pressure")
    assert fresh.endswith("pressure is 300 kPa on every ring.")


def test_the_disc_is_shaded_alike_when_worn_in_and_hotter_at_the_rim_when_fresh():
    for contact, alike in (("uniform_wear", True), ("uniform_pressure", False)):
        sketch = RingPicture()
        sketch.update(Tip(cut(Try(Kit(contact=contact))), "tip"), None, "torque")
        row = pixels(sketch.png())[194]
        half = sketch.disc.across(1000 * Kit().radius) - 168  # pixels
        shades = np.round(style.HEAT).astype(int)
        second, last = (
            np.abs(shades - row[168 + round(rings / 8 * half)]).sum(axis=1).argmin()
            for rings in (1.5, 7.5)
        )
        assert bool(second == last) is alike
        assert second <= last


def test_each_bar_of_the_pile_stands_where_the_last_one_ended():
    sketch = RingPicture()
    tip = Tip(cut(Try(), count=4), "tip")
    sketch.update(tip, None, "torque")
    values, whole = tip.values("torque", METRIC)
    assert values.sum() == pytest.approx(whole)
    heights = sketch.chart.down(np.cumsum(values)).round()
    seen = pixels(sketch.png())
    for number, height in enumerate(heights):
        column = 404 + 62 * number + 31
        inked = np.flatnonzero((seen[:, column] == tuple(tip_colour(sketch, tip))).all(axis=1))
        assert inked.min() == pytest.approx(height + 1, abs=1)


def tip_colour(sketch, tip):
    return sketch._colours(tip)[0].astype(np.uint8)


def test_a_bow_that_stands_makes_no_heat_and_no_trouble():
    panel = Rings(effort=Effort(speed=0.0))
    assert panel.set(shown="power") == "Worn-in tip in 8 rings: no heat made."
    assert panel.set(shown="flux").endswith("heat per area is 0 kW/m² on every ring.")
    assert WattLadder(effort=Effort(speed=0.0)).sentence().startswith("Your tip makes 0 W")


# ---- the ladder --------------------------------------------------------------------------------


def test_the_ladder_shows_the_watts_of_tip_and_arm():
    panel = WattLadder()
    tip, arm = friction_power(60, friction=0.35, speed=1.0), kit_pull(Kit(), force=60.0) * 1.0
    for words in (f"{number_words(tip)} W", f"{number_words(arm)} W", percent_words(tip / arm)):
        assert f"<b>{words}</b>" in face(panel)
    before = panel.sentence()
    assert panel.set(block_friction=0.3) == before  # it costs the arm, not the tip
    assert f"<b>{number_words(arm)} W</b>" not in face(panel)


def test_on_the_ladder_equal_steps_are_equal_factors_and_more_is_higher():
    down = Ladder(()).frame.down
    assert down(1) - down(10) == pytest.approx(down(10) - down(100))
    assert down(20) < down(10)


@pytest.mark.parametrize("power", [0.97, 10.5, 112.0])  # beside a rung, with the longest of names
def test_no_rung_of_the_ladder_runs_into_a_name(power):
    ladder = Ladder(familiar_powers())
    ladder.update(power, None)
    name = next(word for word in ladder.written() if word.text.startswith("your tip"))
    rungs = [block.box[2] for block in ladder.blocks if block.name in {"1 W", "10 W", "100 W"}]
    assert len(rungs) == 3
    assert name.box[0] > max(rungs)


@pytest.mark.parametrize("power", [0.0, 0.1, 3.0, 10.5, 99.0, 1e4])
def test_the_ladder_names_the_neighbours(power):
    words = Ladder(familiar_powers()).update(power, None)
    below = [name for watts, name in familiar_powers() if watts <= power]
    above = [name for watts, name in familiar_powers() if watts > power]
    assert all(name in words for name in below[-1:] + above[:1])


# ---- the ramp -----------------------------------------------------------------------------------


def test_the_ramp_shows_friction_and_watts_with_their_errors():
    panel = Ramp(18 * degree, 20 * degree, 22 * degree)
    mean = mean_angle(np.array([18, 20, 22]) * degree, angle_limit=1 * degree)
    friction = ramp_friction(mean.value, angle_error=mean.error)
    low, high = (friction_power(60, friction=end, speed=1.0) for end in friction.band.ends)
    assert f"{friction.value:.2f} ± {friction.error:.2f}" in face(panel)
    assert f"<b>{low:.1f} to {high:.1f} W</b>" in face(panel)


def test_readings_not_taken_are_hidden_and_do_not_count():
    panel = Ramp()
    panel.set(count=3, angle_limit=0.0)
    before = panel.sentence()
    assert panel.set(reading_5=35 * degree) == before
    hidden = [panel.control[f"reading_{n}"].box.layout.display == "none" for n in range(1, 6)]
    assert hidden == [False, False, False, True, True]


def test_each_reading_has_a_name_of_its_own():
    names = {panel_name(number) for number in range(1, 6)}
    assert names == {f"Angle, reading {number} (°)" for number in range(1, 6)}


def panel_name(number):
    return Ramp().control[f"reading_{number}"].widget.description


def test_few_readings_and_friction_at_rest_are_advised_upon():
    panel = Ramp()
    assert "two cases out of three" in face(panel)
    panel.set(kind="static")
    assert "measure sliding" in face(panel)
    panel.set(count=2)
    assert "take three or more" in face(panel)


def test_published_frictions_stand_on_the_line():
    assert known_friction() == {"chestnut sliding": 0.33, "chestnut at rest": 0.46}


@pytest.mark.parametrize("make", [Rings, WattLadder, Ramp])
def test_letters_are_large_enough(make):
    panel = make()
    for key, control in panel.control.items():
        if hasattr(control, "row"):
            panel.set(**{key: control.row.slider[1]})
    sketch = panel.sketched
    assert min(size for *_, size, _ in sketch.letters) >= 14


# ---- questions and card --------------------------------------------------------------------------


def test_the_predictions_come_out_as_theory_says():
    # A worn-in tip heats evenly: 1 - (1/2)^2 of its area lies beyond half its radius.
    assert measured("rim_share", Try()) == pytest.approx(0.75)
    fresh = Try(Kit(contact="uniform_pressure"))
    assert measured("rim_share", fresh) == pytest.approx(1 - 0.5**3)
    for key, right in (
        ("rim_share", "three quarters of it"),
        ("twice_diameter_watts", "the same watts"),
    ):
        assert worked_out(key).right == right


@pytest.mark.parametrize("key", ["radius_cancels", "which_friction"])
def test_each_self_check_has_one_right_answer(key):
    assert sum(option.right for option in self_check(key).options) == 1
