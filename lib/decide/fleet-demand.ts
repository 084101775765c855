/** What a fleet asks for in a season: every airplane in the same world, each with its own landings and luck. */
import { setImmediate as breathe } from 'node:timers/promises';
import { CancelledError, UsageError, wholeNumber } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { IN_SERVICE } from '../simulate/columns.js';
import { DRAW } from '../simulate/layout.js';
import { indexOfName } from '../simulate/names.js';
import { isFlat, type WatchedSpan, type Watcher } from '../simulate/pairing-run.js';
import { Simulator } from '../simulate/trials.js';
import { DemandLog } from './demand-log.js';
import type { FleetDemand, FleetRequest } from './fleet-types.js';

const MOST_AIRPLANES = 200;
const DEFAULT_WORLDS = 1000;
const MOST_WORLDS = 100_000;
/** Seasons between two looks at the clock and the signal. */
const SEASONS_PER_BREATH = 64;
const DEFAULT_BASE = 'base';
const THIRD = 2;

interface Airplane {
  readonly setup: number;
  readonly mix: number;
  readonly base: string;
}

/**
 * Lives through a season with every airplane of a fleet, in many worlds.
 *
 * All airplanes share the world of a trial, as a real fleet does: what is not known of stones and rubber is wrong for
 * all of them at once. Landings and luck are each airplane's own: airplane 0 has those of the trials of a run with the
 * same seed, airplane 1 those of the twins, and so on. Each begins the season on new tires, and no new tires are
 * fitted as a precaution.
 *
 * @param scenario compiled scenario.
 * @param request the fleet and the number of worlds.
 * @returns one row per tire, tube or patch kit asked for.
 * @throws UsageError for names and numbers that do not exist; CancelledError when the signal fires.
 */
export async function simulateFleetDemand(
  scenario: CompiledScenario,
  request: FleetRequest,
): Promise<FleetDemand> {
  const worlds = wholeNumber('worlds', request.worlds ?? DEFAULT_WORLDS, 2, MOST_WORLDS);
  const fleet = fleetOf(scenario, request);
  if (worlds < fleet.length) {
    throw new UsageError(`worlds is ${worlds}; it must be at least the number of airplanes, ${fleet.length}`);
  }
  // Tires are followed to the end of the season only, which changes nothing before it.
  const season: CompiledScenario = { ...scenario, horizonDays: 0 };
  const log = new DemandLog();
  const watcher = new DemandWatcher(scenario, log);
  const simulators = new Map<string, Simulator>();
  const simulatorOf = ({ setup, mix }: Airplane): Simulator => {
    const key = `${setup} ${mix}`;
    const made = simulators.get(key) ?? new Simulator(season, [{ setup, mix }], undefined, watcher);
    simulators.set(key, made);
    return made;
  };
  let seasons = 0;
  for (let world = 0; world < worlds; world++) {
    for (const [number, airplane] of fleet.entries()) {
      if (seasons++ % SEASONS_PER_BREATH === 0) {
        await breathe();
        if (request.signal?.aborted === true) throw new CancelledError(`stopped after ${world} worlds`);
        request.onProgress?.({ finishedTrials: world, totalTrials: worlds });
      }
      watcher.begin(world, number, airplane.base);
      simulatorOf(airplane).runTrial(world, number);
    }
  }
  request.onProgress?.({ finishedTrials: worlds, totalTrials: worlds });
  const bases = fleet.map(({ base }) => base);
  return {
    worlds,
    airplanes: fleet.length,
    airplanesAt: Object.fromEntries(
      [...new Set(bases)].map((base) => [base, bases.filter((each) => each === base).length]),
    ),
    seasonDays: seasonDays(scenario),
    items: log.items(fleet.map(({ setup, base }) => ({ setup: scenario.setups[setup]!, base }))),
  };
}

/** Days over which the landings are spread: from the first to the last, and a mean gap more. */
function seasonDays({ calendar: { day, landingsPerYear } }: CompiledScenario): number {
  const span = day[landingsPerYear - 1]! - day[0]!;
  return landingsPerYear > 1 ? (span * landingsPerYear) / (landingsPerYear - 1) : 1;
}

function fleetOf(scenario: CompiledScenario, { fleet }: FleetRequest): Airplane[] {
  const airplanes = fleet.flatMap((entry) => {
    const count = wholeNumber('airplanes', entry.airplanes ?? 1, 1, MOST_AIRPLANES);
    const airplane = {
      setup: indexOfName('set-up', entry.setup, scenario.setups),
      mix: indexOfName('runway mix', entry.mix, scenario.mixes),
      base: entry.base ?? DEFAULT_BASE,
    };
    return Array.from({ length: count }, () => airplane);
  });
  if (airplanes.length === 0) throw new UsageError('there is no airplane in the fleet: give at least one');
  wholeNumber('number of airplanes in the fleet', airplanes.length, 1, MOST_AIRPLANES);
  return airplanes;
}

/** Notes tires, tubes and patch kits as they are asked for. */
class DemandWatcher implements Watcher {
  readonly everyLanding = false;
  private readonly log: DemandLog;
  private readonly replacePairs: boolean;
  private world = 0;
  private airplane = 0;
  private base = '';
  private patched = 0;

  constructor({ habits }: CompiledScenario, log: DemandLog) {
    this.log = log;
    this.replacePairs = habits.replacePairs;
  }

  begin(world: number, airplane: number, base: string): void {
    this.world = world;
    this.airplane = airplane;
    this.base = base;
    this.patched = 0;
  }

  see({ run, draws, to }: WatchedSpan): void {
    const { removed, setup } = run;
    const day = draws.data[DRAW.day + to - 1]!;
    const mainOff = removed[0] !== IN_SERVICE || removed[1] !== IN_SERVICE;
    for (let wheel = 0; wheel <= THIRD; wheel++) {
      const tire = wheel === THIRD ? setup.third : setup.main;
      const isOff = removed[wheel] !== IN_SERVICE;
      if (isOff || (mainOff && wheel !== THIRD && this.replacePairs)) this.note('tire', tire.name, day);
      if (isFlat(removed[wheel]!) && tire.tubed) this.note('tube', tire.name, day);
    }
    for (; this.patched < run.flatsPatched; this.patched++) this.note('patch kit', null, day);
  }

  private note(kind: 'tire' | 'tube' | 'patch kit', tire: string | null, day: number): void {
    this.log.note(this.base, kind, tire, this.world, this.airplane, day);
  }
}
