import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parseLogbook } from '../../lib/calibrate/read-logbook.js';
import type { Logbook } from '../../lib/calibrate/record-types.js';
import { makeFitPage } from '../../lib/report/fit-page.js';
import { parseScenario } from '../../lib/scenario/read.js';
import { startBrowser } from '../support/browser.js';
import { FIT_SCENARIO, fitLogFiles } from '../support/fit-files.js';
import { madeAssumption, madeFit } from '../support/made-fit.js';
import { madeFigures, madePairing, madeShift } from '../support/made-shift.js';
import { brokenLinks, headingLevels, overflowing, repeatedIds, unnamedParts } from './page-checks.js';

const SCRIPT_NAME = '<script>alert(1)</script>';
const LONG_NAME = `<b>${'unbroken'.repeat(9)}`;

const { scenario } = parseScenario(JSON.stringify(FIT_SCENARIO));
const files = fitLogFiles();
const logbook: Logbook = parseLogbook(files['log.json']!, files, { scenario });

/** A fit whose names may do harm, with draws that the scenario has. */
const fit = madeFit({
  surfaces: [SCRIPT_NAME, 'gravel'],
  tires: [LONG_NAME, 'T2', 'T3', 'T4', 'T5', 'T6', 'T7'],
  assumptions: 8,
  scatter: 3,
  change: {
    scenario: LONG_NAME,
    remarks: [`tire ${SCRIPT_NAME} is left out`],
    draws: {
      paths: ['assumptions.abradability', 'surfaces.gravel.wearFactor'],
      rows: Array.from({ length: 20 }, (_, k) => [1e-10 + 1e-12 * k, 1.8 + 0.01 * k]),
    },
    nextReadings: [
      {
        what: `read 10 tires of "${LONG_NAME}"`,
        kind: 'tread readings',
        setup: LONG_NAME,
        strip: SCRIPT_NAME,
        readings: 30,
        information: 1.2,
        narrows: [{ path: `surfaces.${SCRIPT_NAME}.wearFactor`, now: 0.9, then: 0.5 }],
      },
    ],
  },
});

const shift = madeShift({
  currency: SCRIPT_NAME,
  pairings: [madePairing(LONG_NAME, SCRIPT_NAME, [madeFigures(310), madeFigures(280)], [-31, 5])],
});

/** Text of a part of the page, tags left out, blanks as in a browser. */
function textOf(page: string, id: string): string {
  const from = page.indexOf(`id="${id}"`);
  return page
    .slice(page.indexOf('>', from) + 1, page.indexOf('</section>', from))
    .replace(/<svg.*?<\/svg>/gs, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/[\s\u00a0]+/g, ' ');
}

let page: string;
beforeAll(async () => {
  page = await makeFitPage({ scenario, logbook, fit, shift }, { worlds: 20 });
}, 300_000);

