import type { Scenario } from '../scenario/schema/index.js';

/** Names of a scenario that records may use, and what they must fit to. */
export interface KnownNames {
  readonly setups: readonly string[];
  readonly classes: readonly string[];
  readonly strips: readonly string[];
  readonly surfaces: readonly string[];
  readonly thirdWheel: 'nose' | 'tail';
  /** Tire class of a set-up on a wheel. */
  classOf(setup: string, third: boolean): string;
  /** Groove depth at which a tire comes off as worn, m; 0 where that is when cords show. */
  readonly wornGrooveM: number;
  /** Groove depth of a new tire, m. */
  newGrooveM(tireClass: string): number;
}

/**
 * The names of a scenario.
 *
 * @param scenario as read.
 */
export function knownNames(scenario: Scenario): KnownNames {
  const { setups, tires, strips, surfaces, airplanes, airplane, habits } = scenario;
  return {
    setups: Object.keys(setups),
    classes: Object.keys(tires),
    strips: Object.keys(strips),
    surfaces: Object.keys(surfaces),
    thirdWheel: airplanes[airplane]!.gear,
    classOf: (setup, third) => (third ? setups[setup]!.thirdTire : setups[setup]!.mainTire),
    wornGrooveM: habits.removeAt === 'cords' ? 0 : habits.treadLimit,
    newGrooveM: (tireClass) => tires[tireClass]!.newTread,
  };
}
