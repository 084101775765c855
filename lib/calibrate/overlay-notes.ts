import type { CompiledScenario } from '../scenario/compile.js';
import type { OverlayRemarks } from './overlay-tires.js';

/** Difference of landings a year that is told. */
const TOLD_RATE = 0.2;
const TOLD_BRAKED = 0.02;

/** The depth at which the simulator takes a tire off, in words. */
function wornTo({ habits }: CompiledScenario): string {
  if (habits.removeAtCords) return 'the cords';
  const limit = 1000 * habits.treadLimitM;
  return limit < 0.05 ? 'the end of its grooves' : `a groove of ${limit.toFixed(1)} mm`;
}

function some(count: number, one: string, many: string): string {
  return count === 1 ? `1 ${one}` : `${count} ${many}`;
}

/**
 * What is compared, and where the records and the simulator are not alike, in sentences.
 *
 * @param scenario compiled scenario.
 * @param remarks of the records.
 * @param position which wheels.
 * @param isFitted true where fitted worlds are among those compared.
 */
export function overlayNotes(
  scenario: CompiledScenario,
  remarks: OverlayRemarks,
  position: 'main' | 'third',
  isFitted: boolean,
): string[] {
  const { habits, calendar } = scenario;
  const wheel = position === 'main' ? 'main tire' : 'nose or tail tire';
  const notes = [
    `A life is that of one ${wheel}, from new until it must come off for any cause; the life of a set of two, in other answers, is shorter.`,
    'Each tire is lived again on the strips of its own airplane, in their shares, as long as the log would have watched it.',
    `The simulator takes a tire off as soon as its worst spot is worn to ${wornTo(scenario)}; people judge when they look.`,
    `Cuts are found at inspections every ${Number(habits.inspectEveryDays.toFixed(1))} days; all tires start with the season of the scenario.`,
  ];
  if (isFitted) {
    notes.push(
      'Where the fit has seen these records, agreement after it is not a test: hold records out for one.',
    );
  }
  const { landingsPerYear } = remarks;
  if (landingsPerYear !== null) {
    const ratio = landingsPerYear / calendar.landingsPerYear;
    if (Math.abs(ratio - 1) > TOLD_RATE) {
      notes.push(
        `The airplanes of the log fly about ${Math.round(landingsPerYear)} landings a year, the season of the scenario has ${calendar.landingsPerYear}: leaks, checks and age come at other landings.`,
      );
    }
  }
  if (remarks.sound > 0) {
    notes.push(
      `${some(remarks.sound, 'tire', 'tires')} came off sound, as with a mate, and count as still in service then; if they were nearly done, the records look too kind.`,
    );
  }
  if (remarks.partWorn > 0) {
    notes.push(
      `${some(remarks.partWorn, 'tire was', 'tires were')} taken up part-worn: a world in which it would not have got so far does not count it.`,
    );
  }
  if (remarks.ranges > 0) {
    notes.push(
      `${some(remarks.ranges, 'end is', 'ends are')} known only within a range and ${remarks.ranges === 1 ? 'counts' : 'count'} at its middle.`,
    );
  }
  if (remarks.brakedShare > TOLD_BRAKED) {
    notes.push(
      `${Math.round(100 * remarks.brakedShare)} % of the landings are logged with light or hard braking; all are flown with the braking of the scenario.`,
    );
  }
  if (remarks.unknownLandings > 0) {
    notes.push(
      `Landings on ground that the log does not name are spread as in the runway mix "${remarks.unknownMix}".`,
    );
  }
  if (remarks.leftOut > 0) {
    notes.push(
      `${some(remarks.leftOut, 'tire is', 'tires are')} left out: without a landing, or of a set-up that the scenario does not have.`,
    );
  }
  return notes;
}
