import { decode, encode } from 'fast-png';
import { describe, expect, test } from 'vitest';
import { withFewColours } from '../../lib/chart/few-colours.js';
import { renderPng } from '../../lib/chart/render.js';
import { makeChart, PLOT_HEIGHT_PX, PLOT_WIDTH_PX } from '../../lib/chart/spec.js';

/** A picture whose pixels are given by red, green, blue and opacity. */
function picture(pixels: readonly (readonly number[])[], width: number): Uint8Array {
  return encode({
    width,
    height: pixels.length / width,
    data: Uint8Array.from(pixels.flat()),
    depth: 8,
    channels: 4,
  });
}

/** The pixels of a picture with a list of colours, or of red, green, blue and opacity. */
function pixelsOf(png: Uint8Array): number[][] {
  const { data, channels, palette } = decode(png);
  if (palette !== undefined) return Array.from(data, (number) => [...palette[number]!, 255]);
  expect(channels).toBe(4);
  return Array.from({ length: data.length / 4 }, (_, pixel) => [...data.slice(4 * pixel, 4 * pixel + 4)]);
}

describe('a picture with few colours', () => {
  test('is the same picture where there are at most 256', async () => {
    const pixels = Array.from({ length: 1024 }, (_, k) => [k % 256, 255 - (k % 256), (7 * k) % 256, 255]);
    const png = picture(pixels, 32);
    const small = await withFewColours(png);
    expect(decode(small)).toMatchObject({ width: 32, height: 32, channels: 1 });
    expect(pixelsOf(small)).toEqual(pixels);
  });

  test('keeps the frequent colours, and moves the rare ones to the nearest', async () => {
    // 256 colours that occur twice, and one that occurs once, nearest to the 100th of them.
    const often = Array.from({ length: 256 }, (_, k) => [k, 0, 0, 255]);
    const small = await withFewColours(picture([...often, ...often, [100, 0, 9, 255], [101, 0, 0, 255]], 2));
    const pixels = pixelsOf(small);
    expect(pixels.slice(0, 512)).toEqual([...often, ...often]);
    expect(pixels[512]).toEqual([100, 0, 0, 255]);
  });

  test('is less than half as large for a chart, and the same bytes each time', async () => {
    const rows = Array.from({ length: 60 }, (_, k) => ({ hours: 10 * k, share: 60 / (60 + k) }));
    const words = { title: 'A falling line', subtitle: ['For tests.'], description: 'A line.' };
    const chart = makeChart(words, rows, {
      width: PLOT_WIDTH_PX,
      height: PLOT_HEIGHT_PX,
      mark: 'line',
      encoding: {
        x: { field: 'hours', type: 'quantitative', title: 'flight hours' },
        y: { field: 'share', type: 'quantitative', title: 'share' },
      },
    });
    const png = await renderPng(chart);
    const small = await withFewColours(png);
    expect(small.length).toBeLessThan(png.length / 2);
    expect(await withFewColours(png)).toEqual(small);
  });

  test('is left as it is where it is transparent', async () => {
    const png = picture([[1, 2, 3, 254]], 1);
    expect(await withFewColours(png)).toBe(png);
  });
});
