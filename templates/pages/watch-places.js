// Places in the source: {name, line, from, last, to, words, step}, by the name of the file, lines from 1, columns from 0.

// located gives a place with the name of its file in place of its number.
export function located(at, files, step = '') {
  return at && { ...at, name: files[at.file].name, step };
}

// common counts the equal lines at the head and at the foot of two texts.
export function common(before, now) {
  let head = 0, foot = 0;
  while (head < before.length && head < now.length && before[head] === now[head]) head++;
  while (foot < before.length - head && foot < now.length - head && before[before.length - 1 - foot] === now[now.length - 1 - foot]) foot++;
  return [head, foot];
}

// moved gives the line that a line of an earlier text has become: equal lines at the head and at the foot are the same ones.
function moved(before, now, line) {
  const [head, foot] = common(before, now);
  if (line <= head) return { line, same: true };
  if (line > before.length - foot) return { line: line + now.length - before.length, same: true };
  return { line: Math.max(Math.min(line, now.length - foot), 1), same: before[line - 1] === now[line - 1] };
}

const linesOf = (files, name) => files.find((f) => f.name === name)?.lines;

// carried brings a place of earlier files to where it stands now; its characters are known only where its lines stayed as they were.
export function carried(place, before, now) {
  const was = place && linesOf(before, place.name), is = place && linesOf(now, place.name);
  if (!was || !is || was === is) return place;
  const first = moved(was, is, place.line), last = moved(was, is, place.last);
  const words = place.words.replace(/:\d+(:\d+)$/, `:${first.line}$1`);
  if (first.same && last.same) return { ...place, line: first.line, last: last.line, words };
  return { ...place, line: first.line, last: Math.max(last.line, first.line), from: 0, to: Infinity, words: words.replace(/\d+$/, '1') };
}

const ahead = (line, column, otherLine, otherColumn) => line < otherLine || line === otherLine && column < otherColumn;
// touch tells whether two places have characters in common, share whether they have a line in common.
export const touch = (a, b) => a && b && a.name === b.name &&
  !ahead(a.last, a.to, b.line, b.from + 1) && !ahead(b.last, b.to, a.line, a.from + 1);
export const share = (a, b) => a && b && a.name === b.name && a.line <= b.last && b.line <= a.last;
