import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { escapeText, html, trusted } from '../../lib/report/html.js';

/** Characters that HTML gives a meaning in text or in an attribute, by the HTML standard, section 13.1 (from memory). */
const MEANING = /[<>"']|&(?!(?:amp|lt|gt|quot|#39);)/;

describe('the template', () => {
  test('escapes text in content and in attributes', () => {
    const name = '"><img src=x onerror=alert(1)>';
    expect(html`<p title="${name}">${"<script>alert(1)</script> & 'more'"}</p>`.markup).toBe(
      '<p title="&quot;&gt;&lt;img src=x onerror=alert(1)&gt;">' +
        '&lt;script&gt;alert(1)&lt;/script&gt; &amp; &#39;more&#39;</p>',
    );
  });

  test('keeps markup, joins lists of any depth and writes numbers as they are', () => {
    const items = ['a<b', html`<b>${1.5}</b>`, [trusted('<hr>'), 'c']];
    expect(html`<i>${items}</i>`.markup).toBe('<i>a&lt;b<b>1.5</b><hr>c</i>');
  });

  test('turns marks of direction and control characters into blanks', () => {
    expect(html`${'a\u202eb\u0000c\n'}`.markup).toBe('a b c ');
  });

  test('lets no text become markup, and loses nothing', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const escaped = escapeText(text);
        expect(escaped).not.toMatch(MEANING);
        const back = escaped
          .replaceAll('&lt;', '<')
          .replaceAll('&gt;', '>')
          .replaceAll('&quot;', '"')
          .replaceAll('&#39;', "'")
          .replaceAll('&amp;', '&');
        expect(back.length).toBeLessThanOrEqual(text.length);
        if (!/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u.test(text)) expect(back).toBe(text);
      }),
    );
  });
});
