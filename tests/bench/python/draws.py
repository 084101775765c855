"""What is drawn for a landing, for every trial at once."""

from types import SimpleNamespace

import numpy as np


class Draws:
    """One landing of every trial."""

    def __init__(self, run, random, landing, trials):
        in_year = landing % run.calendar_day.size
        self.day = landing // run.calendar_day.size * run.daysPerYear + run.calendar_day[in_year]
        # The tires are fitted just before the first landing.
        self.gap_days = 0.0 if landing == 0 else run.calendar_gap_days[in_year]
        self.strip_uniform, self.wet_uniform, self.pivot_uniform = random.random((3, trials))
        mass, speed, sink, shift, braking, temperature = random.standard_normal((6, trials))
        self.mass_kg = run.massKg * np.maximum(1 + run.massSpread * mass, 0.3)
        ratio = np.clip(run.speedRatio + run.speedSpread * speed, 0.9, 1.8)
        self.speed_mps = run.stallSpeedMps * ratio
        self.roll_ratio = (ratio / run.speedRatio) ** 2
        self.sink_mps = run.sinkMedianMps * np.exp(run.sinkSigma * sink)
        self.side_shift = np.clip(run.sideLoadSpread * shift, -0.8, 0.8)
        hardness = np.exp(run.brakingSigma * braking)
        self.peak_braking = run.peakMedian * hardness
        self.braked_share = np.minimum(run.brakedMedian * hardness, 0.9)
        self.temperature_k = run.calendar_temperature_k[in_year] + run.temperatureSpreadK * temperature
        shape = run.wearSpread**-2 if run.wearSpread > 0 else 0
        self.wear_scatter = random.standard_gamma(shape, trials) / shape if shape > 0 else np.ones(trials)

    def of(self, rows):
        """The same for some of the trials."""
        if isinstance(rows, slice):
            return self
        return SimpleNamespace(
            **{name: value[rows] if isinstance(value, np.ndarray) else value for name, value in vars(self).items()}
        )
