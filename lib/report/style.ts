/**
 * The style sheet of the page. Text colours keep at least 4.5:1 on their ground (WCAG 2.2, 1.4.3); a test measures it.
 * Charts are drawn on white, and so is the page.
 */
export const STYLE = `
:root {
  --ink: #20262b;
  --soft: #566068;
  --line: #d8dde1;
  --ground: #f5f7f7;
  --accent: #17575c;
  --warm: #8a4208;
  --warm-ground: #fdf5ec;
  --serif: Charter, 'Iowan Old Style', Palatino, 'Palatino Linotype', 'Book Antiqua', Georgia, serif;
  --sans: system-ui, 'Segoe UI', Roboto, 'Helvetica Neue', 'DejaVu Sans', Arial, sans-serif;
}
* { box-sizing: border-box; }
html { font: 100%/1.55 var(--sans); color: var(--ink); background: #fff; scroll-behavior: smooth; }
body { margin: 0; overflow-wrap: anywhere; }
.sheet { max-width: 76rem; margin: 0 auto; padding: 0 1.25rem 4rem; }
@media (min-width: 70rem) {
  .sheet { display: grid; grid-template-columns: 12rem minmax(0, 1fr); column-gap: 3.5rem; }
  header, footer { grid-column: 2; }
  nav { grid-column: 1; grid-row: 1 / span 3; position: sticky; top: 0; align-self: start; padding-top: 3.6rem; }
  nav ol { flex-direction: column; }
  main { grid-column: 2; }
}
header { padding: 2.75rem 0 1rem; }
h1, h2, h3 { font-family: var(--serif); font-weight: 600; line-height: 1.2; text-wrap: balance; }
h1 { font-size: 2.1rem; margin: 0 0 0.75rem; }
h2 { font-size: 1.55rem; margin: 0 0 0.75rem; padding-top: 2.5rem; }
h3 { font-size: 1.2rem; margin: 2rem 0 0.5rem; }
h4 { font-size: 1rem; margin: 1.25rem 0 0.25rem; }
p, dd, li { max-width: 42rem; }
p { margin: 0 0 0.9rem; }
a { color: var(--accent); text-underline-offset: 0.15em; }
:focus-visible { outline: 3px solid #1f7a80; outline-offset: 2px; }
.skip { position: absolute; left: 1rem; top: 0.5rem; z-index: 9; background: #fff; padding: 0.5rem 1rem; }
.skip:not(:focus) { width: 1px; height: 1px; padding: 0; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
.eyebrow { color: var(--soft); font-size: 0.85rem; letter-spacing: 0.04em; margin: 0 0 0.4rem; }
.lede { font-family: var(--serif); font-size: 1.3rem; line-height: 1.4; max-width: 44rem; }
ul.finding { padding-left: 1.1rem; margin: 0 0 0.9rem; }
ul.finding li { margin-bottom: 0.45rem; }
.soft, figcaption .about, .hint { color: var(--soft); font-size: 0.9rem; }
nav ol { display: flex; flex-wrap: wrap; gap: 0.25rem 1.1rem; list-style: none; margin: 0; padding: 0; font-size: 0.9rem; }
nav a { color: var(--soft); text-decoration: none; }
nav a:hover { color: var(--accent); text-decoration: underline; }
.caution { border-left: 4px solid var(--warm); background: var(--warm-ground); padding: 0.7rem 1rem; margin: 1rem 0; }
.caution p { margin: 0; }
.caution { max-width: 46rem; }
.answer { border-top: 1px solid var(--line); padding: 1.1rem 0 0.4rem; }
.answer h3 { margin: 0 0 0.6rem; }
.answer .mix { display: block; font: 0.85rem var(--sans); color: var(--soft); letter-spacing: 0.04em; margin-bottom: 0.15rem; }
.answer dl { display: grid; grid-template-columns: 9rem minmax(0, 1fr); gap: 0.55rem 1rem; margin: 0 0 0.75rem; }
dt { font-weight: 600; }
.answer dt { color: var(--accent); }
dd { margin: 0; }
dd ul { margin: 0; padding-left: 1.1rem; }
.scroll { overflow-x: auto; margin: 0 0 1rem; }
table { border-collapse: collapse; width: 100%; font-size: 0.9rem; font-variant-numeric: tabular-nums; }
caption { text-align: left; color: var(--soft); padding-bottom: 0.4rem; }
th, td { text-align: left; vertical-align: top; padding: 0.4rem 0.75rem 0.4rem 0; border-bottom: 1px solid var(--line); overflow-wrap: break-word; }
thead th { font-weight: 600; border-bottom: 2px solid var(--ink); vertical-align: bottom; }
tbody th { font-weight: 600; min-width: 7.5rem; overflow-wrap: anywhere; }
th.number, td.number { text-align: right; padding-right: 1.25rem; }
td.number, .whole { white-space: nowrap; }
.whole { display: block; }
th small, td small { display: block; color: var(--soft); font-size: 0.85em; font-weight: 400; }
.leads { background: var(--ground); }
.leads th { box-shadow: inset 4px 0 var(--accent); padding-left: 0.75rem; }
tbody .entry th { background: var(--ground); padding-left: 0.5rem; }
figure { margin: 1.25rem 0 2rem; }
figcaption { margin-bottom: 0.4rem; }
figcaption b { display: block; font-size: 1.02rem; max-width: 44rem; }
figcaption .about { display: block; max-width: 46rem; }
.plot { width: fit-content; max-width: 100%; overflow-x: auto; position: relative; border: 1px solid var(--line); border-radius: 3px; background: #fff; touch-action: pan-x pan-y; }
.plot svg { display: block; max-width: 100%; height: auto; }
.plot text { font-family: 'DejaVu Sans', Verdana, Arial, sans-serif; }
.hint { display: none; margin: 0.25rem 0 0; }
.scripted .hint { display: block; }
h2#assumptions ~ details tbody th { font-weight: 400; }
h2#assumptions ~ details table { table-layout: fixed; min-width: 36rem; }
h2#assumptions ~ details th:nth-child(1) { width: 36%; }
h2#assumptions ~ details th:nth-child(2) { width: 14%; }
h2#assumptions ~ details th:nth-child(3) { width: 22%; }
details { border-top: 1px solid var(--line); padding: 0.5rem 0; }
summary { cursor: pointer; color: var(--accent); font-weight: 600; }
.glossary { display: grid; grid-template-columns: 10rem minmax(0, 1fr); gap: 0.5rem 1rem; }
.glossary dt, .glossary dd, .run dt, .run dd { margin: 0; }
.run { display: grid; grid-template-columns: 10rem minmax(0, 1fr); gap: 0.3rem 1rem; }
code { font-family: ui-monospace, Menlo, Consolas, 'DejaVu Sans Mono', monospace; font-size: 0.9em; }
#tip { position: fixed; z-index: 8; width: max-content; max-width: min(20rem, 86vw); pointer-events: none; background: var(--ink); color: #fff; padding: 0.4rem 0.6rem; border-radius: 3px; font-size: 0.82rem; line-height: 1.4; }
#tip span { color: #c9d2d8; }
#tip b { font-weight: 600; }
#ring { position: fixed; z-index: 7; pointer-events: none; border: 2px solid var(--ink); border-radius: 6px; }
#spoken { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
footer { border-top: 1px solid var(--line); margin-top: 3rem; padding-top: 1rem; }
@media (max-width: 40rem) {
  h1 { font-size: 1.65rem; }
  .answer dl, .glossary, .run { grid-template-columns: minmax(0, 1fr); gap: 0.15rem; }
  .answer dd, .glossary dd, .run dd { margin-bottom: 0.6rem; }
  .scroll tbody th { position: sticky; left: 0; background: #fff; }
  .scroll .leads th { background: var(--ground); }
  h2#assumptions ~ details tbody th { position: static; }
  /* Letters in charts stay legible: a chart wider than the phone is moved sideways inside its frame. */
  .plot svg { max-width: none; width: auto; }
}
@media print {
  @page { margin: 15mm; }
  html { font-size: 10pt; line-height: 1.4; }
  .sheet { display: block; max-width: none; padding: 0; }
  nav, .skip, .scripted .hint, #tip, #ring { display: none; }
  header { padding-top: 0; }
  h2 { padding-top: 1.5rem; }
  h2, h3, h4, figcaption, caption, thead, summary, .entry { break-after: avoid; }
  figure, tr, .caution, dd, li { break-inside: avoid; }
  figure { margin: 0.75rem 0 1rem; }
  h2 + p, .hint + p { break-inside: avoid; }
  h2 + p, .hint + p, dt, .answer h3 { break-after: avoid; }
  p { orphans: 3; widows: 3; }
  .scroll, .plot { overflow: visible; }
  .plot { border: 0; }
  .plot svg { width: 85%; max-height: 215mm; }
  table { font-size: 7.5pt; }
  h2#assumptions ~ details table { min-width: 0; }
  th, td { padding-right: 0.4rem; }
  tbody th { min-width: 0; }
  tbody th, tbody td { overflow-wrap: anywhere; }
  .leads, tbody .entry th, .caution { print-color-adjust: exact; }
  summary { list-style: none; color: inherit; }
  details::details-content { content-visibility: visible; height: auto; opacity: 1; }
}
`;
