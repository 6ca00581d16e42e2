"""Logs with a known truth, written as spreadsheets and people write them, and damaged."""

import random

from fireheat.quantities import from_si
from fireheat.trials.columns import AN_EMBER, COLUMNS, GAVE_UP, UNITS, TimedTry

NUMBERS = {  # lowest and highest value, and its step, in the unit of a new log
    "diameter": (8, 24, 0.5),
    "force": (30, 120, 1),
    "pull": (5, 40, 0.1),
    "stroke_length": (30, 70, 1),
    "strokes_per_minute": (60, 200, 1),
    "friction": (0.2, 0.6, 0.01),
    "moisture": (5, 18, 0.5),
    "burn_in_depth": (2, 9, 0.25),
    "dust_mass": (0.1, 0.9, 0.001),
}
KEYS = {column.key: column for column in COLUMNS}


def truth(dice):
    """Tries as they were."""
    return [one_try(dice) for _ in range(dice.randint(2, 9))]


def one_try(dice):
    values = {}
    for key, (low, high, step) in NUMBERS.items():
        if dice.random() < 0.8:
            shown = low + step * dice.randint(0, round((high - low) / step))
            values[key] = in_si(KEYS[key], round(shown, 3))
    time = float(dice.randint(20, 200))
    return TimedTry(
        **values,
        time=time,
        smoke_time=float(dice.randint(5, 20)),
        ended=dice.choice([AN_EMBER, GAVE_UP]),
        learner=f"L{dice.randint(1, 30):02}",
        date=dice.choice(["", "2026-10-03", "3 Oct"]),
        wood=dice.choice(["", "willow", "Linde, trocken", 'the "soft" one']),
        note=dice.choice(["", "windy; cold", "äöü, two\nlines", "ok", '5/8" spindle']),
    )


def in_si(column, shown):
    from fireheat.quantities import to_si

    return to_si(shown, column.units[0]) if column.units else shown


class Style:
    """How one file is written."""

    def __init__(self, dice):
        self.dice = dice
        self.parting = dice.choice([",", ";", "\t"])
        self.ending = dice.choice(["\n", "\r\n", "\r"])
        self.encoding = dice.choice(["utf-8", "utf-8-sig", "utf-16", "cp1252"])
        self.quoting = dice.choice(["where needed", "all"])
        self.columns = list(COLUMNS)
        if dice.random() < 0.5:
            dice.shuffle(self.columns)
        self.units = {c.key: dice.choice(c.units) if c.units else "" for c in COLUMNS}
        # Commas in numbers where cells are parted by something else, or stand in quotes.
        self.comma = {c.key: dice.random() < (0.7 if self.parting == ";" else 0.3) for c in COLUMNS}
        self.in_cell = {c.key: dice.random() < 0.1 and bool(c.units) for c in COLUMNS}
        self.clock = dice.random() < 0.2

    def heading(self, column):
        word = self.dice.choice([column.heading, column.heading.upper(), *column.others[:1]])
        unit = self.units[column.key]
        if not unit or self.in_cell[column.key]:
            return word
        words = [one for one in UNITS[unit] if one.isascii() or self.encoding != "cp1252"]
        return f"{word} {self.dice.choice(['({})', '[{}]'])}".format(self.dice.choice(words))

    def cell(self, column, timed):
        value = getattr(timed, column.key)
        if value in (None, ""):
            return ""
        if not column.row:
            return value if column.key != "ended" else self.dice.choice([value, value.upper()])
        unit = self.units[column.key]
        if self.clock and column.key == "time" and value == int(value):
            return f"{int(value) // 60}:{int(value) % 60:02}"
        text = f"{from_si(value, unit) if unit else value:.9g}"
        text = text.replace(".", ",") if self.comma[column.key] else text
        return f"{text} {unit}" if self.in_cell[column.key] else text

    def line(self, cells):
        return self.parting.join(map(self.quoted, cells)) + self.ending

    def quoted(self, cell):
        if self.quoting == "all" or any(sign in cell for sign in (self.parting, '"', "\n", "\r")):
            return '"' + cell.replace('"', '""') + '"'
        return cell


def written(tries, dice):
    """Return lines of a file, its rows as cells, and its style."""
    style = Style(dice)
    rows = [[style.heading(column) for column in style.columns]]
    rows += [[style.cell(column, one) for column in style.columns] for one in tries]
    return rows, style


# ---- damage: each says whether the whole file must be refused -----------------------------------


def as_it_was(rows, style, dice):
    return None


def cell_of(rows, style, dice, *, numbers=True):
    """Pick a cell that is not empty."""
    filled = [
        (row, place)
        for row in range(1, len(rows))
        for place, column in enumerate(style.columns)
        if rows[row][place] and bool(column.row) is numbers
    ]
    return dice.choice(filled)


def formula(rows, style, dice):
    row, place = cell_of(rows, style, dice)
    rows[row][place] = dice.choice(["=A1+1", "=SUM(B2:B9)", "@now", "+1+1"])
    return row


