// One wheel with its tire: the steps of a landing, as in lib/simulate/wheel.ts and lib/models.
#pragma once

#include <algorithm>
#include <cmath>

#include "draws.hpp"
#include "input.hpp"

enum Process { PUNCTURE, PRESSURE, CUT, LEAK, PROCESSES };
constexpr int SPOTS = 8, WHEELS = 3, MAINS = 2, THIRD = 2;
constexpr double REFERENCE_K = 288.15;

struct Wheel {
  const Constants *constants;
  double side;
  // From landing to landing.
  double gasPa, leakDay, centreLostM, innerLostM, outerLostM, spotLostM[SPOTS], deepestSpotM, fittedDay;
  bool cutPending;
  double decayGapDays, decayShare;
  // The landing at hand.
  double gaugePa, loadN, stiffnessN, deflectionM, touchdownDeflectionM, footprintWidthM, footprintAreaM2;
  double spinUpWornM3, brakingWornM3, pivotWornM3, squirmWornM3, scrubWornM3, rolloutWornM3, taxiWornM3;
  double treadHazard, sidewallHazard, pinchHazard, valveHazard, flatChance, hazard[PROCESSES];
  bool beadSlipped;

  void fitNew(double day) {
    centreLostM = innerLostM = outerLostM = deepestSpotM = 0;
    std::fill(spotLostM, spotLostM + SPOTS, 0.0);
    cutPending = false;
    leakDay = -1;
    fittedDay = day;
  }

  double deepestLostM() const { return std::max({centreLostM, innerLostM, outerLostM}) + deepestSpotM; }

  void loseAir(const Landing &d) {
    const Constants &c = *constants;
    hazard[LEAK] = c.leaksPerDay * d.gapDays;
    if (d.gapDays != decayGapDays) { // the same gap comes back landing after landing
      decayGapDays = d.gapDays;
      decayShare = std::exp(-c.lossPerDay * d.gapDays);
    }
    double kept = decayShare;
    if (leakDay >= 0)
      kept *= std::exp(-(c.leakAtStartPerDay + c.leakGrowthPerDay * (d.day - leakDay)) * d.gapDays);
    gasPa = c.basePa + (gasPa - c.basePa) * kept;
  }

  void setCold(const Landing &d) {
    gasPa = (constants->coldPa + constants->basePa) * REFERENCE_K / d.temperatureK;
    leakDay = -1;
  }

  double gaugePressurePa(double ambientPa, double temperatureK) const {
    return std::max(gasPa * temperatureK / REFERENCE_K - ambientPa, 0.0);
  }

  void makeContact(const Strip &strip, const Landing &d);
  void slip(const Strip &strip, const Landing &d, bool wet);
  void pivot(const Strip &strip, const Landing &d, bool wet, int spot);
  void meetStones(const Strip &strip, const Landing &d);
  void strainAir(const Strip &strip, const Landing &d, bool wet);
};

// Smiley and Horne's load-deflection law (NASA TR R-64), solved for the deflection.
inline double deflectionUnder(double loadN, double stiffnessN, double widthM) {
  const double ratio = loadN / stiffnessN;
  return ratio <= 0.168 ? widthM * (std::sqrt(0.9216 + 28.8 * ratio) - 0.96) / 14.4
                        : widthM * (ratio / 2.4 + 0.03);
}

inline void Wheel::makeContact(const Strip &strip, const Landing &d) {
  const Constants &c = *constants;
  gaugePa = gaugePressurePa(strip.ambientPa, d.temperatureK);
  loadN = c.loadPerMass * d.massKg * (1 + side * d.sideShift);
  stiffnessN = (gaugePa + 0.08 * c.ratedPa) * c.stiffnessAreaM2;
  deflectionM = std::min(deflectionUnder(loadN, stiffnessN, c.widthM), c.freeHeightM);
  const double ratio = std::min(deflectionM / c.widthM, 0.48), square = ratio * ratio;
  footprintWidthM = 1.7 * c.widthM * std::sqrt(ratio - square * square * (2.5 - 1.5 * square));
  footprintAreaM2 = 2.3 * deflectionM * c.meanSizeM;
  touchdownDeflectionM = deflectionUnder(c.touchdownLoadShare * loadN, stiffnessN, c.widthM);
}

inline double centreWorkShare(const Constants &c, double deflectionM) {
  const double weight = std::max(1 + c.bandGain * (deflectionM / c.evenDeflectionM - 1), 0.0);
  return c.centreAreaShare / (c.centreAreaShare + (1 - c.centreAreaShare) * weight);
}

