/**
 * The one script of the page, as text: values under the pointer or finger, and from mark to mark by keyboard. The page
 * can be read without it.
 *
 * Marks carry their values as `data-label`, "title: value; title: value"; a path that joins many of them (a line, an area)
 * has only the first, so that it is left out wherever single marks stand beside it.
 */
export const SCRIPT = String.raw`(() => {
  'use strict';
  const NEAR_PX = 60;
  const MARGIN_PX = 4;
  const EDGE_PX = 8;
  const FAR_STEP = 10;
  const JOINED = '.mark-line, .mark-area, .mark-trail';
  const tip = document.getElementById('tip');
  const ring = document.getElementById('ring');
  const spoken = document.getElementById('spoken');
  let shown = null;
  let byKey = false;

  // From left to right and from top to bottom, as they stand in the chart.
  const marksOf = (plot) => {
    const all = Array.from(plot.querySelectorAll('[data-label]'));
    const single = all.filter((mark) => !mark.parentNode.matches(JOINED));
    return (single.length > 0 ? single : all)
      .map((mark) => ({ mark, box: mark.getBoundingClientRect() }))
      .sort((a, b) => a.box.left + a.box.right - b.box.left - b.box.right || a.box.top - b.box.top)
      .map(({ mark }) => mark);
  };

  const distance = (box, x, y) =>
    Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.bottom));

  const nearest = (marks, x, y) => {
    let best = null;
    let bestAway = NEAR_PX;
    let bestSize = Infinity;
    for (const mark of marks) {
      const box = mark.getBoundingClientRect();
      const away = distance(box, x, y);
      const size = box.width * box.height;
      // Under the pointer the smaller mark wins; a label on a bar, a dot on a band.
      if (away < bestAway || (away === bestAway && size < bestSize)) {
        best = mark;
        bestAway = away;
        bestSize = size;
      }
    }
    return best;
  };

  const hide = () => {
    shown = null;
    tip.hidden = true;
    ring.hidden = true;
  };

  const element = (name, text) => Object.assign(document.createElement(name), { textContent: text });

  const lineOf = (part) => {
    const text = part.replaceAll(' %', '\u00a0%');
    const at = text.indexOf(': ');
    const line = element('div', '');
    if (at >= 0) line.append(element('span', text.slice(0, at + 1)), ' ');
    line.append(element('b', at < 0 ? text : text.slice(at + 2)));
    return line;
  };

  const place = (part, left, top) => {
    part.hidden = false;
    part.style.left = left + 'px';
    part.style.top = top + 'px';
  };

  // Beside a point, or beside the mark itself.
  const show = (mark, point) => {
    if (mark === null) return hide();
    if (mark !== shown) tip.replaceChildren(...mark.dataset.label.split('; ').map(lineOf));
    shown = mark;
    const box = mark.getBoundingClientRect();
    place(ring, box.left - MARGIN_PX, box.top - MARGIN_PX);
    ring.style.width = box.width + 2 * MARGIN_PX + 'px';
    ring.style.height = box.height + 2 * MARGIN_PX + 'px';
    const { x, y } = point ?? { x: box.right, y: box.bottom };
    place(tip, 0, 0);
    const { clientWidth, clientHeight } = document.documentElement;
    const below = y + 18;
    const top = below + tip.offsetHeight > clientHeight - EDGE_PX ? y - tip.offsetHeight - 14 : below;
    const left = Math.min(x + 14, clientWidth - tip.offsetWidth - EDGE_PX);
    place(tip, Math.max(EDGE_PX, left), Math.max(EDGE_PX, top));
  };

  const prepare = (plot) => {
    let found = null;
    let at = -1;
    const marks = () => (found ??= marksOf(plot));
    const follow = (event) => {
      byKey = false;
      show(nearest(marks(), event.clientX, event.clientY), event);
    };
    plot.addEventListener('pointermove', follow);
    plot.addEventListener('pointerdown', follow);
    // A finger that is lifted leaves at once; what it chose stays until the next touch.
    plot.addEventListener('pointerleave', (event) => { if (event.pointerType !== 'touch') hide(); });
    plot.addEventListener('blur', hide);
    plot.addEventListener('keydown', (event) => {
      const last = marks().length - 1;
      const back = at < 0 ? last : at - 1;
      const steps = {
        ArrowRight: at + 1, ArrowDown: at + 1, ArrowLeft: back, ArrowUp: back,
        PageDown: at + FAR_STEP, PageUp: at - FAR_STEP, Home: 0, End: last,
      };
      if (last < 0 || !Object.hasOwn(steps, event.key) || event.ctrlKey || event.altKey || event.metaKey) return;
      event.preventDefault();
      at = Math.min(last, Math.max(0, steps[event.key]));
      const mark = marks()[at];
      mark.scrollIntoView({ block: 'nearest', inline: 'nearest', behavior: 'instant' });
      byKey = true;
      show(mark);
      spoken.textContent = mark.dataset.label + ' (' + (at + 1) + ' of ' + (last + 1) + ')';
    });
    // Without the script there is nothing to step through.
    plot.setAttribute('role', 'application');
    plot.setAttribute('aria-roledescription', 'chart');
  };

  document.querySelectorAll('.plot').forEach(prepare);
  document.addEventListener('keydown', (event) => { if (event.key === 'Escape') hide(); });
  document.addEventListener('pointerdown', (event) => { if (event.target.closest('.plot') === null) hide(); });
  document.addEventListener('scroll', () => {
    if (shown === null) return;
    if (byKey) show(shown);
    else hide();
  }, true);
  document.documentElement.classList.add('scripted');
  // Browsers without a style for it print folded parts folded.
  const folded = [];
  window.addEventListener('beforeprint', () => {
    document.querySelectorAll('details:not([open])').forEach((part) => { folded.push(part); part.open = true; });
  });
  window.addEventListener('afterprint', () => {
    for (const part of folded.splice(0)) part.open = false;
  });
})();
`;
