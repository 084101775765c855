import { Resvg } from '@resvg/resvg-js';
import { beforeAll, describe, expect, test } from 'vitest';
import { renderSvg } from '../../lib/chart/render.js';
import { fontFiles } from '../../lib/chart/font.js';
import { makeChart, type ChartRow, type ChartSpec } from '../../lib/chart/spec.js';
import { pageSvg } from '../../lib/report/page-svg.js';

const HOSTILE = 'a" id="clip1" href="#clip1" <b> url(#clip1)';

/** A chart with clips, a band, a line, dots that cannot be seen, and names that look like references. */
function chart(): ChartSpec {
  const rows: ChartRow[] = [HOSTILE, 'plain'].flatMap((setup, place) =>
    Array.from({ length: 9 }, (_, step) => ({
      setup,
      hours: step / 3,
      low: Math.sin(step + place) - 0.123456,
      high: Math.sin(step + place) + 0.654321,
    })),
  );
  const x = { field: 'hours', type: 'quantitative', title: 'time (h)' };
  const colour = { field: 'setup', type: 'nominal' };
  return makeChart({ title: 'Finding', subtitle: ['1 trial, seed s'], description: HOSTILE }, rows, {
    width: 200,
    height: 100,
    layer: [
      {
        mark: { type: 'area', clip: true, opacity: 0.3 },
        encoding: {
          x,
          y: { field: 'low', type: 'quantitative', title: 'y (1)' },
          y2: { field: 'high' },
          color: colour,
        },
      },
      {
        mark: { type: 'line', clip: true },
        encoding: { x, y: { field: 'high', type: 'quantitative' }, color: colour },
      },
      { mark: { type: 'rule', color: '#888', aria: false }, encoding: { y: { datum: 0 } } },
      {
        mark: { type: 'point', opacity: 0 },
        encoding: { x, y: { field: 'high', type: 'quantitative' }, detail: colour },
      },
    ],
  });
}

let plain: string;
let slim: string;

beforeAll(async () => {
  plain = await renderSvg(chart());
  slim = pageSvg(plain, HOSTILE, 'one').markup;
});

function pixels(svg: string): Buffer {
  const font = { fontFiles: fontFiles(), loadSystemFonts: false, defaultFontFamily: 'DejaVu Sans' };
  return Buffer.from(new Resvg(svg, { font }).render().pixels);
}

describe('a picture fitted into the page', () => {
  test('looks the same, to the rounding of its numbers', () => {
    const whole = slim.replace('<svg', '<svg xmlns="http://www.w3.org/2000/svg"');
    const [before, after] = [pixels(plain), pixels(whole)];
    expect(after.length).toBe(before.length);
    // A twentieth of a pixel at an edge moves the shade of the pixels along it, of few of them and by little.
    let moved = 0;
    for (let i = 0; i < before.length; i++) moved += Math.abs(before[i]! - after[i]!);
    expect(moved / before.length / 255).toBeLessThan(0.002);
  });

  test('is an image with its description, and needs far fewer letters', () => {
    expect(slim).toMatch(/^<svg role="img" aria-label="a&quot; id=&quot;clip1&quot;/);
    expect(slim.length).toBeLessThan(0.75 * plain.length);
  });

  test('draws once what would lie on itself', () => {
    const rules = (svg: string): number =>
      /mark-rule role-mark.*?<\/g>/.exec(svg)![0].match(/<line/g)!.length;
    expect(rules(plain)).toBe(18);
    expect(rules(slim)).toBe(1);
  });

  test('has names of its own, so that two on a page do not mix', () => {
    const other = pageSvg(plain, HOSTILE, 'two').markup;
    const ids = (svg: string): string[] => [...svg.matchAll(/<clipPath id="([^"]+)"/g)].map(([, id]) => id!);
    expect(ids(plain).length).toBeGreaterThan(1);
    expect(ids(slim)).toHaveLength(ids(plain).length);
    expect(ids(slim).filter((id) => ids(other).includes(id))).toEqual([]);
    const used = [...slim.matchAll(/clip-path="url\(#([^)]+)\)"/g)].map(([, id]) => id!);
    expect(used.length).toBeGreaterThan(1);
    expect(used.filter((id) => !ids(slim).includes(id))).toEqual([]);
  });

  test('keeps the labels of marks as they are, and none of axes and legends', () => {
    const labels = (svg: string, name: string): string[] =>
      [...svg.matchAll(new RegExp(`<path[^>]*\\s${name}="([^"]*)"`, 'g'))].map(([, label]) => label!);
    expect(labels(slim, 'data-label')).toEqual(labels(plain, 'aria-label'));
    expect(labels(slim, 'data-label').join(' ')).toContain('url(#clip1)');
    expect(slim.match(/aria-label/g)).toHaveLength(1);
  });

  test('has no style of its own and names no address, which the policy of the page would refuse', () => {
    expect(slim).not.toMatch(/\sstyle=|<style|https?:/);
  });
});
