import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { startBrowser } from '../support/browser.js';
import {
  IMAGE_NAME,
  LONG_NAME,
  MIX_NAME,
  SCRIPT_NAME,
  SOURCE,
  TITLE,
  writeHardReport,
} from './hard-report.js';
import {
  brokenLinks,
  faintTexts,
  headingLevels,
  marksOfPlot,
  overflowing,
  repeatedIds,
  tooTall,
  unnamedParts,
} from './page-checks.js';

let folder: string;
let address: string;
let browser: Browser;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'gravelbar-test-'));
  [address, browser] = await Promise.all([writeHardReport(folder), startBrowser()]);
}, 300_000);

afterAll(async () => {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
});

/** What a page did beside showing itself. */
interface Visit {
  readonly page: Page;
  readonly noise: string[];
}

/** Opens the report in a profile of its own and looks at it. */
async function visit(options: BrowserContextOptions, look: (visit: Visit) => Promise<void>): Promise<void> {
  const context = await browser.newContext(options);
  try {
    const page = await context.newPage();
    const noise: string[] = [];
    page.on('console', (message) => noise.push(`console: ${message.text()}`));
    page.on('pageerror', (error) => noise.push(`error: ${error.message}`));
    page.on('request', (request) => {
      if (request.url() !== address && !request.url().startsWith('data:'))
        noise.push(`request: ${request.url()}`);
    });
    page.on('dialog', (dialog) => {
      noise.push(`dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    await page.goto(address);
    await look({ page, noise });
  } finally {
    await context.close();
  }
}

const DESKTOP = { viewport: { width: 1200, height: 900 } };
const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true };

describe('opened from disk', () => {
  test('it says nothing on the console, asks for no other file and shows no dialog', () =>
    visit(DESKTOP, async ({ page, noise }) => {
      await page.mouse.move(600, 400);
      await page.mouse.wheel(0, 20_000);
      await page.locator('details').first().click();
      await page.waitForTimeout(200);
      expect(noise).toEqual([]);
    }));

  test('its policy refuses what it does not need, whoever asks', () =>
    visit(DESKTOP, async ({ page }) => {
      const refused = await page.evaluate(async () => {
        const found: string[] = [];
        document.addEventListener('securitypolicyviolation', ({ effectiveDirective }) => {
          found.push(effectiveDirective);
        });
        await fetch('https://example.invalid/').catch(() => null);
        const image = new Image();
        image.src = 'file:///x.png';
        const script = document.createElement('script');
        script.textContent = 'window.ran = true';
        document.body.append(image, script);
        await new Promise((resolve) => setTimeout(resolve, 200));
        return { found: found.sort(), ran: 'ran' in window };
      });
      expect(refused).toEqual({ found: ['connect-src', 'img-src', 'script-src-elem'], ran: false });
    }));

  test('names and sources of a scenario stay text', () =>
    visit(DESKTOP, async ({ page, noise }) => {
      const text = (await page.locator('body').innerText()).replaceAll('\u00a0', ' ');
      for (const name of [TITLE, SCRIPT_NAME, IMAGE_NAME, LONG_NAME, MIX_NAME]) expect(text).toContain(name);
      await page.locator('details').evaluateAll((parts) => {
        for (const part of parts) (part as HTMLDetailsElement).open = true;
      });
      expect(await page.locator('main').innerText()).toContain(SOURCE);
      const counts = await page.evaluate(() => ({
        scripts: document.scripts.length,
        images: document.images.length,
        handlers: Array.from(document.querySelectorAll('*')).filter((part) =>
          part.getAttributeNames().some((name) => name.startsWith('on')),
        ).length,
        links: Array.from(document.links).filter(({ hash }) => hash === '').length,
      }));
      expect(counts).toEqual({ scripts: 1, images: 0, handlers: 0, links: 0 });
      expect(await page.title()).toBe(`${TITLE} · gravelbar report`);
      expect(noise).toEqual([]);
    }));
});

describe('values of a chart', () => {
  test('show under the pointer and go with it, in every chart', () =>
    visit(DESKTOP, async ({ page, noise }) => {
      const plots = await page.locator('.plot:visible').all();
      expect(plots.length).toBeGreaterThan(4);
      for (const plot of plots) {
        const marks = await plot.evaluate(marksOfPlot);
        expect(marks.length).toBeGreaterThan(0);
        const { label, x, y } = marks[Math.floor(marks.length / 2)]!;
        await plot.locator('svg').hover({ position: { x, y } });
        // Another mark may lie over this one; some label of the chart it must be.
        const labels = marks.map((mark) => lines(mark.label));
        const tip = page.locator('#tip');
        // Scrolling to the chart hides what was shown; the next move shows it again.
        await expect
          .poll(
            async () => {
              await page.mouse.move(0, 0);
              await plot.locator('svg').hover({ position: { x, y } });
              return labels.includes(await tip.innerText()) && (await tip.isVisible());
            },
            { message: label },
          )
          .toBe(true);
      }
      await page.mouse.move(2, 2);
      await expect.poll(() => page.locator('#tip').isVisible()).toBe(false);
      expect(noise).toEqual([]);
    }));

  test('show at a touch, inside the screen', () =>
    visit(PHONE, async ({ page }) => {
      const plot = page.locator('.plot').first();
      await plot.scrollIntoViewIfNeeded();
      const { x, y } = (await plot.evaluate(marksOfPlot))[0]!;
      await plot.locator('svg').tap({ position: { x, y } });
      const tip = page.locator('#tip');
      expect(await tip.isVisible()).toBe(true);
      const box = (await tip.boundingBox())!;
      expect(box.x).toBeGreaterThanOrEqual(0);
      expect(box.x + box.width).toBeLessThanOrEqual(360);
      await page.locator('h1').tap();
      expect(await tip.isVisible()).toBe(false);
    }));

  test('are stepped through by arrow keys, spoken and shown, and put away by Escape', () =>
    visit(DESKTOP, async ({ page }) => {
      const plot = page.locator('.plot').first();
      const count = (await plot.evaluate(marksOfPlot)).length;
      const spoken = page.locator('#spoken');
      await plot.focus();
      await page.keyboard.press('ArrowRight');
      const first = await spoken.innerText();
      expect(first).toContain(`(1 of ${count})`);
      await page.keyboard.press('ArrowRight');
      expect(await spoken.innerText()).toContain(`(2 of ${count})`);
      expect(await page.locator('#tip').isVisible()).toBe(true);
      expect(await page.locator('#ring').isVisible()).toBe(true);
      await page.keyboard.press('End');
      await page.keyboard.press('ArrowRight');
      expect(await spoken.innerText()).toContain(`(${count} of ${count})`);
      await page.keyboard.press('Home');
      expect(await spoken.innerText()).toBe(first);
      await page.keyboard.press('Escape');
      expect(await page.locator('#tip').isVisible()).toBe(false);
    }));
});

/** A label as the page shows it: a pair of title and value a line. */
function lines(label: string): string {
  return label.split('; ').join('\n').replaceAll(' %', '\u00a0%');
}

describe('without scripts', () => {
  test('everything is there to read, and nothing is promised that does not work', () =>
    visit({ ...DESKTOP, javaScriptEnabled: false }, async ({ page, noise }) => {
      expect(await page.locator('main').innerText()).toContain('How long');
      expect(await page.locator('.plot svg').first().isVisible()).toBe(true);
      expect(await page.locator('.hint').first().isVisible()).toBe(false);
      expect(noise).toEqual([]);
    }));
});

describe('layout', () => {
  test.each([320, 360, 768, 1200])('nothing is wider than a screen of %d px', (width) =>
    visit({ viewport: { width, height: 800 } }, async ({ page }) => {
      await page.locator('details').evaluateAll((parts) => {
        for (const part of parts) (part as HTMLDetailsElement).open = true;
      });
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      expect(await page.evaluate(overflowing, width)).toEqual([]);
    }),
  );

  // A4 is 210 x 297 mm and US letter 215.9 x 279.4 mm (ISO 216, ANSI Y14.1; from memory), at 96 px an inch and with the
  // margins of 15 mm that the page asks for.
  test.each([
    ['A4', 180, 267],
    ['letter', 185.9, 249.4],
  ])(
    'on %s paper folded parts are open, and no chart or line of a table is wider or taller than a page',
    (_, widthMm, heightMm) => {
      const [width, height] = [Math.floor((widthMm / 25.4) * 96), Math.floor((heightMm / 25.4) * 96)];
      return visit({ viewport: { width, height } }, async ({ page }) => {
        await page.emulateMedia({ media: 'print' });
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        expect(await page.evaluate(overflowing, width)).toEqual([]);
        expect(await page.evaluate(tooTall, height)).toEqual([]);
        const folded = await page
          .locator('details > :not(summary)')
          .evaluateAll(
            (parts) => parts.filter((part) => !part.checkVisibility({ contentVisibilityAuto: true })).length,
          );
        expect(folded).toBe(0);
        expect(await page.locator('nav').isVisible()).toBe(false);
      });
    },
  );

  test('it prints', () =>
    visit(DESKTOP, async ({ page }) => {
      const pdf = await page.pdf({ format: 'A4' });
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    }));
});

describe('for those who do not see it, or do not use a pointer', () => {
  test('headings go down in steps of one, and landmarks are there', () =>
    visit(DESKTOP, async ({ page }) => {
      const levels = await page.evaluate(headingLevels);
      expect(levels.filter((level) => level === 1)).toHaveLength(1);
      levels.slice(1).forEach((level, index) => {
        expect(level - levels[index]!).toBeLessThanOrEqual(1);
      });
      for (const landmark of ['header', 'nav', 'main', 'footer'])
        expect(await page.locator(landmark).count()).toBe(1);
      expect(await page.locator('html').getAttribute('lang')).toBe('en');
    }));

  test('charts, tables and regions have names; ids are unique and links lead somewhere', () =>
    visit(DESKTOP, async ({ page }) => {
      expect(await page.evaluate(unnamedParts)).toEqual([]);
      expect(await page.evaluate(repeatedIds)).toEqual([]);
      expect(await page.evaluate(brokenLinks)).toEqual([]);
    }));

  test('text stands out from its ground by 4.5 to 1 at least (WCAG 2.2, 1.4.3)', () =>
    visit(DESKTOP, async ({ page }) => {
      await page.locator('details').evaluateAll((parts) => {
        for (const part of parts) (part as HTMLDetailsElement).open = true;
      });
      expect(await page.evaluate(faintTexts, 4.5)).toEqual([]);
      // The check sees what it looks for.
      await page.evaluate(() => {
        document.querySelector('h1')!.style.color = '#8a8a8a';
      });
      expect((await page.evaluate(faintTexts, 4.5)).length).toBeGreaterThan(0);
    }));

  test('the first tab stop skips to the answer, and every chart can be reached', () =>
    visit(DESKTOP, async ({ page }) => {
      await page.keyboard.press('Tab');
      const skip = page.locator('.skip');
      expect(await skip.evaluate((link) => link === document.activeElement)).toBe(true);
      expect((await skip.boundingBox())!.width).toBeGreaterThan(50);
      await page.keyboard.press('Enter');
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('main');
      expect(await page.locator('.plot:not([tabindex="0"])').count()).toBe(0);
    }));
});
