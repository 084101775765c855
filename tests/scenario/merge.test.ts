import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ScenarioError, type Problem } from '../../lib/problems.js';
import { readJsonSource, type JsonSource } from '../../lib/scenario/json-source.js';
import { mergeLayers, type MergedScenario } from '../../lib/scenario/merge.js';

fc.configureGlobal({ seed: 20_260_122 });

const SECTIONS = ['tires', 'surfaces', 'strips', 'setups', 'airplanes'];

function layer(value: unknown, fileName = 'layer.json'): JsonSource {
  return readJsonSource(JSON.stringify(value, null, 1), fileName);
}

function merge(...values: unknown[]): MergedScenario {
  return mergeLayers(
    values.map((value, index) => layer(value, `layer${index}.json`)),
    SECTIONS,
  );
}

function plain(merged: MergedScenario): unknown {
  return JSON.parse(JSON.stringify(merged.value));
}

function problemsOf(...values: unknown[]): readonly Problem[] {
  try {
    merge(...values);
  } catch (error) {
    if (error instanceof ScenarioError) return error.problems;
    throw error;
  }
  return [];
}

describe('laying one file over another', () => {
  test('objects are merged by key, anything else is replaced', () => {
    const base = { a: { x: 1, y: [1, 2] }, b: 'old', c: true };
    const over = { a: { y: [3] }, b: { new: 1 }, d: null };
    expect(plain(merge(base, over))).toEqual({ a: { x: 1, y: [3] }, b: { new: 1 }, c: true });
  });

  test('later layers win', () => {
    expect(plain(merge({ a: 1, b: 1, c: 1 }, { b: 2, c: 2 }, { c: 3 }))).toEqual({ a: 1, b: 2, c: 3 });
  });

  test('an assumption replaces the one below it as a whole', () => {
    const base = { grip: { distribution: 'lognormal', p10: '0.4', p90: '0.8', source: 'measured' } };
    const fixed = { grip: { value: '0.6', source: 'mine' } };
    const other = { grip: { distribution: 'uniform', min: '0.4', max: '0.8', source: 'mine' } };
    expect(plain(merge(base, fixed))).toEqual(fixed);
    expect(plain(merge(fixed, other))).toEqual(other);
  });

  test('without value or distribution an assumption is changed key by key', () => {
    const base = { grip: { distribution: 'normal', p10: '0.4', p90: '0.8', source: 'measured' } };
    expect(plain(merge(base, { grip: { p90: '0.9' } }))).toEqual({ grip: { ...base.grip, p90: '0.9' } });
  });

  test('an entry that happens to be named "value" does not replace its section', () => {
    const merged = merge({ mixes: { half: { a: 1 } } }, { mixes: { value: { b: 1 } } });
    expect(plain(merged)).toEqual({ mixes: { half: { a: 1 }, value: { b: 1 } } });
  });

  test('null removes a key with all it holds, and a later layer may set it again', () => {
    const base = { tires: { soft: { mass: '11 kg' }, hard: { mass: '16 kg', price: '9' } } };
    const removed = merge(base, { tires: { soft: null, hard: { price: null } } });
    expect(plain(removed)).toEqual({ tires: { hard: { mass: '16 kg' } } });
    const again = merge(base, { tires: { soft: null } }, { tires: { soft: { price: '1' } } });
    expect(plain(again)).toEqual({ tires: { soft: { price: '1' }, hard: { mass: '16 kg', price: '9' } } });
  });

  test('nulls in lists stay for the schema to judge', () => {
    expect(plain(merge({ list: [1] }, { list: [null, { a: null }] }))).toEqual({ list: [null, { a: null }] });
  });

  test('layers are not changed', () => {
    const base = layer({ tires: { a: { x: 1 } } });
    const before = JSON.stringify(base.value);
    mergeLayers([base, layer({ tires: { a: { x: 2 }, b: { like: 'a' } } })], SECTIONS);
    expect(JSON.stringify(base.value)).toBe(before);
    expect(base.root.members.size).toBe(1);
  });

  test('an empty layer changes nothing, wherever it lies', () => {
    const scenarios = fc
      .dictionary(fc.string(), fc.jsonValue({ maxDepth: 4 }))
      .filter((value) => !/"(?:__proto__|constructor|prototype|like)":/.test(JSON.stringify(value)));
    fc.assert(
      fc.property(scenarios, (value) => {
        const alone = plain(merge(value));
        expect(plain(merge({}, value))).toEqual(alone);
        expect(plain(merge(value, {}))).toEqual(alone);
        expect(plain(merge(value, value))).toEqual(alone);
      }),
    );
  });

  test('at least one layer is needed', () => {
    expect(() => mergeLayers([], SECTIONS)).toThrow(RangeError);
  });
});

