import { createHash } from 'node:crypto';
import { html, trusted, type Html } from './html.js';
import { SCRIPT } from './script.js';
import { STYLE } from './style.js';

/** A part of the page with a heading of its own. */
export interface PagePart {
  /** Name of the part in links. */
  readonly id: string;
  readonly title: string;
  readonly body: Html;
}

/** What stands on the page. */
export interface Page {
  readonly title: string;
  /** What stands below the title. */
  readonly introduction: Html;
  readonly parts: readonly PagePart[];
  readonly footer: Html;
}

/**
 * The page as one HTML document with style and script inside. Its policy lets a browser load nothing at all: neither
 * from a network nor from the disk.
 *
 * @param page what stands on it.
 * @returns the text of the file.
 */
export function pageText({ title, introduction, parts, footer }: Page): string {
  // Names of files and places never come from a scenario, so that the policy cannot be broken out of.
  const policy =
    `default-src 'none'; style-src '${digest(STYLE)}'; script-src '${digest(SCRIPT)}'; img-src data:; ` +
    `base-uri 'none'; form-action 'none'`;
  // Put together here, where no formatter adds a blank: the policy admits these very letters.
  const style = trusted(`<style>${STYLE}</style>`);
  const script = trusted(`<script>${SCRIPT}</script>`);
  const links = parts.map(({ id, title: name }) => html`<li><a href="#${id}">${name}</a></li> `);
  const sections = parts.map(
    ({ id, title: name, body }) =>
      html`<section aria-labelledby="${id}">
        <h2 id="${id}">${name}</h2>
        ${body}
      </section> `,
  );
  return html`<!doctype html>
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta http-equiv="Content-Security-Policy" content="${trusted(policy)}" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="referrer" content="no-referrer" />
        <meta name="color-scheme" content="light" />
        <link rel="icon" href="data:," />
        <title>${title} · gravelbar report</title>
        ${style}
      </head>
      <body>
        <a class="skip" href="#main">Skip to the answer</a>
        <div class="sheet">
          <header>
            <p class="eyebrow">Tire life and puncture risk by simulation</p>
            <h1>${title}</h1>
            ${introduction}
          </header>
          <nav aria-label="Contents">
            <ol>
              ${links}
            </ol>
          </nav>
          <main id="main" tabindex="-1">${sections}</main>
          <footer>${footer}</footer>
        </div>
        <div id="tip" role="presentation" hidden></div>
        <div id="ring" role="presentation" hidden></div>
        <div id="spoken" aria-live="polite"></div>
        ${script}
      </body>
    </html> `.markup;
}

/** Digest by which a policy admits a text, by the W3C's Content Security Policy Level 3. */
function digest(text: string): string {
  return `sha256-${createHash('sha256').update(text).digest('base64')}`;
}
