"""One wheel of many trials at once: the steps of a landing, as in lib/simulate/wheel.ts and lib/models.

Every array has one entry per trial. `rows` says which trials take part: a slice for all of them, which costs no
copy, or the numbers of some.
"""

from types import SimpleNamespace

import numpy as np

REFERENCE_K = 288.15
SPOTS = 8
PUNCTURE, PRESSURE, CUT, LEAK = range(4)
PROCESSES = 4


class Wheel:
    """Tire on one wheel position, in every trial."""

    def __init__(self, constants, side, trials):
        self.constants = constants
        self.side = side
        self.gas_pa = np.zeros(trials)
        self.leak_day = np.full(trials, -1.0)
        self.centre_lost_m = np.zeros(trials)
        self.inner_lost_m = np.zeros(trials)
        self.outer_lost_m = np.zeros(trials)
        self.spot_lost_m = np.zeros((SPOTS, trials))
        self.deepest_spot_m = np.zeros(trials)
        self.fitted_day = np.zeros(trials)
        self.cut_pending = np.zeros(trials, dtype=bool)
        self.clock = np.zeros((PROCESSES, trials))
        self.threshold = np.zeros((PROCESSES, trials))

    def keep(self, kept):
        """Goes on with some of the trials."""
        for name, value in vars(self).items():
            if isinstance(value, np.ndarray):
                setattr(self, name, value[..., kept])

    def fit_new(self, rows, day):
        for lost in (self.centre_lost_m, self.inner_lost_m, self.outer_lost_m, self.deepest_spot_m):
            lost[rows] = 0
        self.spot_lost_m[:, rows] = 0
        self.cut_pending[rows] = False
        self.fitted_day[rows] = day

    def copy_from(self, other, rows):
        for name in ("gas_pa", "centre_lost_m", "inner_lost_m", "outer_lost_m", "spot_lost_m", "deepest_spot_m"):
            getattr(self, name)[..., rows] = getattr(other, name)[..., rows]
        self.leak_day[rows] = -1

    def deepest_lost_m(self, rows=slice(None)):
        band = np.maximum(np.maximum(self.centre_lost_m[rows], self.inner_lost_m[rows]), self.outer_lost_m[rows])
        return band + self.deepest_spot_m[rows]

    def tick(self, rows, process, hazard, random):
        """Adds hazards to a clock; an event comes when they pass a standard exponential threshold."""
        clock = self.clock[process][rows] + hazard
        fired = clock >= self.threshold[process][rows]
        if fired.any():
            clock[fired] = 0
            threshold = self.threshold[process][rows]
            threshold[fired] = random.standard_exponential(np.count_nonzero(fired))
            self.threshold[process][rows] = threshold
        self.clock[process][rows] = clock
        return fired

    def lose_air(self, rows, day, gap_days):
        c = self.constants
        kept = np.exp(-c.lossPerDay * gap_days)
        leak_day = self.leak_day[rows]
        leaking = np.flatnonzero(leak_day >= 0)
        if leaking.size:
            per_day = c.leakAtStartPerDay + c.leakGrowthPerDay * (day - leak_day[leaking])
            kept = np.full(leak_day.size, kept)
            kept[leaking] *= np.exp(-per_day * gap_days)
        self.gas_pa[rows] = c.basePa + (self.gas_pa[rows] - c.basePa) * kept

    def set_cold(self, rows, temperature_k):
        c = self.constants
        self.gas_pa[rows] = (c.coldPa + c.basePa) * REFERENCE_K / temperature_k
        self.leak_day[rows] = -1

    def gauge_pa(self, rows, ambient_pa, temperature_k):
        return np.maximum(self.gas_pa[rows] * temperature_k / REFERENCE_K - ambient_pa, 0)


def deflection_under(load_n, stiffness_n, width_m):
    """Smiley and Horne's load-deflection law (NASA TR R-64), solved for the deflection."""
    ratio = load_n / stiffness_n
    low = (np.sqrt(0.9216 + 28.8 * ratio) - 0.96) / 14.4
    return width_m * np.where(ratio <= 0.168, low, ratio / 2.4 + 0.03)


