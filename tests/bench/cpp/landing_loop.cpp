// The landing loop once more in plain C++: the yardstick for the speed of lib/simulate.
//
// Same model, inputs, stopping rule and figures per trial, but its own random numbers (xoshiro256+), so the results
// agree with those of lib/simulate within Monte Carlo error, not bit for bit.
//
//   landing_loop INPUT SEED PAIRING,PAIRING,... TRIALS SHARED
//
// SHARED 1 draws each landing once for all pairings, as lib/simulate does; 0 runs each pairing by itself.

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <memory>

#include "pairing.hpp"

// Landings drawn at a time when they are shared.
constexpr int BLOCK_LANDINGS = 128;

struct Lane {
  std::unique_ptr<Pairing> pairing;
  std::vector<Figures> trials;
};

void runAlone(const Run &run, Lane &lane, Random &random, int trials) {
  for (int trial = 0; trial < trials; trial++) {
    lane.pairing->open(random);
    for (int landing = 0; !lane.pairing->finished; landing++)
      lane.pairing->land(draw(run, random, landing), landing);
    lane.trials[trial] = lane.pairing->figures;
  }
}

void runTogether(const Run &run, std::vector<Lane> &lanes, Random &random, int trials) {
  Landing block[BLOCK_LANDINGS];
  for (int trial = 0; trial < trials; trial++) {
    for (Lane &lane : lanes) lane.pairing->open(random);
    bool open = true;
    for (int first = 0; open; first += BLOCK_LANDINGS) {
      for (int j = 0; j < BLOCK_LANDINGS; j++) block[j] = draw(run, random, first + j);
      open = false;
      for (Lane &lane : lanes) {
        for (int j = 0; j < BLOCK_LANDINGS && !lane.pairing->finished; j++)
          lane.pairing->land(block[j], first + j);
        open = open || !lane.pairing->finished;
      }
    }
    for (Lane &lane : lanes) lane.trials[trial] = lane.pairing->figures;
  }
}

// Mean and standard error of a figure, as a member of a JSON object.
template <typename Get> void print(const char *name, const std::vector<Figures> &trials, Get get) {
  double mean = 0, squares = 0;
  for (const Figures &figures : trials) mean += double(get(figures)) / double(trials.size());
  for (const Figures &figures : trials) squares += std::pow(double(get(figures)) - mean, 2);
  const double n = double(trials.size());
  std::printf("\"%s\":[%.17g,%.17g],", name, mean, std::sqrt(squares / (n - 1) / n));
}

#define PRINT(figure) print(#figure, lane.trials, [](const Figures &f) { return f.figure; });

int main(int count, char **words) {
  if (count != 6) {
    std::fprintf(stderr, "usage: landing_loop INPUT SEED PAIRING,PAIRING,... TRIALS SHARED\n");
    return 2;
  }
  const Input input = readInput(words[1]);
  const Run run = readRun(input);
  Random random(std::strtoull(words[2], nullptr, 10));
  const int trials = std::atoi(words[4]);
  const bool shared = std::atoi(words[5]) != 0;
  std::vector<Lane> lanes;
  std::istringstream pairings(words[3]);
  for (std::string pairing; std::getline(pairings, pairing, ',');)
    lanes.push_back(
        {std::make_unique<Pairing>(input, run, "pairing." + pairing), std::vector<Figures>(size_t(trials))});

  const auto start = std::chrono::steady_clock::now();
  const std::clock_t cpuStart = std::clock();
  if (shared) runTogether(run, lanes, random, trials);
  else
    for (Lane &lane : lanes) runAlone(run, lane, random, trials);
  const double cpuSeconds = double(std::clock() - cpuStart) / CLOCKS_PER_SEC;
  const std::chrono::duration<double> seconds = std::chrono::steady_clock::now() - start;

  double landings = 0;
  for (const Lane &lane : lanes)
    for (const Figures &figures : lane.trials) landings += figures.simulatedLandings;
  std::printf("{\"seconds\":%.9g,\"cpuSeconds\":%.9g,\"landings\":%.17g,\"pairings\":[", seconds.count(),
              cpuSeconds, landings);
  const char *separator = "{";
  for (const Lane &lane : lanes) {
    std::printf("%s", separator);
    separator = ",{";
    // A tire that never shows cords within the horizon counts as the horizon, here as in the other programs.
    print("cordsLandings", lane.trials, [&](const Figures &f) {
      return f.cordsLandings < 0 ? run.horizonLandings : double(f.cordsLandings);
    });
    PRINT(lifeLandings) PRINT(thirdLifeLandings) PRINT(flatsHazard) PRINT(treadHazard) PRINT(sidewallHazard)
    PRINT(pinchHazard) PRINT(anyFlatHazard) PRINT(flats) PRINT(beadSlips) PRINT(leaks) PRINT(checksLow)
    PRINT(wetPavedLandings) PRINT(hydroplaningLandings) PRINT(tailHits) PRINT(mainsFitted) PRINT(downDays)
    PRINT(cost) PRINT(spinUpWornM3) PRINT(brakingWornM3) PRINT(pivotWornM3) PRINT(squirmWornM3)
    PRINT(scrubWornM3)
    std::printf("\"trials\":[%d,0]}", trials);
  }
  std::printf("]}\n");
}
