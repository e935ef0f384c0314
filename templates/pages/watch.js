// The page of refitcard watch: card, findings and source of one procedure, or the list of a folder, renewed whenever the
// program tells of a change. All words are put up as text and never read as markup.
import { draw, sheetOf } from './watch-draw.js';
import { listen } from './watch-news.js';
import { carried, common, located, share, touch } from './watch-places.js';

const byID = (id) => document.getElementById(id);
const say = (id, words) => { byID(id).textContent = words; byID(id).hidden = words === ''; };
const wide = matchMedia('(min-width: 62rem)');

let shown = null; // what the program sent last
let variant = ''; // the card that is looked at
let chosen = null; // {name, line, from, last, to, words, step}: a place in a file, by the file's name

function element(name, traits, ...inside) {
  const e = document.createElement(name);
  for (const [key, value] of Object.entries(traits)) {
    if (key === 'class') e.className = value;
    else if (key === 'click') e.addEventListener('click', value);
    else e.setAttribute(key, value);
  }
  e.append(...inside);
  return e;
}

// The card

// A part is a button over the page. One of them is a stop of the Tab key, the arrow keys go to the others.
function partsOf(card, page, files, stale) {
  return page.parts.map((p) => {
    let place = located(p.at, files, p.step);
    if (stale) place = carried(place, files, shown.files);
    const b = element('button', {
      type: 'button', class: 'part', tabindex: '-1', 'aria-label': `${p.step ? 'step ' + p.step + ', ' : ''}line ${place.line}: ${p.words}`,
      click: () => choose(place, 'card'),
    });
    Object.assign(b.style, {
      left: 100 * p.x / card.width + '%', top: 100 * p.y / card.height + '%', width: 100 * p.w / card.width + '%', height: 100 * p.h / card.height + '%',
    });
    b.place = place;
    return b;
  });
}

const allParts = () => [...document.querySelectorAll('.part')];

function stepPart(e) {
  const parts = allParts(), at = parts.indexOf(document.activeElement);
  const to = { ArrowDown: at + 1, ArrowRight: at + 1, ArrowUp: at - 1, ArrowLeft: at - 1, Home: 0, End: parts.length - 1 }[e.key];
  if (at < 0 || to === undefined) return;
  e.preventDefault();
  const next = parts[Math.min(Math.max(to, 0), parts.length - 1)];
  rove(next);
  next.focus();
}

function rove(part) {
  for (const p of allParts()) p.tabIndex = -1;
  if (part) part.tabIndex = 0;
}

function showCard() {
  const stale = shown.state === 'stale', box = byID('pages');
  const card = shown.cards.find((c) => c.variant === variant) ?? shown.cards[0];
  const held = allParts().indexOf(document.activeElement);
  showVariants(card);
  byID('made').textContent = stale ? `of ${shown.made}, ${since()}` : shown.made && `of ${shown.made}`;
  byID('card').classList.toggle('stale', stale);
  if (!card) {
    box.replaceChildren(element('p', { class: 'word' }, shown.wrong || 'No card yet: it is drawn as soon as no error stands.'));
    return;
  }
  const files = stale ? shown.before : shown.files;
  const old = [...box.querySelectorAll('.page')];
  box.replaceChildren(...card.pages.map((page, i) => {
    const size = `${card.width} ${card.height}`, parts = JSON.stringify([stale, files.map((f) => f.name), page.parts]);
    const figure = old[i]?.size === size ? old[i] : element('div', { class: 'page', role: 'group' }, sheetOf(card));
    figure.setAttribute('aria-label', `page ${i + 1} of ${card.pages.length}`);
    figure.style.setProperty('--wide', card.width);
    draw(figure.firstChild, page.ops);
    if (stale || figure.parts !== parts) figure.replaceChildren(figure.firstChild, ...partsOf(card, page, files, stale));
    Object.assign(figure, { size, parts });
    return figure;
  }));
  const parts = allParts(), keep = parts[Math.min(Math.max(held, 0), parts.length - 1)];
  rove(keep);
  if (held >= 0) keep.focus({ preventScroll: true });
}

// since says what has come between a card that is greyed and now.
function since() {
  if (shown.gone) return 'before the file went';
  return shown.wrong ? 'before it could no longer be drawn' : 'before the errors';
}

function showVariants(card) {
  const box = byID('variants');
  box.hidden = shown.cards.length < 2;
  if (box.hidden) { box.replaceChildren(); return; }
  const names = shown.cards.map((c) => c.variant);
  if (JSON.stringify(names) !== box.dataset.names) {
    box.dataset.names = JSON.stringify(names);
    box.replaceChildren(...names.map((n) => element('button', { type: 'button', click: () => { variant = n; showCard(); mark(); } }, n)));
  }
  [...box.children].forEach((b, i) => b.setAttribute('aria-pressed', String(names[i] === card.variant)));
}

// The findings

