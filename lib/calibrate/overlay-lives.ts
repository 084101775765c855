import type { Calendar } from '../scenario/calendar.js';
import { DAYS_PER_YEAR } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { IN_SERVICE } from '../simulate/columns.js';
import { WHEELS } from '../simulate/clocks.js';
import type { PairingRun, WatchedSpan } from '../simulate/pairing-run.js';
import { Simulator } from '../simulate/trials.js';
import type { OverlayGroup } from './overlay-tires.js';

/** Different landings that are drawn for the tires of one wheel in a world; with more tires they begin again. */
const MOST_LUCKS = 24;

/** The landings of a year, year after year, up to a number of landings. */
function longCalendar(calendar: Calendar, landings: number): Calendar {
  const { landingsPerYear, flightHoursPerYear } = calendar;
  const repeated = (values: Float64Array, perYear: number): Float64Array =>
    Float64Array.from(
      { length: landings },
      (_, k) => values[k % landingsPerYear]! + perYear * Math.floor(k / landingsPerYear),
    );
  const hoursDone = repeated(calendar.hoursDone, flightHoursPerYear);
  return {
    firstMonth: calendar.firstMonth,
    landingsPerYear: landings,
    flightHoursPerYear: hoursDone[landings - 1]!,
    day: repeated(calendar.day, DAYS_PER_YEAR),
    gapDays: repeated(calendar.gapDays, 0),
    hoursDone,
    temperatureK: repeated(calendar.temperatureK, 0),
  };
}

/** Where a tire of the records finds its life among those simulated. */
interface Slot {
  readonly luck: number;
  /** Place among the airplanes of the group. */
  readonly airplane: number;
  readonly wheel: number;
}

/**
 * Lives each tire of a set-up again: on its own wheel, on the strips of its own airplane, each tire by itself. Mates of one
 * axle share their landings; tires fitted one after the other do not.
 */
export class OverlayLives {
  /** Landings followed: lives that are longer are told as Infinity. */
  readonly horizon: number;
  /** Where the life of each single tire is, tires alike one after the other. */
  private readonly slots: readonly Slot[];
  private readonly simulators: readonly Simulator[];
  /** Life by luck, airplane and wheel, of the world lived last. */
  private readonly lives: Float64Array;
  private readonly runs = new Map<PairingRun, number>();
  private readonly airplanes: number;
  private luck = 0;

  constructor(scenario: CompiledScenario, group: OverlayGroup, horizon: number) {
    this.horizon = horizon;
    this.airplanes = group.airplanes.length;
    this.slots = slotsOf(group);
    const lucks = this.slots.reduce((most, { luck }) => Math.max(most, luck + 1), 1);
    this.lives = new Float64Array(lucks * this.airplanes * WHEELS);
    // The whole time is one season, so that all wheels are flown through it, and each tire is changed by itself.
    const whole: CompiledScenario = {
      ...scenario,
      calendar: longCalendar(scenario.calendar, horizon),
      horizonDays: 0,
      mixes: group.mixes,
      habits: { ...scenario.habits, replacePairs: false },
      today: null,
    };
    this.simulators = Array.from({ length: lucks }, (_, luck) => {
      const flown = [
        ...new Set(this.slots.filter((slot) => slot.luck === luck).map(({ airplane }) => airplane)),
      ];
      const simulator = new Simulator(
        whole,
        flown.map((mix) => ({ setup: group.setup, mix })),
        undefined,
        {
          everyLanding: false,
          see: (span) => {
            this.see(span);
          },
        },
      );
      simulator.runs.forEach((run, at) => this.runs.set(run, flown[at]!));
      return simulator;
    });
  }

  /** Lives through one world; the lives of all single tires, landings, Infinity beyond the horizon. */
  live(world: number): Float64Array {
    this.lives.fill(Infinity);
    this.simulators.forEach((simulator, luck) => {
      this.luck = luck;
      simulator.runTrial(world, luck);
    });
    return Float64Array.from(
      this.slots,
      ({ luck, airplane, wheel }) => this.lives[this.at(luck, airplane, wheel)]!,
    );
  }

  private at(luck: number, airplane: number, wheel: number): number {
    return (luck * this.airplanes + airplane) * WHEELS + wheel;
  }

  /** Notes the first tire of each wheel as it comes off. */
  private see({ run, draws, to }: WatchedSpan): void {
    const airplane = this.runs.get(run)!;
    for (let wheel = 0; wheel < WHEELS; wheel++) {
      if (run.removed[wheel] === IN_SERVICE) continue;
      const at = this.at(this.luck, airplane, wheel);
      if (this.lives[at] === Infinity) this.lives[at] = draws.firstLanding + to;
    }
  }
}

function slotsOf({ tires }: OverlayGroup): Slot[] {
  const used = new Map<string, number>();
  return tires.flatMap(({ airplane, wheel, count }) => {
    const key = `${airplane} ${wheel}`;
    return Array.from({ length: count }, (): Slot => {
      const before = used.get(key) ?? 0;
      used.set(key, before + 1);
      return { luck: before % MOST_LUCKS, airplane, wheel };
    });
  });
}
