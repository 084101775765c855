import { ambientPressurePa } from '../models/atmosphere.js';
import { DAYS_PER_YEAR } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PlannedTire, PressureSpan, TireKind } from './likelihood-plan-types.js';
import type { PressureCheckRecord, TireHistory } from './record-types.js';

/** Mean temperature of the season: of the landing of the year that is nearest to a day, where the calendar has one. */
function seasonTemperatureK({ calendar }: CompiledScenario): {
  readonly meanK: number;
  readonly spreadK: number;
} {
  let sum = 0;
  let squares = 0;
  for (let k = 0; k < calendar.landingsPerYear; k++) {
    const each = calendar.temperatureK[k]!;
    sum += each;
    squares += each * each;
  }
  const meanK = sum / calendar.landingsPerYear;
  return { meanK, spreadK: Math.sqrt(Math.max(0, squares / calendar.landingsPerYear - meanK * meanK)) };
}

/**
 * Spans between consecutive pressure checks of each tire.
 *
 * @returns the spans, and how many are not used because the pressure set at their start is not stated.
 */
export function pressureSpans(
  scenario: CompiledScenario,
  histories: readonly TireHistory[],
  tires: readonly PlannedTire[],
  kinds: readonly TireKind[],
): { readonly spans: PressureSpan[]; readonly unused: number } {
  const season = seasonTemperatureK(scenario);
  const spreadK = Math.sqrt(season.spreadK * season.spreadK + scenario.temperatureSpreadK ** 2);
  const kindOf = new Map(tires.map(({ id, kind }) => [id, kinds[kind]!]));
  const spans: PressureSpan[] = [];
  let unused = 0;
  const temperature = ({ temperatureK }: PressureCheckRecord): readonly [number, number] =>
    temperatureK === null ? [season.meanK, spreadK] : [temperatureK, 0];
  const ambient = ({ elevationM }: PressureCheckRecord): number =>
    elevationM === null ? scenario.basePa : ambientPressurePa(elevationM);
  for (const { tire, pressureChecks } of histories) {
    const kind = kindOf.get(tire.id);
    if (kind === undefined) continue;
    for (let k = 1; k < pressureChecks.length; k++) {
      const [before, after] = [pressureChecks[k - 1]!, pressureChecks[k]!];
      const days = after.day - before.day;
      if (!(days > 0) || days > 10 * DAYS_PER_YEAR) continue;
      if (before.setPa === null) {
        unused++;
        continue;
      }
      const [setK, setSpreadK] = temperature(before);
      const [foundK, foundSpreadK] = temperature(after);
      spans.push({
        tire: tire.id,
        day: after.day,
        tubed: kind.tire.tubed,
        days,
        setPa: before.setPa,
        foundPa: after.foundPa,
        setK,
        setSpreadK,
        foundK,
        foundSpreadK,
        setAmbientPa: ambient(before),
        foundAmbientPa: ambient(after),
      });
    }
  }
  spans.sort(
    (one, other) => one.day - other.day || (one.tire < other.tire ? -1 : 1) || one.foundPa - other.foundPa,
  );
  return { spans, unused };
}
