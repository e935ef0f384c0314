// Draws the pages of a card: every operation of the sheet as one shape, in millimetres, so that what stands here stands
// there on paper; a browser that makes letters a little wider or narrower puts the words where they print. Words are put up as text and never read as markup.

import { common } from './watch-places.js';

const space = 'http://www.w3.org/2000/svg';
const point = 25.4 / 72;

function shape(name, traits, words) {
  const s = document.createElementNS(space, name);
  for (const [key, value] of Object.entries(traits)) if (value !== undefined) s.setAttribute(key, value);
  if (words !== undefined) s.textContent = words;
  return s;
}

const pen = (width, colour) => width > 0 ? { stroke: colour, 'stroke-width': width * point } : {};

const drawers = {
  text: (x, y, face, size, words, length, colour, angle, hollow) => shape('text', {
    x, y, textLength: length > 0 ? length : undefined, class: 'face' + face, 'font-size': size * point, fill: hollow > 0 ? 'none' : colour,
    ...pen(hollow, colour), 'stroke-linejoin': hollow > 0 ? 'round' : undefined,
    transform: angle ? `rotate(${-angle} ${x} ${y})` : undefined,
  }, words),
  line: (x1, y1, x2, y2, width, colour, dash) => shape('line', {
    x1, y1, x2, y2, ...pen(width, colour), 'stroke-dasharray': dash.length ? dash.join(' ') : undefined,
  }),
  rect: (x, y, w, h, width, colour, fill) => {
    const edge = width * point; // the pen stays inside the rectangle
    return shape('rect', { x: x + edge / 2, y: y + edge / 2, width: Math.max(w - edge, 0), height: Math.max(h - edge, 0), fill, ...pen(width, colour) });
  },
  polygon: (points, width, colour, fill, round) => shape('polygon', {
    points: points.join(' '), fill, ...pen(width, colour), 'stroke-linejoin': round ? 'round' : 'miter',
  }),
  circle: (cx, cy, r, width, colour, fill) => shape('circle', { cx, cy, r, fill, ...pen(width, colour) }),
  image: (x, y, width, height, key) => shape('image', { x, y, width, height, href: 'picture/' + key, preserveAspectRatio: 'none' }),
  modules: (x, y, size, rows) => {
    let path = '';
    rows.forEach((row, i) => {
      for (const run of row.matchAll(/1+/g)) {
        path += `M${x + run.index * size} ${y + i * size}h${run[0].length * size}v${size}h${-run[0].length * size}z`;
      }
    });
    return shape('path', { d: path });
  },
};

// sheetOf gives an empty page of a card.
export function sheetOf(card) {
  const svg = shape('svg', { viewBox: `0 0 ${card.width} ${card.height}`, 'aria-hidden': 'true' });
  svg.drawn = [];
  return svg;
}

// draw puts a page on a sheet. What stands there already at its head and foot is left alone: on most pages a save changes
// no more than the digest.
export function draw(svg, ops) {
  const now = ops.map((op) => JSON.stringify(op));
  const [head, foot] = common(svg.drawn, now);
  for (let i = svg.drawn.length - foot; i > head; i--) svg.children[i - 1].remove();
  const fresh = ops.slice(head, ops.length - foot).map(([name, ...figures]) => drawers[name](...figures));
  if (head) svg.children[head - 1].after(...fresh); else svg.prepend(...fresh);
  svg.drawn = now;
}
