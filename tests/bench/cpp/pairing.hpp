// One pairing living through trials, as in lib/simulate/pairing-run.ts: events, removals and counts.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "wheel.hpp"

enum Cause { IN_SERVICE, WORN, CUT_PAST_LIMITS, PUNCTURED, PRESSURE_RELATED, AGED, CAUSES };

// The figures of one trial: the columns of lib/simulate/columns.ts.
struct Figures {
  int lifeLandings, lifeCause, lifeWheel, treadLimitLandings, cordsLandings, thirdLifeLandings, thirdLifeCause;
  int flats, anyFlat, anyFlatAway, mainRemovals[CAUSES], mainsFitted, thirdFitted, beadSlips, leaks, checks;
  int checksLow, wetPavedLandings, hydroplaningLandings, simulatedLandings;
  double centreLostM, innerLostM, outerLostM, flatsHazard, anyFlatHazard, anyFlatAwayHazard, treadHazard;
  double sidewallHazard, pinchHazard, valveHazard, tailHits, downDays, cost;
  double spinUpWornM3, brakingWornM3, pivotWornM3, squirmWornM3, scrubWornM3, surfaceWornM3[16];
};

class Pairing {
public:
  Figures figures;
  bool finished;

  Pairing(const Input &input, const Run &run, const std::string &name)
      : run(run), main(readConstants(input, name + ".main")), third(readConstants(input, name + ".third")),
        mixStrips(list(input, name + ".mixStrips")), cumulativeShares(list(input, name + ".cumulativeShares")),
        checkEveryDays(number(input, name + ".checkEveryDays")),
        mainPrice(number(input, name + ".mainPrice")), thirdPrice(number(input, name + ".thirdPrice")) {
    for (int w = 0; w < WHEELS; w++) {
      wheels[w].constants = w == THIRD ? &third : &main;
      wheels[w].side = w == THIRD ? 0 : 2 * w - 1;
    }
    for (int w = 0; w < MAINS; w++) {
      shadows[w].constants = &main;
      shadows[w].side = 2 * w - 1;
    }
  }
  // The wheels point at the constants in here.
  Pairing(const Pairing &) = delete;

  void open(Random &events) {
    random = &events;
    figures = Figures{};
    figures.lifeLandings = figures.thirdLifeLandings = int(run.horizonLandings);
    figures.lifeWheel = 2;
    figures.treadLimitLandings = figures.cordsLandings = -1;
    for (Wheel &wheel : wheels) wheel.fitNew(0), wheel.decayGapDays = -1;
    for (int w = 0; w < WHEELS; w++)
      for (int process = 0; process < PROCESSES; process++) restart(w, process);
    shadowOn[0] = shadowOn[1] = false;
    nextCheckDay = checkEveryDays;
    nextInspectionDay = run.inspectEveryDays;
    finished = mainsKnown = limitKnown = cordsKnown = thirdKnown = false;
  }

  void land(const Landing &d, int landing);

private:
  const Run &run;
  const Constants main, third;
  const std::vector<double> mixStrips, cumulativeShares;
  const double checkEveryDays, mainPrice, thirdPrice;
  Random *random = nullptr;
  Wheel wheels[WHEELS], shadows[MAINS];
  double clock[WHEELS][PROCESSES], threshold[WHEELS][PROCESSES];
  bool shadowOn[MAINS], mainsKnown, limitKnown, cordsKnown, thirdKnown;
  double nextCheckDay, nextInspectionDay;

  // An event comes when the hazard added up since the last one passes a standard exponential threshold.
  void restart(int w, int process) {
    clock[w][process] = 0;
    threshold[w][process] = random->exponential();
  }

  bool tick(int w, int process) {
    clock[w][process] += wheels[w].hazard[process];
    if (clock[w][process] < threshold[w][process]) return false;
    restart(w, process);
    return true;
  }

  void passTime(const Landing &d, int landing, int firstWheel, int endWheel);
  void contact(Wheel &wheel, const Strip &strip, const Landing &d);
  void countSeason(const Landing &d, const Strip &strip, bool wet, bool flat);
  void addWear(int strip);
  void readWear(int landing);
  void remove(const Landing &d, int landing, int firstWheel, int endWheel, const int *flat, const Strip &strip);
  void noteLife(int landings, const int *removed);
  void pay(int w, int cause, const Strip &strip);
  void payTreadUsed();

  double wornAtM(const Wheel &wheel) const {
    return run.removeAtCords ? wheel.constants->rubberM : wheel.constants->newTreadM - run.treadLimitM;
  }
};

