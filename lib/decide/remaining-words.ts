import { FAR_CHANCE } from './remaining-trials.js';
import type { RemainingLife } from './remaining-types.js';

/** An answer worth fewer trials is remarked on. */
const FEW_EFFECTIVE = 200;

/** What the reader of a remaining life must know, worst first. */
export function remarksOn(life: Omit<RemainingLife, 'remarks'>): string[] {
  const { agreement, effectiveTrials, pastLimitNow, nextInspection } = life;
  const remarks: string[] = [];
  if (pastLimitNow.estimate > nextInspection.acceptedChance) {
    remarks.push(
      `The tread limit may have been passed already (chance ${percent(pastLimitNow.estimate)}): look at the whole tread of both main tires before the next flight.`,
    );
  }
  const isFar = agreement.chance !== null && agreement.chance < FAR_CHANCE;
  if (isFar) {
    const worst = [...agreement.checks].sort((one, other) => Math.abs(other.offBy) - Math.abs(one.offBy))[0]!;
    const { reading, expectedM } = worst;
    remarks.push(
      `The readings are far from what the scenario gave (a chance of ${percent(agreement.chance)}): ${reading.wheel} ` +
        `${reading.band} read ${millimetres(reading.grooveM)}, expected ${millimetres(expectedM.mean)} give or take ` +
        `${millimetres(expectedM.standardDeviation)}. Check the readings, the hours, the new groove depth and the assumptions; ` +
        'until then trust the answer less than its intervals say.',
    );
  }
  if (agreement.widenedBy > 1) {
    remarks.push(
      `Too few trials agree with readings as sharp as these, so their errors were taken as ${agreement.widenedBy} times greater: the answer leans on the scenario more than on the gauge.`,
    );
  }
  if (effectiveTrials < FEW_EFFECTIVE) {
    remarks.push(
      `The answer is worth ${Math.round(effectiveTrials)} trials only; more trials would make its error smaller.`,
    );
  }
  if (agreement.checks.length === 0) {
    remarks.push('No tread was read: the answer knows the hours flown only.');
  }
  remarks.push(
    'The time to the next look is about wear alone; cuts and pressure need theirs as before. An estimate is no inspection: approved data, the maintenance manual and a licensed mechanic decide, and an inspection due sooner stays due; local rules apply.',
  );
  return remarks;
}

function percent(share: number): string {
  return share < 0.0001 ? 'less than 0.01 %' : `${Number((100 * share).toPrecision(2))} %`;
}

function millimetres(depthM: number): string {
  return `${(1000 * depthM).toFixed(1)} mm`;
}