describe('the page of a fit', () => {
  test('answers first, then numbers, season, checks, what to read next, lives, cautions and sources', () => {
    const order = [...page.matchAll(/<h2 id="([^"]+)"/g)].map(([, id]) => id);
    expect(order).toEqual(['answer', 'fitted', 'season', 'checks', 'next', 'lives', 'cautions', 'sources']);
  });

  test('has a chart of the numbers, of the readings, of their residuals, of pressures and of lives', () => {
    const figures = [...page.matchAll(/<figure id="([^"]+)"/g)].map(([, id]) => id);
    expect(figures).toEqual(['fitted-1', 'checks-1', 'checks-2', 'checks-3', 'lives-1']);
  });

  test('refuses over-confidence at the top: what does not hold, and the season as a question', () => {
    const answer = textOf(page, 'answer');
    expect(answer).toContain('Does not hold, too sure of itself: 80 % intervals held');
    expect(answer).toContain('take what follows on the season as a question');
    expect(textOf(page, 'checks')).toContain('does not hold: too sure of itself');
    expect(answer).toContain('licensed mechanic decide');
  });

  test('begins with the season in short, and holds all doubts in one box', () => {
    const answer = textOf(page, 'answer');
    expect(answer).toMatch(
      /^The answer On .*310 → 280\. Doubtful: see what stands against the fit\. From 72 tread readings/,
    );
    const section = page.slice(page.indexOf('id="answer"'), page.indexOf('id="fitted"'));
    expect(section.match(/class="caution"/g)).toHaveLength(2);
  });

  test('tells how to use the fit where it is known', async () => {
    expect(page).not.toContain('To use the fit');
    const use = { file: 'x.json', text: '{ "extends": ["<a>", "b"] }', command: 'gravelbar run x.json' };
    const stopped = new AbortController();
    stopped.abort();
    const told = await makeFitPage({ scenario, logbook, fit, shift, use }, { signal: stopped.signal });
    expect(textOf(told, 'use')).toContain('gravelbar run x.json');
    expect(told).not.toContain('"<a>"');
  });

  test('shows numbers before and after in natural units, and why some were not learned', () => {
    const fitted = textOf(page, 'fitted');
    // Quantiles of the made-up fit: median 1e-10 m3/J is 0.1 mm3/J, 8 of 10 within exp(± 0.33 × 1.2816).
    expect(fitted).toContain('0.1 mm3/J 0.0655 to 0.153 mm3/J');
    expect(fitted).toContain('Not touched: 1 assumption that no record bears on');
    expect(fitted).not.toMatch(/\b(surfaces|assumptions|records)\.[a-z]/);
  });

  test('tells the lives of the log without the simulator, and refuses what they cannot tell', () => {
    const lives = textOf(page, 'lives');
    expect(lives).toContain('at 25 psi, main');
    expect(lives).toMatch(/Of 6 tires: 6 in service/);
  });

  test('is one document with all that it needs inside, and no name becomes markup', () => {
    expect(page).toMatch(/^<!doctype html>/);
    expect(page.match(/<script/g)).toHaveLength(1);
    expect(page).not.toContain('<b>unbroken');
    expect(page).not.toMatch(/<link(?![^>]*href="data:,")|@import|url\((?!#)|\ssrc=/);
    const visible = page.slice(page.indexOf('<body')).replace(/<script>.*?<\/script>/gs, '');
    expect(visible).not.toMatch(/\b(NaN|undefined|null|Infinity)\b|\[object/);
  });

  test('the same fit gives the same page', async () => {
    expect(await makeFitPage({ scenario, logbook, fit, shift }, { worlds: 20 })).toBe(page);
  });
});

test('without season, readings or anything learned it says so', async () => {
  const vague = madeFit({
    tires: [],
    pressures: 0,
    change: { assumptions: [madeAssumption('assumptions.abradability', 1e-10, 0, 0.97)], untouched: [] },
  });
  const stopped = new AbortController();
  stopped.abort();
  const sources = { scenario, logbook, fit: vague, shift: null, seasonLeftOut: 'It was stopped.' };
  const bare = await makeFitPage(sources, { signal: stopped.signal });
  expect(textOf(bare, 'season')).toContain('It was stopped.');
  expect(textOf(bare, 'fitted')).toContain('No assumption was learned or moved.');
  expect(textOf(bare, 'checks')).toContain('There is no reading to check.');
  expect(textOf(bare, 'checks').match(/A chart is left out: the records hold no/g)).toHaveLength(3);
  expect(textOf(bare, 'lives')).toContain('stopped before it was ready');
});

describe('in a browser', () => {
  const folder = mkdtempSync(join(tmpdir(), 'gravelbar-test-'));
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  test('it asks for nothing, fits a phone and a desk, and every part has a name', async () => {
    const file = join(folder, 'page.html');
    writeFileSync(file, page);
    const browser = await startBrowser();
    try {
      for (const width of [360, 1200]) {
        const opened = await browser.newPage({ viewport: { width, height: 800 } });
        const noise: string[] = [];
        opened.on('console', (message) => noise.push(message.text()));
        opened.on('pageerror', (error) => noise.push(error.message));
        opened.on('request', (request) => {
          if (!/^(data:|file:.*page\.html$)/.test(request.url())) noise.push(request.url());
        });
        await opened.goto(pathToFileURL(file).href);
        await opened.evaluate(() => {
          for (const folded of document.querySelectorAll('details')) folded.open = true;
        });
        expect(await opened.evaluate(overflowing, width)).toEqual([]);
        expect(await opened.evaluate(unnamedParts)).toEqual([]);
        expect(await opened.evaluate(repeatedIds)).toEqual([]);
        expect(await opened.evaluate(brokenLinks)).toEqual([]);
        const levels = await opened.evaluate(headingLevels);
        expect(levels[0]).toBe(1);
        expect(levels.every((level, at) => at === 0 || level - levels[at - 1]! <= 1)).toBe(true);
        expect(noise).toEqual([]);
        await opened.close();
      }
    } finally {
      await browser.close();
    }
  });
});