inline void Wheel::slip(const Strip &strip, const Landing &d, bool wet) {
  const Constants &c = *constants;
  const double touchdownWear = d.wearScatter * (wet ? strip.touchdownWearWet : strip.touchdownWear);
  const double rolloutWear = d.wearScatter * (wet ? strip.rolloutWearWet : strip.rolloutWear);
  const double taxiWear = d.wearScatter * (wet ? strip.taxiWearWet : strip.taxiWear);
  const double rolloutM = strip.rolloutM * d.rollRatio;
  const double spinRadps = d.speedMps / (0.5 * c.diameterM - touchdownDeflectionM / 3);
  spinUpWornM3 = touchdownWear * 0.5 * c.inertiaKgM2 * spinRadps * spinRadps;
  brakingWornM3 = rolloutWear * 0.5 * d.massKg * d.speedMps * d.speedMps * d.brakedShare * c.brakingSlip / 2;
  const double resistance = c.rollingFloor + c.rollingTermPa / std::max(gaugePa, 10000.0);
  const double rolloutSquirm = rolloutWear * resistance * loadN * rolloutM * c.squirmShare;
  const double taxiSquirm = taxiWear * resistance * loadN * strip.taxiM * c.squirmShare;
  const double rolloutScrub = rolloutWear * loadN * rolloutM * c.crosswindScrub * d.sideShift * d.sideShift;
  const double taxiScrub = taxiWear * loadN * strip.taxiM * c.turnScrub;
  squirmWornM3 = rolloutSquirm + taxiSquirm;
  scrubWornM3 = rolloutScrub + taxiScrub;
  pivotWornM3 = 0;
  rolloutWornM3 = brakingWornM3 + rolloutSquirm + rolloutScrub;
  taxiWornM3 = taxiSquirm + taxiScrub;
  const double rolling = rolloutWornM3 + taxiWornM3;
  const double centre =
      spinUpWornM3 * centreWorkShare(c, touchdownDeflectionM) + rolling * centreWorkShare(c, deflectionM);
  const double shoulder = spinUpWornM3 + rolling - centre;
  const double inner = std::clamp(c.innerShoulderShare - side * d.sideShift, 0.0, 1.0);
  centreLostM += centre / c.centreRubberAreaM2;
  innerLostM += shoulder * inner / c.shoulderRubberAreaM2;
  outerLostM += shoulder * (1 - inner) / c.shoulderRubberAreaM2;
}

inline void Wheel::pivot(const Strip &strip, const Landing &d, bool wet, int spot) {
  const Constants &c = *constants;
  const double radiusM = std::sqrt(footprintAreaM2 / M_PI);
  pivotWornM3 = d.wearScatter * (wet ? strip.taxiWearWet : strip.taxiWear) * (2.0 / 3) * c.slidingFriction *
                loadN * radiusM * c.pivotAngleRad;
  taxiWornM3 += pivotWornM3;
  spotLostM[spot] += pivotWornM3 / (footprintAreaM2 * c.landRatio);
  deepestSpotM = std::max(deepestSpotM, spotLostM[spot]);
}

inline double chanceLarger(double sizeM, double scaleM) {
  const double share = scaleM / (scaleM + sizeM);
  return share * share * share;
}

inline void Wheel::meetStones(const Strip &strip, const Landing &d) {
  const Constants &c = *constants;
  const double pressureRoot = std::sqrt(loadN / footprintAreaM2 / 344737.8646584);
  const double centreM = std::max(c.rubberM - centreLostM, 0.0);
  const double innerM = std::max(c.rubberM - innerLostM, 0.0);
  const double outerM = std::max(c.rubberM - outerLostM, 0.0);
  const auto chance = [&](double scaleM, double extraM) {
    return c.centreAreaShare * chanceLarger(centreM + extraM, scaleM) +
           0.5 * (1 - c.centreAreaShare) *
               (chanceLarger(innerM + extraM, scaleM) + chanceLarger(outerM + extraM, scaleM));
  };
  const double stones = strip.rolloutStonesPerM * d.rollRatio + (strip.sameSurface ? strip.taxiStonesPerM : 0);
  const double met = stones * footprintWidthM, scaleM = strip.rolloutBiteScaleM * pressureRoot;
  double reach = met * chance(scaleM, 0), through = met * chance(scaleM, c.carcassM);
  if (!strip.sameSurface) {
    const double taxiMet = strip.taxiStonesPerM * footprintWidthM;
    const double taxiScaleM = strip.taxiBiteScaleM * pressureRoot;
    reach += taxiMet * chance(taxiScaleM, 0);
    through += taxiMet * chance(taxiScaleM, c.carcassM);
  }
  treadHazard = through;
  sidewallHazard = deflectionM * (strip.rolloutSideCutsPerM * d.rollRatio + strip.taxiSideCutsPerM);
  hazard[PUNCTURE] = through + sidewallHazard;
  hazard[CUT] = reach - through;
}

inline double pinchChance(double heightLeftM, double scaleM) {
  return heightLeftM > 0 ? chanceLarger(heightLeftM, scaleM) : 1;
}

inline void Wheel::strainAir(const Strip &strip, const Landing &d, bool wet) {
  const Constants &c = *constants;
  const double heightLeftM = c.freeHeightM - deflectionM, massKg = c.massShare * d.massKg;
  const double impactM =
      d.sinkMps * std::sqrt(c.impactEnergyShare * massKg * c.widthM / (2.4 * stiffnessN));
  pinchHazard =
      strip.patchEdges *
          pinchChance(c.freeHeightM - touchdownDeflectionM - impactM, strip.touchdownEdgeScaleM) +
      strip.rolloutEdges * d.rollRatio * pinchChance(heightLeftM, strip.rolloutEdgeScaleM) +
      strip.taxiEdges * pinchChance(heightLeftM, strip.taxiEdgeScaleM);
  beadSlipped = false;
  valveHazard = 0;
  if (c.brakingSlip > 0) {
    const double braking = std::min(d.peakBraking, wet ? strip.wetGrip : strip.dryGrip);
    beadSlipped =
        braking * loadN * (0.5 * c.diameterM - deflectionM) > c.beadTorquePerPa * gaugePa + c.ledgeTorqueNm;
    if (beadSlipped) valveHazard = c.valveTearHazard;
  }
  hazard[PRESSURE] = pinchHazard + valveHazard;
  flatChance = -std::expm1(-(hazard[PUNCTURE] + hazard[PRESSURE]));
}