def make_contact(wheel, rows, place, d, noticed_below):
    """Pressure, load and footprint; a tire that looks soft on the walk-around is set first."""
    c = wheel.constants
    now = SimpleNamespace()
    now.gauge_pa = wheel.gauge_pa(rows, place.ambientPa, d.temperature_k)
    soft = np.flatnonzero(now.gauge_pa < noticed_below * c.coldPa)
    if soft.size:
        wheel.set_cold(soft if isinstance(rows, slice) else rows[soft], d.temperature_k[soft])
        now.gauge_pa = wheel.gauge_pa(rows, place.ambientPa, d.temperature_k)
    now.load_n = c.loadPerMass * d.mass_kg * (1 + wheel.side * d.side_shift)
    now.stiffness_n = (now.gauge_pa + 0.08 * c.ratedPa) * c.stiffnessAreaM2
    now.deflection_m = np.minimum(deflection_under(now.load_n, now.stiffness_n, c.widthM), c.freeHeightM)
    ratio = np.minimum(now.deflection_m / c.widthM, 0.48)
    square = ratio * ratio
    now.footprint_width_m = 1.7 * c.widthM * np.sqrt(ratio - square * square * (2.5 - 1.5 * square))
    now.footprint_area_m2 = 2.3 * now.deflection_m * c.meanSizeM
    now.touchdown_deflection_m = deflection_under(c.touchdownLoadShare * now.load_n, now.stiffness_n, c.widthM)
    return now


def centre_work_share(c, deflection_m):
    weight = np.maximum(1 + c.bandGain * (deflection_m / c.evenDeflectionM - 1), 0)
    return c.centreAreaShare / (c.centreAreaShare + (1 - c.centreAreaShare) * weight)


def slip(wheel, rows, now, place, d):
    """Rubber worn off, by cause, and the bands it came from."""
    c = wheel.constants
    touchdown_wear = d.wear_scatter * place.touchdownWear
    rollout_wear = d.wear_scatter * place.rolloutWear
    taxi_wear = d.wear_scatter * place.taxiWear
    rollout_m = place.rolloutM * d.roll_ratio
    spin_radps = d.speed_mps / (0.5 * c.diameterM - now.touchdown_deflection_m / 3)
    now.spin_up_worn_m3 = touchdown_wear * (0.5 * c.inertiaKgM2) * spin_radps * spin_radps
    now.braking_worn_m3 = rollout_wear * (0.25 * c.brakingSlip) * d.mass_kg * d.speed_mps**2 * d.braked_share
    squirm = (c.rollingFloor + c.rollingTermPa / np.maximum(now.gauge_pa, 10_000)) * now.load_n * c.squirmShare
    rollout_squirm = rollout_wear * squirm * rollout_m
    taxi_squirm = taxi_wear * squirm * place.taxiM
    rollout_scrub = rollout_wear * now.load_n * rollout_m * c.crosswindScrub * d.side_shift**2
    taxi_scrub = taxi_wear * now.load_n * place.taxiM * c.turnScrub
    now.squirm_worn_m3 = rollout_squirm + taxi_squirm
    now.scrub_worn_m3 = rollout_scrub + taxi_scrub
    now.rollout_worn_m3 = now.braking_worn_m3 + rollout_squirm + rollout_scrub
    now.taxi_worn_m3 = taxi_squirm + taxi_scrub
    now.pivot_worn_m3 = np.zeros(now.load_n.size)
    rolling = now.rollout_worn_m3 + now.taxi_worn_m3
    centre = now.spin_up_worn_m3 * centre_work_share(c, now.touchdown_deflection_m)
    centre += rolling * centre_work_share(c, now.deflection_m)
    shoulder = now.spin_up_worn_m3 + rolling - centre
    inner = np.clip(c.innerShoulderShare - wheel.side * d.side_shift, 0, 1)
    wheel.centre_lost_m[rows] += centre / c.centreRubberAreaM2
    wheel.inner_lost_m[rows] += shoulder * inner / c.shoulderRubberAreaM2
    wheel.outer_lost_m[rows] += shoulder * (1 - inner) / c.shoulderRubberAreaM2


