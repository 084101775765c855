import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { nearestName } from '../units.js';
import type { PlannedPart, PlannedPlace, TireKind } from './likelihood-plan-types.js';
import type { BrakingHabit, Exposure, TireRecord } from './record-types.js';

const BRAKING: Readonly<Record<BrakingHabit, number>> = { light: 0, normal: 1, hard: 2 };

function unknown(what: string, name: string, names: readonly string[]): never {
  const nearest = nearestName(name, names);
  const hint = nearest === null ? '' : `; did you mean "${nearest}"?`;
  throw new UsageError(
    `the records name the ${what} ${JSON.stringify(name)}, which the scenario does not have; it has ${names.join(', ')}${hint}`,
  );
}

/** Finds what the records name in the scenario, and gives each kind of tire and each place a number. */
export class RecordNames {
  readonly kinds: TireKind[] = [];
  readonly places: PlannedPlace[] = [];
  /** Landings on ground that the log does not name. */
  unknownLandings = 0;
  readonly unknownMix: string;
  private readonly scenario: CompiledScenario;
  private readonly kindOf = new Map<string, number>();
  private readonly placeOf = new Map<string, number>();

  constructor(scenario: CompiledScenario, mix: string | undefined) {
    this.scenario = scenario;
    const names = scenario.mixes.map(({ name }) => name);
    if (mix !== undefined && !names.includes(mix)) unknown('runway mix', mix, names);
    this.unknownMix = mix ?? names[0]!;
  }

  /**
   * Number of the kind of a tire; null where no set-up of the scenario has it.
   *
   * @throws UsageError for a set-up that is not in the scenario.
   */
  kind(record: TireRecord): number | null {
    const { setups } = this.scenario;
    const position = record.position === 'third' ? 'third' : 'main';
    const tireOf = (setup: (typeof setups)[number]): string => setup[position].name;
    const setup =
      record.setup === null
        ? setups.find((each) => tireOf(each) === record.tireClass)
        : (setups.find(({ name }) => name === record.setup) ??
          unknown(
            'set-up',
            record.setup,
            setups.map(({ name }) => name),
          ));
    if (setup === undefined) return null;
    const key = JSON.stringify([setup.name, position]);
    const known = this.kindOf.get(key);
    if (known !== undefined) return known;
    this.kinds.push({
      tire: setup[position],
      position,
      coldPa: position === 'main' ? setup.mainPa : setup.thirdPa,
      checkEveryDays: setup.checkEveryDays,
      setup: setup.name,
    });
    this.kindOf.set(key, this.kinds.length - 1);
    return this.kinds.length - 1;
  }

  /** Landings by place and braking. */
  parts({ parts }: Pick<Exposure, 'parts'>): PlannedPart[] {
    return parts
      .filter(({ landings }) => landings > 0)
      .map(({ strip, surface, braking, landings }) => {
        if (strip === null && surface === null) this.unknownLandings += landings;
        return { place: this.place(strip, surface), braking: BRAKING[braking ?? 'normal'], landings };
      });
  }

  /** Landings on ground that is not known. */
  somewhere(landings: number): PlannedPart[] {
    return this.parts({
      parts: [{ strip: null, surface: null, braking: null, landings, flightHours: null }],
    });
  }

  private place(strip: string | null, surface: string | null): number {
    const key = JSON.stringify([strip, surface]);
    const known = this.placeOf.get(key);
    if (known !== undefined) return known;
    this.places.push(this.makePlace(strip, surface));
    this.placeOf.set(key, this.places.length - 1);
    return this.places.length - 1;
  }

  private makePlace(strip: string | null, surface: string | null): PlannedPlace {
    const { strips, surfaces, mixes } = this.scenario;
    const names = strips.map(({ name }) => name);
    if (strip !== null) {
      const index = names.indexOf(strip);
      if (index < 0) unknown('strip', strip, names);
      return { name: strip, strips: [{ strip: index, share: 1 }] };
    }
    if (surface !== null) {
      const index = surfaces.findIndex(({ name }) => name === surface);
      if (index < 0) {
        unknown(
          'surface',
          surface,
          surfaces.map(({ name }) => name),
        );
      }
      const alike = strips.flatMap(({ rollout }, at) => (rollout === index ? [at] : []));
      if (alike.length === 0) {
        throw new UsageError(
          `the records name the surface ${JSON.stringify(surface)}, on which no strip of the scenario rolls out: add a strip`,
        );
      }
      return { name: surface, strips: alike.map((at) => ({ strip: at, share: 1 / alike.length })) };
    }
    const mix = mixes.find(({ name }) => name === this.unknownMix)!;
    return {
      name: `runway mix "${mix.name}"`,
      strips: mix.strips.map((at, k) => ({
        strip: at,
        share: mix.cumulativeShares[k]! - (mix.cumulativeShares[k - 1] ?? 0),
      })),
    };
  }
}