inline void Pairing::land(const Landing &d, int landing) {
  const bool inSeason = landing < run.seasonLandings;
  const int firstWheel = inSeason || !mainsKnown ? 0 : THIRD;
  const int endWheel = inSeason || !thirdKnown ? WHEELS : MAINS;
  size_t k = 0;
  while (d.stripUniform >= cumulativeShares[k]) k++;
  const int s = int(mixStrips[k]);
  const Strip &strip = main.strips[s];
  const bool wet = d.wetUniform < strip.wetShare;

  passTime(d, landing, firstWheel, endWheel);
  int flat[WHEELS] = {};
  for (int w = firstWheel; w < endWheel; w++) {
    Wheel &wheel = wheels[w];
    const Strip &place = w == THIRD ? third.strips[s] : strip;
    contact(wheel, place, d);
    wheel.meetStones(place, d);
    wheel.strainAir(place, d, wet);
    wheel.slip(place, d, wet);
    if (tick(w, PRESSURE)) flat[w] = PRESSURE_RELATED;
    if (tick(w, PUNCTURE)) flat[w] = PUNCTURED;
    if (tick(w, CUT)) wheel.cutPending = true;
  }

  const bool pivots = d.pivotUniform < run.pivotChance;
  const double within = 2 * d.pivotUniform / run.pivotChance;
  const int pivotWheel = within < 1 ? 0 : 1;
  const int spot = pivots ? std::min(int((within - pivotWheel) * SPOTS), SPOTS - 1) : 0;
  if (pivots && firstWheel == 0) wheels[pivotWheel].pivot(strip, d, wet, spot);
  if (inSeason) countSeason(d, strip, wet, flat[0] || flat[1] || flat[2]);
  if (firstWheel == 0) addWear(s);
  if (!limitKnown || !cordsKnown) {
    for (int w = 0; w < MAINS; w++) {
      if (!shadowOn[w]) continue;
      contact(shadows[w], strip, d);
      shadows[w].slip(strip, d, wet);
      if (pivots && pivotWheel == w) shadows[w].pivot(strip, d, wet, spot);
    }
    readWear(landing);
  }
  remove(d, landing, firstWheel, endWheel, flat, strip);
  figures.simulatedLandings++;
  if (landing + 1 == run.seasonLandings && run.priced) payTreadUsed();
  finished = (landing + 1 >= run.seasonLandings && mainsKnown && cordsKnown && limitKnown && thirdKnown) ||
             landing + 1 >= run.horizonLandings;
}

// Time since the landing before: air lost, leaks begun, checks due.
inline void Pairing::passTime(const Landing &d, int landing, int firstWheel, int endWheel) {
  const bool inSeason = landing < run.seasonLandings;
  if (landing == 0)
    for (Wheel &wheel : wheels) wheel.setCold(d);
  const bool check = d.day >= nextCheckDay;
  if (check) nextCheckDay += checkEveryDays * (1 + std::floor((d.day - nextCheckDay) / checkEveryDays));
  for (int w = firstWheel; w < endWheel; w++) {
    Wheel &wheel = wheels[w];
    wheel.loseAir(d);
    if (tick(w, LEAK) && wheel.leakDay < 0) {
      wheel.leakDay = d.day;
      if (inSeason) figures.leaks++;
    }
    if (!check) continue;
    if (inSeason && w != THIRD) {
      figures.checks++;
      if (wheel.gaugePressurePa(main.basePa, d.temperatureK) < 0.9 * main.coldPa) figures.checksLow++;
    }
    wheel.setCold(d);
  }
  for (int w = 0; w < MAINS; w++) {
    if (!shadowOn[w]) continue;
    shadows[w].loseAir(d);
    if (check) shadows[w].setCold(d);
  }
}

// Footprint of a wheel; a tire that looks soft on the walk-around is seen to first.
inline void Pairing::contact(Wheel &wheel, const Strip &strip, const Landing &d) {
  wheel.makeContact(strip, d);
  if (wheel.gaugePa >= run.noticedBelow * wheel.constants->coldPa) return;
  wheel.setCold(d);
  wheel.makeContact(strip, d);
}

inline void Pairing::countSeason(const Landing &d, const Strip &strip, bool wet, bool flat) {
  double noFlat = 1;
  for (const Wheel &wheel : wheels) {
    noFlat *= 1 - wheel.flatChance;
    figures.flatsHazard += wheel.flatChance;
    figures.treadHazard += wheel.treadHazard;
    figures.sidewallHazard += wheel.sidewallHazard;
    figures.pinchHazard += wheel.pinchHazard;
    figures.valveHazard += wheel.valveHazard;
    figures.beadSlips += wheel.beadSlipped;
  }
  if (!figures.anyFlat) figures.anyFlatHazard += 1 - noFlat;
  if (flat) figures.anyFlat = 1;
  if (!strip.help) {
    if (!figures.anyFlatAway) figures.anyFlatAwayHazard += 1 - noFlat;
    if (flat) figures.anyFlatAway = 1;
  }
  for (int w = 0; w < MAINS; w++)
    figures.tailHits += strip.tailHits * d.rollRatio * wheels[w].footprintWidthM *
                        std::max(main.newTreadM - wheels[w].centreLostM, 0.0);
  if (wet && strip.paved) {
    figures.wetPavedLandings++;
    const double lowestPa = std::min(wheels[0].gaugePa, wheels[1].gaugePa);
    if (d.speedMps > main.hydroplaningAtOnePaMps * std::sqrt(lowestPa)) figures.hydroplaningLandings++;
  }
}

