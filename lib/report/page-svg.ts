import { escapeText, trusted, type Html } from './html.js';

/** A tag with its attributes; an angle bracket inside quotes does not end it. */
const TAG = /<([a-zA-Z]+)[^>"]*(?:"[^"]*"[^>"]*)*>/g;
const ATTRIBUTE = /\s([\w:-]+)="([^"]*)"/g;
/** Frames of groups that nothing is drawn with. */
const EMPTY_FRAME = /<path class="(?:background|foreground)"[^>]*\sd="(?:M0,0h0v0h0Z)?"[^>]*\/>/g;
/** Where a mark is, and a circle as Vega writes it. */
const PLACE = /\stransform="translate\(([-\d.]+),([-\d.]+)\)"/;
const CIRCLE = /\sd="M([\d.]+),0A\1,\1,0,1,1,-\1,0A\1,\1,0,1,1,\1,0"/;
/** The same opaque mark drawn again and again, for every row of data. */
const REPEATED = /(<(?:line|path)(?:(?!opacity)[^>"]|"[^"]*")*\/>)\1+/g;

/** What the page says once for all pictures, or does not need. */
const DROPPED = new Set([
  ...['xmlns', 'xmlns:xlink', 'version', 'font-family', 'pointer-events'],
  ...['role', 'aria-roledescription', 'aria-hidden'],
]);
/** Colours of what cannot be seen. */
const COLOURED = new Set(['fill', 'stroke', 'stroke-width', 'fill-opacity', 'stroke-opacity']);
/** Attributes that place or shape what is drawn. */
const DRAWN = new Set([
  'd',
  'transform',
  'x',
  'y',
  'x1',
  'x2',
  'y1',
  'y2',
  'width',
  'height',
  'cx',
  'cy',
  'r',
]);
/** A number with more decimals than a drawing shows. */
const LONG_NUMBER = /-?\d+\.\d{2,}(?:e-?\d+)?/g;

/**
 * Fits a picture into the page: as one image with its description; what it defines under names of its own, since they
 * repeat from picture to picture and a browser takes the first; labels of marks as `data-label`, for the script of the
 * page; and without what is not needed inside a page.
 *
 * @param svg SVG text as Vega writes it, attributes in double quotes.
 * @param description what the picture shows, in words.
 * @param name name of the picture, letters and digits; different for each one on the page.
 */
export function pageSvg(svg: string, description: string, name: string): Html {
  const slim = svg
    .replace(EMPTY_FRAME, '')
    .replace(REPEATED, '$1')
    .replace(TAG, (tag, element: string) => {
      const isUnseen = tag.includes(' opacity="0"');
      return (isUnseen ? unseenMark(tag) : tag).replace(ATTRIBUTE, (whole, key: string, value: string) => {
        if (DROPPED.has(key) || (isUnseen && COLOURED.has(key)) || (key === 'opacity' && value === '1'))
          return '';
        if (key === 'aria-label') return element === 'g' ? '' : ` data-label="${value}"`;
        return DRAWN.has(key) ? ` ${key}="${rounded(value)}"` : named(whole, key, value, name);
      });
    });
  return trusted(slim.replace(/^<svg/, `<svg role="img" aria-label="${escapeText(description)}"`));
}

/** A circle that cannot be seen and only catches the pointer, as a square in far fewer letters. */
function unseenMark(tag: string): string {
  const [, x, y] = PLACE.exec(tag) ?? [];
  const [, radius] = CIRCLE.exec(tag) ?? [];
  if (radius === undefined) return tag;
  const half = Math.ceil(Number(radius));
  const corner = [x, y].map((middle) => Math.round(Number(middle)) - half).join(' ');
  return tag.replace(PLACE, '').replace(CIRCLE, ` d="M${corner}h${2 * half}v${2 * half}h${-2 * half}z"`);
}

/** What defines a name or uses one, with the name of the picture before it. */
function named(whole: string, key: string, value: string, name: string): string {
  if (key === 'id') return ` id="${name}-${value}"`;
  if (value.startsWith('url(#')) return ` ${key}="url(#${name}-${value.slice('url(#'.length)}"`;
  if (/^(?:xlink:)?href$/.test(key) && value.startsWith('#')) return ` ${key}="#${name}-${value.slice(1)}"`;
  return whole;
}

/** Tenths of a pixel are enough. */
function rounded(text: string): string {
  return text.replace(LONG_NUMBER, (number) => String(Number(Number(number).toFixed(1)) + 0));
}
