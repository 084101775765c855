import { describe, expect, it } from 'vitest';
import { ScenarioError } from '../../lib/problems.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { parseScenario } from '../../lib/scenario/read.js';

const INCH_M = 0.0254;

const MEASURED = {
  measuredMainTire: 'soft 29',
  measuredMainPressure: '9 psi',
  measuredThirdTire: 'nose 8.50-6',
  measuredThirdPressure: '20 psi',
  measuredMass: '3000 lb',
  source: 'tape, 4 May',
};
const SETUP = {
  mainTire: 'soft 29',
  mainPressure: '9 psi',
  thirdTire: 'nose 8.50-6',
  thirdPressure: '20 psi',
};
const FIT = { gap: '1/4 in', measuredPressure: '9 psi', measuredMass: '3000 lb', source: 'drill bits' };

function scenarioWith(geometry: object | null, setup: object = {}): string {
  return JSON.stringify({
    name: 'fit',
    // A new entry, so that nothing is left of the measures of the shipped airplane.
    airplane: 'mine',
    airplanes: { mine: { like: 'reference four-seater', geometry: null } },
    setups: { only: { ...SETUP, ...setup } },
    mixes: { home: { 'home pavement': '100 %' } },
    ...(geometry === null
      ? {}
      : {
          airplanes: {
            mine: { like: 'bare', geometry },
            bare: { like: 'reference four-seater', geometry: null },
          },
        }),
  });
}

function problemsOf(text: string): string[] {
  try {
    parseScenario(text);
    return [];
  } catch (error) {
    if (!(error instanceof ScenarioError)) throw error;
    return error.problems.map(({ path, found, allowed, suggestion }) =>
      [path, found, allowed, suggestion].filter((part) => part !== undefined).join(' | '),
    );
  }
}

describe('how the airplane stands and its fairings fit', () => {
  it('may be left out, and is then not known', () => {
    const { airplane, setups } = compileScenario(parseScenario(scenarioWith(null)).scenario);
    expect(airplane.geometry).toBeNull();
    expect(setups[0]!.fairingFit).toBeNull();
  });

  it('may be known in part', () => {
    const text = scenarioWith({ ...MEASURED, wheelbase: '66 in' }, { fairings: true, fairingFit: FIT });
    const { airplane, setups } = compileScenario(parseScenario(text).scenario);
    expect(airplane.geometry!.wheelbaseM).toBeCloseTo(66 * INCH_M, 12);
    expect(airplane.geometry!.propellerClearanceM).toBeNull();
    expect(airplane.geometry!.measured.main.name).toBe('soft 29');
    expect(setups[0]!.fairingFit!.gapM).toBeCloseTo(0.25 * INCH_M, 12);
    expect(setups[0]!.fairingFit!.chockHeightM).toBeNull();
  });

  it('says on which tires it was measured', () => {
    const withoutMass = { ...MEASURED, measuredMass: null };
    expect(problemsOf(scenarioWith(withoutMass))).toEqual([
      expect.stringMatching(/^airplanes\.mine\.geometry\.measuredMass \| nothing \| /),
    ]);
  });

  it('names tires that exist', () => {
    expect(problemsOf(scenarioWith({ ...MEASURED, measuredThirdTire: 'nose 8.50-5' }))).toEqual([
      expect.stringMatching(
        /^airplanes\.mine\.geometry\.measuredThirdTire \| "nose 8\.50-5" \| .*\| did you mean "nose 8\.50-6"\?$/,
      ),
    ]);
  });

  it('has its lowest attitude below its highest', () => {
    const geometry = { ...MEASURED, attitudeLeast: '3 deg', attitudeMost: '2.5 deg' };
    expect(problemsOf(scenarioWith(geometry))).toEqual([
      'airplanes.mine.geometry.attitudeLeast | "3 deg" | expected less than attitudeMost, which is 2.5 deg',
    ]);
  });

  it('belongs to a set-up with fairings', () => {
    expect(problemsOf(scenarioWith(MEASURED, { fairingFit: FIT }))).toEqual([
      expect.stringMatching(/^setups\.only\.fairingFit \| .* \| only a set-up with "fairings": true/),
    ]);
  });

  it('is in inches, not in feet', () => {
    expect(problemsOf(scenarioWith({ ...MEASURED, propellerClearance: '9 ft' }))).toEqual([
      'airplanes.mine.geometry.propellerClearance | "9 ft" | expected 0 in to 60 in | did you mean "9 in"?',
    ]);
  });

  it('does not touch the draws of the assumptions that were there before', () => {
    const paths = compileScenario(parseScenario(scenarioWith(null)).scenario).assumptions.map(
      ({ path }) => path,
    );
    expect(paths).toContain('assumptions.bumpLoad');
    expect(new Set(paths).size).toBe(paths.length);
  });
});