function toldRow(label, words, place) {
  const row = element('div', { class: 'row' }, element('span', { class: 'label' }, label));
  row.append(place ? element('button', { type: 'button', class: 'link', click: () => choose(place, 'findings') }, words) : element('span', {}, words));
  return row;
}

function findingItem(f) {
  const place = located(f.at, shown.files, f.step ? String(f.step) : '');
  const head = element('button', { type: 'button', class: 'head-line', click: () => choose(place, 'findings') },
    element('span', { class: 'weight' }, f.severity.toUpperCase()), ' ', element('span', { class: 'message' }, f.message), ' ',
    element('span', { class: 'where' }, place ? place.words : ''));
  const item = element('li', { class: 'finding ' + f.severity }, head);
  for (const r of f.related) item.append(toldRow(r.label, r.words, located(r.at, shown.files)));
  if (f.why) item.append(toldRow('why', f.why));
  if (f.do) item.append(toldRow('do', f.do));
  const more = element('details', {}, element('summary', {}, 'more: ' + f.rule));
  more.addEventListener('toggle', () => {
    if (more.open && more.children.length === 1) more.append(element('pre', { tabindex: '0' }, shown.explain[f.rule] ?? ''));
  });
  item.append(more);
  item.place = place;
  item.key = f.rule + '\n' + f.message;
  return item;
}

function showFindings() {
  const list = byID('list'), focused = document.activeElement.closest?.('.finding');
  const open = new Set([...list.querySelectorAll('details[open]')].map((d) => d.parentElement.key));
  const at = focused && [...focused.querySelectorAll('button, summary')].indexOf(document.activeElement);
  list.replaceChildren(...shown.findings.map(findingItem));
  for (const item of list.children) {
    if (open.has(item.key)) item.querySelector('details').open = true;
    if (focused && item.key === focused.key) item.querySelectorAll('button, summary')[at]?.focus({ preventScroll: true });
  }
  say('wrong', shown.wrong && shown.cards.length ? 'No new card: ' + shown.wrong : shown.wrong);
  say('clean', shown.findings.length || shown.wrong ? '' : 'Nothing to report.');
}

// The source

let fileName = ''; // the file that is looked at

function lineItem(words, number) {
  return element('div', { class: 'line' }, element('span', { class: 'number' }, String(number)), element('span', { class: 'text' }, words || '\u200b'));
}

// showSource puts up the lines of the file, and leaves alone those at head and foot that are as before.
function showSource() {
  const file = shown.files.find((f) => f.name === fileName) ?? shown.files[0];
  const box = byID('lines'), pick = byID('file');
  fileName = file?.name ?? '';
  pick.hidden = shown.files.length < 2;
  pick.replaceChildren(...shown.files.map((f) => new Option(f.name, f.name, false, f.name === fileName)));
  const now = file?.lines ?? [], was = box.name === fileName ? box.lines : [];
  if (box.name !== fileName) box.replaceChildren();
  const [head, foot] = common(was, now);
  for (let i = was.length - foot; i > head; i--) box.children[i - 1].remove();
  const fresh = now.slice(head, now.length - foot).map((l, i) => lineItem(l, head + i + 1));
  if (head) box.children[head - 1].after(...fresh); else box.prepend(...fresh);
  if (was.length !== now.length) for (let i = now.length - foot; i < now.length; i++) box.children[i].firstChild.textContent = String(i + 1);
  Object.assign(box, { name: fileName, lines: now });
  box.style.setProperty('--digits', String(now.length).length);
  const weights = ['error', 'warning', 'advice'];
  for (const l of box.querySelectorAll('[data-weight]')) delete l.dataset.weight;
  for (const f of [...shown.findings].reverse()) {
    if (f.at && shown.files[f.at.file] === file) box.children[f.at.line - 1].dataset.weight = weights.find((w) => w === f.severity);
  }
}

// markLine sets off the characters from one place of a line to another.
function markLine(line, from, to) {
  const text = line.lastChild, words = text.textContent.replace('\u200b', '');
  text.replaceChildren(words.slice(0, from), element('mark', {}, words.slice(from, Math.max(to, from)) || '\u200b'), words.slice(Math.max(to, from)));
}

function stepLine(e) {
  const by = { ArrowDown: 1, ArrowUp: -1 }[e.key], box = byID('lines');
  if (!by) return;
  e.preventDefault();
  const line = Math.min(Math.max((chosen?.name === fileName ? chosen.line : 0) + by, 1), box.children.length);
  chooseLine(line);
  box.children[line - 1].scrollIntoView({ block: 'nearest' });
}

function chooseLine(line) {
  choose({ name: fileName, line, from: 0, last: line, to: Infinity, words: `${fileName}:${line}:1`, step: '' }, 'source');
}

// Choosing

