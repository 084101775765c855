import { describe, expect, test } from 'vitest';
import { compileScenario, readScenario } from '../../lib/index.js';
import {
  assumptionName,
  assumptionSpanText,
  assumptionValueText,
} from '../../lib/scenario/assumption-words.js';
import { shipped } from '../support/command.js';

describe('assumptions in words', () => {
  test('have names that tell what and where', () => {
    expect(assumptionName('surfaces.sharp rock.sharpStones')).toBe('sharp stones on sharp rock');
    expect(assumptionName('assumptions.abradability')).toBe('abradability');
    expect(assumptionName('habits.sinkRate')).toBe('sink rate');
    expect(assumptionName('compounds.soft.wearFactor')).toBe('wear factor of soft rubber');
    expect(assumptionName('sidewalls.rigid.squirmShare')).toBe('squirm share of a rigid sidewall');
    expect(assumptionName('gauge error')).toBe('gauge error');
  });

  test('have values in the unit of scenarios', () => {
    expect(assumptionValueText('assumptions.abradability', 1e-10)).toBe('0.1 mm3/J');
    expect(assumptionValueText('surfaces.paved.sharpStones', 9.49e-5)).toBe('9.49 × 10⁻⁵ /m2');
    expect(assumptionValueText('gauge error', 0.00015)).toBe('1.5 × 10⁻⁴');
  });

  test('have spans with the unit said once', () => {
    expect(assumptionSpanText('assumptions.abradability', 7e-11, 1.4e-10)).toBe('0.07 to 0.14 mm3/J');
    expect(assumptionSpanText('surfaces.paved.sharpStones', 3e-5, 0.002)).toBe('3 × 10⁻⁵ to 0.002 /m2');
    expect(assumptionSpanText('surfaces.gravel.wearFactor', 1.6, 2.6)).toBe('1.6 to 2.6');
    expect(assumptionSpanText('gauge error', 1e-5, 2e-5)).toBe('1 × 10⁻⁵ to 2 × 10⁻⁵');
  });

  test('have different names, all of them, in a scenario', () => {
    const { assumptions } = compileScenario(readScenario(shipped('two-gear-sets.json')).scenario);
    const names = assumptions.map(({ path }) => assumptionName(path));
    expect(new Set(names).size).toBe(names.length);
    expect(names.filter((name) => name.includes('.'))).toEqual([]);
  });
});
