// Random numbers, and what is drawn for a landing. Every method is exact: ziggurat normals and Marsaglia-Tsang gamma,
// where lib/ looks quantiles up in tables.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "input.hpp"

struct Random {
  uint64_t s[4];

  // splitmix64 spreads the seed over the state.
  explicit Random(uint64_t seed) {
    for (uint64_t &word : s) {
      uint64_t z = (seed += 0x9e3779b97f4a7c15u);
      z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
      z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
      word = z ^ (z >> 31);
    }
  }

  // xoshiro256+ (Blackman and Vigna, 2018); its low bits are weak, so only high bits are used below.
  uint64_t next() {
    const uint64_t result = s[0] + s[3], shifted = s[1] << 17;
    s[2] ^= s[0], s[3] ^= s[1], s[1] ^= s[2], s[0] ^= s[3], s[2] ^= shifted;
    s[3] = (s[3] << 45) | (s[3] >> 19);
    return result;
  }

  double uniform() { return double(next() >> 11) * 0x1p-53; }
  double exponential() { return -std::log(1 - uniform()); }
  double normal();
  double gammaOfMeanOne(double shape);
};

// Ziggurat of 128 layers (Marsaglia and Tsang, 2000).
struct Ziggurat {
  static constexpr double R = 3.442619855899, AREA = 9.91256303526217e-3;
  double width[129], accept[128], height[129];

  Ziggurat() {
    width[0] = AREA * std::exp(0.5 * R * R);
    width[1] = R;
    width[128] = 0;
    for (int i = 2; i < 128; i++)
      width[i] = std::sqrt(-2 * std::log(AREA / width[i - 1] + std::exp(-0.5 * width[i - 1] * width[i - 1])));
    for (int i = 0; i < 128; i++) accept[i] = width[i + 1] / width[i];
    for (int i = 0; i < 129; i++) height[i] = std::exp(-0.5 * width[i] * width[i]);
  }
};
inline const Ziggurat ziggurat;

inline double Random::normal() {
  for (;;) {
    const uint64_t bits = next();
    const int layer = int(bits >> 57);
    const double u = double(int64_t(bits << 7) >> 11) * 0x1p-52; // in [-1, 1)
    const double x = u * ziggurat.width[layer];
    if (std::fabs(u) < ziggurat.accept[layer]) return x;
    if (layer == 0) {
      double tail, y;
      do {
        tail = exponential() / Ziggurat::R;
        y = exponential();
      } while (y + y < tail * tail);
      return u > 0 ? Ziggurat::R + tail : -Ziggurat::R - tail;
    }
    const double low = ziggurat.height[layer], high = ziggurat.height[layer + 1];
    if (low + uniform() * (high - low) < std::exp(-0.5 * x * x)) return x;
  }
}

// Marsaglia and Tsang (2000), for a shape of 1 or more.
inline double Random::gammaOfMeanOne(double shape) {
  const double d = shape - 1.0 / 3, c = 1 / std::sqrt(9 * d);
  for (;;) {
    const double z = normal(), t = 1 + c * z;
    if (t <= 0) continue;
    const double v = t * t * t, u = uniform(), square = z * z;
    if (u < 1 - 0.0331 * square * square || std::log(u) < 0.5 * square + d * (1 - v + std::log(v)))
      return d * v / shape;
  }
}

struct Landing {
  double stripUniform, wetUniform, pivotUniform, massKg, speedMps, rollRatio, sinkMps, sideShift;
  double brakedShare, peakBraking, temperatureK, wearScatter, day, gapDays;
};

inline Landing draw(const Run &run, Random &random, int landing) {
  Landing d;
  d.stripUniform = random.uniform();
  d.wetUniform = random.uniform();
  d.pivotUniform = random.uniform();
  d.massKg = run.massKg * std::max(1 + run.massSpread * random.normal(), 0.3);
  const double ratio = std::clamp(run.speedRatio + run.speedSpread * random.normal(), 0.9, 1.8);
  d.speedMps = run.stallSpeedMps * ratio;
  d.rollRatio = ratio * ratio / (run.speedRatio * run.speedRatio);
  d.sinkMps = run.sinkMedianMps * std::exp(run.sinkSigma * random.normal());
  d.sideShift = std::clamp(run.sideLoadSpread * random.normal(), -0.8, 0.8);
  const double braking = std::exp(run.brakingSigma * random.normal());
  d.peakBraking = run.peakMedian * braking;
  d.brakedShare = std::min(run.brakedMedian * braking, 0.9);
  const int year = landing / run.seasonLandings, inYear = landing % run.seasonLandings;
  d.temperatureK = run.temperatureK[inYear] + run.temperatureSpreadK * random.normal();
  d.wearScatter = run.wearSpread > 0 ? random.gammaOfMeanOne(1 / (run.wearSpread * run.wearSpread)) : 1;
  d.day = year * run.daysPerYear + run.day[inYear];
  d.gapDays = landing == 0 ? 0 : run.gapDays[inYear]; // the tires are fitted just before the first landing
  return d;
}