describe('entries that are like another', () => {
  const tires = { deep: { mass: '16 kg', tread: '9 mm', grip: { value: '1', source: 's' } } };

  test('start from a copy of it', () => {
    const merged = merge({ tires }, { tires: { shaved: { like: 'deep', tread: '4 mm' } } });
    expect(plain(merged)).toEqual({ tires: { ...tires, shaved: { ...tires.deep, tread: '4 mm' } } });
  });

  test('follow chains, in whatever order they are written', () => {
    const chain = { c: { like: 'b', z: 3 }, b: { like: 'a', y: 2 }, a: { x: 1 } };
    expect(plain(merge({ tires: chain }))).toEqual({
      tires: { a: { x: 1 }, b: { x: 1, y: 2 }, c: { x: 1, y: 2, z: 3 } },
    });
  });

  test('see the other entry as changed by all layers', () => {
    const merged = merge({ tires: { a: { x: 1 }, b: { like: 'a' } } }, { tires: { a: { x: 5 } } });
    expect(plain(merged)).toEqual({ tires: { a: { x: 5 }, b: { x: 5 } } });
  });

  test('remove parts of the copy with null', () => {
    const merged = merge({ tires: { ...tires, light: { like: 'deep', tread: null } } });
    const { mass, grip } = tires.deep;
    expect(plain(merged)).toEqual({ tires: { ...tires, light: { mass, grip } } });
  });

  test('keep nothing of an entry of their name in a lower layer', () => {
    const base = { tires: { a: { x: 1 }, b: { y: 2 } } };
    expect(plain(merge(base, { tires: { b: { like: 'a' } } }))).toEqual({
      tires: { a: { x: 1 }, b: { x: 1 } },
    });
  });

  test('may be changed by a later layer, which may also take the likeness away', () => {
    const base = { tires: { a: { x: 1 }, b: { like: 'a', y: 2 } } };
    expect(plain(merge(base, { tires: { b: { y: 3 } } }))).toEqual({
      tires: { a: { x: 1 }, b: { x: 1, y: 3 } },
    });
    expect(plain(merge(base, { tires: { b: { like: null } } }))).toEqual({
      tires: { a: { x: 1 }, b: { y: 2 } },
    });
  });

  test('replace a copied assumption as a whole', () => {
    const own = { distribution: 'uniform', min: '1', max: '2', source: 'mine' };
    const merged = merge({ tires: { ...tires, other: { like: 'deep', grip: own } } });
    expect(plain(merged)).toEqual({ tires: { ...tires, other: { ...tires.deep, grip: own } } });
  });

  test('exist in named sections only; elsewhere "like" is a key as any other', () => {
    const value = { habits: { a: { like: 'b' } }, b: { like: 'x' } };
    expect(plain(merge(value))).toEqual(value);
  });

  test('must name another entry of the section; all wrong names are told with the nearest', () => {
    const text =
      '{"tires": {"rigid": {}, "shaved": {"like": "rigdi"},\n "x": {"like": 3}, "y": {"like": "y"}, "z": {"like": {}}}}';
    expect.assertions(2);
    try {
      mergeLayers([readJsonSource(text, 'mine.json')], SECTIONS);
    } catch (error) {
      expect(error).toBeInstanceOf(ScenarioError);
      expect((error as Error).message).toBe(
        [
          '4 problems in mine.json',
          '  1:44  tires.shaved.like: found "rigdi"; expected the name of an entry of "tires"; did you mean "rigid"?',
          '  2:16  tires.x.like: found 3; expected the name of an entry of "tires"',
          '  2:34  tires.y.like: found "y"; expected the name of another entry; ' +
            'leave "like" out: an entry of the same name in a lower layer is changed, not replaced',
          '  2:54  tires.z.like: found a JSON object; expected the name of an entry of "tires"',
        ].join('\n'),
      );
    }
  });

  test('cannot be like one that was removed', () => {
    const [problem] = problemsOf({ tires }, { tires: { deep: null, b: { like: 'deep' } } });
    expect(problem?.allowed).toBe('expected the name of an entry of "tires"');
  });

  test('may not form a circle; each circle is told once, what leads into it is not', () => {
    const problems = problemsOf({
      tires: { into: { like: 'a' }, a: { like: 'b' }, b: { like: 'c' }, c: { like: 'a' } },
      strips: { p: { like: 'q' }, q: { like: 'p' } },
    });
    expect(problems.map(({ path, allowed }) => `${path}: ${allowed}`)).toEqual([
      'tires.a.like: entries may not be like one another in a circle: "a" is like "b" is like "c" is like "a"',
      'strips.p.like: entries may not be like one another in a circle: "p" is like "q" is like "p"',
    ]);
  });

  test('may be 16 steps from an entry that stands alone, not 17', () => {
    const chain = (steps: number): object => ({
      tires: Object.fromEntries(
        Array.from({ length: steps + 1 }, (_, index) => [
          `t${index}`,
          index === 0 ? { x: 1 } : { like: `t${index - 1}` },
        ]),
      ),
    });
    expect(problemsOf(chain(16))).toEqual([]);
    const [problem, ...others] = problemsOf(chain(17));
    expect(problem?.path).toBe('tires.t17.like');
    expect(problem?.allowed).toBe('expected a chain of at most 16 entries that are like one another');
    expect(others).toEqual([]);
  });

  test('are checked quickly, however many are wrong', () => {
    const many = Object.fromEntries(
      Array.from({ length: 20_000 }, (_, index) => [`tire ${index}`, { like: `none ${index}` }]),
    );
    const start = performance.now();
    expect(problemsOf({ tires: many })).toHaveLength(20_000);
    expect(performance.now() - start).toBeLessThan(5000);
  });
});