def pivot(wheel, rows, now, place, d, some, spots):
    """Pivot turns in some of the trials: `some` are their numbers among those taking part."""
    c = wheel.constants
    area_m2 = now.footprint_area_m2[some]
    worn = d.wear_scatter[some] * place.taxiWear[some] * (2 / 3) * c.slidingFriction * now.load_n[some]
    worn *= np.sqrt(area_m2 / np.pi) * c.pivotAngleRad
    now.pivot_worn_m3[some] = worn
    now.taxi_worn_m3[some] += worn
    trials = some if isinstance(rows, slice) else rows[some]
    lost_m = wheel.spot_lost_m[spots, trials] + worn / (area_m2 * c.landRatio)
    wheel.spot_lost_m[spots, trials] = lost_m
    wheel.deepest_spot_m[trials] = np.maximum(wheel.deepest_spot_m[trials], lost_m)


def chance_larger(size_m, scale_m):
    share = scale_m / (scale_m + size_m)
    return share * share * share


def meet_stones(wheel, rows, now, place, d):
    """Hazards of punctures and cuts, on the tread as it is before the wear of the landing."""
    c = wheel.constants
    pressure_root = np.sqrt(now.load_n / now.footprint_area_m2 / 344737.8646584)
    centre_m = np.maximum(c.rubberM - wheel.centre_lost_m[rows], 0)
    inner_m = np.maximum(c.rubberM - wheel.inner_lost_m[rows], 0)
    outer_m = np.maximum(c.rubberM - wheel.outer_lost_m[rows], 0)

    def chance(some, scale_m, extra_m):
        shoulders = chance_larger(inner_m[some] + extra_m, scale_m) + chance_larger(outer_m[some] + extra_m, scale_m)
        centre = chance_larger(centre_m[some] + extra_m, scale_m)
        return c.centreAreaShare * centre + 0.5 * (1 - c.centreAreaShare) * shoulders

    everywhere = slice(None)
    met = (place.rolloutStonesPerM * d.roll_ratio + place.sameSurface * place.taxiStonesPerM) * now.footprint_width_m
    scale_m = place.rolloutBiteScaleM * pressure_root
    reach = met * chance(everywhere, scale_m, 0)
    through = met * chance(everywhere, scale_m, c.carcassM)
    apart = np.flatnonzero(place.sameSurface == 0)
    if apart.size:
        met = place.taxiStonesPerM[apart] * now.footprint_width_m[apart]
        scale_m = place.taxiBiteScaleM[apart] * pressure_root[apart]
        reach[apart] += met * chance(apart, scale_m, 0)
        through[apart] += met * chance(apart, scale_m, c.carcassM)
    now.tread_hazard = through
    now.sidewall_hazard = now.deflection_m * (place.rolloutSideCutsPerM * d.roll_ratio + place.taxiSideCutsPerM)
    now.puncture_hazard = through + now.sidewall_hazard
    now.cut_hazard = reach - through


def pinch_chance(height_left_m, scale_m):
    return np.where(height_left_m > 0, chance_larger(np.maximum(height_left_m, 0), scale_m), 1)


def strain_air(wheel, now, place, d):
    """Hazards of a pinch on a rock edge and of a bead slip that tears the valve."""
    c = wheel.constants
    height_left_m = c.freeHeightM - now.deflection_m
    mass_kg = c.massShare * d.mass_kg
    impact_m = d.sink_mps * np.sqrt(c.impactEnergyShare * mass_kg * c.widthM / (2.4 * now.stiffness_n))
    touchdown_left_m = c.freeHeightM - now.touchdown_deflection_m - impact_m
    now.pinch_hazard = (
        place.patchEdges * pinch_chance(touchdown_left_m, place.touchdownEdgeScaleM)
        + place.rolloutEdges * d.roll_ratio * pinch_chance(height_left_m, place.rolloutEdgeScaleM)
        + place.taxiEdges * pinch_chance(height_left_m, place.taxiEdgeScaleM)
    )
    if c.brakingSlip > 0:
        torque_nm = np.minimum(d.peak_braking, place.grip) * now.load_n * (0.5 * c.diameterM - now.deflection_m)
        now.bead_slipped = torque_nm > c.beadTorquePerPa * now.gauge_pa + c.ledgeTorqueNm
    else:
        now.bead_slipped = np.zeros(now.load_n.size, dtype=bool)
    now.valve_hazard = now.bead_slipped * c.valveTearHazard
    now.pressure_hazard = now.pinch_hazard + now.valve_hazard
    now.flat_chance = -np.expm1(-(now.puncture_hazard + now.pressure_hazard))