inline void Pairing::addWear(int strip) {
  for (int w = 0; w < MAINS; w++) {
    const Wheel &wheel = wheels[w];
    figures.spinUpWornM3 += wheel.spinUpWornM3;
    figures.brakingWornM3 += wheel.brakingWornM3;
    figures.pivotWornM3 += wheel.pivotWornM3;
    figures.squirmWornM3 += wheel.squirmWornM3;
    figures.scrubWornM3 += wheel.scrubWornM3;
    figures.surfaceWornM3[int(run.touchdownSurface[strip])] += wheel.spinUpWornM3;
    figures.surfaceWornM3[int(run.rolloutSurface[strip])] += wheel.rolloutWornM3;
    figures.surfaceWornM3[int(run.taxiSurface[strip])] += wheel.taxiWornM3;
  }
}

// When wear alone brings a first main tire, on the wheel or in its shadow, to the tread limit and to the cords.
inline void Pairing::readWear(int landing) {
  double deepestM = 0;
  for (int w = 0; w < MAINS; w++)
    deepestM = std::max(deepestM, (shadowOn[w] ? shadows[w] : wheels[w]).deepestLostM());
  if (!limitKnown && deepestM >= main.newTreadM - run.treadLimitM) {
    limitKnown = true;
    figures.treadLimitLandings = landing + 1;
  }
  if (!cordsKnown && deepestM >= main.rubberM) {
    cordsKnown = true;
    figures.cordsLandings = landing + 1;
  }
}

// Takes off what must come off after the landing, and fits new tires.
inline void Pairing::remove(const Landing &d, int landing, int firstWheel, int endWheel, const int *flat,
                            const Strip &strip) {
  const bool inSeason = landing < run.seasonLandings;
  const bool inspection = d.day >= nextInspectionDay;
  if (inspection)
    nextInspectionDay +=
        run.inspectEveryDays * (1 + std::floor((d.day - nextInspectionDay) / run.inspectEveryDays));
  int removed[WHEELS] = {};
  for (int w = firstWheel; w < endWheel; w++) {
    const Wheel &wheel = wheels[w];
    if (flat[w]) removed[w] = flat[w];
    else if (inspection && wheel.cutPending) removed[w] = CUT_PAST_LIMITS;
    else if (wheel.deepestLostM() >= wornAtM(wheel)) removed[w] = WORN;
    else if (d.day - wheel.fittedDay >= run.ageLimitDays) removed[w] = AGED;
    if (removed[w] && inSeason) pay(w, removed[w], strip);
  }
  const bool mainOff = removed[0] || removed[1];
  if (mainOff && !mainsKnown) noteLife(landing + 1, removed);
  if (removed[THIRD] && !thirdKnown) {
    thirdKnown = true;
    figures.thirdLifeLandings = landing + 1;
    figures.thirdLifeCause = removed[THIRD];
  }
  for (int w = 0; w < WHEELS; w++) {
    const bool withMate = mainOff && w != THIRD && run.replacePairs;
    if (!removed[w] && !withMate) continue;
    wheels[w].fitNew(d.day);
    wheels[w].setCold(d);
    if (!inSeason) continue;
    if (run.priced) figures.cost += (w == THIRD ? thirdPrice : mainPrice) + run.tireChangePrice;
    (w == THIRD ? figures.thirdFitted : figures.mainsFitted)++;
  }
}

inline void Pairing::noteLife(int landings, const int *removed) {
  mainsKnown = true;
  figures.lifeLandings = landings;
  figures.lifeWheel = removed[0] ? 0 : 1;
  figures.lifeCause = removed[figures.lifeWheel];
  figures.centreLostM = 0.5 * (wheels[0].centreLostM + wheels[1].centreLostM);
  figures.innerLostM = 0.5 * (wheels[0].innerLostM + wheels[1].innerLostM);
  figures.outerLostM = 0.5 * (wheels[0].outerLostM + wheels[1].outerLostM);
  if (cordsKnown && limitKnown) return;
  for (int w = 0; w < MAINS; w++) {
    shadows[w] = wheels[w]; // wears on without events
    shadows[w].leakDay = -1;
    shadowOn[w] = true;
  }
}

// Days and money of a removal in the season; tires are paid in full when they come off.
inline void Pairing::pay(int w, int cause, const Strip &strip) {
  if (w != THIRD) figures.mainRemovals[cause]++;
  double days = run.downDaysReplacement, money = 0;
  if (cause == PUNCTURED || cause == PRESSURE_RELATED) {
    figures.flats++;
    money = run.tubePrice;
    if (strip.help) {
      days = run.downDaysAtBase;
    } else if (random->uniform() < run.patchChance) {
      days = run.downDaysPatched;
      money += run.patchPrice;
    } else {
      days = run.downDaysRescue;
      money += run.rescuePrice;
    }
  }
  figures.downDays += days;
  if (run.priced) figures.cost += money + days * run.downDayPrice;
}

// At the end of the season, the tires on the wheels are paid by the share of their tread that is gone.
inline void Pairing::payTreadUsed() {
  for (int w = 0; w < WHEELS; w++)
    figures.cost +=
        (w == THIRD ? thirdPrice : mainPrice) * std::min(wheels[w].deepestLostM() / wornAtM(wheels[w]), 1.0);
}