// choose marks a place in the source, what is found there, and what the card says of it.
function choose(place, by) {
  if (!place) return;
  chosen = place;
  if (place.name !== fileName) { fileName = place.name; showSource(); }
  mark();
  const first = { card: document.querySelector('.part.chosen'), findings: document.querySelector('.finding.chosen'), source: document.querySelector('.line.chosen') };
  for (const [pane, e] of Object.entries(first)) {
    if (e && pane !== by && (wide.matches || pane === 'source')) reveal(e);
  }
}

// reveal brings what can't be seen to the middle, and leaves alone what can.
function reveal(e) {
  const at = e.getBoundingClientRect(), pane = wide.matches ? e.closest('#pages, #told, #lines').getBoundingClientRect() : { top: 0, bottom: innerHeight };
  if (at.top < pane.top || at.bottom > pane.bottom) e.scrollIntoView({ block: 'center', inline: 'nearest' });
}

// mark shows what is chosen, on all three sides.
function mark() {
  for (const e of document.querySelectorAll('.chosen')) { e.classList.remove('chosen'); e.removeAttribute('aria-current'); }
  for (const m of document.querySelectorAll('#lines mark')) { const t = m.parentElement; t.textContent = t.textContent; }
  byID('place').textContent = chosen ? chosen.words : '';
  byID('copy').hidden = !chosen;
  if (!chosen) return;
  if (chosen.name === fileName) {
    const rows = byID('lines').children;
    for (let n = chosen.line; n <= chosen.last && n <= rows.length; n++) {
      set(rows[n - 1]);
      markLine(rows[n - 1], n === chosen.line ? chosen.from : 0, n === chosen.last ? chosen.to : Infinity);
    }
  }
  const parts = allParts();
  const near = [(p) => touch(p.place, chosen), (p) => share(p.place, chosen), (p) => chosen.step && p.place.step === chosen.step];
  const found = near.map((is) => parts.filter(is)).find((list) => list.length) ?? [];
  found.forEach(set);
  for (const f of document.querySelectorAll('.finding')) if (touch(f.place, chosen)) set(f);
}

function set(e) { e.classList.add('chosen'); e.setAttribute('aria-current', 'true'); }

async function copyPlace() {
  const b = byID('copy');
  try {
    await navigator.clipboard.writeText(chosen.words);
    b.textContent = 'copied';
  } catch {
    getSelection().selectAllChildren(byID('place'));
    b.textContent = 'marked: copy it';
  }
  setTimeout(() => { b.textContent = 'copy'; }, 1500);
}

// News

function showWork(data) {
  const before = shown?.files ?? [];
  shown = data;
  byID('work').hidden = false;
  byID('work').classList.toggle('clean', data.findings.length === 0);
  byID('name').textContent = data.name;
  byID('all').hidden = !new URLSearchParams(location.search).has('p');
  const count = data.gone ? 'is not there' : data.count || (data.wrong ? 'no card' : 'nothing to report');
  if (byID('count').textContent !== count) byID('count').textContent = count;
  document.title = `${count} – ${data.name}`;
  const places = ['pages', 'told', 'lines'].map((id) => [byID(id), byID(id).scrollTop]);
  const down = scrollY;
  chosen = carried(chosen, before, data.files);
  showSource();
  showCard();
  showFindings();
  mark();
  for (const [e, top] of places) e.scrollTop = top;
  if (scrollY !== down) scrollTo(scrollX, down);
}

function showLibrary(data) {
  byID('library').hidden = false;
  for (const a of document.querySelectorAll('.jump')) a.hidden = true;
  byID('name').textContent = 'Procedures';
  const mended = data.list.filter((p) => p.worst).length;
  byID('count').textContent = mended ? `something to mend in ${mended} of ${data.list.length}` : 'nothing to report';
  document.title = `${byID('count').textContent} – procedures`;
  say('empty', data.wrong || (data.list.length ? '' : 'No procedure stands here yet.'));
  const held = document.activeElement.getAttribute?.('href');
  byID('procedures').replaceChildren(...data.list.map((p) => element('li', {},
    element('a', { href: '?p=' + encodeURIComponent(p.name) }, p.title || p.shown), ' ', element('span', { class: 'file' }, p.shown), ' ',
    element('span', { class: 'weight ' + p.worst }, p.count || 'nothing to report'))));
  if (held) [...document.querySelectorAll('#procedures a')].find((a) => a.getAttribute('href') === held)?.focus({ preventScroll: true });
}

byID('pages').addEventListener('keydown', stepPart);
byID('lines').addEventListener('keydown', stepLine);
byID('lines').addEventListener('click', (e) => {
  const line = e.target.closest('.line');
  if (line && getSelection().isCollapsed) chooseLine([...byID('lines').children].indexOf(line) + 1);
});
byID('file').addEventListener('change', (e) => { fileName = e.target.value; showSource(); mark(); });
byID('copy').addEventListener('click', copyPlace);
listen('events' + location.search, (data) => {
  if (data.list) showLibrary(data); else showWork(data);
  document.documentElement.dataset.shown = Number(document.documentElement.dataset.shown ?? 0) + 1;
});
