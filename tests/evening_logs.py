"""Invented evenings of a club that does not exist, as a log's rows: what pages are tried on."""

HEAD = "learner,spindle diameter (mm),downward force (N),depth worn (mm),time (s),ended with,note\n"
KITS = ((11, 45), (16, 60), (22, 75), (11, 75), (16, 45), (22, 60), (16, 75), (11, 60))
NOTED = r"\bL(?:7[7-9]|8[0-4])\b|Zebra"  # what stands in no page
TIMES = (24, 58, 140, 14, 95, 120, 42, 21)


def evening(*, times=1.0, depths=False):
    """Eight tries, one of them given up, all so many times as long; with depths, if asked."""
    rows = (
        f"L{77 + at},{wide},{press},{4 if depths else ''},{times * time:g},"
        f"{'gave up' if time == 120 else 'ember'},Zebra fell\n"
        for at, ((wide, press), time) in enumerate(zip(KITS, TIMES, strict=True))
    )
    return (HEAD + "".join(rows)).encode()