describe('the origin of a value', () => {
  const defaults = readJsonSource(
    '{"tires": {\n "deep": {"mass": "16 kg", "tread": "9 mm"}}}',
    'defaults.json',
  );
  const mine = readJsonSource(
    '{"tires": {\n\n "shaved": {"like": "deep", "tread": "4 mm"},\n "deep": {"mass": null}}}',
    'mine.json',
  );
  const merged = mergeLayers([defaults, mine], SECTIONS);
  const at = (fileName: string, line: number, column: number): object => ({ fileName, line, column });

  test('is where it was written, also when copied', () => {
    expect(merged.originOf(['tires', 'shaved', 'tread'])).toEqual(at('mine.json', 3, 38));
    expect(merged.originOf(['tires', 'deep', 'tread'])).toEqual(at('defaults.json', 2, 37));
  });

  test('is the last layer that states it for a merged object, the copy for a copied entry', () => {
    expect(merged.originOf(['tires', 'deep'])).toEqual(at('mine.json', 4, 10));
    expect(merged.originOf(['tires', 'shaved'])).toEqual(at('mine.json', 3, 12));
    expect(merged.originOf([])).toEqual(at('mine.json', 1, 1));
  });

  test('is the null that removed it, or its nearest ancestor, when it is missing', () => {
    expect(merged.originOf(['tires', 'deep', 'mass'])).toEqual(at('mine.json', 4, 19));
    expect(merged.originOf(['tires', 'shaved', 'price', 'x'])).toEqual(at('mine.json', 3, 12));
    expect(merged.originOf(['habits'])).toEqual(at('mine.json', 1, 1));
  });

  test('can be asked for the key as well', () => {
    expect(merged.keyOriginOf(['tires', 'shaved'])).toEqual(at('mine.json', 3, 2));
    expect(merged.keyOriginOf(['tires', 'shaved', 'tread'])).toEqual(at('mine.json', 3, 29));
  });

  test('of a copied value that nobody changed is the original', () => {
    const source = readJsonSource('{"tires": {"a": {"x": 1},\n "b": {"like": "a"}}}', 'one.json');
    const copied = mergeLayers([source], SECTIONS);
    expect(copied.originOf(['tires', 'b', 'x'])).toEqual(at('one.json', 1, 23));
  });
});
