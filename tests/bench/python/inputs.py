"""What the benchmark hands over: a text file with one entry per line, a name and its numbers."""

from types import SimpleNamespace

import numpy as np


def read_input(path):
    entries = {}
    with open(path, encoding="utf-8") as file:
        for line in file:
            name, *numbers = line.split()
            values = np.array(numbers, dtype=float)
            entries[name] = float(values[0]) if values.size == 1 else values
    return entries


def section(entries, prefix):
    start = len(prefix)
    return {name[start:]: value for name, value in entries.items() if name.startswith(prefix)}


class WheelConstants:
    """What a wheel position is; what it meets on a strip is a table with a column per strip, dry, then wet."""

    DRY_AND_WET = {"touchdownWear": "touchdownWearWet", "rolloutWear": "rolloutWearWet", "taxiWear": "taxiWearWet"}

    def __init__(self, entries, prefix, strips):
        fields = {}
        for name, value in section(entries, prefix).items():
            if name.startswith("strip."):
                _, strip, field = name.split(".")
                fields.setdefault(field, np.zeros(strips))[int(strip)] = value
            else:
                setattr(self, name, value)
        self.wet_share = fields["wetShare"]
        table = {field: np.concatenate([values, values]) for field, values in fields.items()}
        for dry, wet in self.DRY_AND_WET.items():
            table[dry] = np.concatenate([fields[dry], fields[wet]])
            del table[wet]
        table["grip"] = np.concatenate([fields["dryGrip"], fields["wetGrip"]])
        self.strips = strips
        self.field_names = list(table)
        self.table = np.array(list(table.values()))

    def place(self, strip, wet):
        """What the wheel meets in each trial."""
        return SimpleNamespace(**dict(zip(self.field_names, self.table.take(strip + self.strips * wet, axis=1))))


def read_run(entries):
    run = SimpleNamespace(**{name: value for name, value in entries.items() if "." not in name})
    run.calendar_day = np.atleast_1d(entries["calendar.day"])
    run.calendar_gap_days = np.atleast_1d(entries["calendar.gapDays"])
    run.calendar_temperature_k = np.atleast_1d(entries["calendar.temperatureK"])
    run.touchdown_surface = np.atleast_1d(entries["touchdownSurface"]).astype(int)
    run.rollout_surface = np.atleast_1d(entries["rolloutSurface"]).astype(int)
    run.taxi_surface = np.atleast_1d(entries["taxiSurface"]).astype(int)
    return run


def read_pairing(entries, index, strips):
    own = section(entries, f"pairing.{index}.")
    return SimpleNamespace(
        main=WheelConstants(own, "main.", strips),
        third=WheelConstants(own, "third.", strips),
        mixStrips=np.atleast_1d(own["mixStrips"]).astype(int),
        cumulativeShares=np.atleast_1d(own["cumulativeShares"]),
        checkEveryDays=own["checkEveryDays"],
        mainPrice=own["mainPrice"],
        thirdPrice=own["thirdPrice"],
    )
