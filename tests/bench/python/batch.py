"""Trials of one pairing side by side: events, removals and counts, as in lib/simulate/pairing-run.ts."""

from types import SimpleNamespace

import numpy as np

from draws import Draws
from wheel import CUT, LEAK, PRESSURE, PROCESSES, PUNCTURE, SPOTS, Wheel
from wheel import make_contact, meet_stones, pivot, slip, strain_air

THIRD = 2
WORN, CUT_PAST_LIMITS, PUNCTURED, PRESSURE_RELATED, AGED = range(1, 6)
EVERYWHERE = slice(None)
WEAR_FIGURES = {
    "spin_up_worn_m3": "spinUpWornM3",
    "braking_worn_m3": "brakingWornM3",
    "pivot_worn_m3": "pivotWornM3",
    "squirm_worn_m3": "squirmWornM3",
    "scrub_worn_m3": "scrubWornM3",
}


def is_empty(rows):
    return not isinstance(rows, slice) and rows.size == 0


def place_of(place, rows):
    if isinstance(rows, slice):
        return place
    return SimpleNamespace(**{name: value[rows] for name, value in vars(place).items()})


class Batch:
    """Trials of one pairing side by side, as in lib/simulate/pairing-run.ts."""

    FLOATS = (
        "flats flatsHazard anyFlatHazard anyFlatAwayHazard treadHazard sidewallHazard pinchHazard valveHazard beadSlips"
        " leaks checks checksLow wetPavedLandings hydroplaningLandings tailHits mainsFitted thirdFitted downDays cost"
        " spinUpWornM3 brakingWornM3 pivotWornM3 squirmWornM3 scrubWornM3 simulatedLandings lifeCause thirdLifeCause"
        " centreLostM innerLostM outerLostM"
    ).split()

    def __init__(self, run, pairing, random, trials):
        self.run, self.pairing, self.random = run, pairing, random
        main, third = pairing.main, pairing.third
        self.wheels = [Wheel(main, -1, trials), Wheel(main, 1, trials), Wheel(third, 0, trials)]
        self.shadows = [Wheel(main, -1, trials), Wheel(main, 1, trials)]
        for wheel in self.wheels:
            wheel.threshold = random.standard_exponential((PROCESSES, trials))
        self.shadow_on, self.mains_known, self.third_known, self.limit_known, self.cords_known, self.finished = (
            np.zeros((6, trials), dtype=bool)
        )
        self.any_flat, self.any_flat_away = np.zeros((2, trials), dtype=bool)
        self.figures = {name: np.zeros(trials) for name in self.FLOATS}
        for name in ("lifeLandings", "thirdLifeLandings", "treadLimitLandings", "cordsLandings"):
            self.figures[name] = np.full(trials, run.horizonLandings)
        self.removals = np.zeros((6, trials))
        self.surface_worn_m3 = np.zeros((int(run.surfaces), trials))
        self.next_check_day = pairing.checkEveryDays
        self.next_inspection_day = run.inspectEveryDays

    def drop_finished(self):
        """Hands out the figures of finished trials and goes on with the others."""
        done, kept = self.finished, ~self.finished
        figures = {name: values[done] for name, values in self.figures.items()}
        self.figures = {name: values[kept] for name, values in self.figures.items()}
        for wheel in self.wheels + self.shadows:
            wheel.keep(kept)
        for name, value in vars(self).items():
            if isinstance(value, np.ndarray):
                setattr(self, name, value[..., kept])
        return figures

    def land(self, landing):
        run, pairing, figures = self.run, self.pairing, self.figures
        trials = self.finished.size
        d = Draws(run, self.random, landing, trials)
        in_season = landing < run.calendar_day.size
        strip = pairing.mixStrips[np.searchsorted(pairing.cumulativeShares, d.strip_uniform, side="right")]
        wet = d.wet_uniform < pairing.main.wet_share[strip]
        mains = EVERYWHERE if in_season else self.rows(~self.mains_known)
        third = EVERYWHERE if in_season else self.rows(~self.third_known)
        shadowed = self.rows(self.shadow_on & ~(self.limit_known & self.cords_known))
        main_place = pairing.main.place(strip, wet)

        check = d.day >= self.next_check_day
        if check:
            self.next_check_day += pairing.checkEveryDays * (1 + (d.day - self.next_check_day) // pairing.checkEveryDays)
        flat = [None, None, None]
        now = [None, None, None]
        for w, wheel in enumerate(self.wheels):
            rows = third if w == THIRD else mains
            if is_empty(rows):
                continue
            some = d.of(rows)
            self.pass_time(w, rows, some, landing, check)
            place = place_of(main_place, rows) if w != THIRD else pairing.third.place(strip[rows], wet[rows])
            now[w] = make_contact(wheel, rows, place, some, run.noticedBelow)
            meet_stones(wheel, rows, now[w], place, some)
            strain_air(wheel, now[w], place, some)
            slip(wheel, rows, now[w], place, some)
            if w != THIRD:
                self.turn(w, wheel, rows, now[w], place, some)
            flat[w] = np.zeros(now[w].load_n.size, dtype=int)
            flat[w][wheel.tick(rows, PRESSURE, now[w].pressure_hazard, self.random)] = PRESSURE_RELATED
            flat[w][wheel.tick(rows, PUNCTURE, now[w].puncture_hazard, self.random)] = PUNCTURED
            wheel.cut_pending[rows] |= wheel.tick(rows, CUT, now[w].cut_hazard, self.random)
        if not is_empty(mains):
            self.add_wear(mains, now[:THIRD], strip[mains])
        if in_season:
            self.count_season(now, flat, main_place, d, wet)
        if not is_empty(shadowed):
            some, place = d.of(shadowed), place_of(main_place, shadowed)
            for w, shadow in enumerate(self.shadows):
                shadow.lose_air(shadowed, d.day, d.gap_days)
                if check:
                    shadow.set_cold(shadowed, some.temperature_k)
                contact = make_contact(shadow, shadowed, place, some, run.noticedBelow)
                slip(shadow, shadowed, contact, place, some)
                self.turn(w, shadow, shadowed, contact, place, some)
        self.read_wear(landing)
        self.remove(d, landing, mains, third, flat, main_place)
        if landing + 1 == run.calendar_day.size and run.priced:
            for w, wheel in enumerate(self.wheels):
                share = np.minimum(wheel.deepest_lost_m() / self.worn_at_m(wheel), 1)
                figures["cost"] += (pairing.thirdPrice if w == THIRD else pairing.mainPrice) * share
        if landing + 1 >= run.calendar_day.size:
            known = self.mains_known & self.cords_known & self.limit_known & self.third_known
            finished = known | (landing + 1 >= run.horizonLandings)
            figures["simulatedLandings"][finished & ~self.finished] = landing + 1
            self.finished = finished

    def rows(self, mask):
        return EVERYWHERE if mask.all() else np.flatnonzero(mask)

    def pass_time(self, w, rows, d, landing, check):
        """Time since the landing before: air lost, leaks begun, checks due."""
        wheel, figures = self.wheels[w], self.figures
        in_season = landing < self.run.calendar_day.size
        if landing == 0:
            wheel.set_cold(rows, d.temperature_k)
        wheel.lose_air(rows, d.day, d.gap_days)
        begun = wheel.tick(rows, LEAK, wheel.constants.leaksPerDay * d.gap_days, self.random)
        if begun.any():
            trials = np.flatnonzero(begun) if isinstance(rows, slice) else rows[begun]
            trials = trials[wheel.leak_day[trials] < 0]
            wheel.leak_day[trials] = d.day
            if in_season:
                figures["leaks"][trials] += 1
        if not check:
            return
        if in_season and w != THIRD:
            low = wheel.gauge_pa(rows, wheel.constants.basePa, d.temperature_k) < 0.9 * wheel.constants.coldPa
            figures["checks"] += 1
            figures["checksLow"] += low
        wheel.set_cold(rows, d.temperature_k)

    def turn(self, w, wheel, rows, now, place, d):
        """Pivot turns: the same uniform number decides whether, on which wheel and on which spot."""
        within = 2 * d.pivot_uniform / self.run.pivotChance
        some = np.flatnonzero(within < 1 if w == 0 else (within >= 1) & (within < 2))
        spots = np.minimum(((within[some] - w) * SPOTS).astype(int), SPOTS - 1)
        pivot(wheel, rows, now, place, d, some, spots)

    def add_wear(self, rows, mains, strip):
        left, right = mains
        for cause, figure in WEAR_FIGURES.items():
            self.figures[figure][rows] += getattr(left, cause) + getattr(right, cause)
        # A flat view: indexing one axis is much cheaper than indexing two.
        trials = self.finished.size
        worn_m3 = self.surface_worn_m3.reshape(-1)
        column = np.arange(trials)[rows]
        run = self.run
        worn_m3[run.touchdown_surface[strip] * trials + column] += left.spin_up_worn_m3 + right.spin_up_worn_m3
        worn_m3[run.rollout_surface[strip] * trials + column] += left.rollout_worn_m3 + right.rollout_worn_m3
        worn_m3[run.taxi_surface[strip] * trials + column] += left.taxi_worn_m3 + right.taxi_worn_m3

    def count_season(self, now, flat, place, d, wet):
        figures, main = self.figures, self.pairing.main
        no_flat = 1.0
        for w, wheel in enumerate(now):
            no_flat = no_flat * (1 - wheel.flat_chance)
            figures["flatsHazard"] += wheel.flat_chance
            figures["treadHazard"] += wheel.tread_hazard
            figures["sidewallHazard"] += wheel.sidewall_hazard
            figures["pinchHazard"] += wheel.pinch_hazard
            figures["valveHazard"] += wheel.valve_hazard
            figures["beadSlips"] += wheel.bead_slipped
            if w != THIRD:
                groove_m = np.maximum(main.newTreadM - self.wheels[w].centre_lost_m, 0)
                figures["tailHits"] += place.tailHits * d.roll_ratio * wheel.footprint_width_m * groove_m
        any_flat = (flat[0] > 0) | (flat[1] > 0) | (flat[2] > 0)
        away = place.help == 0
        figures["anyFlatHazard"] += (1 - no_flat) * ~self.any_flat
        figures["anyFlatAwayHazard"] += (1 - no_flat) * (away & ~self.any_flat_away)
        self.any_flat |= any_flat
        self.any_flat_away |= any_flat & away
        wet_paved = wet & (place.paved > 0)
        lowest_pa = np.minimum(now[0].gauge_pa, now[1].gauge_pa)
        figures["wetPavedLandings"] += wet_paved
        figures["hydroplaningLandings"] += wet_paved & (
            d.speed_mps > main.hydroplaningAtOnePaMps * np.sqrt(lowest_pa)
        )

    def read_wear(self, landing):
        """When wear alone brings a first main tire, on the wheel or in its shadow, to the tread limit and the cords."""
        if (self.limit_known & self.cords_known).all():
            return
        main = self.pairing.main
        deepest_m = np.maximum(self.wheels[0].deepest_lost_m(), self.wheels[1].deepest_lost_m())
        if self.shadow_on.any():
            on = np.flatnonzero(self.shadow_on)
            deepest_m[on] = np.maximum(self.shadows[0].deepest_lost_m(on), self.shadows[1].deepest_lost_m(on))
        for known, depth_m, name in (
            (self.limit_known, main.newTreadM - self.run.treadLimitM, "treadLimitLandings"),
            (self.cords_known, main.rubberM, "cordsLandings"),
        ):
            reached = ~known & (deepest_m >= depth_m)
            if reached.any():
                self.figures[name][reached] = landing + 1
                known[reached] = True

    def worn_at_m(self, wheel):
        c = wheel.constants
        return c.rubberM if self.run.removeAtCords else c.newTreadM - self.run.treadLimitM

    def remove(self, d, landing, mains, third, flat, place):
        """Takes off what must come off after the landing, and fits new tires."""
        run = self.run
        in_season = landing < run.calendar_day.size
        inspection = d.day >= self.next_inspection_day
        if inspection:
            due = 1 + (d.day - self.next_inspection_day) // run.inspectEveryDays
            self.next_inspection_day += run.inspectEveryDays * due
        removed = np.zeros((3, self.finished.size), dtype=int)
        for w, wheel in enumerate(self.wheels):
            rows = third if w == THIRD else mains
            if is_empty(rows):
                continue
            cause = np.where(d.day - wheel.fitted_day[rows] >= run.ageLimitDays, AGED, 0)
            cause[wheel.deepest_lost_m(rows) >= self.worn_at_m(wheel)] = WORN
            if inspection:
                cause[wheel.cut_pending[rows]] = CUT_PAST_LIMITS
            removed[w, rows] = np.where(flat[w] > 0, flat[w], cause)
        if not removed.any():
            return
        if in_season:
            for w in range(3):
                self.pay(w, removed[w], place)
        self.note_lives(removed, landing + 1)
        mains_off = (removed[0] > 0) | (removed[1] > 0)
        for w, wheel in enumerate(self.wheels):
            with_mate = mains_off if w != THIRD and run.replacePairs else False
            rows = np.flatnonzero((removed[w] > 0) | with_mate)
            wheel.fit_new(rows, d.day)
            wheel.set_cold(rows, d.temperature_k[rows])
            if in_season:
                self.figures["thirdFitted" if w == THIRD else "mainsFitted"][rows] += 1
                if run.priced:
                    price = self.pairing.thirdPrice if w == THIRD else self.pairing.mainPrice
                    self.figures["cost"][rows] += price + run.tireChangePrice

    def note_lives(self, removed, landings):
        figures = self.figures
        rows = np.flatnonzero((removed[THIRD] > 0) & ~self.third_known)
        figures["thirdLifeLandings"][rows] = landings
        figures["thirdLifeCause"][rows] = removed[THIRD, rows]
        self.third_known[rows] = True
        rows = np.flatnonzero(((removed[0] > 0) | (removed[1] > 0)) & ~self.mains_known)
        left, right = self.wheels[:2]
        figures["lifeLandings"][rows] = landings
        figures["lifeCause"][rows] = np.where(removed[0, rows] > 0, removed[0, rows], removed[1, rows])
        figures["centreLostM"][rows] = 0.5 * (left.centre_lost_m[rows] + right.centre_lost_m[rows])
        figures["innerLostM"][rows] = 0.5 * (left.inner_lost_m[rows] + right.inner_lost_m[rows])
        figures["outerLostM"][rows] = 0.5 * (left.outer_lost_m[rows] + right.outer_lost_m[rows])
        self.mains_known[rows] = True
        rows = rows[~(self.cords_known & self.limit_known)[rows]]
        for shadow, wheel in zip(self.shadows, self.wheels):
            shadow.copy_from(wheel, rows)
        self.shadow_on[rows] = True

    def pay(self, w, cause, place):
        """Days and money of removals in the season; tires are paid in full when they come off."""
        run, figures = self.run, self.figures
        rows = np.flatnonzero(cause)
        cause = cause[rows]
        if w != THIRD:
            self.removals[cause, rows] += 1
        flat = (cause == PUNCTURED) | (cause == PRESSURE_RELATED)
        at_help = place.help[rows] > 0
        patched = self.random.random(rows.size) < run.patchChance
        away_days = np.where(patched, run.downDaysPatched, run.downDaysRescue)
        away_money = np.where(patched, run.patchPrice, run.rescuePrice)
        days = np.where(flat, np.where(at_help, run.downDaysAtBase, away_days), run.downDaysReplacement)
        money = np.where(flat, run.tubePrice + np.where(at_help, 0, away_money), 0)
        figures["flats"][rows] += flat
        figures["downDays"][rows] += days
        if run.priced:
            figures["cost"][rows] += money + days * run.downDayPrice
