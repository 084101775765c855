// What the benchmark hands over: constants of the wheels, habits, calendar and prices, as a text file with one entry
// per line, a name and its numbers. Names follow lib/simulate.
#pragma once

#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

using Input = std::map<std::string, std::vector<double>>;

inline Input readInput(const char *path) {
  std::ifstream file(path);
  Input input;
  for (std::string line, name; std::getline(file, line);) {
    std::istringstream words(line);
    words >> name;
    for (double value; words >> value;) input[name].push_back(value);
  }
  return input;
}

inline const std::vector<double> &list(const Input &input, const std::string &name) {
  const auto found = input.find(name);
  if (found == input.end()) throw std::runtime_error("no input named " + name);
  return found->second;
}

inline double number(const Input &input, const std::string &name) { return list(input, name).at(0); }

// Each list of fields is written once and used twice: to declare the fields and to read them.
#define DECLARE(field) double field;
#define READ(field) target.field = number(input, prefix + #field);

#define STRIP_FIELDS(FIELD)                                                                                  \
  FIELD(ambientPa) FIELD(touchdownWear) FIELD(rolloutWear) FIELD(taxiWear) FIELD(touchdownWearWet)           \
  FIELD(rolloutWearWet) FIELD(taxiWearWet) FIELD(rolloutM) FIELD(taxiM) FIELD(rolloutStonesPerM)             \
  FIELD(taxiStonesPerM) FIELD(sameSurface) FIELD(rolloutBiteScaleM) FIELD(taxiBiteScaleM) FIELD(patchEdges)  \
  FIELD(rolloutEdges) FIELD(taxiEdges) FIELD(touchdownEdgeScaleM) FIELD(rolloutEdgeScaleM)                   \
  FIELD(taxiEdgeScaleM) FIELD(rolloutSideCutsPerM) FIELD(taxiSideCutsPerM) FIELD(tailHits) FIELD(dryGrip)    \
  FIELD(wetGrip) FIELD(wetShare) FIELD(paved) FIELD(help)

#define WHEEL_FIELDS(FIELD)                                                                                  \
  FIELD(loadPerMass) FIELD(massShare) FIELD(diameterM) FIELD(widthM) FIELD(meanSizeM)                        \
  FIELD(stiffnessAreaM2) FIELD(ratedPa) FIELD(evenDeflectionM) FIELD(freeHeightM) FIELD(bandGain)            \
  FIELD(centreAreaShare) FIELD(centreRubberAreaM2) FIELD(shoulderRubberAreaM2) FIELD(landRatio)              \
  FIELD(innerShoulderShare) FIELD(touchdownLoadShare) FIELD(inertiaKgM2) FIELD(rollingFloor)                 \
  FIELD(rollingTermPa) FIELD(squirmShare) FIELD(turnScrub) FIELD(crosswindScrub) FIELD(brakingSlip)          \
  FIELD(slidingFriction) FIELD(pivotAngleRad) FIELD(newTreadM) FIELD(rubberM) FIELD(carcassM) FIELD(coldPa)  \
  FIELD(basePa) FIELD(lossPerDay) FIELD(leaksPerDay) FIELD(leakAtStartPerDay) FIELD(leakGrowthPerDay)        \
  FIELD(beadTorquePerPa) FIELD(ledgeTorqueNm) FIELD(valveTearHazard) FIELD(impactEnergyShare)                \
  FIELD(hydroplaningAtOnePaMps)

#define RUN_FIELDS(FIELD)                                                                                    \
  FIELD(massKg) FIELD(massSpread) FIELD(stallSpeedMps) FIELD(speedRatio) FIELD(speedSpread)                  \
  FIELD(sinkMedianMps) FIELD(sinkSigma) FIELD(sideLoadSpread) FIELD(brakedMedian) FIELD(peakMedian)          \
  FIELD(brakingSigma) FIELD(wearSpread) FIELD(temperatureSpreadK) FIELD(daysPerYear) FIELD(pivotChance)      \
  FIELD(inspectEveryDays) FIELD(noticedBelow) FIELD(removeAtCords) FIELD(treadLimitM) FIELD(replacePairs)    \
  FIELD(ageLimitDays) FIELD(patchChance) FIELD(downDaysAtBase) FIELD(downDaysPatched) FIELD(downDaysRescue)  \
  FIELD(downDaysReplacement) FIELD(priced) FIELD(tubePrice) FIELD(tireChangePrice) FIELD(patchPrice)         \
  FIELD(rescuePrice) FIELD(downDayPrice) FIELD(horizonLandings) FIELD(surfaces)

// What a wheel meets on one strip.
struct Strip {
  STRIP_FIELDS(DECLARE)
};

// What a wheel position of a set-up is.
struct Constants {
  WHEEL_FIELDS(DECLARE)
  std::vector<Strip> strips;
};

inline Constants readConstants(const Input &input, const std::string &position) {
  Constants wheel;
  {
    Constants &target = wheel;
    const std::string prefix = position + ".";
    WHEEL_FIELDS(READ)
  }
  for (size_t s = 0; s < list(input, "touchdownSurface").size(); s++) {
    Strip target;
    const std::string prefix = position + ".strip." + std::to_string(s) + ".";
    STRIP_FIELDS(READ)
    wheel.strips.push_back(target);
  }
  return wheel;
}

// What is the same for all pairings.
struct Run {
  RUN_FIELDS(DECLARE)
  int seasonLandings;
  std::vector<double> day, gapDays, temperatureK, touchdownSurface, rolloutSurface, taxiSurface;
};

inline Run readRun(const Input &input) {
  Run target;
  const std::string prefix;
  RUN_FIELDS(READ)
  target.day = list(input, "calendar.day");
  target.gapDays = list(input, "calendar.gapDays");
  target.temperatureK = list(input, "calendar.temperatureK");
  target.touchdownSurface = list(input, "touchdownSurface");
  target.rolloutSurface = list(input, "rolloutSurface");
  target.taxiSurface = list(input, "taxiSurface");
  target.seasonLandings = int(target.day.size());
  return target;
}
