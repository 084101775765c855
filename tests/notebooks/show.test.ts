import { createRequire } from 'node:module';
import { afterEach, describe, expect, test } from 'vitest';
import { show } from '../../lib/chart/show.js';
import { showRows } from '../../lib/chart/show-rows.js';
import { makeChart } from '../../lib/chart/spec.js';
import { UsageError } from '../../lib/problems.js';

interface Shown {
  readonly data: Readonly<Record<string, unknown>>;
  readonly metadata: Readonly<Record<string, unknown>>;
}

const { cache } = createRequire(import.meta.url);
const PATHS = ['/home/x/node_modules/tslab/dist/jupyter.js', 'C:\\x\\node_modules\\tslab\\dist\\jupyter.js'];

/** Stands in for a kernel in which a cell runs; null for one in which none has run yet. */
function loadKernel(path: string, write: ((shown: Shown) => void) | null): void {
  cache[path] = { exports: { lastWriteDisplayData: write } } as NodeJS.Module;
}

function shownBy(work: () => void): Shown {
  const shown: Shown[] = [];
  loadKernel(PATHS[0]!, (output) => shown.push(output));
  work();
  expect(shown).toHaveLength(1);
  return shown[0]!;
}

const chart = makeChart({ title: 'One bar', subtitle: [], description: 'A bar.' }, [{ hours: 3 }], {
  mark: 'bar',
  encoding: { x: { field: 'hours', type: 'quantitative', title: 'hours' } },
});

afterEach(() => {
  for (const path of PATHS) Reflect.deleteProperty(cache, path);
});

describe('outside a notebook', () => {
  test('show says what to use instead', async () => {
    await expect(show(chart)).rejects.toThrow(UsageError);
    await expect(show(chart)).rejects.toThrow(/notebook .* renderSvg or renderPng/);
  });

  test('showRows says what to use instead', () => {
    expect(() => {
      showRows([{ a: 1 }]);
    }).toThrow(/notebook .* console\.table/);
  });

  test('a kernel that is loaded but runs nothing is no notebook', async () => {
    loadKernel(PATHS[0]!, null);
    await expect(show(chart)).rejects.toThrow(UsageError);
  });
});

describe('show', () => {
  test.each(PATHS)('finds the kernel that runs a cell: %s', async (path) => {
    const shown: Shown[] = [];
    loadKernel(
      PATHS.find((other) => other !== path)!,
      null,
    );
    loadKernel(path, (output) => shown.push(output));
    await show(chart);
    expect(shown).toHaveLength(1);
    expect(Object.keys(shown[0]!.data)).toEqual([
      'application/vnd.vegalite.v5+json',
      'image/png',
      'text/plain',
    ]);
  });

  test('keeps a chart with the cell that asked for it, whatever runs when the picture is ready', async () => {
    const [first, second]: Shown[][] = [[], []];
    loadKernel(PATHS[0]!, (output) => first!.push(output));
    const done = show(chart);
    loadKernel(PATHS[0]!, (output) => second!.push(output));
    await done;
    expect([first!.length, second!.length]).toEqual([1, 0]);
  });

  test('leaves the chart as it is', async () => {
    const before = JSON.stringify(chart);
    loadKernel(PATHS[0]!, () => undefined);
    await show(chart);
    expect(JSON.stringify(chart)).toBe(before);
  });
});

describe('showRows', () => {
  test('lays rows out as text: whole numbers whole, others with about three figures, what is missing empty', () => {
    const { data } = shownBy(() => {
      showRows([
        { setup: 'soft', hours: 76.9512, landings: 123456 },
        { setup: 'rigid', hours: null, flies: true },
      ]);
    });
    expect(data['text/plain']).toBe(
      [
        'setup  hours  landings  flies',
        '-----------------------------',
        'soft    77.0    123456',
        'rigid                   true',
      ].join('\n'),
    );
  });

  test('makes markup in names and values harmless', () => {
    const { data } = shownBy(() => {
      showRows([{ '<b>set-up</b>': `<script>alert("1")</script> & 'more'` }]);
    });
    const html = data['text/html'] as string;
    expect(html).toContain('&lt;b&gt;set-up&lt;/b&gt;');
    expect(html).toContain('&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; &#39;more&#39;');
    expect(html.match(/<[a-z]+/g)).toEqual(['<table', '<thead', '<tr', '<th', '<tbody', '<tr', '<td']);
  });

  test('keeps control characters and long names from tearing the text table', () => {
    const { data } = shownBy(() => {
      showRows([{ name: 'a\nb\u001b[31m', other: 'x'.repeat(200) }]);
    });
    const lines = (data['text/plain'] as string).split('\n');
    expect(lines).toHaveLength(3);
    expect(lines[2]).toMatch(/^a b \[31m {2}x+\.\.\.$/);
    expect(lines[2]!.length).toBeLessThan(60);
  });

  test('shows the first hundred rows and counts the others', () => {
    const { data } = shownBy(() => {
      showRows(Array.from({ length: 103 }, (_, row) => ({ row })));
    });
    expect((data['text/html'] as string).match(/<td/g)).toHaveLength(100);
    expect(data['text/html']).toMatch(/<p>3 more rows<\/p>$/);
    expect(data['text/plain']).toMatch(/\n3 more rows$/);
  });

  test.each([[[]], [[{}]]])('refuses to show nothing: %j', (rows) => {
    loadKernel(PATHS[0]!, () => undefined);
    expect(() => {
      showRows(rows);
    }).toThrow(/no rows/);
  });
});