def words(rows, style, dice):
    row, place = cell_of(rows, style, dice)
    rows[row][place] = dice.choice(["thick", "n/a", "?", "16-17", "12.5.3", "1 000", "8-May", "—"])
    return row


def minus(rows, style, dice):
    row, place = cell_of(rows, style, dice)
    rows[row][place] = dice.choice("-−") + rows[row][place]
    return row


def huge(rows, style, dice):
    row, place = cell_of(rows, style, dice)
    rows[row][place] = dice.choice(["9" * 400, "1e99", "x" * 5_000])
    return row


def wrong_unit(rows, style, dice):
    place = next(i for i, c in enumerate(style.columns) if c.key == "diameter")
    given = style.units["diameter"]
    if style.in_cell["diameter"] or given == "cm":  # 2 cm and 2 in are both spindles
        return None
    rows[0][place] = f"diameter ({dice.choice([u for u in ('mm', 'in') if u != given])})"
    return "unit"


def strange_unit(rows, style, dice):
    place = next(i for i, c in enumerate(style.columns) if c.key == "force")
    rows[0][place] = "downward force (stone)"
    return "column force"


def no_unit(rows, style, dice):
    place = next(i for i, c in enumerate(style.columns) if c.key == "diameter")
    rows[0][place] = "diameter"
    return None if style.in_cell["diameter"] else "unit"


def twice(rows, style, dice):
    place = next(i for i, c in enumerate(style.columns) if c.key == "force")
    for row, cells in enumerate(rows):
        cells.append("downward force (lb)" if row == 0 else "99")
    style.columns = [*style.columns, style.columns[place]]
    return "column force"


def extra_cell(rows, style, dice):
    row = dice.randrange(1, len(rows))
    rows[row].insert(dice.randrange(len(rows[row])), dice.choice(["", "16", "x"]))
    return row


def cell_less(rows, style, dice):
    row = dice.randrange(1, len(rows))
    del rows[row][dice.randrange(len(rows[row]))]
    return row


def other_end(rows, style, dice):
    place = next(i for i, c in enumerate(style.columns) if c.key == "ended")
    row = dice.randrange(1, len(rows))
    rows[row][place] = dice.choice(["", "maybe", "smoke", "1"])
    return row


def extra_column(rows, style, dice):
    for row, cells in enumerate(rows):
        cells.append("weather" if row == 0 else dice.choice(["", "rain"]))
    style.columns = [*style.columns, None]
    return


def lines_between(rows, style, dice):
    for _ in range(3):
        row = dice.randrange(1, len(rows) + 1)
        blank = [""] * len(rows[0])
        rows.insert(row, dice.choice([blank, ["# a remark", *blank[1:]]]))
    return


def no_headings(rows, style, dice):
    del rows[0]
    return "refused"


IN_CELLS = (
    *(as_it_was, formula, words, minus, huge, wrong_unit, strange_unit, no_unit, twice),
    *(extra_cell, cell_less, other_end, extra_column, lines_between, no_headings),
)


def plain(data, style, dice):
    return data


def spreadsheet_hint(data, style, dice):
    hint = f"sep={style.parting}{style.ending}# a remark{style.ending}".encode("ascii")
    return data if style.encoding.startswith("utf-") and style.encoding != "utf-8" else hint + data


def unclosed(data, style, dice):
    """A quotation mark that nothing closes, before some cell."""
    letters = data.decode(style.encoding)
    places = [i for i, sign in enumerate(letters) if sign == style.parting]
    place = dice.choice(places)
    return (letters[: place + 1] + '"' + letters[place + 1 :]).encode(style.encoding)


def cut(data, style, dice):
    return data[: dice.randrange(len(data))]


def bits(data, style, dice):
    spoilt = bytearray(data)
    for _ in range(dice.randint(1, 30)):
        spoilt[dice.randrange(len(spoilt))] = dice.randrange(256)
    return bytes(spoilt)


def other_file(data, style, dice):
    return dice.choice(
        [b"", b"   \r\n", b"PK\x03\x04" + data, bytes(range(256)) * 20, b"\x00" * 5000, b"\xff\xfe"]
    )


def large(data, style, dice):
    return data + b"\n" * 2_100_000


IN_BYTES = (
    *[plain] * 12,
    spreadsheet_hint,
    spreadsheet_hint,
    unclosed,
    cut,
    bits,
    other_file,
    large,
)


def mangled(seed):
    """Return a file's bytes, its truth, and how it was damaged, in cells and in bytes."""
    dice = random.Random(seed)
    tries = truth(dice)
    rows, style = written(tries, dice)
    harm = dice.choice(IN_CELLS)
    what = harm(rows, style, dice)
    text = "".join(map(style.line, rows))
    data = text.encode(style.encoding, errors="replace")
    spoil = dice.choice(IN_BYTES)
    return spoil(data, style, dice), tries, what, harm.__name__, spoil.__name__
