/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
// Functions that run inside the page: each is sent there as text and must not use anything from outside.

/** A mark with a value, by the middle of its box inside the picture. */
export interface Mark {
  readonly label: string;
  readonly x: number;
  readonly y: number;
}

/** Marks of a chart that the script goes through, those of lines and areas aside where there are others. */
export function marksOfPlot(plot: Element): Mark[] {
  const origin = plot.querySelector('svg')!.getBoundingClientRect();
  const all = Array.from(plot.querySelectorAll<SVGElement>('[data-label]'));
  const single = all.filter((mark) => !mark.parentElement!.matches('.mark-line, .mark-area, .mark-trail'));
  return (single.length > 0 ? single : all).map((mark) => {
    const box = mark.getBoundingClientRect();
    return {
      label: mark.dataset['label']!,
      x: box.left + box.width / 2 - origin.left,
      y: box.top + box.height / 2 - origin.top,
    };
  });
}

/** Parts that reach beyond the width of the screen, outside of frames that move sideways. */
export function overflowing(width: number): string[] {
  return Array.from(document.querySelectorAll('body *'))
    .filter((part) => {
      const frame = part.parentElement?.closest('.scroll, .plot');
      const moves = frame !== null && frame !== undefined && getComputedStyle(frame).overflowX === 'auto';
      const { left, right, width: own } = part.getBoundingClientRect();
      return !moves && own > 0 && left > -1000 && (right > width + 1 || left < -1);
    })
    .map(
      (part) => `${part.tagName} ${part.getAttribute('class') ?? ''} ${part.getBoundingClientRect().right}`,
    );
}

/** Charts and rows of tables that do not fit on a page of paper. */
export function tooTall(height: number): string[] {
  return Array.from(document.querySelectorAll('figure, tr'))
    .filter((part) => part.getBoundingClientRect().height > height)
    .map((part) => `${part.tagName} ${part.id} ${part.getBoundingClientRect().height}`);
}

/** Levels of the headings in their order. */
export function headingLevels(): number[] {
  return Array.from(document.querySelectorAll('h1, h2, h3, h4, h5, h6'), ({ tagName }) => Number(tagName[1]));
}

/** Pictures without a description, regions without a name, cells of headings without a scope. */
export function unnamedParts(): string[] {
  const found: string[] = [];
  for (const svg of document.querySelectorAll('svg')) {
    if (svg.getAttribute('role') !== 'img' || (svg.getAttribute('aria-label') ?? '').length < 40) {
      found.push(`svg in ${svg.closest('figure')?.id ?? '?'}`);
    }
  }
  for (const part of document.querySelectorAll('[role=region], [role=application], [role=group], nav')) {
    if ((part.getAttribute('aria-label') ?? '') === '') found.push(part.outerHTML.slice(0, 80));
  }
  for (const cell of document.querySelectorAll('th:not([scope])')) found.push(cell.outerHTML.slice(0, 80));
  for (const table of document.querySelectorAll('table:not(:has(caption))'))
    found.push(table.outerHTML.slice(0, 80));
  return found;
}

/** Ids that stand more than once. */
export function repeatedIds(): string[] {
  const ids = Array.from(document.querySelectorAll('[id]'), ({ id }) => id);
  return ids.filter((id, index) => ids.indexOf(id) !== index);
}

/** Links, labels and references of drawings that lead nowhere, or out of their own drawing. */
export function brokenLinks(): string[] {
  const found: string[] = [];
  for (const link of document.links)
    if (document.getElementById(link.hash.slice(1)) === null) found.push(link.href);
  for (const part of document.querySelectorAll('[aria-labelledby]')) {
    if (document.getElementById(part.getAttribute('aria-labelledby')!) === null)
      found.push(part.outerHTML.slice(0, 80));
  }
  for (const svg of document.querySelectorAll('svg')) {
    for (const [, id] of svg.outerHTML.matchAll(/url\(#([^)]+)\)/g)) {
      if (svg.querySelector(`[id="${CSS.escape(id!)}"]`) === null)
        found.push(`${id!} in ${svg.closest('figure')?.id ?? '?'}`);
    }
  }
  return found;
}

/** Texts outside of drawings with too little contrast, by the relative luminance of WCAG 2.2. */
export function faintTexts(least: number): string[] {
  const channels = (colour: string): number[] => (colour.match(/[\d.]+/g) ?? []).map(Number);
  const luminance = ([red = 0, green = 0, blue = 0]: number[]): number => {
    const [r, g, b] = [red, green, blue].map((value) => {
      const share = value / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!;
  };
  const ground = (part: Element | null): number[] => {
    if (part === null) return [255, 255, 255];
    const colour = channels(getComputedStyle(part).backgroundColor);
    return (colour[3] ?? 1) === 0 ? ground(part.parentElement) : colour;
  };
  const found: string[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
    const part = node.parentElement!;
    if (node.textContent!.trim() === '' || part.closest('svg, script, style') !== null) continue;
    const pair = [luminance(channels(getComputedStyle(part).color)), luminance(ground(part))].sort(
      (a, b) => b - a,
    );
    const ratio = (pair[0]! + 0.05) / (pair[1]! + 0.05);
    if (ratio < least) found.push(`${ratio.toFixed(2)} ${node.textContent!.trim().slice(0, 40)}`);
  }
  return found;
}
