import type { CompiledSetup } from '../scenario/compile.js';
import type { ItemDemand, SpareKind } from './fleet-types.js';

/** Units asked for, as columns that grow. */
interface Rows {
  readonly world: number[];
  readonly airplane: number[];
  readonly day: number[];
}

/** An airplane as far as its spares go. */
export interface StockedAirplane {
  readonly setup: CompiledSetup;
  readonly base: string;
}

/** Collects what is asked for, item by item. */
export class DemandLog {
  private readonly rows = new Map<string, Rows>();

  /** Notes one unit. */
  note(
    base: string,
    kind: SpareKind,
    tire: string | null,
    world: number,
    airplane: number,
    day: number,
  ): void {
    const key = keyOf(base, kind, tire);
    let rows = this.rows.get(key);
    if (rows === undefined) this.rows.set(key, (rows = { world: [], airplane: [], day: [] }));
    rows.world.push(world);
    rows.airplane.push(airplane);
    rows.day.push(day);
  }

  /** The demand for every item that the airplanes could ask for, asked for or not. */
  items(airplanes: readonly StockedAirplane[]): ItemDemand[] {
    const bases = [...new Set(airplanes.map(({ base }) => base))];
    return bases.flatMap((base) => {
      const setups = airplanes.filter((airplane) => airplane.base === base).map(({ setup }) => setup);
      const fitted = setups.flatMap(({ main, third }) => [main, third]);
      const tires = [...new Set(fitted.map(({ name }) => name))];
      const tubed = tires.filter((tire) => fitted.some(({ name, tubed: has }) => name === tire && has));
      const wheels = (tire: string): ('main' | 'third')[] =>
        (['main', 'third'] as const).filter((wheel) => setups.some((setup) => setup[wheel].name === tire));
      return [
        ...tires.map((tire) => this.item(base, 'tire', tire, wheels(tire))),
        ...tubed.map((tire) => this.item(base, 'tube', tire, wheels(tire))),
        this.item(base, 'patch kit', null, ['main', 'third']),
      ];
    });
  }

  private item(
    base: string,
    kind: SpareKind,
    tire: string | null,
    fittedTo: ItemDemand['fittedTo'],
  ): ItemDemand {
    const rows = this.rows.get(keyOf(base, kind, tire)) ?? { world: [], airplane: [], day: [] };
    return {
      base,
      kind,
      tire,
      fittedTo,
      world: Int32Array.from(rows.world),
      airplane: Int32Array.from(rows.airplane),
      day: Float64Array.from(rows.day),
    };
  }
}

function keyOf(base: string, kind: SpareKind, tire: string | null): string {
  return JSON.stringify([base, kind, tire]);
}
